package leste

import (
	"flag"
	"math"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"leste/drying"
	q "leste/quantity"
)

// go test . -run Thorough -thorough -timeout 1h
var thorough = flag.Bool("thorough", false, "hold the usual way of choosing cases against following every case, on all examples")

// On every example, the verdict and what is told of each requirement are those of following every case on the fine grid.
func TestThoroughScreenOnAllExamples(t *testing.T) {
	if !*thorough {
		t.Skip("takes minutes: go test . -run Thorough -thorough -timeout 1h")
	}
	paths, err := filepath.Glob("examples/*.yaml")
	if err != nil || len(paths) == 0 {
		t.Fatalf("no examples: %v", err)
	}
	for _, path := range paths {
		name := strings.TrimSuffix(filepath.Base(path), ".yaml")
		t.Run(name, func(t *testing.T) {
			screenedAsFollowed(t, name, 2e-3)
		})
	}
}

// However the coarse grid misleads within the scatter between the grids, or shows one case far worse than it is, the
// requirements are told as the worst case has them, to within that scatter, and with its verdict; so they are for a
// format that has another beside it, of which the coarse grid shows every case alike.
func TestLawScreenIsNotMisled(t *testing.T) {
	truth := everyCase(t, "can-330-sidewall", 6e-3)
	want := truth.run.all[truth.run.decides]
	random := rand.New(rand.NewPCG(1, 2))
	for draw := range 100 {
		grid := 0.7 + 0.6*random.Float64()
		screens := []*screen{misled(truth, func(i int) float64 {
			wrong := grid * (1 + scatter/2*(2*random.Float64()-1)) // half the scatter to either side
			if i == draw%(2*len(truth.fine)) {                     // one that the coarse grid shows far worse than it is must not save the others
				wrong *= 2
			}
			return wrong
		})}
		if draw%2 == 1 {
			screens = append(screens, misled(truth, func(int) float64 { return grid }))
		}
		followAll(screens)
		for k, s := range screens {
			s.conclude()
			got := s.run.all[s.run.decides]
			if !s.known[s.run.decides] {
				t.Fatalf("draw %d: %s decides and was not followed", draw, got.situation.name)
			}
			if got.verdict != want.verdict || math.Abs(got.reserve/want.reserve-1) > scatter {
				t.Errorf("draw %d, format %d: %s with reserve %.4g, %s; the worst is %s with %.4g, %s", draw, k,
					got.situation.name, got.reserve, got.verdict, want.situation.name, want.reserve, want.verdict)
			}
		}
	}
}

// Formats of which the grids change alike need one witness among them, others one each.
func TestLawFormatsBearWitnessForEachOther(t *testing.T) {
	truth := everyCase(t, "can-330-sidewall", 6e-3)
	spaced := make([]float64, len(truth.fine)) // so that one case alone may decide
	for i := range spaced {
		spaced[i] = 1 - 0.1*float64(i)
	}
	for _, c := range []struct {
		grids []float64
		want  int
	}{
		{[]float64{1.2}, 2}, {[]float64{1.2, 1.2, 1.2}, 4}, {[]float64{1.2, 1.21, 1.19}, 4}, {[]float64{1.2, 1.2, 1.1}, 5}, {[]float64{0.9, 1.2, 1.4}, 6},
	} {
		var screens []*screen
		for _, grid := range c.grids {
			s := misled(truth, func(int) float64 { return 1 })
			s.fine = slices.Clone(s.fine)
			for i := range s.fine {
				s.fine[i] = copied(truth.fine[0])
				scale(&s.fine[i], spaced[i])
				s.coarse[i] = copied(s.fine[i])
				scale(&s.coarse[i], grid)
				s.raw[i], _ = judge(s.problems[i], s.run.all[i].situation, s.coarse[i])
			}
			s.passes = nil
			for i := range s.fine {
				s.passes = append(s.passes, []int{i})
			}
			screens = append(screens, s)
		}
		if got := followAll(screens); got != c.want {
			t.Errorf("grids that change the formats by %v: %d passes are followed, want %d", c.grids, got, c.want)
		}
	}
}

// misled is a screen of which nothing is followed yet, and its coarse grid off by a factor for each case.
func misled(truth *screen, wrong func(i int) float64) *screen {
	s := *truth
	run := *truth.run
	run.all = slices.Clone(run.all)
	s.run, s.told = &run, 0
	s.known, s.raw = make([]bool, len(s.fine)), make([]judged, len(s.fine))
	s.coarse = slices.Clone(s.coarse)
	for i := range s.fine {
		s.coarse[i] = copied(s.fine[i])
		scale(&s.coarse[i], wrong(i))
		s.raw[i], _ = judge(s.problems[i], s.run.all[i].situation, s.coarse[i])
	}
	return &s
}

// followAll follows what is wanted until nothing is, and counts the passes.
func followAll(screens []*screen) int {
	passes := 0
	for pieces := wanted(screens); len(pieces) > 0; pieces = wanted(screens) {
		passes += len(pieces)
		for _, p := range pieces {
			for _, c := range p.pass {
				p.s.known[c] = true
			}
		}
	}
	return passes
}

// everyCase is a format of an example with every case followed on the fine grid.
func everyCase(t *testing.T, name string, cell float64) *screen {
	t.Helper()
	a, run := quicklyAnswered(t, name, Options{Method: "transport", Cell: cell, NoRanking: true, Workers: 2, everyCase: true})
	s, err := a.newScreen(run)
	if err != nil {
		t.Fatal(err)
	}
	if err := a.answer(t.Context(), []*screen{s}, func(float64, string) {}); err != nil {
		t.Fatal(err)
	}
	a.options.everyCase = false
	return s
}

// scale multiplies all water, and with it drops and their numbers, by a factor.
func scale(o *drying.Outcome, by float64) {
	at := []*drying.MachineWater{&o.After}
	for i := range o.At {
		at = append(at, &o.At[i])
	}
	times := func(b *q.Band) { b.Low, b.Likely, b.High = b.Low*by, b.Likely*by, b.High*by }
	for _, w := range at {
		times(&w.Total)
		for i := range w.Zones {
			z := &w.Zones[i]
			times(&z.Left)
			times(&z.Largest)
			for k := range z.Count {
				n := &z.Count[k]
				n.Number, n.Low, n.High = n.Number*by, n.Low*by, n.High*by
			}
		}
	}
}
