package leste

import (
	"context"
	"math"

	"leste/airsupply"
	"leste/drying"
	"leste/job"
	"leste/parallel"
	"leste/physics/water"
	q "leste/quantity"
	"leste/station"
)

// bench tries variations of a job on its binding requirement: nominal air, the binding case, coarse cells and
// the quick method, so that two variations can be told apart in milliseconds. Levels from it are never shown,
// only ratios.
type bench struct {
	a        *assessment
	base     *stage // of the job as it is, in the layout that its plan belongs to
	measured float64
	fog      float64 // share of what is measured that has condensed, in the job as it is
	scale    float64 // from the rest as the bench finds it to what the answer's method does
}

// variation is one change of a job.
type variation struct {
	change   func(j *job.Job) bool // of the job as given; false when it does not apply
	pressure float64               // factor on every plenum pressure; 0 is 1
	asSeen   bool                  // the air on the container stays what it was
	inPlace  bool                  // and so does everything that is laid out, sizes and speeds too
	airComes bool                  // in the binding case, where it lacks it
}

// newBench measures the job as it is.
func (a *assessment) newBench(ctx context.Context) (*bench, error) {
	b := &bench{a: a, scale: 1}
	m, st, err := b.try(ctx, variation{change: func(*job.Job) bool { return true }})
	if err != nil {
		return nil, err
	}
	// What condenses on the way stays whatever the air does: it has the share of what is measured that it has in the
	// answer, not that of the bench, which may find much more or less of the rest.
	if here, there := a.best.fog, b.fog; here > 0 && here < 1 && there > 0 && there < 1 {
		b.scale = there * (1 - here) / (here * (1 - there))
		m *= there + (1-there)*b.scale
	}
	b.base, b.measured = st, m
	return b, nil
}

// try returns the binding measure of a variation: the value over its limit, or the water left where nothing is
// required; NaN where the variation does not apply or cannot be laid out.
func (b *bench) try(ctx context.Context, v variation) (float64, *stage, error) {
	nan := math.NaN()
	t := b.varied(v)
	if t == nil {
		return nan, nil, nil // a variation that does not fit is no remedy
	}
	f := t.formatNamed(b.a.best.format.Format.Name)
	if f == nil {
		return nan, nil, nil
	}
	st, err := t.newStage(f, b.a.best.situation.touch)
	if err != nil {
		return nan, nil, nil
	}
	if v.asSeen && b.base != nil && len(b.base.passes) == len(st.passes) {
		for i := range st.passes {
			st.passes[i].Seen = b.base.passes[i].Seen
		}
	} else if err := st.look(ctx, false, 1); err != nil {
		return nan, nil, err
	}
	st.spreads = b.a.best.stage.spreads
	s := b.a.best.situation
	if v.airComes {
		s.lacks = airsupply.Comes
	}
	p := t.problem(st, s)
	if b.a.best.situation.stand > 0 {
		if err := t.standStill(p); err != nil {
			return nan, nil, err
		}
	}
	o, err := drying.Quick(ctx, p)
	if err != nil {
		if ctx.Err() != nil {
			return nan, nil, ctx.Err()
		}
		return nan, nil, nil
	}
	m, fog := b.measure(p, o)
	if b.base == nil {
		b.fog = fog
	}
	return m * (fog + (1-fog)*b.scale), st, nil
}

// varied is the job with a variation laid out, and its air; nil where the variation does not apply or cannot be laid out.
func (b *bench) varied(v variation) *assessment {
	given := job.Clone(b.a.given)
	if !v.change(given) {
		return nil
	}
	t := &assessment{
		given: given, job: job.Clone(given), parts: b.a.parts, supply: b.a.supply, result: &Result{},
		options: Options{Method: quickMethod, Cell: coarseCell},
	}
	t.result.Assumed = job.Fill(t.job)
	if v.inPlace && b.base != nil && !b.a.options.layAgain {
		t.plan = &station.Plan{Formats: []station.FormatPlan{b.replanned(t.job)}}
	} else if err := t.layOut(); err != nil {
		return nil
	}
	t.scaleAir(b.a.job, v.pressure)
	return t
}

// replanned is the plan of the binding format with the values of a job that is laid out as the one tried first.
func (b *bench) replanned(j *job.Job) station.FormatPlan {
	plan := *b.base.plan
	for i := range j.Formats {
		if j.Formats[i].Name != plan.Format.Name {
			continue
		}
		f := j.Formats[i]
		f.Container, f.FillMass = plan.Format.Container, plan.Format.FillMass
		if f.Arrives == nil {
			f.Arrives = &j.Arrives
		}
		body := *plan.Body
		body.Product = f.Product.V
		plan.Format, plan.Body = f, &body
	}
	return plan
}

// measure reads the binding requirement, and the share of it that has condensed.
func (b *bench) measure(p *drying.Problem, o drying.Outcome) (m, fog float64) {
	best := b.a.best
	if best.machine < 0 || best.machine >= len(p.Machines) {
		return lastTotal(o).Likely, 0
	}
	machine := p.Machines[best.machine]
	if best.require >= len(machine.Requires) {
		return lastTotal(o).Likely, 0
	}
	machine.Requires = machine.Requires[best.require : best.require+1]
	j, err := drying.Judge(machine, o.At[best.machine])
	if err != nil {
		return lastTotal(o).Likely, 0
	}
	if j[0].Quantity == "rejects" { // the share of rejects saturates, the number of drops does not
		return j[0].Drops / float64(water.DropsFor(q.Ratio(j[0].Limit))), 0
	}
	return j[0].Value.Likely / j[0].Limit, fogShare(&j[0], &o.At[best.machine])
}

// fogShare is the share of what a requirement for an amount of water is judged by that has condensed; 0 for others.
func fogShare(j *drying.Judged, w *drying.MachineWater) float64 {
	if j.Quantity != "water" && j.Quantity != "mass" {
		return 0
	}
	z := drying.Whole(*w)
	for i := range w.Zones {
		if w.Zones[i].Zone == j.Requirement.Zone {
			z = w.Zones[i]
		}
	}
	if !(z.Left.Likely > 0) {
		return 0
	}
	return z.Condensed / z.Left.Likely
}

func (a *assessment) formatNamed(name string) *station.FormatPlan {
	for i := range a.plan.Formats {
		if a.plan.Formats[i].Format.Name == name {
			return &a.plan.Formats[i]
		}
	}
	return nil
}

// scaleAir sets the plenum pressures of a variation: those that the job asks for changed in the same ratio, all
// of them by the factor.
func (a *assessment) scaleAir(before *job.Job, factor float64) {
	if factor == 0 {
		factor = 1
	}
	wanted := func(j *job.Job) map[string]float64 {
		m := map[string]float64{}
		for i := range j.Stations {
			s := &j.Stations[i]
			for k := range s.Outlets {
				p := s.Outlets[k].Pressure.V
				if !s.Outlets[k].Pressure.Known && s.Plenum.Known {
					p = s.Plenum.V
				}
				m[s.Outlets[k].Name] = float64(p)
			}
		}
		return m
	}
	was, is := wanted(before), wanted(a.job)
	op := a.supply.Nominal
	op.Outlets = append(op.Outlets[:0:0], op.Outlets...)
	for i := range op.Outlets {
		o := &op.Outlets[i]
		f := factor
		if p := was[o.Name]; p > 0 && is[o.Name] > 0 {
			f *= is[o.Name] / p
		}
		o.DeadEnd = q.Gauge(float64(o.DeadEnd) * f)
	}
	a.supply.Nominal = op
}

// each runs work for every index, on as many goroutines as the options allow.
func (a *assessment) each(n int, work func(i int) error) error {
	return parallel.Each(a.options.Workers, n, work)
}
