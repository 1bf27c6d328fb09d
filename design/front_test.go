package design

import (
	"slices"
	"strings"
	"testing"

	q "leste/quantity"
)

// What more reserve costs names no pressure of the station told that an assessment has raised, and nothing that does
// not keep what is asked.
func TestLawTradeOffHoldsWhatTheAssessmentSettled(t *testing.T) {
	settled := Individual{X: []float64{0.2, 0.4}, Pressure: 5880, Cost: 523, Reserve: 1.14}
	before := Individual{X: []float64{0.2, 0.4}, Pressure: 5460, Cost: 489, Reserve: 1.08}
	wet := Individual{X: []float64{0.3, 0.4}, Pressure: 5000, Cost: 470, Reserve: 1.08}
	refused := Individual{X: []float64{0.4, 0.4}, Pressure: 9000, Cost: 800, Reserve: 3, Violation: 0.1}
	drier := Individual{X: []float64{0.6, 0.4}, Pressure: 6000, Cost: 600, Reserve: 1.5}
	p := &Population{Concept: "tilted knives", Members: []Individual{settled, before, wet, refused, drier}}
	f := &Found{Concept: p.Concept, Cost: settled.Cost, Reserve: 1.01, Pressure: 5880, Sure: true, ind: settled, trust: 1.01 / 1.14}
	want := []Point{{p.Concept, drier.Cost, 0, drier.Reserve * f.trust, q.Gauge(drier.Pressure)}}
	if got := others(p, f); !slices.Equal(got, want) {
		t.Errorf("%+v", got)
	}
}

// More air for the same station was told to bring no reserve at all: its water was looked at by an eye that a search which
// follows the water has no sights of, and which finds everything dry.
func TestLawMoreAirBringsMoreReserve(t *testing.T) {
	o := small(5, 2)
	o.quickOnly = false
	s, err := newSearch(example(t, "design-pet-sketch"), o)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.begin(t.Context()); err != nil {
		t.Fatal(err)
	}
	j := s.judges[0]
	points, err := s.stronger(t.Context(), j, &Found{Reserve: 1.05, ind: Individual{X: j.concept.rule(), Pressure: 4000}})
	if err != nil || len(points) == 0 {
		t.Fatalf("%v (%v)", points, err)
	}
	least := 1.05
	for _, p := range points {
		if p.Reserve <= least {
			t.Errorf("at %.0f Pa the reserve is %g, at less %g", float64(p.Plenum), p.Reserve, least)
		}
		least = p.Reserve
	}
}

func TestReferenceCostsAreComparedToTheHundredth(t *testing.T) {
	for x, want := range map[float64]string{1.052: "1.05", 1.2075: "1.21", 1.0003: "1.0003", 2.4: "2.4"} {
		if got := dearer(x); got != want {
			t.Errorf("%g is written %s, not %s", x, got, want)
		}
	}
}

// A reserve of 16 was told, which an assessment found to be 3.7, and others beyond it.
func TestLawATradeOffEndsWithPlenty(t *testing.T) {
	var reserves []float64
	for _, p := range Unbeaten([]Point{{Cost: 1, Reserve: 1.05}, {Cost: 2, Reserve: 1.06}, {Cost: 3, Reserve: 1.6}, {Cost: 4, Reserve: 1.2}, {Cost: 5, Reserve: 16}, {Cost: 6, Reserve: 40}}) {
		reserves = append(reserves, p.Reserve)
	}
	if !slices.Equal(reserves, []float64{1.05, 1.6, 16}) {
		t.Errorf("told are %g", reserves)
	}
}

// Of a station that stands there it was left to the reader to find that no change to it works.
func TestLawThatNothingThereCanBeKeptIsSaid(t *testing.T) {
	const said = "No change to what stands there works"
	found := []Found{{Concept: "tilted knives", Works: true, Cost: 100}, {Concept: "as found, moved", Own: true, Fails: "it stays too wet"}}
	for _, c := range []struct {
		stands bool
		least  *Found
		want   bool
	}{{true, nil, true}, {false, nil, false}, {true, &found[0], false}} {
		st := &Study{Found: found, stands: c.stands, Least: c.least}
		if got := strings.Contains(strings.Join(st.reasons("EUR"), " "), said); got != c.want {
			t.Errorf("stands: %v, least: %v: said: %v", c.stands, c.least != nil, got)
		}
	}
}
