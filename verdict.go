package leste

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"leste/airsupply"
	"leste/drying"
	"leste/job"
	q "leste/quantity"
	"leste/station"
)

// binding is the requirement that decides the job, and where it was judged.
type binding struct {
	format    *station.FormatPlan
	stage     *stage
	situation situation
	machine   int // index among the format's machines; -1 when no machine requires anything
	require   int
	value     float64 // likely
	fog       float64 // share of it that has condensed
	verdict   Verdict
	reserve   float64
}

// decide judges what has been answered for a format, its standing and its air limits, and adds it to the result. All
// cases were answered by one method, so that no two are mixed in one comparison.
func (a *assessment) decide(ctx context.Context, run *formatRun) error {
	f, stages, all, w := run.plan, run.stages, run.all, run.decides
	p := a.problem(stages[all[w].situation.touch], all[w].situation)
	b := a.bind(f, stages[all[w].situation.touch], p, &all[w])
	r := FormatResult{
		Name: f.Format.Name, Case: all[w].situation.name, Pitch: f.Pitch, Verdict: Met,
		Speed: q.Speed(float64(f.Speed) * all[w].situation.speed), Balance: balanceOf(all[w].outcome.Balance),
	}
	for i := range all {
		r.Verdict = worse(r.Verdict, all[i].verdict)
		if all[i].situation.lacks == airsupply.Dry {
			r.Airless = append(r.Airless, all[i].situation.name)
		}
		notes := slices.DeleteFunc([]string{all[i].situation.note, all[i].situation.coarse}, func(n string) bool { return n == "" })
		a.result.Cases = append(a.result.Cases, CaseResult{
			Name: all[i].situation.name, Format: f.Format.Name, Verdict: all[i].verdict,
			Left: totalAt(all[i].outcome, b.machine), Reserve: all[i].reserve, Note: strings.Join(notes, "; "), Notes: notes, Lacking: all[i].situation.refused,
		})
	}
	r.zones(f, p, all, w, b.machine)
	r.Why = dominates(r.Zones)
	if run.screen != nil && w < len(run.screen.quick) {
		r.Why += compareMethods(a.options.Method, totalAt(all[w].outcome, b.machine).Likely, totalAt(run.screen.quick[w], b.machine).Likely)
	}
	shown := &all[w].outcome
	if b.machine >= 0 {
		r.Machine = machineName(&p.Machines[b.machine])
		if q, cut := upTo(p, p.Machines[b.machine].After); cut {
			// The machine that decides stands before the last station: map and balance end where the zones are told.
			if all[w].situation.stand > 0 {
				if err := a.standStill(q); err != nil {
					return err
				}
			}
			follow := func() (drying.Outcome, error) { return a.followed(ctx, run, q) }
			if all[w].situation.lacks == airsupply.Dry {
				follow = func() (drying.Outcome, error) { return a.answeredWithoutAir(ctx, q) }
			}
			o, err := follow()
			if err != nil {
				return err
			}
			r.End = atTheEnd(f, p, shown)
			shown, r.Balance = &o, balanceOf(o.Balance)
		}
	}
	if !a.options.LikelyWater {
		if err := stages[false].record(ctx, run.closed[false]); err != nil {
			return err
		}
		b, err := a.bears(ctx, f, stages[false])
		if err != nil {
			return err
		}
		for i := range run.closed[false].passes {
			b.steps = append(b.steps, run.closed[false].passes[i].Seen.Step)
		}
		a.bearings = append(a.bearings, b)
		a.stands(&b, &r)
		a.limits(&b, &r)
	}
	r.Map = wallMap(f, shown.Map)
	r.Strip = strip(f, shown.Frames)
	for _, n := range all[w].outcome.Notes {
		if len(a.plan.Formats) > 1 && n.Relation == "" && math.IsNaN(n.Value) { // what it tells are amounts of this format
			n.Text = r.Name + ": " + n.Text
		}
		a.result.Notes = append(a.result.Notes, n)
	}
	a.result.Formats = append(a.result.Formats, r)
	if a.best == nil || b.worseThan(a.best) {
		a.best = b
	}
	return nil
}

// atTheEnd is the water at the last machine; nil where nothing was followed on the wall, or no machine is there.
func atTheEnd(f *station.FormatPlan, p *drying.Problem, o *drying.Outcome) *EndResult {
	if len(o.Map) == 0 || len(o.At) == 0 {
		return nil
	}
	last := len(o.At) - 1
	at := &o.At[last]
	end := &EndResult{Machine: machineName(&p.Machines[last]), Container: at.Total, Map: wallMap(f, toBeSeen(o.Map))}
	for _, z := range at.Zones {
		end.Zones = append(end.Zones, zoneResult(z))
	}
	return end
}

// upTo ends a problem at the machines after one station; false when that is the whole of it.
func upTo(p *drying.Problem, after int) (*drying.Problem, bool) {
	if after < 0 || after >= len(p.Passes)-1 {
		return p, false
	}
	cut := *p
	cut.Passes = slices.Clone(p.Passes[:after+1])
	cut.Machines = slices.DeleteFunc(slices.Clone(p.Machines), func(m drying.Machine) bool { return m.After > after })
	return &cut, true
}

// spanMethods widens the bands of an outcome to the likely values of another method: while no trial tells which
// is right, their difference is part of what is not known.
func spanMethods(o, other *drying.Outcome) {
	span := func(a, b *drying.MachineWater) {
		a.Total = including(a.Total, b.Total.Likely)
		for i := range a.Zones {
			z := &a.Zones[i]
			for k := range b.Zones {
				if b.Zones[k].Zone == z.Zone {
					z.Left = including(z.Left, b.Zones[k].Left.Likely)
				}
			}
		}
	}
	span(&o.After, &other.After)
	for i := range o.At {
		span(&o.At[i], &other.At[i])
	}
}

func including(b q.Band, x float64) q.Band {
	b.Low, b.High = min(b.Low, x), max(b.High, x)
	return b
}

// compareMethods says where two methods stand to each other.
func compareMethods(method string, here, quick float64) string {
	return fmt.Sprintf("; the %s method leaves %s mg on the container, the quick one %s mg, and the bands span both: the difference between two layouts is surer than either",
		method, twoFigures(here*mg), twoFigures(quick*mg))
}

// mg is the milligrams in a kilogram.
const mg = 1e6

// dominates says which part of which zone holds most of the water.
func dominates(zones []ZoneResult) string {
	most, total := 0.0, 0.0
	zone, cause, where := "", "", ""
	for i := range zones {
		z := &zones[i]
		if z.Name == job.ZoneAll {
			continue
		}
		total += z.Left.Likely
		for _, c := range []string{drying.CauseFilm, drying.CauseDrops, drying.CauseTrapped, drying.CausePool, drying.CauseCondensation} {
			if z.Parts[c] > most {
				most, zone, cause, where = z.Parts[c], z.Name, c, ""
				if c == z.Cause {
					where = ", " + z.Where
				}
			}
		}
	}
	if most == 0 {
		return "hardly any water is left"
	}
	return fmt.Sprintf("the largest part of the water left is %s at the %s%s: %s of %s mg", cause, zone, where, twoFigures(most*mg), twoFigures(total*mg))
}

// twoFigures writes an amount with two significant figures and no exponent.
func twoFigures(x float64) string {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return strconv.FormatFloat(x, 'f', -1, 64)
	}
	digits := 1 - int(math.Floor(math.Log10(math.Abs(x))))
	scale := math.Pow(10, float64(digits))
	return strconv.FormatFloat(math.Round(x*scale)/scale, 'f', max(0, digits), 64)
}

func balanceOf(b drying.Balance) Balance {
	return Balance{
		In: b.In, Left: b.Left, BlownOff: b.BlownOff, Mist: b.Mist, Evaporated: b.Evaporated,
		Condensed: b.Condensed, Dripped: b.Dripped, Closure: b.Closure,
	}
}

// bind finds the requirement that decides a case.
func (a *assessment) bind(f *station.FormatPlan, st *stage, p *drying.Problem, v *judged) *binding {
	b := &binding{
		format: f, stage: st, situation: v.situation, machine: -1, verdict: v.verdict,
		reserve: math.NaN(), value: lastTotal(v.outcome).Likely,
	}
	for i, m := range v.machines {
		for k, j := range m {
			if b.machine >= 0 && !(badness(Verdict(j.Verdict)) > badness(b.verdict) ||
				badness(Verdict(j.Verdict)) == badness(b.verdict) && j.Reserve < b.reserve) {
				continue
			}
			b.machine, b.require, b.value, b.fog = i, k, j.Value.Likely, fogShare(&v.machines[i][k], &v.outcome.At[i])
			b.verdict, b.reserve = Verdict(j.Verdict), j.Reserve
		}
	}
	return b
}

func (b *binding) worseThan(o *binding) bool {
	if badness(b.verdict) != badness(o.verdict) {
		return badness(b.verdict) > badness(o.verdict)
	}
	return b.reserve < o.reserve || math.IsNaN(o.reserve) && !math.IsNaN(b.reserve)
}

// zones fills the zones of a format from its deciding case, at the machine that decides; each requirement is
// answered by the case that is worst for it.
func (r *FormatResult) zones(f *station.FormatPlan, p *drying.Problem, all []judged, w, machine int) {
	o := &all[w].outcome
	at := &o.After
	if machine < 0 && len(o.At) > 0 {
		machine = len(o.At) - 1
	}
	if machine >= 0 {
		at = &o.At[machine]
	}
	r.Container = at.Total
	place := map[string]int{}
	for _, z := range at.Zones {
		place[z.Zone] = len(r.Zones)
		r.Zones = append(r.Zones, zoneResult(z))
	}
	for i := range all[w].machines {
		for k := range all[w].machines[i] {
			j, name := all[w].machines[i][k], all[w].situation.name
			for c := range all {
				o := all[c].machines[i][k]
				if badness(Verdict(o.Verdict)) > badness(Verdict(j.Verdict)) ||
					badness(Verdict(o.Verdict)) == badness(Verdict(j.Verdict)) && o.Reserve < j.Reserve {
					j, name = o, all[c].situation.name
				}
			}
			zone := j.Requirement.Zone
			n, ok := place[zone]
			if !ok {
				n = len(r.Zones)
				place[zone] = n
				r.Zones = append(r.Zones, zoneResult(drying.Whole(*at)))
			}
			m := &p.Machines[i]
			r.Zones[n].Requirements = append(r.Zones[n].Requirements, RequirementResult{
				Machine: machineName(m), Quantity: j.Quantity, Limit: j.Limit, Value: j.Value, Unit: j.Unit,
				Verdict: Verdict(j.Verdict), Reserve: j.Reserve, Case: name,
			})
		}
	}
}

func machineName(m *drying.Machine) string {
	if m.Name != "" {
		return m.Name
	}
	return m.Kind
}

func zoneResult(z drying.ZoneWater) ZoneResult {
	return ZoneResult{
		Name: z.Zone, Area: q.Area(z.Area), Left: z.Left, Largest: z.Largest, Cause: z.Cause, Where: z.Where,
		PerArea: q.Band{Likely: z.Left.Likely / z.Area, Low: z.Left.Low / z.Area, High: z.Left.High / z.Area},
		Parts: map[string]float64{
			drying.CauseFilm: z.Film, drying.CauseDrops: z.Drops, drying.CauseTrapped: z.Trapped,
			drying.CausePool: z.Pool, drying.CauseCondensation: z.Condensed,
		},
	}
}

// Reserve of a push that is not sure: the impact pressure is known to 15 %.
const pushMargin = 1.15

// stands judges whether the container keeps its place at every station.
func (a *assessment) stands(b *bearing, r *FormatResult) {
	r.Standing = b.pushes
	for _, push := range r.Standing {
		switch {
		case push.Factor >= pushMargin:
		case push.falls() && push.Factor < 1:
			r.Verdict = NotMet
			a.caution(pushed(r.Name+" does not stand", push))
		case push.falls():
			r.Verdict = worse(r.Verdict, Undecided)
			a.caution(pushed(r.Name+" may not stand", push))
		case push.Factor < 1:
			a.caution(pushed("the air moves "+r.Name, push))
		}
	}
}

// worstPushes keeps the worst push of each way, in the order in which the ways were first met.
type worstPushes struct {
	found []Push
	at    map[string]int
}

func newWorstPushes() *worstPushes { return &worstPushes{at: map[string]int{}} }

func (w *worstPushes) add(pushes []station.Push, when string) {
	for _, push := range pushes {
		one := Push(push)
		one.Case += when
		n, ok := w.at[push.Way]
		switch {
		case !ok:
			w.at[push.Way] = len(w.found)
			w.found = append(w.found, one)
		case one.Factor < w.found[n].Factor:
			w.found[n] = one
		}
	}
}

// pushed says how a container loses its place and what holds it.
func pushed(what string, p Push) string {
	text := fmt.Sprintf("%s: %s, resistance over push %s", what, p.Way, twoFigures(p.Factor))
	if p.Needs != "" {
		text += "; needs " + p.Needs
	}
	return text
}

func (a *assessment) caution(text string) { a.result.Cautions = append(a.result.Cautions, text) }

// limits judges what the air may do to the zones.
func (a *assessment) limits(b *bearing, r *FormatResult) {
	for i := range b.limits {
		if l := &b.limits[i]; l.Exceeded {
			r.Verdict = NotMet
			value, limit := airValues(l)
			text := fmt.Sprintf("the %s of the air at the zone %s is %s, its limit is %s (%s)", l.Quantity, l.Zone, value, limit, l.Reason)
			r.Exceeded = append(r.Exceeded, text)
			a.caution(r.Name + ": " + text)
		}
	}
}

// airValues write a pressure, speed or temperature of the air and its limit, with as many figures as tell them apart.
func airValues(l *station.LimitResult) (value, limit string) {
	kind := map[string]q.Kind{"pressure": q.KindGauge, "speed": q.KindSpeed, "temperature": q.KindTemperature}[l.Quantity]
	digits := q.Telling(l.Limit, 3, l.Value)
	return kind.FormatDigits(l.Value, q.SI, digits), kind.FormatDigits(l.Limit, q.SI, digits+1)
}

// wallMap is the water of the cells on the unrolled wall.
func wallMap(f *station.FormatPlan, kg []float64) *Map {
	if len(kg) == 0 {
		return nil
	}
	s := f.Body.Surface
	m := &Map{
		Rows: s.Rows, Cols: s.Cols, Title: f.Format.Name, Water: kg,
		S: make([]float64, s.Rows+1), Radius: make([]float64, s.Rows), Zone: make([]string, s.Rows),
	}
	for r := range s.Rows {
		m.S[r+1] = m.S[r] + s.StepS[r]
		pos := s.Pos[r*s.Cols]
		m.Radius[r] = math.Hypot(pos.X, pos.Y)
		m.Zone[r] = s.Zones[s.Zone[r*s.Cols]]
	}
	return m
}

// toBeSeen rounds amounts to what a picture can show, so that a result that is kept stays small.
func toBeSeen(x []float64) []float64 {
	out := make([]float64, len(x))
	for i, v := range x {
		if math.Abs(v) > nothingToSee {
			step := math.Pow10(seenFigures - 1 - int(math.Floor(math.Log10(math.Abs(v)))))
			out[i] = math.Round(v*step) / step
		}
	}
	return out
}

const (
	seenFigures  = 4
	nothingToSee = 1e-12 // kg/m2 or Pa
)

// strip is the pass in frames.
func strip(f *station.FormatPlan, frames []drying.Frame) []Map {
	var all []Map
	for _, frame := range frames {
		m := wallMap(f, toBeSeen(frame.Water))
		m.Station, m.X, m.Time, m.Press = frame.Station, frame.X, frame.Time, toBeSeen(frame.Press)
		for k, area := range f.Body.Surface.Area {
			m.Total += frame.Water[k] * area
		}
		all = append(all, *m)
	}
	return all
}
