package drawing

// A LineType is how a line is broken.
type LineType string

// The line types. Dash lengths are in Dashes.
const (
	Solid   LineType = "CONTINUOUS"
	Dashed  LineType = "DASHED"
	Chain   LineType = "CENTER"
	Phantom LineType = "PHANTOM"
)

// Dashes returns the lengths of dash and space in millimetres of paper; nil for a solid line.
func (t LineType) Dashes() []float64 {
	switch t {
	case Dashed:
		return []float64{2.4, 1.2}
	case Chain:
		return []float64{7, 1.2, 0.8, 1.2}
	case Phantom:
		return []float64{7, 1.2, 0.8, 1.2, 0.8, 1.2}
	}
	return nil
}

// A Layer names what a shape stands for. Its look follows from it.
type Layer string

// The layers. The names are those that a CAD program shows.
const (
	Outline    Layer = "OUTLINE"     // visible edges of what is drawn
	Thin       Layer = "THIN"        // secondary edges
	Hidden     Layer = "HIDDEN"      // edges behind
	Centre     Layer = "CENTRE"      // centre lines and axes
	Dimensions Layer = "DIMENSIONS"  // dimensions with their text
	Notes      Layer = "NOTES"       // text and leaders
	Hatching   Layer = "HATCH"       // hatches
	Containers Layer = "CONTAINERS"  // the container abreast
	Neighbours Layer = "NEIGHBOURS"  // the containers beside it
	Outlets    Layer = "AIR_OUTLETS" // air knives, manifolds and nozzles
	Air        Layer = "AIR"         // where the air goes
	Conveyor   Layer = "CONVEYOR"    // belt, rails and grips
	Obstacles  Layer = "OBSTACLES"   // solid things near the line
	Datum      Layer = "DATUM"       // datum marks
	Border     Layer = "BORDER"      // frame and title block
	Chart      Layer = "CHART"       // axes, grids and bars of figures
)

// A Look is how a layer is drawn: pen width [mm of paper], line type, colour, and the nearest entry of the
// fixed colour table of DXF.
type Look struct {
	Layer  Layer
	Pen    float64
	Type   LineType
	Colour Colour
	Index  int
}

var looks = []Look{
	{Outline, 0.35, Solid, Ink, 7},
	{Thin, 0.18, Solid, Ink, 8},
	{Hidden, 0.18, Dashed, Slate, 8},
	{Centre, 0.13, Chain, Slate, 1},
	{Dimensions, 0.13, Solid, Slate, 3},
	{Notes, 0.18, Solid, Ink, 7},
	{Hatching, 0.1, Solid, Slate, 8},
	{Containers, 0.3, Solid, Ink, 7},
	{Neighbours, 0.15, Solid, Slate, 8},
	{Outlets, 0.4, Solid, Sea, 4},
	{Air, 0.15, Phantom, Sea, 4},
	{Conveyor, 0.2, Solid, Slate, 9},
	{Obstacles, 0.2, Dashed, Clay, 30},
	{Datum, 0.25, Solid, Clay, 1},
	{Border, 0.3, Solid, Ink, 7},
	{Chart, 0.15, Solid, Slate, 8},
}

// Layers lists the looks of all layers in their fixed order.
func Layers() []Look { return append([]Look(nil), looks...) }

// Look returns how the layer is drawn; an unknown layer is drawn like Outline.
func (l Layer) Look() Look {
	for _, k := range looks {
		if k.Layer == l {
			return k
		}
	}
	return looks[0]
}
