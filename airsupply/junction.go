package airsupply

import (
	"math"
	"slices"

	"leste/job"
	q "leste/quantity"
)

// junction is a place where branches meet with a loss.
type junction struct {
	node int
	name string
	kind string // tee, wye, box
	half float64
	law  string
	legs []leg
}

// leg is a branch at a junction.
type leg struct {
	link int
	area float64
	out  bool // the branch starts here: positive flow leaves the junction
	side bool // of a tee, at the angle
}

// usualHalf is half the angle between the legs of a wye that nobody described.
const usualHalf = 30.0

// addJunctions finds the legs of each place: declared ones as declared, three undeclared branches as a wye,
// more as a box.
func (s *system) addJunctions() error {
	declared := map[string]job.Junction{}
	for _, j := range s.network.Junctions {
		declared[j.At] = j
		if _, ok := s.index[j.At]; !ok && s.arriving(j.At) == 0 {
			return refuse("junction "+quoted(j.At), "no branch meets there")
		}
	}
	legs := make([][]leg, len(s.names))
	for n, i := range s.branches {
		if i < 0 {
			continue
		}
		l := s.links[i]
		w := l.law.(*branchLaw).way
		if len(w) == 0 {
			continue
		}
		b := s.network.Branches[n]
		side := func(at string) bool { return declared[at].Side == b.Name && b.Name != "" }
		legs[l.from] = append(legs[l.from], leg{i, w[0].area, true, side(s.names[l.from])})
		legs[l.to] = append(legs[l.to], leg{i, w[len(w)-1].area, false, side(s.names[l.to])})
	}
	for v, at := range legs {
		d, named := declared[s.names[v]]
		if len(at) < 2 || len(at) == 2 && !named {
			continue
		}
		j, err := s.junction(v, at, d, named)
		if err != nil {
			return err
		}
		if j != nil {
			s.junctions = append(s.junctions, *j)
		}
	}
	return nil
}

func (s *system) junction(v int, legs []leg, d job.Junction, named bool) (*junction, error) {
	j := &junction{
		node: v, name: s.names[v], kind: d.Kind, law: d.Law, half: usualHalf * math.Pi / 180, legs: legs,
	}
	if d.Angle.Known {
		j.half = float64(d.Angle.V)
	}
	if !named || j.kind == "" {
		j.kind = "wye"
		if len(legs) > 3 {
			j.kind = "box"
		}
	}
	if j.law == "" {
		j.law = Hager
	}
	sides := 0
	for _, l := range legs {
		if l.side {
			sides++
		}
	}
	switch {
	case j.kind == "plain":
		return nil, nil
	case j.kind == "box":
		return j, nil
	case j.kind != "tee" && j.kind != "wye":
		return nil, refuse("junction "+j.name, "unknown kind %q: it is one of tee, wye, box, plain", j.kind)
	case len(legs) < 3: // a leg is pruned or closed: what is left is a bend in the run
		return nil, nil
	case len(legs) > 3:
		return nil, refuse("junction "+j.name, "a %s joins three branches, not %d; make it a box or split it", j.kind, len(legs))
	case j.kind == "tee" && sides != 1:
		return nil, refuse("junction "+j.name, "say which branch leaves the tee at the angle")
	case j.law != Hager && j.law != Idelchik:
		return nil, refuse("junction "+j.name, "unknown law %q: it is one of %s, %s", j.law, Hager, Idelchik)
	}
	return j, nil
}

// terms are the lagged losses of a junction's legs in one solve, and their last steps.
type terms struct{ now, step []float64 }

// settle moves the lagged losses of the legs to the flows, and returns the greatest change [Pa].
func (j *junction) settle(r *run, t terms, flow, head []float64) float64 {
	away := make([]float64, len(j.legs)) // flow leaving through each leg
	for i, l := range j.legs {
		away[i] = flow[l.link]
		if !l.out {
			away[i] = -away[i]
		}
	}
	k, common := j.coefficients(away)
	var change float64
	p0 := r.pa + head[j.node]
	for i, l := range j.legs {
		ref := l
		if common >= 0 {
			ref = j.legs[common]
		}
		flux := flow[ref.link] / ref.area
		x, _ := r.gas.mach2(flux, p0, r.t0[ref.link])
		// A coefficient counts along the flow; the branch's loss along its own direction.
		term := k[i] * r.ducts * r.gas.k / 2 * x * p0
		if (away[i] < 0) == l.out {
			term = -term
		}
		step := term - t.now[i]
		change = max(change, math.Abs(step))
		if step*t.step[i] < 0 {
			step /= 2 // alternating: go half way
		}
		t.step[i] = step
		t.now[i] += step
		r.lagged[l.link] += step
	}
	return change
}

// coefficients returns each leg's loss coefficient along its flow and the leg on whose velocity head they
// count, or -1 when each counts on its own.
func (j *junction) coefficients(away []float64) (k []float64, common int) {
	k = make([]float64, len(away))
	if j.kind == "box" {
		for i, a := range away {
			k[i] = 1 // what flows in loses its velocity head
			if a > 0 {
				k[i] = 0.5 // what flows out enters from rest
			}
		}
		return k, -1
	}
	common = 0
	for i, a := range away {
		if math.Abs(a) > math.Abs(away[common]) {
			common = i
		}
	}
	others := make([]int, 0, 2)
	for i := range away {
		if i != common {
			others = append(others, i)
		}
	}
	through := math.Abs(away[common])
	if through == 0 {
		return k, common
	}
	share := func(i int) float64 { return math.Min(math.Abs(away[i])/through, 1) }
	ratio := func(i int) float64 { return j.legs[i].area / j.legs[common].area }
	dividing := away[common] < 0
	if j.kind == "tee" && !j.legs[common].side {
		run, side := others[0], others[1]
		if j.legs[run].side {
			run, side = side, run
		}
		bore, s := math.Sqrt(ratio(side)), share(side)
		if dividing {
			k[run], k[side] = dividingRun(bore, s), dividingSide(j.half, bore, s)
		} else {
			k[run], k[side] = convergingRun(j.half, bore, s), convergingSide(j.half, bore, s)
		}
		return k, common
	}
	half := j.half
	if j.kind == "tee" { // the side leg carries all: both runs turn away from it
		half = math.Pi / 2
	}
	for _, i := range others {
		speed := share(i) / ratio(i)
		if dividing {
			k[i] = wyeSide(j.law, half, speed)
			continue
		}
		k[i] = wyeJoining(half, speed, [2]float64{share(others[0]), share(others[1])},
			[2]float64{ratio(others[0]), ratio(others[1])})
	}
	return k, common
}

// commonLeg is the leg with the greatest flow.
func (j *junction) commonLeg(flow []float64) int {
	common := 0
	for i, l := range j.legs {
		if math.Abs(flow[l.link]) > math.Abs(flow[j.legs[common].link]) {
			common = i
		}
	}
	return common
}

// evenSplitUnsure reports whether the even split of a dividing wye is not the only one.
func (j *junction) evenSplitUnsure(r *run, flow, head []float64) bool {
	if j.kind != "wye" || len(j.legs) != 3 {
		return false
	}
	common := j.commonLeg(flow)
	if in := flow[j.legs[common].link] < 0 == j.legs[common].out; !in {
		return false
	}
	return slices.ContainsFunc(j.legs, func(l leg) bool {
		if l.link == j.legs[common].link {
			return false
		}
		p0 := r.pa + head[j.node]
		x, _ := r.gas.mach2(flow[l.link]/l.area, p0, r.t0[l.link])
		velocityHead := r.gas.k / 2 * x * p0
		if velocityHead == 0 {
			return false
		}
		loss := head[j.node] - r.lagged[l.link]
		area := j.legs[common].area / l.area
		return !WyeSplitSteady(q.Angle(j.half), q.Ratio(area), q.Ratio(loss/velocityHead))
	})
}
