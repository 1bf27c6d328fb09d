package drying

import (
	"context"
	"fmt"
	"slices"
	"strings"
)

// A Method follows the water of a problem.
type Method func(ctx context.Context, p *Problem, o Options) (Outcome, error)

// Options are what a method may be asked for beside the answer. The zero value asks for nothing.
type Options struct {
	Frames     int                                    // moments of the passes to keep, where the method has them
	FrameTimes []float64                              // s under the stations at which to keep them, instead
	Workers    int                                    // goroutines; 0 is one. The results do not depend on it
	Progress   func(done, total float64, what string) // called from one goroutine at a time; may be nil
	Refine     bool                                   // also examine what grid and settings are worth, where the method has a grid
}

const methodTransport = "transport"

// methods lists what there is, "none" included.
var methods = []struct {
	name   string
	follow Method
}{
	{methodTransport, func(ctx context.Context, p *Problem, o Options) (Outcome, error) {
		return Transport(ctx, p, o.transport())
	}},
	{"quick", func(ctx context.Context, p *Problem, o Options) (Outcome, error) { return quickOn(ctx, p, o.Workers) }},
	{"none", none},
}

// DefaultMethod is the method used when none is named.
func DefaultMethod() string { return methods[0].name }

// MethodNames lists the methods.
func MethodNames() []string {
	names := make([]string, len(methods))
	for i, m := range methods {
		names[i] = m.name
	}
	return names
}

// MethodNamed returns the method of that name; "" is the default one. An unknown name is an error that lists
// the known ones.
func MethodNamed(name string) (Method, error) {
	if name == "" {
		name = DefaultMethod()
	}
	for _, m := range methods {
		if m.name == name {
			return m.follow, nil
		}
	}
	known := MethodNames()
	slices.Sort(known)
	return nil, fmt.Errorf("there is no drying method %q; there are %s", name, strings.Join(known, ", "))
}

// none leaves the water as it arrives: what the machines would see without any air.
func none(ctx context.Context, p *Problem, _ Options) (Outcome, error) {
	bare := *p
	bare.Passes = nil
	bare.Machines = slices.Clone(p.Machines)
	for i := range bare.Machines {
		bare.Machines[i].After = -1
	}
	o, err := Quick(ctx, &bare)
	o.Method = "none"
	return o, err
}
