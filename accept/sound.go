package accept

import (
	"fmt"
	"math"
	"slices"
	"strings"

	q "leste/quantity"
)

// Noise is the highest level that the job allows 1 m from the outlets, from the station alone.
type Noise struct {
	Limit      q.SoundLevel          // A-weighted; 0 is none
	Asked      bool                  // the job says it; else it is assumed, and a level above it is told without entering the verdict
	Background q.Maybe[q.SoundLevel] // of the room by the job, where none is read on site
	Calculated [2]q.SoundLevel       // of the station: the likely level and the low end of its band; 0 where none is
}

// A Level is the sound read at one place against the limit of the job [dB].
type Level struct {
	Place      string // as the file names it; "" is 1 m from the outlets
	Limit      float64
	Read       float64 // with everything that sounds
	Background float64 // NaN where nobody knows it
	Station    float64 // what is left for the station; its upper bound where Bound holds
	Bound      bool    // the background hides the station
	Verdict    Verdict
	Says       []string // each a sentence by itself
}

// hidden is how far a reading must stand above the background before the difference tells the station [dB]: less, and
// the station is the quieter of the two. As in ISO 3746, from memory.
const hidden = 3

// metre is how far from 1 m a reading may be taken for one at 1 m [m]: a tenth changes it by about 1 dB. Judgement.
const metre = 0.1

// place is how far from the outlets a row says it was read [m]; NaN where it names no distance.
func place(r Row) float64 {
	if d, err := q.KindLength.Parse(r.At); err == nil {
		return d
	}
	return nan
}

// levels holds what was read against the limit, place by place in the order of the file. Several readings at one place
// are averaged by their energy.
func (n Noise) levels(rows []Row) []Level {
	var out []Level
	for _, at := range places(rows) {
		read := energyMean(rows, at, false)
		if math.IsNaN(read) {
			continue
		}
		l := Level{Place: at, Limit: float64(n.Limit), Read: read, Background: energyMean(rows, at, true)}
		known := "with the air off %s were read there"
		if math.IsNaN(l.Background) {
			l.Background = energyMean(rows, "", true)
			known = "with the air off %s were read"
		}
		if math.IsNaN(l.Background) && n.Background.Known {
			l.Background = float64(n.Background.V)
			known = "without the station the job expects %s"
		}
		l.Station, l.Bound = less(l.Read, l.Background)
		l.judge(known, n.Asked)
		if likely, least := float64(n.Calculated[0]), float64(n.Calculated[1]); least > 0 && l.Station < least {
			l.Says = append(l.Says, fmt.Sprintf("that is %.1f dB below the %s calculated and below their whole band: either the reading is off, or less air flows than was calculated", likely-l.Station, level(likely)))
		}
		out = append(out, l)
	}
	return out
}

// less takes the background off a reading. Where it hides the station, the answer is what the station makes at most.
func less(read, background float64) (station float64, bound bool) {
	switch {
	case math.IsNaN(background):
		return read, false
	case read-background < hidden:
		background, bound = read-hidden, true
	}
	return 10 * math.Log10(math.Pow(10, read/10)-math.Pow(10, background/10)), bound
}

// judge settles the verdict on one place and says why; known is how the background is known, and asked
// whether the job says the limit.
func (l *Level) judge(known string, asked bool) {
	if !(l.Limit > 0) {
		l.Verdict = Accepted
		l.Says = append(l.Says, fmt.Sprintf("%s were read 1 m from the outlets", level(l.Read)))
		return
	}
	unknown := math.IsNaN(l.Background)
	over := l.Station > l.Limit
	switch {
	case !over:
		l.Verdict = Accepted
	case unknown || l.Bound: // the room may be what is loud
		l.Verdict = NotEnough
	default:
		l.Verdict = NotAccepted
	}
	l.Says = append(l.Says, fmt.Sprintf("%s were read 1 m from the outlets", level(l.Read)))
	if !unknown {
		l.Says = append(l.Says, fmt.Sprintf(known, level(l.Background)))
		if l.Bound {
			l.Says = append(l.Says, fmt.Sprintf("so loud a room hides the station, which makes %s at most", level(l.Station)))
		} else {
			l.Says = append(l.Says, fmt.Sprintf("so that the station makes %s", level(l.Station)))
		}
	}
	if over {
		l.Says = append(l.Says, fmt.Sprintf("that is %.1f dB above the limit of %s", l.Station-l.Limit, level(l.Limit)))
	} else {
		l.Says = append(l.Says, fmt.Sprintf("the limit is %s", level(l.Limit)))
	}
	if over && !asked {
		l.Says = append(l.Says, "nobody gave the limit: it is the usual one, and decides nothing")
	}
	switch {
	case over && unknown:
		l.Says = append(l.Says, "read the level with the air off at the same place: it tells how much of it is the room")
	case over && l.Bound:
		l.Says = append(l.Says, "read again when the other machines stand")
	}
}

func level(v float64) string { return fmt.Sprintf("%.1f dB", v) }

// station is the level of the station alone over all places, for what was expected; NaN where none was read.
func (n Noise) station(rows []Row) float64 {
	sum, count := 0.0, 0
	for _, l := range n.levels(rows) {
		sum += math.Pow(10, l.Station/10)
		count++
	}
	return 10 * math.Log10(sum/float64(count))
}

// places lists where levels were read, each once.
func places(rows []Row) []string {
	var out []string
	for _, r := range rows {
		if r.What == Sound && !slices.ContainsFunc(out, func(s string) bool { return strings.EqualFold(s, r.At) }) {
			out = append(out, r.At)
		}
	}
	return out
}

// energyMean is the mean level at a place with the air on or off; NaN where none was read.
func energyMean(rows []Row, at string, off bool) float64 {
	sum, n := 0.0, 0
	for _, r := range rows {
		if r.What == Sound && strings.EqualFold(r.At, at) && (r.State == AirOff) == off {
			sum += math.Pow(10, r.Value/10)
			n++
		}
	}
	return 10 * math.Log10(sum/float64(n))
}
