package quantity

import (
	"regexp"
	"strings"
)

// Pattern returns a regular expression (ECMA 262, so that JSON Schema can carry it) for texts of kind k: a
// number and a unit of the kind, or any compound unit. Everything that Parse accepts matches it; what it
// lets through is still to be parsed.
func (k Kind) Pattern() string {
	if kinds[k].dim == (dim{}) {
		return "^" + numberPattern + "( *(%|percent|‰))?$"
	}
	var symbols []string
	for _, r := range unitRows {
		if r.dim != kinds[k].dim {
			continue
		}
		for _, s := range strings.Fields(r.symbols) {
			s = regexp.QuoteMeta(s)
			switch {
			case r.traits&large != 0:
				s = "[" + smallPrefixes + "MG]?" + s
			case r.traits&prefixed != 0:
				s = "[" + smallPrefixes + "]?" + s
			}
			symbols = append(symbols, s)
		}
	}
	symbols = append(symbols, compoundPattern)
	basis := ""
	switch k {
	case KindGauge:
		basis = `( *(\(g\)|\(gauge\)|gauge))?`
	case KindAbsolute:
		basis = `( *(\(a\)|\(abs\)|abs\.?|absolute))?`
	case KindSoundLevel:
		basis = ` ?(\(A\))?`
	}
	bare := ""
	if zeroNeedsNoUnit(k) {
		bare = "|^[-+]?0([.,]0*)?$"
	}
	return "^" + numberPattern + " *(" + strings.Join(symbols, "|") + ")" + basis + "$" + bare
}

const (
	numberPattern   = `[-+−]?[.,0-9][0-9.,/ ]*([eE][-+]?[0-9]+)?`
	smallPrefixes   = "nuµμmcdhk"
	compoundPattern = `[^ .,0-9/].*[-/*·^ 1-4¹²³⁴⁻(].*|.*/.*`
)
