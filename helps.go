package leste

import (
	"cmp"
	"context"
	"math"
	"slices"

	"leste/airsupply"
	"leste/drying"
	"leste/job"
	q "leste/quantity"
)

// remedy is something that may help.
type remedy struct {
	what string
	air  bool
	try  variation
}

// Helps are shown when they leave at most this share, and so many of them.
const (
	helpsFrom   = 0.97
	mostHelps   = 8
	leastNotAir = 2
)

// help tries every remedy on the binding requirement and lists those that help, best first; those with which a container
// gives way or a limit of the air is passed come after the others.
func (a *assessment) help(ctx context.Context) error {
	b, err := a.newBench(ctx)
	if err != nil {
		return err
	}
	if !(b.measured > 0) {
		return nil
	}
	all := a.remedies()
	ratios := make([]float64, len(all))
	err = a.each(len(all), func(i int) error {
		m, _, err := b.try(ctx, all[i].try)
		ratios[i] = m / b.measured
		return err
	})
	if err != nil {
		return err
	}
	asIs, err := b.bear(ctx, variation{change: always})
	if err != nil {
		return err
	}
	var helps []Help
	var tried []variation
	for i, r := range all {
		if ratios[i] <= helpsFrom {
			helps, tried = append(helps, Help{What: r.what, Ratio: ratios[i], Air: r.air}), append(tried, r.try)
		}
	}
	err = a.each(len(helps), func(i int) (err error) {
		helps[i].Against, err = b.against(ctx, tried[i], asIs)
		return err
	})
	if err != nil {
		return err
	}
	slices.SortStableFunc(helps, func(x, y Help) int {
		return cmp.Or(cmp.Compare(min(len(x.Against), 1), min(len(y.Against), 1)), cmp.Compare(x.Ratio, y.Ratio))
	})
	a.result.Helps = shortList(helps)
	return nil
}

// shortList keeps the best helps, and the best of those that are not air even where air beats them.
func shortList(helps []Help) []Help {
	if len(helps) <= mostHelps {
		return helps
	}
	kept := slices.Clone(helps[:mostHelps])
	notAir := 0
	for _, h := range kept {
		if !h.Air {
			notAir++
		}
	}
	for _, h := range helps[mostHelps:] {
		if notAir >= leastNotAir {
			break
		}
		if h.Air {
			continue
		}
		for i := len(kept) - 1; i >= 0; i-- {
			if kept[i].Air {
				kept = slices.Delete(kept, i, i+1)
				break
			}
		}
		kept = append(kept, h)
		notAir++
	}
	return kept
}

// remedies lists what is tried. Their sizes are those of a usual next step; common practice, no source.
func (a *assessment) remedies() []remedy {
	const (
		morePressure = 1.25
		slower       = 0.8
		closer       = 0.75
		closest      = 20e-3 // m, a stand-off is not made shorter than this
		wider        = 1.3
		steeper      = 15 // degrees
		steepest     = 60
		warmer       = 15      // K
		apart        = 20e-3   // m
		nextStation  = 0.6     // m after the last one
		overhead     = 40e-3   // m above the container
		overheadGap  = 1.2e-3  // m
		overheadWide = 1.2     // over the container's width
		hot          = 60 + 15 // degC, no rinse is made warmer than this
	)
	filled := a.job
	all := []remedy{
		{"raise the plenum pressure by a quarter", true, variation{change: always, pressure: morePressure}},
		{"bring the outlets a quarter closer to the wall", true, variation{change: eachOutlet(func(o, now *job.Outlet) bool {
			if now.StandOff.V*closer < closest || o.Offset.Known {
				return false
			}
			o.StandOff = q.Known(now.StandOff.V * closer)
			return true
		}, filled)}},
		{"open the slot gaps by a third; the flow rises with them", true, variation{change: eachOutlet(func(o, now *job.Outlet) bool {
			if now.Kind != job.AirKnife {
				return false
			}
			o.SetGap(q.Known(now.Gap() * wider))
			return true
		}, filled)}},
		{"tilt the outlets 15 degrees more, so that the top is swept first", true, variation{change: eachOutlet(func(o, now *job.Outlet) bool {
			if now.Side != "left" && now.Side != "right" || now.Tilt.V.Deg() > steepest-steeper {
				return false
			}
			o.Tilt = q.Known(now.Tilt.V + q.Degrees(steeper))
			return true
		}, filled)}},
		{"blow a second time with the same outlets, 0.6 m farther on", true, variation{change: func(j *job.Job) bool {
			return again(j, filled, nextStation)
		}}},
		{"run the line a fifth slower", false, variation{change: func(j *job.Job) bool { return slowDown(j, filled, slower) }}},
		{"double the time to drain before the station", false, variation{asSeen: true, inPlace: true, change: eachArrives(func(w, now *job.Arrives) bool {
			w.Since = q.Known(now.Since.V * 2)
			return true
		}, filled)}},
		{"rinse with half the water on the wall", false, variation{asSeen: true, inPlace: true, change: eachArrives(func(w, now *job.Arrives) bool {
			w.Water = q.Known(now.Water.V / 2)
			return true
		}, filled)}},
		{"rinse 15 K warmer", false, variation{asSeen: true, inPlace: true, change: eachArrives(func(w, now *job.Arrives) bool {
			if now.Temperature.V.C()+warmer > hot {
				return false
			}
			w.Temperature = q.Known(now.Temperature.V + warmer)
			return true
		}, filled)}},
		{"space the containers 20 mm farther apart at the same speed", false, variation{change: func(j *job.Job) bool {
			return spread(j, filled, apart)
		}}},
		{"move the machine to twice the distance", false, variation{asSeen: true, inPlace: true, change: eachMachine(2, filled)}},
		{"move the machine to half the distance", false, variation{asSeen: true, inPlace: true, change: eachMachine(0.5, filled)}},
	}
	if s := &a.best.situation; s.lacks == airsupply.Dry {
		all = append([]remedy{{
			"have air come in the case " + s.name + ": another blower, more outlets, or air bled off before it runs dry", true,
			variation{change: always, airComes: true},
		}}, all...)
	}
	if a.liesOnTop() {
		body := a.best.format.Body
		all = append(all, remedy{"add an air knife above that blows down on the top", true, variation{change: func(j *job.Job) bool {
			if len(j.Stations) == 0 {
				return false
			}
			s := &j.Stations[len(j.Stations)-1]
			s.Outlets = append(s.Outlets, job.Outlet{
				Name: addedOutlet, Kind: job.AirKnife, Side: "above", Tilt: q.Known(q.Degrees(90)),
				Height: q.Known(q.Length(body.Height + overhead)), StandOff: q.Known(q.Length(overhead)),
				Length: q.Known(q.Length(body.Depth * overheadWide)), SlotGap: q.Known(q.Length(overheadGap)),
			})
			return true
		}}})
	}
	return all
}

// addedOutlet is the name of an outlet that only a remedy has; it gets the air of the station's first outlet.
const addedOutlet = "added above"

func always(*job.Job) bool { return true }

// liesOnTop says that water lying on top of the container matters.
func (a *assessment) liesOnTop() bool {
	for i := range a.result.Formats {
		f := &a.result.Formats[i]
		if f.Name != a.best.format.Format.Name {
			continue
		}
		for _, z := range f.Zones {
			if z.Parts[drying.CausePool] > 0.2*f.Container.Likely || (z.Name == job.ZoneEnd || z.Name == job.ZoneClosure) && z.Left.Likely > 0.2*f.Container.Likely {
				return true
			}
		}
	}
	return false
}

// eachOutlet changes every outlet; now is the outlet with its assumed values.
func eachOutlet(change func(o, now *job.Outlet) bool, filled *job.Job) func(*job.Job) bool {
	return func(j *job.Job) bool {
		any := false
		for i := range j.Stations {
			for k := range j.Stations[i].Outlets {
				any = change(&j.Stations[i].Outlets[k], &filled.Stations[i].Outlets[k]) || any
			}
		}
		return any
	}
}

// eachArrives changes the water that arrives, of the job and of formats with their own.
func eachArrives(change func(w, now *job.Arrives) bool, filled *job.Job) func(*job.Job) bool {
	return func(j *job.Job) bool {
		any := change(&j.Arrives, &filled.Arrives)
		for i := range j.Formats {
			if j.Formats[i].Arrives != nil {
				any = change(j.Formats[i].Arrives, filled.Formats[i].Arrives) || any
			}
		}
		return any
	}
}

func eachMachine(factor q.Length, filled *job.Job) func(*job.Job) bool {
	return func(j *job.Job) bool {
		for i := range j.Next {
			j.Next[i].Distance = q.Known(filled.Next[i].Distance.V * factor)
		}
		return len(j.Next) > 0
	}
}

// slowDown slows line and formats, whatever they are given by.
func slowDown(j, filled *job.Job, factor float64) bool {
	speed := func(m *q.Maybe[q.Speed]) {
		if m.Known {
			m.V *= q.Speed(factor)
		}
	}
	rate := func(m *q.Maybe[q.Rate]) {
		if m.Known {
			m.V *= q.Rate(factor)
		}
	}
	if !j.Line.Speed.Known && !j.Line.Rate.Known {
		j.Line.Speed = q.Known(filled.Line.Speed.V)
	}
	speed(&j.Line.Speed)
	rate(&j.Line.Rate)
	for i := range j.Formats {
		speed(&j.Formats[i].Speed)
		rate(&j.Formats[i].Rate)
	}
	return j.Line.Speed.V > 0 || j.Line.Rate.V > 0
}

// spread sets the containers farther apart and keeps the speed; the rate falls.
func spread(j, filled *job.Job, by q.Length) bool {
	for i := range j.Formats {
		f, now := &j.Formats[i], &filled.Formats[i]
		if now.Gap.V < 0 || math.IsNaN(float64(now.Gap.V)) || now.Speed.V <= 0 {
			return false
		}
		f.Speed, f.Gap = q.Known(now.Speed.V), q.Known(now.Gap.V+by)
		f.Rate, f.Pitch = q.Maybe[q.Rate]{}, q.Maybe[q.Length]{}
	}
	j.Line.Rate, j.Line.Pitch, j.Line.Touching = q.Maybe[q.Rate]{}, q.Maybe[q.Length]{}, q.Maybe[bool]{}
	return len(j.Formats) > 0
}

// again repeats the last station farther on.
func again(j, filled *job.Job, after q.Length) bool {
	n := len(j.Stations)
	if n == 0 {
		return false
	}
	s := job.Clone(j).Stations[n-1]
	s.Name += repeated
	s.At = q.Known(filled.Stations[n-1].At.V + after)
	for k := range s.Outlets {
		s.Outlets[k].Name += repeated
	}
	for i := range j.Next { // a machine that follows the station follows its repetition
		if j.Next[i].After == j.Stations[n-1].Name {
			j.Next[i].After = s.Name
		}
	}
	j.Stations = append(j.Stations, s)
	return true
}

// repeated marks the outlets of a station that only a remedy has.
const repeated = ", again"
