// Package amount writes numbers of a result for people: two significant figures, bands, shares.
package amount

import (
	"fmt"
	"math"
	"strconv"

	q "leste/quantity"
)

// Unknown stands where a number is not known.
const Unknown = "not known"

// Figures writes x with n significant figures and no exponent: 0.0123, 52, 1300. A number that is not
// known, or grows without end, says so; one that no job holds is written with an exponent, 1.2e+30.
func Figures(x float64, n int) string {
	switch {
	case math.IsNaN(x), math.IsInf(x, -1):
		return Unknown
	case math.IsInf(x, 1):
		return "no limit"
	case x == 0:
		return "0"
	}
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(x, 'e', n-1, 64), 64)
	if err != nil {
		return Unknown // past the largest number: nothing a job can hold
	}
	if a := math.Abs(rounded); a >= 1e12 || a < 1e-9 {
		return strconv.FormatFloat(x, 'e', n-1, 64)
	}
	decimals := n - 1 - int(math.Floor(math.Log10(math.Abs(rounded))))
	return strconv.FormatFloat(rounded, 'f', max(decimals, 0), 64)
}

// Two writes x with two significant figures.
func Two(x float64) string { return Figures(x, 2) }

// Band writes a band as its likely value with the low and high ends: "52 (21 to 130)". The band is
// multiplied by scale first.
func Band(b q.Band, scale float64) string { return BandTo(2, b, scale) }

// BandTo is Band to n significant figures.
func BandTo(n int, b q.Band, scale float64) string {
	likely, low, high := Figures(b.Likely*scale, n), Figures(b.Low*scale, n), Figures(b.High*scale, n)
	if low == likely && high == likely {
		return likely
	}
	return fmt.Sprintf("%s (%s to %s)", likely, low, high)
}

// Factor writes a reserve, or a resistance over a push: two figures, or as many as tell that it is below 1.
func Factor(x float64) string { return Figures(x, q.Telling(-1, 2, -x)) }

// Percent writes a share of one as per cent with two significant figures.
func Percent(share float64) string {
	if math.IsNaN(share) || math.IsInf(share, 0) {
		return Figures(share, 2)
	}
	return Two(share*100) + " %"
}
