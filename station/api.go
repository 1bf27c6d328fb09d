package station

import (
	"context"
	"errors"

	"leste/job"
	"leste/physics/relation"
	q "leste/quantity"
)

var errLater = errors.New("station: not built yet")

// NewBody builds the surface and the mass of a format that rides on the line. The container must be
// expanded (catalogue.Expand) and its values filled. Cell is the wanted cell size [m]; attitude is one of
// the line's ("upright", "inverted", "side-gripped").
func NewBody(f job.Format, cell float64, attitude string) (*Body, error) { return nil, errLater }

// Resolve lays a filled job out in space.
func Resolve(j *job.Job, o ResolveOptions) (*Plan, []Problem) { return &Plan{}, nil }

// OutletAir is the air of one outlet.
type OutletAir struct {
	Plenum     q.Gauge       // stagnation pressure behind the opening
	Stagnation q.Temperature // of the air in the plenum
	Humidity   q.Ratio       // humidity ratio, kg vapour per kg dry air
	Cd, Cv     float64       // discharge and velocity coefficient; 0 means 0.95 and 0.97
	Ambient    q.Absolute
	AmbientT   q.Temperature
}

// ExposerOptions are model settings. The zero value is the likely value of both.
type ExposerOptions struct {
	Shear    float64 // factor on wall shear; 0 means 1
	Pressure float64 // factor on impact pressure and its gradient; 0 means 1
}

// An Exposer tells what the air of one scene does to each cell of a body. It keeps scratch memory: use one
// per goroutine, made by Clone.
type Exposer struct{}

// NewExposer prepares the exposure of body in scene; air has one entry per outlet of the scene.
func NewExposer(b *Body, s Scene, air []OutletAir, o ExposerOptions) (*Exposer, error) {
	return nil, errLater
}

// At writes into f what the air does with the container's axis at x [m] from the station's datum.
// It allocates only when f has not the size of the surface.
func (e *Exposer) At(x float64, f *Field) {}

// Range returns the positions of the container's axis between which the air reaches it [m]. From > to
// when it never does.
func (e *Exposer) Range() (from, to float64) { return 0, 0 }

// Notes says what about the exposure is less sure than usual.
func (e *Exposer) Notes() []relation.Note { return nil }

// Clone returns an Exposer of the same scene that can be used by another goroutine.
func (e *Exposer) Clone() *Exposer { return &Exposer{} }

// Push is one way a container can lose its place.
type Push struct {
	Way    string  // "slide", "tip", "lift", "held back", "turned"
	Factor float64 // resistance over push; below 1 it moves; +Inf when nothing pushes
	Case   string
	At     q.Length // position of the container's axis
	Needs  string   // guide or limit needed, "" when none
}

// StandOptions say how containers ride.
type StandOptions struct {
	Contents []string // "empty", "open", "filled": which to examine; none means as the format says
	Belts    []string // "dry", "wet", "lubricated"; none means dry and lubricated
	Friction float64  // of the belt when known; 0 means by state
	Speed    q.Speed
	Step     float64 // distance between positions [m]; 0 means 4 mm
}

// Stand finds, for every way a container can lose its place, the worst position and case.
func Stand(ctx context.Context, e *Exposer, o StandOptions) ([]Push, error) { return nil, errLater }

// LimitResult is the worst of one air limit.
type LimitResult struct {
	Zone, Reason string
	Quantity     string  // "pressure", "speed", "temperature"
	Value, Limit float64 // SI
	At           q.Length
	Exceeded     bool
}

// Limits evaluates the air limits of a job on one body in one scene.
func Limits(ctx context.Context, e *Exposer, limits []job.AirLimit) ([]LimitResult, error) {
	return nil, errLater
}
