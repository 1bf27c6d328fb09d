package leste

import (
	"fmt"
	"math"
	"reflect"
	"testing"

	"leste/catalogue"
	"leste/job"
)

// What a method that follows the water holds itself against is what the quick method says when it is asked alone.
func TestLawClosedFormsSayTheSameBesideAnotherMethod(t *testing.T) {
	found := map[string]*formatRun{}
	for _, method := range []string{quickMethod, "transport"} {
		cell := float64(usualCell)
		if method == quickMethod {
			cell = quickCell
		}
		_, run := quicklyAnswered(t, "can-330-sidewall", Options{Method: method, Cell: cell})
		found[method] = run
	}
	alone, beside := found[quickMethod], found["transport"]
	for i := range alone.all {
		if a, b := lastTotal(alone.all[i].outcome), lastTotal(beside.all[i].outcome); a != b {
			t.Errorf("%s: %v alone, %v beside transport", alone.all[i].situation.name, a, b)
		}
	}
	if r := beside.stages[false].plan.Body.Surface.Rows; r <= alone.stages[false].plan.Body.Surface.Rows {
		t.Errorf("the water would be followed on %d rows only", r)
	}
}

// A format that is answered alone is answered as among the others.
func TestLawOnlyAnswersAsAmongAll(t *testing.T) {
	j := exampleJob(t, "cans-three-sizes")
	o := Options{Method: quickMethod, Cell: 7e-3, Nominal: true, NoRanking: true, LikelyWater: true}
	all, err := Assess(t.Context(), j, o)
	if err != nil {
		t.Fatal(err)
	}
	o.Only = []string{j.Formats[1].Name}
	one, err := Assess(t.Context(), j, o)
	if err != nil {
		t.Fatal(err)
	}
	if len(one.Formats) != 1 || !reflect.DeepEqual(one.Formats[0].Zones, all.Formats[1].Zones) {
		t.Errorf("%s is answered otherwise alone", j.Formats[1].Name)
	}
}

// The case that decides is answered alone as among all, to the last bit of its likely values.
func TestLawOneCaseIsAnsweredAsAmongAll(t *testing.T) {
	j := exampleJob(t, "cans-three-sizes")
	o := Options{Method: "transport", Cell: 7e-3, NoRanking: true, LikelyWater: true}
	all, err := Assess(t.Context(), j, o)
	if err != nil {
		t.Fatal(err)
	}
	for i := range all.Formats {
		f := &all.Formats[i]
		o.Only, o.Case = []string{f.Name}, f.Case
		one, err := Assess(t.Context(), j, o)
		if err != nil {
			t.Fatal(err)
		}
		if len(one.Formats) != 1 || len(one.Cases) != 1 || one.Formats[0].Case != f.Case {
			t.Fatalf("%s: %d formats in %d cases", f.Name, len(one.Formats), len(one.Cases))
		}
		for z := range f.Zones {
			if a, b := f.Zones[z].Left.Likely, one.Formats[0].Zones[z].Left.Likely; a != b {
				t.Errorf("%s, %s, in the case %s: %g among all, %g alone", f.Name, f.Zones[z].Name, f.Case, a, b)
			}
		}
	}
	o.Case = "no such case"
	if one, err := Assess(t.Context(), j, o); err != nil || one.Formats[0].Case != caseNominal {
		t.Errorf("a case that a format has not is answered as %+v, %v", one.Formats[0].Case, err)
	}
}

// The loads are those of the wall that the water is followed on, whoever looks at the air for them: the cases on the
// coarse grid, or somebody who looks for nothing else.
func TestLawLoadsAreOverheard(t *testing.T) {
	push := map[bool]map[string]float64{}
	for _, nominal := range []bool{false, true} {
		r, err := Assess(t.Context(), exampleJob(t, "can-330-sidewall"), Options{Method: "transport", Cell: 3e-3, Nominal: nominal, NoRanking: true, Workers: 2})
		if err != nil {
			t.Fatal(err)
		}
		push[nominal] = map[string]float64{}
		for _, p := range r.Formats[0].Standing {
			push[nominal][p.Way] = p.Factor
		}
	}
	for way, alone := range push[true] {
		if heard := push[false][way]; heard != alone && !(math.Abs(heard-alone) < 0.05*alone) {
			t.Errorf("%s: factor %g overheard, %g where nobody else looks", way, heard, alone)
		}
	}
}

// Cases that look at the same air at once, in whatever order, leave the same loads and the same water.
func TestLawManyWorkersOverhearTheSame(t *testing.T) {
	var told []string
	for _, workers := range []int{1, 3} {
		o := Options{Method: "transport", Cell: 4.5e-3, NoRanking: true, Workers: workers}
		r, err := Assess(t.Context(), exampleJob(t, "can-330-sidewall"), o)
		if err != nil {
			t.Fatal(err)
		}
		f := &r.Formats[0]
		told = append(told, fmt.Sprint(f.Standing, f.Zones, f.Map.Water, r.Cases, r.Cautions))
	}
	if told[0] != told[1] {
		t.Error("three workers tell something else than one")
	}
}

// quicklyAnswered is an example's assessment with the first of its formats answered by the quick method.
func quicklyAnswered(t *testing.T, name string, o Options) (*assessment, *formatRun) {
	t.Helper()
	j := exampleJob(t, name)
	a := &assessment{given: j, job: job.Clone(j), parts: catalogue.GenericParts(), result: &Result{}, options: o}
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
	return a, run
}

// A case that was answered alone before is not followed again among all, and nothing of the answer changes by that.
func TestLawWhatWasFollowedBeforeChangesNothing(t *testing.T) {
	told := func(r *Result) (text string) {
		for i := range r.Formats {
			f := &r.Formats[i]
			text += fmt.Sprint(f.Case, f.Verdict, f.Zones, f.Standing, f.Balance, f.Map.Water, f.Why)
		}
		return text + fmt.Sprint(r.Cases, r.Notes)
	}
	j := exampleJob(t, "cans-three-sizes")
	o := Options{Method: "transport", Cell: 7e-3, NoRanking: true, Workers: 2}
	want, err := Assess(t.Context(), j, o)
	if err != nil {
		t.Fatal(err)
	}
	one := o
	one.LikelyWater, one.Case, one.Followed = true, want.Formats[0].Case, NewFollowed()
	if _, err := Assess(t.Context(), j, one); err != nil {
		t.Fatal(err)
	}
	if n := len(one.Followed.known); n != len(j.Formats) {
		t.Fatalf("%d cases are kept of %d formats", n, len(j.Formats))
	}
	o.Followed = one.Followed
	got, err := Assess(t.Context(), j, o)
	if err != nil {
		t.Fatal(err)
	}
	if told(got) != told(want) {
		t.Error("what was followed before changes the answer")
	}
	for c, known := range o.Followed.known { // it is taken
		for i := range known.At {
			for z := range known.At[i].Zones {
				known.At[i].Zones[z].Drops *= 2
			}
		}
		o.Followed.known[c] = known
	}
	if got, err = Assess(t.Context(), j, o); err != nil || told(got) == told(want) {
		t.Errorf("what was followed before is followed again, %v", err)
	}
}
