package text

import (
	"fmt"

	"leste/cost"
	q "leste/quantity"
	"leste/render/amount"
)

// Survey writes a plant's blow-offs, the greatest saving first; top bounds the rows shown, 0 shows all.
func Survey(r cost.SurveyResult, top int, s Style) string {
	shown := len(r.Rows)
	if top > 0 {
		shown = min(shown, top)
	}
	rows := make([][]string, shown)
	for i, row := range r.Rows[:shown] {
		rows[i] = []string{
			row.Tag, row.Purpose, show(s, row.FreeAir), show(s, row.Power), show(s, row.Blower),
			amount.Band(row.Cost, 1), amount.Band(row.BlowerCost, 1), amount.Band(row.Saving, 1),
		}
	}
	money := r.Currency + " a year"
	places := "places blow"
	if len(r.Rows) == 1 {
		places = "place blows"
	}
	text := fmt.Sprintf("%d %s compressed air: %s, %s from the mains.\n", len(r.Rows), places, bandOf(r.Cost, money), yearly(r.Energy))
	text += fmt.Sprintf("A blower of the same thrust at each: %s; saving %s.\n\n", bandOf(r.BlowerCost, money), bandOf(r.Saving, money))
	text += Table(s, []string{"place", "purpose", "free air", "compressor", "blower", "cost, " + money, "with a blower", "saving"}, rows)
	if shown < len(r.Rows) {
		text += fmt.Sprintf("and %d more\n", len(r.Rows)-shown)
	}
	return text + s.paint(faint, "Bands are those of flow and specific power; a saving with a low end below zero is not sure.") + "\n"
}

func bandOf(b q.Band, unit string) string { return amount.Band(b, 1) + " " + unit }
