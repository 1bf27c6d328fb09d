package drying

import (
	"leste/physics/relation"
	q "leste/quantity"
	"leste/station"
)

// A Problem is one format in one case: a body with its water, the stations it passes and the machines
// after them. It is complete: nothing is assumed below this line.
type Problem struct {
	Body     *station.Body
	Inverted bool // the container rides upside down; the surface is already turned, gravity is -z

	Arrives  Arrives
	Liquid   Liquid
	Passes   []Pass    // stations in the order of travel
	Machines []Machine // in the order of travel
	Room     Room
	Settings Settings

	Spreads *Spreads // of a problem with the same stations and machines, to be used again; nil to find them
	Laid    *Laid    // the water of a problem that it arrives for alike, to be used again by transport; nil to lay it
}

// Arrives is the water that the container brings to the first station.
type Arrives struct {
	Film        float64 // kg/m2 of wall that wets: continuous film
	Drops       float64 // kg/m2 of wall that does not wet: drops
	DropMedian  float64 // m, diameter that halves the volume of the drops
	TrappedFull float64 // share of each crevice that arrives full
	PoolsFull   float64 // share of each pool that arrives full
	Since       float64 // s since the last wetting

	LeastWater, MostWater float64 // range of film and drops over their likely value; 0 is the usual 0.4 and 2
}

// Liquid is the water's state.
type Liquid struct {
	Temperature q.Temperature
	Tension     float64 // N/m
	Viscosity   float64 // Pa s
	Density     float64 // kg/m3
}

// Pass is one station seen by the container. Exposure gives what the air does to every cell with the
// container's axis at x (station datum = 0); it is zero outside [From, To].
type Pass struct {
	Station  string
	Air      Exposure
	From, To float64       // m
	Speed    float64       // m/s of the container; 0 never: a standing container is a Stand pass
	Stand    float64       // s that the container stands still at StandAt
	StandAt  float64       // m
	Before   float64       // s of travel between the last station (or the last wetting) and From
	AirT     q.Temperature // stagnation temperature at the outlets
	AirW     float64       // humidity ratio of that air
	Seen     *Seen         // what Scan found of Air, to be used again by quick; nil to scan
}

// Exposure is implemented by *station.Exposer.
type Exposure interface {
	At(x float64, f *station.Field)
}

// Room is the air on the way.
type Room struct {
	Pressure     q.Absolute
	Temperature  q.Temperature
	Humidity     float64 // relative, 0..1
	HeatTransfer float64 // W/(m2 K) on a container in single file
}

// Machine is a machine downstream with its requirements.
type Machine struct {
	Kind, Name string
	Travel     float64 // s from the last station before it
	After      int     // index of the last pass before it; -1 before the first
	Requires   []Requirement
}

// Requirement is one thing that a machine tolerates; exactly one limit is set, the others are NaN.
type Requirement struct {
	Zone       string  // "all" for the whole container
	Water      float64 // kg/m2
	Mass       float64 // kg
	Drop       float64 // m, largest drop
	Rejects    float64 // share of containers with at least one drop above RejectDrop
	RejectDrop float64 // m
}

// Settings are the fitted or default settings of the water model, named as in the job file.
type Settings struct {
	Drag, SlideShare, HoleSpacing, SmallDrops, DropSpread, RecedingSpread float64
	Shear, Pressure, RunDown, Rewetting, MistBack                         float64
}

// Causes of water left.
const (
	CauseFilm         = "film"
	CauseDrops        = "drops"
	CauseTrapped      = "trapped water"
	CausePool         = "pool"
	CauseCondensation = "condensation"
)

// An Outcome is what a method finds for one Problem. Masses in kg, per container.
type Outcome struct {
	Method    string
	At        []MachineWater // water at each machine
	After     MachineWater   // water right after the last station
	Balance   Balance
	Map       []float64 // kg/m2 left per cell after the last station (film and drops)
	Spreads   *Spreads  // behind the bands, for like problems; nil when the method does not say
	Frames    []Frame   // transport only, when asked for
	Notes     []relation.Note
	Grid      float64 // transport: relative uncertainty from the grid; NaN when not examined
	Scatter   q.Band  // kg on the container where its walls recede a scatter's angle earlier or later, and averaged; 0 when not examined
	CellSteps int64   // transport: film cell-steps done
}

// MachineWater is the water on the container when it reaches a machine.
type MachineWater struct {
	Machine string
	Zones   []ZoneWater
	Total   q.Band // kg
}

// ZoneWater is the water in one zone.
type ZoneWater struct {
	Zone                                  string
	Area                                  float64     // m2
	Film, Drops, Trapped, Pool, Condensed float64     // kg, likely
	Left                                  q.Band      // kg, their sum with its band
	Largest                               q.Band      // m, diameter of the largest drop expected on one container
	Count                                 []SizeCount // expected number of drops larger than each size
	Cause                                 string      // the largest part
	Where                                 string      // plain words: "rear line", "under the closure skirt", ...
}

// SizeCount is the expected number of drops larger than a diameter.
type SizeCount struct {
	Diameter  float64 // m
	Number    float64 // likely
	Low, High float64 // band of the number
}

// Balance accounts for every gram: In + Condensed = Left + BlownOff + Mist + Evaporated + Dripped.
type Balance struct {
	In, Condensed, Left, BlownOff, Mist, Evaporated, Dripped float64 // kg
	Closure                                                  float64 // |residual| over In
}

// A Frame is the water at one moment of a pass.
type Frame struct {
	Station string
	X, Time float64   // container's axis [m], time since the pass began [s]
	Water   []float64 // kg/m2 per cell
	Press   []float64 // Pa per cell, what the air presses with
}
