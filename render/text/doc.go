// Package text writes results for people at a terminal: the verdict first, then what it rests on.
package text
