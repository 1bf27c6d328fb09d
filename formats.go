package leste

import (
	"context"
	"fmt"
	"math"
	"slices"

	"leste/drying"
	"leste/physics/relation"
	"leste/station"
)

// formatRun is one format on its way to its result.
type formatRun struct {
	plan    *station.FormatPlan
	stages  map[bool]*stage // by whether containers touch
	closed  map[bool]*stage // the same for the closed forms
	all     []judged        // by case
	missing []string        // zones that a requirement names and the format has not
	screen  *screen         // nil where the quick answer is the answer
	decides int             // index of the case that does
}

// formats assesses every format in every case: the quick method first, for the bands and for comparison, then the
// chosen method. What is heavy is shared out over all formats and cases at once; what each adds to the result comes in
// the order of the formats.
func (a *assessment) formats(ctx context.Context, steps *progress) error {
	if a.plan == nil {
		return nil
	}
	runs := make([]*formatRun, len(a.plan.Formats))
	report := steps.span(len(runs))
	quickShare := 1.0
	if a.options.Method != quickOr(a.options.Method) {
		quickShare = 0.1
	}
	cases := 0
	for i := range a.plan.Formats {
		cases += len(a.situations(&a.plan.Formats[i]))
	}
	count := counter(report, 0, quickShare, cases)
	err := a.each(len(runs), func(i int) error {
		run, err := a.quickly(ctx, i, count)
		if err != nil {
			return fmt.Errorf("%s: %w", a.plan.Formats[i].Format.Name, err)
		}
		runs[i] = run
		return nil
	})
	if err != nil {
		return err
	}
	if err := a.follow(ctx, runs, report); err != nil {
		return err
	}
	if err := a.each(len(runs), func(i int) error { return a.answerLacking(ctx, runs[i]) }); err != nil {
		return err
	}
	var missing []string
	for _, run := range runs {
		if err := ctx.Err(); err != nil {
			return err
		}
		for _, e := range run.stages[false].exposers {
			for _, n := range e.Notes() {
				a.heed(n)
			}
		}
		if err := a.decide(ctx, run); err != nil {
			return fmt.Errorf("%s: %w", run.plan.Format.Name, err)
		}
		missing = append(missing, run.missing...)
	}
	for _, z := range missing {
		a.result.Notes = append(a.result.Notes, relation.Note{
			Severity: relation.Info, Text: fmt.Sprintf("not every format has the zone %q; the others are not judged by it", z),
			Value: math.NaN(), Limit: math.NaN(),
		})
	}
	return nil
}

// quickly exposes a format to its air and answers every case by the method that goes before the chosen one.
func (a *assessment) quickly(ctx context.Context, format int, count func(what string)) (*formatRun, error) {
	f := &a.plan.Formats[format]
	cases := a.situations(f)
	run := &formatRun{plan: f, stages: map[bool]*stage{}, closed: map[bool]*stage{}, all: make([]judged, len(cases))}
	kinds := []bool{false}
	if slices.ContainsFunc(cases, func(s situation) bool { return s.touch }) {
		kinds = append(kinds, true)
	}
	stages, closed := make([]*stage, len(kinds)), make([]*stage, len(kinds))
	err := a.each(len(kinds), func(i int) (err error) {
		if closed[i], err = a.newStage(&a.closed.Formats[format], kinds[i]); err != nil {
			return err
		}
		stages[i] = closed[i]
		if a.closed != a.plan {
			if stages[i], err = a.newStage(f, kinds[i]); err != nil {
				return err
			}
		}
		return closed[i].look(ctx, !kinds[i] && a.closed == a.plan && !a.options.LikelyWater, a.options.Workers)
	})
	if err != nil {
		return nil, err
	}
	for i, touch := range kinds {
		run.stages[touch], run.closed[touch] = stages[i], closed[i]
	}
	missing := make([][]string, len(cases))
	answer := func(i int) error {
		s := cases[i]
		p, err := a.laidOut(run.closed[s.touch], s)
		if err != nil {
			return err
		}
		m, err := drying.MethodNamed(quickOr(a.options.Method))
		if err != nil {
			return err
		}
		if a.options.LikelyWater {
			p.Spreads = drying.NoSpreads(p)
		}
		workers := 1 // the other cases go at once
		if i == 0 {
			workers = a.options.Workers
		}
		o, err := m(ctx, p, drying.Options{Workers: workers})
		if err != nil {
			return err
		}
		if i == 0 {
			for touch, st := range run.stages {
				st.spreads, run.closed[touch].spreads = o.Spreads, o.Spreads // of the nominal case, for all
			}
		}
		run.all[i], missing[i] = judge(p, s, o)
		count(f.Format.Name + ", " + s.name)
		return nil
	}
	if err := answer(0); err != nil {
		return nil, err
	}
	if err := a.each(len(cases)-1, func(i int) error { return answer(i + 1) }); err != nil {
		return nil, err
	}
	run.missing = missing[len(missing)-1]
	return run, nil
}

// follow answers all formats by the chosen method, where that is not the one they are answered by already.
func (a *assessment) follow(ctx context.Context, runs []*formatRun, report func(part float64, what string)) error {
	for _, run := range runs {
		run.decides = worst(run.all)
	}
	if a.options.Method == quickOr(a.options.Method) {
		return nil
	}
	screens := make([]*screen, len(runs))
	for i, run := range runs {
		s, err := a.newScreen(run)
		if err != nil {
			return fmt.Errorf("%s: %w", run.plan.Format.Name, err)
		}
		screens[i], run.screen = s, s
	}
	if err := a.answer(ctx, screens, report); err != nil {
		return err
	}
	count := counter(report, 0.8, 1, len(runs))
	return a.each(len(runs), func(i int) error {
		if err := screens[i].prove(ctx); err != nil {
			return fmt.Errorf("%s: %w", runs[i].plan.Format.Name, err)
		}
		count(runs[i].plan.Format.Name + ", how sure it is")
		return nil
	})
}
