// Package validation compares the relations with values that do not come from this program: tables,
// standards, worked examples, libraries, and facts of the trade.
package validation
