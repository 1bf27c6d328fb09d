package accept

import (
	"fmt"
	"math"
	"slices"
	"strings"

	q "leste/quantity"
)

// each is the water of one container of a weighing [kg]: what the whole sheet gained, shared among those wiped with it.
func (r Row) each() float64 { return r.Value / float64(max(r.Containers, 1)) }

// apart is how many times the containers on a sheet of one size must be those of another before their masses can be
// held against each other: fewer differ by chance. Judgement.
const apart = 4

// sheets tells of weighings that are out by about the number of containers on their sheet: what one container carried
// was written down where the sheet's gain belongs, or the number was left at one. The state WholeSheet says that the
// value is meant as it stands. The errors are *RowError.
func (e Expected) sheets(file string, rows []Row) (doubtful map[int]bool, wrong []error) {
	doubtful = map[int]bool{}
	doubt := func(r Row, format string, args ...any) {
		if !doubtful[r.Line] {
			doubtful[r.Line] = true
			wrong = append(wrong, &RowError{file, r.Line, 1, fmt.Sprintf(format, args...) + `; give the mass that the whole sheet gained, or say "whole sheet" in the column state where it is that`, nil})
		}
	}
	weighed := slices.DeleteFunc(slices.Clone(rows), func(r Row) bool { return r.What != Water || !(r.Value > 0) })
	for _, r := range weighed {
		if r.Containers < 2 || r.State == WholeSheet {
			continue
		}
		for _, c := range e.Left {
			if !r.matches(c.Format) || !r.zone(c.Zone) {
				continue
			}
			low, high := c.Band.Low, c.Band.High
			if r.each() < low && !single(weighed, r) && outside(r.Value, low, high) < outside(r.each(), low, high) {
				doubt(r, "a sheet of %d containers that gained %s holds %s a container, where %s to %s are calculated: it looks like the water of one container",
					r.Containers, mass(r.Value), mass(r.each()), mass(low), mass(high))
			}
		}
	}
	for _, r := range weighed {
		if r.State == WholeSheet {
			continue
		}
		mean, n, fewest := 0.0, 0, 0 // of the sheets with far fewer containers
		for _, s := range weighed {
			if r.Containers >= apart*s.Containers && s.zone(r.At) && strings.EqualFold(r.Format, s.Format) {
				mean, n, fewest = mean+s.each(), n+1, max(fewest, s.Containers)
			}
		}
		if n == 0 {
			continue
		}
		mean /= float64(n)
		if times := float64(r.Containers) / float64(fewest); math.Log(mean/r.each()) > math.Log(times)/2 {
			doubt(r, "a sheet of %d containers that gained %s holds %s a container, where sheets of %d hold %s a container: one of them is out by the number of containers",
				r.Containers, mass(r.Value), mass(r.each()), fewest, mass(mean))
		}
	}
	return doubtful, wrong
}

// single reports whether containers that were weighed one by one carried about as much as one of a sheet.
func single(weighed []Row, r Row) bool {
	sum, n := 0.0, 0
	for _, s := range weighed {
		if s.Containers == 1 && s.zone(r.At) && strings.EqualFold(s.Format, r.Format) {
			sum, n = sum+s.Value, n+1
		}
	}
	return n > 0 && math.Abs(math.Log(sum/float64(n)/r.each())) < math.Log(float64(r.Containers))/2
}

// outside is how far a value lies outside of a band, as a logarithm; 0 inside.
func outside(v, low, high float64) float64 {
	return max(math.Log(low/v), math.Log(v/high), 0)
}

func mass(v float64) string { return q.KindMass.FormatDigits(v, q.SI, 3) }

// sheetsRead says what the weighings were read as, the sheets with the fewest containers first.
func sheetsRead(rows []Row) []string {
	type group struct {
		containers, n int
		sum           float64
	}
	var groups []group
	for _, r := range rows {
		k := slices.IndexFunc(groups, func(g group) bool { return g.containers == r.Containers })
		if k < 0 {
			k, groups = len(groups), append(groups, group{containers: r.Containers})
		}
		groups[k].n++
		groups[k].sum += r.Value
	}
	slices.SortFunc(groups, func(a, b group) int { return a.containers - b.containers })
	var out []string
	for _, g := range groups {
		gain := g.sum / float64(g.n)
		each := mass(gain / float64(g.containers))
		switch {
		case g.containers == 1 && g.n == 1:
			out = append(out, fmt.Sprintf("one sheet of one container, %s", each))
		case g.containers == 1:
			out = append(out, fmt.Sprintf("%d sheets of one container each, %s on average", g.n, each))
		case g.n == 1:
			out = append(out, fmt.Sprintf("one sheet of %d containers, %s, %s a container", g.containers, mass(gain), each))
		default:
			out = append(out, fmt.Sprintf("%d sheets of %d containers each, %s on average, %s a container", g.n, g.containers, mass(gain), each))
		}
	}
	return out
}
