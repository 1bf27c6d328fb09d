package catalogue

import (
	"leste/job"
	q "leste/quantity"
)

// A closure is drawn from its lower edge up; below it a body has its finish.
type closure struct {
	name     string
	also     []string
	material string
	radius   float64 // mm, outer
	height   float64 // mm, band included
	band     float64 // mm, height of the tamper band; 0 without
	gap      float64 // mm, between its lower edge and the finish
	depth    float64 // mm, how far the gap reaches up
	exit     string
	vents    int
	recess   float64 // mm, depth of a recess in its top; 0 without
	source   string
}

// Closures of the catalogue.
const (
	CapPCO1881       = "PCO 1881 cap"
	CapPCO1881Vented = "PCO 1881 vented cap"
	Crown            = "crown"
	RollOn           = "roll-on"
	Twist            = "twist cap"
	FlipTop          = "flip-top cap"
)

func closures() []closure {
	return []closure{
		{name: CapPCO1881, also: []string{"PCO 1881", "screw cap"}, material: "HDPE", radius: 15.0, height: 15.4, band: 3.6, gap: 0.3, depth: 3, exit: "around", source: "outer size from memory of the trade's PCO 1881 finish drawing; gap and depth common practice, no source"},
		{name: CapPCO1881Vented, also: []string{"vented cap"}, material: "HDPE", radius: 15.0, height: 15.4, band: 3.6, gap: 0.3, depth: 3, exit: "vents", vents: 4, source: "as the PCO 1881 cap, with vent slots: common practice, no source"},
		{name: Crown, also: []string{"crown cork", "crown cap"}, material: "lacquered tinplate", radius: 16.05, height: 6, gap: 0.4, depth: 2.5, exit: "around", source: "outer size from memory of the 26-mm crown; gap and depth common practice, no source"},
		{name: RollOn, also: []string{"roll-on cap", "ROPP"}, material: "lacquered aluminium", radius: 14.6, height: 18, band: 4, gap: 0.25, depth: 3, exit: "around", source: generic},
		{name: Twist, also: []string{"twist-off", "lug cap", "twist"}, material: "lacquered tinplate", height: 10, gap: 0.6, depth: 4, exit: "around", recess: 1.2, source: generic},
		{name: FlipTop, also: []string{"hinged cap"}, material: "PP", radius: 15.5, height: 24, gap: 0.4, depth: 4, exit: "around", recess: 2, source: generic},
	}
}

// closure finds the closure a job names among those that fit, the usual one when it names none.
func (f Family) closure(name string) (closure, error) {
	if len(f.Closures) == 0 {
		if name != "" {
			return closure{}, unknown("closure for the family "+f.Name, name, []string{"none is needed"})
		}
		return closure{}, nil
	}
	if name == "" {
		name = f.Closures[0]
	}
	for _, c := range closures() {
		if !is(name, c.name, c.also) {
			continue
		}
		for _, fits := range f.Closures {
			if fits == c.name {
				return c, nil
			}
		}
	}
	return closure{}, unknown("closure for the family "+f.Name, name, f.Closures)
}

// finish draws neck ring (when ring > 0), finish and closure on a neck of radius neck, up to the height h, and
// adds the crevices between closure and finish.
func (p *pen) finish(b *body, c closure, neck, ring, h float64) {
	edge := h - c.height
	wall := c.radius - 1.1 // radius of the finish behind the closure
	if ring > 0 {
		p.to(job.ZoneFinish, neck, edge-4.6, 0)
		p.to(job.ZoneNeckRing, ring, edge-4.2, 0)
		p.to(job.ZoneNeckRing, ring, edge-2.2, 0.5)
		p.to(job.ZoneNeckRing, wall, edge-2.0, 0)
	} else {
		p.to(job.ZoneFinish, neck, edge-5, 0)
		p.to(job.ZoneFinish, wall, edge-4, 0.5)
	}
	p.to(job.ZoneFinish, wall, edge, 0)
	if c.band > 0 {
		p.to(job.ZoneTamperBand, c.radius-0.1, edge, 0)
		p.to(job.ZoneTamperBand, c.radius-0.1, edge+c.band, 0)
		p.to(job.ZoneClosure, c.radius, edge+c.band, 0)
	} else {
		p.to(job.ZoneClosure, c.radius, edge, 0)
	}
	p.to(job.ZoneClosure, c.radius, h, 0.8)
	if c.recess > 0 {
		p.to(job.ZoneClosure, c.radius-2, h, 0.4)
		p.to(job.ZoneClosure, c.radius-2.5, h-c.recess, 0.4)
		p.to(job.ZoneClosure, 0, h-c.recess, 0)
		b.pools = append(b.pools, job.Pool{
			Name: "closure top", Zone: job.ZoneClosure, Height: q.Millimetres(h - c.recess),
			Outer: q.Millimetres(c.radius - 2.5), Depth: q.Millimetres(c.recess), Faces: "up",
		})
	} else {
		p.to(job.ZoneClosure, 0, h, 0)
	}
	zones := []string{job.ZoneClosure}
	if c.band > 0 {
		zones = append(zones, job.ZoneTamperBand)
		b.crevices = append(b.crevices, job.Crevice{
			Name: "between skirt and tamper band", Zone: job.ZoneTamperBand, Height: q.Millimetres(edge + c.band),
			Radius: q.Millimetres(c.radius), Gap: mm(0.15), Depth: mm(1), Exit: "around", Faces: "out", Material: c.material,
		})
	}
	b.crevices = append(b.crevices, job.Crevice{
		Name: "closure skirt", Zone: job.ZoneClosure, Height: q.Millimetres(edge), Radius: q.Millimetres(c.radius - 1),
		Gap: mm(c.gap), Depth: mm(c.depth), Exit: c.exit, Vents: c.vents, Faces: "down", Material: c.material,
	})
	b.walls = append(b.walls, zoned(c.material, zones...)...)
}
