package text

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	leste "leste"
	"leste/job"
	"leste/physics/relation"
	q "leste/quantity"
	"leste/render/amount"
)

// unproven is said once, where levels are calculated and no trial stands behind them.
const unproven = "Levels of water are calculated and unproven until trials on this line are fitted; comparisons between stations and settings are surer than levels."

// Report writes a whole result.
func Report(r *leste.Result, s Style) string {
	s = s.Of(r)
	var b strings.Builder
	b.WriteString(verdict(r, s))
	b.WriteString(s.section("No promise is made", s.bullets(s.says(r.Stops))))
	b.WriteString(s.section("What decides", deciding(r, s)))
	b.WriteString(s.section("What would help most", helps(r, s)))
	b.WriteString(s.section("Ask these first", s.bullets(s.says(sentences(r.Ask)))))
	b.WriteString(s.section("Cases, the worst first", cases(r, s)))
	for i := range r.Formats {
		b.WriteString(formatReport(&r.Formats[i], s))
	}
	b.WriteString(airReport(r, s))
	b.WriteString(s.section(fmt.Sprintf("Assumed: %d %s nobody gave, those that matter most first", len(r.Assumed), plural(len(r.Assumed), "value", "values")), assumed(r, s)))
	b.WriteString(s.section("Notes", notes(r.Notes, s)))
	b.WriteString(s.section("Cautions", s.bullets(s.says(sentences(r.Cautions)))))
	if len(r.Relations) > 0 {
		b.WriteString(s.section("Relations used (leste relations ID shows one)", s.paragraph("  ", strings.Join(r.Relations, ", "))))
	}
	return b.String()
}

func verdict(r *leste.Result, s Style) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s   %s\n", s.verdict(r.Verdict), s.paint(heading, r.Job))
	for i := range r.Formats {
		f := &r.Formats[i]
		b.WriteString(s.paragraph("  ", formatSentence(f, s)))
	}
	line := "Evidence: " + string(r.Evidence)
	if r.Method != "" && len(r.Formats) > 0 {
		line += ", method " + r.Method
	}
	if len(r.Formats) > 0 && r.Evidence == leste.Calculated {
		line += ". " + unproven
	}
	b.WriteString(s.paragraph("  ", line))
	return b.String()
}

// formatSentence is the verdict on one format with what decides it: whether it stands, what the air does to it, then
// the zone that holds most against its limit.
func formatSentence(f *leste.FormatResult, s Style) string {
	text := fmt.Sprintf("%s: %s", f.Name, s.verdict(f.Verdict))
	x, ok := leste.Deciding(*f)
	if !ok {
		if f.Case != "" {
			text += fmt.Sprintf(" in the case %q", f.Case)
		}
		return text + fmt.Sprintf("; %s of water left on one container.", s.mass(f.Container)) + movesWords(f) + exceededWords(f, s)
	}
	where := x.Zone.Name
	if where == job.ZoneAll {
		where = "the whole container"
	}
	decides := fmt.Sprintf("%s for the %s: %s, %s", where, x.Machine, requirementWords(x.RequirementResult, s), reserveWords(x.Reserve))
	in := ""
	if worst := decidingCase(f, x.RequirementResult); worst != "" {
		in = fmt.Sprintf(" in the case %q", worst)
		if slices.Contains(f.Airless, worst) {
			in += ", in which no air comes"
		}
	}
	if x.Verdict == f.Verdict {
		text += fmt.Sprintf("%s. What decides is %s.", in, decides)
	} else { // not the water
		text += "." + movesWords(f) + exceededWords(f, s) + fmt.Sprintf(" The water alone is %s%s: %s.", s.verdict(x.Verdict), in, decides)
	}
	if z := x.Zone; z.Cause != "" {
		text += fmt.Sprintf(" The main cause is %s", z.Cause)
		if z.Where != "" {
			text += " (" + z.Where + ")"
		}
		text += "."
	}
	if x.Verdict == f.Verdict {
		text += movesWords(f) + exceededWords(f, s)
	}
	return text
}

// exceededWords names the limits of the air that are passed, or nothing.
func exceededWords(f *leste.FormatResult, s Style) string {
	out := ""
	for _, e := range f.Exceeded {
		out += " " + sentence(s.Say(e))
	}
	return out
}

// decidingCase is the case of the requirement that binds, or else the format's.
func decidingCase(f *leste.FormatResult, r *leste.RequirementResult) string {
	if r != nil && r.Case != "" {
		return r.Case
	}
	return f.Case
}

func badness(v leste.Verdict) int {
	switch v {
	case leste.Met:
		return 0
	case leste.NotMet:
		return 2
	}
	return 1
}

// requirementWords is "52 (21 to 130) mg of water where at most 20 mg is tolerated".
func requirementWords(r *leste.RequirementResult, s Style) string {
	what := map[string]string{"water": " of water", "mass": " of water", "drop": " as the largest drop", "rejects": " rejected"}[r.Quantity]
	value, limit := against(r, s)
	return fmt.Sprintf("%s%s where at most %s is tolerated", value, what, limit)
}

// against is the value and the limit of a requirement in the unit that people use for it.
func against(r *leste.RequirementResult, s Style) (value, limit string) {
	j, ok := judged[r.Quantity]
	if !ok {
		return amount.Band(r.Value, 1) + " " + r.Unit, q.Significant(r.Limit, 3) + " " + r.Unit
	}
	if r.Quantity == "drop" {
		j.unit = s.dropUnit()
	}
	in := func(v float64) float64 {
		x, err := j.kind.In(v, j.unit)
		if err != nil {
			return math.NaN()
		}
		return x
	}
	most := in(r.Limit)
	digits := q.Telling(most, 2, in(r.Value.Likely), in(r.Value.High)) // rounding must not hide a miss
	return q.Typeset(s.bandTo(digits, j.kind, r.Value, j.unit) + " " + j.unit), q.Typeset(q.Significant(most, max(3, digits+1)) + " " + j.unit)
}

// reserveWords says how far a value is from its limit.
func reserveWords(reserve float64) string {
	switch {
	case math.IsNaN(reserve):
		return "no reserve can be told"
	case math.IsInf(reserve, 1) || reserve > 100:
		return "more than a hundred times better than needed"
	case reserve >= 1:
		return amount.Two(reserve) + " times better than needed"
	case reserve <= 0.01:
		return "more than a hundred times too much"
	}
	return amount.Figures(1/reserve, max(2, q.Telling(1, 2, 1/reserve))) + " times too much"
}

func deciding(r *leste.Result, s Style) string {
	var rows [][]string
	for i := range r.Formats {
		f := &r.Formats[i]
		for _, z := range f.Zones {
			for k := range z.Requirements {
				r := &z.Requirements[k]
				value, limit := against(r, s)
				rows = append(rows, []string{f.Name, r.Machine, z.Name, asked[r.Quantity], value, limit, reserveWords(r.Reserve), r.Case, s.verdict(r.Verdict)})
			}
		}
	}
	return Table(s, []string{"format", "machine", "zone", "asked", "value", "at most", "reserve", "worst case", "verdict"}, rows)
}

// asked says what a requirement looks at.
var asked = map[string]string{"water": "water per area", "mass": "water", "drop": "largest drop", "rejects": "rejects"}

func helps(r *leste.Result, s Style) string {
	texts := make([]string, len(r.Helps))
	for i, h := range r.Helps {
		texts[i] = sentence(s.Say(h.What))
		if h.Ratio > 0 && !math.IsInf(h.Ratio, 0) {
			texts[i] = fmt.Sprintf("%s: %s times the water is left.", strings.TrimSuffix(texts[i], "."), amount.Two(h.Ratio))
		}
		if len(h.Against) > 0 {
			texts[i] = fmt.Sprintf("%s, but %s.", strings.TrimSuffix(texts[i], "."), s.All(h.Against))
		}
	}
	return s.bullets(texts)
}

// sentence begins with a capital and ends with a full stop.
func sentence(s string) string {
	if s == "" {
		return s
	}
	first, size := utf8.DecodeRuneInString(s)
	s = string(unicode.ToUpper(first)) + s[size:]
	if !strings.ContainsAny(s[len(s)-1:], ".!?") {
		s += "."
	}
	return s
}

func sentences(list []string) []string {
	out := make([]string, len(list))
	for i, s := range list {
		out[i] = sentence(s)
	}
	return out
}

func cases(r *leste.Result, s Style) string {
	sorted := slices.Clone(r.Cases)
	slices.SortStableFunc(sorted, func(a, b leste.CaseResult) int {
		return cmp.Or(-cmp.Compare(badness(a.Verdict), badness(b.Verdict)), cmp.Compare(a.Reserve, b.Reserve))
	})
	rows := make([][]string, len(sorted))
	for i, c := range sorted {
		rows[i] = []string{c.Name, c.Format, s.verdict(c.Verdict), reserveWords(c.Reserve), s.mass(c.Left), s.Say(c.Note)}
	}
	return Table(s, []string{"case", "format", "verdict", "reserve", "left on one container", ""}, rows)
}

func assumed(r *leste.Result, s Style) string {
	shown := r.Assumed
	if s.Rows > 0 && len(shown) > s.Rows {
		shown = shown[:s.Rows]
	}
	rows := make([][]string, len(shown))
	for i, a := range shown {
		span := ""
		if a.Low != "" && a.High != "" {
			span = a.Low + " to " + a.High
		}
		matters := ""
		if a.Matters > 0 {
			matters = amount.Two(a.Matters) + "×"
		}
		value, within := s.Say(a.Value), s.Say(span)
		if alike, ok := s.english().Alike(a.Value, a.Low, a.High); ok {
			value, within = plainSpaces(alike[0]), plainSpaces(alike[1]+" to "+alike[2])
		}
		rows[i] = []string{strings.TrimPrefix(a.Path, "/"), q.Typeset(value), q.Typeset(within), matters, a.Source}
	}
	table := Table(s, []string{"where", "assumed", "may be", "changes water", "rests on"}, rows)
	if more := len(r.Assumed) - len(shown); more > 0 {
		table += fmt.Sprintf("and %d more\n", more)
	}
	return table
}

func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// notes lists notes, gravest first, each once.
func notes(list []relation.Note, s Style) string {
	grave := []relation.Severity{relation.Stop, relation.Outside, relation.Caution, relation.Info}
	sorted := slices.Clone(list)
	slices.SortStableFunc(sorted, func(a, b relation.Note) int {
		return cmp.Compare(slices.Index(grave, a.Severity), slices.Index(grave, b.Severity))
	})
	var texts []string
	for _, n := range sorted {
		text := string(n.Severity) + ": " + s.Say(n.Text)
		if !math.IsNaN(n.Value) && !math.IsNaN(n.Limit) {
			unit := n.Unit
			if unit == "1" {
				unit = ""
			}
			value := amount.Figures(n.Value, 3)
			if math.Abs(n.Value) < 1e-3*math.Abs(n.Limit) {
				value = "about 0" // six decimals of nothing tell nobody more
			}
			limit := amount.Figures(n.Limit, 3)
			if us := s.Say(limit + " " + unit); us != limit+" "+unit { // each with its unit: they may differ
				limit, unit, value = us, "", s.Say(value+" "+unit)
			}
			text += strings.TrimRight(fmt.Sprintf(" (%s, limit %s %s", value, limit, unit), " ") + ")"
		}
		if n.Relation != "" {
			text += " [" + n.Relation + "]"
		}
		if !slices.Contains(texts, text) {
			texts = append(texts, text)
		}
	}
	return s.bullets(texts)
}
