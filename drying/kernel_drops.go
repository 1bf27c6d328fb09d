package drying

import (
	"math"

	"leste/physics/water"
)

// Sizes of the bins in which drops are kept. Neighbouring sizes are closer than the width of any size
// distribution met here, so that the size at which drops begin to move is resolved.
const (
	dropBins    = 16
	smallestBin = 60e-6 // m
	binRatio    = 1.4   // the largest bin is 9.3 mm: no wall holds larger drops
)

// binSize is the diameter of the drops in bin b.
func binSize(b int) float64 { return smallestBin * math.Pow(binRatio, float64(b)) }

// binSpread is the spread of sizes within one bin, as a standard deviation of the logarithm.
var binSpread = math.Log(binRatio) / math.Sqrt(12)

// dropWall is what moves and holds drops on one material, per bin.
type dropWall struct {
	size, volume [dropBins]float64 // m, m3
	cover        [dropBins]float64 // m2 covered per m3 of water
	sweep        [dropBins]float64 // D/V: width swept per volume of water [1/m2]
	drag, body   [dropBins]float64 // push over retention per (m/s)2 of air, per Pa/m of weight and pressure
	rest         float64           // push over retention that sets a drop in motion
	height       float64           // of a drop over its diameter
	mobility     *water.Mobility
	logTop       float64 // ln(height of the smallest drop / nu)
}

// airOverDrops is the air's law of the wall, tabulated so that neighbouring bins lie a whole number of
// entries apart: one logarithm serves all sizes of a cell.
type airOverDrops struct {
	rho, nu float64
	table   []float64
}

const (
	entriesPerBin = 4
	lowestYPlus   = 1e-3
	highestYPlus  = 1e5
)

var tableStep = math.Log(binRatio) / entriesPerBin

func newAirOverDrops(rho, nu float64) *airOverDrops {
	a := &airOverDrops{rho: rho, nu: nu}
	n := int((math.Log(highestYPlus)-math.Log(lowestYPlus))/tableStep) + dropBins*entriesPerBin + 2
	a.table = make([]float64, n)
	for i := range a.table {
		a.table[i] = water.LawOfTheWall(lowestYPlus * math.Exp(float64(i)*tableStep))
	}
	return a
}

// place is where ln(y+) of the smallest drop falls in the table: the entry and the share to the next.
func (a *airOverDrops) place(logYPlus float64) (int, float64) {
	x := (logYPlus - math.Log(lowestYPlus)) / tableStep
	x = max(0, min(x, float64(len(a.table)-dropBins*entriesPerBin-2)))
	i := int(x)
	return i, x - float64(i)
}

// logarithm is the natural logarithm of a positive normal number, within 2e-5: a quarter of a thousandth of an
// entry of the table above.
func logarithm(x float64) float64 {
	bits := math.Float64bits(x)
	i := bits >> (52 - logBits) & (1<<logBits - 1)
	part := float64(bits&(1<<(52-logBits)-1)) * (1.0 / (1 << (52 - logBits)))
	exponent := float64(int(bits>>52) - 1023)
	return exponent*math.Ln2 + logs[i] + part*(logs[i+1]-logs[i])
}

const logBits = 7

// logs holds ln(1 + i/2^logBits).
var logs = func() (t [1<<logBits + 1]float64) {
	for i := range t {
		t[i] = math.Log1p(float64(i) / (1 << logBits))
	}
	return t
}()

// drops are the drops on a wallGrid: water in each size, per area of wall, held or moving.
type drops struct {
	g     *wallGrid
	walls []dropWall
	wall  []uint8 // per cell: index into walls
	air   *airOverDrops
	speed float64 // tension over viscosity [m/s]: speed per capillary number
	rho   float64 // of the water

	stuck, moving []float64 // m3 per m2, dropBins per cell
	vs, va        []float32 // m/s of each size, along the profile and around; valid where known
	known         []int32   // the air step for which vs and va of a cell were worked out
	upTo          []uint8   // and up to which bin
	slowest       []uint8   // smallest bin that moves; dropBins when none up to that bin does
	step          int32     // present air step

	outS, outA []float32 // m3 that leaves a cell in the present step, signed by direction; exactly what is taken from it
	outFrom    []uint8   // smallest bin that leaves; dropBins when none does
	outTo      []uint8   // largest bin that does
	busy       []uint8   // smallest bin that holds more than dust in motion; dropBins when none does
	peak       []uint8   // largest bin that does
	any        []uint8   // per row: some cell is busy
	outAny     []uint8   // per row: some cell lets drops go in the present step

	tauS, tauA, p, edge []float64 // the air: shear [Pa], pressure [Pa], speed outside the wall layer [m/s]
}

func newDrops(g *wallGrid, ws []dropWall, wall []uint8, air *airOverDrops, speed, rho float64) *drops {
	d := &drops{g: g, walls: ws, wall: wall, air: air, speed: speed, rho: rho}
	for _, a := range []*[]float64{&d.stuck, &d.moving} {
		*a = make([]float64, g.size*dropBins)
	}
	d.vs, d.va = make([]float32, g.size*dropBins), make([]float32, g.size*dropBins)
	d.outS, d.outA = make([]float32, g.size*dropBins), make([]float32, g.size*dropBins)
	d.known, d.upTo, d.slowest = make([]int32, g.size), make([]uint8, g.size), make([]uint8, g.size)
	d.outFrom, d.outTo = make([]uint8, g.size), make([]uint8, g.size)
	d.busy, d.peak = make([]uint8, g.size), make([]uint8, g.size)
	for i := range d.outFrom {
		d.outFrom[i], d.busy[i] = dropBins, dropBins
	}
	d.any, d.outAny = make([]uint8, g.rows+2*pad), make([]uint8, g.rows+2*pad)
	for _, a := range []*[]float64{&d.tauS, &d.tauA, &d.p, &d.edge} {
		*a = make([]float64, g.size)
	}
	return d
}

func newDropWall(w *wall, l water.Liquid, drag float64, air *airOverDrops) dropWall {
	d := dropWall{
		rest: float64(w.Hysteresis()), height: w.height, mobility: water.NewMobility(w.Wetting),
		logTop: math.Log(w.height * smallestBin / air.nu),
	}
	for b := range dropBins {
		size := binSize(b)
		d.size[b], d.volume[b] = size, w.volume*size*size*size
		d.cover[b] = math.Pi / (4 * w.volume * size)
		d.sweep[b] = 1 / (w.volume * size * size)
		hold := water.RetentionFactor * float64(l.Tension) * size
		d.drag[b] = 0.5 * drag * air.rho * w.front * size * size / hold
		d.body[b] = w.volume * size * size * size / hold
	}
	return d
}

// velocities works out how fast each size up to bin top moves in cell i under the present air and returns the
// smallest bin that moves, dropBins when none does. Drag acts along the shear; weight and the pressure's fall
// along the wall add as vectors. The speed follows from the moving contact line; it is capped as the film's.
func (d *drops) velocities(i, top int) int {
	if d.known[i] == d.step && int(d.upTo[i]) >= top {
		return int(d.slowest[i])
	}
	d.known[i], d.upTo[i] = d.step, uint8(top)
	g, w := d.g, &d.walls[d.wall[i]]
	ts, ta := d.tauS[i], d.tauA[i]
	gs, ga := d.rho*g.cellGS[i], d.rho*g.cellGA[i]
	weight2 := gs*gs + ga*ga
	gs -= 0.5 * ((d.p[i]-d.p[i-g.stride])*g.invS[i] + (d.p[i+g.stride]-d.p[i])*g.invS[i+g.stride])
	ga -= 0.5 * ((d.p[i]-d.p[i-1])*g.invA[i] + (d.p[i+1]-d.p[i])*g.invA[i+1])
	tau, body := math.Sqrt(ts*ts+ta*ta), math.Sqrt(gs*gs+ga*ga)
	u2 := min(fastestOverWall*tau/d.air.rho, d.edge[i]*d.edge[i])
	if w.drag[top]*u2+w.body[top]*body <= w.rest {
		d.slowest[i] = dropBins
		return dropBins
	}
	fastest := math.Sqrt(tau/(frictionOfThickFilm*d.rho) + 2*max(0, d.p[i])/d.rho +
		w.height*w.size[dropBins-1]/frictionOfThickFilm*math.Sqrt(weight2))
	fastest = min(fastest, fastestDrops)
	es, ea, friction := 0.0, 0.0, 0.0
	at, part := 0, 0.0
	if tau > 0 {
		es, ea = ts/tau, ta/tau
		friction = math.Sqrt(tau / d.air.rho)
		at, part = d.air.place(w.logTop + logarithm(friction))
	}
	slowest := dropBins
	out := i * dropBins
	edge := d.edge[i]
	table := d.air.table[at:]
	vs, va := d.vs[out:out+dropBins], d.va[out:out+dropBins]
	for b := top; b >= 0; b-- {
		t := table[b*entriesPerBin : b*entriesPerBin+2]
		u := min(friction*(t[0]+part*(t[1]-t[0])), edge)
		push, weight := w.drag[b]*u*u, w.body[b]
		if push+weight*body <= w.rest {
			break // smaller drops are pushed less still
		}
		fs, fa := push*es+weight*gs, push*ea+weight*ga
		f := math.Sqrt(fs*fs + fa*fa)
		v := 0.0
		if f > w.rest {
			v = min(d.speed*w.mobility.CapillarySI(f), fastest) / f
		}
		vs[b], va[b] = float32(v*fs), float32(v*fa)
		slowest = b
	}
	d.slowest[i] = uint8(slowest)
	return slowest
}

const (
	fastestOverWall = 30 * 30 // (u/friction velocity)2 that the law of the wall does not exceed over a drop
	fastestDrops    = 20.0    // m/s; far above what any jet here drives
)

// fastestDrop is the largest rate [1/s] at which moving drops cross a cell of row r.
func (d *drops) fastestDrop(r int) float64 {
	if d.any[r+pad] == 0 {
		return 0
	}
	g, worst := d.g, 0.0
	merged := float64(g.merge[r])
	for i := g.at(r, 0); i < g.at(r, g.cols); i++ {
		if d.busy[i] == dropBins {
			continue
		}
		m := d.moving[i*dropBins : (i+1)*dropBins]
		top := int(d.peak[i])
		for b := max(d.velocities(i, top), int(d.busy[i])); b <= top; b++ {
			if m[b] > dust {
				vs, va := math.Abs(float64(d.vs[i*dropBins+b])), math.Abs(float64(d.va[i*dropBins+b]))
				worst = max(worst, (vs*max(g.lenS[i], g.lenS[i+g.stride])+va*g.lenA[i]/merged)*g.invArea[i])
			}
		}
	}
	return worst
}

// dust is an amount of one size in motion that waits in its cell until more comes, m3/m2. Upwind transport
// spreads ever thinner amounts ahead of what really moves; all bins full of dust would be 5 mg/m2.
const dust = 3e-10

// note keeps busy of cell i true to what moves there.
func (d *drops) note(i int) bool {
	m := d.moving[i*dropBins : (i+1)*dropBins]
	for b, v := range m {
		if v > dust {
			top := dropBins - 1
			for m[top] <= dust {
				top--
			}
			d.busy[i], d.peak[i] = uint8(b), uint8(top)
			return true
		}
	}
	d.busy[i] = dropBins
	return false
}

// recount rebuilds busy and any from what moves.
func (d *drops) recount() {
	for r := range d.g.rows {
		d.any[r+pad] = 0
		for i := d.g.at(r, 0); i < d.g.at(r, d.g.cols); i++ {
			if d.note(i) {
				d.any[r+pad] = 1
			}
		}
	}
}

// dropCourant is the largest share of a cell that moving drops cross in one step. Upwind transport of
// drops smears least near 1.
const dropCourant = 0.8

// mostLeaving is the largest share of a cell's drops that leaves in one step: short of all by more than the
// rounding of what leaves.
const mostLeaving = 1 - 1e-6

// depart takes from row r the drops that leave their cells within dt. Where the way along the profile is
// shut by a rim they are handed to it.
func (d *drops) depart(r int, dt float64, rims *rims) {
	g := d.g
	if d.any[r+pad] == 0 {
		if d.outAny[r+pad] != 0 {
			for c := range g.cols {
				d.outFrom[g.at(r, c)] = dropBins
			}
			d.outAny[r+pad] = 0
		}
		return
	}
	d.outAny[r+pad] = 0
	still := true
	for c := range g.cols {
		i := g.at(r, c)
		d.outFrom[i] = dropBins
		if d.busy[i] == dropBins {
			continue
		}
		still = false
		top := int(d.peak[i])
		b := max(d.velocities(i, top), int(d.busy[i]))
		if b > top {
			continue
		}
		k := i * dropBins
		m := d.moving[k : k+dropBins]
		scale := dt * g.invArea[i]
		down, up, around := scale*g.lenS[i], scale*g.lenS[i+g.stride], scale*g.lenA[i]
		gone := false
		out, side := d.outS[k:k+dropBins], d.outA[k:k+dropBins]
		clear(out[b:])
		clear(side[b:])
		low, high := dropBins, 0
		for j := int(d.busy[i]); j < b; j++ {
			if m[j] > dust {
				low, high = min(low, j), j
			}
		}
		for ; b <= top; b++ {
			if m[b] <= dust {
				continue
			}
			vs, va := float64(d.vs[k+b]), float64(d.va[k+b])
			fs, fa := vs*up, va*around
			if vs < 0 {
				fs = vs * down
			}
			if sum := math.Abs(fs) + math.Abs(fa); sum > mostLeaving {
				fs, fa = fs/sum*mostLeaving, fa/sum*mostLeaving
			}
			volume := m[b] * g.area[i]
			out[b], side[b] = float32(volume*fs), float32(volume*fa)
			m[b] -= (math.Abs(float64(out[b])) + math.Abs(float64(side[b]))) * g.invArea[i]
			if m[b] > dust {
				low, high = min(low, b), b
			}
			if !gone && (fs != 0 || fa != 0) {
				gone = true
				d.outFrom[i], d.outTo[i] = uint8(b), uint8(top)
			}
		}
		if !gone {
			continue
		}
		d.busy[i], d.peak[i] = uint8(low), uint8(high)
		d.outAny[r+pad] = 1
		if rims != nil {
			rims.catch(r, c, out[d.outFrom[i]:top+1])
		}
	}
	if still {
		d.any[r+pad] = 0
	}
}

// arrive adds to row r the drops that leave the neighbouring cells towards it.
func (d *drops) arrive(r int) {
	g := d.g
	if d.outAny[r+pad]|d.outAny[r+pad-1]|d.outAny[r+pad+1] == 0 {
		return
	}
	for c := range g.cols {
		i := g.at(r, c)
		left, right := g.at(r, mod1(c-1, g.cols)), g.at(r, mod1(c+1, g.cols))
		from := min(d.outFrom[i-g.stride], d.outFrom[i+g.stride], d.outFrom[left], d.outFrom[right])
		if from == dropBins {
			continue
		}
		to := max(d.end(i-g.stride), d.end(i+g.stride), d.end(left), d.end(right))
		below, above := d.from(i-g.stride), d.from(i+g.stride)
		west, east := d.from(left), d.from(right)
		low, high := int(d.busy[i]), int(d.peak[i])
		if low == dropBins {
			high = 0
		}
		m, inv := d.moving[i*dropBins:(i+1)*dropBins], g.invArea[i]
		for b := int(from); b <= to; b++ {
			gain := 0.0
			if b >= below {
				gain += float64(max(0, d.outS[(i-g.stride)*dropBins+b]))
			}
			if b >= above {
				gain -= float64(min(0, d.outS[(i+g.stride)*dropBins+b]))
			}
			// The two neighbours around are added first: a mirrored wall then gives mirrored bits.
			side := 0.0
			if b >= west {
				side += float64(max(0, d.outA[left*dropBins+b]))
			}
			if b >= east {
				side -= float64(min(0, d.outA[right*dropBins+b]))
			}
			m[b] += (gain + side) * inv
			if m[b] > dust {
				low, high = min(low, b), max(high, b)
			}
		}
		d.busy[i], d.peak[i] = uint8(low), uint8(high)
		if low < dropBins {
			d.any[r+pad] = 1
		}
	}
}

// end is the largest bin that leaves cell i, -1 when none does.
func (d *drops) end(i int) int {
	if d.outFrom[i] == dropBins {
		return -1
	}
	return int(d.outTo[i])
}

func (d *drops) from(i int) int { return int(d.outFrom[i]) }

func mod1(c, n int) int {
	switch {
	case c < 0:
		return c + n
	case c >= n:
		return c - n
	}
	return c
}
