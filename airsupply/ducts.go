package airsupply

import (
	"fmt"
	"math"

	"leste/job"
	q "leste/quantity"
)

// Bores ducts and hoses are made in [mm].
var usualBores = []float64{50, 63, 75, 80, 100, 125, 150, 160, 180, 200, 225, 250, 280, 315, 355, 400, 450, 500}

// usualDuctSpeed is the air speed ducts are laid out for, m/s; 20 to 25 is common practice.
const usualDuctSpeed = 22.5

// boreFor returns the usual bore for a volume flow [m3/s].
func boreFor(flow float64) q.Length {
	need := math.Sqrt(4 * flow / (math.Pi * usualDuctSpeed))
	for _, mm := range usualBores {
		if mm*1e-3 >= need*(1-1e-9) {
			return q.Millimetres(mm)
		}
	}
	return q.Length(need)
}

// layOut lays ducts from a place to outlets: a trunk that divides in wyes until each outlet has its hose.
// flows are volume flows [m3/s] of the outlets at duct conditions.
func layOut(from string, outlets []Outlet, flows []float64) ([]job.Branch, []job.Junction) {
	l := &layout{}
	l.divide(from, "duct", 6, outlets, flows)
	return l.branches, l.junctions
}

type layout struct {
	branches  []job.Branch
	junctions []job.Junction
}

// divide runs a duct of a length [m] from a place to the middle of outlets, and on from there.
func (l *layout) divide(from, name string, length float64, outlets []Outlet, flows []float64) {
	var total float64
	for _, f := range flows {
		total += f
	}
	duct := job.Element{Kind: "duct", Bore: q.Known(boreFor(total)), Length: q.Known(q.Length(length)), Material: usualDuct}
	bends := job.Element{Kind: "bend", Radius: q.Known(q.Ratio(1.5)), Count: 2}
	if len(outlets) == 1 {
		hose := job.Element{Kind: "hose", Bore: q.Known(boreFor(total)), Length: q.Known(q.Length(1.5)), Material: usualHose}
		elements := []job.Element{hose}
		if len(l.branches) == 0 { // a single outlet still stands some way off
			elements = []job.Element{duct, bends, hose}
		}
		l.branches = append(l.branches, job.Branch{Name: "hose to " + outlets[0].Name, From: from, To: outlets[0].Name, Elements: elements})
		return
	}
	at := fmt.Sprintf("wye %d", len(l.junctions)+1)
	l.junctions = append(l.junctions, job.Junction{At: at, Kind: "wye", Angle: q.Known(q.Degrees(usualHalf)), Law: Hager})
	l.branches = append(l.branches, job.Branch{Name: name, From: from, To: at, Elements: []job.Element{duct, bends}})
	half := (len(outlets) + 1) / 2
	for i, part := range [2][2]int{{0, half}, {half, len(outlets)}} {
		l.divide(at, fmt.Sprintf("%s %c", at, 'a'+rune(i)), 1.5, outlets[part[0]:part[1]], flows[part[0]:part[1]])
	}
}
