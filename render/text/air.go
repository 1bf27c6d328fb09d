package text

import (
	"cmp"
	"slices"
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
	b.WriteString(s.section("Where the pressure goes", losses(r.Air, len(r.Formats) == 0, s)))
	if r.Air.Limits != "" {
		b.WriteString(s.paragraph("  ", sentence("what limits the air supply first: "+r.Air.Limits)))
	}
	b.WriteString(supplyReport(r, s))
	b.WriteString(s.section("Energy and money", money(r.Cost, s)))
	b.WriteString(s.section("Sound", sound(r.Sound, s)))
	b.WriteString(s.section("Heat and exhaust", exhaust(r.Exhaust, s)))
	return b.String()
}

func outlets(a leste.AirResult, s Style) string {
	rows := make([][]string, len(a.Outlets))
	var plenums, flows, thrusts []float64
	for _, o := range a.Outlets {
		plenums, flows, thrusts = append(plenums, float64(o.Plenum)), append(flows, float64(o.Flow)), append(thrusts, float64(o.Thrust))
	}
	plenum, flow, thrust := s.Column(q.KindGauge, plenums...), s.Column(q.KindMassFlow, flows...), s.Column(q.KindForce, thrusts...)
	for i, o := range a.Outlets {
		rows[i] = []string{
			o.Name, o.Station, plenum(plenums[i]), show(s, o.Jet), flow(flows[i]), thrust(thrusts[i]),
			amount.Band(o.Uneven, 100) + " %", show(s, o.Temperature),
		}
	}
	return Table(s, []string{"outlet", "station", "plenum", "jet", "flow", "thrust", "uneven by", "air"}, rows)
}

func blowers(a leste.AirResult, s Style) string {
	rows := make([][]string, len(a.Blowers))
	for i, b := range a.Blowers {
		rows[i] = []string{
			b.Name, amount.Percent(b.SpeedRatio), show(s, b.Inlet), show(s, b.Rise), show(s, b.Discharge),
			show(s, b.Shaft), Mains(b.Grid), show(s, b.Motor), amount.Percent(float64(b.Reserve)),
		}
	}
	table := Table(s, []string{"blower", "speed", "inlet flow", "rise", "discharge", "shaft", "mains", "motor", "reserve"}, rows)
	if len(rows) > 0 {
		table += s.paragraph("  ", "The motor's reserve is on the greatest power that may be asked of it, at any flow of its blower on the coldest day, which is more than any case draws; the rest is the nominal case.")
	}
	return table
}

// losses follows the rise of each blower along the way to the outlet that gets the least pressure, and then lists what
// lies beside it; for a job of the air side alone with the elements that lose most of it in each branch.
func losses(a leste.AirResult, alone bool, s Style) string {
	var rows [][]string
	written := s.Column(q.KindPressureDrop, a.TableOfLosses()...)
	add := func(name string, loss q.PressureDrop, share q.Ratio, branch string) {
		row := []string{name, written(float64(loss)), amount.Percent(float64(share)), "", "", ""}
		if i := slices.IndexFunc(a.Parts, func(p leste.LossResult) bool { return p.Name == branch }); alone && i >= 0 && branch != "" {
			copy(row[3:], []string{show(s, a.Parts[i].Flow), show(s, a.Parts[i].Speed), greatest(a.Parts[i], written)})
		}
		rows = append(rows, row)
	}
	for _, w := range a.Ways {
		for _, p := range w.Parts {
			switch p.Kind {
			case leste.PartBranch:
				add(p.Name, p.Loss, p.Share, p.Name)
			case leste.PartEntry:
				add("entry of the blower", p.Loss, p.Share, "")
			case leste.PartFlap:
				add("non-return flap", p.Loss, p.Share, "")
			case leste.PartOutlet:
				add(p.Name+": plenum and jet", p.Loss, p.Share, "")
			default:
				add(p.Kind, p.Loss, p.Share, "")
			}
		}
		add("sum: rise of "+w.Blower, w.Rise, 1, "")
	}
	for _, p := range a.Beside() {
		name := p.Name
		if len(a.Ways) > 0 {
			name = "beside it: " + name
		}
		add(name, p.Loss, p.Share, p.Name)
	}
	return Table(s, []string{"part", "loss", "share", "flow", "fastest", "of it"}, rows)
}

// greatest names the two elements of a branch that lose most, in the unit of the losses around them.
func greatest(p leste.LossResult, written func(float64) string) string {
	all := slices.Clone(p.Elements)
	if p.Junction > 0 {
		all = append(all, leste.ElementLoss{Kind: "junction", Loss: p.Junction})
	}
	slices.SortStableFunc(all, func(a, b leste.ElementLoss) int { return cmp.Compare(b.Loss, a.Loss) })
	var parts []string
	for i, e := range all {
		if i < 2 {
			parts = append(parts, e.Kind+" "+written(float64(e.Loss)))
		}
	}
	return strings.Join(parts, ", ")
}
