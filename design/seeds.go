package design

import (
	"context"
	"fmt"
	"math"
	"strings"

	"leste/job"
)

// An Ending is what the search from one seed ends at.
type Ending struct {
	Seed    uint64
	Concept string  // of the best station; "" where nothing can be laid out
	Goal    string  // GoalMet or GoalLikely
	Works   bool    // the station meets the goal
	Cost    float64 // per year, in the job's currency
}

// SearchSeeds searches from several seeds, one after the other from that of the options on, and gives the study that ends
// best: at what works, at whole bands within their limits, at the least cost. How far apart they end tells how sure one
// search is. Where it is cancelled, the best of the searches that have ended is given, or else the one that was on its way.
// Errors are those of Search; a saved state goes on from one seed.
func SearchSeeds(ctx context.Context, j *job.Job, o Options, seeds int) (*Study, error) {
	if seeds <= 1 {
		return Search(ctx, j, o)
	}
	var best *Study
	var endings []Ending
	progress := o.Progress
	for k := range seeds {
		now := o
		now.Seed = o.Seed + uint64(k)
		if progress != nil {
			now.Progress = func(done, total float64, so string) {
				progress(float64(k)+done/total, float64(seeds), fmt.Sprintf("seed %d, %s", now.Seed, so))
			}
		}
		study, err := Search(ctx, j, now)
		if err != nil {
			if ctx.Err() != nil && best != nil {
				break
			}
			return nil, err
		}
		if study.Interrupted {
			if best == nil {
				return study, nil
			}
			break
		}
		end := Ending{Seed: study.Seed, Goal: study.Goal}
		if b := study.Best(); b != nil {
			end.Concept, end.Works, end.Cost = b.Concept, b.Works, b.Cost
		}
		if endings = append(endings, end); best == nil || study.ahead(best) {
			best = study
		}
	}
	filled := job.Clone(j)
	job.Fill(filled)
	best.Endings = endings
	best.Reasons = append(best.Reasons, best.amongSeeds(seeds, filled.Cost.Currency))
	return best, nil
}

// ahead says whether a study ends better than another: both as a station, and as what is asked of it.
func (s *Study) ahead(o *Study) bool {
	a, b := s.Best(), o.Best()
	switch {
	case a == nil || b == nil:
		return a != nil
	case a.Works == b.Works && a.Works && s.Goal != o.Goal:
		return s.Goal == GoalMet
	}
	return a.ahead(b)
}

// amongSeeds says what the searches from other seeds ended at.
func (s *Study) amongSeeds(asked int, currency string) string {
	best := s.Best()
	low, high, dearer, likely, fail := math.Inf(1), 0.0, 0, 0, 0
	for _, e := range s.Endings {
		switch {
		case e.Seed == s.Seed:
		case !e.Works:
			fail++
		case e.Goal != s.Goal:
			likely++
		default:
			dearer++
			low, high = min(low, e.Cost), max(high, e.Cost)
		}
	}
	first, last := s.Endings[0].Seed, s.Endings[len(s.Endings)-1].Seed
	text := fmt.Sprintf("Of the searches from seeds %d to %d this one, from seed %d, ", first, last, s.Seed)
	if best == nil || !best.Works {
		text += "comes closest; none finds what works"
	} else {
		text += "ends best"
	}
	var others []string
	add := func(n int, at string) {
		if n > 0 {
			others = append(others, fmt.Sprintf("%d %s at %s", n, map[bool]string{true: "ends", false: "end"}[n == 1], at))
		}
	}
	if math.Round(low) < math.Round(high) {
		add(dearer, fmt.Sprintf("%.0f to %.0f %s a year", low, high, currency))
	} else {
		add(dearer, fmt.Sprintf("%.0f %s a year", high, currency))
	}
	add(likely, "what keeps the likely values alone")
	if best != nil && best.Works {
		add(fail, "nothing that works")
	}
	if len(others) > 0 {
		text += "; of the others " + strings.Join(others, ", ")
	}
	if n := len(s.Endings); n < asked {
		text += fmt.Sprintf("; %d more were not searched from, as it was interrupted", asked-n)
	}
	return text + "."
}
