package station

import (
	"context"
	"fmt"
	"math"

	"leste/job"
	q "leste/quantity"
)

// LimitResult is the worst of one air limit.
type LimitResult struct {
	Zone, Reason string
	Quantity     string  // "pressure", "speed", "temperature"
	Value, Limit float64 // SI
	At           q.Length
	Exceeded     bool
}

// Limits evaluates the air limits of a job on one body in one scene. Limits of zones that the body does not have
// are passed over; a zone that no format has is the job's problem.
func Limits(ctx context.Context, e *Exposer, limits []job.AirLimit) ([]LimitResult, error) {
	if len(limits) == 0 {
		return nil, nil
	}
	r, err := NewRecord(ctx, e, 0)
	if err != nil {
		return nil, err
	}
	return r.Limits(e, limits)
}

// Limits evaluates the air limits on a pass that was recorded with e.
func (r *Record) Limits(e *Exposer, limits []job.AirLimit) ([]LimitResult, error) {
	var out []LimitResult
	for i := range limits {
		l := &limits[i]
		var z ZonePeak
		found := false
		for k, name := range e.body.Surface.Zones {
			if name != l.Zone && l.Zone != job.ZoneAll || k >= len(r.Zones) {
				continue
			}
			found = true
			p := &r.Zones[k]
			z.Pressure.raise(p.Pressure.Value, p.Pressure.X)
			z.Speed.raise(p.Speed.Value, p.Speed.X)
			z.Heat.raise(p.Heat.Value, p.Heat.X)
		}
		if !found {
			continue
		}
		add := func(quantity string, p Peak, value, limit float64) error {
			if !(limit >= 0) || math.IsInf(limit, 0) {
				return fmt.Errorf("the %s limit of the zone %q is %v; a finite value above 0 is expected", quantity, l.Zone, limit)
			}
			out = append(out, LimitResult{
				Zone: l.Zone, Reason: orElse(l.Reason, "other"), Quantity: quantity, Value: value, Limit: limit,
				At: q.Length(p.X), Exceeded: value > limit,
			})
			return nil
		}
		if l.Pressure.Known {
			if err := add("pressure", z.Pressure, z.Pressure.Value, float64(l.Pressure.V)); err != nil {
				return nil, err
			}
		}
		if l.Speed.Known {
			if err := add("speed", z.Speed, z.Speed.Value, float64(l.Speed.V)); err != nil {
				return nil, err
			}
		}
		if l.Temperature.Known && len(e.sources) > 0 {
			t := e.room + z.Heat.Value*e.excess
			if err := add("temperature", z.Heat, t, float64(l.Temperature.V)); err != nil {
				return nil, err
			}
		}
	}
	return out, nil
}
