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
	told     float64 // wetness at the pressure of the station, as coarser cells tell it; 0 where they tell nothing
}

// usualFiner is what the cells of an assessment find over the coarser ones of the search before any has told it: on cans
// 0.98 to 1.07 for manifolds.
const usualFiner = 1.045

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

// settle brings the plenum pressure of a station near to where an assessment is just met, by assessments on the cells of
// the search, which cost a sixth of one on its own cells. What finer cells find over them is learnt as it goes.
func (s *search) settle(ctx context.Context, goal string, f *Found) (settling, error) {
	const tries, near, most = 3, 0.02, 1.8
	out := settling{exponent: waterExponent}
	if s.options.quickOnly {
		return out, nil
	}
	finer := usualFiner
	if s.state.Finer > 0 {
		finer = s.state.Finer
	}
	now := *f
	earlier, at := 0.0, 0.0
	for range tries {
		r, err := s.assessRoughly(ctx, now.Job)
		if err != nil {
			return out, err
		}
		if r == nil || !stands(r) || airLacks(r) != "" {
			break
		}
		over := s.overs(r, goal) * finer
		if !(over > 0) || math.IsInf(over, 1) {
			break
		}
		if earlier > 0 {
			out.learn(earlier, over, at, float64(now.Pressure))
		}
		earlier, at = over, float64(now.Pressure)
		*f, out.told = now, over/finer
		change := math.Pow(over, 1/out.exponent)
		if math.Abs(math.Log(over)) < near || !(change > 1/most && change < most) {
			break
		}
		next, ok, err := s.blown(ctx, &now, change)
		if err != nil {
			return out, err
		}
		if !ok {
			break
		}
		out.told *= math.Pow(float64(next.Pressure/now.Pressure), -out.exponent)
		now, *f = next, next
	}
	return out, nil
}

// learn sets the exponent by what is found at two pressures.
func (t *settling) learn(overA, overB, a, b float64) {
	const least = 5e-3
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
