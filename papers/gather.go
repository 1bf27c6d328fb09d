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

// Gather completes the archive of a job with its result: the air side, with the parts given or the generic set for nil
// ones, and the tolerances of the settings, shared out among workers; the answer does not depend on how many. Errors of
// the air side are *airsupply.Refusal.
func Gather(ctx context.Context, a *quote.Archive, given *job.Job, parts *catalogue.Parts, workers int) error {
	if err := airSide(ctx, given, parts, a); err != nil {
		return err
	}
	a.Result = quote.Shown(a.Result)
	promised := reserves(&a.Result)
	if len(promised) == 0 {
		return nil
	}
	filled := job.Clone(given)
	job.Fill(filled)
	var err error
	if a.Tolerances, a.Limits, err = tolerances(ctx, filled, parts, a.Result.Method, promised, max(workers, 1)); err != nil {
		return fmt.Errorf("%w: %w", ErrTolerances, err)
	}
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
		Job: filled, Result: &a.Result, Words: t.Words.Searched(quote.Found(file.Job)...).Naming(quote.Names(file.Job)...), Offer: a.Terms.Offer().In(t.Words), Head: t.Head,
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

// reserves are the least reserves of a result by format; formats of which nothing is required are left out.
func reserves(r *leste.Result) accept.Reserves {
	out := accept.Reserves{}
	for i := range r.Formats {
		if reserve, ok := smallestReserve(r.Formats[i : i+1]); ok {
			out[r.Formats[i].Name] = reserve
		}
	}
	return out
}

// toleranceCell is coarse: only the move to the limit matters, not the level [m].
const toleranceCell = 10e-3

// tolerances finds how far settings and conditions may move, by assessing the nominal case again on coarse cells, in
// proportion to what the whole assessment promises: a worse case than the nominal one decides more often than not, and
// a level on coarse cells is another. The water is followed the way that the promise rests on, as one method says of
// another by how much it may be off less well than of itself.
func tolerances(ctx context.Context, filled *job.Job, parts *catalogue.Parts, method string, promised accept.Reserves, workers int) (settings, limits []accept.Tolerance, err error) {
	assess := func(ctx context.Context, j *job.Job, formats []string) (accept.Reserves, error) {
		r, err := leste.Assess(ctx, j, leste.Options{
			Method: method, Cell: toleranceCell, Nominal: true, NoRanking: true, LikelyWater: true, Only: formats, Parts: parts,
		})
		if err != nil {
			return nil, err
		}
		return reserves(r), nil
	}
	base, err := assess(ctx, job.Clone(filled), nil)
	if err != nil {
		return nil, nil, err
	}
	try := func(ctx context.Context, j *job.Job, formats []string) (accept.Reserves, error) {
		found, err := assess(ctx, j, formats)
		if err != nil {
			return nil, err
		}
		for name, r := range found {
			if told := promised[name] / base[name] * r; told > 0 && !math.IsInf(told, 0) {
				found[name] = told
			}
		}
		if len(found) == 0 {
			return nil, errors.New("nothing is required")
		}
		return found, nil
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
