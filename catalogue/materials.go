package catalogue

import (
	"fmt"
	"math"
	"strings"

	q "leste/quantity"
)

// A Material is a wall and how water sits on it. Angles are of clean water at room temperature, likely value
// with the range met in practice [rad].
type Material struct {
	Name                string
	Also                []string // other names it goes by
	Advancing, Receding q.Band
	Conductance         q.HeatTransfer // from the wetted face to the product, its own film included
	Source              string
}

// Water qualities that change the angles.
const (
	WaterClean      = "clean"
	WaterSyrup      = "syrup"
	WaterSurfactant = "surfactant"
)

const anglesSource = "contact angles: common practice, no source; measure them on site"

func degrees(likely, low, high float64) q.Band {
	return q.Band{Likely: likely * math.Pi / 180, Low: low * math.Pi / 180, High: high * math.Pi / 180}
}

// Materials returns the wall materials of the catalogue.
func Materials() []Material {
	return []Material{
		{
			"PET", nil, degrees(80, 70, 90), degrees(50, 40, 60), 200,
			"static angle 80 degrees on untreated PET: published: Materials 13, 508 (2020), table 1; receding angle: common practice, no source",
		},
		{"lacquered aluminium", []string{"aluminium", "aluminum", "lacquer"}, degrees(80, 70, 90), degrees(40, 30, 55), 300, anglesSource},
		{"printed aluminium", []string{"overvarnished aluminium", "print"}, degrees(85, 75, 95), degrees(50, 40, 60), 300, anglesSource},
		{"bare aluminium", nil, degrees(50, 30, 70), degrees(10, 0, 20), 300, anglesSource},
		{"glass", []string{"clean glass"}, degrees(20, 0, 35), degrees(5, 0, 10), 150, anglesSource},
		{"coated glass", []string{"cold-end coated glass"}, degrees(65, 50, 80), degrees(35, 20, 50), 150, anglesSource},
		{"PP", []string{"polypropylene"}, degrees(100, 95, 108), degrees(82, 75, 90), 30, anglesSource},
		{"HDPE", []string{"polyethylene", "PE"}, degrees(100, 95, 108), degrees(82, 75, 90), 30, anglesSource},
		{"lacquered tinplate", []string{"tinplate", "steel"}, degrees(80, 70, 90), degrees(45, 35, 55), 300, anglesSource},
	}
}

// MaterialNamed finds a material by its name or one of its other names, whatever the case. The error lists
// what there is and names the nearest.
func MaterialNamed(name string) (Material, error) {
	want := strings.ToLower(strings.TrimSpace(name))
	var names []string
	for _, m := range Materials() {
		names = append(names, m.Name)
		if strings.ToLower(m.Name) == want {
			return m, nil
		}
		for _, a := range m.Also {
			if strings.ToLower(a) == want {
				return m, nil
			}
		}
	}
	return Material{}, unknown("material", name, names)
}

// In returns the material as water of a quality wets it: residues of detergent or lubricant lower both
// angles; sugar moves the advancing one little and pins the receding line.
func (m Material) In(water string) Material {
	shift := func(b q.Band, f, add float64) q.Band {
		c := func(v float64) float64 { return math.Max(0, v*f+add*math.Pi/180) }
		return q.Band{Likely: c(b.Likely), Low: c(b.Low), High: c(b.High)}
	}
	switch water {
	case WaterSurfactant:
		// PET 80/50 becomes 65/30: the pair known from practice sets both factors.
		m.Advancing, m.Receding = shift(m.Advancing, 65.0/80, 0), shift(m.Receding, 30.0/50, 0)
		m.Source += "; lowered by residues: common practice, no source"
	case WaterSyrup:
		m.Receding = shift(m.Receding, 0.8, 0)
		m.Source += "; receding angle lowered by sugar: judgement"
	}
	return m
}

// unknown says that a name is not in the catalogue, lists those that are and points to the nearest.
func unknown(kind, name string, names []string) error {
	if name == "" {
		return fmt.Errorf("no %s is named; %s are known", kind, strings.Join(names, ", "))
	}
	if near := nearest(name, names); near != "" {
		return fmt.Errorf("the %s %q is not in the catalogue; did you mean %q? Known: %s", kind, name, near, strings.Join(names, ", "))
	}
	return fmt.Errorf("the %s %q is not in the catalogue; known: %s", kind, name, strings.Join(names, ", "))
}

// nearest is the known name with the fewest edits from name, "" when all are far.
func nearest(name string, names []string) string {
	name = strings.ToLower(name)
	best, at := 1+len(name)/2, ""
	for _, n := range names {
		if d := edits(name, strings.ToLower(n)); d < best {
			best, at = d, n
		}
	}
	return at
}

// edits is the number of single-letter changes between two words.
func edits(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			cost := 1
			if a[i] == b[j] {
				cost = 0
			}
			next := min(row[j+1]+1, row[j]+1, diagonal+cost)
			diagonal, row[j+1] = row[j+1], next
		}
	}
	return row[len(b)]
}
