package design

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	leste "leste"
	q "leste/quantity"
)

// reasons say in plain words why the first station wins, where it departs from the rules of thumb, and what the
// others fail on.
func (st *Study) reasons(currency string) []string {
	var out []string
	best := st.Best()
	if best == nil {
		return []string{"No station could be laid out for this job."}
	}
	if st.Allowed != "" {
		out = append(out, st.Allowed)
	}
	switch {
	case best.Beside:
		out = append(out,
			st.beside(),
			fmt.Sprintf("%s: %s. It meets everything else for the least, %.0f %s a year, and draws %s.", capital(best.Concept), best.What, best.Cost, currency, watts(float64(best.Power))))
	case best.Works:
		text := fmt.Sprintf("%s: %s. It costs %.0f %s a year and draws %s.", capital(best.Concept), best.What, best.Cost, currency, watts(float64(best.Power)))
		if len(st.Found) > 1 && st.Found[1].Works {
			next := &st.Found[1]
			name := next.Concept
			if next.Whole { // there is a comma in it
				name = strconv.Quote(name)
			}
			text += fmt.Sprintf(" The next, %s, costs %s times as much%s.", name, dearer(next.Cost/best.Cost), spares(next, best))
		}
		out = append(out, text, "What decides it is "+best.Binds+".")
		if best.Spare != "" {
			out = append(out, fmt.Sprintf("It keeps a reserve of %s, more than is asked, as %s.", figures(best.Reserve, 3), best.Spare))
		}
		if st.Goal == GoalLikely && best.Verdict != leste.Met && !st.Interrupted {
			out = append(out, st.undecided(currency))
		}
		if st.Goal == GoalMet && !st.whole {
			out = append(out, fmt.Sprintf("The whole band is within every limit, as nobody asked for less; with the goal %q, the likely values alone, a station may cost less.", GoalLikely))
		}
	default:
		if st.Aside != "" {
			out = append(out, st.beside())
		}
		out = append(out, fmt.Sprintf("Nothing found meets what is asked. The closest is %s: %s. It fails on this: %s.", best.Concept, best.What, best.Fails))
		if st.whole {
			text := fmt.Sprintf("The goal %q asks whole bands to be within their limits, the goal %q likely values only", GoalMet, GoalLikely)
			if best.Result != nil && meets(best.Result, GoalLikely) {
				text += ", which it meets"
			}
			out = append(out, text+".")
		}
	}
	out = append(out, departs(best)...)
	out = append(out, best.Scales...)
	if st.Undrawn != "" {
		out = append(out, fmt.Sprintf("What the job draws is not searched from, as %s.", st.Undrawn))
	}
	if l := st.Least; l != nil {
		if l != best {
			out = append(out, fmt.Sprintf("The least change that works is %q: %s, for %.0f %s a year.", l.Concept, l.What, l.Cost, currency))
			out = append(out, departs(l)...)
			out = append(out, l.Scales...)
		} else {
			out = append(out, "It is also the least change to what stands there.")
		}
		if p := st.asFound; p > 0 {
			out = append(out, fmt.Sprintf("Its plenum pressure is %s; as found it is %s.", q.Format(l.Pressure, q.SI), q.Format(p, q.SI)))
		}
	}
	if st.stands && st.Least == nil && best.Works {
		out = append(out, "No change to what stands there works, of those that were tried.")
	}
	if best.Result != nil {
		for i := range best.Result.Formats {
			if f := &best.Result.Formats[i]; f.Why != "" {
				out = append(out, f.Name+": "+f.Why+".")
			}
		}
	}
	if best.Hood > 0 {
		out = append(out, fmt.Sprintf("It is louder than allowed at 1 m: a hood must take off %.0f dB.", float64(best.Hood)))
	}
	var may []string // work by the search alone
	for i := 1; i < len(st.Found); i++ {
		f := &st.Found[i]
		switch {
		case f.Beside:
			out = append(out, fmt.Sprintf("%s: meets everything else too, for %.0f %s a year (%s times as much).", capital(f.Concept), f.Cost, currency, dearer(f.Cost/best.Cost)))
		case f.May:
			may = append(may, fmt.Sprintf("%s (%.0f %s a year, the best of %d candidates)", f.Concept, f.Cost, currency, f.Judged))
		case !f.Works:
			fails := "fails on this"
			if !f.Sure {
				fails = "fails as the search sees it, on coarse cells"
			}
			text := fmt.Sprintf("%s: the best of %d tried %s: %s.", capital(f.Concept), f.Judged, fails, strings.TrimSuffix(f.Fails, "."))
			const early = 100 // candidates of a concept that was left
			if best.Works && f.Judged < early && f.Free > 0 && f.ind.Violation < levelAir {
				text += " It was left early for what works; a search of its own may find one that works too."
			}
			out = append(out, text)
		case best.Works:
			out = append(out, fmt.Sprintf("%s: works too, for %.0f %s a year (%s times as much%s); what decides is %s.", capital(f.Concept), f.Cost, currency, dearer(f.Cost/best.Cost), spares(f, best), f.Binds))
		}
	}
	switch len(may) {
	case 0:
	case 1:
		out = append(out, "It may be that this works too: "+may[0]+". It was left for what costs less and not assessed, and a search of its own may find one for far less.")
	default:
		out = append(out, "It may be that these work too: "+strings.Join(may, "; ")+". They were left for what costs less and not assessed, and a search of its own may find one of each for far less.")
	}
	return out
}

// undecided says what it takes to be sure of what is asked.
func (st *Study) undecided(currency string) string {
	for i := range st.Found {
		if f := &st.Found[i]; f.Whole {
			return fmt.Sprintf("The likely values are within their limits. %q brings the whole band within them, for %.0f %s a year; of the first the verdict stays undecided until a trial narrows the band.",
				f.Concept, f.Cost, currency)
		}
	}
	return "The likely values are within their limits. No station found brings the whole band within them, so the verdict stays undecided until a trial narrows it."
}

// spares says that a station has clearly more in reserve than the best, which its cost pays for.
func spares(f, best *Found) string {
	const clearly = 1.1
	if f.Reserve > clearly*best.Reserve && !math.IsInf(f.Reserve, 1) {
		return fmt.Sprintf(", with a reserve of %s instead of %s", figures(f.Reserve, 3), figures(best.Reserve, 3))
	}
	return ""
}

// departs says where a station departs from the rules of thumb, or from what stands there.
func departs(f *Found) []string {
	list := departing(f)
	switch {
	case f.Own && list != "":
		return []string{"It changes " + list + "."}
	case f.Own:
		return []string{"It leaves every outlet as it stands."}
	case list != "":
		return []string{"It departs from the rules of thumb in " + list + "."}
	case len(f.Departures) > 0:
		return []string{"It keeps close to the rules of thumb."}
	}
	return nil
}

// departing lists the departures worth a word.
func departing(f *Found) string {
	var parts []string
	for _, d := range f.Departures {
		what := d.Variable
		if d.Format != "" {
			what += " for " + d.Format
		}
		switch {
		case f.Own && d.Value != d.Rule:
			parts = append(parts, fmt.Sprintf("the %s from %s to %s", what, d.Rule, d.Value))
		case !f.Own && d.Departs:
			parts = append(parts, fmt.Sprintf("the %s (%s, rule %s)", what, d.Value, d.Rule))
		}
	}
	const most = 4
	if len(parts) > most {
		parts = append(parts[:most], fmt.Sprintf("%d more", len(parts)-most))
	}
	return joined(parts)
}

// beside says what no station can meet.
func (st *Study) beside() string {
	return fmt.Sprintf("Nothing can meet what is asked: where the line has stood, %s, and no air at a station takes that off. What follows was searched for without that case.", st.Aside)
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

func watts(w float64) string {
	if w < 1000 {
		return fmt.Sprintf("%.0f W", w)
	}
	return q.KindPower.FormatDigits(w, q.SI, 2)
}
