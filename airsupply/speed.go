package airsupply

import (
	"context"
	"math"

	"leste/airsupply/flownet"
	"leste/physics/relation"
	q "leste/quantity"
)

// Wanted are plenum pressures wanted at outlets, static at the dead end, by outlet name.
type Wanted map[string]q.Gauge

// shortest returns the least of the outlets' pressures over the wanted ones, and the outlet.
func (w Wanted) shortest(op Operation) (ratio float64, outlet string) {
	ratio = math.Inf(1)
	for _, o := range op.Outlets {
		if want, ok := w[o.Name]; ok && !o.Blocked {
			if r := float64(o.DeadEnd / want); r < ratio {
				ratio, outlet = r, o.Name
			}
		}
	}
	return ratio, outlet
}

// shortestOf is shortest of a solution that nobody has read yet.
func (w Wanted) shortestOf(r *run, result *flownet.Result) (ratio float64, outlet string) {
	ratio = math.Inf(1)
	for i := range r.system.network.Outlets {
		o := &r.system.network.Outlets[i]
		if want, ok := w[o.Name]; ok && len(r.system.outlets[i]) > 0 {
			if had := float64(r.deadEnd(i, result.Flow, result.Head) / want); had < ratio {
				ratio, outlet = had, o.Name
			}
		}
	}
	return ratio, outlet
}

// missed notes the outlets that have clearly less than their wanted pressure, where the speed is given or fixed, and
// those that have clearly more, as one blower serves others that need it. Common practice, no source.
func (w Wanted) missed(op Operation) []relation.Note {
	const enough, much = 0.98, 1.08
	var out []relation.Note
	for _, o := range op.Outlets {
		want, ok := w[o.Name]
		if !ok || o.Blocked {
			continue
		}
		text := ""
		switch {
		case o.DeadEnd < enough*want:
			text = "the blower gives less than the wanted plenum pressure at its speed"
		case o.DeadEnd > much*want:
			text = "the blower gives more than the wanted plenum pressure; fit a damper before it, or a blower of its own"
		default:
			continue
		}
		out = append(out, relation.Note{
			Severity: relation.Caution, Text: "outlet " + o.Name + ": " + text, Value: float64(o.DeadEnd), Limit: float64(want), Unit: "Pa",
		})
	}
	return out
}

func (w Wanted) check(n *Network) error {
	if len(w) == 0 {
		return refuse("", "Say which plenum pressure is wanted at one outlet at least.")
	}
	for name, p := range w {
		known := false
		for _, o := range n.Outlets {
			known = known || o.Name == name
		}
		if !known {
			return refuse("wanted pressure at "+quoted(name), "there is no such outlet; there are %s", outletNames(n.Outlets))
		}
		if !(p > 0) || math.IsInf(float64(p), 0) {
			return refuse("wanted pressure at "+name, "it must be positive")
		}
	}
	return nil
}

// SpeedFor returns the speed ratio, the same for all blowers, at which every outlet has at least its wanted
// plenum pressure and one has it exactly, with the operation there. It refuses when the speed lies outside
// what the blowers allow.
func SpeedFor(ctx context.Context, n *Network, c Case, wanted Wanted) (q.Ratio, Operation, error) {
	speed, settled, err := speedFor(ctx, n, c, wanted)
	if err != nil {
		return 0, Operation{}, err
	}
	op, _, err := settled.system.operate(ctx, settled.at, settled.result)
	return speed, op, err
}

// settled is a solution that nobody has read yet.
type settled struct {
	system *system
	at     Case
	result *flownet.Result
}

func speedFor(ctx context.Context, n *Network, c Case, wanted Wanted) (q.Ratio, settled, error) {
	fails := func(err error) (q.Ratio, settled, error) { return 0, settled{}, err }
	if err := wanted.check(n); err != nil {
		return fails(err)
	}
	s, err := compile(n, c.Closed)
	if err != nil {
		return fails(err)
	}
	low, high := slowest, math.Inf(1)
	for _, b := range n.Blowers {
		high = min(high, orOne(b.MaxSpeed))
	}
	// Pressure goes nearly as speed squared, so a step of that law is nearly exact each time.
	var warm *flownet.Result
	speed := min(max(orOne(n.Blowers[0].Speed), low), high)
	for range 12 {
		c.Speed = map[string]q.Ratio{}
		for _, b := range n.Blowers {
			c.Speed[b.Name] = q.Ratio(speed)
		}
		r, result, err := s.settle(ctx, c, warm)
		if err != nil {
			return fails(err)
		}
		warm = result
		ratio, outlet := wanted.shortestOf(r, result)
		if math.Abs(ratio-1) < 1e-7 {
			return q.Ratio(speed), settled{s, c, result}, nil
		}
		next := speed / math.Sqrt(ratio)
		switch {
		case next > high && speed >= high*(1-1e-12):
			return fails(refuse("outlet "+outlet, "the blower gives %.3g of the wanted plenum pressure at its greatest speed", ratio))
		case next < low && speed <= low*(1+1e-12):
			return fails(refuse(called(n.Blowers[0].Name), "it gives more than the wanted plenum pressure even at %.2g of its rated speed", low))
		}
		speed = min(max(next, low), high)
	}
	return fails(refuse(called(n.Blowers[0].Name), "no speed gives the wanted plenum pressure exactly; the outlets may disturb each other"))
}

// A Duty is what a network asks of a blower: a mass flow at a discharge temperature, and the stagnation
// pressure behind the blower.
type Duty struct {
	Flow        q.MassFlow
	Pressure    q.Gauge
	Temperature q.Temperature
}

// at returns the flow at another discharge temperature: at the same pressures it goes as 1/sqrt T.
func (d Duty) at(t float64) float64 { return float64(d.Flow) * math.Sqrt(float64(d.Temperature)/t) }

// DutyFor returns what the network asks of its (one) blower for the wanted plenum pressures.
func DutyFor(ctx context.Context, n *Network, c Case, wanted Wanted) (Duty, Operation, error) {
	const exact = 1e-8
	duty, settled, err := dutyFor(ctx, n, c, wanted, exact)
	if err != nil {
		return Duty{}, Operation{}, err
	}
	op, _, err := settled.system.operate(ctx, settled.at, settled.result)
	return duty, op, err
}

// dutyFor is DutyFor to a share of the pressures.
func dutyFor(ctx context.Context, n *Network, c Case, wanted Wanted, close float64) (Duty, settled, error) {
	fails := func(err error) (Duty, settled, error) { return Duty{}, settled{}, err }
	if err := wanted.check(n); err != nil {
		return fails(err)
	}
	if len(n.Blowers) != 1 {
		return fails(refuse("", "A duty is for one blower; this network has %d.", len(n.Blowers)))
	}
	var highest q.Gauge
	for _, p := range wanted {
		highest = max(highest, p)
	}
	// A middling efficiency; who uses the duty corrects for the machine's own.
	const efficiency = 0.6
	g := gasOf(c.Inlet)
	t1 := float64(c.Inlet.T)
	t2 := t1 + g.work(1+float64(highest)/float64(c.Inlet.P), t1)/(efficiency*g.cp)
	free := *n
	free.Blowers = []Blower{{Name: n.Blowers[0].Name, Source: &Source{Pressure: highest, Temperature: q.Temperature(t2)}}}
	s, err := compile(&free, c.Closed)
	if err != nil {
		return fails(err)
	}
	c.Speed = nil
	var warm *flownet.Result
	for range 20 {
		r, result, err := s.settle(ctx, c, warm)
		if err != nil {
			return fails(err)
		}
		warm = result
		ratio, _ := wanted.shortestOf(r, result)
		if math.Abs(ratio-1) < close {
			return Duty{q.MassFlow(result.Flow[s.blowers[0]]), free.Blowers[0].Source.Pressure, q.Temperature(t2)}, settled{s, c, result}, nil
		}
		free.Blowers[0].Source.Pressure /= q.Gauge(ratio)
	}
	return fails(refuse("", "The wanted plenum pressures cannot be had together."))
}
