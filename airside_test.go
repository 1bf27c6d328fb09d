package leste

import (
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"leste/cost"
	"leste/job"
	"leste/physics/air"
	"leste/physics/relation"
	q "leste/quantity"
)

// airAlone is the example without containers, changed.
func airAlone(t *testing.T, change func(*job.Job)) *job.Job {
	t.Helper()
	text, err := os.ReadFile("examples/air-side-only.yaml")
	if err != nil {
		t.Fatal(err)
	}
	file, problems := job.Read("air-side-only.yaml", text)
	if file == nil || len(problems) > 0 {
		t.Fatal(problems)
	}
	if change != nil {
		change(file.Job)
	}
	return file.Job
}

func alike(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %.8g, want %.8g +- %g", what, got, want, tolerance)
	}
}

// Every case of the air side is in the result, the worst ones among them are named, and the load list is there.
func TestLawResultHoldsTheWholeAirSide(t *testing.T) {
	r := assess(t, airAlone(t, nil), Options{})
	names := map[string]AirCase{}
	for _, c := range r.Air.Cases {
		names[c.Name] = c
	}
	for _, want := range []string{"nominal", "loaded filter", "winter", "coldest day", "system loss x 1.15", "blower curve - 5 %", "knife 1 blocked", "turned down while idle"} {
		if c, ok := names[want]; !ok || c.Refused == "" && !(c.Grid > 0) {
			t.Errorf("case %q: %+v", want, c)
		}
	}
	criteria := map[string]bool{}
	for _, w := range r.Air.Worst {
		criteria[w.Criterion] = true
		c, ok := names[w.Case]
		if !ok {
			t.Errorf("worst for %s: no case %q", w.Criterion, w.Case)
		}
		for _, other := range r.Air.Cases {
			if w.Criterion == "motor" && other.MotorLoad > c.MotorLoad || w.Criterion == "heat" && other.Discharge > c.Discharge {
				t.Errorf("worst for %s is %s, but %s is worse", w.Criterion, w.Case, other.Name)
			}
		}
	}
	if len(criteria) != 4 || len(r.Air.Loads) != 1 || len(r.Air.Choices) != 0 {
		t.Errorf("%d criteria, %d loads, %d choices", len(criteria), len(r.Air.Loads), len(r.Air.Choices))
	}
	r = assess(t, airAlone(t, func(j *job.Job) {
		j.AirSupply.Blowers = nil
		for i := range j.Stations[0].Outlets {
			j.Stations[0].Outlets[i].Pressure = q.Known(q.Gauge(14e3))
		}
	}), Options{})
	if len(r.Air.Choices) == 0 || r.Air.Choices[0].Rejected != "" {
		t.Errorf("choices %+v", r.Air.Choices)
	}
}

// The year is made of its parts, and the years against compressed air follow from them.
func TestLawYearAndYears(t *testing.T) {
	r := assess(t, airAlone(t, func(j *job.Job) {
		c := &j.Cost
		c.Demand, c.FilterPrice, c.BeltPrice = q.Known(q.PricePerPower(0.09)), q.Known(80.), q.Known(60.)
		c.Spares, c.Maintenance, c.Price = q.Known(100.), q.Known(400.), q.Known(15000.)
		c.Emissions = q.Known(q.EmissionsPerEnergy(0.4 / 3.6e6))
		c.CompressedAir = &job.CompressedAir{Control: "modulating", Price: q.Known(2000.), Maintenance: q.Known(500.)}
	}), Options{})
	y := r.Cost.Year
	sum := y.Electricity + y.Demand + y.Filters + y.Belts + y.Spares + y.Maintenance + y.FalseReject
	alike(t, "sum of the parts", sum, y.Total, 1e-9*y.Total)
	alike(t, "cost of the year", r.Cost.Cost, y.Total, 1e-9*y.Total)
	kWh := float64(r.Cost.Energy) / 3.6e6
	alike(t, "electricity", y.Electricity, kWh*0.16, 1e-9*y.Total)
	alike(t, "carbon dioxide", float64(y.Emissions), kWh*0.4, 1e-9*kWh)
	peak := 0.0
	for _, c := range r.Air.Cases {
		if c.Refused == "" {
			peak = max(peak, float64(c.Grid))
		}
	}
	alike(t, "demand charge", y.Demand, peak*0.09, 1e-9*y.Total)
	alike(t, "filters", y.Filters, 80*6000./2000, 1e-9)
	alike(t, "belts", y.Belts, 60*6000./4000, 1e-9)

	l := r.Cost.Life
	energy, other := y.Electricity+y.Demand, y.Filters+y.Belts+y.Spares+y.Maintenance
	rising, level := cost.EscalatingUPV(.08, .02, 10), cost.UPV(.08, 10)
	alike(t, "the station over the years", l.Cost, 15000+energy*rising+other*level, 1e-6*l.Cost)
	alike(t, "compressed air over the years", l.Compressed, 2000+r.Cost.CompressedCost*rising+500*level, 1e-6*l.Compressed)
	alike(t, "net present value", l.NPV, l.Compressed-l.Cost, 1e-6*l.NPV)
	alike(t, "as the compressor unloads", l.Unloaded, 2000+.3*r.Cost.CompressedCost*rising+500*level-l.Cost, 1e-6*l.Cost)
	alike(t, "payback", l.Payback, 13000/(r.Cost.CompressedCost-energy+500-other), 1e-9)

	if bare := assess(t, airAlone(t, func(j *job.Job) { j.Cost.Price = q.Maybe[float64]{} }), Options{}); bare.Cost.Life != nil {
		t.Error("the years are compared without the price of the station")
	}
}

// Blowers that cannot be turned down are counted as running on, and it is said; in a nominal answer too.
func TestLawIdleOfAMainsDrive(t *testing.T) {
	for _, nominal := range []bool{false, true} {
		o := Options{Nominal: nominal}
		down := assess(t, airAlone(t, nil), o)
		fixed := assess(t, airAlone(t, func(j *job.Job) { j.AirSupply.Blowers[0].Inverter = "no" }), o)
		said := slices.ContainsFunc(fixed.Notes, func(n relation.Note) bool { return strings.Contains(n.Text, "cannot be turned down") })
		if !said || !(fixed.Cost.Energy > 0) {
			t.Errorf("nominal %v: energy %g, said %v", nominal, float64(fixed.Cost.Energy), said)
		}
		alike(t, "hours at full power", float64(fixed.Cost.Energy), float64(fixed.Air.Blowers[0].Grid)*6000*3600, 1e-6*float64(fixed.Cost.Energy))
		full := float64(down.Air.Blowers[0].Grid) * 6000 * 3600
		if share := float64(down.Cost.Energy) / full; !(share > 0.85 && share < 0.95) {
			t.Errorf("nominal %v: %g of the energy of running on, turned down for 15 %% of the hours", nominal, share)
		}
	}
}

// The limit is about 1 m wherever people stand; what they hear falls with the distance and rises with the background.
func TestLawSoundAtOneMetreAndAtThePerson(t *testing.T) {
	at := func(distance float64, background q.Maybe[q.SoundLevel]) SoundResult {
		return assess(t, airAlone(t, func(j *job.Job) {
			j.Cost.Sound.Distance, j.Cost.Sound.Background = q.Known(q.Length(distance)), background
			j.Cost.Sound.Exposure = q.Known(q.Duration(4 * 3600))
		}), Options{Nominal: true}).Sound
	}
	near, far, loud := at(1, q.Maybe[q.SoundLevel]{}), at(4, q.Maybe[q.SoundLevel]{}), at(4, q.Known(q.SoundLevel(100)))
	if near.At1m != far.At1m || far.At1m != loud.At1m {
		t.Errorf("at 1 m: %g, %g, %g dB", near.At1m, far.At1m, loud.At1m)
	}
	alike(t, "a person at 1 m", float64(near.Place.Level), float64(near.At1m), 1e-9)
	if !(far.Place.Level < near.Place.Level-9 && loud.Place.Level > 100) {
		t.Errorf("at 4 m: %g dB, with 100 dB of background %g dB", far.Place.Level, loud.Place.Level)
	}
	alike(t, "daily exposure of 4 h", float64(far.Place.Daily), float64(far.Place.Level)+10*math.Log10(.5), 1e-9)
	if !(loud.Place.DailyLow > 100-3.1) {
		t.Errorf("daily exposure from %g dB in a background of 100 dB", loud.Place.DailyLow)
	}
}

// Heat stays in the hall without an enclosure; with one the exhaust carries it.
func TestLawHeatAndExhaust(t *testing.T) {
	r := assess(t, airAlone(t, nil), Options{Nominal: true})
	alike(t, "heat", float64(r.Exhaust.Heat), float64(r.Air.Blowers[0].Grid), 1e-9)
	r = assess(t, airAlone(t, func(j *job.Job) {
		j.Cost.Enclosure = &job.Enclosure{OpenArea: q.Known(q.Area(.3)), Water: q.Known(q.MassFlow(60. / 3600)), MakeUpFrom: q.Known(q.Celsius(0))}
	}), Options{Nominal: true})
	pressure, _ := air.StandardAtmosphere(650)
	rho := float64(air.Humid(pressure, q.Celsius(32), .45).Density())
	flow := 1.2 * (float64(r.Air.Flow)/rho + .3*.8)
	alike(t, "exhaust", float64(r.Exhaust.Flow), flow, 1e-9)
	alike(t, "make-up", float64(r.Exhaust.MakeUp), flow*rho*1006*32, 1e-6*float64(r.Exhaust.MakeUp))
	alike(t, "moisture", float64(r.Exhaust.Moisture), .1*60/3600/(flow*rho), 1e-12)
}

// A motor that its blower can overload is a reason for no promise, and the size that bears it is named.
func TestLawMotorTooSmallIsNoPromise(t *testing.T) {
	r := assess(t, airAlone(t, func(j *job.Job) {
		j.AirSupply.Blowers[0].Motor = &job.Motor{Power: q.Known(q.Power(4000)), Poles: 2}
	}), Options{})
	if len(r.Stops) != 1 || !strings.Contains(r.Stops[0], "one of 11 kW bears it, so nothing is promised.") || r.Verdict != Undecided {
		t.Errorf("verdict %s, stops %q", r.Verdict, r.Stops)
	}
	if r := assess(t, airAlone(t, nil), Options{}); len(r.Stops) != 0 || r.Verdict != Met {
		t.Errorf("verdict %s, stops %q", r.Verdict, r.Stops)
	}
}

// The losses of a branch's elements and of its junction make up its loss; the air everywhere is told.
func TestLawLossesAddUp(t *testing.T) {
	r := assess(t, airAlone(t, nil), Options{Nominal: true})
	for _, p := range r.Air.Parts {
		sum, shares := float64(p.Junction), float64(p.Share)*float64(p.Junction/p.Loss)
		for _, e := range p.Elements {
			sum += float64(e.Loss)
			shares += float64(e.Share)
		}
		alike(t, p.Name+": shares", shares, float64(p.Share), 1e-4*float64(p.Share))
		alike(t, p.Name+": elements and junction", sum, float64(p.Loss), 0.01)
		alike(t, p.Name+": start less end", float64(p.Start-p.End), float64(p.Loss), 1e-6)
		alike(t, p.Name+": air", float64(p.Temperature), float64(r.Air.Blowers[0].Discharge), 1e-3)
		if !(p.Flow > 0 && p.Speed > 5) {
			t.Errorf("%s: %g kg/s, %g m/s", p.Name, float64(p.Flow), float64(p.Speed))
		}
	}
	for _, o := range r.Air.Outlets {
		if o.Uneven.Likely != float64(o.NonUniformity) || !(o.Uneven.Low < o.Uneven.High) || !(o.Inclination > 0 && o.Inclination.Deg() < 15) {
			t.Errorf("%s: %+v, %g degrees", o.Name, o.Uneven, o.Inclination.Deg())
		}
	}
}

// site1800 is one knife on a belt-driven blower at 1800 m, on warm outdoor air through a half-loaded filter.
const site1800 = `leste: 1
job: "hand check"
site: { altitude: 1800 m, frequency: 60 Hz, voltage: 480 V, inlet_from: outdoors, summer: {temperature: 30 degC, humidity: 40 %}, winter: {temperature: 15 degC, humidity: 40 %}, inlet_summer: {temperature: 38 degC, humidity: 30 %}, inlet_winter: {temperature: -15 degC, humidity: 80 %} }
stations:
  - name: exit
    state: planned
    outlets:
      - { name: k1, kind: air knife, side: left, height: 120 mm, offset: 120 mm, length: 600 mm, slot_gap: 1.2 mm, plenum_bore: 100 mm, discharge: 0.92 }
air_supply:
  filter: { points: [{flow: 0.1 m3/s, drop: 150 Pa},{flow: 0.2 m3/s, drop: 500 Pa}], change_out: 900 Pa, loaded: 0.5 }
  inlet: {bore: 125 mm}
  blowers:
    - name: b1
      kind: high-speed centrifugal
      curve:
        points:
          - {flow: 0.06 m3/s, pressure: 24 kPa, efficiency: 52 %}
          - {flow: 0.12 m3/s, pressure: 22.5 kPa, efficiency: 66 %}
          - {flow: 0.18 m3/s, pressure: 19.5 kPa, efficiency: 68 %}
          - {flow: 0.24 m3/s, pressure: 14.5 kPa, efficiency: 60 %}
      motor: { power: 7.5 kW, class: US premium, poles: 2, frequency: 60 Hz }
      drive: belt
      speed: 95 %
      outlet: 100 mm
      sound: 88 dB
  branches:
    - {name: main, from: b1, to: k1, elements: [{kind: duct, bore: 125 mm, length: 8 m, material: galvanised},{kind: bend, count: 2}]}
`

// The whole way of the air, from the site to the mains, as an independent program has it (airsupply/oracles/site1800.py:
// marching, with the laws written anew). The two differ by their step sizes only.
func TestReferenceWholeSupplyAtAltitude(t *testing.T) {
	file, problems := job.Read("site1800.yaml", []byte(site1800))
	if file == nil || len(problems) > 0 {
		t.Fatal(problems)
	}
	r := assess(t, file.Job, Options{})
	b, o := r.Air.Blowers[0], r.Air.Outlets[0]
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"flow", float64(o.Flow), 0.101727},
		{"plenum", float64(o.Plenum), 14232},
		{"rise", float64(b.Rise), 14962.7},
		{"inlet flow", float64(b.Inlet), 0.113451},
		{"shaft", float64(b.Shaft), 2420.49},
		{"discharge in degC", b.Discharge.C(), 61.3482},
		{"filter", float64(b.Filter), 640.162},
		{"loss of the duct", float64(r.Air.Parts[0].Loss), 67.4654},
		{"from the mains", float64(b.Grid), 3192.79},
		{"full-load current", float64(r.Air.Loads[0].Current), 11.7647},
	} {
		alike(t, c.what, c.got, c.want, 2e-5*c.want)
	}
}

// One blower serves outlets that ask for different pressures: what gets more than it asks for says so. It was silent.
func TestLawMoreAirThanAskedForIsSaid(t *testing.T) {
	for name, want := range map[string]int{"pet-500-closure": 2, "can-330-sidewall": 0} {
		j := exampleJob(t, name)
		r, err := Assess(t.Context(), j, Options{Method: "none", Workers: 1})
		if err != nil {
			t.Fatal(err)
		}
		found := 0
		for _, n := range r.Notes {
			if strings.Contains(n.Text, "more than the wanted plenum pressure") {
				found++
				if !(n.Value > n.Limit) {
					t.Errorf("%s: %s: %g is not more than %g", name, n.Text, n.Value, n.Limit)
				}
			}
		}
		if found != want {
			t.Errorf("%s: %d outlets get more than they ask for, not %d", name, found, want)
		}
	}
}

// The reserve of a motor was told to be over the greatest power of all cases, and differed from the worst one by a tenth
// and more: it is over what the motor is sized by, which no case passes.
func TestLawNoCaseDrawsWhatAMotorIsSizedBy(t *testing.T) {
	apart := 0
	for _, name := range []string{"air-side-only", "can-330-sidewall", "glass-330-shoulder", "pet-500-closure"} {
		r, err := Assess(t.Context(), exampleJob(t, name), Options{Method: "quick", Cell: 12e-3, NoRanking: true})
		if err != nil {
			t.Fatal(err)
		}
		for _, b := range r.Air.Blowers {
			if len(r.Air.Blowers) > 1 || math.IsNaN(float64(b.Reserve)) {
				continue
			}
			asked := float64(b.Motor) / (1 + float64(b.Reserve))
			most := 0.0
			for _, c := range r.Air.Cases {
				if !math.IsNaN(float64(c.MotorLoad)) {
					most = max(most, float64(c.MotorLoad)*float64(b.Motor))
				}
			}
			const noise, clearly = 1e-9, 1.05
			if most > asked*(1+noise) {
				t.Errorf("%s: a case draws %.0f W of the motor, which is sized by %.0f W", name, most, asked)
			}
			if asked > clearly*most {
				apart++
			}
		}
	}
	if apart == 0 {
		t.Error("no motor is sized by clearly more than a case draws, so that words for either would do")
	}
}
