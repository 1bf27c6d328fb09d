package job

import (
	"math"

	q "leste/quantity"
)

// Station is everything that blows in one place on the line.
type Station struct {
	Name    string            `key:"name" need:"yes" doc:"Name of the station."`
	State   string            `key:"state" one:"planned|as found" default:"planned" doc:"Whether it exists." source:"planned unless said"`
	At      q.Maybe[q.Length] `key:"at" doc:"Distance of its datum from the first station's datum, along the line." default:"0 m" source:"one station at the datum" min:"-1000 m" max:"1000 m"`
	Plenum  q.Maybe[q.Gauge]  `key:"plenum_pressure" doc:"Measured plenum pressure (gauge); stands in for the blower." min:"10 Pa" max:"700 kPa"`
	Frames  []Frame           `key:"frames" doc:"What carries the outlets and moves them together."`
	Outlets []Outlet          `key:"outlets" doc:"Air knives, nozzle manifolds and nozzles."`
	Search  bool              `key:"by_search" doc:"A search named its outlets and frames, and papers tell them in their own language; leave it out where the names are yours."`
}

// What a search calls a station of a job that has none, and puts after the name of one for that of a second.
const (
	FoundStation = "station"
	FoundSecond  = ", second"
)

// A Frame carries outlets and moves them together along its adjustable axes.
type Frame struct {
	Name     string    `key:"name" need:"yes" doc:"Name of the frame."`
	Axes     []Axis    `key:"axes" doc:"What can be adjusted."`
	Settings []Setting `key:"settings" doc:"The setting of each format."`
}

// An Axis is one adjustable movement of a frame.
type Axis struct {
	Axis string `key:"axis" need:"yes" one:"height|stand-off|tilt|aim" doc:"What moves."`
	Low  string `key:"low" doc:"Lower end of the range, with unit."`
	High string `key:"high" doc:"Upper end of the range, with unit."`
	Step string `key:"step" doc:"Division of its scale, with unit."`
}

// A Setting moves a frame's outlets from where the file puts them, for one format.
type Setting struct {
	Format   string            `key:"format" need:"yes" doc:"Format it is for."`
	Height   q.Maybe[q.Length] `key:"height" doc:"Upward movement." default:"0 mm" source:"frame at its nominal place" min:"-2 m" max:"2 m"`
	StandOff q.Maybe[q.Length] `key:"stand_off" doc:"Movement away from the containers." default:"0 mm" source:"frame at its nominal place" min:"-1 m" max:"2 m"`
	Tilt     q.Maybe[q.Angle]  `key:"tilt" doc:"Added tilt." default:"0 deg" source:"frame at its nominal place" min:"-180 deg" max:"180 deg"`
	Aim      q.Maybe[q.Angle]  `key:"aim" doc:"Added downward aim." default:"0 deg" source:"frame at its nominal place" min:"-180 deg" max:"180 deg"`
}

// Kinds of air outlet.
const (
	AirKnife       = "air knife"
	NozzleManifold = "nozzle manifold"
	Nozzle         = "nozzle"
)

// An Outlet is what the air leaves by. Its middle lies at X, Height and either StandOff from the wall of
// the container (measured along the air, container abreast of the outlet) or Offset from the line's centre.
//
// An outlet at the left or right blows across travel; one above blows down, one below blows up. Tilt is the
// slope of the outlet line against travel: positive when the downstream end is lower (left and right; the
// top of a container is swept first) or further left (above and below); 90 degrees is upright or across the belt.
// AimDown and AimAlong turn the air from straight across: downward (for above and below: to the left) and
// downstream.
type Outlet struct {
	Name     string            `key:"name" need:"yes" doc:"Name of the outlet."`
	Kind     string            `key:"kind" need:"yes" one:"air knife|nozzle manifold|nozzle" doc:"What the air leaves by."`
	Frame    string            `key:"frame" doc:"Frame that carries it."`
	Side     string            `key:"side" one:"left|right|above|below" doc:"Where it stands, seen along travel; needed where containers pass."`
	X        q.Maybe[q.Length] `key:"x" doc:"Place of its middle along travel from the station's datum." default:"0 mm" source:"at the datum" min:"-20 m" max:"20 m"`
	Height   q.Maybe[q.Length] `key:"height" doc:"Height of its middle above the belt (left and right)." min:"-1 m" max:"5 m"`
	Offset   q.Maybe[q.Length] `key:"offset" doc:"Place of its middle to the left of the line's centre (above and below), or its distance from the centre (left and right, instead of stand-off)." min:"-5 m" max:"5 m"`
	StandOff q.Maybe[q.Length] `key:"stand_off" doc:"Outlet to wall along the air, container abreast." default:"40 mm" low:"25 mm" high:"80 mm" source:"common practice, no source" min:"1 mm" max:"2 m"`
	Tilt     q.Maybe[q.Angle]  `key:"tilt" doc:"Slope of the outlet line against travel; positive sweeps the top first." default:"0 deg" source:"level unless said" min:"-90 deg" max:"90 deg"`
	AimDown  q.Maybe[q.Angle]  `key:"aim_down" doc:"Downward turn of the air (above and below: to the left)." default:"0 deg" source:"square to the wall unless said" min:"-90 deg" max:"90 deg"`
	AimAlong q.Maybe[q.Angle]  `key:"aim_along" doc:"Downstream turn of the air." default:"0 deg" source:"square to the wall unless said" min:"-90 deg" max:"90 deg"`

	Length  q.Maybe[q.Length] `key:"length" doc:"Length of the slot or of the nozzle row." min:"5 mm" max:"5 m"`
	SlotGap q.Maybe[q.Length] `key:"slot_gap" doc:"Slot gap of an air knife." min:"0.05 mm" max:"20 mm"`
	Built   q.Maybe[q.Length] `key:"slot_gap_as_built" doc:"Slot gap measured on the finished outlet, under pressure and warm; that of the drawing when left out." min:"0.05 mm" max:"20 mm"`
	Bore    q.Maybe[q.Length] `key:"bore" doc:"Bore of a nozzle." min:"0.2 mm" max:"200 mm"`
	Wide    q.Maybe[q.Length] `key:"opening_width" doc:"Long side of an oblong nozzle, along the outlet line." min:"0.2 mm" max:"1 m"`
	High    q.Maybe[q.Length] `key:"opening_height" doc:"Short side of an oblong nozzle." min:"0.2 mm" max:"200 mm"`
	Spacing q.Maybe[q.Length] `key:"spacing" doc:"Distance between the nozzles of a manifold." min:"0.5 mm" max:"1 m"`
	Count   int               `key:"count" doc:"Number of nozzles of a manifold; from length and spacing when left out." min:"0" max:"1000"`

	Discharge  q.Maybe[q.Ratio]  `key:"discharge" doc:"Discharge coefficient on the geometric area; from the opening when left out." min:"0.3" max:"1"`
	PlenumBore q.Maybe[q.Length] `key:"plenum_bore" doc:"Bore of the plenum behind the outlet; three times the opening's area when left out." min:"5 mm" max:"500 mm"`
	Feed       string            `key:"feed" one:"end|both ends|centre" default:"end" doc:"Where the air enters the plenum." source:"common practice, no source"`
	Pressure   q.Maybe[q.Gauge]  `key:"plenum_pressure" doc:"Plenum pressure (gauge) measured or wanted at this outlet." min:"10 Pa" max:"700 kPa"`
	Compressed bool              `key:"compressed_air" doc:"Fed from the compressed-air main, not from a blower."`
}

// SetGap gives an outlet a slot gap; what was measured on the finished one no longer holds.
func (o *Outlet) SetGap(gap q.Maybe[q.Length]) { o.SlotGap, o.Built = gap, q.Maybe[q.Length]{} }

// Gap is the slot gap that the air passes: as built where it was measured, else as drawn.
func (o *Outlet) Gap() q.Length {
	if o.Built.Known {
		return o.Built.V
	}
	return o.SlotGap.V
}

// Plenum is the bore of the plenum behind an outlet with openings of an area: the one given, or that of three times the
// area; common practice, no source.
func (o *Outlet) Plenum(opening q.Area) q.Length {
	if o.PlenumBore.V > 0 {
		return o.PlenumBore.V
	}
	const wider = 3
	return q.Length(math.Sqrt(4 * wider * max(0, float64(opening)) / math.Pi))
}
