package scene

import (
	"math"
	"time"

	"leste/job"
	q "leste/quantity"
	"leste/render/words"
	"leste/station"
)

// turned is a round body from points of its profile [mm: radius, height], sampled every 2 mm.
func turned(name string, profile [][2]float64) *station.Body {
	const cols = 72
	b := &station.Body{Format: name, Surface: &station.Surface{Cols: cols}}
	s := b.Surface
	for i := 1; i < len(profile); i++ {
		p, n := profile[i-1], profile[i]
		long := math.Hypot(n[0]-p[0], n[1]-p[1])
		steps := max(1, int(long/2))
		for k := range steps {
			f := (float64(k) + 0.5) / float64(steps)
			r, z := (p[0]+f*(n[0]-p[0]))*1e-3, (p[1]+f*(n[1]-p[1]))*1e-3
			for c := range cols {
				sin, cos := math.Sincos(2 * math.Pi * (float64(c) + 0.5) / cols)
				s.Pos = append(s.Pos, station.Vec{X: r * cos, Y: r * sin, Z: z})
			}
			s.Rows++
			b.Width = max(b.Width, 2*r)
			b.Height = max(b.Height, z)
		}
	}
	b.Depth = b.Width
	return b
}

// can is a can of 66 mm by 115 mm: dome, wall, neck, recessed end.
func can() *station.Body {
	b := turned("330 mL can", [][2]float64{{0, 10}, {18, 5}, {23, 0}, {26, 1}, {33, 10}, {33, 98}, {27, 110}, {27, 115}, {25.5, 115}, {23, 109}, {0, 110}})
	b.Width, b.Depth, b.Height = 0.066, 0.066, 0.115
	return b
}

// knife is an air knife beside the line: tilted and aimed down [deg], its lip so far from the axis [mm].
func knife(name, side string, tilt, aim, lip float64) station.Placed {
	s := 1.0
	if side == "right" {
		s = -1
	}
	st, ct := math.Sincos(tilt * math.Pi / 180)
	sa, ca := math.Sincos(aim * math.Pi / 180)
	line := station.Vec{X: ct, Z: -st}
	up := station.Vec{X: st, Z: ct}
	axis := add(times(station.Vec{Y: -s}, ca), times(up, -sa))
	return station.Placed{
		Name: name, Kind: job.AirKnife, Side: side, Middle: station.Vec{Y: s * lip * 1e-3, Z: 0.068}, Line: line, Axis: axis,
		Length: 0.3, Gap: 0.0015, StandOff: 0.04, Opening: q.Area(0.3 * 0.0015), Plenum: 0.06,
	}
}

func literal(travel string) (*job.Job, *station.Plan) {
	manifold := station.Placed{
		Name: "top manifold", Kind: job.NozzleManifold, Side: "above", Middle: station.Vec{X: 0.12, Z: 0.2}, Line: station.Vec{Y: 1}, Axis: station.Vec{Z: -1},
		Length: 0.06, Bore: 0.008, Ports: []float64{-0.03, -0.01, 0.01, 0.03}, Spacing: 0.02, StandOff: 0.085, Opening: 2e-4, Plenum: 0.0276,
	}
	scene := station.Scene{
		Name: "before the packer", Belt: true, Outlets: []station.Placed{knife("left knife", "left", 22, 10, 73), knife("right knife", "right", 22, 10, 73), manifold},
		Rails: []station.Bar{{Y: 0.042, Z: 0.03, Radius: 0.006}, {Y: -0.042, Z: 0.03, Radius: 0.006}},
	}
	body := can()
	j := &job.Job{
		Name: "Can line 2: sidewall and seam before the packer", Line: job.Line{Travel: travel},
		Stations: []job.Station{{Name: "before the packer", Outlets: []job.Outlet{{Name: "left knife", PlenumBore: q.Known(q.Millimetres(60))}, {Name: "right knife", PlenumBore: q.Known(q.Millimetres(60))}}}},
	}
	return j, &station.Plan{Formats: []station.FormatPlan{{
		Format: job.Format{Name: "330 mL can"}, Body: body, Pitch: 0.08, Stations: []station.Scene{scene},
	}}}
}

func options() Options {
	w, err := words.New("en", words.SI)
	if err != nil {
		panic(err)
	}
	return Options{Words: w, Number: "Q-1042-D1", Revision: "B", By: "Ponta Clara Air Engineering", Date: time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)}
}
