package airsupply

import (
	"context"
	"fmt"
	"math"
	"slices"

	"leste/airsupply/flownet"
	"leste/physics/relation"
	q "leste/quantity"
)

// Solve finds the operating point of a network in one case.
//
// The error is a *Refusal when there is none to give: a blower outside its curve, a choked duct, an outlet
// that is joined to nothing; it names the element. The context stops a long solve. The notes of the result
// say what is unsure about it.
func Solve(ctx context.Context, n *Network, c Case) (Operation, error) {
	s, err := compile(n, c.Closed)
	if err != nil {
		return Operation{}, err
	}
	op, _, err := s.operate(ctx, c, nil)
	return op, err
}

// operate solves a laid-out network in a case, from a similar solution when there is one.
func (s *system) operate(ctx context.Context, c Case, warm *flownet.Result) (Operation, *flownet.Result, error) {
	r, result, err := s.settle(ctx, c, warm)
	if err != nil {
		return Operation{}, nil, err
	}
	op, err := r.read(c, result.Flow, result.Head)
	if err != nil {
		return Operation{}, nil, err
	}
	op.Iterations, op.Residual, op.Stopped = result.Iterations, q.PressureDrop(result.Residual), result.Stopped
	op.Notes = append(append(op.Notes, s.network.Notes...), r.notes(&op)...)
	for i := range s.junctions {
		if j := &s.junctions[i]; j.evenSplitUnsure(r, result.Flow, result.Head) {
			op.Notes = append(op.Notes, s.otherSplit(ctx, c, j, *result))
		}
	}
	return op, result, nil
}

// settle solves a laid-out network in a case without reading more of the solution than whether it may be given.
func (s *system) settle(ctx context.Context, c Case, warm *flownet.Result) (*run, *flownet.Result, error) {
	r, err := s.newRun(c)
	if err != nil {
		return nil, nil, err
	}
	result := r.solve(ctx, warm)
	if result.Stopped != flownet.Converged && warm != nil {
		if r, err = s.newRun(c); err != nil {
			return nil, nil, err
		}
		result = r.solve(ctx, nil)
	}
	if err := r.refusal(ctx, result); err != nil {
		return nil, nil, err
	}
	return r, &result, nil
}

// refusal returns why a solution may not be given, or nil.
func (r *run) refusal(ctx context.Context, result flownet.Result) error {
	s := r.system
	switch result.Stopped {
	case flownet.Converged:
	case flownet.Interrupted:
		return ctx.Err()
	case flownet.TooMany, flownet.NotFinite:
		// A choked duct or a point beyond the curve is the usual reason; say so if it is.
		const often = 10
		if err := r.choking(func(i int) bool { return r.chokes[i] >= often }); err != nil {
			return err
		}
		if err := r.outsideCurve(result); err != nil {
			return err
		}
		return refuse(s.links[result.Worst].name, "no operating point was found: %s after %d steps, %.3g Pa left over",
			result.Stopped, result.Iterations, result.Residual)
	default:
		return refuse("place "+quoted(s.names[result.Worst]), "%s", result.Stopped)
	}
	if err := r.outsideCurve(result); err != nil {
		return err
	}
	if err := r.choking(func(i int) bool { return r.choked[i] }); err != nil {
		return err
	}
	for i, links := range s.outlets {
		for _, l := range links {
			if result.Flow[l] < 0 {
				return refuse("outlet "+s.network.Outlets[i].Name, "the pressure behind it is below the room's; it draws air in")
			}
		}
	}
	return nil
}

// choking refuses a link whose air would come near the speed of sound.
func (r *run) choking(choked func(link int) bool) error {
	for i := range r.choked {
		if choked(i) {
			return refuse(r.system.links[i].name, "it chokes: the air would reach %.1f of the speed of sound; enlarge its bore", machLimit)
		}
	}
	return nil
}

// outsideCurve refuses an operating point that no blower's data cover.
func (r *run) outsideCurve(result flownet.Result) error {
	for i := range r.speed {
		b := &r.system.network.Blowers[i]
		if b.Source != nil {
			continue
		}
		at := r.system.blowers[i]
		link := r.system.links[at]
		inlet := result.Flow[at] * r.drawn[i].gas.r * r.t0[at] / (r.pa + result.Head[link.from])
		n := r.speed[i]
		switch why := b.Machine.admits(inlet / n); why {
		case "":
		case belowMinimum:
			return tooLittle(b, "it would run at %.4g m3/s, %s (%.4g m3/s); open more outlets, choose a smaller machine or bleed air",
				inlet, why, b.Machine.minFlow*n)
		case belowFirst:
			err := tooLittle(b, "it would run at %.4g m3/s, %s (%.4g m3/s), where nothing is known of it; give more of its curve, open more outlets or choose a smaller machine",
				inlet, why, b.Machine.minFlow*n)
			err.Ends = true
			return err
		case beyondCurve:
			return refuse(called(b.Name), "it would run at %.4g m3/s, %s (%.4g m3/s); close outlets or choose a larger machine",
				inlet, why, b.Machine.maxFlow*n)
		default:
			return tooLittle(b, "it would run at %.4g m3/s, %s, where the flow hunts; choose another machine", inlet, why)
		}
	}
	return nil
}

func tooLittle(b *Blower, reason string, args ...any) *Refusal {
	return &Refusal{Element: called(b.Name), Reason: fmt.Sprintf(reason, args...), TooLittle: true}
}

// notes says what is unsure or worth a warning about an operation. The ranges are those of the cards.
func (r *run) notes(op *Operation) []relation.Note {
	var out []relation.Note
	check := func(where, id, symbol string, value float64) {
		for _, n := range cards().Check(id, symbol, value) {
			n.Text = where + ": " + n.Text
			out = append(out, n)
		}
	}
	if driest, wettest := r.humidities(); wettest-driest > sameHumidity {
		out = append(out, relation.Note{
			Severity: relation.Info, Text: "The blowers draw air of different humidity; ducts and outlets are calculated with their mean",
			Value: wettest - driest, Limit: sameHumidity, Unit: "kg/kg",
		})
	}
	for i := range op.Blowers {
		b := &op.Blowers[i]
		if r.system.network.Blowers[i].Source != nil {
			continue
		}
		check(called(b.Name), "blower-similarity", "N", float64(b.Speed))
		if r.system.network.Blowers[i].Machine.Kind == SideChannel {
			check(called(b.Name), "blower-similarity", "N_side", float64(b.Speed))
		}
		check(called(b.Name), "blower-similarity", "w", float64(b.Work))
		check(called(b.Name), "blower-similarity", "reserve", float64(b.Reserve))
		check("motor of "+called(b.Name), "motor-efficiency", "x", float64(b.Drive.Load))
		check("ducts behind "+called(b.Name), "surface-temperature", "t_c", b.Discharge.C())
	}
	for _, b := range op.Branches {
		check(b.Name, "duct-loss", "v", float64(b.Speed))
		check(b.Name, "duct-loss", "mach", float64(b.Mach))
		check(b.Name, "duct-loss", "loss_share", float64(b.Share))
		for _, p := range b.Pieces {
			if p.Friction > 0 && p.Reynolds > laminarEnd && p.Reynolds < turbulentFrom {
				out = append(out, plain(relation.Outside, "duct-friction", b.Name+": the flow lies between laminar and turbulent, its friction is unsure"))
			}
		}
		if b.Idle {
			out = append(out, plain(relation.Info, "", b.Name+" leads nowhere and carries no air"))
		}
	}
	for i := range op.Outlets {
		if o := &r.system.network.Outlets[i]; o.PlenumBore > 0 && !op.Outlets[i].Blocked {
			p := o.plenum()
			check("outlet "+o.Name, "plenum", "m", p.opening/p.area)
		}
	}
	return out
}

// sameHumidity is a difference of humidity ratios that changes the density of air by less than a thousandth.
const sameHumidity = 1.5e-3

// humidities are the least and greatest humidity ratio drawn.
func (r *run) humidities() (driest, wettest float64) {
	driest, wettest = math.Inf(1), 0
	for i := range r.drawn {
		driest, wettest = min(driest, float64(r.drawn[i].air.W)), max(wettest, float64(r.drawn[i].air.W))
	}
	return driest, wettest
}

// otherSplit solves again from a lopsided start at a wye whose even split is not the only one, and says how the
// flow may divide instead.
func (s *system) otherSplit(ctx context.Context, c Case, j *junction, found flownet.Result) relation.Note {
	const text = ": the flow could split unevenly, its legs resist too little"
	lopsided := found
	lopsided.Flow = slices.Clone(found.Flow)
	common := j.commonLeg(found.Flow)
	factor := 1.8
	for i, l := range j.legs {
		if i != common {
			lopsided.Flow[l.link] *= factor
			factor = 0.2
		}
	}
	r, err := s.newRun(c)
	if err != nil {
		return plain(relation.Caution, "wye-loss", j.name+text)
	}
	other := r.solve(ctx, &lopsided)
	if other.Stopped != flownet.Converged {
		return plain(relation.Caution, "wye-loss", j.name+text+"; from an uneven start the even split does not come back")
	}
	for i, l := range j.legs {
		a, b := found.Flow[l.link], other.Flow[l.link]
		if i != common && math.Abs(a-b) > 1e-3*math.Abs(found.Flow[j.legs[common].link]) {
			return relation.Note{
				Severity: relation.Caution, Relation: "wye-loss",
				Text:  j.name + text + "; a second answer exists, its flow in " + s.links[l.link].name + " is given",
				Value: b, Limit: a, Unit: "kg/s",
			}
		}
	}
	return plain(relation.Caution, "wye-loss", j.name+text+"; from an uneven start the even split came back")
}

// plain is a note that is not about a number.
func plain(sev relation.Severity, card, text string) relation.Note {
	return relation.Note{Severity: sev, Relation: card, Text: text, Value: math.NaN(), Limit: math.NaN()}
}
