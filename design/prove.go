package design

import (
	"context"
	"math"
	"slices"

	leste "leste"
	"leste/job"
	"leste/parallel"
)

// proven is how many stations are told as working, and rival up to which cost over that of the cheapest: each takes a
// whole assessment or two. Of the job's own outlets every rung that works is told besides, if they are near in cost.
const (
	proven = 3
	rival  = 1.3
)

// prove has what works by the search assessed as `assess` does it, the cheapest first, so that the study tells what an
// assessment of the written job files finds; and what is within its limits by the search, without all of the reserve that
// it asks for, which an assessment may find to be enough. Where nothing works, what comes closest is assessed.
func (s *search) prove(ctx context.Context, st *Study) error {
	var order []int
	for i := range st.Found {
		f := &st.Found[i]
		if s.nearly(st, f) {
			priced, ok, err := s.priced(ctx, f)
			if err != nil {
				return err
			}
			if !ok {
				continue
			}
			*f = priced
		} else if !f.Works {
			continue
		}
		order = append(order, i)
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case st.Found[a].Cost < st.Found[b].Cost:
			return -1
		case st.Found[a].Cost > st.Found[b].Cost:
			return 1
		}
		return 0
	})
	works, least, nearly := 0, math.Inf(1), 0
	for _, i := range order {
		f := &st.Found[i]
		const most = 2 // that only nearly work
		switch {
		case f.Works && (works >= proven && !f.Own || f.Cost > rival*least), !f.Works && (works >= proven || nearly == most || f.Cost > rival*least):
			f.Works, f.May, f.Fails = false, true, ""
			continue
		case !f.Works:
			nearly++
		}
		if s.options.Progress != nil {
			const late = 0.99
			s.options.Progress(late, 1, "assessing "+f.Concept)
		}
		if err := s.proved(ctx, st, f, least); err != nil {
			return err
		}
		if f.Works || f.Beside {
			works, least = works+1, min(least, f.Cost)
		}
	}
	const closest = 2
	for i, n := 0, 0; works == 0 && n < closest && i < len(st.Found); i++ {
		// What the search refuted, or sees a little too wet, may do with other air.
		f := &st.Found[i]
		if f.Sure || f.ind.Violation >= levelAir || n > 0 && f.ind.Violation >= nearMiss {
			continue
		}
		if err := s.proved(ctx, st, f, least); err != nil {
			return err
		}
		n++
		if f.Works || f.Beside {
			works++
		}
	}
	if err := s.proveRungs(ctx, st); err != nil {
		return err
	}
	any := slices.ContainsFunc(st.Found, func(f Found) bool { return f.Works || f.Beside })
	if !any && st.Goal == GoalMet && s.options.Goal == "" {
		s.likelyWillDo(st)
	}
	return s.asItStands(ctx, st)
}

// proveRungs has changes to what stands there assessed that are too wet on the cells of the search by no more than those
// may be wrong by: the least change that works is asked for.
func (s *search) proveRungs(ctx context.Context, st *Study) error {
	if len(ladder(s.given)) < 2 {
		return nil
	}
	const doubtful = 0.6 // reserve, as coarse cells have it
	for i := range st.Found {
		f := &st.Found[i]
		if !f.Own || f.Sure || f.ind.Violation >= levelAir || f.ind.Reserve < doubtful {
			continue
		}
		if err := s.proved(ctx, st, f, math.Inf(1)); err != nil {
			return err
		}
	}
	return nil
}

// nearly says whether a station is within its limits by the search, but without the reserve that it asks for.
func (s *search) nearly(st *Study, f *Found) bool {
	return st.Goal == GoalLikely && !f.Works && f.ind.Violation > levelWater && f.ind.Violation < levelAir && f.ind.Reserve >= 1
}

// priced is a station that only nearly works with its blower and its cost; it is not where no blower does.
func (s *search) priced(ctx context.Context, f *Found) (Found, bool, error) {
	t := s.judges[f.concept].trial(f.ind.X)
	ind := f.ind
	if err := t.pay(ctx, &ind); err != nil || ind.Violation == within(levelAir, 0.1) {
		return *f, false, err
	}
	return s.found(f.concept, &ind), true, nil
}

// likelyWillDo takes likely values for the goal where the search took whole bands for it, nobody has asked for that, and
// no assessment has found one within its limits.
func (s *search) likelyWillDo(st *Study) {
	for i := range st.Found {
		if f := &st.Found[i]; f.Sure && meets(f.Result, GoalLikely) {
			f.Works, f.Fails = true, ""
			f.Binds = bindsOf(f.Result)
			st.Goal = GoalLikely
		}
	}
}

// Water goes about with this power of the plenum pressure, until two assessments tell it.
const waterExponent = 0.6

// proved assesses a station at the plenum pressure that settles it, and at a greater one where that costs less: another
// blower may do then.
func (s *search) proved(ctx context.Context, st *Study, f *Found, least float64) error {
	if err := s.provedAtLeast(ctx, st, f, least); err != nil || !f.Works && !f.Beside || f.Cost > rival*least {
		return err
	}
	const worth, more = 0.99, 1.05 // of the cost, for one more assessment; of the pressure
	best, ok, err := s.blown(ctx, f, more)
	if err != nil || !ok || best.Cost > worth*f.Cost {
		return err
	}
	if err := s.tell(ctx, st, &best); err != nil {
		return err
	}
	if (best.Works || best.Beside) && best.Cost < f.Cost {
		best.trust = f.trust
		*f = best
	}
	return nil
}

// provedAtLeast assesses a station, and settles its plenum pressure by what that finds: up where it is a little too wet, and
// down where it is drier than asked and may then be the cheapest of all, which also keeps all of the reserve. One that
// cannot be is settled once.
func (s *search) provedAtLeast(ctx context.Context, st *Study, f *Found, least float64) error {
	first, from := f.ind.Reserve, f.ind.Pressure
	how := settling{exponent: waterExponent}
	if !s.knows(f.Job) { // else it has been settled
		var err error
		if how, err = s.settle(ctx, st.Goal, f, least); err != nil {
			return err
		}
	}
	if err := s.tell(ctx, st, f); err != nil {
		return err
	}
	over := s.overs(f.Result, st.Goal)
	if how.told > 0 && over > 0 && !math.IsInf(over, 1) {
		s.state.InAll = over / how.told
	}
	f.trust = 1
	if f.Sure && first > 0 {
		f.trust = f.Reserve / (first * math.Pow(f.ind.Pressure/from, how.exponent))
	}
	const (
		tries = 3
		near  = 0.98 // of the cost, where air is taken away
		short = 1.02 // of what is asked, where air is added although the limits are kept
		most  = 1.8  // a change of pressure
	)
	now, tried := *f, false
	for range tries {
		over, works := s.overs(now.Result, st.Goal), now.Works || now.Beside
		change := math.Pow(over, 1/how.exponent)
		if works { // far too much air is taken away step by step
			change = max(change, 1/most)
		}
		switch {
		case now.Result == nil || airLacks(now.Result) != "":
			return nil
		case works && (over < short || now.Cost >= least) && now.Cost*math.Pow(min(change, 1), powerExponent) >= near*min(least, f.Cost):
			if tried {
				return nil
			}
			return s.spared(ctx, st, f, over)
		case !(change >= 1/most && change < most) || !stands(now.Result), !works && over <= 1:
			return nil // other air does not help, or too little
		}
		tried = true
		next, ok, err := s.blown(ctx, &now, change)
		if err != nil || !ok {
			return err
		}
		if err := s.tell(ctx, st, &next); err != nil {
			return err
		}
		if !next.Sure {
			return nil
		}
		next.trust = f.trust
		how.learn(over, s.overs(next.Result, st.Goal), float64(now.Pressure), float64(next.Pressure))
		now = next
		if next.preferred(f, s.overs(next.Result, st.Goal) < short, s.overs(f.Result, st.Goal) < short) {
			*f = next
		}
	}
	return nil
}

// preferred says whether a station with other air is told instead of as it was: as it works and that does not, or comes
// nearer; as it costs less and keeps enough in reserve; or as that does not, and this keeps more.
func (f *Found) preferred(was *Found, enough, hadEnough bool) bool {
	works, worked := f.Works || f.Beside, was.Works || was.Beside
	switch {
	case !worked:
		return works || f.Reserve > was.Reserve
	case !works:
		return false
	case hadEnough:
		return enough && f.Cost < was.Cost
	}
	return enough && f.Cost < was.Cost || f.Reserve > was.Reserve
}

// spared takes the air that it has beyond what is asked from a station that works and cannot be the cheapest, so that
// what it costs is compared at a like reserve. How the water goes with the pressure is seen by the surest eye of the
// search; one more assessment tells whether it still works, and where it does not it stays as it is.
func (s *search) spared(ctx context.Context, st *Study, f *Found, over float64) error {
	const (
		spare = 0.93 // of what is asked: those with less to spare differ by a few per cent
		aim   = 0.97
		least = 0.4 // a change of pressure
	)
	if !(over > 0 && over < spare) || !stands(f.Result) {
		return nil
	}
	change := math.Pow(over/aim, 1/waterExponent)
	exponent, err := s.exponentOf(ctx, f, change)
	if err != nil {
		return err
	}
	next, ok, err := s.blown(ctx, f, max(math.Pow(over/aim, 1/exponent), least))
	if err != nil || !ok {
		return err
	}
	if err := s.tell(ctx, st, &next); err != nil {
		return err
	}
	if (next.Works || next.Beside) && next.Cost < f.Cost {
		next.trust = f.trust
		*f = next
	}
	return nil
}

// exponentOf is the power of the plenum pressure with which the water of a station falls, as the surest eye sees it
// between its pressure and that changed by a factor.
func (s *search) exponentOf(ctx context.Context, f *Found, change float64) (float64, error) {
	sure := *s.judges[f.concept]
	sure.eye = s.sureEye()
	g := sure.concept.ground
	a := sure.concept.arrange(f.ind.X)
	var wet [2][]float64 // logarithms, at both pressures
	for k := range wet {
		wet[k] = make([]float64, len(g.formats))
	}
	err := parallel.Each(s.options.Workers, len(g.formats), func(i int) error {
		for k, pressure := range []float64{f.ind.Pressure, f.ind.Pressure * change} {
			found, err := g.seen(ctx, a, i, pressure, sure.eye)
			if err != nil {
				return err
			}
			wet[k][i], _ = sure.wet(i, found[0])
		}
		return nil
	})
	if err != nil {
		return 0, err
	}
	by := (slices.Max(wet[0]) - slices.Max(wet[1])) / math.Log(change)
	return steepness(by), nil
}

// steepness keeps an exponent of the water where one is believed.
func steepness(by float64) float64 {
	const flattest, steepest = 0.45, 2.5
	if !(by > 0) {
		return waterExponent
	}
	return min(max(by, flattest), steepest)
}

// settledReserve is kept by what a whole assessment settles: less than the search keeps, whose grids are coarser.
const settledReserve = 1.03

// wetness is the worst requirement of a result over what a goal asks; at most 1 is asked.
func wetness(r *leste.Result, goal string) float64 {
	worst := 0.0
	for i := range r.Formats {
		for z := range r.Formats[i].Zones {
			for k := range r.Formats[i].Zones[z].Requirements {
				likely, high := overLimit(&r.Formats[i].Zones[z].Requirements[k])
				if goal == GoalMet {
					worst = max(worst, high)
				} else {
					worst = max(worst, likely*settledReserve)
				}
			}
		}
	}
	return worst
}

// stands says whether no container falls and no limit of the air is passed.
func stands(r *leste.Result) bool {
	for i := range r.Formats {
		if len(r.Formats[i].Exceeded) > 0 {
			return false
		}
		for _, p := range r.Formats[i].Standing {
			if falls(p) && p.Factor < 1 {
				return false
			}
		}
	}
	return true
}

// blown is a station with its plenum pressure changed by a factor, as far as the containers stand it and blowers can: at what
// is needed then or at more, whichever costs least. Air is not taken away where that costs more.
func (s *search) blown(ctx context.Context, f *Found, by float64) (Found, bool, error) {
	fine := *s.judges[f.concept]
	fine.eye = eyeFine
	g := fine.concept.ground
	t := fine.trial(f.ind.X)
	step := float64(g.sizes.PressureStep)
	pressure := min(max(roundUp(f.ind.Pressure*by, step), float64(g.sizes.Pressure[0])), float64(g.sizes.Pressure[1]))
	limit := f.ind.Pressure
	if by > 1 {
		limit = float64(g.sizes.Pressure[1])
		t.workers = s.options.Workers
		if err := t.seeAll(ctx, pressure); err != nil {
			return Found{}, false, err
		}
		for _, l := range t.looks {
			limit = min(limit, l.holds)
		}
		if limit < pressure {
			pressure = math.Floor(limit/step) * step
		}
		limit = min(limit, furthest*pressure)
	}
	const least = 0.01 // a change that is worth an assessment
	changes := func(p float64) bool {
		return math.Abs(math.Log(p/f.ind.Pressure)) >= least && (p > f.ind.Pressure) == (by > 1)
	}
	if !changes(pressure) {
		return Found{}, false, nil
	}
	ind := f.ind
	if err := t.thrifty(ctx, setTo(&ind, pressure), limit); err != nil || !ind.feasible() || !changes(ind.Pressure) {
		return Found{}, false, err
	}
	if by < 1 {
		as := f.ind
		if err := t.pay(ctx, setTo(&as, f.ind.Pressure)); err != nil || as.feasible() && as.Cost <= ind.Cost {
			return Found{}, false, err
		}
	}
	return s.found(f.concept, &ind), true, nil
}

// tell assesses a station in every case, on the cells and by the method that `assess` takes, and tells what that finds.
func (s *search) tell(ctx context.Context, st *Study, f *Found) error {
	f.Job = asRead(f.Job, s.options.Spelling)
	r, refuse, err := s.assessWritten(ctx, f.Job)
	if err != nil {
		return err
	}
	if r == nil {
		f.Works, f.Fails = false, refuse
		if f.ind.Violation > levelWater {
			f.Fails = f.ind.Why + "; for as much air as might help, " + refuse
		}
		return nil
	}
	f.Result, f.Verdict, f.Method, f.Sure = r, r.Verdict, r.Method, true
	f.Reserve = leastReserve(r)
	if !math.IsNaN(r.Cost.Cost) { // what a measured pressure hides costs what the search found
		f.Cost, f.Power = r.Cost.Cost, gridOf(r)
	}
	f.Works, f.Fails, f.Hood, f.Remarks = meets(r, st.Goal), "", 0, remarks(r)
	f.Beside = s.aside != nil && !f.Works && keptBeside(r)
	f.Binds = bindsOf(r)
	if r.Sound.Assessed && r.Sound.Limit > 0 && r.Sound.At1m > r.Sound.Limit {
		f.Hood = r.Sound.At1m - r.Sound.Limit
	}
	if !f.Works {
		f.Binds, f.Fails = "", failing(r, st.Goal)
	}
	if f.Beside {
		f.Fails = "where the line has stood, " + s.aside.text
	}
	return nil
}

// bindsOf says which requirement decides.
func bindsOf(r *leste.Result) string {
	if worst := worstPlace(r); worst != nil {
		return worst.words()
	}
	return ""
}

// asWritten is a job as its written file is read, to the last bit.
func asWritten(j *job.Job) *job.Job { return asRead(j, nil) }

// asRead is asWritten of a file that is written with a spelling.
func asRead(j *job.Job, as *job.Spelling) *job.Job {
	text, err := WriteAs(j, "", as)
	if err != nil {
		return j
	}
	file, problems := job.Load("found", text)
	if len(problems) > 0 {
		return j
	}
	return file.Job
}
