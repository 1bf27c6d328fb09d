package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"

	leste "leste"
	q "leste/quantity"
	"leste/render/wallmap"
)

// usualFrames is how many moments of a pass a result keeps.
const usualFrames = 8

// dotsPerMMOfFrames: 150 dots to the inch, for pictures that are looked through.
const dotsPerMMOfFrames = 6

// mostMoments is the largest number of moments that may be asked for.
const mostMoments = 200

// moments reads a list of times such as "0.1 s, 250 ms".
func moments(list string) ([]float64, error) {
	var all []float64
	for text := range strings.SplitSeq(list, ",") {
		t, err := q.Parse[q.Duration](strings.TrimSpace(text))
		if err != nil {
			return nil, wrongInput(err, "assess --moments")
		}
		if !(t >= 0) || math.IsInf(float64(t), 1) {
			return nil, wrongInput(nil, "assess --moments: %s is no time under the stations; give one of 0 s or more", strings.TrimSpace(text))
		}
		all = append(all, float64(t))
	}
	if len(all) > mostMoments {
		return nil, wrongInput(nil, "assess --moments: %d times are too many; give %d at most", len(all), mostMoments)
	}
	return all, nil
}

// frameFiles are the files of the moments that a result kept: for each format its data, a sheet with all
// moments and a picture of each. An error says when there are none at all.
func frameFiles(r *leste.Result) ([]output, error) {
	var files []output
	names := make([]string, len(r.Formats))
	for i := range r.Formats {
		names[i] = r.Formats[i].Name
	}
	for i, name := range uniqueNames(names) {
		f := &r.Formats[i]
		frames, err := wallmap.NewFrames(r, f)
		if errors.Is(err, wallmap.ErrNoFrames) {
			continue
		}
		if err != nil {
			return nil, broken(err, "the moments of %s cannot be drawn", f.Name)
		}
		data, err := json.Marshal(framesDocument(r.Job, f))
		if err != nil {
			return nil, broken(err, "the moments of %s cannot be written", f.Name)
		}
		files = append(files, output{"frames-" + name + ".json", append(data, '\n')})
		sheet, err := frames.Strip().PNG(dotsPerMMOfFrames)
		if err != nil {
			return nil, broken(err, "the moments of %s cannot be drawn", f.Name)
		}
		files = append(files, output{"frames-" + name + ".png", sheet})
		for k := range frames.Len() {
			picture, err := frames.Draw(k).PNG(dotsPerMMOfFrames)
			if err != nil {
				return nil, broken(err, "moment %d of %s cannot be drawn", k+1, f.Name)
			}
			files = append(files, output{fmt.Sprintf("frame-%s-%02d.png", name, k+1), picture})
		}
	}
	if len(files) == 0 {
		return nil, wrongInput(nil, "assess --frames: %v, and a time past the last station shows nothing", wallmap.ErrNoFrames)
	}
	return files, nil
}

// framesData is the water on a wall at moments of its pass.
type framesData struct {
	Schema string       `json:"schema"`
	Job    string       `json:"job"`
	Format string       `json:"format"`
	Case   string       `json:"case"`
	Rows   int          `json:"rows"`
	Cols   int          `json:"columns"`
	S      []float64    `json:"row_edges_mm"`
	Radius []float64    `json:"row_radius_mm"`
	Zone   []string     `json:"row_zone"`
	Frames []momentData `json:"frames"`
}

// momentData is one of them; cells are listed row by row from the middle of the base, each row from the leading
// side over the left one.
type momentData struct {
	Station string    `json:"station"`
	Time    float64   `json:"time_s"`
	X       float64   `json:"x_mm"`
	Total   float64   `json:"on_wall_mg"`
	Water   []float64 `json:"water_g_m2"`
	Press   []float64 `json:"impact_pressure_pa"`
}

func framesDocument(jobName string, f *leste.FormatResult) framesData {
	first := &f.Strip[0]
	d := framesData{
		Schema: "leste-frames-1", Job: jobName, Format: f.Name, Case: f.Case, Rows: first.Rows, Cols: first.Cols,
		S: figures(first.S, 1e3, 6), Radius: figures(first.Radius, 1e3, 6), Zone: first.Zone,
	}
	for k := range f.Strip {
		m := &f.Strip[k]
		d.Frames = append(d.Frames, momentData{
			Station: m.Station, Time: figure(m.Time, 6), X: figure(m.X*1e3, 6), Total: figure(m.Total*1e6, 6),
			Water: figures(m.Water, 1e3, 4), Press: figures(m.Press, 1, 4),
		})
	}
	return d
}

// figures scales amounts and rounds them to n significant figures.
func figures(x []float64, scale float64, n int) []float64 {
	out := make([]float64, len(x))
	for i, v := range x {
		out[i] = figure(v*scale, n)
	}
	return out
}

func figure(x float64, n int) float64 {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return 0
	}
	step := math.Pow10(n - 1 - int(math.Floor(math.Log10(math.Abs(x)))))
	if math.IsInf(step, 0) {
		return 0
	}
	return math.Round(x*step) / step
}
