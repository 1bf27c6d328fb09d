package catalogue

import (
	"math"

	"leste/job"
	q "leste/quantity"
)

const generic = "generic: common practice, no source"

// size takes mm and g; neck is a radius.
func size(name string, diameter, height, neck, empty, fill float64) Size {
	return Size{
		Name: name, Diameter: q.Millimetres(diameter), Height: q.Millimetres(height), Neck: q.Millimetres(neck),
		EmptyMass: q.Mass(empty * 1e-3), FillMass: q.Mass(fill * 1e-3),
	}
}

// cans are two-piece drink cans with their end seamed on.
func cans() Family {
	// The trade counts ends in inches and sixteenths: 202 is 2 2/16 in, 200 is 2 in across the seam.
	const end202, end200 = 53.98 / 2, 50.8 / 2
	return Family{
		Name: "can", Also: []string{"drink can", "beverage can"}, Doc: "Two-piece drink can with its end.",
		Material: "printed aluminium", Section: "round",
		Sizes: []Size{
			size("330 standard", 66.2, 115.2, end202, 12.6, 335),
			size("355 standard", 66.2, 122.2, end202, 13.1, 360),
			size("500", 66.2, 168.0, end202, 16.0, 508),
			size("330 sleek", 57.4, 145.8, end202, 12.5, 335),
			size("355 sleek", 57.4, 155.6, end202, 13.1, 360),
			size("250 slim", 53.3, 134.0, end200, 10.4, 254),
		},
		Zones:  []string{job.ZoneDome, job.ZoneBase, job.ZoneHeel, job.ZoneSidewall, job.ZoneShoulder, job.ZoneSeam, job.ZoneCountersink, job.ZoneEnd},
		Source: "end by the trade's inch count; the rest generic",
		build:  buildCan,
	}
}

func buildCan(s Size, _ closure) body {
	r, h, seam := s.Diameter.MM()/2, s.Height.MM(), s.Neck.MM()
	stand := math.Min(24.2, 0.75*r) // middle of the ring it stands on
	dome := stand - 2
	const rise, heel, sink = 7.3, 9.5, 6.3
	neck := seam - 0.9
	shoulder := h - 4.5 - math.Max(4, 1.75*(r-neck))
	p := start(3+rise).
		dome(job.ZoneDome, dome, rise).
		to(job.ZoneBase, stand-0.9, 0, 0.8).
		to(job.ZoneBase, stand+1, 0, 1).
		to(job.ZoneHeel, r, heel, 4).
		to(job.ZoneSidewall, r, shoulder, 4).
		to(job.ZoneShoulder, neck, h-4.5, 1.5).
		to(job.ZoneShoulder, neck, h-2.6, 0).
		to(job.ZoneSeam, seam, h-2.6, 0).
		to(job.ZoneSeam, seam, h, 0.4).
		to(job.ZoneSeam, seam-1.2, h, 0.4).
		to(job.ZoneCountersink, seam-3.8, h-sink, 0.4).
		to(job.ZoneCountersink, seam-4.8, h-sink, 0.4).
		to(job.ZoneCountersink, seam-5.1, h-sink+2.1, 0.4).
		to(job.ZoneEnd, 0, h-sink+2.1, 0)
	return body{
		profile: p.steps,
		crevices: []job.Crevice{{
			Name: "under the seam", Zone: job.ZoneSeam, Height: q.Millimetres(h - 2.6), Radius: q.Millimetres(neck + 0.3),
			Gap: mm(0.5), Depth: mm(1), Exit: "around", Faces: "down", Material: "lacquered aluminium",
		}},
		pools: []job.Pool{
			{
				Name: "countersink", Zone: job.ZoneCountersink, Height: q.Millimetres(h - sink), Inner: q.Millimetres(seam - 5.1),
				Outer: q.Millimetres(seam - 2.6), Depth: q.Millimetres(4), Faces: "up",
			},
			{
				Name: "dome", Zone: job.ZoneDome, Height: q.Millimetres(3 + rise), Outer: q.Millimetres(dome),
				Depth: q.Millimetres(rise), Faces: "down",
			},
		},
		walls: zoned("lacquered aluminium", job.ZoneDome, job.ZoneBase, job.ZoneHeel, job.ZoneSeam, job.ZoneCountersink, job.ZoneEnd),
		least: heel + 10 + (h - shoulder),
	}
}

// zoned gives zones a material.
func zoned(material string, zones ...string) []job.ZoneMaterial {
	var w []job.ZoneMaterial
	for _, z := range zones {
		w = append(w, job.ZoneMaterial{Zone: z, Material: material})
	}
	return w
}
