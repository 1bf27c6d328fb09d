package station

import (
	"leste/job"
	"leste/physics/relation"
	q "leste/quantity"
)

// A Plan is a job laid out in space: every format with its body and every station with its outlets placed.
type Plan struct {
	Formats []FormatPlan
}

// FormatPlan is one format on the line.
type FormatPlan struct {
	Format   job.Format // with its container expanded and its values filled
	Body     *Body
	Speed    q.Speed
	Pitch    q.Length // distance between container axes; 0 when one container rides alone
	Touching bool
	Stations []Scene // in the order of travel
	Notes    []relation.Note
}

// A Scene is one station as one format meets it. Coordinates are the station's: the datum lies on the line's
// centre at belt height, x along travel, y left, z up [m].
type Scene struct {
	Name       string
	At         float64 // x of the datum from the first station's datum [m]
	Outlets    []Placed
	Rails      []Bar
	Grips      []job.Box // solid belts that grip the container's sides, as long as the line
	Obstacles  []job.Box // in the station's coordinates
	Neighbours []float64 // x of the neighbours' axes from the container's own [m]
	Belt       bool      // a closed belt lies under the container: nothing reaches it from below
	BeltHalf   float64   // half its width; endless where that is not known, 0 where grips carry the containers [m]
	Reach      [2]float64
}

// A Bar is a guide rail: a round bar along travel, as long as the line.
type Bar struct {
	Y, Z   float64 // of its centre [m]
	Radius float64 // m
	Neck   bool    // it guides the neck
}

// A Placed outlet has its place and direction in the station's coordinates.
type Placed struct {
	Name     string
	Kind     string // job.AirKnife, job.NozzleManifold or job.Nozzle
	Side     string
	Middle   Vec       // middle of the lip [m]
	Line     Vec       // unit vector along the slot or the row of nozzles, towards the downstream end
	Axis     Vec       // unit vector of the air; Axis.Line = 0
	Length   float64   // of the slot, or from the first nozzle to the last [m]
	Gap      float64   // slot gap; 0 for nozzles [m]
	Bore     float64   // bore, or the diameter of the same area of an oblong nozzle; 0 for a slot [m]
	Ports    []float64 // places of the nozzles along Line from Middle [m]; nil for a slot
	Spacing  float64   // of the nozzles [m]
	StandOff float64   // lip to wall along the air with the container abreast; NaN when the air misses [m]
	Opening  q.Area    // geometric area of all openings
	Plenum   float64   // bore of the plenum behind it; 0 for a single nozzle, which a hose feeds [m]
}
