package accept

import (
	"math"
	"slices"
	"strings"

	leste "leste"
	"leste/job"
	q "leste/quantity"
)

// Expected is what was promised and what instruments should read on site.
type Expected struct {
	Promises []Promise
	Readings []Value
	Filters  map[string][2]float64 // of each blower: clean and change-out drop at the duty [Pa]; may be empty
	Zones    []string              // of every format; may be empty
	Left     []Left                // what is calculated to be left; may be empty
	Noise    Noise
}

// Left is the water that is calculated to be left in a zone of one container [kg].
type Left struct {
	Format, Zone string
	Band         q.Band
}

// A Value is what one instrument should read, and how far off still counts as right.
type Value struct {
	What, At, Format string
	Want             float64 // SI
	Off              float64 // SI; absolute tolerance
}

// How far a reading may be off before it counts: the calculation's and the instruments' uncertainty
// together. Common practice, no source.
const (
	pressureShare = 0.08
	currentShare  = 0.08
	speedShare    = 0.03
	gapShare      = 0.07
	soundOff      = 4.0  // dB
	heatOff       = 6.0  // K
	placeOff      = 2e-3 // m, where no computed tolerance is known
	tiltOff       = 2 * math.Pi / 180
)

// The drops of a filter that the job does not describe, as its air supply assumes them [Pa]. Common practice, no source.
const usualClean, usualChangeOut = 250.0, 1000.0

// From builds what is expected from a job and its result. Currents are the motor currents at the operating
// point, by blower [A], where they are known; tolerances are the computed tolerances of settings, by what and
// outlet ("stand-off/left knife"). Where outlets stand and how fast the line runs follow from the layout: Stands, Runs.
func From(j *job.Job, r *leste.Result, currents map[string]q.Current, tolerances map[string]float64) Expected {
	e := Expected{Filters: map[string][2]float64{}}
	for _, f := range r.Formats {
		for _, z := range f.Zones {
			if !slices.Contains(e.Zones, z.Name) {
				e.Zones = append(e.Zones, z.Name)
			}
			e.Left = append(e.Left, Left{f.Name, z.Name, z.Left})
			for _, x := range z.Requirements {
				e.Promises = append(e.Promises, Promise{Format: f.Name, Machine: x.Machine, Zone: z.Name, Quantity: x.Quantity, Limit: x.Limit, Area: z.Area})
			}
		}
	}
	for _, o := range r.Air.Outlets {
		e.Readings = append(e.Readings, Value{What: Plenum, At: o.Name, Want: float64(o.Plenum), Off: pressureShare * float64(o.Plenum)})
	}
	for _, b := range r.Air.Blowers {
		e.Readings = append(e.Readings, Value{What: Temperature, At: b.Name, Want: float64(b.Discharge), Off: heatOff})
		if c, ok := currents[b.Name]; ok && c > 0 {
			e.Readings = append(e.Readings, Value{What: Current, At: b.Name, Want: float64(c), Off: currentShare * float64(c)})
		}
	}
	if r.Sound.Assessed {
		e.Readings = append(e.Readings, Value{What: Sound, Want: float64(r.Sound.At1m), Off: soundOff})
	}
	e.Noise = Noise{Limit: j.Site.Noise.V, Asked: j.Site.Noise.Known, Background: j.Cost.Sound.Background}
	if r.Sound.Assessed {
		e.Noise.Calculated = [2]q.SoundLevel{r.Sound.At1m, r.Sound.Low}
	}
	for _, s := range j.Stations {
		for _, o := range s.Outlets {
			e.addOutlet(o, len(j.Formats) > 0, tolerances)
		}
	}
	clean, changeOut := usualClean, usualChangeOut
	if f := j.AirSupply.Filter; f != nil && f.Clean.V > 0 {
		clean, changeOut = float64(f.Clean.V), float64(f.ChangeOut.V)
	}
	for _, b := range r.Air.Blowers {
		e.Filters[b.Name] = [2]float64{clean, changeOut}
	}
	return e
}

// addOutlet adds what the job sets on an outlet. Where containers pass, how it stands to them and which slope its lip
// shows follow from the layout: Stands.
func (e *Expected) addOutlet(o job.Outlet, laidOut bool, tolerances map[string]float64) {
	if o.Gap() > 0 {
		e.Stands(SlotGap, o.Name, "", float64(o.Gap()), tolerances)
	}
	if laidOut || o.Frame != "" {
		return
	}
	if o.Height.V > 0 {
		e.Stands(Height, o.Name, "", float64(o.Height.V), tolerances)
	}
	if o.AimDown.V == 0 && o.AimAlong.V == 0 { // aiming changes the slope
		e.Stands(Tilt, o.Name, "", float64(o.Tilt.V), tolerances)
	}
}

// Stands adds how an outlet should stand, for one format or ("") for all: what is SlotGap, StandOff, Height, Tilt or
// Clearance [m, rad]. A value that is not known is left out.
func (e *Expected) Stands(what, outlet, format string, want float64, tolerances map[string]float64) {
	if math.IsNaN(want) {
		return
	}
	off := placeOff
	switch what {
	case SlotGap:
		off = gapShare * want
	case Tilt:
		off = tiltOff
	}
	if t, ok := tolerances[what+"/"+outlet]; ok && t > 0 {
		off = t
	}
	e.Readings = append(e.Readings, Value{What: what, At: outlet, Format: format, Want: want, Off: off})
}

// A Reading is one instrument against what it should read: the mean over the rows that name it, or of a setting the one
// that is farthest off.
type Reading struct {
	Value
	Read   float64
	Ratio  float64 // read over wanted; NaN for temperatures, levels and angles
	Apart  float64 // read less wanted [SI]
	Beyond bool    // off by more than the tolerance
}

// readings compares every measured reading with what is expected.
func readings(rows []Row, e Expected) []Reading {
	var out []Reading
	for _, v := range e.Readings {
		got := read(rows, v)
		if v.What == Sound {
			got = e.Noise.station(rows)
		}
		if math.IsNaN(got) {
			continue
		}
		x := Reading{Value: v, Read: got, Ratio: nan}
		x.Apart = x.Read - v.Want
		x.Beyond = math.Abs(x.Apart) > v.Off
		switch v.What {
		case Temperature, Sound, Tilt:
		default:
			if v.Want != 0 {
				x.Ratio = x.Read / v.Want
			}
		}
		out = append(out, x)
	}
	return out
}

// read is the mean of the rows that name a reading. Of how an outlet is set it is the one that is farthest off, as a gap
// that is too narrow at one end and too wide at the other is right nowhere. NaN without any.
func read(rows []Row, v Value) float64 {
	sum, n, farthest := 0.0, 0, nan
	for _, r := range rows {
		if r.What == v.What && (v.At == "" || strings.EqualFold(r.At, v.At)) && r.matches(v.Format) && !math.IsNaN(r.Value) {
			sum += r.Value
			n++
			if !(math.Abs(r.Value-v.Want) <= math.Abs(farthest-v.Want)) {
				farthest = r.Value
			}
		}
	}
	switch v.What {
	case SlotGap, StandOff, Clearance, Height, Tilt:
		return farthest
	}
	return sum / float64(n)
}

// RunningCurrent is the current of a motor at part load, from its full-load current and power factor and the
// share of its full-load input: the part that magnetises stays, the part that works falls with the load.
// Re-derived; within about a tenth above a quarter of the load.
func RunningCurrent(full q.Current, powerFactor, share q.Ratio) q.Current {
	pf := min(max(float64(powerFactor), 0), 1)
	works := pf * float64(share)
	return full * q.Current(math.Sqrt(works*works+1-pf*pf))
}

// Runs adds the speed of the line that was ordered for a format [m/s]; cases run faster.
func (e *Expected) Runs(format string, speed float64) {
	e.Readings = append(e.Readings, Value{What: Speed, Format: format, Want: speed, Off: speedShare * speed})
}
