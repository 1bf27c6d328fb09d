package drying

import (
	"math"
	"math/bits"

	"leste/physics/water"
)

// Sizes of the bins in which drops are kept. Neighbouring sizes are closer than the width of any size
// distribution met here, so that the size at which drops begin to move is resolved. Sixteen between other bounds
// move what a can keeps by up to 4 % and single zones by a tenth, those of some milligrams by a half: that is the
// scatter of the method. Eight from 0.25 mm on do no worse, but know nothing of smaller drops; eight from 60 um on leave
// a fifth more on the can and twice as much in single zones.
const (
	dropBins    = 16
	smallestBin = 60e-6 // m
	binRatio    = 1.4   // the largest bin is 9.3 mm: no wall holds larger drops
)

// binSizes are the diameters of the drops in the bins [m].
var binSizes = func() (size [dropBins]float64) {
	for b := range size {
		size[b] = smallestBin * math.Pow(binRatio, float64(b))
	}
	return size
}()

// binSize is the diameter of the drops in bin b.
func binSize(b int) float64 { return binSizes[b] }

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
	rest2        float64           // its square
	byWeight     float64           // cap of the speed, squared, per pull of the weight [m]
	speeds       []float64         // speed over push [m/s] of pushes whose squares lie evenly from rest2 to most2
	perEntry     float64           // entries per unit of that
	most2        float64
	mostSpeed    float64 // m/s, of all greater pushes
	logTop       float64 // ln(height of the smallest drop / nu)
}

// airOverDrops is the air's law of the wall, tabulated so that neighbouring bins lie a whole number of
// entries apart: one logarithm serves all sizes of a cell.
type airOverDrops struct {
	rho, nu float64
	invRho  float64
	table   [entriesPerBin][]knot // square of the speed over the friction velocity; see place
}

// knot is an entry of a table and the rise to the next.
type knot struct{ at, rise float64 }

const (
	entriesPerBin = 4
	lowestYPlus   = 1e-3
	highestYPlus  = 1e5
)

var (
	tableStep = math.Log(binRatio) / entriesPerBin
	perTable  = 1 / tableStep
	lowestLog = math.Log(lowestYPlus)
)

func newAirOverDrops(rho, nu float64) *airOverDrops {
	a := &airOverDrops{rho: rho, nu: nu, invRho: 1 / rho}
	n := int((math.Log(highestYPlus)-math.Log(lowestYPlus))/tableStep) + dropBins*entriesPerBin + 2
	square := func(i int) float64 {
		u := water.LawOfTheWall(lowestYPlus * math.Exp(float64(i)*tableStep))
		return u * u
	}
	for i := range n - n%entriesPerBin {
		a.table[i%entriesPerBin] = append(a.table[i%entriesPerBin], knot{square(i), square(i+1) - square(i)})
	}
	return a
}

// place is where ln(y+) of the smallest drop falls in the table: the entry of each size, the smallest first, and the
// share of the way to the next. Entries of sizes that follow each other lie side by side.
func (a *airOverDrops) place(logYPlus float64) (*[dropBins]knot, float64) {
	x := (logYPlus - lowestLog) * perTable
	if x < 0 {
		x = 0
	}
	i := int(x)
	if most := (len(a.table[0])-dropBins)*entriesPerBin - 1; i > most {
		i, x = most, float64(most)
	}
	return (*[dropBins]knot)(a.table[uint(i)%entriesPerBin][uint(i)/entriesPerBin:]), x - float64(i)
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
	rho   float64 // of the water

	byShear, byPressure float64 // cap of the speed, squared, per shear and per pressure [m2/s2 per Pa]

	stuck, moving []amounts // m3 per m2, per cell
	v             []speeds  // per cell; valid where known
	seen          []known
	step          int32 // present air step

	held []bins  // sizes at rest: no other holds anything
	busy []bins  // sizes of which more than dust is in motion
	cols rowBits // per row: cells that are busy

	seams []seam // per tier

	tauS, tauA, p, edge []float64 // the air: shear [Pa], pressure [Pa], speed outside the wall layer [m/s]
}

// amounts is water of each size.
type amounts [dropBins]float64

// speeds are how fast drops of each size run along the profile and around [m/s], whichever way.
type speeds [dropBins]struct{ s, a float32 }

// known says what is known of the drops' velocities in a cell.
type known struct {
	step        int32 // the air step for which they were worked out
	upTo        uint8 // and up to which bin
	slowest     uint8 // smallest bin that moves; dropBins when none up to that bin does
	pace        uint8 // steps that the cell takes of those between two looks at the air; 0 before somebody has asked
	ups, rights bins  // sizes that run towards the next row and towards the next column, not the last
}

// bins is a set of bins, one bit each.
type bins uint16

// from is the set of the bins from b on.
func from(b int) bins { return ^bins(0) << b }

// top is the largest bin of a set, -1 when it is empty.
func (s bins) top() int { return bits.Len16(uint16(s)) - 1 }

// rowBits has one bit per column of every row, ghost rows included.
type rowBits struct {
	words int // per row
	bits  []uint64
}

func newRowBits(g *wallGrid) rowBits {
	words := (g.cols + 63) / 64
	return rowBits{words: words, bits: make([]uint64, (g.rows+2*pad)*words)}
}

// row is the words of row r.
func (b *rowBits) row(r int) []uint64 { return b.bits[(r+pad)*b.words : (r+pad+1)*b.words] }

// set sets or clears the bit of column c of row r.
func (b *rowBits) set(r, c int, to bool) {
	w := &b.bits[(r+pad)*b.words+c/64]
	if to {
		*w |= 1 << (c % 64)
	} else {
		*w &^= 1 << (c % 64)
	}
}

// any reports whether some column of row r is set.
func (b *rowBits) any(r int) bool {
	for _, w := range b.row(r) {
		if w != 0 {
			return true
		}
	}
	return false
}

// count is the number of columns of row r that are set.
func (b *rowBits) count(r int) int {
	n := 0
	for _, w := range b.row(r) {
		n += bits.OnesCount64(w)
	}
	return n
}

func newDrops(g *wallGrid, ws []dropWall, wall []uint8, air *airOverDrops, rho float64) *drops {
	d := &drops{
		g: g, walls: ws, wall: wall, air: air, rho: rho,
		byShear: 1 / (frictionOfThickFilm * rho), byPressure: 2 / rho,
	}
	d.stuck, d.moving = make([]amounts, g.size), make([]amounts, g.size)
	d.v, d.seen = make([]speeds, g.size), make([]known, g.size)
	d.held, d.busy, d.cols = make([]bins, g.size), make([]bins, g.size), newRowBits(g)
	d.seams = newSeams(g)
	for _, a := range []*[]float64{&d.tauS, &d.tauA, &d.p, &d.edge} {
		*a = make([]float64, g.size)
	}
	return d
}

// settle lays volume [m3/m2] at rest on cell i, as drops of one size.
func (d *drops) settle(i int, volume, size float64) {
	b := put(&d.stuck[i], volume, size)
	d.held[i] |= 3 << b
}

// note keeps the sets of cell (r, c) true to what lies and moves there.
func (d *drops) note(r, c int) {
	i := d.g.at(r, c)
	held, busy := bins(0), bins(0)
	for b := range dropBins {
		if d.stuck[i][b] != 0 {
			held |= 1 << b
		}
		if d.moving[i][b] > dust {
			busy |= 1 << b
		}
	}
	d.held[i] = held
	d.stir(r, c, busy)
}

// stir sets which sizes are in motion in cell (r, c).
func (d *drops) stir(r, c int, busy bins) {
	if i := d.g.at(r, c); d.busy[i] != busy {
		if d.busy[i] == 0 {
			d.seen[i].pace = 0
		}
		d.busy[i] = busy
		d.cols.set(r, c, busy != 0)
	}
}

// recount rebuilds all sets from what lies and moves.
func (d *drops) recount() {
	for r := range d.g.rows {
		for c := range d.g.cols {
			d.note(r, c)
		}
	}
}

// dust is an amount of one size in motion that waits in its cell until more comes, m3/m2. Upwind transport
// spreads ever thinner amounts ahead of what really moves. All bins full of dust would be 16 mg/m2; of what knives
// leave on a can, some hundred, a third of it changes less than 1 %.
const dust = 1e-9

func newDropWall(w *wall, l water.Liquid, drag float64, air *airOverDrops) dropWall {
	d := dropWall{
		rest: float64(w.Hysteresis()), height: w.height,
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
	d.rest2 = d.rest * d.rest
	d.tabulate(water.NewMobility(w.Wetting), float64(l.Tension)/float64(l.Viscosity))
	d.byWeight = d.height * d.size[dropBins-1] / frictionOfThickFilm
	return d
}

// speedEntries is the length of the table of speeds; a test holds it against the relation.
const speedEntries = 2048

// tabulate lays out the speed of a drop over its push by the square of the push: the kernel then needs neither
// root nor quotient for a speed and its components. scale is the speed at a capillary number of 1 [m/s].
func (d *dropWall) tabulate(m *water.Mobility, scale float64) {
	const beyond = 1e6 // no drop is pushed so hard
	most, low, high := m.CapillarySI(beyond), d.rest, d.rest+beyond
	for range 80 {
		if mid := (low + high) / 2; m.CapillarySI(mid) < most {
			low = mid
		} else {
			high = mid
		}
	}
	d.most2, d.mostSpeed = high*high, scale*most
	d.perEntry = speedEntries / (d.most2 - d.rest2)
	d.speeds = make([]float64, speedEntries+1)
	for i := 1; i < len(d.speeds); i++ {
		push := math.Sqrt(d.rest2 + float64(i)/d.perEntry)
		d.speeds[i] = scale * m.CapillarySI(push) / push
	}
}

// over is the speed [m/s] of a drop over its push, by the square of the push, which is more than rest2.
func (d *dropWall) over(push2 float64) float64 {
	if push2 >= d.most2 {
		return d.mostSpeed / math.Sqrt(push2)
	}
	x := (push2 - d.rest2) * d.perEntry
	i := int(x)
	return d.speeds[i] + (x-float64(i))*(d.speeds[i+1]-d.speeds[i])
}

// velocities makes sure that it is known how fast each size up to bin top moves in cell i under the present air and
// returns the smallest bin that moves, dropBins when none does.
func (d *drops) velocities(i, top int) int {
	if v := &d.seen[i]; v.step == d.step && int(v.upTo) >= top {
		return int(v.slowest)
	}
	return d.work(i, top)
}

// work works velocities out. Drag acts along the shear; weight and the pressure's fall along the wall add as vectors.
// The speed follows from the moving contact line; it is capped as the film's.
func (d *drops) work(i, top int) int {
	least, slowest := 0, dropBins
	ups, rights := bins(0), bins(0)
	seen := &d.seen[i]
	if seen.step == d.step {
		least, slowest = int(seen.upTo)+1, int(seen.slowest)
		ups, rights = seen.ups, seen.rights
	}
	*seen = known{step: d.step, upTo: uint8(top), slowest: dropBins, pace: seen.pace, ups: ups, rights: rights}
	g, w := d.g, &d.walls[d.wall[i]]
	ts, ta := d.tauS[i], d.tauA[i]
	gs, ga := d.rho*g.cellGS[i], d.rho*g.cellGA[i]
	gs -= 0.5 * ((d.p[i]-d.p[i-g.stride])*g.invS[i] + (d.p[i+g.stride]-d.p[i])*g.invS[i+g.stride])
	ga -= 0.5 * ((d.p[i]-d.p[i-1])*g.invA[i] + (d.p[i+1]-d.p[i])*g.invA[i+1])
	tau, body2 := math.Sqrt(ts*ts+ta*ta), gs*gs+ga*ga
	body := math.Sqrt(body2)
	edge2 := d.edge[i] * d.edge[i]
	friction2 := tau * d.air.invRho
	most2 := fastestOverWall * friction2
	if most2 > edge2 {
		most2 = edge2
	}
	if w.drag[top]*most2+w.body[top]*body <= w.rest {
		return dropBins
	}
	fastest2 := tau*d.byShear + w.byWeight*g.pull[i]
	if p := d.p[i]; p > 0 {
		fastest2 += p * d.byPressure
	}
	if fastest2 > fastestDrops*fastestDrops {
		fastest2 = fastestDrops * fastestDrops
	}
	es, ea := 0.0, 0.0
	table, part := (*[dropBins]knot)(d.air.table[0]), 0.0
	if tau > 0 {
		inv := 1 / tau
		es, ea = ts*inv, ta*inv
		table, part = d.air.place(w.logTop + 0.5*logarithm(friction2))
	}
	along := 2 * (es*gs + ea*ga)
	all := &d.v[i]
	b := top
	for ; b >= least; b-- {
		size := b % dropBins
		u2 := friction2 * (table[size].at + part*table[size].rise)
		if u2 > edge2 {
			u2 = edge2
		}
		push, weight := w.drag[size]*u2, w.body[size]
		if push+weight*body <= w.rest {
			break // smaller drops are pushed less still
		}
		f2 := push*push + weight*(push*along+weight*body2)
		if f2 <= w.rest2 {
			all[size].s, all[size].a = 0, 0
			continue
		}
		v := w.over(f2)
		if v*v*f2 > fastest2 {
			v = math.Sqrt(fastest2 / f2)
		}
		s, a := float32(v*(push*es+weight*gs)), float32(v*(push*ea+weight*ga))
		if s >= 0 {
			ups |= 1 << size
		} else {
			s = -s
		}
		if a >= 0 {
			rights |= 1 << size
		} else {
			a = -a
		}
		all[size].s, all[size].a = s, a
	}
	// Down to the least of this time all move: then those known before are the smaller ones.
	if b >= least || slowest == dropBins {
		if slowest = b + 1; slowest > top {
			slowest = dropBins
		}
	}
	seen.slowest, seen.ups, seen.rights = uint8(slowest), ups, rights
	return slowest
}

const (
	fastestOverWall = 30 * 30 // (u/friction velocity)2 that the law of the wall does not exceed over a drop
	fastestDrops    = 20.0    // m/s; far above what any jet here drives
)
