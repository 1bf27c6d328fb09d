package quote

import (
	"strings"
	"testing"

	leste "leste"
	"leste/render/document"
	"leste/render/drawing"
)

// wet is a map of a plain tube with one zone.
func wet() *leste.Map {
	const rows, cols = 6, 12
	m := &leste.Map{Rows: rows, Cols: cols, S: make([]float64, rows+1), Radius: make([]float64, rows), Zone: make([]string, rows), Water: make([]float64, rows*cols)}
	for i := range rows {
		m.S[i+1], m.Radius[i], m.Zone[i] = 0.02*float64(i+1), 0.03, "label panel"
	}
	for i := range m.Water {
		m.Water[i] = 1e-3 * float64(i)
	}
	return m
}

// maps lists the captions of the maps and of the strips of moments in a paper.
func maps(d *document.Document) (walls, strips []string) {
	for _, b := range d.Blocks {
		if f, ok := b.(document.Figure); ok {
			switch {
			case strings.Contains(f.Caption, "unrolled wall"):
				walls = append(walls, f.Caption)
			case strings.Contains(f.Caption, "moments of the pass"):
				strips = append(strips, f.Caption)
			}
		}
	}
	return walls, strips
}

func TestLawEachNextMachineHasItsMap(t *testing.T) {
	r := result(1, short)
	f := &r.Formats[0]
	f.Machine, f.Map, f.Strip = "camera", wet(), []leste.Map{*wet()}
	f.End = &leste.EndResult{Machine: "wrap-around labeller", Map: wet(), Zones: f.Zones}
	walls, strips := maps(Quotation(input(t, r, "en")))
	if len(walls) != 2 || !strings.Contains(walls[0], "at the camera") || !strings.Contains(walls[1], "at the wrap-around labeller") || len(strips) != 1 {
		t.Errorf("maps %q, strips %q", walls, strips)
	}
}

// Twelve formats made papers of 17 MB.
func TestLawManyFormatsShowTheMomentsOfTheOneThatDecides(t *testing.T) {
	r := result(12, short)
	for i := range r.Formats {
		r.Formats[i].Map, r.Formats[i].Strip = wet(), []leste.Map{*wet()}
	}
	x := &r.Formats[7].Zones[0].Requirements[0]
	x.Verdict, x.Reserve = leste.NotMet, 0.5
	in := input(t, r, "en")
	walls, strips := maps(Quotation(in))
	if len(walls) != 12 || len(strips) != 1 || !strings.Contains(strips[0], "can 7") {
		t.Errorf("%d maps, strips %q", len(walls), strips)
	}
	kept := Shown(*r)
	in.Result = &kept
	if _, again := maps(Quotation(in)); len(again) != 1 || again[0] != strips[0] {
		t.Errorf("what is kept shows %q", again)
	}
	if len(r.Formats[3].Strip) != 1 || len(kept.Formats[3].Strip) != 0 {
		t.Error("the result itself is changed, or all is kept")
	}
}

// The line to a zone ran through its name where that is longer in German.
func TestLawLinesToZonesBeginAfterTheirNames(t *testing.T) {
	r := result(1, short)
	r.Formats[0].Map = wet()
	found := 0
	for _, language := range []string{"en", "de"} {
		in := input(t, r, language)
		for _, b := range Quotation(in).Blocks {
			f, ok := b.(document.Figure)
			if !ok || f.Drawing == nil || f.Drawing.Name != "can 0" {
				continue
			}
			for _, shape := range f.Drawing.Paper {
				name, ok := shape.(drawing.Text)
				if !ok || name.String != in.Words.Term("label panel") {
					continue
				}
				for _, other := range f.Drawing.Paper {
					if l, ok := other.(drawing.Polyline); ok && len(l.Points) == 4 && !l.Closed && drawing.PlacedAt(1, l).Crosses(name) > drawing.Lines {
						t.Errorf("%s: a line runs through %q", language, name.String)
					}
				}
				found++
			}
		}
	}
	if found != 2 {
		t.Errorf("the zone is named %d times, want once in each language", found)
	}
}
