package accept

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/distuv"

	q "leste/quantity"
)

// ConfidenceBelow returns how sure it is that the share of failures lies below rate, after failures among n
// containers: 1 less the probability of so few failures were the share the rate itself (the binomial
// distribution; Clopper, C. J. and Pearson, E. S., Biometrika 26, 1934). Containers must be independent.
func ConfidenceBelow(rate q.Ratio, failures, n int) q.Ratio {
	if n < 1 || failures >= n || !(rate > 0) {
		return 0
	}
	if rate >= 1 {
		return 1
	}
	return q.Ratio(1 - mathext.RegIncBeta(float64(n-failures), float64(failures)+1, 1-float64(rate)))
}

// ConfidenceAbove returns how sure it is that the share of failures lies above rate.
func ConfidenceAbove(rate q.Ratio, failures, n int) q.Ratio {
	if n < 1 || failures < 1 || !(rate < 1) {
		return 0
	}
	if rate <= 0 {
		return 1
	}
	return q.Ratio(1 - mathext.RegIncBeta(float64(failures), float64(n-failures)+1, float64(rate)))
}

// A Count is failures among containers.
type Count struct{ Failed, Of int }

// Share returns the share of failures; NaN without containers.
func (c Count) Share() float64 { return float64(c.Failed) / float64(c.Of) }

// Difference returns the bounds of the share of a less that of b, two-sided at the confidence: the hybrid
// of score intervals (Newcombe, R. G., Statistics in Medicine 17, 1998, 873-890, method 10).
func Difference(a, b Count, confidence q.Ratio) (low, high q.Ratio, err error) {
	for _, c := range []Count{a, b} {
		if c.Of < 1 || c.Failed < 0 || c.Failed > c.Of {
			return 0, 0, fmt.Errorf("%d failures among %d containers cannot be compared; there are 0 to %d of at least 1", c.Failed, c.Of, c.Of)
		}
	}
	if !(confidence > 0 && confidence < 1) {
		return 0, 0, fmt.Errorf("a confidence of %g is none; it lies between 0 and 1", float64(confidence))
	}
	z := distuv.UnitNormal.Quantile((1 + float64(confidence)) / 2)
	la, ua := score(a, z)
	lb, ub := score(b, z)
	pa, pb := a.Share(), b.Share()
	d := pa - pb
	return q.Ratio(d - math.Hypot(pa-la, ub-pb)), q.Ratio(d + math.Hypot(ua-pa, pb-lb)), nil
}

// score is the score interval of one share (Wilson, E. B., J. Am. Stat. Assoc. 22, 1927).
func score(c Count, z float64) (low, high float64) {
	n, p := float64(c.Of), c.Share()
	middle := (p + z*z/(2*n)) / (1 + z*z/n)
	half := z / (1 + z*z/n) * math.Sqrt(p*(1-p)/n+z*z/(4*n*n))
	return middle - half, middle + half
}

// MoreThan returns the probability that a has so many failures or more by chance alone, were both shares
// the same: Fisher's exact test, one-sided. A small value says that a fails more.
func MoreThan(a, b Count) q.Ratio {
	failed, all := a.Failed+b.Failed, a.Of+b.Of
	total := 0.0
	for k := a.Failed; k <= min(a.Of, failed); k++ {
		if failed-k > b.Of {
			continue
		}
		chance := math.Exp(lnChoose(a.Of, k) + lnChoose(b.Of, failed-k) - lnChoose(all, failed))
		if total += chance; float64(k) > float64(failed)*float64(a.Of)/float64(all) && chance < 1e-18 {
			break // beyond the likeliest number, chances only fall
		}
	}
	return q.Ratio(min(total, 1))
}

func lnChoose(n, k int) float64 {
	ln := func(x int) float64 { v, _ := math.Lgamma(float64(x + 1)); return v }
	return ln(n) - ln(k) - ln(n-k)
}

// A Sample is the mean of measured values with their spread.
type Sample struct {
	N            int
	Mean, Spread float64 // mean, and standard deviation of one value; NaN below two values
}

// NewSample returns the sample of the values.
func NewSample(values []float64) Sample {
	s := Sample{N: len(values), Mean: math.NaN(), Spread: math.NaN()}
	if s.N == 0 {
		return s
	}
	sum := 0.0
	for _, v := range values {
		sum += v
	}
	s.Mean = sum / float64(s.N)
	if s.N < 2 {
		return s
	}
	squares := 0.0
	for _, v := range values {
		squares += (v - s.Mean) * (v - s.Mean)
	}
	s.Spread = math.Sqrt(squares / float64(s.N-1))
	return s
}

// ConfidenceBelow returns how sure it is that the true mean lies below the limit (Student's t, one-sided);
// NaN below two values, where the spread is not known.
func (s Sample) ConfidenceBelow(limit float64) float64 {
	if s.N < 2 {
		return math.NaN()
	}
	if s.Spread == 0 {
		switch {
		case s.Mean < limit:
			return 1
		case s.Mean > limit:
			return 0
		}
		return 0.5
	}
	t := (limit - s.Mean) / (s.Spread / math.Sqrt(float64(s.N)))
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(s.N - 1)}.CDF(t)
}

// Upper returns the value that the true mean lies below at the confidence; NaN below two values.
func (s Sample) Upper(confidence q.Ratio) float64 {
	if s.N < 2 {
		return math.NaN()
	}
	t := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(s.N - 1)}.Quantile(float64(confidence))
	return s.Mean + t*s.Spread/math.Sqrt(float64(s.N))
}
