package quote

import (
	"math"
	"strings"

	leste "leste"
	q "leste/quantity"
	"leste/render/words"
)

// mostNamed is how many of a kind the cover names; the chapters name all.
const mostNamed = 3

// unmet tells what else keeps the job from being met, beside the requirement that decides, as lines of the cover: what
// falls and what the air may not do before it, other machines and the sound after it.
func (in *Input) unmet(decides leste.RequirementResult) (before, after []string) {
	w, r := in.Words, in.Result
	var falls, might, passed, others []string
	for i := range r.Formats {
		f := &r.Formats[i]
		for _, p := range f.Falls() {
			text := w.T("cover.fall", f.Name, w.Term(p.Way), w.Reserve(p.Factor))
			if p.Factor < 1 {
				falls = append(falls, text)
			} else {
				might = append(might, text)
			}
		}
		for _, e := range f.Exceeded {
			passed = append(passed, f.Name+": "+w.Say(e))
		}
		for _, z := range f.Zones {
			for _, x := range z.Requirements {
				if same := x.Machine == decides.Machine && x.Quantity == decides.Quantity && x.Value == decides.Value; x.Verdict != leste.NotMet || same {
					continue
				}
				value, limit := in.against(x)
				others = append(others, w.T("cover.other", f.Name, w.Term("asked "+x.Quantity), w.Term(z.Name), w.Name(x.Machine), value, limit))
			}
		}
	}
	var sound []string
	if s := r.Sound; s.Assessed && s.Verdict == leste.NotMet {
		sound = append(sound, w.T("cover.sound", w.Value(float64(s.At1m), q.KindSoundLevel, 3), w.Value(float64(s.Limit), q.KindSoundLevel, 3)))
	}
	tell := func(lines []string, key string, list []string) []string {
		if len(list) == 0 {
			return lines
		}
		return append(lines, w.T(key, some(list, w)))
	}
	before = tell(tell(tell(nil, "cover.falls", falls), "cover.might", might), "cover.passed", passed)
	after = tell(tell(nil, "cover.others", others), "cover.loud", sound)
	return before, after
}

// some joins the first of a list and counts the rest.
func some(list []string, w words.Words) string {
	if more := len(list) - mostNamed; more > 0 {
		return strings.Join(list[:mostNamed], "; ") + "; " + w.T("cover.more", w.Number(float64(more), 3))
	}
	return strings.Join(list, "; ")
}

// yearHolds says what the cost of a year is made of: electricity alone, where nobody gave what upkeep costs.
func (in *Input) yearHolds() string {
	w := in.Words
	parts := []string{w.T("year.electricity")}
	if y := in.Result.Cost.Year; y != nil {
		for _, p := range []struct {
			key   string
			money float64
		}{{"year.demand", y.Demand}, {"year.upkeep", y.Filters + y.Belts + y.Spares + y.Maintenance}, {"year.rejects", y.FalseReject}} {
			if p.money > 0 && !math.IsInf(p.money, 0) {
				parts = append(parts, w.T(p.key))
			}
		}
	}
	if len(parts) == 1 {
		return parts[0]
	}
	return strings.Join(parts[:len(parts)-1], ", ") + " " + w.T("cite.and") + " " + parts[len(parts)-1]
}
