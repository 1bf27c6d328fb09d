package quantity

import (
	"fmt"
	"math"
	"strings"
	"unicode/utf8"
)

// parseUnit reads a unit: symbols with powers, joined by a space, "*" or "·" for products and "/" for
// quotients, with parentheses. A product after a quotient ("W/m2 K") is refused, because people read it in
// two ways; several quotients divide one after the other. A leading "/" divides one.
func parseUnit(s string) (unit, *ParseError) {
	p := unitParser{s: s}
	u, err := p.product(0)
	if err == nil && p.i < len(p.s) {
		err = p.fail(fmt.Sprintf("%q is no unit", clip(s)))
	}
	if err == nil && (math.IsInf(u.factor, 0) || u.factor == 0) {
		err = p.fail(fmt.Sprintf("%q is no unit", clip(s)))
	}
	return u, err
}

type unitParser struct {
	s string
	i int
}

func (p *unitParser) fail(text string) *ParseError { return &ParseError{Code: CodeUnit, Text: text} }

const deepest = 4 // nested parentheses

// product reads terms up to the end or a closing parenthesis.
func (p *unitParser) product(depth int) (unit, *ParseError) {
	total := unit{factor: 1}
	terms, divided := 0, false
	for {
		p.space()
		if p.i >= len(p.s) || p.s[p.i] == ')' {
			break
		}
		sign := 1
		switch {
		case p.s[p.i] == '/':
			p.i++
			sign, divided = -1, true
		case p.take("per "):
			sign, divided = -1, true
		case p.s[p.i] == '*', strings.HasPrefix(p.s[p.i:], "·"):
			_, n := utf8.DecodeRuneInString(p.s[p.i:])
			p.i += n
			fallthrough
		default:
			if divided {
				return unit{}, &ParseError{
					CodeUnit, fmt.Sprintf("%q can be read in two ways", clip(p.s)),
					"put what is divided by in parentheses, e.g. \"W/(m2 K)\"",
				}
			}
		}
		p.space()
		u, err := p.term(depth)
		if err != nil {
			return unit{}, err
		}
		total.factor *= math.Pow(u.factor, float64(sign))
		total.dim = total.dim.plus(u.dim, sign)
		if terms == 0 && sign > 0 {
			total.offset, total.traits = u.offset, u.traits
		} else {
			total.offset, total.traits = 0, (total.traits|u.traits)&(overRoom|overVacuum)
		}
		if terms++; terms > 8 {
			return unit{}, p.fail(fmt.Sprintf("%q is no unit", clip(p.s)))
		}
	}
	if terms == 0 {
		return unit{}, p.fail(fmt.Sprintf("%q is no unit", clip(p.s)))
	}
	return total, nil
}

// term reads a symbol or a parenthesis, with its power.
func (p *unitParser) term(depth int) (unit, *ParseError) {
	if p.i < len(p.s) && p.s[p.i] == '(' {
		if depth >= deepest {
			return unit{}, p.fail("the unit has too many parentheses")
		}
		p.i++
		u, err := p.product(depth + 1)
		if err != nil {
			return unit{}, err
		}
		if p.i >= len(p.s) || p.s[p.i] != ')' {
			return unit{}, p.fail(fmt.Sprintf("a parenthesis is not closed in %q", clip(p.s)))
		}
		p.i++
		return u, nil
	}
	word := p.word()
	if word == "" {
		return unit{}, p.fail(fmt.Sprintf("%q is no unit", clip(p.s)))
	}
	if u, ok := lookup(word); ok { // a symbol may end in a digit: inH2O is one, and so is 1
		return u, nil
	}
	name, power := cutPower(word)
	u, ok := lookup(name)
	if !ok {
		return unit{}, p.fail(unknown(name))
	}
	if power == 1 {
		return u, nil
	}
	d := dim{}.plus(u.dim, power)
	return unit{factor: math.Pow(u.factor, float64(power)), dim: d}, nil
}

// word reads up to a separator.
func (p *unitParser) word() string {
	start := p.i
	for p.i < len(p.s) {
		r, n := utf8.DecodeRuneInString(p.s[p.i:])
		if r == '/' || r == '*' || r == '·' || r == '(' || r == ')' || r == ' ' {
			break
		}
		p.i += n
	}
	return p.s[start:p.i]
}

func (p *unitParser) space() {
	for p.i < len(p.s) && p.s[p.i] == ' ' {
		p.i++
	}
}

func (p *unitParser) take(word string) bool {
	if strings.HasPrefix(p.s[p.i:], word) {
		p.i += len(word)
		return true
	}
	return false
}

// cutPower splits "m2", "m^2", "m²", "m-1" or "m⁻¹" into the symbol and its power. Powers beyond ±4 do not
// occur and are left in the symbol.
func cutPower(word string) (string, int) {
	word = superscripts.Replace(word)
	end := len(word)
	if end == 0 || word[end-1] < '1' || word[end-1] > '4' {
		return word, 1
	}
	power := int(word[end-1] - '0')
	word = word[:end-1]
	if rest, ok := strings.CutSuffix(word, "-"); ok {
		word, power = rest, -power
	}
	return strings.TrimSuffix(word, "^"), power
}

var superscripts = strings.NewReplacer("⁻", "-", "¹", "1", "²", "2", "³", "3", "⁴", "4")
