package design

import (
	"context"
	"math"

	leste "leste"
	"leste/job"
)

// settling is what assessments have told of how the water of one station goes with its plenum pressure.
type settling struct {
	exponent float64 // the water falls with this power of it
	told     float64 // wetness at the pressure of the station, as the deciding case alone tells it; 0 where it tells nothing
}

// What is found on the cells of an assessment over what is on those of the search, and what an assessment finds over its
// deciding case alone, before any has told it: on cans 1.02 to 1.15 for manifolds, and nearly nothing.
const (
	usualFiner = 1.07
	usualWhole = 1.0
)

// overs is the worst requirement of an assessment over what is asked, with what no station can meet set aside; at most 1
// is asked.
func (s *search) overs(r *leste.Result, goal string) float64 {
	switch {
	case r == nil:
		return 0
	case s.aside != nil:
		return wetnessBeside(r)
	}
	return wetness(r, goal)
}

// settle brings the plenum pressure of a station near to where an assessment is just met: by an assessment on the cells of
// the search first, and then by the deciding case alone of the formats that decide, on the cells of an assessment, which
// costs a fifth of one. What a whole one finds over that is learnt as it goes. least is the cost of the cheapest that
// works so far.
func (s *search) settle(ctx context.Context, goal string, f *Found, least float64) (settling, error) {
	out := settling{exponent: waterExponent}
	if s.options.quickOnly {
		return out, nil
	}
	const roughTries, roughNear, tries, near = 1, 0.03, 6, 0.005
	var last *leste.Result // on the cells of the search, at the pressure of f
	_, err := s.approach(ctx, f, &out, math.Inf(1), roughTries, roughNear, func(now *Found) (float64, error) {
		r, err := s.assessRoughly(ctx, now.Job)
		if err != nil || r == nil || !stands(r) || airLacks(r) != "" {
			return 0, err
		}
		last = r
		return s.overs(r, goal) * usualFiner, nil
	})
	if err != nil || last == nil {
		return out, err
	}
	only, worst := s.deciding(last, goal)
	band := s.overs(last, goal) / s.overs(last, GoalLikely)
	if worst == "" || !(band > 0) || math.IsInf(band, 1) {
		return out, nil
	}
	over, err := s.approach(ctx, f, &out, least, tries, near, s.decided(ctx, only, worst, band))
	out.told = over / s.whole()
	return out, err
}

// whole is what a whole assessment finds over its deciding case alone.
func (s *search) whole() float64 {
	if s.state.InAll > 0 {
		return s.state.InAll
	}
	return usualWhole
}

// decided tells what is left over what is asked from the case and the formats that decide alone, on the cells of an
// assessment; band is the upper end of the band over the likely value where whole bands are asked about. Of the formats
// the next asked about are those that decided or nearly did.
func (s *search) decided(ctx context.Context, only []string, worst string, band float64) func(*Found) (float64, error) {
	return func(f *Found) (float64, error) {
		written := asWritten(f.Job)
		text, err := Write(written, "")
		if err != nil {
			return 0, err
		}
		o := leste.Options{Method: "transport", LikelyWater: true, Only: only, Case: worst, Followed: s.followedOf(text)}
		r, _, err := s.assessJob(ctx, written, o)
		if err != nil || r == nil {
			return 0, err
		}
		const near = 0.95 // of the worst
		only = s.wettestFormats(r, GoalLikely, near)
		return s.overs(r, GoalLikely) * band * s.whole(), nil
	}
}

// approach changes the plenum pressure of a station until what is left over what is asked is near to one, and returns
// what is left as told of it; 0 where nothing is told. It learns how the water goes with the pressure. Of what was tried
// in vain it keeps what is just dry enough; where nothing is, it goes on by what it has learnt. What will cost clearly
// more than the least that works need not be settled as closely: it goes there with a little more air and is done.
func (s *search) approach(ctx context.Context, f *Found, how *settling, least float64, tries int, near float64, told func(*Found) (float64, error)) (float64, error) {
	const (
		most    = 1.8  // a change of pressure
		clearly = 1.08 // over the least cost, for which the air need not be found within a few per cent
		safe    = 1.01 // more of the water is then thought to be left
		close   = 0.1  // and the change of it, which is told without looking again
	)
	now := *f
	earlier, at, last, kept := 0.0, 0.0, 0.0, 0.0
	for range tries {
		over, err := told(&now)
		if err != nil || !(over > 0) || math.IsInf(over, 1) {
			return last, err
		}
		if earlier > 0 {
			how.learn(earlier, over, at, float64(now.Pressure))
		}
		earlier, at = over, float64(now.Pressure)
		if kept == 0 || over < 1+near && over > kept {
			*f, last = now, over
		}
		if over < 1+near && over > kept {
			kept = over
		}
		change := math.Pow(over, 1/how.exponent)
		if math.Abs(math.Log(over)) < near || !(change > 1/most && change < most) {
			return last, nil
		}
		next, ok, err := s.blown(ctx, &now, change)
		if err != nil || !ok {
			return last, err
		}
		if next.Cost > clearly*least && math.Abs(math.Log(over)) < close {
			if next, ok, err = s.blown(ctx, &now, math.Pow(safe*over, 1/how.exponent)); err == nil && ok {
				*f, last = next, over*math.Pow(float64(next.Pressure)/at, -how.exponent)
			}
			return last, err
		}
		now = next
	}
	const enough = 0.95 // of what is asked: drier than that, too much air would be kept
	if kept < enough {
		*f, last = now, earlier*math.Pow(float64(now.Pressure)/at, -how.exponent)
	}
	return last, nil
}

// deciding are the names of the formats that decide, or nearly do, and of the case that does; none where no case is told.
func (s *search) deciding(r *leste.Result, goal string) (only []string, worst string) {
	const near = 0.93 // of the worst
	only = s.wettestFormats(r, goal, near)
	most := s.overs(r, goal)
	for i := range r.Formats {
		if worst == "" && s.oversOf(r, i, goal) == most {
			worst = r.Formats[i].Case
		}
	}
	if s.aside == nil {
		return only, worst
	}
	worst = ""
	for i := range r.Cases { // what a stop of the line does is set aside
		if c := &r.Cases[i]; c.Name != leste.CaseRestart && c.Reserve > 0 && settledReserve/c.Reserve == most {
			worst = c.Name
		}
	}
	return only, worst
}

// oversOf is the worst requirement of one format over what is asked.
func (s *search) oversOf(r *leste.Result, format int, goal string) float64 {
	alone := *r
	alone.Formats = r.Formats[format : format+1]
	return s.overs(&alone, goal)
}

// wettestFormats are the names of the formats that are within a share of the worst.
func (s *search) wettestFormats(r *leste.Result, goal string, share float64) (names []string) {
	most := s.overs(r, goal)
	for i := range r.Formats {
		if s.oversOf(r, i, goal) > share*most {
			names = append(names, r.Formats[i].Name)
		}
	}
	return names
}

// learn sets the exponent by what is found at two pressures.
func (t *settling) learn(overA, overB, a, b float64) {
	const least = 0.02 // water scatters by half a per cent or more at neighbours
	if math.Abs(math.Log(b/a)) < least {
		return
	}
	if by := math.Log(overA/overB) / math.Log(b/a); by > 0 {
		t.exponent = steepness(by)
	}
}

// assessRoughly assesses a job in every case on the cells of the search, once.
func (s *search) assessRoughly(ctx context.Context, j *job.Job) (*leste.Result, error) {
	text, err := Write(j, "")
	if err != nil {
		return nil, err
	}
	if r, known := s.rough[string(text)]; known {
		return r, nil
	}
	r, _, err := s.assessJob(ctx, asWritten(j), leste.Options{Method: "transport", Cell: searchCell})
	if err == nil {
		s.rough[string(text)] = r
	}
	return r, err
}
