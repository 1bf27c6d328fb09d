package relation

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Markdown renders cards as one page, an index first.
func Markdown(cards []Card) string {
	var b strings.Builder
	for _, c := range cards {
		fmt.Fprintf(&b, "- [%s](#%s): %s\n", c.ID, c.ID, c.Title)
	}
	for _, c := range cards {
		fmt.Fprintf(&b, "\n## %s\n\n%s.\n\n```\n%s\n```\n\n", c.ID, sentence(c.Title), c.Equation)
		b.WriteString("| symbol | unit | meaning | range |\n|---|---|---|---|\n")
		for _, s := range c.Symbols {
			fmt.Fprintf(&b, "| `%s` | %s | %s | %s |\n", s.Name, s.Unit, s.Meaning, c.rangeText(s.Name))
		}
		fmt.Fprintf(&b, "\n- Uncertainty: %s.\n", c.Uncertainty.Text)
		for _, s := range c.Sources {
			fmt.Fprintf(&b, "- Source: %s.\n", s.Text())
		}
		if c.Departs != "" {
			fmt.Fprintf(&b, "- Departs from it: %s.\n", c.Departs)
		}
		fmt.Fprintf(&b, "- Example: %s.\n", c.Example.Text())
	}
	return b.String()
}

// Text renders a card for a terminal, lines of at most width characters where words allow.
func (c Card) Text(width int) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s\n\n", c.ID, c.Title)
	for line := range strings.Lines(c.Equation) {
		b.WriteString("    " + strings.TrimRight(line, "\n") + "\n")
	}
	b.WriteString("\n")
	for _, s := range c.Symbols {
		line := fmt.Sprintf("%s [%s]: %s", s.Name, s.Unit, s.Meaning)
		if r := c.rangeText(s.Name); r != "" {
			line += "; " + r
		}
		b.WriteString(wrap(line, width, "  ", "      "))
	}
	b.WriteString("\n")
	b.WriteString(wrap("Uncertainty: "+c.Uncertainty.Text, width, "", "  "))
	for _, s := range c.Sources {
		b.WriteString(wrap("Source: "+s.Text(), width, "", "  "))
	}
	if c.Departs != "" {
		b.WriteString(wrap("Departs from it: "+c.Departs, width, "", "  "))
	}
	b.WriteString(wrap("Example: "+c.Example.Text(), width, "", "  "))
	return b.String()
}

// Text is the worked example on one line.
func (e Example) Text() string {
	parts := make([]string, 0, len(e.Given))
	for _, v := range e.Given {
		parts = append(parts, v.text())
	}
	return strings.Join(parts, ", ") + " give " + e.Result.text()
}

func (v Value) text() string {
	if v.Unit == "1" {
		return v.Name + " = " + number(v.Value)
	}
	return v.Name + " = " + number(v.Value) + " " + v.Unit
}

// rangeText lists the limits of a symbol with what breaking them means; "" when it has none.
func (c Card) rangeText(symbol string) string {
	var parts []string
	for _, l := range c.Limits {
		if l.Symbol == symbol {
			parts = append(parts, l.text())
		}
	}
	return strings.Join(parts, "; ")
}

func (l Limit) text() string {
	var s string
	switch {
	case math.IsInf(l.Low, -1):
		s = "up to " + number(l.High)
	case math.IsInf(l.High, 1):
		s = "from " + number(l.Low)
	default:
		s = number(l.Low) + " to " + number(l.High)
	}
	if l.Severity != Outside {
		s += " (" + string(l.Severity) + " otherwise)"
	}
	return s
}

func number(x float64) string { return strconv.FormatFloat(x, 'g', 6, 64) }

// sentence capitalises the first letter.
func sentence(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// wrap breaks text at spaces into lines no longer than width, with one indent for the first line and
// another for the rest.
func wrap(text string, width int, first, rest string) string {
	var b strings.Builder
	line := first
	empty := true
	for _, word := range strings.Fields(text) {
		if !empty && len([]rune(line))+1+len([]rune(word)) > width {
			b.WriteString(line + "\n")
			line, empty = rest, true
		}
		if !empty {
			line += " "
		}
		line += word
		empty = false
	}
	return b.String() + line + "\n"
}
