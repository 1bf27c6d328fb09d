package airsupply

import (
	"math"

	"leste/physics/air"
	"leste/physics/relation"
	q "leste/quantity"
)

// FixedPressure returns the air at outlets whose plenum pressures are known: a station as found, measured at
// the dead end (see Wanted), with the temperature of the air in the plenums, or 0 when nobody measured it: it
// is then estimated as a blower of efficiency 0.6 would warm the room's air, and a note says so.
//
// There is no blower in the result. Every outlet needs a pressure; errors are *Refusal.
func FixedPressure(outlets []Outlet, measured Wanted, room air.Moist, plenum q.Temperature) (Operation, error) {
	if err := (Case{Inlet: room}).check(); err != nil {
		return Operation{}, err
	}
	if err := measured.check(&Network{Outlets: outlets}); err != nil {
		return Operation{}, err
	}
	op := Operation{Case: "as measured", Humidity: room.W, Stopped: "closed form"}
	r := &run{gas: gasOf(room), ambient: room, pa: float64(room.P), ducts: 1, plenums: 1, openings: 1}
	for i := range outlets {
		o := &outlets[i]
		if err := o.check(); err != nil {
			return Operation{}, refuse("outlet "+o.Name, "%v", err)
		}
		p, ok := measured[o.Name]
		if !ok {
			return Operation{}, refuse("outlet "+o.Name, "its plenum pressure is not known; measure it at the dead end")
		}
		t0 := float64(plenum)
		if t0 == 0 {
			t0 = float64(room.T) + r.gas.work(1+float64(p)/r.pa, float64(room.T))/(usualEfficiency*r.gas.cp)
		}
		state := r.standing(o, float64(p), t0)
		op.Outlets = append(op.Outlets, state)
		op.Flow += state.Flow
		op.Thrust += state.Thrust
	}
	if plenum == 0 {
		op.Notes = append(op.Notes, relation.Note{
			Severity: relation.Caution, Relation: "isentropic-compression",
			Text:  "The air in the plenums is taken as warm as a usual blower makes it; measure it.",
			Value: math.NaN(), Limit: math.NaN(),
		})
	}
	return op, nil
}

// usualEfficiency is the isentropic efficiency of a blower that nobody knows; 0.5 to 0.7, common practice.
const usualEfficiency = 0.6

// standing returns an outlet whose static pressure over ambient at the dead end is given.
func (r *run) standing(o *Outlet, end, t0 float64) OutletState {
	s := OutletState{Name: o.Name, DeadEnd: q.Gauge(end), Feed: q.Gauge(end), Stagnation: q.Temperature(t0)}
	places := []opening{{1, r.pa + end}}
	if law, ok := o.mouth().(*plenumLaw); ok {
		p, mu := law.plenum, viscosity(t0)
		m := p.march(r.gas, r.pa+end, t0, r.pa, mu, true)
		places = p.openings(m)
		s.Feed, s.Flow = q.Gauge(m.feed-r.pa), q.MassFlow(m.flow*p.parts)
		s.FeedSpeed = q.Speed(r.speedOf(m.flow/p.area, m.feed, t0))
		s.NonUniformity = r.evenness(p, r.pa+end, t0, mu)
	} else {
		s.Flow = q.MassFlow(float64(o.Cd) * float64(o.Area) * r.gas.outflow(r.pa+end, t0, r.pa))
	}
	r.fillJets(&s, o, places, t0)
	return s
}

// Header returns the air at outlets fed from a compressed-air main through a regulator that holds a pressure
// at the nozzles; above the critical ratio they are choked. The air is as dry and as warm as given.
func Header(outlets []Outlet, nozzle q.Gauge, room air.Moist) (Operation, error) {
	held := Wanted{}
	for _, o := range outlets {
		held[o.Name] = nozzle
	}
	op, err := FixedPressure(outlets, held, room, room.T)
	op.Case = "compressed air"
	return op, err
}
