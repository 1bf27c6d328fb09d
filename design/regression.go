package design

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"leste/parallel"
)

// A Kernel says how alike what is found at two places is: how far apart places must lie in each feature to tell
// nothing of each other, and how much what a rough eye finds scatters.
type Kernel struct {
	Scales []float64 `json:"scales"` // by feature
	Noise  float64   `json:"noise"`  // variance of the rough eye's scatter over that of what is told
	Sum    float64   `json:"sum"`    // share of what is told that is a sum of what each feature does alone
}

// Constants of the regression, found on points spread over the space of two stations for cans: cells of half the size
// scatter by a third, and what a rough eye finds departs from what a fine one does by a constant and by a little that
// changes from place to place.
const (
	fineNoise    = 1.0 / 2 // of the rough eye's variance
	roughShift   = 0.5     // variance of the constant, over that of what is told
	roughDeparts = 0.02    // and of what changes
	ridge        = 1e-8    // keeps places that coincide apart
)

// places are those at which one quantity is known.
type places struct {
	rows  [][]float64 // features
	rough []bool
	value []float64
}

func (p *places) add(row []float64, rough bool, value float64) {
	p.rows, p.rough, p.value = append(p.rows, row), append(p.rough, rough), append(p.value, value)
}

// some are at most n places, spread evenly over the list with the latest among them.
func (p *places) some(n int) places {
	if len(p.value) <= n {
		return *p
	}
	var out places
	for i := range n {
		k := len(p.value) - 1 - i*len(p.value)/n
		out.add(p.rows[k], p.rough[k], p.value[k])
	}
	return out
}

// A regression tells a quantity between the places at which it is known, and how sure that is: a Gaussian process with
// a rational quadratic kernel and a constant mean (Rasmussen and Williams, Gaussian Processes for Machine Learning, MIT
// Press 2006, equations 2.25, 2.26, 2.41 and 4.19; with alpha of 2 it takes no exponential). What it tells is what a fine eye would find.
type regression struct {
	kernel   Kernel
	rows     [][]float64 // features over their scales
	flat     []float64   // and one after the other
	mean     float64
	weights  []float64 // of the places, over the mean
	variance float64
	factor   mat.Cholesky
	inverse  []float64 // of the covariance, row by row; nil until it is asked for
	logDet   float64
}

// scaled are features over their scales.
func (k *Kernel) scaled(row []float64) []float64 {
	out := make([]float64, len(row))
	for i, v := range row {
		out[i] = v / k.Scales[i]
	}
	return out
}

// alike is the correlation of two places, from features over their scales: a share of it is a sum over the features
// (Duvenaud, Nickisch and Rasmussen, Additive Gaussian Processes, NIPS 24 (2011) 226), which carries over to places
// that are far in others.
func (k *Kernel) alike(a, b []float64) float64 {
	square, each := 0.0, 0.0
	b = b[:len(a)]
	i := 0
	for ; i+1 < len(a); i += 2 { // one division for two features, which is what takes the time
		d, e := a[i]-b[i], a[i+1]-b[i+1]
		d, e = d*d, e*e
		square += d + e
		each += (2 + d + e) / ((1 + d) * (1 + e))
	}
	if i < len(a) {
		d := a[i] - b[i]
		d *= d
		square += d
		each += 1 / (1 + d)
	}
	return k.both(square, each, float64(len(a)))
}

// both are the sum and the rest, from the square of the distance and the sum of what each of n features tells.
func (k *Kernel) both(square, each, n float64) float64 {
	near := 1 / (1 + square/4)
	return k.Sum*each/n + (1-k.Sum)*near*near
}

// regress joins places; ok is false when there are none, or when the arithmetic fails.
func regress(k Kernel, p *places) (g *regression, ok bool) {
	n := len(p.value)
	if n == 0 {
		return nil, false
	}
	g = &regression{kernel: k, rows: make([][]float64, n)}
	for i, row := range p.rows {
		g.rows[i] = k.scaled(row)
	}
	for _, r := range g.rows {
		g.flat = append(g.flat, r...)
	}
	cov := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			c := k.alike(g.rows[i], g.rows[j])
			if p.rough[i] && p.rough[j] {
				c += roughDeparts*c + roughShift
			}
			if i == j {
				noise := k.Noise
				if !p.rough[i] {
					noise *= fineNoise
				}
				c += noise + ridge
			}
			cov.SetSym(i, j, c)
		}
	}
	if !g.factor.Factorize(cov) { //nolint:misspell // gonum's name
		return nil, false
	}
	g.logDet = g.factor.LogDet()
	ones, y := mat.NewVecDense(n, nil), mat.NewVecDense(n, p.value)
	for i := range n {
		ones.SetVec(i, 1)
	}
	var a, b mat.VecDense
	if g.factor.SolveVecTo(&a, ones) != nil || g.factor.SolveVecTo(&b, y) != nil {
		return nil, false
	}
	g.mean = mat.Dot(ones, &b) / mat.Dot(ones, &a)
	b.AddScaledVec(&b, -g.mean, &a)
	g.weights = b.RawVector().Data
	g.variance = max(mat.Dot(y, &b)/float64(n), 1e-12) // the mean is orthogonal to the weights
	return g, true
}

// at is what is told at a place.
func (g *regression) at(row []float64) float64 {
	x, sum := g.kernel.scaled(row), g.mean
	n := len(x)
	for i, w := range g.weights {
		sum += w * g.kernel.alike(x, g.flat[i*n:(i+1)*n])
	}
	return sum
}

// ready makes the regression tell spreads.
func (g *regression) ready() {
	n := len(g.rows)
	var inverse mat.SymDense
	if g.factor.InverseTo(&inverse) != nil {
		return // an ill-conditioned covariance tells its spread from the variance alone
	}
	g.inverse = make([]float64, n*n)
	for i := range n {
		for j := range n {
			g.inverse[i*n+j] = inverse.At(i, j)
		}
	}
}

// spread is the standard deviation of what is told at a place.
func (g *regression) spread(row []float64) float64 {
	x, n := g.kernel.scaled(row), len(g.rows)
	if g.inverse == nil {
		return math.Sqrt(g.variance)
	}
	k := make([]float64, n)
	for i, r := range g.rows {
		k[i] = g.kernel.alike(x, r)
	}
	sum := 0.0
	for i, a := range k {
		if a == 0 {
			continue
		}
		dot := a * g.inverse[i*n+i] / 2
		for j, b := range k[:i] {
			dot += b * g.inverse[i*n+j]
		}
		sum += 2 * a * dot
	}
	return math.Sqrt(g.variance * max(1-sum, 0))
}

// doubt is the negative logarithm of the likelihood, with the variance at its best.
func (g *regression) doubt() float64 {
	return (float64(len(g.rows))*math.Log(g.variance) + g.logDet) / 2
}

// tune finds the kernel that makes several quantities likeliest, from a kernel to begin with: one parameter after the
// other, by factors. Scales are thought to be near one unless the places say otherwise.
func tune(k Kernel, all []places, workers int) Kernel {
	const most = 90 // places are enough to tell scales
	parts := make([]places, len(all))
	for i := range all {
		parts[i] = all[i].some(most)
	}
	doubt := func(k Kernel) float64 {
		const noise, width = 0.05, 1.5
		sum := square(math.Log(k.Noise/noise) / width)
		if !(k.Sum > 0 && k.Sum < 1) {
			return math.Inf(1)
		}
		for _, s := range k.Scales {
			sum += square(math.Log(s) / width)
		}
		doubts := make([]float64, len(parts))
		_ = parallel.Each(workers, len(parts), func(i int) error { // nothing in it fails
			if len(parts[i].value) == 0 {
				return nil
			}
			if g, ok := regress(k, &parts[i]); ok {
				doubts[i] = g.doubt()
			} else {
				doubts[i] = math.Inf(1)
			}
			return nil
		})
		for _, d := range doubts {
			sum += d
		}
		return sum
	}
	best := doubt(k)
	const sweeps = 2
	for _, factor := range [sweeps]float64{2, 1.5} {
		for i := range len(k.Scales) + 2 {
			for _, by := range [2]float64{factor, 1 / factor} {
				for { // as far that way as it helps
					now := k
					now.Scales = append([]float64(nil), k.Scales...)
					switch i - len(k.Scales) {
					case 0:
						now.Noise *= by
					case 1: // the odds
						now.Sum = by * k.Sum / (1 - k.Sum + by*k.Sum)
					default:
						now.Scales[i] *= by
					}
					d := doubt(now)
					if !(d < best-1e-9) {
						break
					}
					k, best = now, d
				}
			}
		}
	}
	return k
}

func square(x float64) float64 { return x * x }
