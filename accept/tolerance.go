package accept

import (
	"context"
	"errors"
	"math"
	"slices"
	"strings"

	"leste/job"
	"leste/parallel"
	q "leste/quantity"
)

// A Setting is something that is set on site, or a condition that the line keeps: one value at one or several
// outlets that move together.
type Setting struct {
	What   string   // a Kind's name, or a condition's
	At     string   // outlet, or the frame that carries several
	Others []string // further outlets with the same value, as on the other side of the line
	Value  float64  // SI
	Kind   q.Kind
	Reach  float64 // the largest move examined [SI]
	Down   bool    // moves down are examined
	Up     bool    // moves up are examined
	set    func(j *job.Job, v float64)
}

// A Tolerance is how far a setting may be off before the promise fails: the likely value passes its limit, or
// where the promise is not met as set, the reserve falls by a tenth. A move that changes nothing up to the
// reach is free. NaN where a direction was not examined.
type Tolerance struct {
	Setting
	Less, More         float64
	LessFree, MoreFree bool
}

// A Try returns the smallest reserve, limit over likely value, of every format of a job that is named, by name; of all
// formats where none is named, and then at least one. An error means that the job cannot be laid out; a cancelled
// context ends everything.
type Try func(ctx context.Context, j *job.Job, formats []string) (Reserves, error)

// Reserves are the smallest reserves of formats by name. Formats of which nothing is required are left out.
type Reserves map[string]float64

// least is the smallest of all, NaN where there is none.
func (r Reserves) least() float64 {
	least := math.Inf(1)
	for _, x := range r {
		least = min(least, x)
	}
	if len(r) == 0 {
		return nan
	}
	return least
}

// below names the formats with less than some reserve.
func (r Reserves) below(floor float64) []string {
	var names []string
	for name, x := range r {
		if !(x >= floor) {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return names
}

// Conditions of the promise, beside the kinds of measurements.
const (
	BeltSpeed     = "belt speed"
	ArrivingWater = "arriving water"
	ProductHeat   = "product temperature"
	PlenumGiven   = "plenum pressure"
)

// Settings lists what can be set on the outlets of a filled job. Outlets of one station with the same side or
// the opposite one and the same values are set as one.
func Settings(j *job.Job) []Setting {
	var out []Setting
	for si := range j.Stations {
		groups := map[string][]int{}
		var order []string
		for oi, o := range j.Stations[si].Outlets {
			pair := map[string]string{"left": "beside", "right": "beside"}[o.Side]
			if pair == "" {
				pair = o.Side
			}
			key := strings.Join([]string{o.Kind, pair, num(o.X), num(o.Height), num(o.Offset), num(o.StandOff), numAngle(o.Tilt), numAngle(o.AimDown), num(o.SlotGap)}, "|")
			if groups[key] == nil {
				order = append(order, key)
			}
			groups[key] = append(groups[key], oi)
		}
		for _, key := range order {
			out = append(out, outletSettings(j, si, groups[key])...)
		}
	}
	return out
}

func num(m q.Maybe[q.Length]) string     { return q.KindLength.Exact(float64(m.V)) }
func numAngle(m q.Maybe[q.Angle]) string { return q.KindAngle.Exact(float64(m.V)) }

func outletSettings(j *job.Job, si int, group []int) []Setting {
	o := &j.Stations[si].Outlets[group[0]]
	var others []string
	for _, k := range group[1:] {
		others = append(others, j.Stations[si].Outlets[k].Name)
	}
	each := func(change func(o *job.Outlet, v float64)) func(*job.Job, float64) {
		return func(j *job.Job, v float64) {
			for _, k := range group {
				change(&j.Stations[si].Outlets[k], v)
			}
		}
	}
	length := func(what string, v float64, reach float64, change func(o *job.Outlet, v q.Maybe[q.Length])) Setting {
		return Setting{
			What: what, At: o.Name, Others: others, Value: v, Kind: q.KindLength, Reach: reach, Down: true, Up: true,
			set: each(func(o *job.Outlet, v float64) { change(o, q.Known(q.Length(v))) }),
		}
	}
	var out []Setting
	if !o.Offset.Known || o.StandOff.Known {
		out = append(out, length(StandOff, float64(o.StandOff.V), 0.6*float64(o.StandOff.V), func(o *job.Outlet, v q.Maybe[q.Length]) { o.StandOff = v }))
	}
	if beside := o.Side == "left" || o.Side == "right"; beside {
		if o.Height.Known {
			out = append(out, length(Height, float64(o.Height.V), 0.02, func(o *job.Outlet, v q.Maybe[q.Length]) { o.Height = v }))
		}
		if o.Kind != job.Nozzle {
			out = append(out, Setting{
				What: Tilt, At: o.Name, Others: others, Value: float64(o.Tilt.V), Kind: q.KindAngle, Reach: 10 * math.Pi / 180, Down: true, Up: true,
				set: each(func(o *job.Outlet, v float64) { o.Tilt = q.Known(q.Angle(v)) }),
			})
		}
	}
	if gap := float64(o.Gap()); gap > 0 {
		out = append(out, length(SlotGap, gap, 0.3*gap, (*job.Outlet).SetGap))
	}
	return out
}

// Conditions lists what the line must keep for the promise to hold, of a filled job.
func Conditions(j *job.Job) []Setting {
	factor := func(what string, kind q.Kind, value, reach float64, up bool, set func(j *job.Job, f float64)) Setting {
		return Setting{What: what, Value: value, Kind: kind, Reach: reach, Up: up, Down: !up, set: func(j *job.Job, v float64) { set(j, v/value) }}
	}
	var out []Setting
	if len(j.Formats) > 0 {
		out = append(out, factor(BeltSpeed, q.KindRatio, 1, 0.5, true, func(j *job.Job, f float64) {
			scale(&j.Line.Speed, f)
			scale(&j.Line.Rate, f)
			for i := range j.Formats {
				scale(&j.Formats[i].Speed, f)
				scale(&j.Formats[i].Rate, f)
			}
		}))
	}
	if w := float64(j.Arrives.Water.V); w > 0 {
		out = append(out, factor(ArrivingWater, q.KindAreaMass, w, 2*w, true, func(j *job.Job, f float64) {
			j.Arrives.Water = q.Known(q.AreaMass(w * f))
			for i := range j.Formats {
				if a := j.Formats[i].Arrives; a != nil && a.Water.V > 0 {
					a.Water = q.Known(a.Water.V * q.AreaMass(f))
				}
			}
		}))
	}
	lowest := math.Inf(1)
	for _, f := range j.Formats {
		lowest = min(lowest, float64(f.Product.V))
	}
	if lowest > 200 && !math.IsInf(lowest, 1) {
		out = append(out, Setting{What: ProductHeat, Value: lowest, Kind: q.KindTemperature, Reach: min(15, lowest-274.15), Down: lowest > 275, set: func(j *job.Job, v float64) {
			for i := range j.Formats {
				j.Formats[i].Product = q.Known(j.Formats[i].Product.V + q.Temperature(v-lowest))
			}
		}})
	}
	highest := 0.0
	for _, s := range j.Stations {
		if s.Plenum.Known {
			highest = max(highest, float64(s.Plenum.V))
		}
		for _, o := range s.Outlets {
			if o.Pressure.Known {
				highest = max(highest, float64(o.Pressure.V))
			}
		}
	}
	if highest > 0 {
		out = append(out, factor(PlenumGiven, q.KindGauge, highest, 0.5*highest, false, func(j *job.Job, f float64) {
			for i := range j.Stations {
				scale(&j.Stations[i].Plenum, f)
				for k := range j.Stations[i].Outlets {
					scale(&j.Stations[i].Outlets[k].Pressure, f)
				}
			}
		}))
	}
	return out
}

// scale multiplies a value that is known.
func scale[T ~float64](m *q.Maybe[T], f float64) {
	if m.Known {
		m.V *= T(f)
	}
}

// parts of the reach: a tolerance is found to one of them, and within the first to an eighth of it.
const parts = 16

// Tolerances finds, for each setting, how far it may move either way. The job is a filled one and is not
// changed. Failing tries count as a broken promise.
func Tolerances(ctx context.Context, j *job.Job, settings []Setting, try Try) ([]Tolerance, error) {
	return TolerancesOn(ctx, 1, j, settings, try)
}

// TolerancesOn is Tolerances with both ways of every setting shared out among workers, who call try at the same time.
// The answer does not depend on how many they are.
func TolerancesOn(ctx context.Context, workers int, j *job.Job, settings []Setting, try Try) ([]Tolerance, error) {
	all, err := try(ctx, job.Clone(j), nil)
	if err != nil {
		return nil, err
	}
	base := all.least()
	floor := 1.0
	if base < 1 {
		floor = 0.9 * base
	}
	out := make([]Tolerance, len(settings))
	one := func(task int) (err error) {
		s, t := settings[task/2], &out[task/2]
		var lost []string // formats that do not hold where the promise was last seen to fail; others hold on the way there
		over := func(v float64) (float64, error) {
			moved := job.Clone(j)
			s.set(moved, v)
			reserves, err := try(ctx, moved, lost)
			switch {
			case ctx.Err() != nil:
				return 0, ctx.Err()
			case err != nil:
				return nan, nil // it cannot be laid out: no promise either
			}
			if now := reserves.below(floor); len(now) > 0 {
				lost = now
			}
			return reserves.least() / floor, nil
		}
		if task%2 == 0 && s.Down {
			t.Less, t.LessFree, err = search(s, -1, base/floor, over)
		}
		if task%2 == 1 && s.Up {
			t.More, t.MoreFree, err = search(s, 1, base/floor, over)
		}
		return err
	}
	for i, s := range settings {
		out[i] = Tolerance{Setting: s, Less: nan, More: nan}
	}
	if err := parallel.Each(workers, 2*len(settings), one); err != nil {
		return nil, err
	}
	return out, nil
}

// search finds the largest move that holds to a part of the reach: where what is left of the promise, over what must
// be, does not fall below 1. It is set at first; NaN is none at all. Where the next try is best made follows from how
// fast the logarithm falls; every other time the rest is halved, in case it falls otherwise.
func search(s Setting, side, set float64, over func(float64) (float64, error)) (move float64, free bool, err error) {
	if !(s.Reach > 0) {
		return 0, false, errors.New("accept: a setting without a reach has no tolerance")
	}
	all, err := over(s.Value + side*s.Reach)
	if err != nil || all >= 1 {
		return s.Reach, err == nil, err
	}
	good, bad, most, least := 0, parts, set, all
	for turn := 0; bad-good > 1; turn++ {
		middle := (good + bad) / 2
		if share := math.Log(most) / math.Log(most/least); turn%2 == 0 && share >= 0 && share <= 1 {
			middle = max(good+1, min(good+int(math.Round(share*float64(bad-good))), bad-1))
		}
		here, err := over(s.Value + side*s.Reach*float64(middle)/parts)
		switch {
		case err != nil:
			return 0, false, err
		case here >= 1:
			good, most = middle, here
		default:
			bad, least = middle, here
		}
	}
	if good > 0 {
		return s.Reach * float64(good) / parts, false, nil
	}
	// Within the first part: a promise that holds with little to spare would be told to bear nothing at all.
	const halvings = 3
	holds, fails := 0.0, 1.0
	for range halvings {
		middle := (holds + fails) / 2
		here, err := over(s.Value + side*s.Reach*middle/parts)
		switch {
		case err != nil:
			return 0, false, err
		case here >= 1:
			holds = middle
		default:
			fails = middle
		}
	}
	return s.Reach * holds / parts, false, nil
}
