package text

import (
	"fmt"
	"math"
	"strings"

	leste "leste"
	q "leste/quantity"
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
	b.WriteString(s.section("Energy and money", money(r.Cost, s)))
	b.WriteString(s.section("Sound", sound(r.Sound, s)))
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

func money(c leste.CostResult, s Style) string {
	var b strings.Builder
	ratio := amount.Band(c.Band, 100)
	switch {
	case !(c.PowerRatio > 0) || math.IsInf(c.PowerRatio, 0):
	case c.BlowerEnergy > 0:
		b.WriteString(s.paragraph("  ", fmt.Sprintf("A blower would need about %s %% of what the compressed air takes, for the same thrust from larger outlets.", ratio)))
	default:
		b.WriteString(s.paragraph("  ", fmt.Sprintf("The blower needs %s %% of what compressed air would need for the same thrust.", ratio)))
	}
	var parts []string
	add := func(what string, e q.Energy, money float64) {
		if !(e > 0) {
			return
		}
		part := what + yearly(e)
		if money > 0 {
			part += fmt.Sprintf(", %s %s", amount.Two(money), c.Currency)
		}
		parts = append(parts, part)
	}
	add("a year: ", c.Energy, c.Cost)
	if math.IsNaN(float64(c.Energy)) {
		parts = append(parts, "what the station takes is not known without its blower")
	}
	if c.BlowerEnergy > 0 {
		add("a blower: ", c.BlowerEnergy, c.BlowerCost)
	} else {
		add("compressed air of the same thrust: ", c.CompressedEnergy, c.CompressedCost)
	}
	if len(parts) > 0 {
		b.WriteString(s.paragraph("  ", sentence(strings.Join(parts, "; "))))
	}
	return b.String()
}

func yearly(e q.Energy) string { return amount.Two(float64(e)/3.6e6) + " kWh" }

func sound(r leste.SoundResult, s Style) string {
	if !r.Assessed {
		return ""
	}
	line := fmt.Sprintf("%.0f dB (%.0f to %.0f) at 1 m, A-weighted", float64(r.At1m), float64(r.Low), float64(r.High))
	if r.Limit > 0 {
		line += fmt.Sprintf(" where at most %.0f dB is allowed: %s", float64(r.Limit), s.verdict(r.Verdict))
	}
	return s.paragraph("  ", line+". Measure it on site.")
}
