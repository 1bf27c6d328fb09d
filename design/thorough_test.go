package design

import (
	"flag"
	"math"
	"testing"

	leste "leste"
	"leste/station"
)

// go test ./design -run Thorough -thorough -timeout 3h
var thorough = flag.Bool("thorough", false, "search with the whole budget, hold it against 20,000 points, and try ten seeds")

// The search ends no dearer than the best of points spread over the whole space.
func TestThoroughSearchBeatsPointsSpreadOverTheSpace(t *testing.T) {
	points, budget := 40, 200
	if *thorough {
		points, budget = 20_000, UsualBudget
	}
	j := example(t, "can-330-sidewall")
	o := small(5, 2)
	o.Budget = budget
	study, err := Search(t.Context(), j, o)
	if err != nil {
		t.Fatal(err)
	}
	best := study.State.Populations[0].Members[0]
	if !best.feasible() {
		t.Fatalf("nothing works: %s", best.Why)
	}
	s := begun(t, j)
	jd := s.judges[0]
	jd.sights, jd.goal = study.State.Populations[0].Sights, study.State.Goal
	active := jd.concept.active(false)
	var found *Individual
	for _, point := range scatter(99, "points to hold it against", points, len(active)) {
		x := jd.concept.rule()
		for n, k := range active {
			x[k] = point[n]
		}
		d, err := jd.judge(t.Context(), x, startPressure, found)
		if err != nil {
			t.Fatal(err)
		}
		if !d.lost && (found == nil || d.ind.better(found)) {
			found = &d.ind
		}
	}
	if found == nil || !found.feasible() {
		t.Logf("none of %d points works; the search has one for %.0f a year after %d candidates", points, best.Cost, study.Candidates)
		return
	}
	t.Logf("best of %d points over best of %d candidates searched: %.3f", points, study.Candidates, found.Cost/best.Cost)
	if found.Cost < best.Cost {
		t.Errorf("a point costs %.0f, the search ends at %.0f", found.Cost, best.Cost)
	}
}

// Ten seeds end within three per cent of each other.
func TestThoroughSeedsAgree(t *testing.T) {
	if !*thorough {
		t.Skip("takes minutes, and does not hold yet (docs/design.md): go test ./design -run Thorough -thorough -timeout 3h")
	}
	least, most := math.Inf(1), 0.0
	for seed := range uint64(10) {
		o := small(seed+1, 2)
		o.Budget = UsualBudget
		study, err := Search(t.Context(), example(t, "can-330-sidewall"), o)
		if err != nil {
			t.Fatal(err)
		}
		cost := study.Best().Cost
		t.Logf("seed %d: %s for %.0f a year", seed+1, study.Best().Concept, cost)
		least, most = min(least, cost), max(most, cost)
	}
	const spread = 1.03
	if most > spread*least {
		t.Errorf("ten seeds end between %.0f and %.0f a year, %.1f %% apart", least, most, 100*(most/least-1))
	}
}

// What is found for a job keeps every requirement under transport in every case, and no container tips or is lifted.
func TestThoroughFoundStationsKeepWhatIsAsked(t *testing.T) {
	if !*thorough {
		t.Skip("takes minutes: go test ./design -run Thorough -thorough -timeout 3h")
	}
	for _, name := range []string{"cans-three-sizes", "can-330-sidewall", "as-found-speed-up", "design-options-can", "design-pet-sketch"} {
		t.Run(name, func(t *testing.T) {
			study, err := Search(t.Context(), example(t, name), Options{Seed: 1, Workers: 2})
			if err != nil {
				t.Fatal(err)
			}
			best := study.Best()
			t.Logf("%s for %.0f a year, goal %s, verdict %s", best.Concept, best.Cost, study.Goal, best.Verdict)
			if !best.Works {
				t.Fatalf("nothing works: %s", best.Fails)
			}
			r, err := leste.Assess(t.Context(), best.Job, leste.Options{Workers: 2, NoRanking: true})
			if err != nil {
				t.Fatal(err)
			}
			if reserve := leastReserve(r); reserve < 1 {
				t.Errorf("on cells of 2 mm the reserve is %.2f", reserve)
			}
			for i := range r.Formats {
				for _, p := range r.Formats[i].Standing {
					if (p.Way == station.Tip || p.Way == station.Lift) && p.Factor < 1 {
						t.Errorf("%s %s in the case %q: %.2f", r.Formats[i].Name, gives[p.Way], p.Case, p.Factor)
					}
				}
			}
		})
	}
}

// BenchmarkCandidate judges points spread over the space of the three-size job, air supply included.
func BenchmarkCandidate(b *testing.B) {
	s, err := newSearch(example(b, "cans-three-sizes"), Options{Seed: 1, Workers: 1, Concepts: []string{"tilted knives"}, quickOnly: true})
	if err != nil {
		b.Fatal(err)
	}
	if err := s.begin(b.Context()); err != nil {
		b.Fatal(err)
	}
	j := s.judges[0]
	j.eye = eyeRough
	points := scatter(1, "bench", 64, len(j.concept.variables))
	quick := 0
	b.ResetTimer()
	for i := range b.N {
		d, err := j.judge(b.Context(), points[i%len(points)], startPressure, nil)
		if err != nil {
			b.Fatal(err)
		}
		quick += d.counts.Quick
	}
	b.ReportMetric(float64(quick)/b.Elapsed().Seconds(), "quick/s")
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "candidates/s")
}

// BenchmarkThreeSizes is the whole search of the three-size job, transport included.
func BenchmarkThreeSizes(b *testing.B) {
	for range b.N {
		if _, err := Search(b.Context(), example(b, "cans-three-sizes"), Options{Seed: 1, Workers: 2}); err != nil {
			b.Fatal(err)
		}
	}
}
