package leste

import (
	"flag"
	"math"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"leste/catalogue"
	"leste/drying"
	"leste/job"
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
// requirements are told as the worst case has them, to within that scatter, and with its verdict.
func TestLawScreenIsNotMisled(t *testing.T) {
	truth := everyCase(t, "can-330-sidewall", 6e-3)
	run := truth.run
	want := run.all[run.decides]
	random := rand.New(rand.NewPCG(1, 2))
	for draw := range 50 {
		s := *truth
		fine := truth.fine
		s.run = &formatRun{plan: run.plan, stages: run.stages, closed: run.closed, all: slices.Clone(run.all)}
		s.known = make([]bool, len(fine))
		s.coarse = slices.Clone(s.coarse)
		s.raw = make([]judged, len(fine))
		s.told = 0
		grid := 0.7 + 0.6*random.Float64()
		for i := range fine {
			wrong := grid * (1 + scatter/2*(2*random.Float64()-1)) // half the scatter to either side
			s.coarse[i] = copied(fine[i])
			if i == draw%(2*len(fine)) { // one that the coarse grid shows far worse than it is must not save the others
				wrong *= 2
			}
			scale(&s.coarse[i], wrong)
			s.raw[i], _ = judge(s.problems[i], s.run.all[i].situation, s.coarse[i])
		}
		for passes := s.rivals(); len(passes) > 0; passes = s.rivals() {
			for _, pass := range passes {
				for _, c := range pass {
					s.known[c] = true
				}
			}
		}
		s.conclude()
		got := s.run.all[s.run.decides]
		if !s.known[s.run.decides] {
			t.Fatalf("draw %d: %s decides and was not followed", draw, got.situation.name)
		}
		if got.verdict != want.verdict || math.Abs(got.reserve/want.reserve-1) > scatter {
			t.Errorf("draw %d: %s with reserve %.4g, %s; the worst is %s with %.4g, %s", draw,
				got.situation.name, got.reserve, got.verdict, want.situation.name, want.reserve, want.verdict)
		}
	}
}

// everyCase is a format of an example with every case followed on the fine grid.
func everyCase(t *testing.T, name string, cell float64) *screen {
	t.Helper()
	j := exampleJob(t, name)
	a := &assessment{
		given: j, job: job.Clone(j), parts: catalogue.GenericParts(), result: &Result{},
		options: Options{Method: "transport", Cell: cell, NoRanking: true, Workers: 2, everyCase: true},
	}
	job.Fill(a.job)
	if err := a.layOut(); err != nil {
		t.Fatal(err)
	}
	if err := a.air(t.Context()); err != nil {
		t.Fatal(err)
	}
	run, err := a.quickly(t.Context(), 0, func(string) {})
	if err != nil {
		t.Fatal(err)
	}
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
