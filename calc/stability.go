package calc

import (
	"math"

	"leste/physics/water"
	q "leste/quantity"
)

func stabilityTopic() Topic {
	return Topic{
		Name: "stability", Asks: askStands,
		Help: "Whether a container slides, tips or lifts under a steady push of air. Factors above 1 stand.",
		Params: []Param{
			{Name: "mass", Help: "Mass of the container as it rides.", Kind: q.KindMass, Eg: "350 g", Need: true},
			{Name: "base-diameter", Help: "Diameter of the circle it stands on.", Kind: q.KindLength, Eg: "50 mm", Need: true},
			{Name: "push", Help: "Sideways force of the air.", Kind: q.KindForce, Need: true, Bounds: FromZero},
			{Name: "push-height", Help: "Height at which the push acts.", Kind: q.KindLength, Eg: "60 mm", Need: true, Bounds: FromZero},
			{Name: "lift", Help: "Upward force of the air.", Kind: q.KindForce, Default: "0 N", Source: "none unless given", Bounds: FromZero},
			{Name: "friction", Help: "Coefficient of friction between container and belt.", Kind: q.KindRatio, Default: "0.25", Source: "wet belt, common practice, no source", Bounds: FromZero},
		},
		Answers: []Output{
			{"slide_factor", "friction over push", q.KindRatio},
			{"tip_factor", "moment of the weight over that of the push", q.KindRatio},
			{"lift_factor", "weight over lift", q.KindRatio},
			{"first", "what happens first as the push grows", q.None},
			{"push_limit_n", "push at which it happens", q.KindForce},
		},
		solve: solveStability,
	}
}

func solveStability(c *call) error {
	weight := float64(at[q.Mass](c, "mass")) * water.Gravity
	lift, push := float64(at[q.Force](c, "lift")), float64(at[q.Force](c, "push"))
	radius, height := float64(at[q.Length](c, "base-diameter"))/2, float64(at[q.Length](c, "push-height"))
	stands := max(0, weight-lift)
	slides := float64(at[q.Ratio](c, "friction")) * stands // N, push at which it slides
	tips := math.Inf(1)                                    // N, push at which it tips
	if height > 0 {
		tips = stands * radius / height
	}
	put(c, "slide_factor", slides/push)
	put(c, "tip_factor", tips/push)
	put(c, "lift_factor", weight/lift)
	first := "slides"
	switch {
	case lift >= weight:
		first = "lifts"
	case tips < slides:
		first = "tips"
	}
	c.say("first", first)
	put(c, "push_limit_n", min(slides, tips))
	return nil
}
