package drying

import (
	"context"
	"fmt"
	"math"

	"leste/parallel"
	"leste/physics/relation"
	"leste/physics/water"
	q "leste/quantity"
	"leste/station"
)

// Prove examines an outcome of the transport method: it follows the water on a grid twice as coarse, as the
// problem is and with each of what changes this method's answer most moved to both ends of its range, and folds
// what it finds into the bands. It says so in a note, and sets Grid and Scatter. Outcomes of other methods stay
// as they are. It stops with the context's error.
//
// Both ends are looked at because neither is known to be the worse one: a larger spacing of the holes in a film
// gives larger drops, which the air moves more easily, but later ones, which it reaches less long.
func Prove(ctx context.Context, p *Problem, o *Outcome, workers int) error {
	return NewCoarser(p).Prove(ctx, p, o, nil, workers)
}

// Prove is Prove on the grid of k; base is the outcome of p there, nil where it is not yet known.
func (k *Coarser) Prove(ctx context.Context, p *Problem, o, base *Outcome, workers int) error {
	if o.Method != methodTransport {
		return nil
	}
	coarse := k.problem(p)
	coarse.Machines = nil
	if base == nil {
		found, err := follow(ctx, coarse, TransportOptions{Workers: workers})
		if err != nil {
			return err
		}
		base = &found
	}
	doubts := doubtsOf(p)
	if err := lookInto(ctx, coarse, doubts, workers); err != nil {
		return err
	}
	fine := o.After.Total.Likely
	o.Grid = math.Abs(base.After.Total.Likely - fine)
	if fine > 0 {
		o.Grid /= fine
	}
	o.Scatter = doubts[recedingDoubt].scaled(fine, base)
	o.foldIn(p, base, doubts)
	o.Notes = append(o.Notes, o.proofNote(fine, base, doubts))
	return nil
}

// doubt is one quantity with the two ends of its range.
type doubt struct {
	ends  [2]float64
	apply func(p *Problem, end float64)
	found [2]Outcome
	words string // a sentence's part with the ends and the water there
}

const (
	recedingDoubt = iota
	spacingDoubt
)

// lookInto follows the water at both ends of every doubt, as many at a time as there are workers.
func lookInto(ctx context.Context, p *Problem, doubts []doubt, workers int) error {
	return parallel.Each(workers, 2*len(doubts), func(k int) (err error) {
		d, end := &doubts[k/2], k%2
		moved := *p
		d.apply(&moved, d.ends[end])
		d.found[end], err = follow(ctx, &moved, TransportOptions{})
		return err
	})
}

// doubtsOf lists what is moved: the receding angle by its scatter over a surface, the spacing of the holes in a
// film to the ends of its range.
func doubtsOf(p *Problem) []doubt {
	spacing := water.Defaults().HoleSpacing
	scatter := p.Settings.RecedingSpread
	return []doubt{
		recedingDoubt: {
			ends: [2]float64{-scatter, scatter},
			apply: func(p *Problem, end float64) {
				body := *p.Body
				body.Materials = append([]station.Material(nil), body.Materials...)
				for i := range body.Materials {
					m := &body.Materials[i]
					m.Receding = max(0, min(m.Receding+q.Angle(end), m.Advancing))
				}
				p.Body = &body
			},
			words: fmt.Sprintf("a receding angle %.0f degrees lower or higher", q.Angle(scatter).Deg()) + " %s or %s mg",
		},
		spacingDoubt: {
			ends:  [2]float64{p.Settings.HoleSpacing * spacing.Low / spacing.Likely, p.Settings.HoleSpacing * spacing.High / spacing.Likely},
			apply: func(p *Problem, end float64) { p.Settings.HoleSpacing = end },
			words: fmt.Sprintf("holes in a film %.2g or %.2g mm apart", 1e3*p.Settings.HoleSpacing*spacing.Low/spacing.Likely,
				1e3*p.Settings.HoleSpacing*spacing.High/spacing.Likely) + " %s or %s mg",
		},
	}
}

// worthComparing is an amount below which it does not matter by what factor another differs, kg.
const worthComparing = 1e-6

// scaled is the water of the whole container at both ends and averaged, a sixth of containers at each end, as
// ratios of the coarse runs times what the fine grid holds [kg].
func (d *doubt) scaled(fine float64, base *Outcome) q.Band {
	b := base.After.Total.Likely
	at := func(end int) float64 {
		return fine * (d.found[end].After.Total.Likely + noWater) / (b + noWater)
	}
	return q.Band{Low: at(0), Likely: (at(0) + 4*fine + at(1)) / 6, High: at(1)}
}

// foldIn widens the bands. The grid joins what the band holds already, in quadrature of logarithms; what the
// doubts find is in the band by the closed forms too, so that the wider of both counts.
func (o *Outcome) foldIn(p *Problem, base *Outcome, doubts []doubt) {
	most := p.Arrives.MostWater
	if most == 0 {
		d := water.Defaults().Incoming
		most = d.High / d.Likely
	}
	most *= o.Balance.In
	fold := func(b *q.Band, fine, coarse float64, found func(*Outcome) float64) {
		if !(b.Likely > 0) {
			return
		}
		grid := compare(fine, coarse, worthComparing)
		own := quadrature{}
		own.take(grid, -grid)
		for i := range doubts {
			own.take(compare(coarse, found(&doubts[i].found[0]), worthComparing), compare(coarse, found(&doubts[i].found[1]), worthComparing))
		}
		down, up := math.Inf(1), math.Log(b.High/b.Likely)
		if b.Low > 0 {
			down = math.Log(b.Likely / b.Low)
		}
		down, up = max(math.Hypot(down, grid), math.Sqrt(own.down)), max(math.Hypot(up, grid), math.Sqrt(own.up))
		b.Low = b.Likely * math.Exp(-down)
		b.High = max(b.High, min(b.Likely*math.Exp(up), most))
	}
	all := []*MachineWater{&o.After}
	for i := range o.At {
		all = append(all, &o.At[i])
	}
	total := func(x *Outcome) float64 { return x.After.Total.Likely }
	for _, w := range all {
		fold(&w.Total, total(o), total(base), total)
	}
	for z := range base.After.Zones {
		zone := func(x *Outcome) float64 { return dryOf(&x.After.Zones[z]) }
		for _, w := range all {
			fold(&w.Zones[z].Left, zone(o), zone(base), zone)
		}
	}
}

// proofNote says what the grid and each doubt are worth.
func (o *Outcome) proofNote(fine float64, base *Outcome, doubts []doubt) relation.Note {
	grid := "as much"
	if change := 100 * (base.After.Total.Likely/fine - 1); fine > 0 && math.Abs(change) >= 1 {
		word := "more"
		if change < 0 {
			word = "less"
		}
		grid = fmt.Sprintf("%.0f %% %s", math.Abs(change), word)
	}
	text := fmt.Sprintf("right after the last station the container keeps %s mg, on a grid twice as coarse %s", milligrams(fine), grid)
	for i := range doubts {
		b := doubts[i].scaled(fine, base)
		text += "; with " + fmt.Sprintf(doubts[i].words, milligrams(b.Low), milligrams(b.High))
	}
	return relation.Note{
		Severity: relation.Info, Value: math.NaN(), Limit: math.NaN(),
		Text: text + ": all of this is part of the bands",
	}
}

// milligrams writes an amount given in kg with two significant figures.
func milligrams(kg float64) string {
	mg := 1e6 * kg
	if mg < 0.1 {
		return "0"
	}
	step := math.Pow10(int(math.Floor(math.Log10(mg))) - 1)
	if rounded := math.Round(mg/step) * step; rounded >= 10 {
		return fmt.Sprintf("%.0f", rounded)
	}
	return fmt.Sprintf("%.1f", mg)
}
