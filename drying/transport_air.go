package drying

import (
	"fmt"
	"math"

	"leste/station"
)

// airAhead looks at the air of one pass ahead of the water, one position per worker at a time.
type airAhead struct {
	pass    *Pass
	team    *team
	surface *station.Surface
	eyes    []Exposure
	fields  []*station.Field
	sights  []sight // of the fields
	from    int     // index of the position in fields[0]
	filled  int
	base    float64
	sight           // the field last given
	most    float64 // Pa, greatest pressure met
	fall    float64 // m, over which the pressure falls beside a line
	looked  bool    // for that
	lines   []impingement
	cols    int
	replay  *Replay // that the gusts come from; nil where they are looked at
	gusts   []gust  // that it has of the present way
	press   float64 // factors on the air
	shear   float64
	err     error // of the field last given
}

// sight is what is greatest in a field.
type sight struct {
	fastest float64 // m/s
	peak    float64 // Pa, pressure
	slope   float64 // Pa/m, fall of pressure
	sum     float64 // of them and the shear: not a number where one of them is not, nor finite where one is not
}

// newAirAhead looks at the air of a pass; lines are met with where they are asked for only.
func newAirAhead(p *Problem, pass *Pass, t *team, lines bool) *airAhead {
	s := p.Body.Surface
	a := &airAhead{pass: pass, team: t, surface: s, eyes: newEyes(pass.Air, t.size), cols: s.Cols, press: p.Settings.Pressure, shear: p.Settings.Shear}
	if !lines {
		a.replay, _ = pass.Air.(*Replay)
	}
	return a
}

// gust is the air of step k of n from position base; it stays valid until the next call.
func (a *airAhead) gust(k, n int, base, step float64) gust {
	if k == 0 && a.replay != nil {
		a.gusts = a.replay.gusts(n, base, step)
	}
	if a.gusts != nil {
		g := a.gusts[k]
		g.press, g.shear = a.press, a.shear
		a.fastest = g.sight.fastest * math.Sqrt(a.press)
		a.check(g.sight.sum, base+step*(float64(k)+0.5))
		return g
	}
	return gustOf(a.at(k, n, base, step))
}

// check refuses air that is not a number with the container at x, by the sum of what it is.
func (a *airAhead) check(sum, x float64) {
	if math.IsNaN(sum) || math.IsInf(sum, 0) {
		a.err = fmt.Errorf("the air at station %q is not a number with the container at %.4g m; it must be finite everywhere", a.pass.Station, x)
	}
}

// at is the field of step k of n from position base; it stays valid until the next call.
func (a *airAhead) at(k, n int, base, step float64) *station.Field {
	for len(a.fields) < len(a.eyes) {
		a.fields, a.sights = append(a.fields, NewField(a.surface)), append(a.sights, sight{})
	}
	if a.base != base || k < a.from || k >= a.from+a.filled {
		a.base, a.from, a.filled = base, k, min(len(a.eyes), n-k)
		a.team.run(func(w int) {
			if w < a.filled {
				a.eyes[w].At(base+step*(float64(k+w)+0.5), a.fields[w])
				a.scale(a.fields[w])
				a.sights[w] = see(a.fields[w], a.cols)
			}
		})
	}
	f := a.fields[k-a.from]
	a.sight = a.sights[k-a.from]
	if f.First >= f.Last {
		return f
	}
	a.check(a.sum, base+step*(float64(k)+0.5))
	if a.most = max(a.most, a.peak); a.peak >= a.most/2 && a.slope > 0 {
		a.lines = append(a.lines, impingement{a.peak, bellWidth(f, a.cols, a.peak)})
	}
	return f
}

// see looks a field over.
func see(f *station.Field, cols int) sight {
	s, steepest, shear := sight{}, 0.0, 0.0
	for i := f.First * cols; i < f.Last*cols; i++ {
		s.fastest = max(s.fastest, f.Ue[i])
		s.peak = max(s.peak, f.P[i])
		steepest = max(steepest, f.GradS[i]*f.GradS[i]+f.GradA[i]*f.GradA[i])
		shear = max(shear, math.Abs(f.TauS[i])+math.Abs(f.TauA[i]))
	}
	s.slope, s.sum = math.Sqrt(steepest), s.fastest+s.peak+steepest+shear
	return s
}

// falls is the length over which the pressure falls beside an impingement line of the pass [m]: of the hardest and the
// steepest that some positions show; 0 where there is none.
func (a *airAhead) falls() float64 {
	if a.looked {
		return a.fall
	}
	a.looked = true
	if a.replay != nil && a.replay.narrow {
		a.fall = a.replay.fall
		return a.fall
	}
	press, steep := 0.0, 0.0
	from, step := a.pass.From, (a.pass.To-a.pass.From)/frontProbes
	var seen []gust
	if a.replay != nil && a.replay.from == from {
		seen = a.replay.probe(frontProbes, step)
	}
	for k := range frontProbes {
		if seen != nil {
			a.sight = seen[k].sight
			a.check(a.sum, from+step*(float64(k)+0.5))
		} else {
			a.at(k, frontProbes, from, step)
		}
		press, steep = max(press, a.peak), max(steep, a.slope)
	}
	if steep > 0 {
		a.fall = press / steep
	}
	return a.fall
}

// scale applies the factors that the settings put on the air: speeds go with the root of pressures.
func (a *airAhead) scale(f *station.Field) {
	if a.press == 1 && a.shear == 1 {
		return
	}
	times := func(x []float64, factor float64) {
		for i := f.First * a.cols; i < f.Last*a.cols; i++ {
			x[i] *= factor
		}
	}
	times(f.P, a.press)
	times(f.GradS, a.press)
	times(f.GradA, a.press)
	times(f.TauS, a.shear)
	times(f.TauA, a.shear)
	times(f.Ue, math.Sqrt(a.press))
}

// impingement is how hard a field presses at most [Pa] and how wide its steepest line is [m].
type impingement struct{ peak, width float64 }

// narrowest is the width of the narrowest line that pressed at least half as hard as the hardest: the fringe of
// a line that has not arrived looks narrow.
func (a *airAhead) narrowest() float64 {
	most, width := 0.0, math.Inf(1)
	for _, l := range a.lines {
		most = max(most, l.peak)
	}
	for _, l := range a.lines {
		if l.peak >= most/2 {
			width = min(width, l.width)
		}
	}
	return width
}

// bellWidth is the width at half height of the bell of pressure with a peak, from the cell where it falls most
// steeply: of a Gaussian bell 4 p sqrt(ln 2 ln(peak/p))/|grad p| everywhere. Cells at its top tell nothing.
func bellWidth(f *station.Field, cols int, peak float64) float64 {
	const top = 0.9
	steepest, press := 0.0, peak
	for i := f.First * cols; i < f.Last*cols; i++ {
		if g := f.GradS[i]*f.GradS[i] + f.GradA[i]*f.GradA[i]; g > steepest && f.P[i] > 0 && f.P[i] < top*peak {
			steepest, press = g, f.P[i]
		}
	}
	if steepest == 0 {
		return math.Inf(1)
	}
	return 4 * press * math.Sqrt(math.Ln2*math.Log(peak/press)/steepest)
}
