package design

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	leste "leste"
	"leste/physics/relation"
	q "leste/quantity"
)

// A Remark is what an assessment says of a station beside its verdict: a relation out of its range, a container that
// hardly stands, sound that is not sure to be allowed, air that does not come in some case.
type Remark struct {
	Text  string // a sentence without its full stop
	Brief string // the same in a few words
}

// remarks are those of a result, the gravest first. Alike ones of several outlets are told once, with the value that is
// farthest out.
func remarks(r *leste.Result) []Remark {
	var out []Remark
	for _, text := range r.Stops {
		out = append(out, Remark{strings.TrimSuffix(text, "."), strings.TrimSuffix(text, ".")})
	}
	for _, s := range []relation.Severity{relation.Stop, relation.Outside, relation.Caution} {
		out = append(out, noted(r, s)...)
	}
	for i := range r.Formats {
		f := &r.Formats[i]
		for _, p := range f.Standing {
			if word, known := leste.GivesWay(p.Way, p.Case); known && p.Factor < leste.PushMargin {
				if p.Factor >= 1 {
					word = leste.Nearly(word)
				}
				brief := fmt.Sprintf("%s %s, resistance over push %s", f.Name, word, shownFactor(p.Factor))
				out = append(out, Remark{brief + " (" + p.Case + ")", brief})
			}
		}
	}
	if s := &r.Sound; s.Assessed && s.Limit > 0 && s.Verdict != leste.Met {
		brief := "sound " + string(s.Verdict)
		out = append(out, Remark{fmt.Sprintf("%s: %.0f dB (%.0f to %.0f) at 1 m where %.0f dB is allowed", brief, float64(s.At1m), float64(s.Low), float64(s.High), float64(s.Limit)), brief})
	}
	out = append(out, airless(r)...)
	const far = 1.0 // twice the greatest power that may be asked of it; common practice, no source
	for i := range r.Air.Blowers {
		if b := &r.Air.Blowers[i]; b.Reserve > far {
			brief := fmt.Sprintf("motor of %s oversized by %.0f %%", b.Name, 100*float64(b.Reserve))
			out = append(out, Remark{fmt.Sprintf("%s over the greatest power that may be asked of it, at any flow of its blower on the coldest day: nominally it runs at %.0f %% of its rating", brief, 100*float64(b.MotorLoad)), brief})
		}
	}
	return append(out, noted(r, relation.Info)...)
}

// oversize is the relation whose note tells a motor that is far too large, which has a remark of its own.
const oversize = "motor-efficiency"

// airless tells the cases in which the air supply gives no answer, with the reason in the first of them.
func airless(r *leste.Result) []Remark {
	var names []string
	why := ""
	for i := range r.Air.Cases {
		if c := &r.Air.Cases[i]; c.Refused != "" {
			if len(names) == 0 {
				why = strings.TrimSuffix(c.Refused, ".")
			}
			names = append(names, c.Name)
		}
	}
	switch len(names) {
	case 0:
		return nil
	case 1:
		brief := "no air is sure to come in the case " + names[0]
		return []Remark{{brief + ": " + why, brief}}
	}
	return []Remark{{
		fmt.Sprintf("no air is sure to come in the cases %s: in the first, %s", strings.Join(names, "; "), why),
		fmt.Sprintf("no air is sure to come in %d cases, one of them %s", len(names), names[0]),
	}}
}

// noted are the notes of a severity as remarks; of those that are only worth knowing the ones that pass a limit.
func noted(r *leste.Result, severity relation.Severity) []Remark {
	type key struct{ relation, text string }
	type group struct {
		names []string
		note  relation.Note
	}
	var groups []group
	at := map[key]int{}
	for _, n := range r.Notes {
		numbers := !math.IsNaN(n.Value) && !math.IsNaN(n.Limit)
		if n.Severity != severity || severity == relation.Info && (!numbers || n.Relation == oversize) {
			continue
		}
		name, text, found := strings.Cut(n.Text, ": ")
		name = strings.Trim(strings.TrimPrefix(name, "outlet "), `"`)
		if !found || !slices.ContainsFunc(r.Air.Outlets, func(o leste.OutletResult) bool { return o.Name == name }) {
			name, text = "", n.Text
		}
		k := key{n.Relation, text}
		i, again := at[k]
		if !again {
			i = len(groups)
			at[k] = i
			groups = append(groups, group{note: n})
			groups[i].note.Text = text
		}
		g := &groups[i]
		if name != "" && !slices.Contains(g.names, name) {
			g.names = append(g.names, name)
		}
		if math.Abs(n.Value-n.Limit) > math.Abs(g.note.Value-g.note.Limit) {
			g.note.Value, g.note.Limit, g.note.Unit = n.Value, n.Limit, n.Unit
		}
	}
	out := make([]Remark, len(groups))
	for i := range groups {
		out[i] = remarkOf(&groups[i].note, groups[i].names)
	}
	return out
}

// remarkOf writes a note about outlets of some names.
func remarkOf(n *relation.Note, names []string) Remark {
	text := strings.TrimSuffix(n.Text, ".")
	what := text
	first, _, _ := strings.Cut(text, ";")
	first, _, _ = strings.Cut(first, ": ")
	brief := uncapital(first)
	if !math.IsNaN(n.Value) && !math.IsNaN(n.Limit) {
		unit := " " + n.Unit
		if n.Unit == "1" || n.Unit == "" {
			unit = ""
		}
		digits := q.Telling(n.Limit, 3, n.Value)
		value, limit := figures(n.Value, digits), figures(n.Limit, digits+1)
		text += fmt.Sprintf(" (%s against %s%s)", value, limit, unit)
		brief = fmt.Sprintf("%s (%s against %s%s)", measured(what, first), value, limit, unit)
	}
	if len(names) > 0 {
		text = joined(names) + ": " + text
	}
	return Remark{text, brief}
}

// measured is what of a note about a range is out of it: "distance over spacing", without what it is the range of. Of
// another note it is how that begins.
func measured(text, first string) string {
	for _, by := range []string{" is below the range", " is above the range"} {
		if what, _, found := strings.Cut(text, by); found {
			return uncapital(what)
		}
	}
	return uncapital(first)
}

// uncapital begins a sentence of ours as a part of another; names stay.
func uncapital(s string) string {
	if s == "" || strings.HasPrefix(s, "Reynolds") {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

// figures writes a number with some significant digits.
func figures(x float64, digits int) string {
	return strconv.FormatFloat(q.Round(x, digits), 'f', -1, 64)
}

// shownFactor writes a resistance over a push: two figures, or as many as tell that it is below 1.
func shownFactor(x float64) string { return figures(x, q.Telling(-1, 2, -x)) }

// joined puts names in a row.
func joined(names []string) string {
	if n := len(names); n > 1 {
		return strings.Join(names[:n-1], ", ") + " and " + names[n-1]
	}
	return strings.Join(names, "")
}
