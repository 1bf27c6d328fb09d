package leste

import (
	"context"
	"fmt"
	"math"
	"slices"

	"leste/airsupply"
	"leste/drying"
	q "leste/quantity"
	"leste/station"
)

// situation is one case of one format.
type situation struct {
	name   string
	speed  float64 // over nominal
	touch  bool    // containers touch
	season season
	loaded bool    // filter at change-out
	stand  float64 // s that the container stands under the air
	stop   float64 // s that the line stands between the station and the next machine
	note   string
	coarse string // how it was followed, where that was on the coarse grid alone

	lacks   airsupply.Lack // of air: it is not followed then
	refused string         // why
}

// Names of the cases.
const (
	caseNominal  = "nominal"
	caseSurge    = "surge"
	caseTouching = "touching"
	caseWinter   = "winter"
	caseLoaded   = "loaded filter"
	caseStanding = "standing"
	caseRestart  = "restart"
)

// Stops of the line: how long a container stands under the air, and after it before the next machine. Common
// practice, no source.
const (
	standsFor  = 10.0 // s
	restartsIn = 60.0 // s
)

// situations lists the cases of a format in which air comes, nominal first.
func (a *assessment) situations(f *station.FormatPlan) []situation {
	all := a.everySituation(f)
	if a.options.Case == "" {
		return all
	}
	at := max(0, slices.IndexFunc(all, func(s situation) bool { return s.name == a.options.Case }))
	return all[at : at+1]
}

// everySituation lists the cases of a format, the nominal one first.
func (a *assessment) everySituation(f *station.FormatPlan) []situation {
	nominal := situation{name: caseNominal, speed: 1}
	all := []situation{nominal}
	if a.options.Nominal {
		return all
	}
	add := func(name string, change func(*situation)) {
		s := nominal
		s.name = name
		change(&s)
		if c := a.airCase(s.season, s.loaded); c == nil || c.Refused == "" {
			all = append(all, s)
		}
	}
	if surge := float64(a.job.Line.Surge.V); surge > 1 {
		add(caseSurge, func(s *situation) { s.speed = surge })
	}
	if f.Pitch > 0 && !f.Touching {
		add(caseTouching, func(s *situation) { s.touch = true })
	}
	add(caseWinter, func(s *situation) { s.season = winter })
	if len(a.supply.Study.Cases) > 0 {
		add(caseLoaded, func(s *situation) { s.loaded = true })
	}
	if a.job.Line.Stops.V && len(f.Stations) > 0 {
		add(caseStanding, func(s *situation) {
			s.stand = standsFor
			s.note = fmt.Sprintf("the container stands under the air for %.0f s; what evaporates there is not counted", standsFor)
		})
		add(caseRestart, func(s *situation) {
			s.stop = restartsIn
			s.note = fmt.Sprintf("the line stood for %.0f s between the station and the next machine", restartsIn)
		})
	}
	return all
}

// stage is one format with its neighbours at one spacing, and the air on it.
type stage struct {
	plan     *station.FormatPlan
	scenes   []station.Scene
	passes   []drying.Pass // at nominal speed, seen
	exposers []*station.Exposer
	records  []*station.Record
	spreads  *drying.Spreads
}

// newStage places a format's neighbours and exposes it to the nominal air.
func (a *assessment) newStage(f *station.FormatPlan, touch bool) (*stage, error) {
	st := &stage{plan: f}
	for _, scene := range f.Stations {
		if touch {
			w := f.Body.Width
			scene.Neighbours = []float64{-w, w}
		}
		e, err := station.NewExposer(f.Body, scene, a.outletAir(scene), station.ExposerOptions{})
		if err != nil {
			return nil, err
		}
		st.scenes = append(st.scenes, scene)
		st.exposers = append(st.exposers, e)
	}
	st.lay(a)
	return st, nil
}

// lay strings the passes along the line.
func (st *stage) lay(a *assessment) {
	speed := float64(st.plan.Speed)
	end := math.Inf(-1)
	for i, scene := range st.scenes {
		from, to := st.exposers[i].Range()
		if from > to {
			from, to = 0, 0
		}
		p := drying.Pass{Station: scene.Name, Air: st.exposers[i], From: from, To: to, Speed: speed}
		if i == 0 {
			p.Before = float64(st.plan.Format.Arrives.Since.V)
		} else {
			p.Before = max(0, scene.At+from-end) / speed
		}
		end = scene.At + to
		p.AirT, p.AirW = a.airOf(scene)
		st.passes = append(st.passes, p)
	}
}

// look scans the passes once; every case of the stage uses what was seen. The loads on the container are
// recorded on the way when record is set.
func (st *stage) look(ctx context.Context, record bool, workers int) error {
	for i := range st.passes {
		p := &st.passes[i]
		o := drying.ScanOptions{Workers: workers}
		if record {
			own := new(station.Record)
			o.Heed = func(x float64, f *station.Field) { own.Add(st.exposers[i], x, f) }
			st.records = append(st.records, own)
		}
		var err error
		if p.Seen, err = drying.ScanWith(ctx, st.plan.Body, p, o); err != nil {
			return err
		}
	}
	return nil
}

// overhear has the loads on the container recorded while others look at the air of a problem.
func (st *stage) overhear(p *drying.Problem) {
	for i := range p.Passes {
		r := &station.Recorder{E: st.exposers[i].Clone()}
		st.records = append(st.records, &r.Record)
		p.Passes[i].Air = r
	}
}

// record looks at the passes for the loads on the container, in steps as for the closed forms, where nobody has yet.
func (st *stage) record(ctx context.Context, closed *stage) error {
	for i := len(st.records); i < len(st.passes); i++ {
		r, err := station.NewRecord(ctx, st.exposers[i], closed.passes[i].Seen.Step)
		if err != nil {
			return err
		}
		st.records = append(st.records, r)
	}
	return nil
}

// problem is the water problem of a case on a stage.
func (a *assessment) problem(st *stage, s situation) *drying.Problem {
	f := st.plan
	speed := q.Speed(float64(f.Speed) * s.speed)
	index := a.indexOf(f)
	path := "/arrives"
	if a.given.Formats[index].Arrives != nil {
		path = fmt.Sprintf("/formats/%d/arrives", index)
	}
	p := &drying.Problem{
		Body: f.Body, Inverted: a.job.Line.Attitude == "inverted",
		Arrives:  arrivesOf(f.Format.Arrives, path, a.result.Assumed),
		Liquid:   liquidOf(f.Format.Arrives),
		Machines: machinesOf(a.job, f.Format.Name, speed, s.stop),
		Room:     roomOf(a.job, s.season),
		Settings: settingsOf(&a.job.Model, f.Pitch == 0),
		Spreads:  st.spreads,
	}
	// Other seasons and filters change the plenum pressure by little: the air enters as a factor.
	p.Settings.Pressure *= a.pressureFactor(s)
	p.Settings.Shear *= a.pressureFactor(s)
	for i := range st.passes {
		pass := st.passes[i]
		pass.Speed *= s.speed
		pass.Before /= s.speed
		if i == 0 {
			pass.Before = st.passes[0].Before
		}
		if s.stand > 0 {
			pass.Stand, pass.StandAt = s.stand, (pass.From+pass.To)/2
		}
		if s.lacks == airsupply.Dry {
			pass.Air, pass.Seen = still{}, nil
		}
		p.Passes = append(p.Passes, pass)
	}
	return p
}

func (a *assessment) indexOf(f *station.FormatPlan) int {
	for i := range a.job.Formats {
		if a.job.Formats[i].Name == f.Format.Name {
			return i
		}
	}
	panic("leste: a format plan without its format")
}

// pressureFactor is the mean plenum pressure of a case over the nominal one.
func (a *assessment) pressureFactor(s situation) float64 {
	op := a.operation(s.season, s.loaded)
	if op == nil || op == &a.supply.Nominal {
		return 1
	}
	sum, base := 0.0, 0.0
	for i, o := range op.Outlets {
		sum += float64(o.DeadEnd)
		base += float64(a.supply.Nominal.Outlets[i].DeadEnd)
	}
	if !(base > 0) || !(sum > 0) {
		return 1
	}
	return sum / base
}

// operation is the air side in a season; nil where it was refused.
func (a *assessment) operation(s season, loaded bool) *airsupply.Operation {
	switch c := a.airCase(s, loaded); {
	case c == nil || c.Name == caseNominal && c.Refused == "":
		return &a.supply.Nominal
	case c.Refused != "":
		return nil
	default:
		return &c.Operation
	}
}

// airCase is the case of the air side in a season; nil where the air side has no cases.
func (a *assessment) airCase(s season, loaded bool) *airsupply.CaseResult {
	name := caseNominal
	switch {
	case s == winter && loaded:
		name = caseWinter + ", " + caseLoaded
	case s == winter:
		name = caseWinter
	case loaded:
		name = caseLoaded
	}
	for i := range a.supply.Study.Cases {
		if a.supply.Study.Cases[i].Name == name {
			return &a.supply.Study.Cases[i]
		}
	}
	return nil
}

// judged is the outcome of one case.
type judged struct {
	situation situation
	outcome   drying.Outcome
	machines  [][]drying.Judged // by machine
	verdict   Verdict
	reserve   float64 // least; NaN without requirements
}

// judge compares an outcome with the machines' requirements. Requirements for zones that this format has not are
// passed over; missing tells which.
func judge(p *drying.Problem, s situation, o drying.Outcome) (judged, []string) {
	v := judged{situation: s, outcome: o, verdict: Met, reserve: math.NaN()}
	var missing []string
	for i, m := range p.Machines {
		var kept []drying.Judged
		for _, r := range m.Requires {
			one := m
			one.Requires = []drying.Requirement{r}
			j, err := drying.Judge(one, o.At[i])
			if err != nil {
				missing = append(missing, r.Zone)
				continue
			}
			kept = append(kept, j...)
			v.verdict = worse(v.verdict, Verdict(j[0].Verdict))
			if math.IsNaN(v.reserve) || j[0].Reserve < v.reserve {
				v.reserve = j[0].Reserve
			}
		}
		v.machines = append(v.machines, kept)
	}
	return v, missing
}

// quickOr is the method that goes before the chosen one.
func quickOr(method string) string {
	if method == "none" {
		return method
	}
	return quickMethod
}

// standStill adds the air on a standing container to what each pass has seen.
func (a *assessment) standStill(p *drying.Problem) error {
	for i := range p.Passes {
		pass := &p.Passes[i]
		if pass.Seen == nil {
			continue
		}
		seen := *pass.Seen
		seen.Stand = drying.NewField(p.Body.Surface)
		pass.Air.At(pass.StandAt, seen.Stand)
		pass.Seen = &seen
	}
	return nil
}

// followed answers a problem of a format by the chosen method on all the cores there are.
func (a *assessment) followed(ctx context.Context, run *formatRun, p *drying.Problem) (drying.Outcome, error) {
	if run.screen != nil {
		o := drying.TransportOptions{Frames: a.options.Frames, FrameTimes: a.options.Moments, Workers: a.options.Workers}
		all, err := drying.TransportTogether(ctx, []*drying.Problem{p}, o)
		if err != nil {
			return drying.Outcome{}, err
		}
		return all[0], nil
	}
	m, err := drying.MethodNamed(a.options.Method)
	if err != nil {
		return drying.Outcome{}, err
	}
	return m(ctx, p, drying.Options{Frames: a.options.Frames, FrameTimes: a.options.Moments, Workers: a.options.Workers})
}

// worst is the index of the case that decides: the worst verdict, then the least reserve, then the most water.
// Nominal wins a tie.
func worst(all []judged) int {
	w := 0
	for i := 1; i < len(all); i++ {
		x, y := &all[w], &all[i]
		switch {
		case badness(y.verdict) != badness(x.verdict):
			if badness(y.verdict) > badness(x.verdict) {
				w = i
			}
		case !math.IsNaN(x.reserve) && y.reserve != x.reserve:
			if y.reserve < x.reserve {
				w = i
			}
		case lastTotal(y.outcome).Likely > lastTotal(x.outcome).Likely:
			w = i
		}
	}
	return w
}

// totalAt is the water on the container at a machine; lastTotal without one.
func totalAt(o drying.Outcome, machine int) q.Band {
	if machine >= 0 && machine < len(o.At) {
		return o.At[machine].Total
	}
	return lastTotal(o)
}

// lastTotal is the water on the container at the machine it reaches last, or after the last station.
func lastTotal(o drying.Outcome) q.Band {
	if len(o.At) > 0 {
		return o.At[len(o.At)-1].Total
	}
	return o.After.Total
}
