package view

import (
	"fmt"
	"math"

	"leste/job"
	"leste/render/scene"
	"leste/station"
)

// A Scene is the stations of a job as one format meets them.
type Scene struct {
	Format   string    `json:"format"`
	Formats  []string  `json:"formats" doc:"All formats of the job."`
	Speed    Number    `json:"speed_m_s"`
	Body     *Body     `json:"body" doc:"null for a job without containers."`
	Line     Line      `json:"line"`
	Stations []Station `json:"stations"`
}

// A Body is a container's outline: what is seen along the line, across it, and from above.
type Body struct {
	Path   string `json:"path"`
	Width  Number `json:"width_mm"`
	Depth  Number `json:"depth_mm"`
	Height Number `json:"height_mm"`
	Pitch  Number `json:"pitch_mm"`
	Side   Shape  `json:"side" doc:"Half widths along travel by height."`
	End    Shape  `json:"end" doc:"Half widths across travel by height."`
	Top    Shape  `json:"top" doc:"The widest section: x and y."`
	Zones  []Zone `json:"zones" doc:"From the base to the top."`
}

// A Shape is points by their two coordinates.
type Shape struct {
	A Numbers `json:"a"`
	B Numbers `json:"b"`
}

// A Zone is a band of heights of the outline.
type Zone struct {
	Name string `json:"name"`
	From Number `json:"from_mm"`
	To   Number `json:"to_mm"`
}

// A Station is one station in its own coordinates.
type Station struct {
	Path       string   `json:"path"`
	Name       string   `json:"name"`
	At         Number   `json:"x_mm" doc:"Of its datum on the line."`
	Outlets    []Outlet `json:"outlets"`
	Rails      []Rail   `json:"rails"`
	Belt       Number   `json:"belt_mm" doc:"Width of the belt; null where it is not known or there is none."`
	Gripped    bool     `json:"gripped" doc:"Grips carry the containers: there is no belt."`
	Boxes      []Box    `json:"boxes" doc:"Grips and obstacles."`
	Neighbours Numbers  `json:"neighbours_mm"`
}

// An Outlet is one outlet in place.
type Outlet struct {
	Path      string  `json:"path"`
	Name      string  `json:"name"`
	Kind      string  `json:"kind"`
	Side      string  `json:"side"`
	Middle    Numbers `json:"middle_mm"`
	Line      Numbers `json:"line" doc:"Unit vector along the outlet."`
	Axis      Numbers `json:"axis" doc:"Unit vector of the air."`
	Length    Number  `json:"length_mm"`
	StandOff  Number  `json:"stand_off_mm" doc:"null when the air misses the container."`
	Clearance Number  `json:"clearance_mm" doc:"Shortest way from the lip to the wall."`
	Tilt      Number  `json:"tilt_deg"`
	ByOffset  bool    `json:"by_offset" doc:"Its distance is given from the line's centre, not from the wall."`
	Ports     Numbers `json:"ports_mm" doc:"Places of nozzles along the line."`
	Solids    []Solid `json:"solids"`
}

// A Solid is a convex body between two loops of corners, x, y and z one after the other.
type Solid struct {
	A Numbers `json:"a"`
	B Numbers `json:"b"`
}

// A Rail is a guide rail along the line, on one side of it.
type Rail struct {
	Path   string `json:"path" doc:"Of the pair in the file."`
	Y      Number `json:"y_mm"`
	Z      Number `json:"z_mm"`
	Radius Number `json:"radius_mm"`
	Play   Number `json:"play_mm" doc:"Clearance to the container."`
}

// A Box is something solid beside the line.
type Box struct {
	Name string  `json:"name"`
	From Numbers `json:"from_mm"`
	To   Numbers `json:"to_mm"`
}

// SceneOf draws a filled job and its plan as the named format meets it; the first format when there is no such.
func SceneOf(j *job.Job, plan *station.Plan, format string) Scene {
	out := Scene{Formats: []string{}, Stations: []Station{}}
	var f *station.FormatPlan
	for i := range j.Formats {
		out.Formats = append(out.Formats, j.Formats[i].Name)
	}
	if plan != nil {
		for i := range plan.Formats {
			if f == nil || plan.Formats[i].Format.Name == format {
				f = &plan.Formats[i]
			}
		}
	}
	out.Line = LineOf(j, f)
	if f == nil {
		return out
	}
	out.Format, out.Speed = f.Format.Name, Number(f.Speed)
	out.Body = bodyOf(j, f)
	for i := range f.Stations {
		out.Stations = append(out.Stations, stationOf(j, f, i))
	}
	return out
}

func bodyOf(j *job.Job, f *station.FormatPlan) *Body {
	b, s := f.Body, f.Body.Surface
	out := &Body{
		Path: "/formats/0", Width: Number(b.Width * mm), Depth: Number(b.Depth * mm), Height: Number(b.Height * mm),
		Pitch: Number(float64(f.Pitch) * mm), Zones: []Zone{},
	}
	for i := range j.Formats {
		if j.Formats[i].Name == f.Format.Name {
			out.Path = fmt.Sprintf("/formats/%d", i)
		}
	}
	widest, most := 0, 0.0
	for row := range s.Rows {
		x, y, z := 0.0, 0.0, 0.0
		for col := range s.Cols {
			p := s.Pos[row*s.Cols+col]
			x, y, z = max(x, math.Abs(p.X)), max(y, math.Abs(p.Y)), z+p.Z
		}
		z = tidy(z / float64(s.Cols) * mm)
		out.Side.A, out.Side.B = append(out.Side.A, tidy(x*mm)), append(out.Side.B, z)
		out.End.A, out.End.B = append(out.End.A, tidy(y*mm)), append(out.End.B, z)
		if x*y > most {
			widest, most = row, x*y
		}
		name := s.Zones[s.Zone[row*s.Cols]]
		if n := len(out.Zones); n > 0 && out.Zones[n-1].Name == name {
			out.Zones[n-1].To = Number(z)
		} else {
			out.Zones = append(out.Zones, Zone{name, Number(z), Number(z)})
		}
	}
	for col := range s.Cols {
		p := s.Pos[widest*s.Cols+col]
		out.Top.A, out.Top.B = append(out.Top.A, tidy(p.X*mm)), append(out.Top.B, tidy(p.Y*mm))
	}
	return out
}

func stationOf(j *job.Job, f *station.FormatPlan, i int) Station {
	s := &f.Stations[i]
	out := Station{
		Path: fmt.Sprintf("/stations/%d", i), Name: s.Name, At: Number(s.At * mm),
		Outlets: []Outlet{}, Rails: []Rail{}, Boxes: []Box{}, Neighbours: Numbers{},
	}
	out.Belt, out.Gripped = Number(math.NaN()), !s.Belt && s.BeltHalf == 0
	if s.BeltHalf > 0 && !math.IsInf(s.BeltHalf, 1) {
		out.Belt = Number(tidy(2 * s.BeltHalf * mm))
	}
	for _, x := range s.Neighbours {
		out.Neighbours = append(out.Neighbours, tidy(x*mm))
	}
	for k, p := range s.Outlets {
		out.Outlets = append(out.Outlets, outletOf(j, f.Body, i, k, p))
	}
	for _, r := range s.Rails {
		path, play := railOf(j, r)
		out.Rails = append(out.Rails, Rail{path, Number(tidy(r.Y * mm)), Number(tidy(r.Z * mm)), Number(tidy(r.Radius * mm)), Number(play)})
	}
	for _, list := range [][]job.Box{s.Grips, s.Obstacles} {
		for _, b := range list {
			out.Boxes = append(out.Boxes, Box{
				b.Name,
				point(station.Vec{X: float64(b.XFrom), Y: float64(b.YFrom), Z: float64(b.ZFrom)}),
				point(station.Vec{X: float64(b.XTo), Y: float64(b.YTo), Z: float64(b.ZTo)}),
			})
		}
	}
	return out
}

// railOf is where the file has the rail that a bar belongs to, and its play [mm].
func railOf(j *job.Job, b station.Bar) (path string, play float64) {
	if g := j.Line.NeckGuide; b.Neck && g != nil {
		return "/line/neck_guide", g.Play.V.MM()
	}
	for i := range j.Line.Rails {
		r := &j.Line.Rails[i]
		there := r.Side == "" || r.Side == "both" || r.Side == "left" == (b.Y > 0)
		if there && float64(r.Height) == b.Z && float64(r.Diameter.V) == 2*b.Radius {
			return fmt.Sprintf("/line/rails/%d", i), r.Play.V.MM()
		}
	}
	return "/line/rails", math.NaN()
}

func outletOf(j *job.Job, body *station.Body, i, k int, p station.Placed) Outlet {
	out := Outlet{
		Path: fmt.Sprintf("/stations/%d/outlets/%d", i, k), Name: p.Name, Kind: p.Kind, Side: p.Side,
		Middle: point(p.Middle), Line: direction(p.Line), Axis: direction(p.Axis), Length: Number(p.Length * mm),
		StandOff: Number(p.StandOff * mm), Clearance: Number(scene.Clearance(p, body) * mm),
		Tilt: Number(tidy(scene.Tilt(p) * 180 / math.Pi)), Ports: Numbers{}, Solids: []Solid{},
	}
	for _, x := range p.Ports {
		out.Ports = append(out.Ports, tidy(x*mm))
	}
	var said *job.Outlet
	if i < len(j.Stations) {
		for n := range j.Stations[i].Outlets {
			if o := &j.Stations[i].Outlets[n]; o.Name == p.Name {
				said = o
				out.Path = fmt.Sprintf("/stations/%d/outlets/%d", i, n)
			}
		}
	}
	if said != nil {
		out.ByOffset = said.Offset.Known && !said.StandOff.Known && (p.Side == "left" || p.Side == "right")
	}
	for _, s := range scene.Solids(p) {
		out.Solids = append(out.Solids, Solid{corners(s.A), corners(s.B)})
	}
	return out
}

func corners(vs []station.Vec) Numbers {
	out := make(Numbers, 0, 3*len(vs))
	for _, v := range vs {
		out = append(out, point(v)...)
	}
	return out
}
