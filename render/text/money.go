package text

import (
	"fmt"
	"math"
	"strings"

	leste "leste"
	q "leste/quantity"
	"leste/render/amount"
)

func money(c leste.CostResult, s Style) string {
	var b strings.Builder
	ratio := amount.Band(c.Band, 100)
	switch {
	case !(c.PowerRatio > 0) || math.IsInf(c.PowerRatio, 0):
	case c.BlowerEnergy > 0:
		b.WriteString(s.paragraph("  ", fmt.Sprintf("While both blow, a blower would draw about %s %% of the power that the compressed air takes, for the same thrust from larger outlets.", ratio)))
	default:
		b.WriteString(s.paragraph("  ", fmt.Sprintf("While both blow, the blower draws %s %% of the power that compressed air would take for the same thrust.", ratio)))
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
		add("compressed air of the same thrust, shut off while no containers come: ", c.CompressedEnergy, c.CompressedCost)
	}
	switch { // the hours differ, so that the year has another share than the power
	case c.BlowerEnergy > 0 && c.Energy > 0:
		parts = append(parts, fmt.Sprintf("the blower takes %s of the station's energy", amount.Percent(float64(c.BlowerEnergy/c.Energy))))
	case c.CompressedEnergy > 0 && c.Energy > 0:
		parts = append(parts, fmt.Sprintf("the station takes %s of its energy", amount.Percent(float64(c.Energy/c.CompressedEnergy))))
	}
	if len(parts) > 0 {
		b.WriteString(s.paragraph("  ", sentence(strings.Join(parts, "; "))))
	}
	if c.Unloading > 0 && c.Unloading < 1 {
		b.WriteString(s.paragraph("  ", fmt.Sprintf("The compressor's control gives back about %s of the compressed air's part when it is no longer drawn.", amount.Percent(float64(c.Unloading)))))
	}
	b.WriteString(runningCost(c, s))
	b.WriteString(lifeCycle(c, s))
	return b.String()
}

// runningCost says what the year is made of, where it is more than electricity.
func runningCost(c leste.CostResult, s Style) string {
	y := c.Year
	if y == nil {
		return ""
	}
	var parts []string
	for _, p := range []struct {
		what  string
		money float64
	}{
		{"electricity", y.Electricity},
		{"demand charge", y.Demand},
		{"filters", y.Filters},
		{"belts", y.Belts},
		{"spares", y.Spares},
		{"maintenance", y.Maintenance},
		{"containers rejected for being wet, in the case that decides", y.FalseReject},
	} {
		if p.money > 0 {
			parts = append(parts, p.what+" "+amount.Two(p.money))
		}
	}
	var out string
	if len(parts) > 1 {
		out = s.paragraph("  ", sentence("In that, "+c.Currency+": "+strings.Join(parts, ", ")))
	}
	if y.Emissions > 0 {
		out += s.paragraph("  ", fmt.Sprintf("Carbon dioxide of the electricity: %s t a year.", amount.Two(float64(y.Emissions)/1e3)))
	}
	return out
}

// lifeCycle compares the years with compressed air.
func lifeCycle(c leste.CostResult, s Style) string {
	l := c.Life
	if l == nil {
		return ""
	}
	pays := "the price is never paid back"
	switch {
	case l.Payback == 0:
		pays = "it costs no more to buy"
	case !math.IsInf(l.Payback, 0):
		pays = "the price is paid back in " + amount.Two(l.Payback) + " years"
	}
	gain := func(npv float64) string {
		if npv < 0 {
			return fmt.Sprintf("%s %s more", amount.Two(-npv), c.Currency)
		}
		return fmt.Sprintf("%s %s less", amount.Two(npv), c.Currency)
	}
	text := fmt.Sprintf("Over %s years at %s, with electricity rising by %s a year, in today's money: %s %s for the station, %s %s for compressed air of the same thrust, so %s; %s.",
		amount.Two(l.Years), amount.Percent(float64(l.Discount)), amount.Percent(float64(l.Escalation)), amount.Two(l.Cost), c.Currency, amount.Two(l.Compressed), c.Currency, gain(l.NPV), pays)
	if l.Unloaded < l.NPV {
		text += " With what the compressor's control gives back: " + gain(l.Unloaded) + "."
	}
	return s.paragraph("  ", text+" It is a comparison at equal thrust, not at equal drying.")
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
	return s.paragraph("  ", line+". Measure it on site.") + listener(r.Place, s)
}

// listener is what a person by the station hears.
func listener(p leste.ListenerResult, s Style) string {
	if !(p.Distance > 0) {
		return ""
	}
	return s.paragraph("  ", fmt.Sprintf("A person %s away for %s hears %.0f dB: %s of a day's dose by 29 CFR 1910.95, a daily exposure of %.0f dB (%.0f to %.0f) by directive 2003/10/EC, %s.",
		s.far(p.Distance), show(s, p.Time), float64(p.Level), amount.Percent(float64(p.Dose)), float64(p.Daily), float64(p.DailyLow), float64(p.DailyHigh), p.Action))
}

// far is a distance to walk, in metres or feet.
func (s Style) far(l q.Length) string {
	if s.system() == q.US {
		return q.Typeset(amount.Two(float64(l)/0.3048) + " ft")
	}
	return q.Typeset(amount.Two(float64(l)) + " m")
}

// exhaust is where heat, air and moisture go.
func exhaust(e leste.ExhaustResult, s Style) string {
	if !e.Assessed {
		if !(e.Heat > 0) {
			return ""
		}
		return s.paragraph("  ", fmt.Sprintf("All of the power drawn, %s, ends as heat in the hall. An exhaust is not assessed: no enclosure with its openings is given.", Mains(e.Heat)))
	}
	text := fmt.Sprintf("The enclosure needs an exhaust of %s.", show(s, e.Flow))
	if e.Moisture > 0 {
		text += fmt.Sprintf(" Its air takes up %s g/kg of water.", amount.Two(float64(e.Moisture)*1e3))
	}
	if e.MakeUp > 0 {
		text += fmt.Sprintf(" Heating the air that comes in its stead takes %s.", Mains(e.MakeUp))
	}
	return s.paragraph("  ", text)
}
