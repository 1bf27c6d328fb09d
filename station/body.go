package station

import (
	"fmt"
	"math"
	"slices"

	"leste/job"
	q "leste/quantity"
)

// A corner of the outline that turns by more than sharp is a rim; rows never straddle it. Below it a row
// may bend.
const (
	sharp    = 20 * math.Pi / 180
	maxCells = 400_000
)

// NewBody builds the surface and the mass of a format that rides on the line. The container must be
// expanded (catalogue.Expand) and its values filled. Cell is the wanted cell size [m], 0.2 to 20 mm; attitude
// is one of the line's ("upright", "inverted", "side-gripped").
//
// Rows are of equal length within a zone and end at sharp rims and at the edges of pools that face up, which have five
// rows at least; the narrow face that a crevice opens in is a row of its own. Columns are of equal length around, a
// multiple of 4 in number and mirrored in both vertical planes.
// Of a round body the areas are exact.
func NewBody(f job.Format, cell float64, attitude string) (*Body, error) {
	if !(cell >= 0.2e-3 && cell <= 20e-3) {
		return nil, fmt.Errorf("a cell size of %.4g mm is not possible; 0.2 to 20 mm is", cell*1e3)
	}
	c := f.Container
	o, err := newOutline(c.Profile)
	if err != nil {
		return nil, err
	}
	o.raise(-o.low)
	base := standing(o)
	switch attitude {
	case "", "upright", "side-gripped":
	case "inverted":
		o = o.flipped()
		base = standing(o)
	default:
		return nil, fmt.Errorf("the attitude %q is not known; upright, inverted and side-gripped are", attitude)
	}
	g, err := newSection(c.Section, o.radius)
	if err != nil {
		return nil, err
	}
	sh := newShape(o, g)
	b := &Body{
		Format: f.Name, shape: sh,
		Width: 2 * sh.halfX, Depth: 2 * sh.halfY, Height: o.high,
		BaseRadius: base * math.Min(g.kx, g.ky),
		Open:       f.Content == "open" || f.Content == "empty",
		Product:    f.Product.V,
	}
	basins := o.basins(c.Pools, attitude == "inverted")
	mouths := o.mouths(c.Crevices, attitude == "inverted")
	if b.Surface, err = newSurface(o, g, cell, basins, mouths); err != nil {
		return nil, err
	}
	if b.thrust, err = newSurface(o, g, thrustCell, nil, nil); err != nil {
		return nil, err
	}
	water := ""
	if f.Arrives != nil {
		water = f.Arrives.Quality
	}
	if err := b.fit(c, attitude == "inverted", water, basins, mouths); err != nil {
		return nil, err
	}
	b.weigh(f, o, g)
	return b, nil
}

// standing is the radius of the circle on which an outline stands.
func standing(o *outline) float64 {
	r := 0.0
	for i := range o.pieces {
		p := &o.pieces[i]
		for k := 0; k <= 64; k++ {
			pr, pz, _, _ := p.at(p.length * float64(k) / 64)
			if pz < o.low+0.05e-3 {
				r = math.Max(r, pr)
			}
		}
	}
	return r
}

// baseAcross is the extent across travel of what the body stands on [m].
func (b *Body) baseAcross() float64 {
	g := b.shape.section
	return 2 * b.BaseRadius * g.ky / math.Min(g.kx, g.ky)
}

// ringRows is the number of rows from the base's centre to the ring the body stands on.
func (b *Body) ringRows() int {
	s := b.Surface
	low, at := math.Inf(1), 0
	for row := range s.Rows {
		if z := s.Pos[row*s.Cols].Z; z < low+0.2e-3 {
			low, at = math.Min(low, z), row+1
		}
	}
	return at
}

// A stretch of the outline is laid out in rows of equal length.
type stretch struct {
	from, to float64
	zone     uint8
	rim      float64 // turn at its start when that is sharp, else 0
	basin    bool    // it lies in a pool
}

// rows is the number of rows that a stretch is laid out in.
func (s *stretch) rows(cell float64) int {
	least := 1
	if s.basin {
		least = basinRows
	}
	return max(least, int(math.Round((s.to-s.from)/cell)))
}

// basinRows is the number of rows that a pool has at least. What the air presses out depends on how its floor and its two
// walls lie between rows: on two rows of 4 mm cells a countersink kept three times what it does on rows of 1.5 mm, which
// five of them are on a can.
const basinRows = 5

// A sliver is a part of a cell's length that is no row of its own, unless a crevice opens in it and it is not narrower
// than narrowest [m]. The underside of a can's seam is 0.9 mm wide: on rows that held the seam's side as well, the air
// blew out what it cannot reach.
const (
	sliver    = 0.35
	narrowest = 0.4e-3
)

// opens says whether one of the mouths lies in a stretch that is wide enough for a row.
func (s *stretch) opens(mouths []float64) bool {
	return s.to-s.from >= narrowest && slices.ContainsFunc(mouths, func(at float64) bool { return at > s.from && at < s.to })
}

// mouths are where on the outline crevices open [m of arc length].
func (o *outline) mouths(crevices []job.Crevice, flip bool) []float64 {
	all := make([]float64, len(crevices))
	for i, c := range crevices {
		r, z := float64(c.Radius), float64(c.Height)
		if flip {
			z = o.high - z
		}
		best := math.Inf(1)
		for k := range o.pieces {
			p := &o.pieces[k]
			const look = 20e-6 // m between two points looked at
			n := 1 + int(p.length/look)
			for j := range n {
				at := p.length * (float64(j) + 0.5) / float64(n) // not a corner, which belongs to two pieces
				pr, pz, _, _ := p.at(at)
				if d := math.Hypot(pr-r, pz-z); d < best {
					best, all[i] = d, p.start+at
				}
			}
		}
	}
	return all
}

func (o *outline) stretches(cell float64, mouths []float64) []stretch {
	var out []stretch
	for i := range o.pieces {
		p := &o.pieces[i]
		var rim float64
		if i > 0 {
			a := &o.pieces[i-1]
			_, _, ar, az := a.at(a.length)
			_, _, br, bz := p.at(0)
			if t := math.Atan2(ar*bz-az*br, ar*br+az*bz); math.Abs(t) > sharp {
				rim = t
			}
		}
		if n := len(out); n > 0 && rim == 0 && out[n-1].zone == p.zone {
			out[n-1].to = p.start + p.length
			continue
		}
		out = append(out, stretch{from: p.start, to: p.start + p.length, zone: p.zone, rim: rim})
	}
	// Slivers join a neighbour of the same zone: their rims are too fine for the grid.
	for i := 0; i < len(out); i++ {
		if out[i].to-out[i].from > sliver*cell || len(out) == 1 || out[i].opens(mouths) {
			continue
		}
		switch {
		case i+1 < len(out) && out[i+1].zone == out[i].zone && !out[i+1].opens(mouths):
			out[i+1].from = out[i].from
			if math.Abs(out[i].rim) > math.Abs(out[i+1].rim) {
				out[i+1].rim = out[i].rim
			}
		case i > 0 && out[i-1].zone == out[i].zone && !out[i-1].opens(mouths):
			out[i-1].to = out[i].to
		default:
			continue
		}
		out = append(out[:i], out[i+1:]...)
		i--
	}
	out[0].rim = 0 // a rim so close to the base's centre is not one
	return out
}

// basin is where the profile lies in a pool [m of arc length], nothing where it does not.
type basin struct{ from, to float64 }

// basins finds the pools on the profile, by the order of the pools; those that face down hold nothing and have none.
func (o *outline) basins(pools []job.Pool, flip bool) []basin {
	const (
		look          = 20e-6        // m between two points looked at
		aside, upward = 0.5e-3, 1e-3 // m, that walls which are not upright and fillets lie beside the pool's ring
	)
	all := make([]basin, len(pools))
	for i, p := range pools {
		if up := (p.Faces == "" || p.Faces == "up") != flip; !up {
			continue
		}
		low := float64(p.Height)
		if flip {
			low = o.high - low
		}
		b := basin{math.Inf(1), math.Inf(-1)}
		for k := range o.pieces {
			piece := &o.pieces[k]
			if o.zones[piece.zone] != p.Zone {
				continue
			}
			n := 1 + int(piece.length/look)
			for j := range n + 1 {
				at := piece.length * float64(j) / float64(n)
				r, z, _, _ := piece.at(at)
				if r >= float64(p.Inner)-aside && r <= float64(p.Outer)+aside && z >= low-upward && z <= low+float64(p.Depth)+upward {
					b.from, b.to = min(b.from, piece.start+at), max(b.to, piece.start+at)
				}
			}
		}
		if b.to > b.from {
			all[i] = b
		}
	}
	return all
}

// split ends stretches at the edges of the basins.
func split(parts []stretch, basins []basin, cell float64) []stretch {
	for _, b := range basins {
		for i := 0; i < len(parts) && b.to > b.from; i++ {
			p := &parts[i]
			if (b.from+b.to)/2 < p.from || (b.from+b.to)/2 > p.to {
				continue
			}
			from, to := max(b.from, p.from), min(b.to, p.to)
			if from-p.from < sliver*cell {
				from = p.from
			}
			if p.to-to < sliver*cell {
				to = p.to
			}
			var cut []stretch
			if from > p.from {
				cut = append(cut, stretch{from: p.from, to: from, zone: p.zone, rim: p.rim})
			}
			in := stretch{from: from, to: to, zone: p.zone, basin: true}
			if from == p.from {
				in.rim = p.rim
			}
			cut = append(cut, in)
			if to < p.to {
				cut = append(cut, stretch{from: to, to: p.to, zone: p.zone})
			}
			parts = slices.Replace(parts, i, i+1, cut...)
			break
		}
	}
	return parts
}

func newSurface(o *outline, g section, cell float64, basins []basin, mouths []float64) (*Surface, error) {
	parts := split(o.stretches(cell, mouths), basins, cell)
	quarter := g.quarter()
	cols := 4 * max(2, int(math.Round(quarter.length*o.radius/cell)))
	rows := 0
	for i := range parts {
		rows += parts[i].rows(cell)
	}
	if rows*cols > maxCells {
		return nil, fmt.Errorf("cells of %.3g mm would be %d; at most %d are allowed, so take larger cells", cell*1e3, rows*cols, maxCells)
	}
	n := rows * cols
	s := &Surface{
		Rows: rows, Cols: cols,
		Pos: make([]Vec, n), Normal: make([]Vec, n), Along: make([]Vec, n), Around: make([]Vec, n),
		Area: make([]float64, n), Zone: make([]uint8, n), Zones: append([]string(nil), o.zones...),
		S: make([]float64, rows), StepS: make([]float64, rows), StepA: make([]float64, n),
		FaceS: make([]float64, (rows+1)*cols), FaceA: make([]float64, rows),
	}
	k := g.ring(cols)
	row := 0
	for i, p := range parts {
		m := p.rows(cell)
		if p.rim != 0 {
			s.Edge = append(s.Edge, Edge{Row: row, Angle: p.rim, Name: rimName(o.zones, parts, i)})
		}
		h := (p.to - p.from) / float64(m)
		for j := range m {
			s.row(o, g, &k, row, p.from+float64(j)*h, p.from+float64(j+1)*h, p.zone)
			row++
		}
	}
	return s, nil
}

// row fills one row of the surface between two arc lengths of the outline.
func (s *Surface) row(o *outline, g section, k *ring, row int, from, to float64, zone uint8) {
	mid := (from + to) / 2
	r, z, tr, tz := o.at(mid)
	s.S[row], s.StepS[row], s.FaceA[row] = mid, to-from, to-from
	whole, _ := o.between(from, to) // integral of r ds
	turned := 2 * math.Pi * whole / float64(s.Cols)
	rEdge, _, _, _ := o.at(from)
	for c := range s.Cols {
		i := row*s.Cols + c
		x, y, tx, ty := k.x[c], k.y[c], k.tx[c], k.ty[c]
		s.Pos[i] = Vec{r * x, r * y, z}
		s.Around[i] = Vec{tx, ty, 0}
		// The wall's two directions are (tr x, tr y, tz) and (tx, ty, 0).
		n := Vec{tx, ty, 0}.cross(Vec{tr * x, tr * y, tz}).unit()
		s.Normal[i] = n
		s.Along[i] = n.cross(s.Around[i])
		s.Zone[i] = zone
		s.StepA[i] = r * k.step
		s.FaceS[i] = rEdge * k.step
		if g.shape == round {
			s.Area[i] = turned
			continue
		}
		// Element r |(tx, ty, 0) x (tr x, tr y, tz)| k.step ds, by Gauss over the row and the column's middle.
		const g3 = 0.7745966692414834
		sum := 0.0
		for _, q := range [3]struct{ at, weight float64 }{{-g3, 5. / 18}, {0, 8. / 18}, {g3, 5. / 18}} {
			gr, _, gtr, gtz := o.at(mid + q.at*(to-from)/2)
			sum += q.weight * gr * math.Hypot(gtz, gtr*(x*ty-y*tx))
		}
		s.Area[i] = sum * (to - from) * k.step
	}
}

func rimName(zones []string, parts []stretch, i int) string {
	below, above := zones[parts[i-1].zone], zones[parts[i].zone]
	for _, z := range [2]string{below, above} {
		if z == job.ZoneSeam || z == job.ZoneNeckRing || z == job.ZoneTamperBand || z == job.ZoneClosure {
			return z
		}
	}
	if below == job.ZoneBase || below == job.ZoneDome {
		return job.ZoneHeel
	}
	return "rim"
}

// fit places crevices, pools and materials on the surface.
func (b *Body) fit(c job.Container, flip bool, water string, basins []basin, mouths []float64) error {
	s := b.Surface
	zone := func(name string) (uint8, error) {
		for i, z := range s.Zones {
			if z == name {
				return uint8(i), nil //nolint:gosec // at most 255 zones
			}
		}
		return 0, fmt.Errorf("the zone %q is not on this container; its zones are %s", name, list(s.Zones))
	}
	height := func(z float64) float64 {
		if flip {
			return b.Height - z
		}
		return z
	}
	walls := newWalls(c, s.Zones, water)
	b.Material = walls.zone
	for k, j := range c.Crevices {
		z, err := zone(j.Zone)
		if err != nil {
			return fmt.Errorf("crevice %q: %w", j.Name, err)
		}
		gap, depth, r := float64(j.Gap.V), float64(j.Depth.V), float64(j.Radius)
		if !(gap > 0 && gap < 10e-3) || !(depth > 0 && depth < 0.1) || !(r > 0 && r < 2) {
			return fmt.Errorf("crevice %q: gap %.4g mm, depth %.4g mm and radius %.4g mm must be above 0, the gap below 10 mm and the depth below 100 mm", j.Name, gap*1e3, depth*1e3, r*1e3)
		}
		down := j.Faces == "" || j.Faces == "down"
		if flip {
			down = j.Faces == "up"
		}
		outer := walls.named(j.Material, walls.zone[z])
		b.Crevices = append(b.Crevices, Crevice{
			Name: j.Name, Zone: z, Row: s.rowOf(mouths[k]), Gap: gap, Depth: depth, Radius: r,
			Exit: orElse(j.Exit, "around"), Vents: j.Vents, Outer: outer, Inner: walls.named(j.Inner, outer),
			FacesDown: down, Volume: q.Volume(2 * math.Pi * r * gap * depth),
		})
	}
	for k, j := range c.Pools {
		z, err := zone(j.Zone)
		if err != nil {
			return fmt.Errorf("pool %q: %w", j.Name, err)
		}
		in, out, depth := float64(j.Inner), float64(j.Outer), float64(j.Depth)
		if !(in >= 0 && out > in && out < 2) || !(depth > 0 && depth < 0.2) {
			return fmt.Errorf("pool %q: the outer radius must be above the inner one and the depth above 0, not %.4g, %.4g and %.4g mm", j.Name, out*1e3, in*1e3, depth*1e3)
		}
		up := (j.Faces == "" || j.Faces == "up") != flip
		floor := height(float64(j.Height))
		first, last := s.Rows, 0
		for row := range s.Rows {
			p := s.Pos[row*s.Cols]
			r := math.Hypot(p.X, p.Y)
			lo, hi := floor, floor+depth
			if (j.Faces == "down") != flip {
				lo, hi = floor-depth, floor
			}
			if r >= in-0.5e-3 && r <= out+0.5e-3 && p.Z >= lo-1e-3 && p.Z <= hi+1e-3 && s.Zone[row*s.Cols] == z {
				first, last = min(first, row), max(last, row+1)
			}
		}
		if bound := basins[k]; bound.to > bound.from {
			first, last = s.rowsOf(bound)
		}
		if first >= last {
			first = s.rowAt((in+out)/2, floor, z)
			last = first + 1
		}
		share := 1.0
		if in == 0 { // a dish: a spherical cap
			share = 0.5
		}
		b.Pools = append(b.Pools, Pool{
			Name: j.Name, Zone: z, Rows: [2]int{first, last}, Inner: in, Outer: out, Depth: depth, FacesUp: up,
			Volume: q.Volume(share * math.Pi * (out*out - in*in) * depth),
		})
	}
	b.Materials = walls.list
	return nil
}

// rowsOf are the rows whose middle lies in a basin.
func (s *Surface) rowsOf(b basin) (first, last int) {
	first, last = s.Rows, 0
	for row, at := range s.S {
		if at >= b.from && at <= b.to {
			first, last = min(first, row), max(last, row+1)
		}
	}
	return first, last
}

// rowOf is the row that an arc length lies in.
func (s *Surface) rowOf(at float64) int {
	row := 0
	for row+1 < s.Rows && at > s.S[row]+s.StepS[row]/2 {
		row++
	}
	return row
}

// rowAt is the row of a zone whose middle is nearest to a point of the profile.
func (s *Surface) rowAt(r, z float64, zone uint8) int {
	best, at := math.Inf(1), 0
	for row := range s.Rows {
		if s.Zone[row*s.Cols] != zone {
			continue
		}
		p := s.Pos[row*s.Cols]
		if d := math.Hypot(math.Hypot(p.X, p.Y)-r, p.Z-z); d < best {
			best, at = d, row
		}
	}
	return at
}

func orElse(s, other string) string {
	if s == "" {
		return other
	}
	return s
}

func list(names []string) string {
	out := ""
	for i, n := range names {
		switch {
		case i == 0:
		case i == len(names)-1:
			out += " and "
		default:
			out += ", "
		}
		out += n
	}
	return out
}
