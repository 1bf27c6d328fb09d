package leste

import (
	"math"

	"leste/drying"
	"leste/job"
	"leste/physics/air"
	"leste/physics/water"
	q "leste/quantity"
)

// fileTransfer is the heat transfer coefficient on containers that move in single file through a room;
// common practice, no source; 8 to 20.
const fileTransfer = 12.0

// Water qualities change the pure liquid by these factors; judgement, to be fitted. A rinse with residues of
// detergent or chain lubricant has 45 to 65 mN/m.
const (
	surfactantTension = 0.75
	syrupViscosity    = 1.2
)

// pressureOf is the air pressure of a filled job's site.
func pressureOf(j *job.Job) q.Absolute {
	if j.Site.Barometer.Known {
		return j.Site.Barometer.V
	}
	p, _ := air.StandardAtmosphere(j.Site.Altitude.V)
	return p
}

// Seasons of the room's air.
type season int

const (
	summer season = iota
	winter
)

// roomOf is the room's air in a season.
func roomOf(j *job.Job, s season) drying.Room {
	r := j.Site.Summer
	if s == winter {
		r = j.Site.Winter
	}
	return drying.Room{
		Pressure: pressureOf(j), Temperature: r.Temperature.V, Humidity: float64(r.Humidity.V), HeatTransfer: fileTransfer,
	}
}

// liquidOf is the water that a format brings.
func liquidOf(a *job.Arrives) drying.Liquid {
	t := a.Temperature.V
	l := water.Pure(t)
	d := drying.Liquid{
		Temperature: t, Tension: float64(l.Tension), Viscosity: float64(l.Viscosity), Density: float64(l.Density),
	}
	switch a.Quality {
	case "surfactant":
		d.Tension *= surfactantTension
	case "syrup":
		d.Viscosity *= syrupViscosity
	}
	if a.Tension.Known {
		d.Tension = float64(a.Tension.V)
	}
	return d
}

// arrivesOf is the water on a container before the first station.
func arrivesOf(a *job.Arrives, path string, assumed []job.Assumed) drying.Arrives {
	d := drying.Arrives{
		Film: float64(a.Water.V), Drops: float64(a.Water.V), DropMedian: float64(a.Drop.V),
		TrappedFull: float64(a.Trapped.V), PoolsFull: float64(a.Pools.V), Since: float64(a.Since.V),
	}
	// An amount that somebody gave is still an amount that somebody judged.
	d.LeastWater, d.MostWater = givenLow, givenHigh
	if !a.Water.Known {
		d.LeastWater, d.MostWater = 0, 0
		if low, high, ok := rangeOf(assumed, path+"/water", float64(a.Water.V)); ok {
			d.LeastWater, d.MostWater = low, high
		}
	}
	return d
}

// Range of an amount of water that is given; weighing one container tells it about so well.
const givenLow, givenHigh = 0.8, 1.25

// rangeOf is the range of an assumed amount of water over its likely value.
func rangeOf(assumed []job.Assumed, path string, likely float64) (low, high float64, ok bool) {
	for _, a := range assumed {
		if a.Path != path || a.Low == "" {
			continue
		}
		l, errL := q.Parse[q.AreaMass](a.Low)
		h, errH := q.Parse[q.AreaMass](a.High)
		if errL != nil || errH != nil || likely <= 0 {
			return 0, 0, false
		}
		return float64(l) / likely, float64(h) / likely, true
	}
	return 0, 0, false
}

// settingsOf are the settings of the water model.
func settingsOf(m *job.Model, alone bool) drying.Settings {
	s := drying.Settings{
		Drag: float64(m.Drag.V), SlideShare: float64(m.SlideShare.V), HoleSpacing: float64(m.HoleSpacing.V),
		SmallDrops: float64(m.SmallDrops.V), DropSpread: float64(m.DropSpread.V), RecedingSpread: float64(m.RecedingSpread.V),
		Shear: float64(m.Shear.V), Pressure: float64(m.Pressure.V), RunDown: float64(m.RunDown.V),
		Rewetting: float64(m.Rewetting.V), MistBack: float64(m.MistBack.V),
	}
	if alone {
		s.Rewetting = 0
	}
	return s
}

// machinesOf are the machines that a format meets, each after the index of its station. stop is a time that
// the line stands on the way to each [s].
func machinesOf(j *job.Job, format string, speed q.Speed, stop float64) []drying.Machine {
	var all []drying.Machine
	for i := range j.Next {
		n := &j.Next[i]
		if !passes(n, format) {
			continue
		}
		m := drying.Machine{
			Kind: n.Machine, Name: n.Name, Travel: float64(n.Distance.V)/float64(speed) + stop, After: len(j.Stations) - 1,
		}
		for k := range j.Stations {
			if n.After != "" && j.Stations[k].Name == n.After {
				m.After = k
			}
		}
		for k := range n.Requires {
			m.Requires = append(m.Requires, requirementOf(&n.Requires[k]))
		}
		all = append(all, m)
	}
	return all
}

func passes(n *job.NextMachine, format string) bool {
	if len(n.Formats) == 0 {
		return true
	}
	for _, f := range n.Formats {
		if f == format {
			return true
		}
	}
	return false
}

func requirementOf(r *job.Requirement) drying.Requirement {
	none := math.NaN()
	d := drying.Requirement{Zone: r.Zone, Water: none, Mass: none, Drop: none, Rejects: none, RejectDrop: none}
	switch {
	case r.Rejects.V > 0:
		d.Rejects, d.RejectDrop = float64(r.Rejects.V), float64(r.Drop.V)
	case r.Water.V > 0:
		d.Water = float64(r.Water.V)
	case r.Mass.V > 0:
		d.Mass = float64(r.Mass.V)
	default:
		d.Drop = float64(r.Drop.V)
	}
	return d
}
