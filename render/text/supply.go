package text

import (
	"fmt"
	"math"
	"strings"

	leste "leste"
	q "leste/quantity"
	"leste/render/amount"
)

// supplyReport is what the air supply must live with: the worst case by each criterion, and for a job of the air side
// alone every case, the machines that were chosen from and the load list too.
func supplyReport(r *leste.Result, s Style) string {
	var b strings.Builder
	alone := len(r.Formats) == 0
	if alone {
		b.WriteString(s.section("The air supply in every case", airCases(r.Air.Cases, s)))
	}
	for _, w := range worst(r.Air, s) {
		b.WriteString(s.paragraph("  ", w))
	}
	if alone {
		b.WriteString(s.section("Blowers of the catalogue for this duty", choices(r.Air.Choices, r.Cost.Currency, s)))
		b.WriteString(s.section("Electrical loads", loads(r.Air.Loads, s)))
	}
	return b.String()
}

func airCases(cases []leste.AirCase, s Style) string {
	rows := make([][]string, 0, len(cases))
	var refused strings.Builder
	for _, c := range cases {
		if c.Refused != "" {
			refused.WriteString(s.paragraph("  ", sentence(c.Name+": "+c.Refused)))
			continue
		}
		rows = append(rows, []string{
			c.Name, show(s, c.Flow), show(s, c.Plenum), amount.Percent(float64(c.Thrust)), Mains(c.Grid), amount.Percent(float64(c.MotorLoad)),
			amount.Percent(float64(c.FlowOver)), show(s, c.Discharge),
		})
	}
	heads := []string{"case", "flow", "least plenum", "least thrust", "mains", "motor load", "over least flow", "discharge"}
	return Table(s, heads, rows) + refused.String()
}

// worst says in one sentence each which case is worst by each criterion.
func worst(a leste.AirResult, s Style) []string {
	var out []string
	for _, w := range a.Worst {
		switch {
		case w.Criterion == "motor":
			out = append(out, fmt.Sprintf("Worst for the motor: %s, %s of its rating.", w.Case, amount.Percent(w.Value)))
		case w.Criterion == "drying":
			out = append(out, fmt.Sprintf("Worst for drying: %s, %s of the nominal thrust.", w.Case, amount.Percent(w.Value)))
		case w.Criterion == "least flow" && math.IsNaN(w.Value):
			out = append(out, fmt.Sprintf("Worst for the least flow of the blower: %s, where it gives no operating point.", w.Case))
		case w.Criterion == "least flow":
			out = append(out, fmt.Sprintf("Worst for the least flow of the blower: %s, %s over it.", w.Case, amount.Percent(w.Value)))
		case w.Criterion == "heat":
			out = append(out, fmt.Sprintf("Hottest air: %s, %s.", w.Case, show(s, q.Temperature(w.Value))))
		}
	}
	return out
}

func choices(all []leste.BlowerChoice, currency string, s Style) string {
	rows := make([][]string, 0, len(all))
	var rejected strings.Builder
	for _, c := range all {
		if c.Rejected != "" {
			rejected.WriteString(s.paragraph("  ", sentence(c.Part+": "+c.Rejected)))
			continue
		}
		rows = append(rows, []string{
			c.Part, amount.Percent(float64(c.Speed)), Mains(c.Grid), show(s, c.Motor), amount.Percent(float64(c.MotorLoad)), amount.Percent(float64(c.Reserve)),
			amount.Percent(float64(c.Turndown)), show(s, c.Discharge), known(c.Sound, func(v q.SoundLevel) string { return show(s, v) }),
			amount.Two(c.Yearly) + " " + currency,
		})
	}
	heads := []string{"part", "speed", "mains", "motor", "motor load", "pressure in reserve", "turns down to", "discharge", "sound power", "a year"}
	return Table(s, heads, rows) + rejected.String()
}

// known writes a value, nothing where it is not known: an empty column is left out.
func known[T ~float64](v T, write func(T) string) string {
	if math.IsNaN(float64(v)) {
		return ""
	}
	return write(v)
}

func loads(all []leste.ElectricLoad, s Style) string {
	rows := make([][]string, len(all))
	var b strings.Builder
	said := map[string]bool{}
	for i, l := range all {
		current := show(s, l.Current)
		if l.FromPlate {
			current += " (nameplate)"
		}
		rows[i] = []string{
			l.Blower, show(s, l.Rated) + " " + l.Class, "3 x " + show(s, l.Voltage) + ", " + show(s, l.Frequency), current, amount.Two(float64(l.PowerFactor)),
			l.Starter, amount.Two(l.Starts) + "/h", l.Protection,
		}
		for _, text := range append([]string{"Signals: " + strings.Join(l.Signals, "; ") + "."}, l.Notes...) {
			if !said[text] {
				said[text] = true
				b.WriteString(s.paragraph("  ", text))
			}
		}
	}
	return Table(s, []string{"blower", "motor", "supply", "full load", "power factor", "starter", "starts", "protection"}, rows) + b.String()
}
