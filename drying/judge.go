package drying

import (
	"fmt"
	"math"
	"strings"

	"leste/physics/water"
	q "leste/quantity"
)

// Verdicts of one requirement.
const (
	Met       = "met"       // the likely value and the whole band are within the limit
	NotMet    = "not met"   // the likely value is beyond the limit
	Undecided = "undecided" // the likely value is within, the band reaches beyond
)

// Judged is one requirement and what the container brings.
type Judged struct {
	Requirement Requirement
	Quantity    string  // "water", "mass", "drop" or "rejects"
	Limit       float64 // SI
	Value       q.Band  // SI
	Unit        string  // of both
	Verdict     string
	Reserve     float64 // limit over likely value; +Inf when nothing is left
	Cause       string
	Drops       float64 // for rejects: mean number of drops that count, which goes on growing where Value ends at 1
}

// Judge compares the water at a machine with each of the machine's requirements, in their order. A
// requirement for a zone that the container has not is an error that lists the zones.
func Judge(m Machine, w MachineWater) ([]Judged, error) {
	judged := make([]Judged, 0, len(m.Requires))
	for _, r := range m.Requires {
		z, err := zoneOf(w, r.Zone)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", nameOf(m), err)
		}
		j := Judged{Requirement: r, Cause: z.Cause}
		switch {
		case !math.IsNaN(r.Water):
			j.Quantity, j.Unit, j.Limit, j.Value = "water", "kg/m2", r.Water, scaled(z.Left, 1/z.Area)
		case !math.IsNaN(r.Mass):
			j.Quantity, j.Unit, j.Limit, j.Value = "mass", "kg", r.Mass, z.Left
		case !math.IsNaN(r.Rejects):
			j.Quantity, j.Unit, j.Limit = "rejects", "1", r.Rejects
			j.Value = rejects(z, r.RejectDrop)
			j.Drops = numberAbove(z.Count, r.RejectDrop).Number
		default:
			j.Quantity, j.Unit, j.Limit, j.Value = "drop", "m", r.Drop, z.Largest
		}
		j.decide()
		judged = append(judged, j)
	}
	return judged, nil
}

func (j *Judged) decide() {
	j.Reserve = math.Inf(1)
	if j.Value.Likely > 0 {
		j.Reserve = j.Limit / j.Value.Likely
	}
	switch {
	case !(j.Value.Likely <= j.Limit):
		j.Verdict = NotMet
	case !(j.Value.High <= j.Limit):
		j.Verdict = Undecided
	default:
		j.Verdict = Met
	}
}

// rejects is the share of containers with at least one drop larger than size in the zone.
func rejects(z ZoneWater, size float64) q.Band {
	n := numberAbove(z.Count, size)
	return q.Band{
		Likely: float64(water.RejectRate(q.Ratio(n.Number))),
		Low:    float64(water.RejectRate(q.Ratio(n.Low))),
		High:   float64(water.RejectRate(q.Ratio(n.High))),
	}
}

// zoneOf returns the water of a zone, or of the whole container for "all".
func zoneOf(w MachineWater, name string) (ZoneWater, error) {
	if name == wholeContainer {
		return Whole(w), nil
	}
	known := make([]string, 0, len(w.Zones)+1)
	for _, z := range w.Zones {
		if z.Zone == name {
			return z, nil
		}
		known = append(known, z.Zone)
	}
	known = append(known, wholeContainer)
	return ZoneWater{}, fmt.Errorf("the container has no zone %q; it has %s", name, strings.Join(known, ", "))
}

// wholeContainer is the zone name that stands for all zones together.
const wholeContainer = "all"

// Whole adds up the zones of a container.
func Whole(w MachineWater) ZoneWater {
	all := ZoneWater{Zone: wholeContainer, Left: w.Total}
	for _, z := range w.Zones {
		all.Area += z.Area
		all.Film += z.Film
		all.Drops += z.Drops
		all.Trapped += z.Trapped
		all.Pool += z.Pool
		all.Condensed += z.Condensed
		all.Largest.Likely = max(all.Largest.Likely, z.Largest.Likely)
		all.Largest.Low = max(all.Largest.Low, z.Largest.Low)
		all.Largest.High = max(all.Largest.High, z.Largest.High)
		if all.Count == nil {
			all.Count = make([]SizeCount, len(z.Count))
		}
		for i, c := range z.Count {
			all.Count[i].Diameter = c.Diameter
			all.Count[i].Number += c.Number
			all.Count[i].Low += c.Low
			all.Count[i].High += c.High
		}
	}
	all.Cause = all.mainCause()
	most := 0.0
	for i := range w.Zones { // where the zone with most of that is wet
		z := &w.Zones[i]
		if m := z.part(all.Cause); m > most && z.Cause == all.Cause {
			most, all.Where = m, z.Zone+": "+z.Where
		}
	}
	return all
}

// part is the water in a zone of one cause [kg].
func (z *ZoneWater) part(cause string) float64 {
	switch cause {
	case CauseFilm:
		return z.Film
	case CauseDrops:
		return z.Drops
	case CauseTrapped:
		return z.Trapped
	case CausePool:
		return z.Pool
	case CauseCondensation:
		return z.Condensed
	}
	return 0
}

// mainCause is the largest part of the water in a zone.
func (z *ZoneWater) mainCause() string {
	cause, most := CauseDrops, 0.0
	for _, c := range []string{CauseFilm, CauseDrops, CauseTrapped, CausePool, CauseCondensation} {
		if m := z.part(c); m > most {
			cause, most = c, m
		}
	}
	return cause
}

func nameOf(m Machine) string {
	if m.Name != "" {
		return m.Name
	}
	return m.Kind
}

func scaled(b q.Band, f float64) q.Band {
	return q.Band{Likely: b.Likely * f, Low: b.Low * f, High: b.High * f}
}
