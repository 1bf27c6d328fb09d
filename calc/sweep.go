package calc

import (
	"math"

	"leste/physics/relation"
	"leste/physics/water"
	q "leste/quantity"
)

func sweepTopic() Topic {
	params := append([]Param{
		{Name: "height", Help: "Height of wall to be swept.", Kind: q.KindLength, Eg: "115 mm", Need: true},
		{Name: "speed", Help: "Belt speed.", Kind: q.KindSpeed, Eg: "0.8 m/s", Need: true},
		{Name: "tilt", Help: "Slope of the knife against travel; the steepest one that dries when left out.", Kind: q.KindAngle, Eg: "22 deg"},
		{Name: "distance", Help: "Distance from the outlet to the wall; the jet is weaker within about a quarter of it at each end of the slot.", Kind: q.KindLength, Default: "40 mm", Source: "common practice, no source"},
	}, append(angleParams(), liquidParams()...)...)
	return Topic{
		Name: "sweep", Asks: askSweep,
		Help:   "How long a knife must be and at what tilt, so that its front sweeps the whole height from the top down and the wall behind it dries.",
		Params: params,
		Answers: []Output{
			{"tilt_deg", "slope of the knife against travel", q.KindAngle},
			{"length_mm", "length of the knife", q.KindLength},
			{"front_speed_m_s", "speed of the front over the wall, square to itself", q.KindSpeed},
			{"downward_speed_m_s", "speed at which the front moves down", q.KindSpeed},
			{"sweep_time_s", "time the front takes from top to bottom", q.KindDuration},
			{"dewetting_speed_m_s", "fastest front behind which the wall dries", q.KindSpeed},
			{"dry_front", "the wall dries behind the front", q.None},
			{"wet_share_pct", "share of the wall on which a film stays behind the front", q.KindRatio},
		},
		solve: solveSweep,
	}
}

// endMargin is the length of slot at each end, over the distance to the wall, within which the jet has less
// than nine tenths of its thrust (relation slot-ends: erf(11.2 z/x) = 0.8 at z = 0.081 x, and as much again
// for the jets at the edge of the container that lie farther away).
const endMargin = 0.25

// flattest is the least slope proposed: below it a knife grows longer than a line has room for.
const flattest = 5 * math.Pi / 180

func solveSweep(c *call) error {
	l := c.liquid()
	w, err := c.wetting()
	if err != nil {
		return err
	}
	speed := float64(at[q.Speed](c, "speed"))
	dry := water.DewettingSpeed(l, w.Receding, 0)
	c.use("dewetting-speed", "wet-share", "slot-ends")

	// The front moves over the wall, square to itself, at the belt speed times the sine of the slope.
	tilt := math.Pi / 2
	switch {
	case c.has("tilt"):
		if tilt = float64(at[q.Angle](c, "tilt")); tilt > math.Pi/2 {
			return c.wrong("tilt", "a slope beyond 90 deg sweeps the bottom first; give at most 90 deg")
		}
	case float64(dry) < speed:
		tilt = math.Asin(float64(dry) / speed)
	}
	if !c.has("tilt") && tilt < flattest {
		c.note(relation.Note{
			Severity: relation.Caution, Relation: "dewetting-speed",
			Text:  "The belt is too fast for a front behind which this wall dries; the flattest slope proposed leaves a film",
			Value: tilt * 180 / math.Pi, Limit: flattest * 180 / math.Pi, Unit: "deg",
		})
		tilt = flattest
	}
	sin := math.Sin(tilt)
	front := q.Speed(speed * sin)
	height := float64(at[q.Length](c, "height"))
	down := speed * math.Tan(tilt)
	put(c, "tilt_deg", tilt)
	put(c, "length_mm", height/sin+2*endMargin*float64(at[q.Length](c, "distance")))
	put(c, "front_speed_m_s", front)
	put(c, "downward_speed_m_s", upright(down, tilt))
	put(c, "sweep_time_s", height/down)
	put(c, "dewetting_speed_m_s", dry)
	c.say("dry_front", float64(front) <= float64(dry)*(1+1e-12))
	put(c, "wet_share_pct", water.WetShare(l, w.Receding, front))
	return nil
}

// upright is not known for an upright knife, which meets the whole height at once.
func upright(down, tilt float64) float64 {
	if tilt > math.Pi/2-1e-9 {
		return math.NaN()
	}
	return down
}
