package design

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
)

// differ says whether two points stand for different values.
func (c *concept) differ(a, b []float64) bool {
	for i := range c.variables {
		if v := &c.variables[i]; v.value(a[i]) != v.value(b[i]) {
			return true
		}
	}
	return false
}

// fitted moves a point, but for one of its coordinates, to where its outlets fit: by the step that helps most, of those
// that help as much by the least, again and again. Where none helps it ends.
func (c *concept) fitted(x []float64, but int) []float64 {
	misfit := func(x []float64) float64 {
		a := c.arrange(x)
		return c.ground.misfit(&a)
	}
	const most = 40
	x = slices.Clone(x)
	now := misfit(x)
	for range most {
		best, at, to, least := now, -1, 0.0, 0.0
		for _, k := range c.active(false) {
			if k == but || len(c.variables[k].Sizes) > 0 {
				continue
			}
			old := x[k]
			for _, by := range [8]float64{-0.01, 0.01, -0.03, 0.03, -0.06, 0.06, -0.1, 0.1} {
				x[k] = min(max(old+by, 0), 1)
				const alike = 1e-9
				m := misfit(x)
				if m < best-alike || at >= 0 && m < best+alike && math.Abs(by) < least {
					best, at, to, least = m, k, x[k], math.Abs(by)
				}
			}
			x[k] = old
		}
		if at < 0 {
			break
		}
		x[at], now = to, best
		if now == 0 {
			break
		}
	}
	return x
}

// move changes one to three coordinates; half of the time what meets the container does so where it did before.
func (c *concept) move(x []float64, active []int, rng *rand.Rand) []float64 {
	out := slices.Clone(x)
	for range 1 + rng.IntN(3) {
		k := active[rng.IntN(len(active))]
		v := &c.variables[k]
		const widest = 0.25
		stride := v.stride()
		by := stride * math.Pow(max(1, widest/stride), rng.Float64())
		if rng.IntN(2) == 0 {
			by = -by
		}
		before := out[k]
		out[k] = min(max(v.at(v.value(x[k]))+by, 0), 1)
		if rng.IntN(2) == 0 {
			c.carry(out, k, before)
		}
	}
	return out
}

// carry moves others with a variable that was changed from before, so that what it does by itself is seen: outlets beside
// the line are raised or lowered with their aim and clearance, so that their air goes on meeting the container at the
// same height, and shortened as they are tilted steeper, so that they go on sweeping the same height. Searches would
// otherwise creep along such valleys.
func (c *concept) carry(x []float64, k int, before float64) {
	value := func(at coordinate) float64 {
		if at.variable < 0 {
			return at.fixed
		}
		return c.variables[at.variable].value(x[at.variable])
	}
	for i := range c.groups {
		g := &c.groups[i]
		switch {
		case k == g.tilt.variable && g.length.variable >= 0 && g.side != above && g.side != below:
			sweep := func() float64 { return math.Abs(math.Sin(value(g.tilt))) }
			now := x[k]
			after := sweep()
			x[k] = before
			earlier := sweep()
			x[k] = now
			const flat = 0.05
			if after > flat && earlier > flat {
				long := &c.variables[g.length.variable]
				x[g.length.variable] = long.at(value(g.length) * earlier / after)
			}
			return
		case (k == g.down.variable || k == g.clear.variable) && g.share.variable >= 0:
			drop := func() float64 { return value(g.clear) * math.Tan(value(g.down)) }
			now := x[k]
			after := drop()
			x[k] = before
			earlier := drop()
			x[k] = now
			share := &c.variables[g.share.variable]
			height := c.ground.formats[0].plan.Body.Height
			x[g.share.variable] = share.at(value(g.share) + (after-earlier)/height)
			return
		}
	}
}

// named tells candidates apart by the values that their coordinates stand for.
func (c *concept) named(x []float64) string {
	var b strings.Builder
	for i := range c.variables {
		fmt.Fprintf(&b, "%.6g|", c.variables[i].value(x[i]))
	}
	return b.String()
}
