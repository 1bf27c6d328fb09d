package airsupply

import (
	"math"
	"testing"

	"leste/physics/jet"
	q "leste/quantity"
)

// Every card's worked example comes out of the code it describes.
func TestReferenceCardExamples(t *testing.T) {
	g := newGas(287.05, 1.4*287.05/0.4)
	compute := map[string]func(v func(string) float64) float64{
		"duct-friction": func(v func(string) float64) float64 { return float64(Friction(q.Ratio(v("re")), q.Ratio(v("e_d")))) },
		"duct-loss": func(v func(string) float64) float64 {
			// 330 K static and 121325 Pa: the flow of the exact table.
			m2 := v("v") * v("v") / (g.k * g.r * 330)
			loss, _ := g.pieceLoss(v("K"), 1, v("v")*121325/(g.r*330), 121325*math.Pow(1+g.half*m2, g.ratio), 330*(1+g.half*m2))
			return loss
		},
		"fitting-loss": func(v func(string) float64) float64 { return float64(BendLoss(q.Ratio(v("r_d")), q.Degrees(90))) },
		"tee-loss": func(v func(string) float64) float64 {
			return float64(DividingSide(q.Degrees(90), q.Ratio(v("bore")), q.Ratio(v("q"))))
		},
		"wye-loss": func(v func(string) float64) float64 { return float64(WyeSide(Hager, q.Angle(v("a")), q.Ratio(v("r")))) },
		"filter-drop": func(v func(string) float64) float64 {
			drop, _ := Filter{Linear: 1500, Square: 22000}.drop(v("Q")*float64(dry20().Density()), dry20(), 0)
			return drop
		},
		"plenum": func(v func(string) float64) float64 {
			d, _ := Distribute(PlenumGroups{Opening: q.Ratio(v("m"))}, q.Ratio(v("r")))
			return float64(d.NonUniformity)
		},
		"blower-similarity": func(v func(string) float64) float64 {
			m, err := NewMachine(Curve{Kind: Fan, Inlet: dry20(), Points: []CurvePoint{
				{Flow: .05, Pressure: 22000, Power: 2000}, {Flow: .1, Pressure: 20000, Power: 2800}, {Flow: .15, Pressure: 15000, Power: 3200},
			}})
			if err != nil {
				t.Fatal(err)
			}
			n := v("N")
			return float64(m.At(q.Ratio(n), q.MassFlow(.1*n*float64(dry20().Density())), dry20()).Rise)
		},
		"isentropic-compression": func(v func(string) float64) float64 {
			return float64(jet.DryAir().CompressionWork(101325, q.Temperature(v("T1")), q.Absolute(101325*v("p2_p1"))))
		},
		"surface-temperature": func(v func(string) float64) float64 { return v("t_c") },
		"motor-efficiency":    func(v func(string) float64) float64 { return float64(PartLoad(q.Ratio(v("eta_n")), q.Ratio(v("x")))) },
		"belt-efficiency":     func(v func(string) float64) float64 { return float64(BeltEfficiency(q.Power(v("H")))) },
		"inverter-efficiency": func(v func(string) float64) float64 {
			return float64(InverterEfficiency(5*horsepower, q.Ratio(v("x"))))
		},
	}
	for _, c := range Cards() {
		f, ok := compute[c.ID]
		if !ok {
			t.Errorf("card %s: no code is checked against its example", c.ID)
			continue
		}
		want := c.Example.Result.Value
		near(t, c.ID, f(c.Example.Value), want, c.Example.Digits*math.Abs(want)+1e-12)
	}
	if got := cards().All(); len(got) != len(compute) {
		t.Errorf("%d cards, %d computed", len(got), len(compute))
	}
}
