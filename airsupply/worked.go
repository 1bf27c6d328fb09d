package airsupply

import (
	"leste/job"
	"leste/physics/air"
	q "leste/quantity"
)

// WorkedCase is an invented supply with every kind of element: one belt-driven machine, a filter of Q and Q^2,
// a 6 m duct with three bends, a wye into two hoses, two knives. Two independent programs computed it; the
// reference checks and benchmarks share it.
//
// gap is the knives' slot gap; 1.2 mm is the base case.
func WorkedCase(gap q.Length) *Network {
	points := []CurvePoint{
		{Flow: .04, Pressure: 21600, Power: 1900},
		{Flow: .06, Pressure: 21400, Power: 2180},
		{Flow: .08, Pressure: 20800, Power: 2480},
		{Flow: .10, Pressure: 19700, Power: 2790},
		{Flow: .12, Pressure: 18000, Power: 3100},
		{Flow: .14, Pressure: 15600, Power: 3380},
		{Flow: .16, Pressure: 12400, Power: 3600},
		{Flow: .18, Pressure: 8300, Power: 3700},
	}
	m, err := NewMachine(Curve{Kind: HighSpeedCentrifugal, Points: points, Inlet: air.Dry(101325, q.Celsius(20))})
	if err != nil {
		panic("airsupply: the worked case's own curve is wrong: " + err.Error())
	}
	mm := func(x float64) q.Maybe[q.Length] { return q.Known(q.Millimetres(x)) }
	outlet := func(name string) Outlet {
		return Outlet{
			Name: name, Kind: Slot, Area: q.Area(0.3 * float64(gap)), Length: 0.3, Gap: gap, Cd: 0.92, Cv: 1,
			PlenumBore: 0.06, Feed: "end", Roughness: 0.045e-3,
		}
	}
	hose := func(to string) job.Branch {
		return job.Branch{Name: "hose to " + to, From: "wye", To: to, Elements: []job.Element{
			{Kind: "hose", Bore: mm(75), Length: mm(1000), Roughness: mm(0.9)},
			{Kind: "fitting", Loss: q.Known(q.Ratio(0.5))},
		}}
	}
	return &Network{
		Blowers: []Blower{{
			Name: "B1", Machine: m, Speed: 1, MaxSpeed: 1,
			Inlet: Inlet{Filter: Filter{Linear: 1500, Square: 22000, Loading: 4}, Bore: 0.1, Loss: 0.5},
			Drive: Drive{Belt: true, Inverter: true, Motor: Motor{Rated: 4000, Class: IE3, Poles: 4}},
		}},
		Branches: []job.Branch{
			{Name: "duct", From: "B1", To: "wye", Elements: []job.Element{
				{Kind: "duct", Bore: mm(100), Length: mm(6000), Roughness: mm(0.045)},
				{Kind: "bend", Radius: q.Known(q.Ratio(1.5)), Count: 3},
			}},
			hose("K1"), hose("K2"),
		},
		Junctions: []job.Junction{{At: "wye", Kind: "wye", Angle: q.Known(q.Degrees(30)), Law: Hager}},
		Outlets:   []Outlet{outlet("K1"), outlet("K2")},
	}
}

// WorkedSite is the worked case's place: 500 m, 25 degC, 60 % humidity.
func WorkedSite() Case {
	p, _ := air.StandardAtmosphere(500)
	return Case{Name: "worked case", Inlet: air.Humid(p, q.Celsius(25), 0.6)}
}
