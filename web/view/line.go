package view

import (
	"fmt"
	"math"

	"leste/job"
	"leste/station"
)

// A Line is the whole line seen from the side, x from the first station's datum.
type Line struct {
	Arrives  Arrival   `json:"arrives"`
	Stations []Stop    `json:"stations"`
	Machines []Machine `json:"machines"`
	Speed    Number    `json:"speed_m_s"`
	Pitch    Number    `json:"pitch_mm"`
	Height   Number    `json:"height_mm" doc:"Of the container."`
	Reversed bool      `json:"reversed" doc:"The operator sees travel from right to left."`
}

// An Arrival is where the containers were wetted last.
type Arrival struct {
	From  string `json:"from"`
	Looks string `json:"looks"`
	At    Number `json:"x_mm"`
}

// A Stop is a station on the line with the stretch that its outlets take.
type Stop struct {
	Path  string `json:"path"`
	Name  string `json:"name"`
	State string `json:"state"`
	At    Number `json:"x_mm"`
	From  Number `json:"from_mm"`
	To    Number `json:"to_mm"`
}

// A Machine is a machine downstream.
type Machine struct {
	Path  string `json:"path"`
	Kind  string `json:"kind"`
	Name  string `json:"name" doc:"As results call it."`
	At    Number `json:"x_mm"`
	After string `json:"after" doc:"Station before it."`
}

// LineOf draws the line of a filled job as one of its formats runs on it; f is nil for a job without containers.
func LineOf(j *job.Job, f *station.FormatPlan) Line {
	out := Line{
		Arrives:  Arrival{From: j.Arrives.From, Looks: j.Arrives.Looks},
		Stations: []Stop{}, Machines: []Machine{}, Reversed: j.Line.Travel == "right to left",
	}
	first := 0.0
	at := map[string]float64{}
	last := ""
	for i := range j.Stations {
		s := &j.Stations[i]
		x := float64(s.At.V)
		from, to := x, x
		if f != nil && i < len(f.Stations) {
			for _, o := range f.Stations[i].Outlets {
				reach := o.Length / 2 * math.Abs(o.Line.X)
				from, to = min(from, x+o.Middle.X-reach), max(to, x+o.Middle.X+reach)
			}
		}
		at[s.Name] = x
		if last == "" || x >= at[last] {
			last = s.Name
		}
		if i == 0 || from < first {
			first = from
		}
		out.Stations = append(out.Stations, Stop{fmt.Sprintf("/stations/%d", i), s.Name, s.State, Number(x * mm), Number(from * mm), Number(to * mm)})
	}
	speed := 0.0
	if f != nil {
		speed = float64(f.Speed)
		out.Speed, out.Pitch, out.Height = Number(speed), Number(float64(f.Pitch)*mm), Number(f.Body.Height*mm)
		if a := f.Format.Arrives; a != nil {
			out.Arrives.From, out.Arrives.Looks = a.From, a.Looks
		}
	}
	out.Arrives.At = Number((first - speed*float64(j.Arrives.Since.V)) * mm)
	for i := range j.Next {
		m := &j.Next[i]
		after := m.After
		if _, ok := at[after]; !ok {
			after = last
		}
		name := m.Name
		if name == "" {
			name = m.Machine
		}
		out.Machines = append(out.Machines, Machine{fmt.Sprintf("/next/%d", i), m.Machine, name, Number((at[after] + float64(m.Distance.V)) * mm), after})
	}
	return out
}
