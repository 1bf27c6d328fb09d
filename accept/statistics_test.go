package accept

import (
	"math"
	"testing"

	q "leste/quantity"
)

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s is %.6g, want %.6g within %g", what, got, want, tolerance)
	}
}

// Source: Newcombe, R. G., Statistics in Medicine 17 (1998) 873-890, table II, method 10.
// Tolerance: four decimals are printed.
func TestReferenceDifferenceOfShares(t *testing.T) {
	for _, c := range []struct {
		a, b      Count
		low, high float64
	}{
		{Count{56, 70}, Count{48, 80}, 0.0524, 0.3339},
		{Count{9, 10}, Count{3, 10}, 0.1705, 0.8090},
		{Count{10, 10}, Count{0, 10}, 0.6075, 1.0000},
		{Count{5, 56}, Count{0, 29}, -0.0381, 0.1926},
	} {
		low, high, err := Difference(c.a, c.b, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "low", float64(low), c.low, 6e-5)
		near(t, "high", float64(high), c.high, 6e-5)
	}
}

// Source: Fisher, R. A., The Design of Experiments, 1935: three of four cups right, 17 of 70 ways.
// Tolerance: rounding of logarithms.
func TestReferenceFisher(t *testing.T) {
	near(t, "three of four", float64(MoreThan(Count{3, 4}, Count{1, 4})), 17.0/70, 1e-12)
	near(t, "four of four", float64(MoreThan(Count{4, 4}, Count{0, 4})), 1.0/70, 1e-12)
}

// Source: rule of the binomial with no failure, n = ln(0.05)/ln(1-p): 2995 for 0.1 %, 299 for 1 %; with
// three failures 7752. Tolerance: the confidence just passes 95 % at n and just misses it at n-1.
func TestReferenceConfidenceOfCounts(t *testing.T) {
	for _, c := range []struct {
		rate   q.Ratio
		failed int
		needed int
	}{{0.001, 0, 2995}, {0.01, 0, 299}, {0.001, 3, 7752}, {0.01, 2, 628}} {
		if at, before := ConfidenceBelow(c.rate, c.failed, c.needed), ConfidenceBelow(c.rate, c.failed, c.needed-1); at < 0.95 || before >= 0.95 {
			t.Errorf("%d failures of %d: %.5f, one fewer %.5f; 95 %% lies between", c.failed, c.needed, at, before)
		}
	}
	// Source: Clopper-Pearson bounds of 3 in 3000, two-sided 95 %: 0.0206 to 0.292 %.
	near(t, "above 0.0206 %", float64(ConfidenceAbove(0.000206, 3, 3000)), 0.975, 5e-4)
	near(t, "below 0.292 %", float64(ConfidenceBelow(0.00292, 3, 3000)), 0.975, 5e-4)
}

// Source: Student's t, one-sided 95 %: 1.8331 with 9 degrees of freedom, 2.9200 with 2.
func TestReferenceMeanBound(t *testing.T) {
	s := NewSample([]float64{9, 10, 11})
	near(t, "upper of three", s.Upper(0.95), 10+2.91999/math.Sqrt(3), 1e-4)
	ten := Sample{N: 10, Mean: 0, Spread: math.Sqrt(10)}
	near(t, "upper of ten", ten.Upper(0.95), 1.83311, 1e-4)
	near(t, "confidence of ten", ten.ConfidenceBelow(1.83311), 0.95, 1e-5)
}

func TestLawEdges(t *testing.T) {
	for _, c := range []q.Ratio{ConfidenceBelow(0.01, 0, 0), ConfidenceBelow(0, 0, 10), ConfidenceBelow(0.01, 5, 5), ConfidenceAbove(0.5, 0, 10), ConfidenceAbove(1, 5, 5)} {
		if c != 0 {
			t.Errorf("nothing is shown, yet the confidence is %g", c)
		}
	}
	if _, _, err := Difference(Count{5, 4}, Count{0, 1}, 0.95); err == nil {
		t.Error("five failures of four are accepted")
	}
	if _, _, err := Difference(Count{1, 4}, Count{0, 1}, 1); err == nil {
		t.Error("a confidence of 1 is accepted")
	}
	if s := NewSample([]float64{1}); !math.IsNaN(s.Upper(0.95)) || !math.IsNaN(s.ConfidenceBelow(2)) {
		t.Error("one value has no bound")
	}
	same := NewSample([]float64{2, 2, 2})
	for limit, want := range map[float64]float64{1: 0, 2: 0.5, 3: 1} {
		near(t, "equal values", same.ConfidenceBelow(limit), want, 0)
	}
}

// Two tests in a row could err twice as often as one. A promise that is just broken, whatever else is rejected, is
// accepted in no more than 6 of 100 trials by both together: where the count of all rejects proves it, the difference
// does too. Summed over all counts that may come; nothing is drawn.
func TestLawBothTestsOfRejectsTogetherErrNoMoreThanOne(t *testing.T) {
	chances := func(n int, p float64) []float64 {
		out := make([]float64, 0, 200)
		for k := range 200 {
			x := lnChoose(n, k) + float64(n-k)*math.Log1p(-p)
			if k > 0 {
				x += float64(k) * math.Log(p)
			}
			out = append(out, math.Exp(x))
		}
		return out
	}
	const limit = 0.001
	for _, other := range []float64{0, 0.0005, 0.001, 0.005} {
		for _, n := range [][2]int{{3000, 3000}, {10000, 3000}, {10000, 10000}} {
			p := Promise{Machine: "camera", Quantity: "rejects", Limit: limit}
			wrong := 0.0
			on, dry := chances(n[0], limit+other), chances(n[1], other)
			for a, pa := range on {
				for b, pb := range dry {
					if pa*pb < 1e-9 {
						continue
					}
					rows := []Row{{What: Rejects, State: AirOn, At: "camera", Failed: a, Containers: n[0]}, {What: Rejects, State: HandDried, At: "camera", Failed: b, Containers: n[1]}}
					if judge(p, rows, Expected{}, Terms{}.filled()).Verdict == Accepted {
						wrong += pa * pb
					}
				}
			}
			if !(wrong <= 0.06 && wrong > 0.02) {
				t.Errorf("%g rejected for other reasons, %v containers: accepted in %.3g of 100 trials", other, n, 100*wrong)
			}
		}
	}
}
