package design

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	leste "leste"
	"leste/airsupply"
	"leste/job"
	q "leste/quantity"
	"leste/station"
)

// A Row is the job as it stands, or one of its options, in figures. What is not known is NaN.
type Row struct {
	Name    string
	Problem string        // why there is no answer; the rest is then empty
	Result  *leste.Result // nil without an answer

	Format, Machine string  // that decide; the machine is "" where none requires anything
	Water           q.Band  // kg on that container at that machine
	Reserve         float64 // least of limit over likely value; +Inf where nothing is required
	Stands          float64 // least of resistance over push
	Gives           string  // what the container does when it gives way
	Grid            q.Power
	Cost            float64      // per year, in the job's currency
	Sound           q.SoundLevel // at 1 m
	Length          q.Length     // of the conveyor that the outlets take up
	Equal           *Equal       // nil for the first row, and where there is no answer
}

// Equal is an option with its plenum pressures changed in one ratio, so that it leaves as much water as the first row
// does, by the quick method in the nominal case.
type Equal struct {
	Why      string  // why there is none; the rest is then NaN
	Pressure float64 // factor on every plenum pressure
	Grid     q.Power
	Cost     float64
}

// Compare assesses the options of a job in their order, after the job as it stands, whose result is given where it is
// known. An option has the job's own stations and air supply where it names none. An option without an answer has a
// row that says why; only a cancelled context, or options of the assessment that are wrong, end in an error.
func Compare(ctx context.Context, j *job.Job, o leste.Options, known *leste.Result) ([]Row, error) {
	o.NoRanking, o.Progress, o.Frames, o.Moments = true, nil, 0, nil
	var rows []Row
	var jobs []*job.Job
	if len(j.Stations) > 0 {
		jobs = append(jobs, withOption(j, -1))
		rows = append(rows, Row{Name: "as the job stands", Result: known})
	}
	for i := range j.Options {
		jobs = append(jobs, withOption(j, i))
		rows = append(rows, Row{Name: j.Options[i].Name})
	}
	for i := range rows {
		if err := rows[i].fill(ctx, jobs[i], o); err != nil {
			return nil, err
		}
	}
	first := slices.IndexFunc(rows, func(r Row) bool { return r.Result != nil })
	if first < 0 || len(rows) < 2 {
		return rows, nil
	}
	level, _, err := tried(ctx, jobs[first], o, 1)
	if err != nil {
		return nil, err
	}
	for i := first + 1; i < len(rows); i++ {
		if rows[i].Result == nil {
			continue
		}
		if rows[i].Equal, err = equal(ctx, jobs[i], o, level); err != nil {
			return nil, err
		}
	}
	return rows, nil
}

// withOption is a job with the stations and the air supply of one of its options; -1 is the job as it stands.
func withOption(j *job.Job, option int) *job.Job {
	one := job.Clone(j)
	if option >= 0 {
		o := &one.Options[option]
		if len(o.Stations) > 0 {
			one.Stations = o.Stations
		}
		if o.AirSupply != nil {
			one.AirSupply = *o.AirSupply
		}
	}
	one.Options = nil
	return one
}

// fill assesses the row's job and reads its figures.
func (row *Row) fill(ctx context.Context, j *job.Job, o leste.Options) error {
	nan := math.NaN()
	row.Reserve, row.Stands, row.Grid, row.Cost, row.Sound = nan, nan, q.Power(nan), nan, q.SoundLevel(nan)
	if row.Result == nil {
		r, why, err := answered(ctx, j, o)
		if err != nil || why != "" {
			row.Problem = why
			return err
		}
		row.Result = r
	}
	r := row.Result
	row.Cost, row.Grid = r.Cost.Cost, gridOf(r)
	if r.Sound.Assessed {
		row.Sound = r.Sound.At1m
	}
	row.Length = conveyorOf(j)
	row.Reserve, row.Stands = math.Inf(1), math.Inf(1)
	for i := range r.Formats {
		f := &r.Formats[i]
		for _, p := range f.Standing {
			if word, known := leste.GivesWay(p.Way, p.Case); known && p.Factor < row.Stands {
				row.Stands, row.Gives = p.Factor, f.Name+" "+word
			}
		}
		least, machine := math.Inf(1), f.Machine
		for z := range f.Zones {
			for _, x := range f.Zones[z].Requirements {
				if x.Reserve < least {
					least, machine = x.Reserve, x.Machine
				}
			}
		}
		if i == 0 || least < row.Reserve || math.IsInf(row.Reserve, 1) && math.IsInf(least, 1) && f.Container.Likely > row.Water.Likely {
			row.Reserve, row.Format, row.Machine, row.Water = least, f.Name, machine, f.Container
		}
	}
	return nil
}

// answered assesses a job; what stands in the way of an answer is a sentence, not an error.
func answered(ctx context.Context, j *job.Job, o leste.Options) (r *leste.Result, why string, err error) {
	r, err = leste.Assess(ctx, j, o)
	var problems job.Problems
	var refusal *airsupply.Refusal
	switch {
	case err == nil:
		return r, "", nil
	case errors.As(err, &problems):
		return nil, problems[0].Text, nil
	case errors.As(err, &refusal):
		return nil, refusal.Error(), nil
	}
	return nil, "", fmt.Errorf("an option cannot be assessed: %w", err)
}

// gridOf is the grid power of all blowers; NaN where none is known.
func gridOf(r *leste.Result) q.Power {
	if len(r.Air.Blowers) == 0 {
		return q.Power(math.NaN())
	}
	sum := q.Power(0)
	for i := range r.Air.Blowers {
		sum += r.Air.Blowers[i].Grid
	}
	return sum
}

// conveyorOf is the length of the line that the outlets of a job take up; 0 where it cannot be laid out.
func conveyorOf(j *job.Job) q.Length {
	plan, ok := laidOut(j)
	if !ok || len(plan.Formats) == 0 {
		return 0
	}
	from, to := math.Inf(1), math.Inf(-1)
	for k := range plan.Formats[0].Stations {
		s := &plan.Formats[0].Stations[k]
		for i := range s.Outlets {
			low, high := ends(s.At, &s.Outlets[i])
			from, to = min(from, low), max(to, high)
		}
	}
	return q.Length(max(0, to-from))
}

// ends are the positions along the line between which an outlet of a station at a place stands, with the body behind its
// lip [m].
func ends(at float64, p *station.Placed) (from, to float64) {
	from, to = math.Inf(1), math.Inf(-1)
	across := math.Sqrt(max(0, 1-p.Line.X*p.Line.X))
	for _, r := range p.Rods() {
		round := r.Radius * across // caps are flat
		from, to = min(from, min(r.From.X, r.To.X)-round), max(to, max(r.From.X, r.To.X)+round)
	}
	return at + from, at + to
}

// equalCell is the size of the cells on which air is found that leaves the same water [m].
const equalCell = 10e-3

// tried is what a job leaves with all its plenum pressures times a factor: over what is asked, or in kg where nothing
// is. It is NaN where there is no answer.
func tried(ctx context.Context, j *job.Job, o leste.Options, factor float64) (left float64, r *leste.Result, err error) {
	j = job.Clone(j)
	scale := func(p *q.Maybe[q.Gauge]) {
		if p.Known {
			p.V *= q.Gauge(factor)
		}
	}
	for s := range j.Stations {
		scale(&j.Stations[s].Plenum)
		for i := range j.Stations[s].Outlets {
			scale(&j.Stations[s].Outlets[i].Pressure)
		}
	}
	r, why, err := answered(ctx, j, leste.Options{Method: "quick", Cell: equalCell, Nominal: true, NoRanking: true, Parts: o.Parts})
	if err != nil || why != "" {
		return math.NaN(), nil, err
	}
	if reserve := leastReserve(r); !math.IsInf(reserve, 1) {
		return 1 / reserve, r, nil
	}
	for i := range r.Formats {
		left = max(left, r.Formats[i].Container.Likely)
	}
	return left, r, nil
}

// equal finds the ratio of plenum pressures at which a job leaves a given amount.
func equal(ctx context.Context, j *job.Job, o leste.Options, level float64) (*Equal, error) {
	nan := math.NaN()
	none := func(why string) (*Equal, error) { return &Equal{why, nan, q.Power(nan), nan}, nil }
	if !(level > 0) {
		return none("the first leaves nothing to compare with")
	}
	const most, close, tries = 8.0, 1.01, 12
	low, high := 1.0, 1.0 // low leaves more than the level, high less
	left, r, err := tried(ctx, j, o, 1)
	switch {
	case err != nil:
		return nil, err
	case math.IsNaN(left):
		return none("there is no answer to start from")
	}
	drier := left <= level
	const stride = 1.5
	for n := 0; ; n++ {
		next := high / stride
		if !drier {
			next = low * stride
		}
		if next > most || next < 1/most {
			return none("no plenum pressure within eight times as much or as little leaves as much water")
		}
		at, with, err := tried(ctx, j, o, next)
		if err != nil {
			return nil, err
		}
		if math.IsNaN(at) {
			return none("there is no air for the plenum pressure that would leave as much water")
		}
		if drier && at > level {
			low = next
			break
		}
		if !drier && at <= level {
			high, r = next, with
			break
		}
		low, high = next, next
		if drier {
			r = with
		}
	}
	for range tries {
		if high <= low*close {
			break
		}
		middle := math.Sqrt(low * high)
		at, with, err := tried(ctx, j, o, middle)
		switch {
		case err != nil:
			return nil, err
		case at <= level:
			high, r = middle, with
		default:
			low = middle
		}
	}
	return &Equal{"", high, gridOf(r), r.Cost.Cost}, nil
}
