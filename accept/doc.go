// Package accept judges what was measured on site: whether a station keeps its promise, with which
// confidence, and what is wrong where it does not.
//
// It is pure: rows of measurements in, a judgement out. The forms that are filled in on site hold the same
// rows (see Kinds).
package accept
