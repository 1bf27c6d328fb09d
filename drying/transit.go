package drying

import (
	"math"

	"leste/physics/air"
	"leste/physics/water"
	q "leste/quantity"
)

// Moved says where water went [kg per container].
type Moved struct{ BlownOff, Mist, Evaporated, Condensed, Dripped float64 }

// Add adds the other's amounts.
func (m *Moved) Add(o Moved) {
	m.BlownOff += o.BlownOff
	m.Mist += o.Mist
	m.Evaporated += o.Evaporated
	m.Condensed += o.Condensed
	m.Dripped += o.Dripped
}

// Transit carries a container through the room for a time [s], no air blowing on it: trapped water that is
// more than a crevice's rim holds runs onto the wall below, films and drops evaporate, and on a product
// colder than the dew point water condenses. It changes w.
func Transit(p *Problem, w *Water, seconds float64) Moved {
	t := newTransit(p)
	t.runDown(w)
	return t.phase(w, seconds)
}

// transit is what the room does to each material of the body.
type transit struct {
	p      *Problem
	liquid water.Liquid
	walls  []wall
	flux   []float64 // kg/(m2 s) per material, positive evaporates
	dries  []float64 // s in which a drop of 1 mm dries on each material; +Inf when it does not
}

func newTransit(p *Problem) *transit {
	t := &transit{
		p: p, liquid: p.Liquid.liquid(), walls: walls(p.Body),
		flux: make([]float64, len(p.Body.Materials)), dries: make([]float64, len(p.Body.Materials)),
	}
	room := p.Room.moist()
	for i := range t.walls {
		x := air.Surface{
			Air: room, Heat: q.HeatTransfer(p.Room.HeatTransfer),
			Product: p.Body.Product, Inward: t.walls[i].conductance,
		}.Balance()
		t.flux[i] = float64(x.Flux)
		_, receding := water.SessileLifetime(unitDrop, t.walls[i].contact, t.liquid, room, x.Surface)
		t.dries[i] = float64(receding)
	}
	return t
}

// unitDrop is the size at which the drying time of drops is calculated; it grows with the square of the size.
const unitDrop = 1e-3 // m

// phase evaporates or condenses on every cell.
func (t *transit) phase(w *Water, seconds float64) Moved {
	var m Moved
	s := t.p.Body.Surface
	for k, area := range s.Area {
		material := t.p.Body.Material[s.Zone[k]]
		flux := t.flux[material] * seconds
		if flux < 0 {
			w.Fog[k] -= flux
			m.Condensed -= flux * area
			continue
		}
		gone := min(w.Film[k], flux)
		w.Film[k] -= gone
		gone += t.dry(w.cell(k), t.dries[material], seconds, flux-gone)
		m.Evaporated += gone * area
	}
	return m
}

// dry lets the drops of a cell evaporate and returns what has gone [kg/m2]: each as if it were alone, its mass
// falling as (1 - t/life)^1.5 with its angle kept, and all of them together no more than a wet wall would.
func (t *transit) dry(drops []Drops, life, seconds, most float64) float64 {
	alone := func(d *Drops) float64 {
		return d.Mass * dried(seconds/(life*d.Median*d.Median/(unitDrop*unitDrop)))
	}
	all := 0.0
	for i := range drops {
		if drops[i].Mass > 0 {
			all += alone(&drops[i])
		}
	}
	if all <= 0 {
		return 0
	}
	share := min(1, max(0, most)/all)
	for i := range drops {
		if drops[i].Mass > 0 {
			drops[i].Mass -= share * alone(&drops[i])
		}
	}
	return share * all
}

// dried is the share of a drop's water that is gone after x of its life.
func dried(x float64) float64 {
	if !(x < 1) {
		return 1
	}
	return 1 - (1-x)*math.Sqrt(1-x)
}

// runDownReach is how far along the wall a streak from a crevice wets it; also the length of rim that feeds
// one streak. Judgement.
const runDownReach = 20e-3 // m

// runDown moves the water that a crevice facing down does not hold onto the wall below it, as drops of the
// largest size that wall holds. A crevice holds one such drop for every runDownReach of its rim.
func (t *transit) runDown(w *Water) {
	s := t.p.Body.Surface
	for i, c := range t.p.Body.Crevices {
		if !c.FacesDown || w.Trapped[i] <= 0 {
			continue
		}
		rows := rowsBelow(t.p, c.Row)
		if len(rows) == 0 {
			continue
		}
		first := rows[0] * s.Cols
		wet := &t.walls[t.p.Body.Material[s.Zone[first]]]
		size := wet.slide(t.liquid, s.Normal[first].Z)
		if math.IsInf(size, 1) {
			continue
		}
		drop := t.p.Liquid.Density * wet.volume * size * size * size
		held := drop * 2 * math.Pi * c.Radius / runDownReach
		moved := t.p.Settings.RunDown * max(0, w.Trapped[i]-held)
		if moved == 0 {
			continue
		}
		area := 0.0
		for _, r := range rows {
			for col := range s.Cols {
				area += s.Area[r*s.Cols+col]
			}
		}
		w.Trapped[i] -= moved
		d := Drops{Mass: moved / area, Median: size, Spread: streakSpread, Limit: math.Inf(1)}
		for _, r := range rows {
			for col := range s.Cols {
				w.Add(r*s.Cols+col, d)
			}
		}
	}
}

// streakSpread is the spread of the drops that streaks and ridges break into; narrower than that of a film.
const streakSpread = 0.25

// rowsBelow returns the rows that lie below a row as the container rides, within runDownReach along the wall.
func rowsBelow(p *Problem, row int) []int {
	s := p.Body.Surface
	z := func(r int) float64 { return s.Pos[r*s.Cols].Z }
	step := -1
	if row > 0 && row+1 < s.Rows && z(row+1) < z(row-1) || row == 0 {
		step = 1
	}
	var rows []int
	for r := row + step; r >= 0 && r < s.Rows && z(r) < z(r-step) && math.Abs(s.S[r]-s.S[row]) <= runDownReach; r += step {
		rows = append(rows, r)
	}
	return rows
}
