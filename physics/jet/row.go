package jet

import (
	"math"

	"leste/quantity"
)

// Row is a row of equal round nozzles that blow the same way. Its jets add by momentum flux; card
// nozzle-row.
type Row struct {
	Count   int             // number of nozzles; 0 is an endless row
	Spacing quantity.Length // between axes
	Thrust  quantity.Force  // of one nozzle
}

// merging begins and ends at these distances, in spacings; card nozzle-row.
const (
	separateUntil = 5
	mergedFrom    = 8
)

// rowMatch brings a row of one to the single jet's decay: the Gaussian of the spreading rate alone gives
// 0.5887/0.095 = 6.197 bores where the single jet has 6.0.
const rowMatch = RoundDecay / (0.5887 / RoundSpread) * RoundDecay / (0.5887 / RoundSpread)

// Merged is 0 where the jets are still separate, 1 where they have become a plane jet, and rises smoothly
// between 5 and 8 spacings from the row; card nozzle-row.
func (r Row) Merged(x quantity.Length) quantity.Ratio {
	t := max(0, min(1, (float64(x/r.Spacing)-separateUntil)/(mergedFrom-separateUntil)))
	return quantity.Ratio(t * t * (3 - 2*t))
}

// Velocity at distance x, opposite the point z along the row, on the centre plane, never more than exit. z is
// counted from the middle nozzle (odd counts, endless rows) or from midway between the two middle ones.
func (r Row) Velocity(x, z quantity.Length, rho quantity.Density, exit quantity.Speed) quantity.Speed {
	// Gaussian of u2 per jet: thrust 2 ln2/(pi rho (S x)2) exp(-2 ln2 (z/(S x))2).
	width := RoundSpread * float64(x)
	u2 := rowMatch * 2 * math.Ln2 * float64(r.Thrust) / (math.Pi * float64(rho) * width * width) *
		r.sum(float64(z), width)
	return min(exit, quantity.Speed(math.Sqrt(u2)))
}

// MomentumAt is the thrust per length to which the row is smeared at distance x, opposite the point z: what
// a slot jet would need there to press as hard. It gives back the row's whole thrust when added up over z.
func (r Row) MomentumAt(x, z quantity.Length) quantity.ThrustPerLength {
	width := RoundSpread * float64(x)
	return quantity.ThrustPerLength(float64(r.Thrust) * math.Sqrt(2*math.Ln2/math.Pi) / width *
		r.sum(float64(z), width))
}

// sum of the Gaussians of all nozzles at z for velocity half-width width.
func (r Row) sum(z, width float64) float64 {
	s := float64(r.Spacing)
	first, last := r.span(z, width)
	total := 0.0
	for i := first; i <= last; i++ {
		d := (z - r.position(i)*s) / width
		total += math.Exp(-2 * math.Ln2 * d * d)
	}
	return total
}

// span is the first and last nozzle that count at z: all of a short row, those within six half-widths of an
// endless one.
func (r Row) span(z, width float64) (first, last int) {
	if r.Count > 0 {
		return 0, r.Count - 1
	}
	const far = 6
	s := float64(r.Spacing)
	return int(math.Floor((z - far*width) / s)), int(math.Ceil((z + far*width) / s))
}

// position of nozzle i in spacings.
func (r Row) position(i int) float64 {
	if r.Count > 0 {
		return float64(i) - float64(r.Count-1)/2
	}
	return float64(i)
}

// Ripple is how much lower the velocity is midway between two nozzles than opposite one, as a share, for an
// endless row at distance x.
func (r Row) Ripple(x quantity.Length) quantity.Ratio {
	endless := Row{Spacing: r.Spacing, Thrust: 1}
	free := quantity.Speed(math.Inf(1))
	on := endless.Velocity(x, 0, 1, free)
	mid := endless.Velocity(x, r.Spacing/2, 1, free)
	return quantity.Ratio(1 - mid/on)
}

// EquivalentGap is the gap of the slot that has the outlet area of an endless row.
func EquivalentGap(bore, spacing quantity.Length) quantity.Length {
	return math.Pi / 4 * bore * bore / spacing
}

// EquivalentBore is the bore of the round nozzle that has the outlet area of another shape.
func EquivalentBore(a quantity.Area) quantity.Length {
	return quantity.Length(math.Sqrt(4 * float64(a) / math.Pi))
}
