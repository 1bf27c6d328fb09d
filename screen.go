package leste

import (
	"context"
	"fmt"
	"math"
	"slices"

	"leste/drying"
	"leste/station"
)

// A screen answers the cases of one format by a method that follows the water on a grid. All cases are followed on a
// coarse grid first, then those that may decide a requirement on the fine one, until none is left that might. The
// others are told as the coarse grid found them, moved by what the fine one changed in the case that decides.
type screen struct {
	a        *assessment
	run      *formatRun
	problems []*drying.Problem // by case
	passes   [][]int           // cases that differ only in what comes after the stations, in the order of the cases
	quick    []drying.Outcome  // by case
	touches  []bool            // by case: containers touch
	coarsers map[bool]*drying.Coarser
	coarse   []drying.Outcome // by case
	fine     []drying.Outcome // by case, where known
	raw      []judged         // by case: judged by the coarse outcome as it is
	known    []bool           // by case: the fine grid has followed it
	told     int              // the case by which the others are moved, once known
}

const (
	// scatter is how much the two grids differ among the cases of a format once the coarse one is moved, as a share:
	// 3 % on the examples. What is told of a requirement may miss the worst case by as much; on two examples, one fifty
	// times over its limit and one at a fifteenth of it, it misses by 10 %.
	scatter = 0.03
	// nearlyWorst is how much larger than the least reserve that of a case may be on the coarse grid, as a share, and
	// the case still be followed on the fine one.
	nearlyWorst = 0.01
	// untold widens the bands of a case that only the coarse grid has followed; judgement, three times that scatter.
	untold = 1.1
	// farFromLimit is the reserve from which it does not matter which case is the worst.
	farFromLimit = 10
)

// newScreen lays out the problems of all cases of a format.
func (a *assessment) newScreen(run *formatRun) (*screen, error) {
	n := len(run.all)
	s := &screen{
		a: a, run: run, coarsers: map[bool]*drying.Coarser{},
		coarse: make([]drying.Outcome, n), raw: make([]judged, n), fine: make([]drying.Outcome, n), known: make([]bool, n),
	}
	first := map[situation]int{}
	for i := range run.all {
		c := run.all[i].situation
		p, err := a.laidOut(run.stages[c.touch], c)
		if err != nil {
			return nil, err
		}
		s.problems = append(s.problems, p)
		s.quick = append(s.quick, run.all[i].outcome)
		s.touches = append(s.touches, c.touch)
		c.name, c.note, c.coarse, c.stop = "", "", "", 0
		if at, again := first[c]; again {
			s.passes[at] = append(s.passes[at], i)
		} else {
			first[c] = len(s.passes)
			s.passes = append(s.passes, []int{i})
		}
		if s.coarsers[c.touch] == nil {
			own, err := a.laidOut(run.stages[c.touch], c)
			if err != nil {
				return nil, err
			}
			if !c.touch && s.chooses() {
				run.stages[c.touch].overhear(own)
			}
			s.coarsers[c.touch] = drying.NewCoarser(own)
		}
	}
	return s, nil
}

// chooses says that there is something to choose from.
func (s *screen) chooses() bool { return len(s.run.all) > 1 && !s.a.options.everyCase }

// laidOut is the problem of a case with air of its own to look at, so that cases may be followed at once.
func (a *assessment) laidOut(st *stage, c situation) (*drying.Problem, error) {
	p := a.problem(st, c)
	for k := range p.Passes {
		if e, ok := p.Passes[k].Air.(*station.Exposer); ok {
			p.Passes[k].Air = e.Clone()
		}
	}
	if c.stand > 0 {
		if err := a.standStill(p); err != nil {
			return nil, err
		}
	}
	return p, nil
}

// answer judges every case of every format anew and finds which one decides; that one the fine grid has followed.
func (a *assessment) answer(ctx context.Context, screens []*screen, report func(part float64, what string)) error {
	var pieces []piece
	for _, s := range screens {
		if !s.chooses() {
			continue
		}
		for _, pass := range s.passes {
			pieces = append(pieces, piece{s, pass})
		}
	}
	count := counter(report, 0.1, 0.3, len(pieces))
	err := a.each(len(pieces), func(i int) error {
		defer count(pieces[i].name())
		return pieces[i].s.followCoarse(ctx, pieces[i].pass)
	})
	for err == nil {
		if pieces = wanted(screens); len(pieces) == 0 {
			break
		}
		if pieces, err = unfollowed(ctx, pieces); err != nil {
			return err
		}
		count := counter(report, 0.3, 0.8, len(pieces))
		workers := max(a.options.Workers, 1)
		odd := len(pieces) % workers // those that would leave cores idle at the end share them
		err = a.each(len(pieces), func(i int) error {
			defer count(pieces[i].name())
			own := 1
			if i >= len(pieces)-odd {
				own = workers / odd
			}
			return pieces[i].s.followFine(ctx, pieces[i].pass, own)
		})
	}
	if err != nil {
		return err
	}
	for _, s := range screens {
		s.conclude()
	}
	return nil
}

// piece is one pass of a format under its stations.
type piece struct {
	s    *screen
	pass []int
}

func (p piece) name() string {
	return p.s.run.plan.Format.Name + ", " + p.s.run.all[p.pass[0]].situation.name
}

// unfollowed are the pieces that have not been followed before; the others are recalled.
func unfollowed(ctx context.Context, pieces []piece) (left []piece, err error) {
	for _, p := range pieces {
		known, err := p.s.recall(ctx, p.pass)
		if err != nil {
			return nil, err
		}
		if !known {
			left = append(left, p)
		}
	}
	return left, nil
}

// conclude says which case decides and how those were answered that only the coarse grid has followed.
func (s *screen) conclude() {
	all := s.run.all
	for i := range all {
		if !s.known[i] {
			all[i].situation.coarse = fmt.Sprintf("followed on cells twice as large, then moved as the case %s was", all[s.told].situation.name)
		}
	}
	s.run.decides = worst(all)
}

// followCoarse follows cases that share a pass on the coarse grid.
func (s *screen) followCoarse(ctx context.Context, pass []int) error {
	found, err := s.coarsers[s.touches[pass[0]]].Together(ctx, pick(s.problems, pass), 1)
	if err != nil {
		return err
	}
	for k, c := range pass {
		s.coarse[c] = found[k]
		s.raw[c], _ = judge(s.problems[c], s.run.all[c].situation, found[k])
	}
	return nil
}

// followFine follows cases that share a pass on the fine grid.
func (s *screen) followFine(ctx context.Context, pass []int, workers int) error {
	o := drying.TransportOptions{Frames: s.a.options.Frames, FrameTimes: s.a.options.Moments, Workers: workers}
	found, err := drying.TransportTogether(ctx, pick(s.problems, pass), o)
	if err != nil {
		return err
	}
	for k, c := range pass {
		s.fine[c], s.known[c] = found[k], true
	}
	if c, may := s.kept(pass); may {
		s.a.options.Followed.keep(c, copied(found[0]))
	}
	return nil
}

func pick(problems []*drying.Problem, cases []int) []*drying.Problem {
	picked := make([]*drying.Problem, len(cases))
	for i, c := range cases {
		picked[i] = problems[c]
	}
	return picked
}

// judge judges every case by what is known of it.
func (s *screen) judge() {
	all := s.run.all
	for i := range all {
		var o drying.Outcome
		switch {
		case s.known[i]:
			o = copied(s.fine[i])
		case s.known[s.told]:
			o = s.coarse[i].MovedBy(&s.fine[s.told], &s.coarse[s.told])
			widen(&o, max(untold, s.spread()))
		default:
			o = copied(s.coarse[i])
		}
		spanMethods(&o, &s.quick[i])
		all[i], _ = judge(s.problems[i], all[i].situation, o)
	}
}

// rivals judges every case and returns the passes of those that only the coarse grid has followed and that may yet
// decide a requirement, or how much water is told for the format; there is one at least before any is known.
func (s *screen) rivals() [][]int {
	all := s.run.all
	if !s.chooses() {
		if s.known[0] {
			s.judge()
			return nil
		}
		return s.passes
	}
	if slices.Contains(s.known, true) {
		s.judge() // which of those that are known decides may depend on what moves the others, and that on it
		s.told = s.worstKnown(all)
	}
	s.judge()
	var rivals []int
	for i := range all {
		if !s.known[i] && s.mayDecide(all, i) {
			rivals = append(rivals, i)
		}
	}
	if w := worst(all); len(rivals) == 0 && !s.known[w] {
		rivals = append(rivals, w)
	}
	var passes [][]int
	for _, pass := range s.passes {
		if slices.ContainsFunc(pass, func(c int) bool { return slices.Contains(rivals, c) }) {
			passes = append(passes, pass)
		}
	}
	return passes
}

// leastReserve is what case i may come down to at a requirement, when the fine grid changes it as it did the case of
// those followed that it brought nearest to its limit.
func (s *screen) leastReserve(all []judged, i, m, r int) float64 {
	least := all[i].machines[m][r].Reserve
	for c := range s.raw {
		if !s.known[c] || s.known[i] {
			continue
		}
		reserve := s.raw[i].machines[m][r].Reserve * all[c].machines[m][r].Reserve / s.raw[c].machines[m][r].Reserve
		if reserve < least { // not where it is unknown
			least = reserve
		}
	}
	return least
}

// mayDecide reports whether case i may be the worst at one of the requirements, or leave most where there is none.
func (s *screen) mayDecide(all []judged, i int) bool {
	some := false
	for m := range all[i].machines {
		for r := range all[i].machines[m] {
			some = true
			least, bad, badKnown := math.Inf(1), 0, -1
			for c := range all {
				j := &all[c].machines[m][r]
				least, bad = min(least, j.Reserve), max(bad, badness(Verdict(j.Verdict)))
				if s.known[c] {
					badKnown = max(badKnown, badness(Verdict(j.Verdict)))
				}
			}
			j := &all[i].machines[m][r]
			switch {
			case bad == 0 && j.Reserve > farFromLimit:
			case s.leastReserve(all, i, m, r) <= least*(1+nearlyWorst), badKnown >= 0 && badness(Verdict(j.Verdict)) > badKnown:
				return true
			}
		}
	}
	if some {
		return false
	}
	most := 0.0
	for c := range all {
		most = max(most, lastTotal(all[c].outcome).Likely)
	}
	return lastTotal(all[i].outcome).Likely >= most/(1+nearlyWorst)
}

// worstKnown is the case that decides among those that the fine grid has followed.
func (s *screen) worstKnown(all []judged) int {
	var known []judged
	var at []int
	for i := range all {
		if s.known[i] {
			known, at = append(known, all[i]), append(at, i)
		}
	}
	return at[worst(known)]
}

// prove has the case that decides explained where the methods differ, lets the method examine its outcome, and judges
// it anew: its bands grow.
func (s *screen) prove(ctx context.Context) error {
	w := s.run.decides
	j := &s.run.all[w]
	p, o := s.problems[w], j.outcome
	closed, err := s.a.laidOut(s.run.closed[s.touches[w]], j.situation)
	if err != nil {
		return err
	}
	if err := drying.Explain(ctx, closed, &o); err != nil {
		return err
	}
	j.outcome.Notes = o.Notes
	if s.a.options.Nominal || s.a.options.Case != "" {
		return nil
	}
	base := &s.coarse[w]
	if base.Method == "" {
		base = nil // not followed
	}
	if err := s.coarsers[s.touches[w]].Prove(ctx, p, &o, base, s.a.options.Workers); err != nil {
		return err
	}
	*j, _ = judge(p, j.situation, o)
	return nil
}

// copied is an outcome whose bands may be widened without those of the original.
func copied(o drying.Outcome) drying.Outcome {
	return o.MovedBy(&o, &o)
}

// widen widens all bands of water by a factor.
func widen(o *drying.Outcome, by float64) {
	at := []*drying.MachineWater{&o.After}
	for i := range o.At {
		at = append(at, &o.At[i])
	}
	for _, w := range at {
		w.Total.Low, w.Total.High = w.Total.Low/by, w.Total.High*by
		for i := range w.Zones {
			z := &w.Zones[i]
			z.Left.Low, z.Left.High = z.Left.Low/by, z.Left.High*by
			z.Largest.Low, z.Largest.High = z.Largest.Low/by, z.Largest.High*by
			for k := range z.Count {
				z.Count[k].Low, z.Count[k].High = z.Count[k].Low/by, z.Count[k].High*by
			}
		}
	}
}
