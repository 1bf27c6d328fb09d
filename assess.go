package leste

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sync"
	"sync/atomic"

	"leste/airsupply"
	"leste/catalogue"
	"leste/drying"
	"leste/job"
	"leste/physics/relation"
	q "leste/quantity"
	"leste/station"
)

// Options are how a job is assessed. The zero value is the usual way.
type Options struct {
	Method    string                                 // "quick", "transport" or "none"; "" is the best there is
	Cell      float64                                // m, size of the wall's cells; 0 is 2 mm, and 5 mm for quick
	Frames    int                                    // moments of a pass to keep, where the method has them
	Moments   []float64                              // s under the stations at which to keep them, instead
	Workers   int                                    // goroutines; 0 is one. The result does not depend on it
	Progress  func(done, total float64, what string) // called from one goroutine at a time; may be nil
	Nominal   bool                                   // only the nominal case: while somebody drags an outlet
	NoRanking bool                                   // leave out what matters most and what would help
	Parts     *catalogue.Parts                       // nil is the generic set

	// For comparing many jobs:
	LikelyWater bool      // the water left alone, without bands and without what the air does to containers
	Only        []string  // answer these formats alone, by name; all where none is named
	Case        string    // answer this case alone, by name; the nominal one where a format has none of that name
	Followed    *Followed // what was followed of this job before; nil keeps nothing

	everyCase bool // follow every case on the fine grid: to hold the usual way against
	layAgain  bool // lay every variation out anew that is tried: for the same
}

// Cells of the wall when nobody chose a size [m].
const (
	usualCell  = 2e-3
	quickCell  = 5e-3
	coarseCell = 6e-3 // for comparing one variation of a job with another
)

const quickMethod = "quick"

// Assess answers a job: the air at every outlet, the water left on every format in its worst case, whether it
// stands, what it costs, what was assumed, what matters most and what would help.
//
// The job is not changed. Problems of the layout come as job.Problems, a refusal of the air side as an
// *airsupply.Refusal; a cancelled context ends with its error. Reasons to make no promise at all
// (Result.Stops) are part of the result.
func Assess(ctx context.Context, j *job.Job, o Options) (*Result, error) {
	if _, err := drying.MethodNamed(o.Method); err != nil {
		return nil, err
	}
	if o.Method == "" {
		o.Method = drying.DefaultMethod()
	}
	if o.Cell == 0 {
		o.Cell = usualCell
		if o.Method == quickMethod {
			o.Cell = quickCell
		}
	}
	if !(o.Cell > 0) || math.IsInf(o.Cell, 0) {
		return nil, fmt.Errorf("a cell size of %g m is none; 0.5 mm to 10 mm are usual", o.Cell)
	}
	a := &assessment{given: j, options: o, parts: catalogue.GenericParts()}
	if o.Parts != nil {
		a.parts = *o.Parts
	}
	return a.assess(ctx)
}

// Check lays a job out in space and says what cannot be: outlets inside containers, a pitch below the width,
// air that misses. Problems carry paths; the job file locates them.
func Check(j *job.Job) job.Problems {
	given := j
	j = job.Clone(j)
	job.Fill(j)
	if len(j.Formats) == 0 {
		return nil
	}
	plan, problems := station.Resolve(j, station.ResolveOptions{Cell: quickCell})
	if len(problems) > 0 {
		return problems
	}
	return zoneProblems(given, j, plan)
}

// assessment is one job on the way to its result.
type assessment struct {
	given   *job.Job
	job     *job.Job // filled
	options Options
	parts   catalogue.Parts
	supply  airsupply.Supply
	plan    *station.Plan
	closed  *station.Plan // on the cells of the closed forms, which go before a method that follows the water; else plan
	result  *Result
	best    *binding

	bearings []bearing // how the formats bear the air
}

func (a *assessment) assess(ctx context.Context) (*Result, error) {
	a.job = job.Clone(a.given)
	assumed := job.Fill(a.job)
	r := &Result{
		Job: a.job.Name, Method: a.options.Method, Evidence: Calculated, Verdict: Met, Assumed: assumed,
	}
	a.result = r
	a.stops()
	a.allowed()
	steps := a.newProgress()
	if err := a.layOut(); err != nil {
		return nil, err
	}
	steps.step("air supply")
	if err := a.air(ctx); err != nil {
		return nil, err
	}
	if err := a.formats(ctx, steps); err != nil {
		return nil, err
	}
	a.money()
	a.ranges()
	a.conclude()
	if !a.options.NoRanking && a.best != nil {
		steps.step("what matters most")
		if err := a.rank(ctx); err != nil {
			return nil, err
		}
		steps.step("what would help")
		if err := a.help(ctx); err != nil {
			return nil, err
		}
	}
	a.finish()
	steps.done()
	return r, nil
}

// allowed says of limits that a search put into the job that they are nobody's: what is met by them is met by its leave.
func (a *assessment) allowed() {
	for i := range a.job.Next {
		n := &a.job.Next[i]
		name := n.Name
		if name == "" {
			name = n.Machine
		}
		for k := range n.Requires {
			if r := &n.Requires[k]; r.Search && r.Mass.Known {
				a.caution(fmt.Sprintf("the limit of %s for the %s was allowed by a search and not given by anyone; the verdict holds for it alone, ask for the real one", q.Format(r.Mass.V, q.SI), name))
			}
		}
	}
}

// layOut resolves the job in space; a job without containers has nothing to lay out.
func (a *assessment) layOut() error {
	if len(a.job.Formats) == 0 {
		return nil
	}
	plan, problems := station.Resolve(a.job, station.ResolveOptions{Cell: a.options.Cell})
	if len(problems) == 0 {
		problems = zoneProblems(a.given, a.job, plan)
	}
	if len(problems) > 0 {
		return problems
	}
	a.plan, a.closed = plan, plan
	if a.options.Method != quickOr(a.options.Method) && a.options.Cell < quickCell {
		if a.closed, problems = station.Resolve(a.job, station.ResolveOptions{Cell: quickCell}); len(problems) > 0 {
			return problems
		}
	}
	if only := a.options.Only; len(only) > 0 {
		plan.Formats = slices.DeleteFunc(plan.Formats, func(f station.FormatPlan) bool { return !slices.Contains(only, f.Format.Name) })
	}
	for i := range plan.Formats {
		a.result.Notes = append(a.result.Notes, plan.Formats[i].Notes...)
	}
	return nil
}

// conclude folds the verdicts of the formats into that of the job. Sound has a verdict of its own and does not enter.
func (a *assessment) conclude() {
	r := a.result
	for _, f := range r.Formats {
		r.Verdict = worse(r.Verdict, f.Verdict)
	}
	r.Verdict = worse(r.Verdict, a.airVerdict())
	a.sayLacking()
	if len(r.Stops) > 0 {
		r.Verdict = worse(r.Verdict, Undecided)
	}
}

// worse is the less favourable of two verdicts.
func worse(a, b Verdict) Verdict {
	if badness(b) > badness(a) {
		return b
	}
	return a
}

func badness(v Verdict) int {
	switch v {
	case NotMet:
		return 2
	case Undecided:
		return 1
	}
	return 0
}

// finish puts notes and the relations behind them in order.
func (a *assessment) finish() {
	r := a.result
	seen := map[string]int{}
	var kept []relation.Note
	for _, n := range r.Notes {
		key := string(n.Severity) + n.Relation + n.Text
		i, again := seen[key]
		switch {
		case !again:
			seen[key] = len(kept)
			kept = append(kept, n)
		case math.Abs(n.Value-n.Limit) > math.Abs(kept[i].Value-kept[i].Limit):
			kept[i] = n // of two that say the same, the one farther out
		}
	}
	r.Notes = kept
	slices.SortStableFunc(r.Notes, func(x, y relation.Note) int { return rank(y.Severity) - rank(x.Severity) })
	r.Relations = a.relations()
}

func rank(s relation.Severity) int {
	return slices.Index([]relation.Severity{relation.Info, relation.Caution, relation.Outside, relation.Stop}, s)
}

// relations lists the ids of the relations that the result rests on.
func (a *assessment) relations() []string {
	ids := []string{"moist-density", "saturation-pressure", "air-viscosity"}
	if len(a.result.Air.Outlets) > 0 {
		ids = append(ids, "discharge", "discharge-coefficient", "thrust", "jet-sound", "room-sound")
	}
	if len(a.result.Air.Blowers) > 0 {
		ids = append(ids, "blower-similarity", "isentropic-compression", "motor-efficiency", "duct-loss", "fitting-loss", "plenum", "yearly-cost")
	}
	if a.plan != nil {
		ids = append(ids,
			"impact-pressure", "impact-gradient", "oblique-pressure", "wall-shear", "shear-shape",
			"wiped-film", "drained-film", "dewetting-speed", "wet-share", "small-drops", "film-break-up", "drop-size",
			"cap", "retention", "moving-contact-angle", "law-of-the-wall", "drop-balance", "slide", "ridge", "mist",
			"crevice-hold", "crevice-clearing", "meniscus-film", "pool", "corner-fillet", "run-down",
			"evaporation-flux", "surface-balance", "sessile-drop", "reject-rate")
	}
	for i := range a.job.Stations {
		for k := range a.job.Stations[i].Outlets {
			if a.plan == nil {
				break // nothing is blown on
			}
			if a.job.Stations[i].Outlets[k].Kind == job.AirKnife {
				ids = append(ids, "plane-jet", "plane-wall-jet", "oblique-plane", "slot-ends", "plane-jet-temperature")
			} else {
				ids = append(ids, "round-jet", "round-wall-jet", "oblique-round", "nozzle-row", "round-jet-temperature")
			}
		}
	}
	for _, n := range a.result.Notes {
		if n.Relation != "" {
			ids = append(ids, n.Relation)
		}
	}
	slices.Sort(ids)
	return slices.Compact(ids)
}

// progress reports the steps of an assessment.
type progress struct {
	report      func(done, total float64, what string)
	made, total float64
}

func (a *assessment) newProgress() *progress {
	p := &progress{report: a.options.Progress, total: 1}
	if len(a.job.Formats) > 0 {
		p.total += float64(len(a.job.Formats))
		if !a.options.NoRanking {
			p.total += 2
		}
	}
	return p
}

// step begins the next step.
func (p *progress) step(what string) {
	if p.report != nil {
		p.report(p.made, p.total, what)
	}
	p.made++
}

// span begins several steps at once. What it returns reports which part of them is done; it may be called from several
// goroutines, and what comes late does not run backwards.
func (p *progress) span(steps int) func(part float64, what string) {
	var lock sync.Mutex
	from, most := p.made, 0.0
	p.made += float64(steps)
	return func(part float64, what string) {
		lock.Lock()
		defer lock.Unlock()
		if most = max(most, part); p.report != nil {
			p.report(from+most*float64(steps), p.total, what)
		}
	}
}

// counter reports what is done of n pieces as a part between two.
func counter(report func(part float64, what string), from, to float64, n int) func(what string) {
	var made atomic.Int64
	return func(what string) {
		report(from+(to-from)*float64(made.Add(1))/float64(n), what)
	}
}

func (p *progress) done() {
	if p.report != nil {
		p.report(p.total, p.total, "done")
	}
}

// stops says in one sentence each why no promise is made.
func (a *assessment) stops() {
	add := func(text string) { a.result.Stops = append(a.result.Stops, text) }
	j := a.job
	if j.Site.Flammable {
		add("Vapour of solvent or alcohol may be present: blower, motor and jets can ignite and spread it, so nothing is promised; ask a specialist for explosive atmospheres.")
	}
	for i := range j.Formats {
		f := &j.Formats[i]
		if f.Content == "open" && len(j.Stations) > 0 {
			add(f.Name + " is filled and open: air would reach the product, so it must be closed before the station.")
		}
		arrives := &j.Arrives
		if f.Arrives != nil {
			arrives = f.Arrives
		}
		frost := q.ZeroCelsius
		if f.Product.V < frost || arrives.Temperature.V <= frost {
			add(f.Name + " or its water is at or below 0 degC: frost is not covered.")
		}
	}
}
