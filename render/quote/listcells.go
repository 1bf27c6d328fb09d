package quote

import (
	"math"
	"strings"

	"leste/render/scene"
	"leste/station"
)

// tenth is a length in tenths of a millimetre; NaN stays so.
func tenth(v float64) float64 { return math.Round(v*1e4) / 10 }

// tilt is the slope of an outlet in tenths of a degree.
func (in *Input) tilt(p station.Placed) float64 {
	return math.Round(scene.Tilt(p)*1800/math.Pi) / 10
}

// splitCells parts a line of the table of words at its semicolons.
func splitCells(s string) []string {
	cells := strings.Split(s, ";")
	for i := range cells {
		cells[i] = strings.TrimSpace(cells[i])
	}
	return cells
}
