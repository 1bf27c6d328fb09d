package scene

import (
	"math"
	"sort"
	"strings"

	"leste/job"
	"leste/render/drawing"
	"leste/render/typeface"
	"leste/station"
)

// measure is one distance to be dimensioned, before it has a place.
type measure struct {
	a, b   drawing.Point
	prefix string
}

// stack gives each measure of one side its own level, the shortest nearest to the view. Measures that do
// not overlap share a level; equal ones are drawn once.
func stack(ms []measure, direction drawing.Direction, edge, side float64, text func(float64, string) string) []drawing.Shape {
	const first, step = 8.0, 6.5 // mm of paper
	key := func(p drawing.Point) float64 {
		if direction == drawing.Horizontal {
			return p.X
		}
		return p.Y
	}
	span := func(m measure) (low, high float64) {
		low, high = key(m.a), key(m.b)
		return min(low, high), max(low, high)
	}
	var kept []measure
	for _, m := range ms {
		low, high := span(m)
		double := high-low < 0.5
		for _, k := range kept {
			l, h := span(k)
			double = double || (math.Abs(l-low) < 0.1 && math.Abs(h-high) < 0.1)
		}
		if !double {
			kept = append(kept, m)
		}
	}
	sort.SliceStable(kept, func(i, j int) bool {
		li, hi := span(kept[i])
		lj, hj := span(kept[j])
		return hi-li < hj-lj
	})
	var levels [][]measure
	var out []drawing.Shape
	for _, m := range kept {
		low, high := span(m)
		level := 0
	search:
		for ; level < len(levels); level++ {
			for _, k := range levels[level] {
				if l, h := span(k); low < h-0.1 && l < high-0.1 {
					continue search
				}
			}
			break
		}
		if level == len(levels) {
			levels = append(levels, nil)
		}
		levels[level] = append(levels[level], m)
		a, b := m.a, m.b
		if direction == drawing.Horizontal { // measured from the edge of the view, so that lines are level
			a.Y, b.Y = edge, edge
		} else {
			a.X, b.X = edge, edge
		}
		out = append(out, drawing.Dimension{
			A: a, B: b, Direction: direction, Offset: side * (first + step*float64(level)), String: text(high-low, m.prefix),
		})
	}
	return out
}

// dimensions places the dimensions of one view, their figures clear of what is drawn, and then the names, which keep
// clear of both.
func (s Subject) dimensions(pr projector, drawn []drawing.Shape, scale float64) []drawing.Shape {
	bounds := drawing.Bounds(s.shapes(pr.view, false, scale), 1)
	text := s.measured
	var out []drawing.Shape
	switch pr.view {
	case Plan:
		out = append(out, stack(s.fromDatum(pr, true), drawing.Horizontal, bounds.Max.Y, 1, text)...)
		downstream, side := bounds.Max.X, 1.0 // away from the arrow of travel
		if s.turn() < 0 {
			downstream, side = bounds.Min.X, -1
		}
		out = append(out, stack(s.fromAxis(pr), drawing.Vertical, downstream, side, text)...)
	case Along:
		out = append(out, stack(s.heights(pr), drawing.Vertical, bounds.Max.X, 1, text)...)
		out = append(out, stack(s.levels(pr), drawing.Vertical, bounds.Min.X, -1, text)...)
		out = append(out, stack(s.fromDatum(pr, false), drawing.Horizontal, bounds.Min.Y, -1, text)...)
	case Across:
		out = append(out, stack(s.widths(pr), drawing.Horizontal, bounds.Min.Y, -1, text)...)
		out = append(out, s.standOffs(pr, text)...)
	}
	return s.names(pr, cleared(out, drawn, scale), drawn, scale)
}

// fromDatum measures along travel: the pitch, and each outlet's middle from the datum.
func (s Subject) fromDatum(pr projector, pitch bool) []measure {
	var ms []measure
	zero := pr.at(station.Vec{})
	if p := float64(s.Format.Pitch); pitch && p > 0 {
		ms = append(ms, measure{zero, pr.at(station.Vec{X: p}), ""})
	}
	for _, p := range s.Scene.Outlets {
		if pitch == (p.Side == "above" || p.Side == "below") || p.Side == "left" || p.Side == "right" {
			ms = append(ms, measure{zero, pr.at(station.Vec{X: p.Middle.X}), ""})
		}
	}
	return ms
}

// fromAxis measures across travel, in the plan: each lip's middle from the line's centre.
func (s Subject) fromAxis(pr projector) []measure {
	var ms []measure
	zero := pr.at(station.Vec{})
	for _, p := range s.Scene.Outlets {
		ms = append(ms, measure{zero, pr.at(station.Vec{Y: p.Middle.Y}), ""})
	}
	return ms
}

// heights measures up from the belt: the middle of each outlet.
func (s Subject) heights(pr projector) []measure {
	var ms []measure
	zero := pr.at(station.Vec{})
	for _, p := range s.Scene.Outlets {
		ms = append(ms, measure{zero, pr.at(station.Vec{Z: p.Middle.Z}), ""})
	}
	return ms
}

// levels measures up from the belt: the container, the rails.
func (s Subject) levels(pr projector) []measure {
	var ms []measure
	zero := pr.at(station.Vec{})
	if b := s.Format.Body; b != nil {
		ms = append(ms, measure{zero, pr.at(station.Vec{Z: b.Height}), ""})
	}
	for _, r := range s.Scene.Rails {
		ms = append(ms, measure{zero, pr.at(station.Vec{Z: r.Z}), ""})
	}
	return ms
}

// widths measures across travel, in the elevation across: the container and the clear width between lips.
func (s Subject) widths(pr projector) []measure {
	var ms []measure
	if b := s.Format.Body; b != nil {
		prefix := ""
		if b.Width == b.Depth {
			prefix = "Ø"
		}
		ms = append(ms, measure{pr.at(station.Vec{Y: -b.Depth / 2}), pr.at(station.Vec{Y: b.Depth / 2}), prefix})
	}
	low, high := 0.0, 0.0
	for _, p := range s.Scene.Outlets {
		low, high = min(low, p.Middle.Y), max(high, p.Middle.Y)
	}
	if low < 0 && high > 0 {
		ms = append(ms, measure{pr.at(station.Vec{Y: low}), pr.at(station.Vec{Y: high}), ""})
	}
	return ms
}

// standOffs measures along the air from lip to wall, where the air lies nearly in the view.
func (s Subject) standOffs(pr projector, text func(float64, string) string) []drawing.Shape {
	var out []drawing.Shape
	for _, p := range s.Scene.Outlets {
		if math.IsNaN(p.StandOff) || math.Abs(p.Axis.X) > 0.2 {
			continue
		}
		a, b := pr.at(p.Middle), pr.at(add(p.Middle, times(p.Axis, p.StandOff)))
		const offset = 4.0
		out = append(out, drawing.Dimension{A: a, B: b, Direction: drawing.Aligned, Offset: -offset * sign(b.X-a.X), String: text(p.StandOff*1e3, ""), Outside: true})
	}
	return out
}

func sign(x float64) float64 {
	if x < 0 {
		return -1
	}
	return 1
}

// Size of an outlet's name in a view [mm].
const nameSize = 2.3

// nameRooms are the widths that an outlet's name with its opening may take in a figure, the first where it can [mm].
var nameRooms = []float64{75, 58, 44}

// names points at the outlets in the view that shows them best: those beside the line in the plan, those
// above and below in the elevation along. Outlets of one place share a name. Names stand where they cross no dimension.
func (s Subject) names(pr projector, dimensions, drawn []drawing.Shape, scale float64) []drawing.Shape {
	out := dimensions
	if pr.view == Across {
		return out
	}
	if pr.view == Plan {
		from, _ := s.span()
		out = append(out, s.travel(pr, from, scale)...)
	}
	seen := map[[2]int]bool{}
	for _, p := range s.Scene.Outlets {
		beside := p.Side == "left" || p.Side == "right"
		if beside != (pr.view == Plan) {
			continue
		}
		behind := add(p.Middle, times(p.Axis, -(p.Nose()+0.8*p.Plenum)))
		at := pr.at(add(behind, times(p.Line, 0.25*p.Length)))
		place := [2]int{int(math.Round(at.X)), int(math.Round(at.Y))}
		if seen[place] {
			continue
		}
		seen[place] = true
		up := sign(at.Y - pr.at(station.Vec{Z: 0.05}).Y)
		right := sign(at.X)
		out = append(out, clearest(drawing.Leader{Layer: drawing.Notes, To: at, String: s.label(p, s.room()), Size: nameSize}, right, up, out, drawn, scale))
	}
	return out
}

// elbows are the places that a name may have from what it names, on one side of it, the nearest first [mm of paper].
var elbows = func() []drawing.Point {
	out := []drawing.Point{{X: 7, Y: 9}} // where it stands by itself
	for _, y := range []float64{5, 9, 14, 20, 26, 32, 38} {
		for _, x := range []float64{7, 14, 24, 36} {
			out = append(out, drawing.Point{X: x, Y: y})
		}
	}
	sort.SliceStable(out[1:], func(i, j int) bool { return out[1+i].Len() < out[1+j].Len() })
	return out
}()

// clearest leads a name to the nearest of some places at which it crosses no dimension and lies on nothing that is drawn
// already, or the least.
func clearest(l drawing.Leader, right, up float64, others, drawn []drawing.Shape, scale float64) drawing.Leader {
	best, least := l, 2*(drawing.OnTexts+1)
	annotations, geometry := drawing.PlacedAt(scale, others...), drawing.PlacedAt(scale, drawn...)
	for _, level := range []float64{up, -up} {
		for _, side := range []float64{right, -right} {
			for _, e := range elbows {
				l.Elbow = drawing.Point{X: e.X * side, Y: e.Y * level}
				c := annotations.Crosses(l)
				if c < least {
					under, _ := geometry.Covers(l)
					c += under
				}
				if c < least {
					best, least = l, c
				}
				if least == drawing.Clear {
					return best
				}
			}
		}
	}
	return best
}

// room is how wide a name may be.
func (s Subject) room() float64 {
	if s.nameRoom > 0 {
		return s.nameRoom
	}
	return nameRooms[0]
}

// label is an outlet's name with its opening, at most so wide; a long name gives way, the opening does not.
func (s Subject) label(p station.Placed, width float64) string {
	w := s.Words
	var parts []string
	switch p.Kind {
	case job.AirKnife:
		parts = append(parts, s.sized(p.Length)+" × "+s.sized(p.Gap))
	case job.NozzleManifold:
		parts = append(parts, w.T("drawing.nozzles", w.Number(float64(len(p.Ports)), 4), s.sized(p.Bore)))
	default:
		parts = append(parts, "Ø"+s.sized(p.Bore))
	}
	if t := degrees(Tilt(p)); t != 0 {
		parts = append(parts, w.T("drawing.tilt", w.Number(t, 4)+"°"))
	}
	opening := ": " + strings.Join(parts, ", ")
	return typeface.Regular.FitEnds(w.Found(p.Name), nameSize, width-typeface.Regular.Width(opening, nameSize)) + opening
}
