package design

import (
	"context"
)

// furthest is how much more air than it needs is tried of a candidate, over what it needs.
const furthest = 2.0

// thrifty pays a candidate at the plenum pressure that it has or at a higher one, up to another, whichever costs the least
// year. Blowers of a catalogue end: one that turns as slowly as it may, and gives more air than is needed, may cost less than
// the next kind that gives just enough, or be the only one there is.
func (t *trial) thrifty(ctx context.Context, ind *Individual, most float64) error {
	const (
		ratio  = 1.06 // from one pressure to the next
		closer = 1.01
		worth  = 0.99 // of the cost, for more air than is needed
	)
	step := float64(t.concept.ground.sizes.PressureStep)
	best := *ind
	if err := t.pay(ctx, setTo(&best, ind.Pressure)); err != nil {
		return err
	}
	try := func(p, worth float64) error {
		at := *ind
		if err := t.pay(ctx, setTo(&at, roundUp(p, step))); err != nil {
			return err
		}
		if at.feasible() && (!best.feasible() || at.Cost < worth*best.Cost) {
			best = at
		}
		return nil
	}
	for p := ind.Pressure * ratio; roundUp(p, step) <= most; p *= ratio {
		if err := try(p, worth); err != nil {
			return err
		}
	}
	for p := best.Pressure / ratio * closer; p > ind.Pressure && p < best.Pressure; p *= closer { // where it ends, closer
		if err := try(p, 1); err != nil {
			return err
		}
	}
	*ind = best
	return nil
}
