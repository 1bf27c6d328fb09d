package drying

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"leste/physics/water"
	q "leste/quantity"
)

// mistSize is the size of the drops that come back from the station just passed.
func mistSize(f *flow) float64 {
	if f.fast <= 0 {
		return smallestBin
	}
	return float64(water.MistSize(f.liquid, q.Density(f.drops.air.rho), q.Speed(f.fast)))
}

// water hands the state over to the relations that both methods share: every bin becomes drops of nearly
// one size. Beads on rims stay with the rims; see beads.
//
// What it returns is written over by the next call.
func (f *flow) water() *Water {
	w := f.sheet(0)
	rho, sides, around := f.p.Liquid.Density, f.g.sides(), f.g.around
	for r := range f.g.rows {
		for c := range f.g.cols {
			k, i := r*around+c, f.g.at(r, c)
			w.Film[k], w.Thick[k] = f.film.h[i]*rho, f.film.h[i]
			w.Fog[k] = f.fog[r*f.g.cols+c]
			for b := range dropBins {
				d := &w.Drops[k*dropBins+b]
				*d = Drops{
					Mass:   (f.drops.stuck[i][b] + f.drops.moving[i][b]) * rho,
					Median: binSize(b), Spread: binSpread, Limit: math.Inf(1),
				}
			}
			if f.g.half() {
				m := (r+1)*around - 1 - c
				w.Film[m], w.Thick[m], w.Fog[m] = w.Film[k], w.Thick[k], w.Fog[k]
				copy(w.cell(m), w.cell(k))
			}
		}
	}
	for i := range f.reservoir {
		w.Trapped[i] = sides * f.reservoir[i].total() * rho
	}
	for i := range f.recess {
		w.Pools[i] = f.recess[i].mass(rho, f.g)
	}
	return w
}

// take is the inverse of water, after the relations changed it. Drops of sizes that are no bin's are laid
// on the bins around; water that a crevice or a pool lost leaves all its pieces alike.
func (f *flow) take(w *Water) {
	rho, sides := f.p.Liquid.Density, f.g.sides()
	for r := range f.g.rows {
		for c := range f.g.cols {
			k, i := r*f.g.around+c, f.g.at(r, c)
			f.film.h[i] = w.Film[k] / rho
			f.fog[r*f.g.cols+c] = w.Fog[k]
			stuck := &f.drops.stuck[i]
			*stuck, f.drops.moving[i] = amounts{}, amounts{}
			for _, d := range w.cell(k) {
				switch {
				case d.Mass <= 0:
				case d.Spread == binSpread:
					put(stuck, d.Mass/rho, d.Median)
				default:
					f.bead(i, d.Mass/rho, d.Median, d.Spread)
				}
			}
		}
		f.even(r)
	}
	f.drops.recount()
	f.film.refresh(0, f.g.rows)
	for i := range f.reservoir {
		r := &f.reservoir[i]
		if old := sides * r.total() * rho; old > 0 {
			for j := range r.pieces {
				r.pieces[j].Length *= q.Length(w.Trapped[i] / old)
				r.film[j] *= w.Trapped[i] / old
			}
		}
	}
	for i := range f.recess {
		if old := f.recess[i].mass(rho, f.g); old > 0 {
			for j := range f.recess[i].water {
				f.recess[i].water[j] *= w.Pools[i] / old
			}
		}
	}
}

// beads adds the water held on rims to w, as drops as thick as the bead.
func (f *flow) beads(w *Water) {
	for k := range f.rims.list {
		e := &f.rims.list[k]
		for c, v := range e.bead {
			if v <= 0 {
				continue
			}
			i, plain := f.g.at(e.row, c), e.row*f.g.around+c
			size := math.Sqrt(v / f.g.lenS[i] / f.walls[f.wall[i]].front)
			d := Drops{Mass: v * f.g.invArea[i] * f.p.Liquid.Density, Median: size, Spread: binSpread, Limit: math.Inf(1)}
			w.Add(plain, d)
			if f.g.half() {
				w.Add((e.row+1)*f.g.around-1-c, d)
			}
		}
	}
}

// reach records the water at the machines that follow the pass with index i, -1 before the first, the nearest first.
// The container goes on from where it is: what happens on the way to a machine is undone.
func (r *transportRun) reach(ctx context.Context, i int) error {
	var next []int
	for k, m := range r.p.Machines {
		if m.After == i {
			next = append(next, k)
		}
	}
	if len(next) == 0 {
		return nil
	}
	slices.SortStableFunc(next, func(a, b int) int { return cmp.Compare(r.p.Machines[a].Travel, r.p.Machines[b].Travel) })
	var here, between *saved
	on := !r.o.Machines || i+1 < len(r.p.Passes) // it goes on from here
	if on {
		here = r.f.save()
	}
	d := r.newDrainage()
	for n, k := range next {
		m := &r.p.Machines[k]
		if err := d.until(ctx, m.Travel); err != nil {
			return err
		}
		farther := n+1 < len(next)
		if farther {
			between = r.f.save()
		}
		d.last(m.Travel)
		w := r.f.water()
		r.f.beads(w)
		moved := Transit(r.p, w, m.Travel)
		r.out.At[k] = r.machineWater(nameOf(*m), w)
		r.books[k] = r.account(w, moved)
		if farther {
			r.f.restore(between)
		}
	}
	if on {
		r.f.restore(here)
	}
	return nil
}

// account is the balance of a container that carries w, with what moved on its last way [kg].
func (r *transportRun) account(w *Water, moved Moved) Balance {
	rho, gone := r.f.g.sides()*r.p.Liquid.Density, r.f.gone()
	moved.Add(r.phase)
	b := Balance{
		In: r.in * r.p.Liquid.Density, Condensed: moved.Condensed, Left: w.Mass(r.p.Body.Surface.Area),
		BlownOff: gone.BlownOff * rho, Mist: gone.Mist * rho, Evaporated: moved.Evaporated,
		Dripped: gone.Dripped*rho + moved.Dripped,
	}
	b.close()
	return b
}

// machineWater sums up by zone. Counts need only the water of each size in a zone, wherever in it: all
// drops of a zone are laid on its first cell before they are counted.
func (r *transportRun) machineWater(name string, w *Water) MachineWater {
	s := r.p.Body.Surface
	gathered := r.f.sheet(1)
	clear(gathered.Drops)
	copy(gathered.Film, w.Film)
	copy(gathered.Fog, w.Fog)
	copy(gathered.Trapped, w.Trapped)
	copy(gathered.Pools, w.Pools)
	first := make([]int, len(s.Zones))
	for z := range first {
		first[z] = slices.Index(s.Zone, uint8(z))
	}
	for k, area := range s.Area {
		at := first[s.Zone[k]]
		for b, d := range w.cell(k) {
			if d.Mass <= 0 {
				continue
			}
			d.Mass *= area / s.Area[at]
			place := &gathered.Drops[at*w.PerCell+b]
			if place.Mass > 0 && place.Median != d.Median {
				mean := math.Log(place.Median)*place.Mass + math.Log(d.Median)*d.Mass
				d.Median = math.Exp(mean / (place.Mass + d.Mass))
			}
			d.Mass += place.Mass
			*place = d
		}
	}
	zones := Tally(r.p, gathered)
	sum := MachineWater{Machine: name, Zones: zones}
	for i := range zones {
		zones[i].Where = r.where(i, w)
		sum.Total.Likely += zones[i].Left.Likely
	}
	sum.Total.Low, sum.Total.High = sum.Total.Likely, sum.Total.Likely
	return sum
}

// where says in plain words on which side of the container a zone's water lies.
func (r *transportRun) where(zone int, w *Water) string {
	s := r.p.Body.Surface
	sides := [4]float64{}
	names := [4]string{"leading side", "left side", "trailing side", "right side"}
	total := 0.0
	for k, area := range s.Area {
		if int(s.Zone[k]) != zone {
			continue
		}
		m := w.OnWall(k) * area
		angle := math.Atan2(s.Pos[k].Y, s.Pos[k].X) + math.Pi/4
		sides[int(math.Floor(angle/(math.Pi/2))+4)%4] += m
		total += m
	}
	const most = 0.4 // of the water on a quarter of the wall
	best := 0
	for i := range sides {
		if sides[i] > sides[best] {
			best = i
		}
	}
	if total <= 0 || sides[best] < most*total {
		return "all around"
	}
	return names[best]
}

// outcome puts the results together, with the balance right after the last station, and refuses when water is
// unaccounted for.
func (r *transportRun) outcome() (Outcome, error) {
	worst := 0.0
	if !r.o.Machines {
		w := r.f.water()
		r.f.beads(w)
		r.out.After = r.machineWater("", w)
		r.out.Map = make([]float64, len(w.Film))
		for k := range r.out.Map {
			r.out.Map[k] = w.OnWall(k)
		}
		r.out.Balance = r.account(w, Moved{})
		worst = r.out.Balance.Closure
	}
	for i := range r.books {
		worst = max(worst, r.books[i].Closure)
	}
	if !(worst <= balanceTolerance) {
		return Outcome{}, fmt.Errorf("the water balance is off by %.2g of the water that came in; no number is given", worst)
	}
	r.out.CellSteps = r.f.steps
	if !r.o.Machines {
		r.out.Notes = r.notes()
	}
	return r.out, nil
}
