package study

import (
	"bytes"
	"encoding/json"
	"math"
	"strconv"

	"leste/design"
	q "leste/quantity"
	"leste/render/text"
)

// Schema names the form of the document; it changes when a key changes its meaning or goes away.
const Schema = "leste-design-1"

type document struct {
	Schema      string       `json:"schema"`
	Job         string       `json:"job"`
	Goal        string       `json:"goal"`
	Works       bool         `json:"works"`
	Interrupted bool         `json:"interrupted"`
	Aside       *string      `json:"no_station_can"`
	Seed        uint64       `json:"seed"`
	Candidates  int          `json:"candidates"`
	Concepts    []concept    `json:"concepts"`
	Least       *string      `json:"least_change"` // concept; of a station that exists
	Trade       []point      `json:"trade_off"`
	Breaks      []breakPoint `json:"breaks"`
	Miss        *miss        `json:"miss"`
	Reasons     []string     `json:"reasons"`
	Endings     []ending     `json:"seeds"` // none where one was searched from
}

type ending struct {
	Seed     uint64  `json:"seed"`
	Concept  *string `json:"concept"`
	Goal     string  `json:"goal"`
	Works    bool    `json:"works"`
	CostYear number  `json:"cost_year"`
}

type concept struct {
	Concept     string      `json:"concept"`
	What        string      `json:"what"`
	Works       bool        `json:"works"`
	Sure        bool        `json:"every_case_assessed"`
	Verdict     *string     `json:"verdict"`
	Method      *string     `json:"method"`
	File        *string     `json:"job_file"`
	Plenum      number      `json:"plenum_pa"`
	CostYear    number      `json:"cost_year"`
	Grid        number      `json:"grid_w"`
	Reserve     number      `json:"reserve"`
	Blower      *string     `json:"blower"`
	Binds       *string     `json:"binds"`
	Fails       *string     `json:"fails_on"`
	Length      number      `json:"length_mm"`
	Hood        number      `json:"hood_needed_db"`
	Changeovers int         `json:"changeovers"`
	Remarks     []string    `json:"remarks"`
	Settings    []setting   `json:"settings"`
	Variables   []departure `json:"variables"`
}

type setting struct {
	Format    string `json:"format"`
	Group     string `json:"outlets"`
	Height    number `json:"height_mm"`
	Clearance number `json:"distance_mm"`
	Changes   bool   `json:"changes"`
}

type departure struct {
	Variable string  `json:"variable"`
	Format   *string `json:"format"`
	Value    string  `json:"value"`
	Rule     string  `json:"rule"`
	RuleOf   string  `json:"rule_rests_on"`
	Departs  bool    `json:"departs"`
}

type point struct {
	Concept string `json:"concept"`
	Cost    number `json:"cost_year"`
	Grid    number `json:"grid_w"`
	Reserve number `json:"reserve"`
	Plenum  number `json:"plenum_pa"`
}

type breakPoint struct {
	Input string  `json:"input"`
	Way   string  `json:"way"`
	Value string  `json:"as_designed"`
	Move  string  `json:"move"`
	Free  bool    `json:"nothing_breaks"`
	Share number  `json:"share_of_examined"`
	Then  *string `json:"beyond"` // what happens just beyond; null where nothing breaks
}

type miss struct {
	Concept string   `json:"concept"`
	Binds   string   `json:"binds"`
	Case    *string  `json:"case"`
	Limit   *string  `json:"limit"`
	Value   *string  `json:"value"`
	Over    number   `json:"value_over_limit"`
	Out     *string  `json:"out_of_reach"`
	Changes []remedy `json:"changes"`
}

type remedy struct {
	What  string `json:"what"`
	Left  number `json:"water_ratio"`
	IsAir bool   `json:"air"`
	Alone bool   `json:"enough_alone"`

	Against []string `json:"against"` // what gives way with it that does not without it, or does so sooner
}

// JSON writes a study as one document. files names the job file of each concept, by the concept's name. Sentences are
// typeset as those of the text; values that stand by themselves are as a job file writes them.
func JSON(s *design.Study, files map[string]string) ([]byte, error) {
	style := named(s, text.Style{Units: q.SI})
	d := document{
		Schema: Schema, Job: s.Job, Goal: s.Goal, Interrupted: s.Interrupted, Seed: s.Seed, Candidates: s.Candidates,
		Works:    s.Best() != nil && s.Best().Works,
		Concepts: list(s.Found, func(f design.Found) concept { return conceptOf(f, files[f.Concept], style) }),
		Trade: list(s.Front, func(p design.Point) point {
			return point{p.Concept, number(p.Cost), number(p.Power), number(p.Reserve), number(p.Plenum)}
		}),
		Breaks: list(s.Breaks, func(b design.Break) breakPoint {
			return breakPoint{b.Input, way(b), b.Kind.Format(b.Value, q.SI), moved(b, q.SI), b.Free, number(b.Share), orNull(b.Then)}
		}),
		Reasons: list(s.Reasons, style.Say),
		Endings: list(s.Endings, func(e design.Ending) ending {
			return ending{e.Seed, orNull(e.Concept), e.Goal, e.Works, number(e.Cost)}
		}),
	}
	d.Aside = orNull(style.Say(s.Aside))
	if s.Least != nil {
		d.Least = orNull(s.Least.Concept)
	}
	if m := s.Miss; m != nil {
		d.Miss = &miss{
			m.Concept, style.Say(m.Binds), orNull(m.Case), orNull(m.Limit), orNull(m.Value), number(m.Over), orNull(style.Say(m.Out)),
			list(m.Changes, func(r design.Remedy) remedy {
				return remedy{style.Say(r.What), number(r.Left), r.IsAir, r.Alone, list(r.Against, style.Say)}
			}),
		}
	}
	return written(d)
}

// written is one document as text, letters as they are.
func written(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(v); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

func conceptOf(f design.Found, file string, style text.Style) concept {
	cost, grid := number(f.Cost), number(f.Power)
	if f.Cost == 0 {
		cost, grid = number(math.NaN()), number(math.NaN())
	}
	return concept{
		Concept: f.Concept, What: f.What, Works: f.Works, Sure: f.Sure, Verdict: orNull(string(f.Verdict)), Method: orNull(f.Method), File: orNull(file),
		Plenum: number(f.Pressure), CostYear: cost, Grid: grid, Reserve: number(f.Reserve), Blower: orNull(f.Blower),
		Binds: orNull(style.Say(f.Binds)), Fails: orNull(style.Say(f.Fails)), Length: number(f.Length.MM()), Hood: number(f.Hood), Changeovers: f.Changeovers,
		Remarks: list(f.Remarks, func(r design.Remark) string { return remark(r.Text, style) }),
		Settings: list(f.Settings, func(s design.Setting) setting {
			return setting{s.Format, s.Group, number(s.Height.MM()), number(s.Clearance.MM()), s.Changes}
		}),
		Variables: list(f.Departures, func(d design.Departure) departure {
			return departure{d.Variable, orNull(d.Format), d.Value, d.Rule, style.Say(d.RuleOf), d.Departs}
		}),
	}
}

// number is written with seven significant digits, and as null when it is not known or has no end.
type number float64

// MarshalJSON implements json.Marshaler.
func (n number) MarshalJSON() ([]byte, error) {
	x := float64(n)
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return []byte("null"), nil
	}
	return []byte(strconv.FormatFloat(round(x), 'g', -1, 64)), nil
}

func round(x float64) float64 {
	short, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 7, 64), 64)
	if err != nil {
		return x
	}
	return short
}

// orNull is a string that is null when it is empty.
func orNull(s string) *string {
	if s == "" {
		return nil
	}
	return &s
}

// list is never null: a list without entries is [].
func list[T, S any](in []S, f func(S) T) []T {
	out := make([]T, len(in))
	for i, s := range in {
		out[i] = f(s)
	}
	return out
}
