package text

import (
	"strings"

	leste "leste"
	"leste/render/amount"
)

// airReport is the air side: outlets, blowers, losses, cost and sound.
func airReport(r *leste.Result, s Style) string {
	var b strings.Builder
	b.WriteString(s.section("Air at the outlets", outlets(r.Air, s)))
	b.WriteString(s.section("Blowers", blowers(r.Air, s)))
	b.WriteString(s.section("Where the pressure goes", losses(r.Air, s)))
	if r.Air.Limits != "" {
		b.WriteString(s.paragraph("  ", sentence(r.Air.Limits)))
	}
	b.WriteString(supplyReport(r, s))
	b.WriteString(s.section("Energy and money", money(r.Cost, s)))
	b.WriteString(s.section("Sound", sound(r.Sound, s)))
	b.WriteString(s.section("Heat and exhaust", exhaust(r.Exhaust, s)))
	return b.String()
}

func outlets(a leste.AirResult, s Style) string {
	rows := make([][]string, len(a.Outlets))
	for i, o := range a.Outlets {
		rows[i] = []string{
			o.Name, o.Station, show(s, o.Plenum), show(s, o.Jet), show(s, o.Flow), show(s, o.Thrust),
			amount.Percent(float64(o.NonUniformity)), show(s, o.Temperature),
		}
	}
	return Table(s, []string{"outlet", "station", "plenum", "jet", "flow", "thrust", "uneven by", "air"}, rows)
}

func blowers(a leste.AirResult, s Style) string {
	rows := make([][]string, len(a.Blowers))
	for i, b := range a.Blowers {
		rows[i] = []string{
			b.Name, amount.Percent(b.SpeedRatio), show(s, b.Inlet), show(s, b.Rise), show(s, b.Discharge),
			show(s, b.Shaft), show(s, b.Grid), show(s, b.Motor), amount.Percent(float64(b.Reserve)),
		}
	}
	return Table(s, []string{"blower", "speed", "inlet flow", "rise", "discharge", "shaft", "mains", "motor", "reserve"}, rows)
}

func losses(a leste.AirResult, s Style) string {
	rows := make([][]string, len(a.Parts))
	for i, p := range a.Parts {
		rows[i] = []string{p.Name, show(s, p.Loss), amount.Percent(float64(p.Share))}
	}
	return Table(s, []string{"part", "loss", "share"}, rows)
}
