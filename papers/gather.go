package papers

import (
	"context"
	"errors"
	"fmt"
	"math"
	"sync"

	leste "leste"
	"leste/accept"
	"leste/airsupply"
	"leste/catalogue"
	"leste/cost"
	"leste/job"
	"leste/physics"
	"leste/physics/relation"
	q "leste/quantity"
	"leste/render/quote"
	"leste/station"
)

// ErrTolerances says that the tolerances of the settings cannot be computed.
var ErrTolerances = errors.New("the tolerances of the settings cannot be computed")

// An Ahead computes the tolerances of a job's settings while its result is still being calculated: they need not wait
// for it. Stop it after use.
type Ahead struct {
	cancel           context.CancelFunc
	parts            *catalogue.Parts
	done             chan struct{}
	settings, limits []accept.Tolerance
	err              error
}

// NewAhead begins. Nil parts are the generic set. Settings are shared out among workers; the answer does not depend on
// how many.
func NewAhead(ctx context.Context, given *job.Job, parts *catalogue.Parts, workers int) *Ahead {
	ctx, cancel := context.WithCancel(ctx)
	a := &Ahead{cancel: cancel, done: make(chan struct{}), parts: parts}
	filled := job.Clone(given)
	job.Fill(filled)
	go func() {
		defer close(a.done)
		a.settings, a.limits, a.err = tolerances(ctx, filled, parts, max(workers, 1))
	}()
	return a
}

// Stop ends the computation, if it has not ended yet, and waits for that.
func (a *Ahead) Stop() {
	a.cancel()
	<-a.done
}

// Gather completes the archive of a job with its result: the air side, with the parts that ahead was given,
// and the tolerances, which ahead computes. Errors
// of the air side are *airsupply.Refusal.
func Gather(ctx context.Context, a *quote.Archive, given *job.Job, ahead *Ahead) error {
	if err := airSide(ctx, given, ahead.parts, a); err != nil {
		return err
	}
	a.Result = quote.Shown(a.Result)
	if _, ok := smallestReserve(a.Result.Formats); !ok {
		return nil
	}
	<-ahead.done
	if ahead.err != nil {
		return fmt.Errorf("%w: %w", ErrTolerances, ahead.err)
	}
	a.Tolerances, a.Limits = ahead.settings, ahead.limits
	return nil
}

// Input lays the job of an archive out again and joins it with a template. Warnings say what of the template could
// not be used; errors are job.Problems.
func Input(a *quote.Archive, t quote.Template) (in *quote.Input, warnings []error, err error) {
	file, problems := job.Load(a.JobName, []byte(a.JobFile))
	if len(problems) > 0 {
		return nil, nil, problems
	}
	filled := job.Clone(file.Job)
	job.Fill(filled)
	in = &quote.Input{
		Job: filled, Result: &a.Result, Words: t.Words.Naming(quote.Names(file.Job)...), Offer: a.Terms.Offer(), Head: t.Head,
		Blowers: a.Blowers, Loads: a.Loads, Branches: a.Branches, Tolerances: a.Tolerances, Limits: a.Limits, Cards: relations().Get,
	}
	if in.Texts, err = t.Texts(filled, in.Result, in.Offer); err != nil {
		warnings = append(warnings, err)
	}
	if len(filled.Formats) > 0 {
		plan, problems := station.Resolve(filled, station.ResolveOptions{})
		if len(problems) > 0 {
			return nil, nil, problems
		}
		in.Plan = plan
	}
	return in, warnings, nil
}

// relations are all that a result may name.
var relations = sync.OnceValue(func() relation.Registry {
	r, err := relation.New(physics.Cards().All(), airsupply.Cards(), cost.Cards())
	if err != nil {
		panic("papers: " + err.Error()) // the cards are part of the program
	}
	return r
})

// airSide adds the curves and the load list of the blowers.
func airSide(ctx context.Context, j *job.Job, parts *catalogue.Parts, a *quote.Archive) error {
	if parts == nil {
		generic := catalogue.GenericParts()
		parts = &generic
	}
	s, err := airsupply.Assess(ctx, j, *parts)
	if err != nil {
		return err
	}
	if s.Plan == nil || s.Plan.Network == nil {
		return nil
	}
	a.Branches = s.Plan.Network.Branches
	for i := range s.Nominal.Blowers {
		b := &s.Nominal.Blowers[i]
		c := quote.BlowerCurve{Name: b.Name, Operating: [2]float64{float64(b.Inlet), float64(b.Rise)}}
		for _, k := range s.Study.Cases[1:] {
			if i < len(k.Operation.Blowers) {
				c.Cases = append(c.Cases, quote.CasePoint{Name: k.Name, Flow: float64(k.Operation.Blowers[i].Inlet), Rise: float64(k.Operation.Blowers[i].Rise)})
			}
		}
		for _, p := range s.Curve(i) {
			c.Curve = append(c.Curve, [2]float64{float64(p.Inlet), float64(p.Rise)})
			c.System = append(c.System, [2]float64{float64(p.Inlet), float64(p.System)})
		}
		a.Blowers = append(a.Blowers, c)
	}
	for i, l := range s.Loads {
		x := quote.Load{
			Blower: l.Blower, Rated: l.Rated, Class: l.Class, Voltage: l.Voltage, Frequency: l.Frequency, FullLoad: l.Current, PowerFactor: l.PowerFactor,
			Starter: l.Starter, Starts: l.StartsPerH, Protection: l.Protection, Signals: l.Signals, Devices: l.Devices,
		}
		for _, n := range l.Notes {
			x.Notes = append(x.Notes, n.Text)
		}
		if i < len(s.Nominal.Blowers) && l.Rated > 0 && l.Efficiency > 0 {
			full := float64(l.Rated) / float64(l.Efficiency)
			x.Running = accept.RunningCurrent(l.Current, l.PowerFactor, q.Ratio(float64(s.Nominal.Blowers[i].Drive.MotorInput)/full))
		}
		a.Loads = append(a.Loads, x)
	}
	return nil
}

// smallestReserve is the least reserve over all requirements of formats; ok is false without any.
func smallestReserve(formats []leste.FormatResult) (reserve float64, ok bool) {
	reserve = math.Inf(1)
	for _, f := range formats {
		for _, z := range f.Zones {
			for _, x := range z.Requirements {
				if !math.IsNaN(x.Reserve) {
					reserve, ok = min(reserve, x.Reserve), true
				}
			}
		}
	}
	return reserve, ok
}

// toleranceCell is coarse: only the move to the limit matters, not the level [m].
const toleranceCell = 7e-3

// tolerances finds how far settings and conditions may move, by assessing the job again with the quick
// method.
func tolerances(ctx context.Context, filled *job.Job, parts *catalogue.Parts, workers int) (settings, limits []accept.Tolerance, err error) {
	try := func(ctx context.Context, j *job.Job, formats []string) (accept.Reserves, error) {
		r, err := leste.Assess(ctx, j, leste.Options{
			Method: "quick", Cell: toleranceCell, Nominal: true, NoRanking: true, LikelyWater: true, Only: formats, Parts: parts,
		})
		if err != nil {
			return nil, err
		}
		reserves := accept.Reserves{}
		for i := range r.Formats {
			if reserve, ok := smallestReserve(r.Formats[i : i+1]); ok {
				reserves[r.Formats[i].Name] = reserve
			}
		}
		if len(reserves) == 0 {
			return nil, errors.New("nothing is required")
		}
		return reserves, nil
	}
	all := accept.Settings(filled)
	count := len(all)
	all = append(all, accept.Conditions(filled)...)
	out, err := accept.TolerancesOn(ctx, workers, filled, all, try)
	if err != nil {
		return nil, nil, err
	}
	return out[:count], out[count:], nil
}
