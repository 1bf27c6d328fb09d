package drying

import (
	"math"

	"leste/physics/water"
	q "leste/quantity"
)

// A Line is a piece of a line on the wall at which swept water comes to rest: where sweeps from two sides
// meet, where the air's reach ends, or above a rim.
type Line struct {
	Length float64 // m
	Rise   float64 // share of it that is upright: 1 a line from top to bottom, 0 level
	Up     float64 // upward part of the wall's normal
	Air    float64 // m/s beside it
	Onward bool    // the water's weight pulls it on, not back over wall that has been swept
}

// A Ridge is what stays of the water brought to a line, and where the rest went [kg].
type Ridge struct {
	Stays    float64 // as a ridge, held against air and weight
	Streaks  float64 // as the drops that streaks leave which run back over the wall
	BlownOff float64
	Mist     float64
}

// Streaks that run back: their distance along a level line is that of the drops hanging from a ceiling, and
// each leaves twice the largest drop the wall holds (one to three). Judgement.
const streakLeaves = 2

// HoldLine divides the mass brought to a line [kg]. wallHeight is the height over which an upright line
// carries one streak.
func HoldLine(l water.Liquid, w water.Wetting, rho q.Density, line Line, wallHeight, mass float64) Ridge {
	if !(mass > 0) {
		return Ridge{}
	}
	incline := q.Angle(math.Acos(max(-1, min(1, line.Up))))
	section := float64(water.RidgeCapacity(l, w, rho, q.Speed(line.Air), incline))
	r := Ridge{Stays: min(mass, float64(l.Density)*section*line.Length)}
	over := mass - r.Stays
	if over <= 0 {
		return r
	}
	// What is over: torn to mist by fast air, else blown off or running down.
	height := float64(w.Mean()) / 2
	thick := math.Tan(height) / 2 * math.Sqrt(over/(float64(l.Density)*line.Length*water.CapFrontFactor(w.Mean())))
	thick = min(thick, float64(water.PuddleHeight(l, w.Mean())))
	weber := float64(water.MistWeber(l, rho, q.Speed(line.Air), q.Length(thick)))
	r.Mist = over * mistShare * (1 - tail(math.Log(weber/water.MistOnset)/mistWidth))
	over -= r.Mist
	if !line.Onward {
		hanging := 2 * math.Pi * math.Sqrt2 * float64(l.CapillaryLength())
		streaks := line.Length * (math.Sqrt(max(0, 1-line.Rise*line.Rise))/hanging + line.Rise*line.Rise/wallHeight)
		drop := float64(l.Density) * float64(water.SlideVolume(l, w, incline))
		r.Streaks = min(over, streakLeaves*streaks*drop)
	}
	r.BlownOff = over - r.Streaks
	return r
}

// Of a ridge well above the onset of mist, the share torn to mist, and how gradually that begins. Judgement.
const (
	mistShare = 0.5
	mistWidth = 0.5
)
