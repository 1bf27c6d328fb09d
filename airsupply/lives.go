package airsupply

import (
	"context"
	"errors"
	"math"

	"leste/airsupply/flownet"
	"leste/physics/air"
)

// Role is why a network is solved in a case.
type Role int

// The roles.
const (
	OnSite  Role = iota // the station lives through it: seasons, filters clean to loaded
	InReach             // losses or curve may lie so far from what is calculated
	InFault             // something is blocked
	InGap               // idle gaps; nothing is dried then
)

// Lack is what a case without an operating point means for the air.
type Lack int

// The lacks, by how grave they are.
const (
	Comes  Lack = iota // there is air, or nothing is asked of the case
	Unsure             // whether air comes, and how much, is not known
	Dry                // no steady air: a blower surges, stalls or may not be run there
)

// Lacks says what the case means for the air that the station is meant to give. Below its least flow a blower gives no
// steady air. Where its data end otherwise, or a duct chokes, there is some air, and nobody knows how much. What the
// reach of losses and curve may bring is not sure to happen; with more flow than the data cover there is air enough.
func (c *CaseResult) Lacks() Lack {
	switch {
	case c.Refused == "" || c.Role == InFault || c.Role == InGap:
		return Comes
	case c.Role == OnSite && c.TooLittle && !c.Ends:
		return Dry
	case c.Role == OnSite || c.TooLittle:
		return Unsure
	}
	return Comes
}

// Lived solves a plan in its nominal case, and refuses where the air is lacking in any case that the station must live
// with; the refusal names the case.
func Lived(ctx context.Context, p *Plan) (Operation, error) {
	s, err := compile(p.Network, nil)
	if err != nil {
		return Operation{}, err
	}
	op, result, err := s.operate(ctx, p.Site.Nominal(), nil)
	if err != nil || roomyAt(p, &op) {
		return op, err
	}
	return op, s.lives(ctx, p.Site, result)
}

// lives refuses where the air is lacking in a case that the station must live with.
func (s *system) lives(ctx context.Context, site Site, warm *flownet.Result) error {
	for _, c := range casesOf(s.network, site, 0) {
		if c.Role == InFault {
			continue
		}
		_, _, err := s.settle(ctx, c, warm)
		var refusal *Refusal
		if err == nil || !errors.As(err, &refusal) {
			if err != nil {
				return err
			}
			continue
		}
		if found := (CaseResult{Role: c.Role, Refused: err.Error(), TooLittle: refusal.TooLittle}); found.Lacks() != Comes {
			return &Refusal{Element: refusal.Element, Reason: "in the case " + c.Name + " " + refusal.Reason, TooLittle: refusal.TooLittle, Ends: refusal.Ends}
		}
	}
	return nil
}

// roomyAt says of an operation with one blower that it is so far from all that could refuse it that no case does.
func roomyAt(p *Plan, op *Operation) bool {
	n := p.Network
	if len(n.Blowers) != 1 || n.Blowers[0].Machine == nil || len(p.Site.Own) > 0 {
		return false
	}
	const slow = 0.75 // of the speed at which a duct is refused
	for i := range op.Branches {
		if op.Branches[i].Mach > slow*machLimit {
			return false
		}
	}
	b, at := &n.Blowers[0], &op.Blowers[0]
	entry, err := newInletWay(&b.Inlet)
	return err == nil && b.Machine.roomy(float64(at.Speed), float64(at.Inlet), float64(at.Suction)+float64(at.Rise), p.Site.Nominal().Inlet, entry)
}

// roomy says of a machine that runs at an inlet flow against a gauge pressure behind it that it stays where its curve
// admits it in every case of a site: with a loaded filter, a weak curve and a hard system at once it gives more pressure
// at the lower end of a range of flows than the system takes there, at the upper end less with an easy one. Seasons
// change the density, and with it what the machine gives and the system takes alike.
func (m *Machine) roomy(speed, inlet, after float64, in air.Moist, entry *inletLaw) bool {
	const (
		least, most = 0.8, 1.15 // of the flow
		sure        = 1.05      // for what seasons change beside the density
		looks       = 8
	)
	g := gasOf(in)
	pa, t1 := float64(in.P), float64(in.T)
	given := func(flow, curve, load float64) float64 {
		mass := flow * pa / (g.r * t1)
		drop, _ := entry.filter.drop(mass, in, load)
		more, _, _ := entry.way.drop(g, 1, mass, pa-drop, pa, t1, viscosity(t1))
		p1 := pa - drop - more
		w, _ := m.work.at(flow / speed)
		ratio, _ := g.rise(w*speed*speed, t1)
		return p1*(1+curve*(ratio-1)) - pa
	}
	if !(given(least*inlet, weakCurve, 1) >= sure*hardSystem*least*least*after) ||
		!(given(most*inlet, 1, 0)*sure <= easySystem*most*most*after) {
		return false
	}
	for i := range looks + 1 {
		if m.admits(inlet/speed*(least+(most-least)*float64(i)/looks)) != "" {
			return false
		}
	}
	return !math.IsNaN(after)
}
