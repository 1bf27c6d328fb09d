package cost

import (
	"math"

	"leste/airsupply"
	"leste/job"
	"leste/physics/air"
	"leste/physics/jet"
	"leste/physics/relation"
	q "leste/quantity"
)

// Installed jets are louder than free ones: what the calculation of the free jet misses, and its own scatter.
const (
	installedLow  = 5  // dB
	installedHigh = 10 // dB
	freeScatter   = 4  // dB
	blowerScatter = 3  // dB
)

// Sound is what a station sounds like where people stand, A-weighted as far as the sources are. Jet levels
// are unweighted and so an upper bound.
type Sound struct {
	Jets                q.SoundLevel          // sound power of the free jets, dB re 1 pW
	Blowers             q.Maybe[q.SoundLevel] // declared sound power at the speeds run, silencer and hood not counted
	At                  q.SoundLevel          // pressure level at the place, likely
	Low                 q.SoundLevel
	High                q.SoundLevel
	WithRoom            q.Maybe[q.SoundLevel] // At with the background of the room
	Hood                q.SoundLevel          // what the hood takes off
	Dose                q.Ratio               // by 29 CFR 1910.95 for the exposure time, at the likely level
	Daily               q.SoundLevel          // LEX,8h
	DailyLow, DailyHigh q.SoundLevel
	Action              string // what directive 2003/10/EC asks for at the likely exposure
	Notes               []relation.Note
}

// Noise returns the sound of the outlets of an operation and of its blowers at a place.
func Noise(op airsupply.Operation, outlets []airsupply.Outlet, blowers []airsupply.Blower, room air.Moist, s job.Surroundings, hood *job.Enclosure) Sound {
	place := Place{
		Distance: q.Length(or(s.Distance, 1)), Directivity: q.Ratio(or(s.Directivity, 2)),
		Surface: s.Surface.V, Absorption: q.Ratio(or(s.Absorption, 0.1)),
	}
	var out Sound
	add := func(sev relation.Severity, text string) {
		out.Notes = append(out.Notes, relation.Note{Severity: sev, Relation: "jet-sound", Text: text, Value: math.NaN(), Limit: math.NaN()})
	}
	var jets, at []q.SoundLevel
	for i, o := range op.Outlets {
		if o.Blocked || o.Flow <= 0 {
			continue
		}
		level := jet.SoundPowerLevel(jet.SoundPower(o.Flow, o.Velocity, room.SoundSpeed()))
		jets = append(jets, level)
		at = append(at, PressureLevel(level, outlets[i].Length, place))
	}
	out.Jets = SumLevels(jets...)
	if h := hood; h != nil && h.OpenArea.Known && h.WallArea.Known && s.Hood.Known {
		out.Hood = HoodReduction(s.Hood.V, h.OpenArea.V, h.WallArea.V)
	}
	free := SumLevels(at...) - out.Hood
	var machines []q.SoundLevel
	for i, b := range op.Blowers {
		if i < len(blowers) && blowers[i].Sound.Known {
			machines = append(machines, blowers[i].Sound.V+SpeedLevel(b.Speed))
		}
	}
	machine := q.SoundLevel(math.Inf(-1))
	if len(machines) > 0 {
		out.Blowers = q.Known(SumLevels(machines...))
		machine = PressureLevel(out.Blowers.V, 0, place)
	}
	if len(machines) < len(op.Blowers) {
		add(relation.Caution, "The sound of a blower is not assessed: its maker's A-weighted sound power is not known.")
	}
	const likely = (installedLow + installedHigh) / 2.0
	out.At = SumLevels(free+likely, machine)
	out.Low = SumLevels(free+installedLow-freeScatter, machine-blowerScatter)
	out.High = SumLevels(free+installedHigh+freeScatter, machine+blowerScatter)
	if s.Background.Known {
		out.WithRoom = q.Known(SumLevels(out.At, s.Background.V))
	}
	out.expose(s)
	add(relation.Info, "Only the mixing noise of free jets is calculated; installed jets are 5 to 10 dB louder, which is counted; measure.")
	return out
}

// expose judges the level for the time a person spends there.
func (s *Sound) expose(around job.Surroundings) {
	time := q.Duration(or(around.Exposure, 8*hour))
	one := func(station q.SoundLevel) []Exposure {
		if around.Background.Known {
			station = SumLevels(station, around.Background.V)
		}
		return []Exposure{{station, time}}
	}
	s.Dose = Dose(one(s.At), 80)
	s.Daily = DailyExposure(one(s.At))
	s.DailyLow, s.DailyHigh = DailyExposure(one(s.Low)), DailyExposure(one(s.High))
	switch {
	case s.Daily > ExposureLimit:
		s.Action = "above the exposure limit unless hearing protectors bring it under 87 dB(A)"
	case s.Daily >= UpperAction:
		s.Action = "upper action value reached: measures and hearing protectors required"
	case s.Daily >= LowerAction:
		s.Action = "lower action value reached: hearing protectors to be offered"
	default:
		s.Action = "below the lower action value"
	}
}
