package calc

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	q "leste/quantity"
)

// needed are values for the inputs that must be given and for those that must be chosen between.
var needed = map[string]map[string]string{
	"jet":            {"slot-gap": "1.5 mm", "pressure": "20 kPa"},
	"reach":          {"slot-gap": "1.5 mm", "pressure": "20 kPa"},
	"sweep":          {"height": "115 mm", "speed": "0.6 m/s"},
	"film":           {"speed": "1 m/s", "shear": "50 Pa", "gradient": "1000 kPa/m"},
	"drop":           {"shear": "75 Pa", "air-speed": "93 m/s"},
	"crevice":        {"gap": "0.3 mm", "depth": "3 mm", "pressure": "3 kPa"},
	"condensation":   {"product-temperature": "4 degC"},
	"stability":      {"mass": "24 g", "base-diameter": "48 mm", "push": "0.05 N", "push-height": "60 mm"},
	"duct":           {"flow": "600 m3/h", "bore": "100 mm"},
	"plenum":         {"slot-gap": "1.5 mm", "length": "300 mm", "plenum-bore": "60 mm"},
	"compression":    {"flow": "600 m3/h", "pressure": "20 kPa"},
	"motor":          {"rated": "11 kW"},
	"compressed-air": {"bore": "3 mm"},
	"sound":          {"slot-gap": "1.5 mm", "pressure": "20 kPa"},
}

func answer(t *testing.T, topic string, given map[string]string) Answer {
	t.Helper()
	found, err := Find(topic)
	if err != nil {
		t.Fatal(err)
	}
	a, err := found.Answer(given)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// number returns an answer in the unit of its key.
func number(t *testing.T, a Answer, key string) float64 {
	t.Helper()
	for _, r := range a.Results {
		if r.Output.Key == key {
			return r.InUnit()
		}
	}
	t.Fatalf("%s gave no %s", a.Topic.Name, key)
	return 0
}

func with(base map[string]string, pairs ...string) map[string]string {
	out := map[string]string{}
	for k, v := range base {
		out[k] = v
	}
	for i := 0; i < len(pairs); i += 2 {
		out[pairs[i]] = pairs[i+1]
	}
	return out
}

// Every topic answers with what it needs and its defaults; its relations are cards, its keys carry units.
func TestLawEveryTopicAnswers(t *testing.T) {
	cards := Relations()
	for _, topic := range Topics() {
		a := answer(t, topic.Name, needed[topic.Name])
		if len(a.Results) < 2 || topic.Asks == "" || topic.Help == "" {
			t.Errorf("%s: %d results", topic.Name, len(a.Results))
		}
		for _, p := range topic.Params {
			if p.Default != "" && p.Source == "" {
				t.Errorf("%s, %s: the default has no source", topic.Name, p.Name)
			}
		}
		for _, r := range a.Results {
			if x, ok := r.Value.(float64); ok && math.IsNaN(x) {
				t.Errorf("%s, %s: not known with the usual inputs", topic.Name, r.Output.Key)
			}
		}
		for _, id := range a.Relations {
			if _, err := cards.Get(id); err != nil {
				t.Errorf("%s: %v", topic.Name, err)
			}
		}
	}
}

// The exit of an outlet at 20 kPa and 20 degC, without loss: Isentropic relations for k = 1.4, R = 287.05,
// evaluated by an independent integration of dp/rho to five digits.
func TestReferenceJetExit(t *testing.T) {
	a := answer(t, "jet", map[string]string{
		"slot-gap": "1.5 mm", "pressure": "20 kPa", "temperature": "20 degC", "distance": "100 mm", "discharge": "1",
	})
	for key, want := range map[string]float64{
		"exit_velocity_m_s": 171.90,
		"mass_flux_kg_s_m2": 217.92,
		"flow_kg_s_m":       217.92 * 1.5e-3,
		"thrust_n_m":        37461 * 1.5e-3, // closed form (2k/(k-1)) pa ((p0/pa)^((k-1)/k) - 1)
	} {
		if got := number(t, a, key); math.Abs(got-want) > 1e-4*want { // the values carry five digits
			t.Errorf("%s = %.6g, want %.6g", key, got, want)
		}
	}
}

// A sharp 1/4 in hole of the published orifice table passes 104 cfm of free air at 100 psi; the table counts
// with discharge 1 and free air of 70 degF and 14.7 psi, and has three digits.
func TestReferenceOrificeTable(t *testing.T) {
	a := answer(t, "compressed-air", map[string]string{
		"bore": "0.25 in", "pressure": "100 psi", "discharge": "1", "temperature": "70 degF", "ambient": "14.7 psi",
	})
	const cfm = 0.028316846592 // m3/min
	if got := number(t, a, "free_air_m3_min") / cfm; math.Abs(got-104) > 0.5 {
		t.Errorf("%.2f cfm, want 104 cfm", got)
	}
}

// Rated efficiency of an 11 kW four-pole IE3 motor: IEC 60034-30-1, table for 50 Hz.
func TestReferenceMotorClass(t *testing.T) {
	a := answer(t, "motor", map[string]string{"rated": "11 kW"})
	if got := number(t, a, "full_load_pct"); math.Abs(got-91.4) > 1e-9 {
		t.Errorf("full load %g %%, want 91.4 %%", got)
	}
}

// ISO 2533 gives 89874.6 Pa at 1000 m.
func TestReferenceAirOnSite(t *testing.T) {
	a := answer(t, "air", map[string]string{"altitude": "1000 m"})
	if got := number(t, a, "pressure_pa"); math.Abs(got-89874.6) > 1 {
		t.Errorf("%.1f Pa at 1000 m, want 89874.6 Pa", got)
	}
}

func TestLawAnswersMoveTheRightWay(t *testing.T) {
	for _, c := range []struct {
		topic, key, input string
		low, high         string
		rises             bool
	}{
		{"jet", "impact_pressure_pa", "pressure", "10 kPa", "20 kPa", true},
		{"jet", "impact_pressure_pa", "distance", "50 mm", "150 mm", false},
		{"jet", "thrust_n_m", "slot-gap", "0.8 mm", "1.5 mm", true},
		{"reach", "reach_mm", "velocity", "30 m/s", "60 m/s", false},
		{"sweep", "length_mm", "speed", "0.5 m/s", "1.5 m/s", true},
		{"sweep", "length_mm", "height", "100 mm", "200 mm", true},
		{"film", "film_um", "speed", "0.3 m/s", "2 m/s", true},
		{"film", "film_um", "shear", "20 Pa", "80 Pa", false},
		{"drop", "critical_diameter_mm", "shear", "20 Pa", "80 Pa", false},
		{"crevice", "hold_pa", "gap", "0.2 mm", "0.5 mm", false},
		{"evaporation", "time_s", "humidity", "30 %", "70 %", true},
		{"condensation", "condensate_g_m2", "humidity", "60 %", "90 %", true},
		{"stability", "tip_factor", "push-height", "40 mm", "80 mm", false},
		{"duct", "loss_pa", "flow", "300 m3/h", "600 m3/h", true},
		{"plenum", "non_uniformity_pct", "plenum-bore", "40 mm", "80 mm", false},
		{"compression", "discharge_c", "pressure", "10 kPa", "30 kPa", true},
		{"compressed-air", "power_w", "pressure", "3 bar", "6 bar", true},
		{"sound", "level_db", "pressure", "10 kPa", "25 kPa", true},
		{"sound", "level_db", "distance", "1 m", "4 m", false},
	} {
		low := number(t, answer(t, c.topic, with(needed[c.topic], c.input, c.low)), c.key)
		high := number(t, answer(t, c.topic, with(needed[c.topic], c.input, c.high)), c.key)
		if (high > low) != c.rises || high == low {
			t.Errorf("%s: %s goes from %g to %g as %s goes from %s to %s", c.topic, c.key, low, high, c.input, c.low, c.high)
		}
	}
}

// Reach is the inverse of the jet's velocity, for slots, nozzles and rows.
func TestLawReachIsTheInverseOfTheJet(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		wanted := rapid.Float64Range(15, 80).Draw(rt, "wanted")
		outlet := rapid.SampledFrom([]map[string]string{
			{"slot-gap": "1 mm"}, {"bore": "25 mm"}, {"bore": "20 mm", "spacing": "60 mm"},
		}).Draw(rt, "outlet")
		given := with(outlet, "pressure", "20 kPa")
		x := number(t, answer(t, "reach", with(given, "velocity", q.KindSpeed.Exact(wanted))), "reach_mm")
		u := number(t, answer(t, "jet", with(given, "distance", q.KindLength.Exact(x*1e-3))), "velocity_m_s")
		if math.Abs(u-wanted) > 1e-6*wanted {
			rt.Errorf("at %g mm the velocity is %g m/s, want %g m/s", x, u, wanted)
		}
	})
}

func TestLawWrongInputsAreNamed(t *testing.T) {
	for _, c := range []struct {
		topic string
		given map[string]string
		param string
		says  string
	}{
		{"jet", map[string]string{"pressure": "20 kPa"}, "slot-gap", "either"},
		{"jet", map[string]string{"slot-gap": "1 mm"}, "pressure", "must be given"},
		{"jet", map[string]string{"slot-gap": "1 mm", "bore": "20 mm", "pressure": "20 kPa"}, "slot-gap", "either"},
		{"jet", map[string]string{"slot-gap": "1", "pressure": "20 kPa"}, "slot-gap", "unit"},
		{"jet", map[string]string{"slot-gap": "-1 mm", "pressure": "20 kPa"}, "slot-gap", "above zero"},
		{"jet", map[string]string{"slot-gap": "1 mm", "pressure": "NaN kPa"}, "pressure", ""},
		{"jet", map[string]string{"slot-gap": "1 mm", "pressure": "1e400 kPa"}, "pressure", ""},
		{"jet", map[string]string{"slot-gap": "1 mm", "pressure": "20 kPa", "discharge": "1.2"}, "discharge", "between 0 and 1"},
		{"jet", map[string]string{"slot-gap": "1 mm", "pressure": "20 kPa", "discharge": "0"}, "discharge", "above zero"},
		{"jet", map[string]string{"bore": "20 mm", "spacing": "10 mm", "pressure": "20 kPa"}, "spacing", "closer"},
		{"jet", map[string]string{"slot": "1 mm"}, "", "known are: slot-gap"},
		{"reach", map[string]string{"slot-gap": "1 mm", "pressure": "5 kPa", "velocity": "300 m/s"}, "velocity", "never faster"},
		{"motor", map[string]string{"rated": "11 kW", "class": "IE9"}, "class", "known are: IE2"},
		{"motor", map[string]string{"rated": "900 kW"}, "rated", "0.75 to 200 kW"},
		{"drop", with(needed["drop"], "receding", "90 deg"), "receding", "cannot exceed"},
		{"air", map[string]string{"temperature": "120 degC", "humidity": "90 %"}, "humidity", "does not exist"},
		{"air", map[string]string{"pressure": "100 kPa", "altitude": "10 m"}, "altitude", "not both"},
		{"condensation", nil, "product-temperature", "must be given"},
		{"compression", with(needed["compression"], "inlet-loss", "2 bar"), "inlet-loss", "less than"},
	} {
		topic, err := Find(c.topic)
		if err != nil {
			t.Fatal(err)
		}
		_, err = topic.Answer(c.given)
		var wrong *InputError
		if !errors.As(err, &wrong) || wrong.Param != c.param || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s %v: %v; want one about %q that says %q", c.topic, c.given, err, c.param, c.says)
		}
	}
	if _, err := Find("jets"); err == nil || !strings.Contains(err.Error(), "known are: jet, reach") {
		t.Errorf("unknown topic: %v", err)
	}
}

// Values far outside every range give notes or errors, never NaN without a word and never a panic.
func TestLawHugeAndTinyInputsAreSurvived(t *testing.T) {
	for _, topic := range Topics() {
		for _, p := range topic.Params {
			if p.Kind == q.None {
				continue
			}
			for _, x := range []float64{1e-300, 1e-9, 1e6, 1e12, 1e300} {
				a, err := topic.Answer(with(needed[topic.Name], p.Name, p.Kind.Exact(x)))
				if err != nil {
					continue
				}
				for _, r := range a.Results {
					if r.Value == nil {
						t.Errorf("%s with %s = %g: %s has no value", topic.Name, p.Name, x, r.Output.Key)
					}
				}
			}
		}
	}
}
