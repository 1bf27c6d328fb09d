package design

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"

	leste "leste"
	"leste/airsupply"
	q "leste/quantity"
)

// bound says what keeps the stations of a study from other air: those that fail from more of it, and what works with
// clearly more in reserve than is asked from less.
func (s *search) bound(ctx context.Context, st *Study) error {
	first := 0 // of the others less air is not told
	for i := range st.Found {
		if st.Found[i].ahead(&st.Found[first]) {
			first = i
		}
	}
	for i := range st.Found {
		f := &st.Found[i]
		if f.Result == nil || f.ind.Violation >= levelAir {
			continue
		}
		over := s.overs(f.Result, st.Goal)
		var err error
		switch {
		case f.Works || f.Beside:
			if i == first {
				f.Spare, err = s.leastAir(ctx, f, over, st.Goal)
			}
		case over > 1 && stands(f.Result) && airLacks(f.Result) == "" && !unsure(f.Result, st.Goal):
			var why string
			if why, err = s.mostAir(ctx, f, over); why != "" {
				f.Fails += "; " + why
			}
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// unsure says whether a format gives way by what the goal asks, so that more air is out of the question.
func unsure(r *leste.Result, goal string) bool {
	for i := range r.Formats {
		if givesAt(&r.Formats[i], goal) != nil {
			return true
		}
	}
	return false
}

// mostAir says what keeps a station from as much more air as would make it dry enough: containers that give way, blowers
// that end, or the highest pressure that is tried. What the water does is told by what is over what is asked.
func (s *search) mostAir(ctx context.Context, f *Found, over float64) (string, error) {
	const near = 1.05 // of the pressure: other air does little there
	fine := *s.judges[f.concept]
	fine.eye = eyeFine
	g := fine.concept.ground
	t := fine.trial(f.ind.X)
	most := float64(g.sizes.Pressure[1])
	limit, why := most, beyondTried(g.sizes.Pressure[1])
	pressure := float64(f.Pressure)
	for k := range g.formats {
		if err := t.see(ctx, k, pressure); err != nil {
			return "", err
		}
		if h := t.looks[k].holds; h < limit {
			limit, why = h, t.gives(k)
			if h < pressure*near { // the number told would be that of the station, or a little less by other cells
				why = fmt.Sprintf("with more air %s %s", g.formats[k].name, t.looks[k].gives)
			}
		}
	}
	if limit < pressure*near {
		return why, nil
	}
	need := max(pressure*math.Pow(over, 1/waterExponent), pressure*near)
	more := min(need, limit)
	refusal, err := s.refused(ctx, f, more)
	switch {
	case err != nil:
		return "", err
	case refusal != "":
		return fmt.Sprintf("no blower gives it more air, such as %s would take: %s", q.KindGauge.FormatDigits(more, q.SI, 2), refusal), nil
	case need > limit:
		return "by what is left it would take more air than it may have: " + why, nil
	}
	return fmt.Sprintf("more air than %s was not tried on it; %s", q.Format(f.Pressure, q.SI), why), nil
}

// setTo is a candidate at another plenum pressure, before it is paid.
func setTo(ind *Individual, pressure float64) *Individual {
	ind.Pressure, ind.Violation = pressure, 0
	return ind
}

// beyondTried says that a plenum pressure is the highest one that is tried.
func beyondTried(most q.Gauge) string {
	return fmt.Sprintf("no more than %s is tried, the most that usual blowers hold", q.Format(most, q.SI))
}

// leastAir says what keeps a station that has clearly more in reserve than is asked from less air: the lowest pressure that
// is tried, blowers that do not give as little, or cost no less when they do; else what an assessment finds of the cheapest of
// less air to fail. Where that works it is what is told from then on. "" where it has no more than a little to spare.
func (s *search) leastAir(ctx context.Context, f *Found, over float64, goal string) (string, error) {
	const (
		spare = 0.93 // of what is asked
		less  = 0.97 // of the pressure
		ratio = 0.94 // from one pressure to the next
		worth = 0.97 // of the cost
	)
	if !(over > 0 && over < spare) {
		return "", nil
	}
	sizes := &s.judges[f.concept].concept.ground.sizes
	step, least := float64(sizes.PressureStep), float64(sizes.Pressure[0])
	pressure := float64(f.Pressure)
	lower := math.Floor(pressure*less/step) * step
	if lower < least {
		return fmt.Sprintf("less than %s is not tried", q.Format(sizes.Pressure[0], q.SI)), nil
	}
	enough := min(lower, max(least, math.Ceil(pressure*math.Pow(over, 1/waterExponent)/step)*step))
	of := s.judges[f.concept].trial(f.ind.X)
	best := Individual{Cost: math.Inf(1)}
	for p := lower; ; p = max(enough, math.Floor(p*ratio/step)*step) {
		ind := f.ind
		if err := of.pay(ctx, setTo(&ind, p)); err != nil {
			return "", err
		}
		if ind.feasible() && ind.Cost < best.Cost {
			best = ind
		}
		if p <= enough {
			break
		}
	}
	if math.IsInf(best.Cost, 1) {
		refusal, err := s.refused(ctx, f, lower)
		return "no blower gives it less air: " + refusal, err
	}
	year := fmt.Sprintf("about %.0f %s a year", best.Cost, of.concept.ground.basis.Job().Cost.Currency)
	at := q.KindGauge.FormatDigits(best.Pressure, q.SI, 3)
	switch {
	case best.Cost > f.Cost && best.Blower == "":
		return "less air costs more, " + year, nil
	case best.Cost > f.Cost:
		return fmt.Sprintf("a blower that gives it less air costs more: %s, %s", best.Blower, year), nil
	case best.Cost > worth*f.Cost:
		return fmt.Sprintf("less air saves hardly anything: with %s it costs %s", at, year), nil
	}
	next := s.found(f.concept, &best)
	err := s.tell(ctx, &Study{Goal: goal}, &next)
	switch {
	case err != nil:
		return "", err
	case next.Works || next.Beside:
		next.trust = f.trust
		*f = next
		return s.leastAir(ctx, f, s.overs(f.Result, goal), goal)
	case next.Result == nil:
		return fmt.Sprintf("with %s it has no answer: %s", at, strings.TrimSuffix(next.Fails, ".")), nil
	}
	return fmt.Sprintf("with %s it fails on this: %s", at, strings.TrimSuffix(next.Fails, ".")), nil
}

// refused says why a station has no air at a plenum pressure: why its own blower does not give it, where no other does
// either; "" where one does.
func (s *search) refused(ctx context.Context, f *Found, pressure float64) (string, error) {
	c := s.judges[f.concept].concept
	a := c.arrange(f.ind.X)
	j := a.job(pressure)
	why := func(err error) (string, error) {
		var refusal *airsupply.Refusal
		switch {
		case err == nil:
			return "", nil
		case errors.As(err, &refusal):
			return refusal.Error(), nil
		}
		return "", err
	}
	_, err := c.ground.supply(ctx, j)
	text, err := why(err)
	if err != nil || text == "" || f.Blower == "" {
		return text, err
	}
	_, err = c.ground.supply(ctx, s.finished(j, f.Blower))
	own, err := why(err)
	if err != nil || own == "" {
		return text, err
	}
	return strings.Replace(own, "blower: it ", f.Blower+" ", 1), nil
}
