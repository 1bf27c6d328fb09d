// Package asjson writes results for programs: one document each, keys that carry their unit, null for what is
// not known.
package asjson
