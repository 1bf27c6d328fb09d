package airsupply

import (
	"context"
	"math"

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
	r, err := s.newRun(c)
	if err != nil {
		return Operation{}, nil, err
	}
	result := r.solve(ctx, warm)
	if result.Stopped != flownet.Converged && warm != nil {
		if r, err = s.newRun(c); err != nil {
			return Operation{}, nil, err
		}
		result = r.solve(ctx, nil)
	}
	if err := r.refusal(ctx, result); err != nil {
		return Operation{}, nil, err
	}
	op, err := r.read(c, result.Flow, result.Head)
	if err != nil {
		return Operation{}, nil, err
	}
	op.Iterations, op.Residual, op.Stopped = result.Iterations, q.PressureDrop(result.Residual), result.Stopped
	op.Notes = append(append(op.Notes, s.network.Notes...), r.notes(&op, result)...)
	return op, &result, nil
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
		if err := r.choking(); err != nil {
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
	if err := r.choking(); err != nil {
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
func (r *run) choking() error {
	for i, choked := range r.choked {
		if choked {
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
		inlet := result.Flow[at] * r.gas.r * r.t0[at] / (r.pa + result.Head[link.from])
		n := r.speed[i]
		switch why := b.Machine.admits(inlet / n); why {
		case "":
		case belowMinimum:
			return refuse("blower "+b.Name, "it would run at %.4g m3/s, %s (%.4g m3/s); open more outlets, choose a smaller machine or bleed air",
				inlet, why, b.Machine.minFlow*n)
		case beyondCurve:
			return refuse("blower "+b.Name, "it would run at %.4g m3/s, %s (%.4g m3/s); close outlets or choose a larger machine",
				inlet, why, b.Machine.maxFlow*n)
		default:
			return refuse("blower "+b.Name, "it would run at %.4g m3/s, %s, where the flow hunts; choose another machine", inlet, why)
		}
	}
	return nil
}

// Limits that only warn.
const (
	minimumMargin = 0.10 // least flow over the curve's minimum
	ductSpeed     = 25.0 // m/s
	ductMach      = 0.3
	ductShare     = 0.30    // of the pressure over ambient lost in ducts
	workOfFan     = 25000.0 // J/kg, beyond it the codes of turbo-compressors apply
	lowLoad       = 0.25    // motor
	skinHeld      = 43.0    // degC of a surface held for hours
	skinReach     = 51.0    // degC within reach
)

// notes says what is unsure or worth a warning about an operation.
func (r *run) notes(op *Operation, result flownet.Result) []relation.Note {
	var out []relation.Note
	add := func(sev relation.Severity, card, text string, value, limit float64, unit string) {
		out = append(out, relation.Note{Severity: sev, Relation: card, Text: text, Value: value, Limit: limit, Unit: unit})
	}
	for i := range op.Blowers {
		b := &op.Blowers[i]
		if r.system.network.Blowers[i].Source != nil {
			continue
		}
		if float64(b.Reserve) < minimumMargin {
			add(relation.Caution, "blower-curve", "Blower "+b.Name+" runs close to its least flow.", float64(b.Reserve), minimumMargin, "1")
		}
		if float64(b.Work) > workOfFan {
			add(relation.Caution, "blower-curve", "Blower "+b.Name+" does more work than a fan by ISO 13348; the codes of turbo-compressors apply.",
				float64(b.Work), workOfFan, "J/kg")
		}
		if float64(b.Drive.Load) < lowLoad {
			add(relation.Outside, "motor", "The motor of blower "+b.Name+" is loaded too little for its efficiency to be sure.", float64(b.Drive.Load), lowLoad, "1")
		}
		if b.Drive.Load > 1 {
			add(relation.Caution, "motor", "The motor of blower "+b.Name+" is overloaded in this case.", float64(b.Drive.Load), 1, "1")
		}
		switch t := b.Discharge.C(); {
		case t >= skinReach:
			add(relation.Caution, "surface-temperature", "Ducts behind blower "+b.Name+" burn on touch; guard or insulate them within reach (threshold to be confirmed against ISO 13732-1).", t, skinReach, "degC")
		case t >= skinHeld:
			add(relation.Info, "surface-temperature", "Ducts behind blower "+b.Name+" are too hot to hold for long (threshold to be confirmed against ISO 13732-1).", t, skinHeld, "degC")
		}
	}
	r.branchNotes(op, add)
	for i := range op.Outlets {
		o := &r.system.network.Outlets[i]
		if o.PlenumBore > 0 {
			p := o.plenum()
			if m := p.opening / p.area; m > mostOpening {
				add(relation.Outside, "plenum", "The plenum of "+o.Name+" is too narrow for its opening; no claim about evenness is made, ask for a test.", m, mostOpening, "1")
			}
		}
	}
	for i := range r.system.junctions {
		if j := &r.system.junctions[i]; j.evenSplitUnsure(r, result.Flow, result.Head) {
			add(relation.Caution, "wye", "The flow at "+j.name+" could split unevenly: its legs resist too little.", math.NaN(), math.NaN(), "")
		}
	}
	return out
}

func (r *run) branchNotes(op *Operation, add func(relation.Severity, string, string, float64, float64, string)) {
	var lost float64
	for _, b := range op.Branches {
		if float64(b.Speed) > ductSpeed {
			add(relation.Info, "duct", "The air in "+b.Name+" is faster than is usual for ducts.", float64(b.Speed), ductSpeed, "m/s")
		}
		if float64(b.Mach) > ductMach {
			add(relation.Caution, "duct", "The air in "+b.Name+" is so fast that fitting losses are unsure.", float64(b.Mach), ductMach, "1")
		}
		for _, p := range b.Pieces {
			if p.Friction > 0 && p.Reynolds > laminarEnd && p.Reynolds < turbulentFrom {
				add(relation.Outside, "duct", "The flow in "+b.Name+" lies between laminar and turbulent; its friction is unsure.", float64(p.Reynolds), turbulentFrom, "1")
			}
		}
		lost = max(lost, float64(b.Loss))
		if b.Idle {
			add(relation.Info, "network", "Branch "+b.Name+" leads nowhere and carries no air.", math.NaN(), math.NaN(), "")
		}
	}
	if over := float64(op.Blowers[0].Rise); lost > ductShare*over {
		add(relation.Caution, "network", "A branch takes a large share of the blower's pressure.", lost/over, ductShare, "1")
	}
}
