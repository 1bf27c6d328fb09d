package station

import (
	"math"

	"leste/catalogue"
	"leste/job"
	q "leste/quantity"
)

// productDensity stands for every product: drinks and foods lie within a few per cent of water.
const productDensity = 1000.0

// weigh sets masses, volume and centre of mass: a shell of even thickness and, when filled, product
// standing from the base up. An inverted container's product lies at its lower end too.
func (b *Body) weigh(f job.Format, o *outline, g section) {
	k := g.ring(8)
	factor := k.area // of a section over radius2
	volume, _ := o.volume()
	b.Volume = q.Volume(volume * factor)
	area, moment := 0.0, 0.0
	s := b.Surface
	for i, a := range s.Area {
		area += a
		moment += a * s.Pos[i].Z
	}
	shell := moment / area
	b.EmptyMass = f.Container.EmptyMass.V
	b.Mass, b.CentreOfMass = b.EmptyMass, shell
	if f.Content != "empty" && f.FillMass.V > 0 {
		fill := float64(f.FillMass.V)
		centre := o.centreOfFill(fill / productDensity / factor)
		empty := float64(b.EmptyMass)
		b.Mass = q.Mass(empty + fill)
		b.CentreOfMass = (empty*shell + fill*centre) / (empty + fill)
	}
}

// centreOfFill is the height of the centre of a volume (over the section's factor) that fills the outline
// from below. More than the whole counts as full.
func (o *outline) centreOfFill(v float64) float64 {
	const n = 400
	h := (o.high - o.low) / n
	sum, moment := 0.0, 0.0
	for i := range n {
		z := o.low + (float64(i)+0.5)*h
		dv := o.inside(z) * h
		if sum+dv > v {
			dv = v - sum
		}
		sum += dv
		moment += dv * z
		if sum >= v {
			break
		}
	}
	if sum == 0 {
		return (o.low + o.high) / 2
	}
	return moment / sum
}

// inside is the radius2 enclosed at a height: the outer walls' less the recesses'.
func (o *outline) inside(z float64) float64 {
	r2 := 0.0
	for i := range o.pieces {
		p := &o.pieces[i]
		n := 1
		if p.radius > 0 {
			n = max(1, int(math.Ceil(math.Abs(p.sweep)/turn)))
		}
		ra, za, _, _ := p.at(0)
		for k := range n {
			rb, zb, _, _ := p.at(p.length * float64(k+1) / float64(n))
			if (za > z) != (zb > z) {
				r := ra + (rb-ra)*(z-za)/(zb-za)
				if zb > za {
					r2 += r * r
				} else {
					r2 -= r * r
				}
			}
			ra, za = rb, zb
		}
	}
	return math.Max(0, r2)
}

// walls are the materials of a container's zones.
type walls struct {
	list  []Material
	zone  []int
	water string
}

func newWalls(c job.Container, zones []string, water string) *walls {
	w := &walls{zone: make([]int, len(zones)), water: water}
	base := w.named(c.Material, -1)
	for i, z := range zones {
		w.zone[i] = base
		for _, j := range c.Walls {
			if j.Zone != z && j.Zone != job.ZoneAll {
				continue
			}
			m := w.named(j.Material, base)
			if j.Advancing.Known || j.Receding.Known {
				own := w.list[m]
				own.Name += " (" + z + ")"
				own.Source = "given"
				if j.Advancing.Known {
					own.Advancing = j.Advancing.V
				}
				if j.Receding.Known {
					own.Receding = j.Receding.V
				}
				own.Receding = min(own.Receding, own.Advancing)
				w.list = append(w.list, own)
				m = len(w.list) - 1
			}
			w.zone[i] = m
		}
	}
	return w
}

// named is the index of a material of the catalogue; other when the name is empty. A name that the catalogue
// does not know behaves as PET: catalogue.Expand has refused it before.
func (w *walls) named(name string, other int) int {
	if name == "" && other >= 0 {
		return other
	}
	m, err := catalogue.MaterialNamed(name)
	if err != nil {
		m, _ = catalogue.MaterialNamed("PET")
	}
	for i := range w.list {
		if w.list[i].Name == m.Name {
			return i
		}
	}
	w.list = append(w.list, wall(m.In(w.water)))
	return len(w.list) - 1
}

func wall(m catalogue.Material) Material {
	return Material{
		Name: m.Name, Advancing: q.Angle(m.Advancing.Likely), Receding: q.Angle(m.Receding.Likely),
		Conductance: m.Conductance, Source: m.Source,
	}
}
