package design

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	leste "leste"
	"leste/accept"
	"leste/airsupply"
	"leste/catalogue"
	"leste/job"
	"leste/physics/relation"
	q "leste/quantity"
	"leste/station"
)

// What the study tells of a station is what an assessment of its written job file finds: verdict, reserve, cost, and what
// is noted besides. Nothing is told as working that has not been assessed so.
func TestLawStudyTellsWhatItsJobFilesAreAssessedAs(t *testing.T) {
	o, method := small(7, 2), "quick"
	o.Budget = 120
	o.Concepts = []string{"tilted knives", "level knives", "tilted manifolds"}
	if *thorough {
		o, method = Options{Seed: 3, Workers: 2, Budget: 400, Concepts: o.Concepts, Goal: GoalLikely}, ""
	}
	study, err := Search(t.Context(), eased(example(t, "can-330-sidewall"), 1.5), o)
	if err != nil {
		t.Fatal(err)
	}
	proven := 0
	for i := range study.Found {
		f := &study.Found[i]
		text, err := Write(f.Job, "")
		if err != nil {
			t.Fatal(err)
		}
		file, problems := job.Load("written", text)
		if len(problems) > 0 {
			t.Fatalf("%s: %v", f.Concept, problems)
		}
		if !f.Sure {
			if f.Works || f.Verdict != "" {
				t.Errorf("%s is told as %q, works: %v, and was not assessed", f.Concept, f.Verdict, f.Works)
			}
			continue
		}
		proven++
		r, err := leste.Assess(t.Context(), file.Job, leste.Options{Method: method, Workers: 1, NoRanking: true})
		if err != nil {
			t.Fatal(err)
		}
		if f.Verdict != r.Verdict || f.Reserve != leastReserve(r) || f.Cost != r.Cost.Cost || f.Works != meets(r, study.Goal) {
			t.Errorf("%s is told as %s with a reserve of %g for %g a year, works: %v; its file is %s with %g for %g",
				f.Concept, f.Verdict, f.Reserve, f.Cost, f.Works, r.Verdict, leastReserve(r), r.Cost.Cost)
		}
		if len(f.Remarks) != len(remarks(r)) {
			t.Errorf("%s has %d remarks, its file %d", f.Concept, len(f.Remarks), len(remarks(r)))
		}
		t.Logf("%s: %s, reserve %.3f, %.0f a year", f.Concept, f.Verdict, f.Reserve, f.Cost)
	}
	if proven < 1 || !study.Best().Works {
		t.Errorf("%d stations assessed, the best works: %v", proven, study.Best().Works)
	}
	for _, p := range study.Front {
		if p.Reserve < 1 {
			t.Errorf("a trade-off with a reserve of %g is told among what works", p.Reserve)
		}
	}
}

// settled is the best of a population at the plenum pressure at which an assessment finds it within its limits.
func settled(t *testing.T, s *search) Individual {
	t.Helper()
	best := s.state.Populations[0].Members[0]
	if !best.feasible() {
		t.Fatal(best.Why)
	}
	st := &Study{Goal: GoalLikely, Found: []Found{s.found(0, &best)}}
	if err := s.prove(t.Context(), st); err != nil {
		t.Fatal(err)
	}
	if !st.Found[0].Works {
		t.Fatal(st.Found[0].Fails)
	}
	best.Pressure = float64(st.Found[0].Pressure)
	return best
}

// An assessment that finds a station wetter than the search does is answered with more air, one that finds it drier with
// less where that makes it the cheapest.
func TestLawPressureIsSettledByTheAssessment(t *testing.T) {
	s := begun(t, eased(example(t, "can-330-sidewall"), 2))
	p, j := &s.state.Populations[0], s.judges[0]
	j.eye = s.glimpse()
	if err := s.explore(t.Context(), p, j, 24, 14); err != nil {
		t.Fatal(err)
	}
	if err := s.improve(t.Context(), p, j, 18); err != nil {
		t.Fatal(err)
	}
	best := settled(t, s)
	for _, factor := range []float64{0.9, 1.3} {
		moved := best
		moved.Pressure *= factor
		p.Members[0] = moved
		st := &Study{Goal: GoalLikely, Found: []Found{s.found(0, &moved)}}
		start := st.Found[0]
		if err := s.tell(t.Context(), st, &start); err != nil {
			t.Fatal(err)
		}
		if err := s.prove(t.Context(), st); err != nil {
			t.Fatal(err)
		}
		f := &st.Found[0]
		t.Logf("from %.0f Pa with %.2f for %.0f to %.0f Pa with %.2f for %.0f", moved.Pressure, start.Reserve, start.Cost, float64(f.Pressure), f.Reserve, f.Cost)
		if factor > 1 && !(f.Works && f.Cost < start.Cost && float64(f.Pressure) < moved.Pressure) {
			t.Errorf("too much air is kept: %.0f a year became %.0f, works: %v", start.Cost, f.Cost, f.Works)
		}
		if factor < 1 && (!f.Works || float64(f.Pressure) <= moved.Pressure && !start.Works) {
			t.Errorf("with too little air it stays at %.0f Pa: %s", float64(f.Pressure), f.Fails)
		}
	}
}

// A station that works with more than is asked, and cannot be the cheapest, gives up the air that it has to spare, by one
// assessment beside its own.
func TestLawDearerStationsKeepNoAirToSpare(t *testing.T) {
	s := begun(t, eased(example(t, "can-330-sidewall"), 2))
	p, j := &s.state.Populations[0], s.judges[0]
	j.eye = s.glimpse()
	if err := s.explore(t.Context(), p, j, 24, 14); err != nil {
		t.Fatal(err)
	}
	if err := s.improve(t.Context(), p, j, 3); err != nil {
		t.Fatal(err)
	}
	best := settled(t, s)
	best.Pressure *= 1.4
	st := &Study{Goal: GoalLikely}
	f := s.found(0, &best)
	start := f
	if err := s.tell(t.Context(), st, &start); err != nil {
		t.Fatal(err)
	}
	told := len(s.told)
	if err := s.proved(t.Context(), st, &f, start.Cost/10); err != nil {
		t.Fatal(err)
	}
	t.Logf("from %.0f Pa with %.2f for %.0f to %.0f Pa with %.2f for %.0f", best.Pressure, start.Reserve, start.Cost, float64(f.Pressure), f.Reserve, f.Cost)
	if !start.Works || start.Reserve < 1.3 {
		t.Fatalf("it has nothing to spare: %g, works: %v", start.Reserve, start.Works)
	}
	const kept = 1.15 // of what is asked
	if !f.Works || f.Cost >= start.Cost || f.Reserve > kept {
		t.Errorf("it works: %v, with a reserve of %g for %.0f a year", f.Works, f.Reserve, f.Cost)
	}
	if n := len(s.told) - told; n > 1 {
		t.Errorf("%d assessments more were made", n)
	}
	if got := spares(&start, &f); !strings.Contains(got, "with a reserve of ") || spares(&f, &f) != "" {
		t.Errorf("what it has in reserve is told as %q", got)
	}
}

// A station without air in one case meets no goal, is told with that case, and teaches the search nothing about water;
// so it is where nobody knows whether air comes.
func TestLawAStationWithoutAirInACaseIsNoAnswer(t *testing.T) {
	r := missed(1.2, 2)
	r.Cases = []leste.CaseResult{{Name: "nominal", Verdict: leste.Met}, {Name: "loaded filter", Verdict: leste.Undecided}}
	if !meets(r, GoalLikely) || !keptBeside(r) {
		t.Fatal("it does not meet its goal with air either")
	}
	r.Cases[1].Lacking = "blower: it would run dry."
	for _, goal := range []string{GoalLikely, GoalMet} {
		if meets(r, goal) || failing(r, goal) != "no air is sure to come in the case loaded filter: blower: it would run dry" {
			t.Errorf("goal %s is met: %v; it fails on %q", goal, meets(r, goal), failing(r, goal))
		}
	}
	if keptBeside(r) {
		t.Error("it is told to keep everything else")
	}
	s := begun(t, eased(example(t, "can-330-sidewall"), 2))
	j := s.judges[0]
	before := j.sights[0][0]
	r.Formats[0].Name = j.concept.ground.formats[0].name
	if j.corrected(0, []float64{0.1, 0.1}, r); j.sights[0][0] != before {
		t.Error("the search takes the water without air for what air leaves")
	}
}

// A search takes no blower that runs dry in one case, says so where there is no other, and nothing that it tells as
// working lacks air in any.
func TestLawNoStudyIsLedByAStationThatRunsDry(t *testing.T) {
	j := eased(example(t, "can-330-sidewall"), 2)
	parts := catalogue.GenericParts()
	parts.Blowers = slices.Clone(parts.Blowers) // they are those of everybody
	first := begun(t, j)
	if err := first.explore(t.Context(), &first.state.Populations[0], first.judges[0], 20, 14); err != nil {
		t.Fatal(err)
	}
	best := first.state.Populations[0].Members[0]
	if !best.feasible() {
		t.Fatal(best.Why)
	}
	c := first.judges[0].concept
	a, pressure := c.arrange(best.X), 1.3*best.Pressure
	usual, err := c.ground.supply(t.Context(), a.job(pressure))
	if err != nil {
		t.Fatal(err)
	}
	air, err := airsupply.Assess(t.Context(), a.job(pressure), parts)
	if err != nil {
		t.Fatal(err)
	}
	var alone catalogue.Parts
	for i := range parts.Blowers {
		if p := &parts.Blowers[i]; p.Part == usual.blower {
			curve, b := *p.Blower.Curve, air.Nominal.Blowers[0]
			curve.MinFlow = q.Known(b.Inlet / q.VolumeFlow(b.Speed) * 0.998)
			p.Blower.Curve = &curve
			alone.Blowers = []catalogue.BlowerPart{*p}
		}
	}
	other, err := searchWith(t, j, parts).judges[0].concept.ground.supply(t.Context(), a.job(pressure))
	if err != nil || other.blower == usual.blower {
		t.Errorf("%s is taken, and %s with all of its curve: %v", other.blower, usual.blower, err)
	}
	s := searchWith(t, j, alone)
	if _, err = s.judges[0].concept.ground.supply(t.Context(), a.job(pressure)); err == nil || !strings.Contains(err.Error(), "in the case ") {
		t.Errorf("a blower that runs dry is taken: %v", err)
	}
	// A station that has the blower all the same is no answer, however dry it blows where air comes.
	s = searchWith(t, j, parts)
	if err := s.begin(t.Context()); err != nil {
		t.Fatal(err)
	}
	st := &Study{Goal: GoalLikely}
	for _, blower := range []string{usual.blower, other.blower} {
		f := s.found(0, &Individual{X: best.X, Pressure: pressure, Blower: blower, Reserve: 1.5})
		if err := s.proved(t.Context(), st, &f, 0); err != nil {
			t.Fatal(err)
		}
		if !f.Sure || f.Works != (blower == other.blower) || strings.Contains(f.Fails, "no air is sure to come in the case ") == f.Works {
			t.Errorf("with %s it works: %v, with a reserve of %g; it fails on %q", blower, f.Works, f.Reserve, f.Fails)
		}
		st.Found = append(st.Found, f)
	}
	if !st.Found[1].ahead(&st.Found[0]) {
		t.Error("the one that runs dry is told first")
	}
}

// searchWith is a search of a job with parts of its own.
func searchWith(t testing.TB, j *job.Job, parts catalogue.Parts) *search {
	t.Helper()
	o := small(3, 2)
	o.Parts = &parts
	s, err := newSearch(j, o)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// missed is a result that misses one requirement by little, with a container that hardly stands.
func missed(reserve, stands float64) *leste.Result {
	verdict := leste.Undecided
	if reserve < 1 {
		verdict = leste.NotMet
	}
	return &leste.Result{Verdict: verdict, Formats: []leste.FormatResult{{
		Name:     "can",
		Standing: []leste.Push{{Way: station.Tip, Factor: stands, Case: "line stopped"}},
		Zones: []leste.ZoneResult{{Name: job.ZoneAll, Requirements: []leste.RequirementResult{
			{Machine: "packer", Quantity: "mass", Limit: 4e-4, Value: q.Band{Likely: 4e-4 / reserve, High: 1e-3}, Verdict: verdict, Reserve: reserve, Case: "surge"},
		}}},
	}}}
}

func TestLawWhatFailsIsSaidWithFiguresThatShowIt(t *testing.T) {
	for _, c := range []struct {
		reserve, stands float64
		goal, want      string
	}{
		{0.997, 2, GoalLikely, "1.003 times what is asked, in the case surge"},
		{0.5, 2, GoalLikely, "(2 times what is asked"},
		{0.9, 1.1, GoalLikely, "whole container for the packer stays too wet"}, // it stands, if only just
		{0.9, 0.98, GoalLikely, "does not stand: it tips over"},
		{1.2, 1.1, GoalMet, "does not stand: it tips over"},
		{1.2, 2, GoalMet, "not by its whole band"},
	} {
		if got := failing(missed(c.reserve, c.stands), c.goal); !strings.Contains(got, c.want) {
			t.Errorf("reserve %g, stands %g, goal %s: %q, want %q", c.reserve, c.stands, c.goal, got, c.want)
		}
	}
}

func TestLawRemarksNameWhatIsOutOfRange(t *testing.T) {
	r := missed(1.2, 1.1)
	note := func(s relation.Severity, id, text string, value, limit float64) {
		r.Notes = append(r.Notes, relation.Note{Severity: s, Relation: id, Text: text, Value: value, Limit: limit, Unit: "1"})
	}
	r.Air.Outlets = []leste.OutletResult{{Name: "left manifold"}, {Name: "right manifold"}}
	note(relation.Info, "", "not worth a word", math.NaN(), math.NaN())
	note(relation.Caution, "nozzle-row", "left manifold: distance over spacing is below the range of a row: it wipes in stripes", 1.25, 5)
	note(relation.Caution, "nozzle-row", "right manifold: distance over spacing is below the range of a row: it wipes in stripes", 1.2, 5)
	note(relation.Outside, "plane-jet", "too far", 600, 500)
	note(relation.Caution, "motor-load", "Motor of blower: the load is below the range of a motor: the loss is not known; ask", 0.2, 0.25)
	note(relation.Caution, "", "Ducts and hoses are assumed; the rest is a sketch", math.NaN(), math.NaN())
	r.Sound = leste.SoundResult{Assessed: true, At1m: 84, Low: 80, High: 89, Limit: 85, Verdict: leste.Undecided}
	r.Air.Cases = []leste.AirCase{{Name: "left blocked", Refused: "too little flow."}, {Name: "right blocked", Refused: "too little flow."}}
	r.Air.Blowers = []leste.BlowerResult{{Name: "blower", Reserve: 3.8, MotorLoad: 0.2}}
	got := remarks(r)
	want := []string{
		"too far (600 against 500)",
		"left manifold and right manifold: distance over spacing is below the range of a row: it wipes in stripes (1.2 against 5)",
		"Motor of blower: the load is below the range of a motor: the loss is not known; ask (0.2 against 0.25)",
		"Ducts and hoses are assumed; the rest is a sketch",
		"can nearly tips over, resistance over push 1.1 (line stopped)",
		"sound undecided: 84 dB (80 to 89) at 1 m where 85 dB is allowed",
		"no air is sure to come in the cases left blocked; right blocked: in the first, too little flow",
		"motor of blower oversized by 380 % over the greatest power that may be asked of it, at any flow of its blower on the coldest day: nominally it runs at 20 % of its rating",
	}
	for i, text := range want {
		if i >= len(got) || got[i].Text != text {
			t.Fatalf("remarks are %+v, want %q in place %d", got, text, i)
		}
	}
	if len(got) != len(want) || got[1].Brief != "distance over spacing (1.2 against 5)" || got[3].Brief != "ducts and hoses are assumed" || got[2].Brief != "motor of blower: the load (0.2 against 0.25)" {
		t.Errorf("remarks are %+v", got)
	}
}

// A bottle colder than the dew point that may carry less than what condenses on it after a stop of the line: the case is
// left out of the search, and the answer says what stands in the way and what takes it away. Where so much condenses as
// the line runs, nothing is searched for.
func TestLawWhatCondensesIsNotSearchedFor(t *testing.T) {
	j := example(t, "glass-330-shoulder")
	j.Line.Rate.V *= 0.5 // what else arrives is then easily blown off
	o := small(5, 2)
	o.Concepts, o.Budget = []string{"tilted knives"}, 1500
	study, err := Search(t.Context(), j, o)
	if err != nil {
		t.Fatal(err)
	}
	best := study.Best()
	if study.Aside == "" || !strings.Contains(study.Aside, "condense on the shoulder") || best.Works || !best.Beside || best.Verdict != leste.NotMet {
		t.Fatalf("aside %q, works: %v, beside: %v, %s: %s", study.Aside, best.Works, best.Beside, best.Verdict, best.Fails)
	}
	if best.Job.Line.Stops != j.Line.Stops {
		t.Error("the job that is handed over has other stops than the one that was given")
	}
	m := study.Miss
	if m == nil || m.Case != leste.CaseRestart || !strings.Contains(m.Out, "condense on the way") || m.Over <= 1 {
		t.Fatalf("what stands in the way: %+v", m)
	}
	enough := 0
	for _, r := range m.Changes {
		if r.Alone {
			enough++
			if r.IsAir {
				t.Errorf("air is told to be enough: %s", r.What)
			}
		}
	}
	if enough < 2 {
		t.Errorf("%d remedies are enough alone: %+v", enough, m.Changes)
	}
	floor := 1 - m.Changes[0].Left // what condenses, over what is left
	for _, r := range m.Changes {
		if r.IsAir && r.Left < floor {
			t.Errorf("%s leaves %.2f of the water, and %.2f of it condenses", r.What, r.Left, floor)
		}
	}
	// The same bottle in a line that does not stop is held to everything; a colder one is not searched for at all.
	running := example(t, "glass-330-shoulder")
	running.Line.Stops = q.Known(false)
	if s, err := newSearch(running, o); err != nil || s.aside != nil {
		t.Errorf("a line that does not stop: %v, %v", s.aside, err)
	}
	cold := example(t, "glass-330-shoulder")
	cold.Next[0].Requires[0].Water = q.Known(q.AreaMass(0.1e-3))
	var problems job.Problems
	if _, err := Search(t.Context(), cold, o); !errors.As(err, &problems) || problems[0].Path != "/next/0/requires" || !strings.Contains(problems[0].Text, "condense") {
		t.Errorf("a bottle that sweats too much as the line runs: %v", err)
	}
}

// No setting breaks a station that keeps what is asked with a reserve of 1.065 by being moved by nothing: what a setting
// may move by is told by following the water, which does not scatter by where the cells lie.
func TestLawNothingBreaksByNotMoving(t *testing.T) {
	j := testJob(t, "can-three-manifolds")
	s := &search{given: j, parts: catalogue.GenericParts(), options: Options{Workers: 2}}
	r, err := leste.Assess(t.Context(), j, leste.Options{NoRanking: true, Nominal: true, Cell: 10e-3, Workers: 2})
	if err != nil {
		t.Fatal(err)
	}
	for i := range r.Formats { // as if an assessment of every case had found so much
		for z := range r.Formats[i].Zones {
			for k := range r.Formats[i].Zones[z].Requirements {
				r.Formats[i].Zones[z].Requirements[k].Reserve = 1.065
			}
		}
	}
	found, err := s.breaks(t.Context(), &Found{Job: j, Result: r})
	if err != nil {
		t.Fatal(err)
	}
	broken := 0
	for _, b := range found {
		if !(b.Share > 0) {
			t.Errorf("%s, more: %v, breaks it by a move of %s", b.Input, b.More, b.Kind.Format(b.Move, q.SI))
		}
		if !b.Free {
			broken++
		}
		if b.Free != (b.Then == "") {
			t.Errorf("%s, free: %v, then: %q", b.Input, b.Free, b.Then)
		}
	}
	if len(found) < 8 || broken < 2 {
		t.Errorf("%d moves were examined, %d break it", len(found), broken)
	}
}

// What a station is told to bear it bears on the cells of an assessment: on cells of 10 mm its plenum pressure did half of
// what it does there, and rows of nozzles beside a can were told to bear twice what they do.
func TestLawLessPressureIsBorneAsTold(t *testing.T) {
	const reserve, scatter = 1.03, 1.02
	j := testJob(t, "can-two-manifolds")
	s := &search{given: j, parts: catalogue.GenericParts(), options: Options{Workers: 2}}
	assessed := func(j *job.Job) *leste.Result {
		r, err := leste.Assess(t.Context(), j, leste.Options{NoRanking: true, Nominal: true, LikelyWater: true, Workers: 2})
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	r := assessed(j)
	was := leastReserve(r)
	for z := range r.Formats[0].Zones { // as if an assessment of every case had found so much
		for k := range r.Formats[0].Zones[z].Requirements {
			r.Formats[0].Zones[z].Requirements[k].Reserve = reserve
		}
	}
	found, err := s.breaks(t.Context(), &Found{Job: j, Result: r})
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(found, func(b Break) bool { return strings.HasPrefix(b.Input, accept.PlenumGiven) && !b.More })
	if i < 0 || found[i].Free {
		t.Fatalf("no pressure is told that it lacks: %v", found)
	}
	b := &found[i]
	moved := job.Clone(j)
	for i := range moved.Stations[0].Outlets {
		moved.Stations[0].Outlets[i].Pressure.V *= q.Gauge(1 - b.Move/b.Value)
	}
	if now := leastReserve(assessed(moved)); was/now > reserve*scatter {
		t.Errorf("%.0f Pa of %.0f may be lacking, as it is told; the reserve falls by %.3f then", b.Move, b.Value, was/now)
	}
}

// A station that stands there, with nothing to choose but its air, is searched for as well and told as the least change.
func TestLawStationThatStandsThereMayKeepAllButItsAir(t *testing.T) {
	j := example(t, "as-found-speed-up")
	j.Next[0].Complaint = ""
	j.Next[0].Requires = []job.Requirement{{Zone: job.ZoneAll, Mass: q.Known(q.Mass(4e-3))}}
	o := small(1, 2)
	o.Concepts = []string{"as found, other air"}
	study, err := Search(t.Context(), j, o)
	if err != nil {
		t.Fatal(err)
	}
	best := study.Best()
	if best == nil || !best.Works || study.Least != best || !best.Sure {
		t.Fatalf("%+v", best)
	}
	if list := departing(best); list != "" {
		t.Errorf("it changes %s", list)
	}
	if !(best.Cost > 0) {
		t.Errorf("it costs %g a year", best.Cost)
	}
}

// The least plenum pressure is not always the cheapest: where another blower gives more for less, that is taken.
func TestLawAnotherBlowerIsTakenWhereMoreAirCostsLess(t *testing.T) {
	j := testJob(t, "pet-two-blowers")
	s, err := newSearch(j, Options{Workers: 2, Concepts: []string{asDrawn}})
	if err != nil {
		t.Fatal(err)
	}
	if err := s.begin(t.Context()); err != nil {
		t.Fatal(err)
	}
	at := float64(j.Stations[0].Outlets[0].Pressure.V)
	ind := Individual{X: s.judges[0].concept.rule(), Pressure: at, Reserve: likelyReserve}
	of := s.judges[0].trial(ind.X)
	if err := of.pay(t.Context(), &ind); err != nil {
		t.Fatal(err)
	}
	least, chosen := s.found(0, &ind), s.found(0, &ind)
	if err := s.tell(t.Context(), &Study{Goal: GoalLikely}, &least); err != nil {
		t.Fatal(err)
	}
	if err := s.proved(t.Context(), &Study{Goal: GoalLikely}, &chosen, math.Inf(1)); err != nil {
		t.Fatal(err)
	}
	for _, f := range []*Found{&least, &chosen} {
		t.Logf("%s: %.0f a year with %s, works: %v, reserve %.2f", q.Format(f.Pressure, q.SI), f.Cost, f.ind.Blower, f.Works, f.Reserve)
	}
	if !least.Works || !chosen.Works || !(chosen.Cost < least.Cost && chosen.Reserve > least.Reserve && chosen.ind.Blower != least.ind.Blower) {
		t.Error("the dearer and wetter of two is kept")
	}
	why, err := s.leastAir(t.Context(), &chosen, s.overs(chosen.Result, GoalLikely), GoalLikely)
	if err != nil || !strings.Contains(why, "costs more: "+least.ind.Blower) {
		t.Errorf("why it keeps so much is told as %q, %v", why, err)
	}
}

// A station that does what is asked, drawn in a job, is never told dearer than it is as drawn.
func TestLawWhatIsDrawnAndWorksIsNeverToldDearer(t *testing.T) {
	study, err := Search(t.Context(), eased(example(t, "can-330-sidewall"), 2), small(1, 2))
	if err != nil {
		t.Fatal(err)
	}
	best := study.Best()
	if !best.Works {
		t.Fatal(best.Fails)
	}
	o := small(1, 2)
	o.Concepts = []string{asDrawn}
	for _, more := range []float64{0.5, 1, 1.3} { // times the water
		s, err := newSearch(eased(best.Job, more), o)
		if err != nil {
			t.Fatal(err)
		}
		if err := s.begin(t.Context()); err != nil {
			t.Fatal(err)
		}
		s.state.Goal = study.Goal
		c := s.judges[0].concept
		const digits = 1e-9 // that reading a pressure in kPa leaves behind
		alike := func(a, b float64) bool { return math.Abs(a-b) < digits*b }
		if !alike(c.drawnAt(), float64(best.Pressure)) {
			t.Fatalf("drawn at %g Pa, want %v", c.drawnAt(), best.Pressure)
		}
		dear := Individual{X: c.rule(), Pressure: 1.2 * c.drawnAt()}
		told, ok, err := s.priced(t.Context(), &Found{ind: dear})
		if err != nil || !ok {
			t.Fatal(ok, err)
		}
		told.Works = true
		st := &Study{Goal: study.Goal, Found: []Found{told}}
		if err := s.asItStands(t.Context(), st); err != nil {
			t.Fatal(err)
		}
		f := &st.Found[0]
		if want := more >= 1; (f.Cost <= best.Cost) != want || !f.Works || want && !alike(float64(f.Pressure), float64(best.Pressure)) {
			t.Errorf("with %g of the water: told at %v for %.2f a year, works: %v, drawn at %v for %.2f", more, f.Pressure, f.Cost, f.Works, best.Pressure, best.Cost)
		}
	}
}

// One that works and keeps enough in reserve is not left for more air, whatever was tried in vain in between.
func TestLawMoreAirIsToldOnlyWhereItIsLacking(t *testing.T) {
	works, dearer, wet := &Found{Works: true, Cost: 600, Reserve: 1.05}, &Found{Works: true, Cost: 720, Reserve: 1.48}, &Found{Cost: 550, Reserve: 0.9}
	scant := &Found{Works: true, Cost: 590, Reserve: 1.01}
	for _, c := range []struct {
		next, was         *Found
		enough, hadEnough bool
		want              bool
	}{
		{dearer, works, true, true, false},
		{works, dearer, true, true, true},
		{wet, works, false, true, false},
		{works, wet, true, false, true},
		{works, scant, true, false, true},
		{scant, works, false, true, false},
		{&Found{Cost: 560, Reserve: 0.95}, wet, false, false, true},
	} {
		if got := c.next.preferred(c.was, c.enough, c.hadEnough); got != c.want {
			t.Errorf("%.0f with %.2f after %.0f with %.2f: %v", c.next.Cost, c.next.Reserve, c.was.Cost, c.was.Reserve, got)
		}
	}
}
