package leste

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sync"

	"leste/drying"
	"leste/station"
)

// A screen answers the cases of one format by a method that follows the water on a grid. All cases are followed on a
// coarse grid first, then those that may decide a requirement on the fine one, until none is left that might. The
// others are told as the coarse grid found them, moved by what the fine one changed in the case that decides.
type screen struct {
	a        *assessment
	format   *station.FormatPlan
	problems []*drying.Problem // by case
	passes   [][]int           // cases that differ only in what comes after the stations, in the order of the cases
	quick    []drying.Outcome  // by case
	touches  []bool            // by case: containers touch
	coarsers map[bool]*drying.Coarser
	coarse   []drying.Outcome // by case
	fine     []drying.Outcome // by case, where known
	known    []bool
	progress func(part float64, what string)
}

const (
	// nearlyWorst is how much larger than the least reserve that of a case may be on the coarse grid, as a share,
	// and the case still be followed on the fine one. Among the cases of a format the two grids scatter by about 3 %.
	nearlyWorst = 0.03
	// untold widens the bands of a case that only the coarse grid has followed; judgement, three times that scatter.
	untold = 1.1
	// farFromLimit is the reserve from which it does not matter which case is the worst.
	farFromLimit = 10
)

// newScreen lays out the problems of all cases.
func (a *assessment) newScreen(f *station.FormatPlan, stages map[bool]*stage, all []judged, steps *progress) (*screen, error) {
	s := &screen{
		a: a, format: f, coarsers: map[bool]*drying.Coarser{},
		coarse: make([]drying.Outcome, len(all)), fine: make([]drying.Outcome, len(all)), known: make([]bool, len(all)),
	}
	s.progress = func(part float64, what string) { steps.within(part, f.Format.Name+", "+what) }
	first := map[situation]int{}
	for i := range all {
		c := all[i].situation
		p, err := a.laidOut(stages[c.touch], c)
		if err != nil {
			return nil, err
		}
		s.problems = append(s.problems, p)
		s.quick = append(s.quick, all[i].outcome)
		s.touches = append(s.touches, c.touch)
		c.name, c.note, c.stop = "", "", 0
		if at, again := first[c]; again {
			s.passes[at] = append(s.passes[at], i)
		} else {
			first[c] = len(s.passes)
			s.passes = append(s.passes, []int{i})
		}
		if s.coarsers[c.touch] == nil && len(all) > 1 {
			own, err := a.laidOut(stages[c.touch], c)
			if err != nil {
				return nil, err
			}
			s.coarsers[c.touch] = drying.NewCoarser(own)
		}
	}
	return s, nil
}

// laidOut is the problem of a case with air of its own to look at, so that cases may be followed at once.
func (a *assessment) laidOut(st *stage, c situation) (*drying.Problem, error) {
	p := a.problem(st, c)
	if c.stand > 0 {
		if err := a.standStill(p); err != nil {
			return nil, err
		}
	}
	for k := range p.Passes {
		if e, ok := p.Passes[k].Air.(*station.Exposer); ok {
			p.Passes[k].Air = e.Clone()
		}
	}
	return p, nil
}

// answer judges every case anew and returns which one decides; that one the fine grid has followed.
func (s *screen) answer(ctx context.Context, all []judged) (int, error) {
	if len(all) > 1 && !s.a.options.everyCase {
		if err := s.followCoarse(ctx, all); err != nil {
			return 0, err
		}
	}
	told := 0
	for {
		if s.coarse[0].Method != "" {
			s.judge(all, told)
		}
		rivals := s.rivals(all)
		if len(rivals) == 0 {
			break
		}
		if err := s.followFine(ctx, all, rivals); err != nil {
			return 0, err
		}
		s.judge(all, told)
		told = s.worstKnown(all)
	}
	for i := range all {
		if !s.known[i] {
			all[i].situation.note = joined(all[i].situation.note,
				fmt.Sprintf("followed on cells twice as large, then moved as the case %s was", all[told].situation.name))
		}
	}
	return worst(all), nil
}

// joined puts two notes in one.
func joined(a, b string) string {
	if a == "" {
		return b
	}
	return a + "; " + b
}

// followCoarse follows every case on the coarse grid, those that share their passes together.
func (s *screen) followCoarse(ctx context.Context, all []judged) error {
	count := s.counter(0, 0.3, len(s.passes))
	return s.a.each(len(s.passes), func(i int) error {
		cases := s.passes[i]
		found, err := s.coarsers[s.touches[cases[0]]].Together(ctx, pick(s.problems, cases), 1)
		if err != nil {
			return err
		}
		for k, c := range cases {
			s.coarse[c] = found[k]
		}
		count(all[cases[0]].situation.name)
		return nil
	})
}

// followFine follows cases on the fine grid, together with those that share their passes.
func (s *screen) followFine(ctx context.Context, all []judged, cases []int) error {
	var passes [][]int
	for _, pass := range s.passes {
		if slices.ContainsFunc(pass, func(c int) bool { return slices.Contains(cases, c) }) {
			passes = append(passes, pass)
		}
	}
	count := s.counter(0.3, 0.8, len(passes))
	return s.a.each(len(passes), func(i int) error {
		found, err := drying.TransportTogether(ctx, pick(s.problems, passes[i]), drying.TransportOptions{
			Frames: s.a.options.Frames, FrameTimes: s.a.options.Moments, Workers: max(1, s.a.options.Workers/len(passes)),
		})
		if err != nil {
			return err
		}
		for k, c := range passes[i] {
			s.fine[c], s.known[c] = found[k], true
		}
		count(all[passes[i][0]].situation.name)
		return nil
	})
}

// counter reports what is done of n pieces as a part between two.
func (s *screen) counter(from, to float64, n int) func(what string) {
	var lock sync.Mutex
	made := 0
	return func(what string) {
		lock.Lock()
		defer lock.Unlock()
		made++
		s.progress(from+(to-from)*float64(made)/float64(n), what)
	}
}

func pick(problems []*drying.Problem, cases []int) []*drying.Problem {
	picked := make([]*drying.Problem, len(cases))
	for i, c := range cases {
		picked[i] = problems[c]
	}
	return picked
}

// judge judges every case by what is known of it; told is the case by which the coarse grid is moved.
func (s *screen) judge(all []judged, told int) {
	for i := range all {
		var o drying.Outcome
		switch {
		case s.known[i]:
			o = copied(s.fine[i])
		case s.known[told]:
			o = s.coarse[i].MovedBy(&s.fine[told], &s.coarse[told])
			widen(&o, untold)
		default:
			o = copied(s.coarse[i])
		}
		spanMethods(&o, &s.quick[i])
		all[i], _ = judge(s.problems[i], all[i].situation, o)
	}
}

// rivals are the cases that only the coarse grid has followed and that may yet decide a requirement, or how much
// water is told for the format.
func (s *screen) rivals(all []judged) []int {
	var rivals []int
	for i := range all {
		if !s.known[i] && (len(all) == 1 || s.a.options.everyCase || s.mayDecide(all, i)) {
			rivals = append(rivals, i)
		}
	}
	if w := worst(all); len(rivals) == 0 && !s.known[w] {
		rivals = append(rivals, w)
	}
	return rivals
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
			case j.Reserve <= least*(1+nearlyWorst), badKnown >= 0 && badness(Verdict(j.Verdict)) > badKnown:
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
func (s *screen) prove(ctx context.Context, w int, j *judged) error {
	p, o := s.problems[w], j.outcome
	if err := drying.Explain(ctx, p, &o); err != nil {
		return err
	}
	j.outcome.Notes = o.Notes
	if s.a.options.Nominal {
		return nil
	}
	s.progress(0.8, "how sure it is")
	k, base := s.coarsers[s.touches[w]], &s.coarse[w]
	if base.Method == "" {
		k, base = drying.NewCoarser(p), nil
	}
	if err := k.Prove(ctx, p, &o, base, s.a.options.Workers); err != nil {
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
