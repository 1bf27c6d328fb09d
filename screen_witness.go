package leste

import (
	"cmp"
	"math"
	"slices"
)

// wanted are the passes to follow next on the fine grid: of cases that may decide, and of those that bear witness.
//
// One case alone does not tell how much what the fine grid changes differs among the cases of its format. A format of
// which one is known therefore needs a witness, unless that one was changed as the cases of a format with witnesses
// were. The format nearest to a limit has one in any case, at once.
func wanted(screens []*screen) []piece {
	var pieces []piece
	fresh := true
	for _, s := range screens {
		fresh = fresh && !slices.Contains(s.known, true)
		for _, pass := range s.rivals() {
			pieces = append(pieces, piece{s, pass})
		}
	}
	if len(pieces) > 0 && !fresh {
		return pieces
	}
	var alone []piece // passes that would bear witness for their formats
	witnessed := false
	for _, s := range screens {
		taken := slices.Clone(s.known)
		for _, p := range pieces {
			if p.s == s {
				for _, c := range p.pass {
					taken[c] = true
				}
			}
		}
		pass, several := s.nearest(taken)
		if pass != nil {
			alone = append(alone, piece{s, pass})
		}
		witnessed = witnessed || several
	}
	if len(alone) > 0 && !witnessed {
		return append(pieces, slices.MinFunc(alone, func(a, b piece) int { return cmp.Compare(a.s.least(), b.s.least()) }))
	}
	for _, p := range alone {
		if !fresh && !p.s.vouched(screens) {
			pieces = append(pieces, p)
		}
	}
	return pieces
}

// nearest is the pass of the case nearest to deciding among those that are not taken; nil where several passes are
// taken, none is left, or all is far from any limit.
func (s *screen) nearest(taken []bool) (pass []int, several bool) {
	all := s.run.all
	var left []judged
	var at []int
	passes := 0
	for _, pass := range s.passes {
		if taken[pass[0]] {
			passes++
			continue
		}
		for _, c := range pass {
			left, at = append(left, all[c]), append(at, c)
		}
	}
	if passes != 1 || len(left) == 0 {
		return nil, passes > 1
	}
	w := at[worst(left)]
	if all[w].verdict == Met && all[w].reserve > farFromLimit {
		return nil, false
	}
	return s.passes[slices.IndexFunc(s.passes, func(pass []int) bool { return slices.Contains(pass, w) })], false
}

// least is the least reserve of all cases.
func (s *screen) least() float64 {
	least := math.Inf(1)
	for i := range s.run.all {
		if r := s.run.all[i].reserve; r < least {
			least = r
		}
	}
	return least
}

// vouched reports whether what the fine grid changed of the one case that it has followed lies, but for the scatter,
// among what it changed in formats of which it has followed several.
func (s *screen) vouched(screens []*screen) bool {
	var water, reserve span
	for _, o := range screens {
		if w, r, n := o.changed(); o != s && n > 1 {
			water, reserve = water.with(w), reserve.with(r)
		}
	}
	w, r, _ := s.changed()
	return w.within(water, 1+scatter) && r.within(reserve, 1+scatter)
}

// changed is what the fine grid changed of all water and of the least reserve, as factors, over the passes that it
// has followed, and how many these are.
func (s *screen) changed() (water, reserve span, passes int) {
	for _, pass := range s.passes {
		if !s.known[pass[0]] {
			continue
		}
		passes++
		for _, c := range pass {
			water = water.and(lastTotal(s.fine[c]).Likely / lastTotal(s.coarse[c]).Likely)
			reserve = reserve.and(s.run.all[c].reserve / s.raw[c].reserve)
		}
	}
	return water, reserve, passes
}

// span holds factors from the least to the most; the zero value holds none.
type span struct{ least, most float64 }

// and is the span with one more factor; those that are no finite number above 0 are left out.
func (a span) and(x float64) span {
	switch {
	case !(x > 0) || math.IsInf(x, 0):
		return a
	case a.most == 0:
		return span{x, x}
	}
	return span{min(a.least, x), max(a.most, x)}
}

func (a span) with(b span) span { return a.and(b.least).and(b.most) }

// within reports whether a span lies in another, or farther out by no more than a factor.
func (a span) within(b span, by float64) bool {
	return a.most == 0 || b.most > 0 && a.least*by >= b.least && a.most <= b.most*by
}

// spread is how much what the fine grid changes of all water differs among the cases it has followed, as a factor.
func (s *screen) spread() float64 {
	water, _, _ := s.changed()
	if water.most == 0 {
		return 1
	}
	return water.most / water.least
}
