package catalogue

import (
	"math"

	"leste/job"
	q "leste/quantity"
)

// petBottles are bottles with a neck ring; a petalled base is drawn as a shallow dome.
func petBottles() Family {
	return Family{
		Name: "PET bottle", Also: []string{"PET", "plastic bottle"}, Doc: "PET bottle with the PCO 1881 finish and its cap.",
		Material: "PET", Section: "round", Closures: []string{CapPCO1881, CapPCO1881Vented},
		Sizes: []Size{
			size("500", 65, 222, 12.5, 22.0, 502),
			size("330", 58, 182, 12.5, 17.5, 332),
			size("1000", 80, 274, 12.5, 32.0, 1002),
			size("1500", 90, 318, 12.5, 38.0, 1502),
		},
		Zones:  bottleZones(true),
		Source: "finish from memory of the trade's PCO 1881 drawing; body generic",
		build: func(s Size, c closure) body {
			return buildBottle(s, c, bottle{ring: 16.5, lean: 1.15, heel: 12, panel: true, dome: 4})
		},
	}
}

// glassBottles are long-necked bottles with a crown, or a roll-on cap.
func glassBottles() Family {
	return Family{
		Name: "glass bottle", Also: []string{"glass"}, Doc: "Long-necked glass bottle with a crown or a roll-on cap.",
		Material: "coated glass", Section: "round", Closures: []string{Crown, RollOn},
		Sizes: []Size{
			size("330 long neck", 61, 230, 13.2, 210, 333),
			size("500 long neck", 67.5, 261, 13.2, 350, 504),
		},
		Zones:  bottleZones(false),
		Source: "crown from memory of the 26-mm crown; body generic",
		build: func(s Size, c closure) body {
			return buildBottle(s, c, bottle{lean: 1.4, heel: 6, neck: 0.24, panel: true, dome: 4})
		},
	}
}

// ovalBottles ride with their long side along travel.
func ovalBottles() Family {
	oval := size("750", 62, 250, 12.5, 46, 760)
	oval.Width = q.Millimetres(92)
	return Family{
		Name: "oval bottle", Also: []string{"oval"}, Doc: "Oval bottle for household products, with a flip-top cap.",
		Material: "HDPE", Section: "oval", Closures: []string{FlipTop},
		Sizes: []Size{oval}, Zones: bottleZones(false), Source: generic,
		build: func(s Size, c closure) body {
			s.Diameter = s.Width // the profile is drawn along travel
			return buildBottle(s, c, bottle{lean: 0.8, heel: 6, panel: true, dome: 3})
		},
	}
}

func bottleZones(ring bool) []string {
	z := []string{job.ZoneDome, job.ZoneBase, job.ZoneHeel, job.ZoneSidewall, job.ZoneLabelPanel, job.ZoneShoulder, job.ZoneFinish}
	if ring {
		z = append(z, job.ZoneNeckRing)
	}
	return append(z, job.ZoneTamperBand, job.ZoneClosure)
}

// A bottle is the shape of a body between base and finish [mm and ratios].
type bottle struct {
	ring  float64 // radius of a ring below the closure; 0 without
	lean  float64 // height of the shoulder over the radius it spans
	heel  float64 // radius of the heel
	neck  float64 // length of the neck over the height
	panel bool
	dome  float64 // rise of the base
}

func buildBottle(s Size, c closure, k bottle) body {
	r, h, neck := s.Diameter.MM()/2, s.Height.MM(), s.Neck.MM()
	stand := r - k.heel
	top := h - c.height - 9 - k.neck*h // where the neck begins
	shoulder := top - k.lean*math.Max(4, r-neck)
	p := start(k.dome).
		dome(job.ZoneDome, stand-4, k.dome).
		to(job.ZoneBase, stand, 0, 0).
		arc(job.ZoneHeel, r, k.heel, k.heel, 0)
	straight := shoulder - k.heel
	if k.panel {
		p.to(job.ZoneSidewall, r, k.heel+0.12*straight, 0).
			to(job.ZoneLabelPanel, r, k.heel+0.8*straight, 0)
	}
	p.to(job.ZoneSidewall, r, shoulder, math.Min(18, 0.4*math.Max(4, r-neck))).
		to(job.ZoneShoulder, neck, top, math.Min(5, 0.3*math.Max(4, r-neck)))
	var b body
	p.finish(&b, c, neck, k.ring, h)
	b.profile = p.steps
	b.pools = append(b.pools, job.Pool{
		Name: "dome", Zone: job.ZoneDome, Height: q.Millimetres(k.dome), Outer: q.Millimetres(stand - 4),
		Depth: q.Millimetres(k.dome), Faces: "down",
	})
	b.least = k.heel + 15 + h - shoulder
	return b
}

// jars have a wide mouth and a twist cap.
func jars() Family {
	return Family{
		Name: "jar", Also: []string{"glass jar"}, Doc: "Wide-mouthed glass jar with a twist cap.",
		Material: "coated glass", Section: "round", Closures: []string{Twist},
		Sizes: []Size{
			size("370", 73, 112, 29, 190, 370),
			size("212", 62, 88, 27, 130, 212),
			size("720", 86, 150, 38, 300, 720),
		},
		Zones:  bottleZones(false),
		Source: generic,
		build: func(s Size, c closure) body {
			c.radius = s.Neck.MM() + 2.5
			return buildBottle(s, c, bottle{lean: 0.9, heel: 5, panel: true, dome: 3})
		},
	}
}
