package cost

import (
	"fmt"
	"math"

	"leste/job"
	"leste/physics/air"
	"leste/physics/relation"
	q "leste/quantity"
)

// Exhaust is what a hood around the station needs, and where heat and moisture go.
type Exhaust struct {
	Assessed  bool
	Balance   q.VolumeFlow // blower air and the air drawn in through the openings
	Flow      q.VolumeFlow // with the reserve
	Moisture  q.Ratio      // rise of the humidity ratio of the exhaust
	MakeUp    q.Power      // to heat the make-up air; 0 when it need not be
	Entrained q.Ratio      // air a jet moves along over its own, 100 mm away; it recirculates inside
	Heat      q.Power      // left in the hall
	Notes     []relation.Note
}

// ExhaustBalance is the flow a closed hood must be exhausted by: the blower's air, unless it is drawn from
// inside, and the inward speed over the openings. Entrained air goes round inside and is not exhausted.
func ExhaustBalance(blower q.VolumeFlow, inward q.Speed, open q.Area, drawsInside bool) q.VolumeFlow {
	flow := q.VolumeFlow(float64(inward) * float64(open))
	if !drawsInside {
		flow += blower
	}
	return flow
}

// HoodFlow is the exhaust of an open hood a distance from what it catches; flanged ones need three quarters.
// From memory of ACGIH Industrial Ventilation: V (10 x^2 + A).
func HoodFlow(capture q.Speed, distance q.Length, face q.Area, flanged bool) q.VolumeFlow {
	f := float64(capture) * (10*float64(distance*distance) + float64(face))
	if flanged {
		f *= 0.75
	}
	return q.VolumeFlow(f)
}

// Entrainment is the air a plane jet moves along at a distance over its own flow; from memory of Albertson and
// others 1950: 0.62 sqrt(x/gap), beyond about six gaps.
func Entrainment(distance, gap q.Length) q.Ratio {
	return q.Ratio(0.62 * math.Sqrt(float64(distance/gap)))
}

// MistSpeed is the greatest speed through a mist eliminator: 0.107 sqrt((rho_l - rho_g)/rho_g).
// From memory of Souders & Brown.
func MistSpeed(liquid, gas q.Density) q.Speed {
	return q.Speed(0.107 * math.Sqrt(float64((liquid-gas)/gas)))
}

// VentilationHeat is the power that warms a flow of air of a density by a difference of temperatures.
func VentilationHeat(flow q.VolumeFlow, rho q.Density, by q.TemperatureDifference) q.Power {
	return q.Power(float64(flow) * float64(rho) * 1006 * float64(by))
}

// MoistureRise is the rise of the humidity ratio of a flow that takes up water.
func MoistureRise(water q.MassFlow, flow q.VolumeFlow, rho q.Density) q.Ratio {
	return q.Ratio(float64(water) / (float64(flow) * float64(rho)))
}

// Ventilation returns the exhaust of the job's enclosure for a blower flow (mass) that leaves in the room, and
// the heat left in the hall: without an exhaust all of the power drawn.
func Ventilation(flow q.MassFlow, grid q.Power, room air.Moist, e *job.Enclosure) (Exhaust, error) {
	out := Exhaust{Heat: grid}
	note := func(sev relation.Severity, text string) {
		out.Notes = append(out.Notes, relation.Note{Severity: sev, Relation: "exhaust-balance", Text: text, Value: math.NaN(), Limit: math.NaN()})
	}
	if e == nil || !e.OpenArea.Known {
		note(relation.Info, "The exhaust is not assessed: the area of the enclosure's openings is not known.")
		return out, nil
	}
	if !(e.OpenArea.V >= 0) || !(flow >= 0) || math.IsInf(float64(e.OpenArea.V)+float64(flow), 0) {
		return out, fmt.Errorf("cost: enclosure: the area of its openings and the blower's flow must be numbers of at least zero")
	}
	rho := room.Density()
	blower := q.VolumeFlow(float64(flow) / float64(rho))
	out.Assessed = true
	out.Balance = ExhaustBalance(blower, q.Speed(or(e.InwardSpeed, 0.8)), e.OpenArea.V, e.DrawsInside == "yes")
	out.Flow = out.Balance * q.VolumeFlow(or(e.Reserve, 1.2))
	if e.Water.Known && out.Flow > 0 {
		out.Moisture = MoistureRise(e.Water.V*q.MassFlow(or(e.Evaporates, 0.1)), out.Flow, rho)
	}
	if e.MakeUpFrom.Known && e.MakeUpFrom.V < room.T {
		out.MakeUp = VentilationHeat(out.Flow, rho, q.TemperatureDifference(room.T-e.MakeUpFrom.V))
	}
	out.Heat = 0
	note(relation.Caution, "The exhaust carries mist: give it a mist eliminator and a drain, and let no jet point at an opening.")
	if e.DrawsInside != "yes" {
		note(relation.Info, "The exhausted air must come back into the hall as make-up air.")
	}
	return out, nil
}
