package calc

import (
	"leste/cost"
	"leste/physics/jet"
	q "leste/quantity"
)

func soundTopic() Topic {
	params := append(outletParams(),
		Param{Name: "length", Help: "Length of the slot.", Kind: q.KindLength, Default: "1 m", Source: "stated with the answer"},
		Param{Name: "count", Help: "Number of knives or nozzles.", Kind: q.KindRatio, Default: "1", Source: "stated with the answer"},
		Param{Name: "distance", Help: "Distance at which it is heard.", Kind: q.KindLength, Default: "1 m", Source: "common practice, no source"},
		Param{Name: "directivity", Help: "1 free, 2 on a floor, 4 by a wall.", Kind: q.KindRatio, Default: "2", Source: "common practice, no source"},
		Param{Name: "room-surface", Help: "Surface of walls, floor and ceiling; the room is left out without it.", Kind: q.KindArea, Eg: "400 m2"},
		Param{Name: "absorption", Help: "Mean sound absorption of the room.", Kind: q.KindRatio, Default: "0.1", Source: "common practice, no source", Bounds: Share},
	)
	return Topic{
		Name: "sound", Asks: askSound,
		Help:   "How loud free jets of air are at a distance.",
		Params: params,
		Answers: []Output{
			{"level_db", "sound pressure level at the distance, over 20 µPa", q.KindSoundLevel},
			{"power_level_db", "sound power level, over 1 pW", q.KindSoundLevel},
			{"peak_hz", "frequency at which it is loudest", q.KindFrequency},
		},
		solve: solveSound,
	}
}

func solveSound(c *call) error {
	o, err := c.outlet()
	if err != nil {
		return err
	}
	c.use("jet-sound-peak", "room-sound")
	sound := o.room.SoundSpeed()
	check(c, "jet-sound", "u_c", o.exit.Velocity/sound)
	count, length := float64(at[q.Ratio](c, "count")), at[q.Length](c, "length")
	var one q.Power
	width := max(o.gap, o.bore)
	if o.bore == 0 {
		flow := o.exit.MassFlowPerLength(o.cd, o.gap)
		one = q.Power(float64(jet.SoundPowerPerLength(flow, o.exit.Velocity, sound)) * float64(length))
	} else {
		one = jet.SoundPower(o.exit.MassFlow(o.cd, o.area()), o.exit.Velocity, sound)
		length = 0
	}
	power := jet.SoundPowerLevel(q.Power(float64(one) * count))
	place := cost.Place{
		Distance: at[q.Length](c, "distance"), Directivity: at[q.Ratio](c, "directivity"), Absorption: at[q.Ratio](c, "absorption"),
	}
	if c.has("room-surface") {
		place.Surface = at[q.Area](c, "room-surface")
	}
	put(c, "level_db", cost.PressureLevel(power, length, place))
	put(c, "power_level_db", power)
	put(c, "peak_hz", jet.PeakFrequency(o.exit.Velocity, width))
	return nil
}
