package study

import (
	"fmt"
	"math"

	leste "leste"
	"leste/design"
	"leste/job"
	q "leste/quantity"
	"leste/render/text"
)

// OptionsSchema names the form of the document of options; it changes when a key changes its meaning or goes away.
const OptionsSchema = "leste-options-1"

const unknown = "–"

// Options writes the options of a job side by side, for people.
func Options(rows []design.Row, style text.Style) string {
	heads := []string{""}
	for i := range rows {
		heads = append(heads, rows[i].Name)
	}
	var table [][]string
	add := func(what string, cell func(r *design.Row) string) {
		line := []string{what}
		any := false
		for i := range rows {
			s := ""
			if rows[i].Result != nil {
				s = cell(&rows[i])
			}
			any = any || s != "" && s != unknown
			line = append(line, s)
		}
		if any {
			table = append(table, line)
		}
	}
	mass := func(b q.Band) string {
		f := func(v float64) string { return q.KindMass.FormatDigits(v, q.SI, 2) } // weighed in grams in any units
		return fmt.Sprintf("%s (%s to %s)", f(b.Likely), f(b.Low), f(b.High))
	}
	problems := false
	for i := range rows {
		problems = problems || rows[i].Problem != ""
	}
	if problems {
		line := []string{"no answer"}
		for i := range rows {
			line = append(line, style.Say(rows[i].Problem))
		}
		table = append(table, line)
	}
	add("verdict", func(r *design.Row) string { return string(r.Result.Verdict) })
	add("decided by", func(r *design.Row) string {
		if r.Machine == "" {
			return r.Format
		}
		return r.Format + ", " + r.Machine
	})
	add("water left on it", func(r *design.Row) string { return mass(r.Water) })
	for _, zone := range zonesOf(rows) {
		add("  "+zone, func(r *design.Row) string {
			if z := zoneOf(r, zone); z != nil {
				return mass(z.Left)
			}
			return unknown
		})
	}
	add("reserve", func(r *design.Row) string { return factor(r.Reserve) })
	add("standing", func(r *design.Row) string {
		if r.Gives == "" || math.IsInf(r.Stands, 1) {
			return "nothing pushes"
		}
		return factor(r.Stands) + " before " + r.Gives
	})
	add("power from the grid", func(r *design.Row) string { return power(r.Grid) })
	add("cost a year", func(r *design.Row) string { return digits(r.Cost, 0) })
	add("sound at 1 m", func(r *design.Row) string {
		if math.IsNaN(float64(r.Sound)) {
			return unknown
		}
		return fmt.Sprintf("%.0f dB", float64(r.Sound))
	})
	add("length on the conveyor", func(r *design.Row) string { return q.Format(r.Length, style.Units) })
	same := func(cell func(e *design.Equal) string) func(r *design.Row) string {
		return func(r *design.Row) string {
			if r.Equal == nil {
				return ""
			}
			return cell(r.Equal)
		}
	}
	add("for as much water as the first: plenum pressure", same(func(e *design.Equal) string {
		if e.Why != "" {
			return style.Say(e.Why)
		}
		return fmt.Sprintf("times %.2g", e.Pressure)
	}))
	add("  power from the grid", same(func(e *design.Equal) string { return power(e.Grid) }))
	add("  cost a year", same(func(e *design.Equal) string { return digits(e.Cost, 0) }))
	return "Options side by side (what sets them apart is surer than the levels)\n" + text.Table(style, heads, table)
}

func power(p q.Power) string {
	if math.IsNaN(float64(p)) {
		return unknown
	}
	return text.Mains(p)
}

func digits(v float64, decimals int) string {
	switch {
	case math.IsNaN(v):
		return unknown
	case math.IsInf(v, 0):
		return "nothing asked"
	}
	return fmt.Sprintf("%.*f", decimals, v)
}

// factor writes a reserve, or a resistance over a push.
func factor(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return digits(v, 0)
	}
	return reserve(v)
}

// zonesOf lists the zones of the formats that decide, in their order.
func zonesOf(rows []design.Row) []string {
	var out []string
	seen := map[string]bool{job.ZoneAll: true}
	for i := range rows {
		if f := formatOf(&rows[i]); f != nil {
			for z := range f.Zones {
				if name := f.Zones[z].Name; !seen[name] {
					seen[name] = true
					out = append(out, name)
				}
			}
		}
	}
	return out
}

func formatOf(r *design.Row) *leste.FormatResult {
	if r.Result == nil {
		return nil
	}
	for i := range r.Result.Formats {
		if r.Result.Formats[i].Name == r.Format {
			return &r.Result.Formats[i]
		}
	}
	return nil
}

func zoneOf(r *design.Row, zone string) *leste.ZoneResult {
	if f := formatOf(r); f != nil {
		for i := range f.Zones {
			if f.Zones[i].Name == zone {
				return &f.Zones[i]
			}
		}
	}
	return nil
}

type optionsDocument struct {
	Schema  string   `json:"schema"`
	Options []option `json:"options"`
}

type option struct {
	Name     string       `json:"name"`
	Problem  *string      `json:"problem"`
	Verdict  *string      `json:"verdict"`
	Format   *string      `json:"format"`
	Machine  *string      `json:"machine"`
	Water    *amountOf    `json:"container_mg"`
	Zones    []zoneAmount `json:"zones"`
	Reserve  number       `json:"reserve"`
	Stands   number       `json:"stands_factor"`
	Gives    *string      `json:"gives_way"`
	Grid     number       `json:"grid_w"`
	CostYear number       `json:"cost_year"`
	Sound    number       `json:"at_1_m_db"`
	Length   number       `json:"length_mm"`
	Equal    *equalWater  `json:"at_equal_water"`
}

type amountOf struct {
	Likely number `json:"likely"`
	Low    number `json:"low"`
	High   number `json:"high"`
}

type zoneAmount struct {
	Name  string   `json:"name"`
	Water amountOf `json:"water_left_mg"`
}

type equalWater struct {
	Problem  *string `json:"problem"`
	Pressure number  `json:"plenum_pressure_ratio"`
	Grid     number  `json:"grid_w"`
	CostYear number  `json:"cost_year"`
}

// OptionsJSON writes the options of a job side by side as one document.
func OptionsJSON(rows []design.Row) ([]byte, error) {
	d := optionsDocument{OptionsSchema, list(rows, func(r design.Row) option {
		o := option{
			Name: r.Name, Problem: orNull(r.Problem), Format: orNull(r.Format), Machine: orNull(r.Machine), Zones: []zoneAmount{},
			Reserve: number(r.Reserve), Stands: number(r.Stands), Gives: orNull(r.Gives), Grid: number(r.Grid), CostYear: number(r.Cost),
			Sound: number(r.Sound), Length: number(r.Length.MM()),
		}
		if r.Result != nil {
			w := milligrams(r.Water)
			o.Verdict, o.Water = orNull(string(r.Result.Verdict)), &w
		} else {
			o.Length = number(math.NaN())
		}
		if f := formatOf(&r); f != nil {
			o.Zones = list(f.Zones, func(z leste.ZoneResult) zoneAmount { return zoneAmount{z.Name, milligrams(z.Left)} })
		}
		if e := r.Equal; e != nil {
			o.Equal = &equalWater{orNull(e.Why), number(e.Pressure), number(e.Grid), number(e.Cost)}
		}
		return o
	})}
	return written(d)
}

func milligrams(b q.Band) amountOf {
	const mg = 1e6
	return amountOf{number(b.Likely * mg), number(b.Low * mg), number(b.High * mg)}
}
