package quote

import (
	"math"
	"strings"

	q "leste/quantity"
	"leste/render/scene"
	"leste/station"
)

// tilt is the slope of an outlet in tenths of a degree.
func (in *Input) tilt(p station.Placed) float64 {
	return q.Unsigned(math.Round(scene.Tilt(p)*1800/math.Pi) / 10)
}

// splitCells parts a line of the table of words at its semicolons.
func splitCells(s string) []string {
	cells := strings.Split(s, ";")
	for i := range cells {
		cells[i] = strings.TrimSpace(cells[i])
	}
	return cells
}
