package cost

import (
	"fmt"
	"math"

	"leste/job"
	"leste/physics/air"
	"leste/physics/jet"
	"leste/physics/relation"
	q "leste/quantity"
)

// freeDensity is that of free air at 1 bar and 20 degC, dry, at which specific power is stated (ISO 1217).
const freeDensity q.Density = 1.188

// Rival is compressed air doing the same: equal thrust at the outlets.
type Rival struct {
	Flow     q.MassFlow   // at the nozzles while blowing
	FreeAir  q.VolumeFlow // drawn by the compressor on average, leaks and pulsing counted
	Power    q.Power      // of the compressor for it, on average while containers pass
	Thrust   q.Force
	Measured bool // the flow was read on the station, not calculated
	// Unloading is the share of Power that the compressor really saves when the demand goes away.
	Unloading q.Ratio
	// Ratio is the station's power over the rival's, with a band from specific power, nozzle pressure and leaks.
	Ratio q.Band
	Notes []relation.Note
}

// controls are the saved share of power per share of flow that a compressor's control reaches; its power at
// no flow is what is left. From memory of compressed-air handbooks, modulating as the US DOE sourcebook.
var controls = []struct {
	name  string
	slope float64
}{
	{"modulating", 0.30},
	{"load/unload", 0.70},
	{"load/unload poor storage", 0.45},
	{"variable speed", 0.88},
	{"start/stop", 1},
}

func unloading(control string) (float64, error) {
	if control == "" {
		control = "load/unload"
	}
	known := ""
	for i, c := range controls {
		if c.name == control {
			return c.slope, nil
		}
		if i > 0 {
			known += ", "
		}
		known += c.name
	}
	return 0, fmt.Errorf("cost: unknown compressor control %q: it is one of %s", control, known)
}

// CompressedAir returns what compressed air would take for the thrust of a station that draws grid power. The
// baseline is equal thrust at the nozzles' own pressure, which is what reaches a wall some way off; it is not
// equal flow. A nil c takes the defaults of the job file.
func CompressedAir(thrust q.Force, grid q.Power, room air.Moist, c *job.CompressedAir) (Rival, error) {
	if c == nil {
		c = &job.CompressedAir{}
	}
	if !(thrust > 0) || math.IsInf(float64(thrust), 0) {
		return Rival{}, fmt.Errorf("cost: the thrust to be matched must be positive")
	}
	slope, err := unloading(c.Control)
	if err != nil {
		return Rival{}, err
	}
	v := rivalValues{
		nozzle: or(c.Nozzle, 4e5), specific: or(c.SpecificPower, 6.6*60e3), leaks: or(c.Leaks, 0.1),
		cv: or(c.Velocity, 0.97), pulsed: or(c.PulsedOn, 1), header: or(c.Header, 6e5),
	}
	if err := v.check(); err != nil {
		return Rival{}, err
	}
	r := Rival{Thrust: thrust, Unloading: q.Ratio(slope)}
	r.Flow = q.MassFlow(v.flow(float64(thrust), room))
	if c.MeasuredFlow.Known {
		r.Flow, r.Measured = q.MassFlow(float64(c.MeasuredFlow.V)*float64(freeDensity)), true
	}
	r.FreeAir = q.VolumeFlow(float64(r.Flow) / float64(freeDensity) * v.pulsed / (1 - v.leaks))
	r.Power = q.Power(v.specific * float64(r.FreeAir))
	ratio := float64(grid / r.Power)
	r.Ratio = q.Band{Likely: ratio, Low: ratio, High: ratio}
	if !r.Measured {
		for _, end := range []rivalValues{v.with(0.91, 1.25, 0.05), v.with(1.14, 0.7, 0.3)} {
			p := end.specific * end.flow(float64(thrust), room) / float64(freeDensity) * end.pulsed / (1 - end.leaks)
			r.Ratio.Low, r.Ratio.High = min(r.Ratio.Low, float64(grid)/p), max(r.Ratio.High, float64(grid)/p)
		}
	}
	r.notes(v)
	return r, nil
}

// rivalValues are what the rival is computed from, SI.
type rivalValues struct{ nozzle, header, specific, leaks, cv, pulsed float64 }

func (v rivalValues) with(specific, nozzle, leaks float64) rivalValues {
	v.specific *= specific
	v.nozzle *= nozzle
	v.leaks = leaks
	return v
}

func (v rivalValues) check() error {
	for _, x := range []struct {
		name               string
		value, least, most float64
	}{
		{"nozzle pressure in bar", v.nozzle / 1e5, 0.05, 10},
		{"header pressure in bar", v.header / 1e5, 0.5, 15},
		{"specific power in kW/(m3/min)", v.specific / 60e3, 1, 30},
		{"share of leaks", v.leaks, 0, 0.9},
		{"velocity coefficient", v.cv, 0.5, 1},
		{"share pulsed on", v.pulsed, 0.01, 1},
	} {
		if !(x.value >= x.least && x.value <= x.most) {
			return fmt.Errorf("cost: compressed air: %s must lie between %g and %g, not %.4g", x.name, x.least, x.most, x.value)
		}
	}
	if v.nozzle > v.header {
		return fmt.Errorf("cost: compressed air: the nozzle pressure of %.3g bar exceeds the header's %.3g bar", v.nozzle/1e5, v.header/1e5)
	}
	return nil
}

// flow is the mass flow [kg/s] whose thrust matches, through nozzles fed at room temperature.
func (v rivalValues) flow(thrust float64, room air.Moist) float64 {
	d := jet.DryAir().Isentropic(room.P+q.Absolute(v.nozzle), room.T, room.P)
	return thrust * float64(d.MassFlux) / float64(d.ThrustFlux(q.Ratio(v.cv)))
}

func (r *Rival) notes(v rivalValues) {
	add := func(sev relation.Severity, text string, value, limit float64, unit string) {
		r.Notes = append(r.Notes, relation.Note{Severity: sev, Relation: "compressed-air-rival", Text: text, Value: value, Limit: limit, Unit: unit})
	}
	none := math.NaN()
	add(relation.Info, "Compared at equal thrust: the blower needs two to three times the air. Close to the outlet the pressure decides, and compressed air can exceed a blower's.", none, none, "")
	if r.Unloading < 1 {
		add(relation.Caution, "The compressor saves only part of the power when the demand goes away, by its control.", 100*float64(r.Unloading), 100, "%")
	}
	const deadEnded = 206.8e3 // 30 psi
	if v.nozzle > deadEnded {
		add(relation.Caution, "Compressed air for cleaning must stay below 30 psi when dead-ended, with guarding (29 CFR 1910.242(b)).", v.nozzle, deadEnded, "Pa")
	}
}

// BlowerInstead returns what a blower station of the same thrust would draw from the mains [W]: outlets at 20 kPa,
// 0.55 of the mains' power in the air, which is what stations of good knives on a centrifugal blower reach.
//
// Range: thrust above zero. Uncertainty: -20 to +30 %. Source: relation power-per-thrust; common practice, no source.
func BlowerInstead(thrust q.Force, room air.Moist) q.Band {
	const plenum, efficiency, heatInAir, cv = 20e3, 0.55, 0.93, 0.97
	w := float64(thrust) * float64(jet.GasOf(room).BlowerPowerPerThrust(room.P, room.T, plenum, efficiency, heatInAir, cv))
	return q.Band{Likely: w, Low: w * blowerLow, High: w * blowerHigh}
}

// HoleFlow returns the free-air flow through a round hole or nozzle to the room, at the density of free air
// given; choked above the critical ratio. Source: published: orifice discharge tables (coefficient 1,
// 14.7 psi absolute, 70 degF), reproduced within 0.6 %.
func HoleFlow(area q.Area, cd q.Ratio, supply q.Gauge, ambient q.Absolute, t q.Temperature, free q.Density) q.VolumeFlow {
	d := jet.DryAir().Isentropic(supply.Above(ambient), t, ambient)
	return jet.FreeAirFlow(d.MassFlow(cd, area), free)
}
