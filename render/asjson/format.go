package asjson

import (
	leste "leste"
)

type format struct {
	Name      string         `json:"name"`
	Verdict   string         `json:"verdict"`
	Case      *string        `json:"case"`
	Speed     number         `json:"speed_m_s"`
	Pitch     number         `json:"pitch_mm"`
	Machine   *string        `json:"machine"`
	Container band           `json:"container_mg"`
	Zones     []zone         `json:"zones"`
	Stability map[string]way `json:"stability"`
	Balance   balance        `json:"balance"`
	Why       *string        `json:"why"`
}

type zone struct {
	Name         string            `json:"name"`
	Area         number            `json:"area_mm2"`
	PerArea      band              `json:"water_left_g_m2"`
	Left         band              `json:"water_left_mg"`
	Largest      band              `json:"largest_drop_mm"`
	Cause        *string           `json:"main_cause"`
	Where        *string           `json:"where"`
	Parts        map[string]number `json:"parts_mg"`
	Requirements []requirement     `json:"requirements"`
}

type requirement struct {
	Machine string  `json:"machine"`
	Judges  string  `json:"judges"` // water, mass, drop, rejects
	Limit   number  `json:"limit"`
	Value   band    `json:"value"`
	Unit    string  `json:"unit"`
	Verdict string  `json:"verdict"`
	Reserve number  `json:"reserve"`
	Case    *string `json:"case"`
}

type way struct {
	Factor number  `json:"factor"`
	Case   *string `json:"case"`
	At     number  `json:"at_mm"`
	Needs  *string `json:"needs"`
}

type balance struct {
	In         number `json:"in_mg"`
	Left       number `json:"left_mg"`
	BlownOff   number `json:"blown_off_mg"`
	Mist       number `json:"mist_mg"`
	Evaporated number `json:"evaporated_mg"`
	Condensed  number `json:"condensed_mg"`
	Dripped    number `json:"dripped_mg"`
	Closure    number `json:"closure"`
}

// judged says in which unit a requirement is written.
var judged = map[string]struct {
	unit  string
	perSI float64
}{
	"water":   {"g/m2", gramM2},
	"mass":    {"mg", mg},
	"drop":    {"mm", mm},
	"rejects": {"%", percent},
}

func formatOf(f leste.FormatResult) format {
	stability := map[string]way{}
	for _, p := range f.Standing {
		stability[key(p.Way)] = way{number(p.Factor), text(p.Case), times(p.At, mm), text(p.Needs)}
	}
	b := f.Balance
	return format{
		Name: f.Name, Verdict: string(f.Verdict), Case: text(f.Case), Speed: number(f.Speed), Pitch: times(f.Pitch, mm),
		Machine: text(f.Machine), Container: bandOf(f.Container, mg), Zones: list(f.Zones, zoneOf), Stability: stability,
		Balance: balance{
			times(b.In, mg), times(b.Left, mg), times(b.BlownOff, mg), times(b.Mist, mg),
			times(b.Evaporated, mg), times(b.Condensed, mg), times(b.Dripped, mg), number(b.Closure),
		},
		Why: text(f.Why),
	}
}

func zoneOf(z leste.ZoneResult) zone {
	parts := map[string]number{}
	for cause, mass := range z.Parts {
		parts[key(cause)] = times(mass, mg)
	}
	return zone{
		Name: z.Name, Area: times(z.Area, mm*mm), PerArea: bandOf(z.PerArea, gramM2), Left: bandOf(z.Left, mg),
		Largest: bandOf(z.Largest, mm), Cause: text(z.Cause), Where: text(z.Where), Parts: parts,
		Requirements: list(z.Requirements, requirementOf),
	}
}

func requirementOf(r leste.RequirementResult) requirement {
	u, ok := judged[r.Quantity]
	if !ok {
		u.unit, u.perSI = r.Unit, 1
	}
	return requirement{
		Machine: r.Machine, Judges: r.Quantity, Limit: times(r.Limit, u.perSI), Value: bandOf(r.Value, u.perSI),
		Unit: u.unit, Verdict: string(r.Verdict), Reserve: number(r.Reserve), Case: text(r.Case),
	}
}

// key writes words as a key: "held back" becomes held_back.
func key(words string) string {
	out := []byte(words)
	for i, c := range out {
		if c == ' ' || c == '-' {
			out[i] = '_'
		}
	}
	return string(out)
}
