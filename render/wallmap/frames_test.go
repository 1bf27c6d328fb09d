package wallmap

import (
	"bytes"
	"errors"
	"fmt"
	"image/png"
	"math"
	"strings"
	"testing"

	leste "leste"
	"leste/render/picture"
)

// passing is a format with n moments: the air moves up the left side and the wall dries.
func passing(n int) *leste.FormatResult {
	f := formatOf("330 mL can", can())
	for k := range n {
		m := can()
		m.Time, m.X, m.Total = 0.05*float64(k), -0.1+0.05*float64(k), 1e-3/float64(k+1)
		m.Press = make([]float64, len(m.Water))
		for i := range m.Water {
			m.Water[i] *= 10 / float64(k+1)
			if i/m.Cols >= 30+5*k && i/m.Cols < 34+5*k && i%m.Cols >= 20 && i%m.Cols < 28 {
				m.Press[i] = 4000
			}
		}
		f.Strip = append(f.Strip, *m)
	}
	return f
}

func TestLawMomentsShareOneScale(t *testing.T) {
	v, err := NewFrames(&leste.Result{Job: "Can line 2"}, passing(8))
	if err != nil {
		t.Fatal(err)
	}
	if v.Len() != 8 {
		t.Fatalf("%d moments", v.Len())
	}
	scaleOf := func(p *picture.Picture) string {
		var all []string
		for _, s := range p.Shapes {
			if text, ok := s.(picture.Text); ok && text.Size == 3.2 && text.Anchor == picture.Middle {
				all = append(all, text.Text)
			}
		}
		return strings.Join(all, " ")
	}
	first := scaleOf(v.Draw(0))
	if last := scaleOf(v.Draw(7)); first != last || first == "" {
		t.Errorf("the first moment's scale reads %q, the last one's %q", first, last)
	}
	pictures := []*picture.Picture{v.Strip(), v.Small()}
	for k := range v.Len() {
		pictures = append(pictures, v.Draw(k))
	}
	for k, p := range pictures {
		raster, err := p.PNG(3)
		if err != nil {
			t.Fatal(err)
		}
		if size, err := png.DecodeConfig(bytes.NewReader(raster)); err != nil || size.Width != 750 {
			t.Errorf("picture %d: %d dots wide (%v), want 750", k, size.Width, err)
		}
		if *keep != "" && k < 3 {
			write(t, fmt.Sprintf("%s/frames-%d.png", *keep, k), raster)
		}
	}
}

// What is outlined is where the air presses with a fifth of its greatest pressure.
func TestLawTheOutlineGoesAroundThePressedCells(t *testing.T) {
	v, err := NewFrames(&leste.Result{}, passing(1))
	if err != nil {
		t.Fatal(err)
	}
	w := v.walls[0]
	at, _ := w.arrange()
	p := &picture.Picture{}
	v.outline(p, at, w, w.lower, w.upper)
	low, high := picture.Point{X: math.Inf(1), Y: math.Inf(1)}, picture.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, s := range p.Shapes {
		for _, q := range s.(picture.Line).Points {
			low.X, low.Y, high.X, high.Y = min(low.X, q.X), min(low.Y, q.Y), max(high.X, q.X), max(high.Y, q.Y)
		}
	}
	step := 2 * math.Pi / float64(w.m.Cols)
	a, b := at.at(34, 20*step), at.at(30, 28*step)
	if math.Abs(low.Y-a.Y) > 1e-9 || math.Abs(high.Y-b.Y) > 1e-9 || math.Abs(high.X-b.X) > 1 || math.Abs(low.X-a.X) > 1 {
		t.Errorf("the outline reaches from %v to %v, the pressed cells from %v to %v", low, high, a, b)
	}
	f := passing(1)
	for i := range f.Strip[0].Press {
		f.Strip[0].Press[i] = 0
	}
	still, err := NewFrames(&leste.Result{}, f)
	if err != nil {
		t.Fatal(err)
	}
	none := &picture.Picture{}
	still.outline(none, at, w, w.lower, w.upper)
	if len(none.Shapes) > 0 {
		t.Errorf("without air %d lines are drawn", len(none.Shapes))
	}
}

func TestLawBrokenMomentsAreRefused(t *testing.T) {
	if _, err := NewFrames(&leste.Result{}, formatOf("can", can())); !errors.Is(err, ErrNoFrames) {
		t.Errorf("no moments: %v, want ErrNoFrames", err)
	}
	f := passing(2)
	f.Strip[1].Press = f.Strip[1].Press[1:]
	if _, err := NewFrames(&leste.Result{}, f); err == nil {
		t.Error("a moment with fewer pressures than cells is drawn")
	}
	f = passing(2)
	f.Strip[1].Water = nil
	if _, err := NewFrames(&leste.Result{}, f); err == nil {
		t.Error("a moment without water is drawn")
	}
}
