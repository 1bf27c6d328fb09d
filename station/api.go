package station

import (
	"context"
	"errors"

	"leste/job"
	q "leste/quantity"
)

var errLater = errors.New("station: not built yet")

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
