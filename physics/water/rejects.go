package water

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mathext"

	"leste/physics/internal/solve"
	"leste/quantity"
)

// SampleSize is the number of containers of which at most failures may fail to show, at the given confidence,
// that the reject rate is below rate; card acceptance-sample.
func SampleSize(rate, confidence quantity.Ratio, failures int) (int, error) {
	p, alpha := float64(rate), 1-float64(confidence)
	switch {
	case !(p > 0 && p < 1):
		return 0, fmt.Errorf("a reject rate of %g cannot be shown; it lies between 0 and 1", p)
	case !(alpha > 0 && alpha < 1):
		return 0, fmt.Errorf("a confidence of %g is none; it lies between 0 and 1", float64(confidence))
	case failures < 0:
		return 0, fmt.Errorf("the number of failures allowed is %d; it is 0 or more", failures)
	}
	if failures == 0 {
		return int(math.Ceil(math.Log(alpha) / math.Log1p(-p))), nil
	}
	// Probability of at most that many failures among n, falling in n; solved over real n, then settled on
	// the whole number, the bound being exact there.
	excess := func(n float64) float64 {
		return mathext.RegIncBeta(n-float64(failures), float64(failures)+1, 1-p) - alpha
	}
	lo := float64(failures) + 1
	hi := lo + 1
	for excess(hi) > 0 {
		hi *= 2
	}
	n := math.Floor(solve.Root(excess, lo, hi, 1e-6))
	for excess(n) > 0 {
		n++
	}
	return int(n), nil
}

// RejectBounds returns the reject rates between which the true one lies with the given confidence, after
// failures among n containers (Clopper and Pearson), lowest and highest; card reject-bounds.
func RejectBounds(failures, n int, confidence quantity.Ratio) (low, high quantity.Ratio, err error) {
	if err := checkCount(failures, n, confidence); err != nil {
		return 0, 0, err
	}
	half := (1 - float64(confidence)) / 2
	return quantity.Ratio(lowerRate(failures, n, half)), quantity.Ratio(upperRate(failures, n, half)), nil
}

// RejectUpper is the reject rate below which the true one lies with the given confidence, one-sided; card
// reject-bounds.
func RejectUpper(failures, n int, confidence quantity.Ratio) (quantity.Ratio, error) {
	if err := checkCount(failures, n, confidence); err != nil {
		return 0, err
	}
	return quantity.Ratio(upperRate(failures, n, 1-float64(confidence))), nil
}

func checkCount(failures, n int, confidence quantity.Ratio) error {
	switch {
	case n < 1:
		return fmt.Errorf("a sample of %d containers shows nothing; it needs at least 1", n)
	case failures < 0 || failures > n:
		return fmt.Errorf("%d failures among %d containers; there are 0 to %d", failures, n, n)
	case !(confidence > 0 && confidence < 1):
		return fmt.Errorf("a confidence of %g is none; it lies between 0 and 1", float64(confidence))
	}
	return nil
}

func upperRate(k, n int, alpha float64) float64 {
	if k == n {
		return 1
	}
	return mathext.InvRegIncBeta(float64(k+1), float64(n-k), 1-alpha)
}

func lowerRate(k, n int, alpha float64) float64 {
	if k == 0 {
		return 0
	}
	return mathext.InvRegIncBeta(float64(k), float64(n-k+1), alpha)
}

// RejectRate is the share of containers with at least one drop that counts, when they carry lambda such
// drops on average, independently; card reject-rate.
func RejectRate(lambda quantity.Ratio) quantity.Ratio {
	return quantity.Ratio(-math.Expm1(-float64(lambda)))
}

// DropsFor is the mean number of drops that count per container at a reject rate, the inverse of
// RejectRate.
func DropsFor(rate quantity.Ratio) quantity.Ratio { return quantity.Ratio(-math.Log1p(-float64(rate))) }
