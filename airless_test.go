package leste

import (
	"math"
	"slices"
	"strings"
	"testing"

	"leste/airsupply"
	"leste/catalogue"
	"leste/job"
	"leste/physics/relation"
	q "leste/quantity"
)

// hindered are generic parts with one blower, the one that would be chosen for a job, that may run with no less than a
// share of the flow that it has nominally.
func hindered(t testing.TB, j *job.Job, share float64) *catalogue.Parts {
	t.Helper()
	parts := catalogue.GenericParts()
	s, err := airsupply.Assess(t.Context(), j, parts)
	if err != nil {
		t.Fatal(err)
	}
	b := s.Nominal.Blowers[0]
	for _, p := range parts.Blowers {
		if p.Part != s.Plan.Candidates[0].Part {
			continue
		}
		curve := *p.Blower.Curve
		curve.MinFlow = q.Known(b.Inlet / q.VolumeFlow(b.Speed) * q.VolumeFlow(share))
		p.Blower.Curve = &curve
		parts.Blowers = []catalogue.BlowerPart{p}
	}
	return &parts
}

// mayKeep is the job of a can line that may carry an amount of water.
func mayKeep(t testing.TB, kg q.Mass) *job.Job {
	return canJob(t, func(j *job.Job) {
		j.Next[0].Requires = []job.Requirement{{Zone: job.ZoneAll, Mass: q.Known(kg)}}
	})
}

// Shares of the nominal flow that a blower falls below with a loaded filter, and only where the system resists more
// than calculated.
const (
	dryWhenLoaded = 0.998
	dryInReach    = 0.97
)

// A station whose blower runs dry with a loaded filter does not meet what it meets with air: in that case the water is
// what arrives, by every method, and it is said.
func TestLawWithoutAirInACaseNothingIsMet(t *testing.T) {
	j := mayKeep(t, 2e-3)
	for _, method := range []string{"quick", "transport"} {
		o := Options{Method: method, Cell: 8e-3, NoRanking: method != "quick", Workers: 2}
		if r := assess(t, j, o); r.Verdict != Met {
			t.Fatalf("%s, with air: %s, %+v", method, r.Verdict, r.Cases)
		}
		o.Parts = hindered(t, j, dryWhenLoaded)
		r := assess(t, j, o)
		f := &r.Formats[0]
		if r.Verdict != NotMet || f.Verdict != NotMet || f.Case != caseLoaded {
			t.Fatalf("%s: %s, the format %s in the case %s", method, r.Verdict, f.Verdict, f.Case)
		}
		if !slices.Equal(f.Airless, []string{caseLoaded}) {
			t.Errorf("%s: no air comes in the cases %q", method, f.Airless)
		}
		if d, _ := Deciding(r.Formats...); d.Case != caseLoaded || d.Verdict != NotMet {
			t.Errorf("%s: what decides is %+v", method, d.RequirementResult)
		}
		o.Method, o.Parts, o.NoRanking = "none", nil, true
		arrives := assess(t, j, o).Formats[0].Container.Likely
		at := slices.IndexFunc(r.Cases, func(c CaseResult) bool { return c.Name == caseLoaded })
		c := r.Cases[at]
		if math.Abs(c.Left.Likely/arrives-1) > 0.1 || !strings.Contains(c.Note, "no air comes: ") || c.Lacking == "" {
			t.Errorf("%s: %.3g g are left where %.3g g arrive: %q", method, 1e3*c.Left.Likely, 1e3*arrives, c.Note)
		}
		if !slices.ContainsFunc(r.Cautions, func(s string) bool { return strings.HasPrefix(s, "no air comes in the cases loaded filter; ") }) {
			t.Errorf("%s: it is not said: %q", method, r.Cautions)
		}
		for _, c := range r.Cases {
			if c.Name != caseLoaded && (c.Verdict != Met || c.Lacking != "") {
				t.Errorf("%s: %+v", method, c)
			}
		}
		if method == "quick" && (len(r.Helps) == 0 || !strings.HasPrefix(r.Helps[0].What, "have air come in the case loaded filter")) {
			t.Errorf("what helps most is %+v", r.Helps)
		}
		if slices.ContainsFunc(r.Notes, func(n relation.Note) bool { return strings.Contains(n.Text, "no air reaches") && n.Value == 100 }) {
			t.Errorf("%s: the notes are those of a case without air", method)
		}
		if f.Map == nil || len(f.Map.Water) != f.Map.Rows*f.Map.Cols {
			t.Errorf("%s: the map is not that of the wall", method)
		}
	}
}

// A station whose blower may run dry within the reach of what is calculated is not sure to meet what it meets; nor is
// one of which a case of its own is not known. The likely values stay.
func TestLawAirThatIsNotKnownToComeLeavesItUndecided(t *testing.T) {
	j := mayKeep(t, 2e-3)
	o := fast()
	want := assess(t, j, o)
	o.Parts = hindered(t, j, dryInReach)
	r := assess(t, j, o)
	if r.Verdict != Undecided || r.Formats[0].Verdict != Undecided || r.Formats[0].Case != "system loss x 1.15" {
		t.Errorf("%s, the format %s in the case %s", r.Verdict, r.Formats[0].Verdict, r.Formats[0].Case)
	}
	if a, b := r.Formats[0].Container, want.Formats[0].Container; math.Abs(a.Likely/b.Likely-1) > 1e-5 || a.High <= b.High {
		t.Errorf("%+v, and with air %+v", a, b)
	}
	if len(r.Cases) != len(want.Cases)+1 {
		t.Errorf("%d cases, and %d with air", len(r.Cases), len(want.Cases))
	}
	j.AirSupply.Filter = &job.Filter{ChangeOut: q.Known(q.PressureDrop(6e3))}
	fan := hindered(t, j, 0)
	o.Parts = fan
	at := assess(t, j, o).Air.Blowers[0]
	for i := range fan.Blowers { // its curve ends a little below the nominal flow
		b := &fan.Blowers[i].Blower
		curve := *b.Curve
		b.Kind, b.Curve, curve.MinFlow = airsupply.Fan, &curve, q.Maybe[q.VolumeFlow]{}
		curve.Points = slices.Clone(curve.Points)
		end := at.Inlet / q.VolumeFlow(at.SpeedRatio) * 0.96
		for curve.Points[1].Flow < end {
			curve.Points = curve.Points[1:]
		}
		p, next := &curve.Points[0], curve.Points[1]
		part := float64((end - p.Flow) / (next.Flow - p.Flow))
		p.Pressure += q.PressureDrop(part) * (next.Pressure - p.Pressure)
		p.Power.V += q.Power(part) * (next.Power.V - p.Power.V)
		p.Flow = end
	}
	if r = assess(t, j, o); r.Verdict != Undecided || !slices.ContainsFunc(r.Cases, func(c CaseResult) bool {
		return c.Name == caseLoaded && c.Verdict == Undecided && strings.Contains(c.Note, "below the first point of the curve")
	}) {
		t.Errorf("%s: %+v", r.Verdict, r.Cases)
	}
}

// Water that may stay is no reason against a station without air in a case; the station is still not told to be in order.
func TestLawWaterThatMayStayIsMetWithoutAir(t *testing.T) {
	j := mayKeep(t, 10e-3)
	o := fast()
	o.Parts = hindered(t, j, dryWhenLoaded)
	r := assess(t, j, o)
	if r.Verdict != Undecided || r.Formats[0].Verdict != Met {
		t.Errorf("%s, the format %s", r.Verdict, r.Formats[0].Verdict)
	}
}

// Where nothing is asked of the water, a blower that runs dry in a case is not met; one that does when an outlet is
// blocked or while it is turned down is.
func TestLawAirSideAloneIsNotMetWhereItRunsDry(t *testing.T) {
	j := mayKeep(t, 1)
	j.Formats, j.Next = nil, nil
	for _, c := range []struct {
		share float64
		want  Verdict
	}{{dryWhenLoaded, NotMet}, {dryInReach, Undecided}, {0.6, Met}} {
		o := fast()
		o.Parts = hindered(t, j, c.share)
		r := assess(t, j, o)
		refused := slices.ContainsFunc(r.Air.Cases, func(c AirCase) bool { return c.Refused != "" })
		if r.Verdict != c.want || !refused {
			t.Errorf("with %g of the flow at least: %s, a case refused: %v", c.share, r.Verdict, refused)
		}
	}
}
