package drying

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"leste/physics/relation"
)

// What the grid and both ends of what the method depends on are worth is part of the bands, and is said.
func TestLawProofIsPartOfTheBands(t *testing.T) {
	p := canCase{cell: 4e-3}.problem(t)
	p.Machines = []Machine{{Kind: "camera", Travel: 3}}
	plain := transported(t, p, TransportOptions{})
	if !math.IsNaN(plain.Grid) || plain.Scatter.High != 0 {
		t.Errorf("grid %g and scatter %v before anybody looked", plain.Grid, plain.Scatter)
	}
	proven := transported(t, p, TransportOptions{Refine: true, Workers: 2})
	t.Logf("grid %.0f %%, scatter %.0f to %.0f mg", 100*proven.Grid, proven.Scatter.Low*1e6, proven.Scatter.High*1e6)
	if !(proven.Grid > 0) {
		t.Errorf("grid %g", proven.Grid)
	}
	s, total := proven.Scatter, proven.After.Total
	if !(s.Low > 0 && s.High > 0 && s.Likely > 0) {
		t.Errorf("scatter %+v", s)
	}
	if least, most := min(s.Low, s.High), max(s.Low, s.High); least < total.Low || most > total.High {
		t.Errorf("the scatter from %g to %g kg lies outside the band from %g to %g", least, most, total.Low, total.High)
	}
	// The grid comes on top of what the settings are worth.
	if up, down := total.High/plain.After.Total.High, plain.After.Total.Low/total.Low; up <= 1 || down <= 1 {
		t.Errorf("the band went from %+v to %+v", plain.After.Total, total)
	}
	for _, at := range [][2]MachineWater{{plain.After, proven.After}, {plain.At[0], proven.At[0]}} {
		for z := range at[0].Zones {
			a, b := at[0].Zones[z], at[1].Zones[z]
			if a.Left.Likely != b.Left.Likely || b.Left.Low > a.Left.Low*(1+1e-12) || b.Left.High < a.Left.High*(1-1e-12) {
				t.Errorf("%s: the band went from %+v to %+v", a.Zone, a.Left, b.Left)
			}
		}
	}
	if noteWith(proven.Notes, "twice as coarse") == "" {
		t.Errorf("no note of the grid among %v", proven.Notes)
	}
	again := transported(t, p, TransportOptions{Refine: true})
	if diff := cmp.Diff(proven, again, cmpopts.EquateNaNs()); diff != "" {
		t.Errorf("one worker and two:\n%s", diff)
	}
}

func noteWith(notes []relation.Note, words string) string {
	for _, n := range notes {
		if strings.Contains(n.Text, words) {
			return n.Text
		}
	}
	return ""
}

func TestLawProofLeavesOtherMethodsAloneAndStops(t *testing.T) {
	p := canCase{cell: 8e-3}.problem(t)
	before := quick(t, p)
	after := before
	if err := Prove(context.Background(), p, &after, 1); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(before, after, cmpopts.EquateNaNs()); diff != "" {
		t.Error(diff)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	o := Outcome{Method: methodTransport}
	if err := Prove(ctx, p, &o, 2); !errors.Is(err, context.Canceled) {
		t.Errorf("error %v, want the context's", err)
	}
}

// Where the methods are farther apart than a band, the result names both amounts, the zone and the reason.
func TestLawNoteSaysWhyTheMethodsDiffer(t *testing.T) {
	p := canCase{cell: 4e-3}.problem(t)
	passes, err := look(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	r := newRun(p, passes)
	if err := r.all(context.Background()); err != nil {
		t.Fatal(err)
	}
	side := -1
	for i := range r.after.Zones {
		if r.after.Zones[i].Zone == "sidewall" {
			side = i
		}
	}
	z := r.after.Zones[side]
	less, more, trapped := z, z, z
	less.Left.Likely = z.Left.Likely / 10
	more.Left.Likely, more.Where = z.Left.Likely*10, "rear line"
	trapped.Trapped = 1
	for _, c := range []struct {
		followed ZoneWater
		want     string
	}{{less, "where the air comes together (leading side)"}, {more, "gathers there (rear line)"}, {trapped, "pressure at each moment"}} {
		why, err := r.differs(context.Background(), side, &c.followed)
		if err != nil || !strings.Contains(why, c.want) {
			t.Errorf("%v: %q, want %q in it", err, why, c.want)
		}
	}
	// Without the lines, what remains is the ridge that rides along.
	for i := range r.landed[0] {
		r.landed[0][i].mass = 0
	}
	if why, err := r.differs(context.Background(), side, &less); err != nil || strings.Contains(why, "comes together") {
		t.Errorf("%v: %q without anything on the lines", err, why)
	}
	// A body on whose side the methods are far apart: it is said.
	far := canProblem(t, canBody(t, 4e-3), knives{tilt: tiltDown, pressure: 20e3}, 1)
	o, closed := transported(t, far, TransportOptions{}), quick(t, far)
	a, b := o.After.Total.Likely, closed.After.Total.Likely
	if x, y := zone(t, o.After, "sidewall").Left.Likely, zone(t, closed.After, "sidewall").Left.Likely; !farApart(x, y) {
		t.Fatalf("%g and %g kg are not far apart", x, y)
	}
	if text := noteWith(o.Notes, "followed in time the container keeps "+milligrams(a)+" mg"); !strings.Contains(text, milligrams(b)+" mg") {
		t.Errorf("%g and %g kg, and no note of both among %v", a, b, o.Notes)
	}
}
