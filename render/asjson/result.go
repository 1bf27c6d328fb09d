package asjson

import (
	leste "leste"
	"leste/job"
	"leste/physics/relation"
)

// Schema names the form of the document; it changes when a key changes its meaning or goes away.
const Schema = "leste-assess-1"

type result struct {
	Schema    string     `json:"schema"`
	Job       string     `json:"job"`
	Method    string     `json:"method"`
	Verdict   string     `json:"verdict"`
	Evidence  string     `json:"evidence"`
	Ask       []string   `json:"ask_first"`
	Assumed   []assumed  `json:"assumed"`
	Formats   []format   `json:"formats"`
	AirSupply airSupply  `json:"air_supply"`
	Cost      costs      `json:"cost"`
	Sound     sound      `json:"sound"`
	Exhaust   exhaust    `json:"exhaust"`
	Cases     []caseJSON `json:"cases"`
	Stops     []string   `json:"stops"`
	Helps     []help     `json:"helps"`
	Notes     []note     `json:"notes"`
	Cautions  []string   `json:"cautions"`
	Relations []string   `json:"relations"`
}

type assumed struct {
	Path    string   `json:"path"`
	Value   string   `json:"value"`
	Range   []string `json:"range"` // low and high; null when there is none
	Source  *string  `json:"source"`
	Matters ranking  `json:"matters"`
}

// ranking is null when the value was not ranked.
type ranking float64

// MarshalJSON implements json.Marshaler.
func (r ranking) MarshalJSON() ([]byte, error) {
	if r == 0 {
		return []byte("null"), nil
	}
	return number(r).MarshalJSON()
}

type caseJSON struct {
	Name      string  `json:"name"`
	Format    *string `json:"format"`
	Verdict   string  `json:"verdict"`
	Container band    `json:"container_mg"`
	Reserve   number  `json:"reserve"`
	Note      *string `json:"note"`
	Lacking   *string `json:"air_lacks"` // why no air comes in it, or nobody knows whether it does
}

type help struct {
	What  string `json:"what"`
	Ratio number `json:"water_ratio"` // water left after over before
	IsAir bool   `json:"air"`

	Against []string `json:"against"` // what gives way with it that does not without it, or does so sooner
}

type note struct {
	Severity string  `json:"severity"`
	Relation *string `json:"relation"`
	Text     string  `json:"text"`
	Value    number  `json:"value"`
	Limit    number  `json:"limit"`
	Unit     *string `json:"unit"`
}

// Result writes a result.
func Result(r *leste.Result) ([]byte, error) {
	return document(result{
		Schema: Schema, Job: r.Job, Method: r.Method, Verdict: string(r.Verdict), Evidence: string(r.Evidence),
		Ask:       same(r.Ask),
		Assumed:   list(r.Assumed, assumedOf),
		Formats:   list(r.Formats, formatOf),
		AirSupply: airOf(r.Air),
		Cost:      costOf(r.Cost),
		Sound:     soundOf(r.Sound),
		Exhaust:   exhaustOf(r.Exhaust),
		Cases: list(r.Cases, func(c leste.CaseResult) caseJSON {
			return caseJSON{c.Name, text(c.Format), string(c.Verdict), bandOf(c.Left, mg), number(c.Reserve), text(c.Note), text(c.Lacking)}
		}),
		Stops:     same(r.Stops),
		Helps:     list(r.Helps, func(h leste.Help) help { return help{h.What, number(h.Ratio), h.Air, same(h.Against)} }),
		Notes:     list(r.Notes, noteOf),
		Cautions:  same(r.Cautions),
		Relations: same(r.Relations),
	})
}

func same(in []string) []string { return list(in, func(s string) string { return s }) }

func assumedOf(a job.Assumed) assumed {
	out := assumed{Path: a.Path, Value: a.Value, Source: text(a.Source), Matters: ranking(a.Matters)}
	if a.Low != "" && a.High != "" {
		out.Range = []string{a.Low, a.High}
	}
	return out
}

func noteOf(n relation.Note) note {
	return note{string(n.Severity), text(n.Relation), n.Text, number(n.Value), number(n.Limit), text(n.Unit)}
}
