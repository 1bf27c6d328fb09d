package job

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	q "leste/quantity"
)

// Codes of problems, for programs; people read the text. Codes of quantities are those of package quantity.
const (
	CodeFile      = "file"      // too large, empty, not text
	CodeSyntax    = "syntax"    // not YAML
	CodeVersion   = "version"   // a newer or impossible version of the job file
	CodeKey       = "key"       // unknown key
	CodeTwice     = "twice"     // the same key or name twice
	CodeShape     = "shape"     // a list where a value is meant, and the like
	CodeMissing   = "missing"   // something that must be given
	CodeChoice    = "choice"    // not one of the choices
	CodeText      = "text"      // a yes, a whole number or a text that cannot be read
	CodeRange     = "range"     // a value beyond what can be meant
	CodeConflict  = "conflict"  // two values that exclude each other
	CodeReference = "reference" // a name that nothing has
	CodeOutline   = "outline"   // a profile that is no body
	CodeAlias     = "alias"     // a YAML alias that cannot be followed
)

// A Problem is one thing wrong with a job file, where it is, and what would be right. Lines and columns
// start at 1; 0 means that the problem has no place in the file. Path addresses the value, e.g.
// /stations/0/outlets/1/slot_gap.
type Problem struct {
	File         string
	Line, Column int
	Path         string
	Code         string
	Text         string // what is wrong
	Want         string // what would be right
}

// String writes "file:line:col: text; want".
func (p Problem) String() string {
	var b strings.Builder
	if p.File != "" {
		b.WriteString(p.File)
		b.WriteByte(':')
	}
	if p.Line > 0 {
		fmt.Fprintf(&b, "%d:%d:", p.Line, p.Column)
	}
	if b.Len() > 0 {
		b.WriteByte(' ')
	}
	b.WriteString(p.Text)
	if p.Want != "" {
		b.WriteString("; ")
		b.WriteString(p.Want)
	}
	return b.String()
}

// Error makes a Problem an error.
func (p Problem) Error() string { return p.String() }

// Problems are all things wrong with one file.
type Problems []Problem

// Error writes one problem a line.
func (ps Problems) Error() string {
	lines := make([]string, len(ps))
	for i, p := range ps {
		lines[i] = p.String()
	}
	return strings.Join(lines, "\n")
}

// Sort puts the problems in the order of the file and drops repeats.
func (ps Problems) Sort() Problems {
	slices.SortStableFunc(ps, func(a, b Problem) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column), cmp.Compare(a.Path, b.Path), cmp.Compare(a.Code, b.Code))
	})
	return slices.Compact(ps)
}

// fault is a problem whose place is not settled yet.
type fault struct {
	code, text, want string
}

func fromQuantity(err error) *fault {
	var p *q.ParseError
	if !errors.As(err, &p) {
		return &fault{CodeText, err.Error(), ""}
	}
	return &fault{p.Code, p.Text, p.Want}
}
