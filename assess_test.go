package leste

import (
	"context"
	"errors"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"leste/airsupply"
	"leste/cost"
	"leste/job"
	"leste/physics/air"
	"leste/physics/jet"
	"leste/physics/relation"
	"leste/physics/water"
	q "leste/quantity"
)

// fast is an assessment for tests: the quick method on coarse cells.
func fast() Options { return Options{Method: "quick", Cell: 6e-3, NoRanking: true} }

func assess(t testing.TB, j *job.Job, o Options) *Result {
	t.Helper()
	r, err := Assess(context.Background(), j, o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// canJob is the example of a can line, changed.
func canJob(t testing.TB, change func(j *job.Job)) *job.Job {
	t.Helper()
	j := job.Clone(exampleJob(t, "can-330-sidewall"))
	if change != nil {
		change(j)
	}
	return j
}

// sidewall is the water left on the sidewall of the first format in the nominal case [kg].
func sidewall(t testing.TB, j *job.Job) float64 { return zonesLeft(t, j, job.ZoneSidewall) }

// zonesLeft is the water left on some zones of the first format in the nominal case [kg].
func zonesLeft(t testing.TB, j *job.Job, names ...string) float64 {
	t.Helper()
	o := fast()
	o.Nominal, o.Cell = true, 4e-3
	sum := 0.0
	for _, z := range assess(t, j, o).Formats[0].Zones {
		if slices.Contains(names, z.Name) {
			sum += z.Left.Likely
		}
	}
	return sum
}

func outlets(j *job.Job, change func(o *job.Outlet)) {
	for i := range j.Stations {
		for k := range j.Stations[i].Outlets {
			change(&j.Stations[i].Outlets[k])
		}
	}
}

// Closer, slower and more pressure each leave less on the wall. Without rails: close outlets throw sharper shadows
// behind a rail, and those keep their water.
func TestLawCloserSlowerStronger(t *testing.T) {
	standOff := func(mm float64) *job.Job {
		return canJob(t, func(j *job.Job) {
			j.Line.Rails = nil
			outlets(j, func(o *job.Outlet) { o.StandOff = q.Known(q.Millimetres(mm)) })
		})
	}
	speed := func(v float64) *job.Job {
		return canJob(t, func(j *job.Job) {
			j.Line.Rate = q.Maybe[q.Rate]{}
			j.Line.Speed = q.Known(q.Speed(v))
		})
	}
	pressure := func(pa float64) *job.Job {
		return canJob(t, func(j *job.Job) {
			outlets(j, func(o *job.Outlet) { o.Pressure = q.Known(q.Gauge(pa)) })
		})
	}
	for name, jobs := range map[string][]*job.Job{
		"stand-off": {standOff(30), standOff(50), standOff(80), standOff(120)},
		"speed":     {speed(0.3), speed(0.6), speed(1), speed(2)},
		"pressure":  {pressure(24e3), pressure(20e3), pressure(12e3), pressure(6e3)},
	} {
		t.Run(name, func(t *testing.T) {
			before := 0.0
			for i, j := range jobs {
				left := sidewall(t, j)
				if left <= before {
					t.Errorf("step %d leaves %.3g mg, the better one before it %.3g", i, left*1e6, before*1e6)
				}
				before = left
			}
		})
	}
}

// Two air knives along a can line that sweep the top first and then downwards beat level and bottom-first ones
// (common practice, no source), on everything from shoulder to heel, at every speed.
func TestReferenceTopFirstBeatsLevelAndBottomFirst(t *testing.T) {
	for _, speed := range []float64{0.3, 1, 2} {
		left := func(tilt float64) float64 {
			return zonesLeft(t, canJob(t, func(j *job.Job) {
				j.Line.Rate, j.Line.Rails = q.Maybe[q.Rate]{}, nil
				j.Line.Speed = q.Known(q.Speed(speed))
				j.Stations[0].Frames = nil
				outlets(j, func(o *job.Outlet) {
					o.Frame, o.Tilt, o.AimDown = "", q.Known(q.Degrees(tilt)), q.Known(q.Angle(0))
				})
			}), job.ZoneShoulder, job.ZoneSidewall, job.ZoneHeel, job.ZoneSeam)
		}
		top, level, bottom := left(25), left(0), left(-25)
		t.Logf("%g m/s: top first %.0f mg, level %.0f mg, bottom first %.0f mg", speed, top*1e6, level*1e6, bottom*1e6)
		if !(top < level && top < bottom) {
			t.Errorf("%g m/s: top first %.0f mg, level %.0f mg, bottom first %.0f mg", speed, top*1e6, level*1e6, bottom*1e6)
		}
	}
}

// unknown lets quantities that are not known be alike.
func unknown[T ~float64]() cmp.Option {
	return cmp.FilterValues(func(x, y T) bool { return math.IsNaN(float64(x)) && math.IsNaN(float64(y)) }, cmp.Ignore())
}

// The same job gives the same result, bit for bit, on one and on several goroutines, and the job stays as it was.
func TestLawDeterministic(t *testing.T) {
	j := canJob(t, nil)
	before := job.Clone(j)
	one, many := fast(), fast()
	one.NoRanking, many.NoRanking, many.Workers = false, false, 3
	if diff := cmp.Diff(assess(t, j, one), assess(t, j, many), cmpopts.EquateNaNs(), unknown[q.Mass](), unknown[q.Ratio](), unknown[q.Power]()); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff(before, j); diff != "" {
		t.Errorf("the job was changed: %s", diff)
	}
}

func TestLawCancel(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	o := fast()
	o.Progress = func(done, _ float64, _ string) {
		if done > 0 {
			cancel()
		}
	}
	if _, err := Assess(ctx, canJob(t, nil), o); !errors.Is(err, context.Canceled) {
		t.Errorf("error %v, want the context's", err)
	}
}

// Progress never runs backwards and ends at its total.
func TestLawProgress(t *testing.T) {
	o := fast()
	last, total := -1.0, 0.0
	o.Progress = func(done, all float64, what string) {
		if done < last || done > all || what == "" {
			t.Errorf("%g of %g (%s) after %g", done, all, what, last)
		}
		last, total = done, all
	}
	assess(t, canJob(t, nil), o)
	if last != total {
		t.Errorf("ended at %g of %g", last, total)
	}
}

func TestLawStops(t *testing.T) {
	for name, c := range map[string]struct {
		change func(j *job.Job)
		says   string
	}{
		"open product": {func(j *job.Job) { j.Formats[0].Content = "open" }, "open"},
		"vapour":       {func(j *job.Job) { j.Site.Flammable = true }, "explosive"},
		"frost":        {func(j *job.Job) { j.Formats[0].Product = q.Known(q.Celsius(-2)) }, "frost"},
	} {
		t.Run(name, func(t *testing.T) {
			r := assess(t, canJob(t, c.change), fast())
			if len(r.Stops) != 1 || !strings.Contains(r.Stops[0], c.says) || strings.Count(r.Stops[0], ".") != 1 {
				t.Errorf("stops %q", r.Stops)
			}
			if r.Verdict == Met {
				t.Error("a stopped job is met")
			}
		})
	}
	// A container that the model does not cover is refused with the families it knows.
	_, err := Assess(context.Background(), canJob(t, func(j *job.Job) { j.Formats[0].Container.Family = "amphora" }), fast())
	if err == nil || !strings.Contains(err.Error(), "can") {
		t.Errorf("error %v", err)
	}
}

func TestLawUnknownMethodListsTheKnown(t *testing.T) {
	_, err := Assess(context.Background(), canJob(t, nil), Options{Method: "guess"})
	if err == nil || !strings.Contains(err.Error(), "quick, transport") {
		t.Errorf("error %v", err)
	}
}

// No cell size that is none.
func TestLawWrongCell(t *testing.T) {
	for _, c := range []float64{-1, math.NaN(), math.Inf(1)} {
		o := fast()
		o.Cell = c
		if _, err := Assess(context.Background(), canJob(t, nil), o); err == nil {
			t.Errorf("cell %g accepted", c)
		}
	}
}

// The worst case decides and is named; every requirement carries its own.
func TestLawTheWorstCaseDecides(t *testing.T) {
	r := assess(t, canJob(t, nil), fast())
	f := r.Formats[0]
	names := map[string]bool{}
	least := math.Inf(1)
	for _, c := range r.Cases {
		names[c.Name] = true
		least = min(least, c.Reserve)
	}
	for _, want := range []string{caseNominal, caseSurge, caseTouching, caseWinter, caseStanding, caseRestart} {
		if !names[want] {
			t.Errorf("no case %q among %v", want, names)
		}
	}
	got := math.Inf(1)
	for _, z := range f.Zones {
		for _, q := range z.Requirements {
			got = min(got, q.Reserve)
			if !names[q.Case] {
				t.Errorf("requirement of %s judged in the case %q", q.Machine, q.Case)
			}
			if badness(q.Verdict) > badness(f.Verdict) || badness(f.Verdict) > badness(r.Verdict) {
				t.Errorf("requirement %s, format %s, job %s", q.Verdict, f.Verdict, r.Verdict)
			}
		}
	}
	for _, c := range r.Cases {
		if c.Name == f.Case && c.Reserve != least {
			t.Errorf("%s decides with a reserve of %g; the least is %g", c.Name, c.Reserve, least)
		}
	}
	if got != least {
		t.Errorf("least reserve of the requirements %g, of the cases %g", got, least)
	}
	if !(f.Balance.Closure < 1e-9) {
		t.Errorf("balance off by %g", f.Balance.Closure)
	}
}

// A job whose limits are generous is met, one that asks for nothing left is not.
func TestLawVerdicts(t *testing.T) {
	with := func(limit float64) Verdict {
		return assess(t, canJob(t, func(j *job.Job) {
			j.Next[0].Requires = []job.Requirement{{Zone: job.ZoneSidewall, Water: q.Known(q.AreaMass(limit))}}
			j.Line.Rails = []job.Rail{{Height: q.Length(0.03)}, {Height: q.Length(0.09)}}
		}), fast()).Formats[0].Zones[3].Requirements[0].Verdict
	}
	for _, c := range []struct {
		limit float64
		want  Verdict
	}{{1, Met}, {0.012, Undecided}, {1e-5, NotMet}} {
		if got := with(c.limit); got != c.want {
			t.Errorf("limit %g kg/m2: %s, want %s", c.limit, got, c.want)
		}
	}
}

// Every example gives a whole result: numbers, bands in order, helps that help, three questions at most.
func TestLawExamples(t *testing.T) {
	files, err := filepath.Glob("examples/*.yaml")
	if err != nil || len(files) < 8 {
		t.Fatalf("%d examples, %v", len(files), err)
	}
	for _, f := range files {
		name := strings.TrimSuffix(filepath.Base(f), ".yaml")
		t.Run(name, func(t *testing.T) {
			o := fast()
			o.NoRanking, o.Workers, o.Cell = false, 2, 8e-3
			r := assess(t, exampleJob(t, name), o)
			if len(r.Ask) > asks || len(r.Helps) > mostHelps {
				t.Errorf("%d questions, %d helps", len(r.Ask), len(r.Helps))
			}
			for _, h := range r.Helps {
				if !(h.Ratio >= 0 && h.Ratio <= helpsFrom) || h.What == "" {
					t.Errorf("help %+v", h)
				}
			}
			for i := 1; i < len(r.Assumed); i++ {
				if r.Assumed[i].Matters > r.Assumed[i-1].Matters {
					t.Errorf("assumed values out of order at %s", r.Assumed[i].Path)
				}
			}
			for _, f := range r.Formats {
				if !(f.Balance.Closure < 1e-9) {
					t.Errorf("%s: balance off by %g", f.Name, f.Balance.Closure)
				}
				for _, z := range f.Zones {
					if !(z.Left.Low >= 0 && z.Left.Low <= z.Left.Likely && z.Left.Likely <= z.Left.High) {
						t.Errorf("%s, %s: %+v", f.Name, z.Name, z.Left)
					}
				}
				if f.Map == nil || len(f.Map.Water) != f.Map.Rows*f.Map.Cols || len(f.Map.S) != f.Map.Rows+1 {
					t.Errorf("%s: no map", f.Name)
				}
			}
			if len(r.Relations) == 0 || len(r.Cautions) == 0 {
				t.Error("no relations or cautions")
			}
		})
	}
}

// The relations a result names are those of the cards.
func TestLawRelationsHaveCards(t *testing.T) {
	r := assess(t, canJob(t, nil), fast())
	known := map[string]bool{}
	for _, cards := range [][]relation.Card{air.Cards(), jet.Cards(), water.Cards(), airsupply.Cards(), cost.Cards()} {
		for _, c := range cards {
			known[c.ID] = true
		}
	}
	for _, id := range r.Relations {
		if !known[id] {
			t.Errorf("no card for the relation %q", id)
		}
	}
}

// Containers are not needed for an answer about air.
func TestLawAirSideAlone(t *testing.T) {
	r := assess(t, exampleJob(t, "air-side-only"), Options{Method: "quick"})
	if len(r.Formats) != 0 || len(r.Air.Outlets) == 0 || r.Verdict != Met || !(r.Cost.Energy > 0) {
		t.Errorf("%d formats, %d outlets, %s", len(r.Formats), len(r.Air.Outlets), r.Verdict)
	}
}

// Words of a path, as a person would say them.
func TestLawWords(t *testing.T) {
	for path, want := range map[string]string{
		"/arrives/water":                        "water (arrives)",
		"/formats/0/product_temperature":        "product temperature (format 1)",
		"/stations/1/outlets/0/plenum_pressure": "plenum pressure (station 2, outlet 1)",
		"/next/0/requires/1/water":              "water (next machine 1, requirement 2)",
		"/site/summer/temperature":              "temperature (site, summer)",
	} {
		if got := words(path); got != want {
			t.Errorf("%s: %q, want %q", path, got, want)
		}
	}
}

func TestLawSwing(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct{ base, low, high, want float64 }{
		{1, 1, 1, 1}, {1, 0.5, 2, 4}, {1, nan, 2, 2}, {1, nan, nan, 1}, {0, 0, 0, 1}, {1, 0, 1, 1e3},
	} {
		if got := swing(c.base, c.low, c.high); got != c.want {
			t.Errorf("swing(%g, %g, %g) = %g, want %g", c.base, c.low, c.high, got, c.want)
		}
	}
}

// Check finds what cannot stand where it is put.
func TestLawCheck(t *testing.T) {
	if p := Check(canJob(t, nil)); len(p) != 0 {
		t.Errorf("the example has problems: %v", p)
	}
	p := Check(canJob(t, func(j *job.Job) {
		outlets(j, func(o *job.Outlet) { o.StandOff = q.Known(q.Millimetres(-30)) })
	}))
	if len(p) == 0 || p[0].Path == "" {
		t.Errorf("outlets inside the containers: %v", p)
	}
}

// Notes come worst first and once.
func TestLawNotesInOrder(t *testing.T) {
	r := assess(t, canJob(t, nil), fast())
	seen := map[relation.Note]bool{}
	for i, n := range r.Notes {
		if i > 0 && rank(n.Severity) > rank(r.Notes[i-1].Severity) {
			t.Errorf("note %d is worse than the one before", i)
		}
		n.Value, n.Limit = 0, 0
		if seen[n] {
			t.Errorf("said twice: %s", n.Text)
		}
		seen[n] = true
	}
}

// In a job of three sizes nobody could tell which of them kept the 270 mg of a note.
func TestLawNotesOfAmountsNameTheirFormat(t *testing.T) {
	j := exampleJob(t, "cans-three-sizes")
	r := assess(t, j, Options{Method: "transport", Cell: 8e-3, NoRanking: true, Nominal: true})
	told := 0
	for _, n := range r.Notes {
		if !strings.Contains(n.Text, "the container keeps") {
			continue
		}
		told++
		if !slices.ContainsFunc(r.Formats, func(f FormatResult) bool { return strings.HasPrefix(n.Text, f.Name+": ") }) {
			t.Errorf("no format is named: %s", n.Text)
		}
	}
	if told < 1 {
		t.Error("no note tells amounts")
	}
}

func TestLawTwoFigures(t *testing.T) {
	for x, want := range map[float64]string{450.3: "450", 1234: "1200", 0.01234: "0.012", 9.96: "10", 0: "0", 5: "5.0", -27.4: "-27"} {
		if got := twoFigures(x); got != want && !(x == 9.96 && got == "10.0") {
			t.Errorf("%g: %s, want %s", x, got, want)
		}
	}
}
