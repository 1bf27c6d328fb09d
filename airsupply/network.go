package airsupply

import (
	"math"

	"leste/job"
	"leste/physics/air"
	"leste/physics/relation"
	q "leste/quantity"
)

// A Network is the air side of a station: blowers with their inlets, branches between named places, outlets.
// The name of a blower is its outlet flange, the name of an outlet its feed; an outlet fed from both ends by
// two branches takes the first at its near end and the second at its far end.
type Network struct {
	Blowers   []Blower
	Branches  []job.Branch
	Junctions []job.Junction
	Outlets   []Outlet
	Leaks     []Leak
	// Around and HeatTransfer cool the air in the ducts; HeatTransfer 0 leaves them adiabatic.
	HeatTransfer q.HeatTransfer
	Notes        []relation.Note // of the making of the network
}

// A Blower is one machine with its inlet and drive, or a source of given pressure in its stead.
type Blower struct {
	Name      string
	Source    *Source
	Machine   *Machine
	Speed     q.Ratio // over rated speed, in the nominal case
	MaxSpeed  q.Ratio
	Inlet     Inlet
	NonReturn q.Ratio  // loss coefficient of the flap, used when blowers run in parallel
	Outlet    q.Length // bore of the outlet flange, for the flap
	Drive     Drive
	Sound     q.Maybe[q.SoundLevel]
	Price     q.Maybe[float64]
}

// A Source delivers air at a stagnation pressure and temperature, whatever the flow: a header, or a blower
// not yet chosen.
type Source struct {
	Pressure    q.Gauge
	Temperature q.Temperature
}

// An Inlet is what the air passes before the blower.
type Inlet struct {
	Filter        Filter
	Bore          q.Length // of the entry
	Loss          q.Ratio  // of the entry
	Pieces        []job.Element
	Recirculation q.Ratio // share of the inlet air that is the station's own warm air
}

// A Filter is a drop a Q + b Q^2 with Q the flow at the ambient state.
type Filter struct {
	Linear  float64   // Pa s/m3
	Square  float64   // Pa s2/m6
	Stated  air.Moist // state of the statement; the zero value leaves the law unscaled
	Loading q.Ratio   // change-out drop over clean drop; 0 or 1 when unknown
}

// A Leak is an opening to the room.
type Leak struct {
	At   string
	Area q.Area // with its discharge coefficient
}

// Kinds of outlet openings.
const (
	Slot     = "slot"
	RoundRow = "round row"
	Round    = "round"
	Oblong   = "oblong"
)

// An Outlet is what the air leaves by, as the air side sees it.
type Outlet struct {
	Name         string
	Kind         string
	Area         q.Area   // of all openings together
	Length       q.Length // of the slot or row
	Gap          q.Length // slot gap or short side of an oblong opening
	Bore         q.Length // of a round opening
	Count        int      // of openings; 0 and 1 are one
	Cd, Cv       q.Ratio
	PlenumBore   q.Length // 0: no plenum, the opening is fed directly
	PlenumLength q.Length // 0: Length
	Feed         string   // end, both ends, centre
	FeedLoss     q.Ratio  // loss coefficient of entering the plenum on its own velocity head
	Roughness    q.Length // of the plenum
}

// Case is one condition the network is solved for. The zero value of every factor is 1.
type Case struct {
	Name   string
	Inlet  air.Moist            // the air the blowers draw; its pressure is the ambient pressure
	Own    map[string]air.Moist // inlet air of blowers that draw from elsewhere, at the same pressure
	Room   q.Temperature        // air around the ducts; 0 is the inlet temperature
	Load   q.Ratio              // of the filters: 0 clean, 1 at change-out
	Speed  map[string]q.Ratio   // of blowers, instead of the network's
	System q.Ratio              // factor on the square law of everything after the blowers
	Scope  Scope                // what System covers
	Curve  q.Ratio              // factor on the blowers' pressure
	Closed []string             // outlets that are blocked
	Role   Role                 // why it is solved
}

// Scope is what a factor on the system's resistance covers.
type Scope string

// The scopes; the zero value is WholeSystem.
const (
	WholeSystem Scope = ""        // ducts, fittings and outlets with their plenums
	DuctsOnly   Scope = "ducts"   // ducts, fittings and filters
	OutletsOnly Scope = "outlets" // openings: their area times 1/sqrt of the factor
)

func orOne(r q.Ratio) float64 {
	if r == 0 {
		return 1
	}
	return float64(r)
}

// drop returns the filter's pressure drop at a mass flow and its slope, odd in the flow.
func (f Filter) drop(mass float64, ambient air.Moist, load float64) (drop, slope float64) {
	rho := float64(ambient.Density())
	a, b := f.Linear, f.Square
	if f.Stated != (air.Moist{}) {
		a *= float64(ambient.Viscosity() / f.Stated.Viscosity())
		b *= rho / float64(f.Stated.Density())
	}
	if f.Loading > 1 {
		grow := 1 + load*(float64(f.Loading)-1)
		a, b = a*grow, b*grow
	}
	flow := mass / rho
	return a*flow + b*flow*math.Abs(flow), (a + 2*b*math.Abs(flow)) / rho
}

// FilterThrough returns the law through clean drops: two or more points by least squares of a Q + b Q^2, one
// by the share of it that is linear.
func FilterThrough(points []job.DropPoint, linearShare q.Ratio) (Filter, bool) {
	var s2, s3, s4, y1, y2 float64
	for _, p := range points {
		x, y := float64(p.Flow), float64(p.Drop)
		if !(x > 0) || !(y >= 0) || math.IsInf(x+y, 0) {
			return Filter{}, false
		}
		s2, s3, s4, y1, y2 = s2+x*x, s3+x*x*x, s4+x*x*x*x, y1+x*y, y2+x*x*y
	}
	switch len(points) {
	case 0:
		return Filter{}, false
	case 1:
		x, y := float64(points[0].Flow), float64(points[0].Drop)
		share := float64(linearShare)
		return Filter{Linear: share * y / x, Square: (1 - share) * y / (x * x)}, true
	}
	det := s2*s4 - s3*s3
	if det <= 1e-12*s2*s4 {
		return Filter{}, false
	}
	a, b := (y1*s4-y2*s3)/det, (y2*s2-y1*s3)/det
	if a < 0 { // a filter does not push
		a, b = 0, y2/s4
	} else if b < 0 {
		a, b = y1/s2, 0
	}
	return Filter{Linear: a, Square: b}, true
}
