package drying

import (
	"context"
	"math"

	"leste/parallel"
	"leste/physics/water"
	q "leste/quantity"
)

// Spreads says how far the settings of the water model, the air and the walls carry each result from its
// likely value: factors, Low <= 1 <= High. They come from the quick method; the transport method uses them too.
type Spreads struct {
	After []Spread   // by zone, right after the last station
	At    [][]Spread // by machine and zone
	Total []Spread   // by machine, of the whole container
}

// Spread is the band of one zone as factors on the likely values.
type Spread struct {
	Dry     q.Band  // water without what has condensed
	Largest q.Band  // largest drop
	Number  q.Band  // of drops, at every size
	Could   float64 // m, largest drop that one of the variations leaves where the likely case leaves none
}

// Factors that a band never lies within, whatever the settings say: what the closed forms themselves may be off by.
// Judgement.
const (
	waterFloor   = 2.5
	sizeFloor    = 1.6
	condensation = 1.4
)

// NoSpreads leave the results of a problem as they are likely: for whoever asks about likely values alone, many times.
func NoSpreads(p *Problem) *Spreads {
	sure := q.Band{Low: 1, Likely: 1, High: 1}
	zones := make([]Spread, len(p.Body.Surface.Zones))
	for i := range zones {
		zones[i] = Spread{Dry: sure, Largest: sure, Number: sure}
	}
	s := &Spreads{After: zones}
	for range p.Machines {
		s.At = append(s.At, zones)
		s.Total = append(s.Total, zones[0])
	}
	s.Total = append(s.Total, zones[0])
	return s
}

// Amounts below which a result counts as nothing when two are compared.
const (
	noWater  = 1e-9   // kg
	noDrop   = 50e-6  // m
	noNumber = 1e-4   // drops on a container
	angleOff = 10     // degrees that the contact angles of a material may be off by
	gapLow   = 0.7    // of a crevice's nominal gap
	gapHigh  = 1 / .7 // clearing time goes with the square of the gap
)

// SpreadsOf finds the spreads of a problem.
func SpreadsOf(ctx context.Context, p *Problem) (Spreads, error) {
	if p.Spreads != nil {
		return *p.Spreads, nil
	}
	r, err := quickly(ctx, p, 1)
	if err != nil {
		return Spreads{}, err
	}
	return r.spreads(ctx, 1)
}

// deviation moves one quantity to an end of its range: -1 low, 1 high.
type deviation struct {
	name   string
	apply  func(v *variation, end int)
	beside bool // it leaves what the air does to the water on the wall alone
}

// variation is a run with one quantity moved.
type variation struct {
	p        Problem
	chain    *chain
	emptying emptying
}

// ends sets x to the low or high end of a band that is centred on likely; a fitted x keeps the band's ratios.
func ends(x *float64, b q.Band, end int) {
	if end < 0 {
		*x *= b.Low / b.Likely
	} else {
		*x *= b.High / b.Likely
	}
}

// deviations lists what is moved, one at a time. Which end is worse is not assumed: for some of them it
// changes with the case.
func deviations() []deviation {
	d := water.Defaults()
	angles := func(v *variation, move func(w *wall)) {
		for i := range v.chain.walls {
			w := &v.chain.walls[i]
			move(w)
			*w = rebuilt(*w)
		}
	}
	off := func(end int) q.Angle { return q.Degrees(float64(angleOff * end)) }
	return []deviation{
		{name: "drag", apply: func(v *variation, end int) { ends(&v.chain.set.Drag, d.Drag, end) }},
		{name: "slide share", apply: func(v *variation, end int) { ends(&v.chain.set.SlideShare, d.SlideShare, end) }},
		{name: "hole spacing", apply: func(v *variation, end int) { ends(&v.chain.set.HoleSpacing, d.HoleSpacing, end) }},
		{name: "small drops", apply: func(v *variation, end int) { ends(&v.chain.set.SmallDrops, d.SmallDropShare, end) }},
		{name: "drop spread", apply: func(v *variation, end int) { ends(&v.chain.set.DropSpread, d.Spread, end) }},
		{name: "receding spread", apply: func(v *variation, end int) {
			ends(&v.chain.set.RecedingSpread, q.Band{Low: 0.5, Likely: 1, High: 1.5}, end)
		}},
		{name: "shear", apply: func(v *variation, end int) { ends(&v.chain.set.Shear, q.Band{Low: 0.67, Likely: 1, High: 1.5}, end) }},
		{name: "pressure", apply: func(v *variation, end int) {
			ends(&v.chain.set.Pressure, q.Band{Low: 0.85, Likely: 1, High: 1.15}, end)
		}},
		{name: "receding angle", apply: func(v *variation, end int) {
			angles(v, func(w *wall) { w.Receding = max(0, min(w.Receding+off(end), w.Advancing)) })
		}},
		{name: "advancing angle", apply: func(v *variation, end int) {
			angles(v, func(w *wall) { w.Advancing = max(w.Receding, min(w.Advancing+off(end), math.Pi)) })
		}},
		{name: "water", apply: func(v *variation, end int) {
			a := &v.p.Arrives
			var f float64
			switch {
			case end < 0 && a.LeastWater > 0:
				f = a.LeastWater
			case end > 0 && a.MostWater > 0:
				f = a.MostWater
			case end < 0:
				f = d.Incoming.Low / d.Incoming.Likely
			default:
				f = d.Incoming.High / d.Incoming.Likely
			}
			a.Film, a.Drops = a.Film*f, a.Drops*f
		}},
		{name: "drops that arrive", apply: func(v *variation, end int) { ends(&v.p.Arrives.DropMedian, d.IncomingDrop, end) }},
		{name: "gap of crevices", beside: true, apply: func(v *variation, end int) {
			v.emptying.gap = gapLow
			if end > 0 {
				v.emptying.gap = gapHigh
			}
		}},
		{name: "hold of crevices", beside: true, apply: func(v *variation, end int) { v.emptying.hold = end }},
		{name: "run-down", beside: true, apply: func(v *variation, end int) { ends(&v.p.Settings.RunDown, d.RunDownShare, end) }},
	}
}

// rebuilt recalculates a wall whose angles have been moved.
func rebuilt(w wall) wall {
	w.contact = w.Mean()
	w.volume, w.front, w.height = water.CapVolumeFactor(w.contact), water.CapFrontFactor(w.contact), water.CapHeightFactor(w.contact)
	w.wets = 1 - smoothstep((w.Receding.Deg()-wetsBelow)/(beadsFromOn-wetsBelow))
	return w
}

// figures are the results of one variation that are compared.
type figures struct {
	zones [][]ZoneWater // by machine, the last one after the last station
}

// spreads runs every deviation on a sample of the cells and gathers them in quadrature of logarithms.
func (r *run) spreads(ctx context.Context, workers int) (Spreads, error) {
	trials := newTrials(r.p)
	base := r.vary(nil, 0, trials)
	n := len(base.zones)
	sums := make([][]gather, n)
	totals := make([]gather, n)
	for i := range sums {
		sums[i] = make([]gather, len(base.zones[i]))
	}
	all := deviations()
	moved := make([][2]figures, len(all))
	workers = max(1, min(workers, len(all)))
	err := parallel.Each(workers, workers, func(w int) error {
		own := trials
		if w > 0 {
			own = trials.again()
		}
		for k := w; k < len(all); k += workers {
			if err := ctx.Err(); err != nil {
				return err
			}
			moved[k] = [2]figures{r.vary(&all[k], -1, own), r.vary(&all[k], 1, own)}
		}
		return nil
	})
	if err != nil {
		return Spreads{}, err
	}
	for k := range all {
		low, high := moved[k][0], moved[k][1]
		for i := range sums {
			for z := range sums[i] {
				sums[i][z].take(&base.zones[i][z], &low.zones[i][z], &high.zones[i][z])
			}
			b, l, h := dry(base.zones[i]), dry(low.zones[i]), dry(high.zones[i])
			totals[i].water.take(compare(b, l, noWater), compare(b, h, noWater))
		}
	}
	s := Spreads{At: make([][]Spread, n-1), Total: make([]Spread, n)}
	for i := range sums {
		zones := make([]Spread, len(sums[i]))
		for z := range zones {
			zones[z] = sums[i][z].spread()
		}
		if i == n-1 {
			s.After = zones
		} else {
			s.At[i] = zones
		}
		s.Total[i] = totals[i].spread()
	}
	return s, nil
}

// gather adds up the deviations of one zone.
type gather struct {
	water, size, number quadrature
	could               float64
}

type quadrature struct{ down, up float64 }

// take adds one quantity's two ends, as logarithms of the ratio to the likely value.
func (s *quadrature) take(a, b float64) {
	up, down := max(0, a, b), max(0, -a, -b)
	s.up += up * up
	s.down += down * down
}

func (s quadrature) band(floor float64) q.Band {
	return q.Band{
		Low:    math.Exp(-max(math.Log(floor), math.Sqrt(s.down))),
		Likely: 1,
		High:   math.Exp(max(math.Log(floor), math.Sqrt(s.up))),
	}
}

func (g *gather) take(base, low, high *ZoneWater) {
	g.water.take(compare(dryOf(base), dryOf(low), noWater), compare(dryOf(base), dryOf(high), noWater))
	g.size.take(compare(base.Largest.Likely, low.Largest.Likely, noDrop), compare(base.Largest.Likely, high.Largest.Likely, noDrop))
	if base.Largest.Likely == 0 {
		g.could = max(g.could, low.Largest.Likely, high.Largest.Likely)
	}
	worstLow, worstHigh := 0.0, 0.0
	for i := range base.Count {
		n := base.Count[i].Number
		if n < noNumber {
			break
		}
		worstLow = further(worstLow, compare(n, low.Count[i].Number, noNumber))
		worstHigh = further(worstHigh, compare(n, high.Count[i].Number, noNumber))
	}
	g.number.take(worstLow, worstHigh)
}

func further(a, b float64) float64 {
	if math.Abs(b) > math.Abs(a) {
		return b
	}
	return a
}

func (g *gather) spread() Spread {
	return Spread{
		Dry: g.water.band(waterFloor), Largest: g.size.band(sizeFloor), Number: g.number.band(waterFloor), Could: g.could,
	}
}

// compare is the logarithm of the ratio of two amounts, both raised by what counts as nothing.
func compare(base, other, nothing float64) float64 {
	return math.Log((other + nothing) / (base + nothing))
}

func dryOf(z *ZoneWater) float64 { return z.Film + z.Drops + z.Trapped + z.Pool }

func dry(zones []ZoneWater) float64 {
	sum := 0.0
	for i := range zones {
		sum += dryOf(&zones[i])
	}
	return sum
}

// Sampling of the wall for the band: one cell in sampleEvery stands for its zone, no fewer and no more of a zone
// than these.
const (
	sampleEvery            = 12
	fewestCells, mostCells = 8, 32
	sampleLines            = 64 // pieces of lines that stand for all
)

// sample picks cells evenly from every zone, each with the number of cells it stands for.
func sample(p *Problem) []weighted {
	s := p.Body.Surface
	count := make([]int, len(s.Zones))
	area := make([]float64, len(s.Zones))
	for k, z := range s.Zone {
		count[z]++
		area[z] += s.Area[k]
	}
	picked := make([]float64, len(s.Zones))
	seen := make([]int, len(s.Zones))
	var cells []weighted
	for k, z := range s.Zone {
		// A stride coprime to most column counts spreads the sample around the container.
		wanted := max(fewestCells, min(mostCells, count[z]/sampleEvery))
		stride := max(1, count[z]/wanted) | 1
		if seen[z]%stride == stride/2 {
			cells = append(cells, weighted{k, 1})
			picked[z] += s.Area[k]
		}
		seen[z]++
	}
	for i := range cells {
		z := s.Zone[cells[i].cell]
		cells[i].weight = area[z] / picked[z]
	}
	return cells
}

// trials is what the variations of one run share.
type trials struct {
	p     *Problem
	cells []weighted
	water *Water
	wet   []int    // cells that get water: the sampled ones and those that crevices run down on
	walls [][]held // of the likely run: the sampled cells after each pass, up to the first results
}

// held is the water of one cell.
type held struct {
	film, thick float64
	drops       [perCell]Drops
}

func newTrials(p *Problem) *trials {
	t := &trials{p: p, cells: sample(p), water: NewWater(p, perCell)}
	for _, c := range t.cells {
		t.wet = append(t.wet, c.cell)
	}
	cols := p.Body.Surface.Cols
	for _, c := range p.Body.Crevices {
		if c.FacesDown {
			for _, row := range rowsBelow(p, c.Row) {
				for col := range cols {
					t.wet = append(t.wet, row*cols+col)
				}
			}
		}
	}
	return t
}

// again are the same trials for another goroutine.
func (t *trials) again() *trials {
	own := *t
	own.water = NewWater(t.p, perCell)
	return &own
}

// dry takes the last variation's water away.
func (t *trials) dry() {
	w := t.water
	for _, all := range [][]float64{w.Film, w.Thick, w.Trapped, w.Pools, w.Fog} {
		clear(all)
	}
	for _, k := range t.wet {
		clear(w.cell(k))
	}
}

// keep remembers the wall after a pass of the likely run.
func (t *trials) keep() {
	w, wall := t.water, make([]held, len(t.cells))
	for i, c := range t.cells {
		wall[i].film, wall[i].thick = w.Film[c.cell], w.Thick[c.cell]
		copy(wall[i].drops[:], w.cell(c.cell))
	}
	t.walls = append(t.walls, wall)
}

// putBack puts the wall of a pass of the likely run back.
func (t *trials) putBack(pass int) {
	w := t.water
	for i, c := range t.cells {
		h := &t.walls[pass][i]
		w.Film[c.cell], w.Thick[c.cell] = h.film, h.thick
		copy(w.cell(c.cell), h.drops[:])
	}
}

// vary runs the sampled cells with one quantity moved, nil for none. What comes to rest on lines is taken as
// in the likely run and divided anew; lines of earlier passes are left out, as the last one sweeps them again.
func (r *run) vary(d *deviation, end int, t *trials) figures {
	cells := t.cells
	v := variation{p: *r.p, emptying: emptying{gap: 1, every: 4}}
	c := *r.chain
	c.walls = append([]wall(nil), r.chain.walls...)
	v.chain = &c
	if d != nil {
		d.apply(&v, end)
	}
	tr := *r.transit
	tr.p, tr.walls = &v.p, v.chain.walls
	o := &run{
		p: &v.p, seen: r.seen, chain: v.chain, transit: &tr, path: r.path, covered: r.covered,
		tally: &tally{p: &v.p, walls: v.chain.walls, sizes: r.tally.sizes, logs: r.tally.logs}, water: t.water,
	}
	t.dry()
	o.arrive(cells)
	f := figures{zones: make([][]ZoneWater, len(v.p.Machines)+1)}
	noted := false // what runs down for a result stays on the wall
	note := func(pass int) {
		for i, m := range v.p.Machines {
			if m.After == pass {
				noted = true
				f.zones[i] = o.figures(cells, pass, r.landed)
			}
		}
	}
	note(-1)
	for i := range v.p.Passes {
		if d != nil && d.beside && !noted {
			t.putBack(i)
		} else {
			for _, c := range cells {
				o.cell(i, c.cell, nil)
			}
		}
		if d == nil && !noted {
			t.keep()
		}
		o.empty(i, o.water, v.emptying)
		note(i)
	}
	if last := lastMachine(&v.p); last >= 0 && v.p.Machines[last].After == len(v.p.Passes)-1 {
		f.zones[len(f.zones)-1] = f.zones[last] // what the way there does is not varied
	} else {
		f.zones[len(f.zones)-1] = o.figures(cells, len(v.p.Passes)-1, r.landed)
	}
	return f
}

// figures sums up the sampled cells after a pass, and the lines of that pass.
func (r *run) figures(cells []weighted, pass int, landed [][]landing) []ZoneWater {
	w := r.water
	trapped := append([]float64(nil), w.Trapped...)
	r.transit.runDown(w)
	zones := r.tally.zones(w, cells)
	copy(w.Trapped, trapped)
	if pass < 0 {
		return zones
	}
	s := r.p.Body.Surface
	stride := max(1, len(landed[pass])/sampleLines)
	for i := 0; i < len(landed[pass]); i += stride {
		l := landed[pass][i]
		m := r.wall(l.cell)
		z := &zones[s.Zone[l.cell]]
		r.chain.settle(l, m, r.p.Body.Height, func(d Drops) {
			d.Mass *= float64(stride)
			z.Drops += d.Mass
			r.tally.count(z.Count, d, 1, m.volume)
		})
	}
	for i := range zones {
		zones[i].Largest = exactly(largest(zones[i].Count))
	}
	return zones
}

// Widen gives every result of an outcome its band.
func (s Spreads) Widen(p *Problem, o *Outcome) {
	for i := range o.At {
		widen(&o.At[i], s.At[i], s.Total[i], p, o.Balance.In)
	}
	widen(&o.After, s.After, s.Total[len(s.Total)-1], p, o.Balance.In)
}

func widen(w *MachineWater, zones []Spread, total Spread, p *Problem, in float64) {
	most := p.Arrives.MostWater
	if most == 0 {
		d := water.Defaults().Incoming
		most = d.High / d.Likely
	}
	condensed := 0.0
	for i := range w.Zones {
		z := &w.Zones[i]
		z.Left = spreadMass(dryOf(z), z.Condensed, zones[i].Dry, most*in)
		condensed += z.Condensed
		z.Largest = times(z.Largest.Likely, zones[i].Largest)
		if z.Largest.Likely == 0 {
			z.Largest.High = zones[i].Could
		}
		for j := range z.Count {
			c := &z.Count[j]
			c.Low, c.High = c.Number*zones[i].Number.Low, c.Number*zones[i].Number.High
		}
	}
	w.Total = spreadMass(dry(w.Zones), condensed, total.Dry, most*in)
}

// spreadMass puts a band on an amount; no more can be left than came.
func spreadMass(dry, condensed float64, factor q.Band, most float64) q.Band {
	return q.Band{
		Likely: dry + condensed,
		Low:    dry*factor.Low + condensed/condensation,
		High:   max(dry, min(dry*factor.High, most)) + condensed*condensation,
	}
}

func times(x float64, f q.Band) q.Band { return q.Band{Likely: x, Low: x * f.Low, High: x * f.High} }
