package design

import (
	"context"
	"fmt"
	"strings"
	"sync"
)

// bills keeps the air supplies that were solved. The air side asks for openings and pressures only, not for places, so
// that most moves of a search meet one that is known. An entry follows from its key alone: it does not matter who
// wrote it first.
type bills struct {
	lock  sync.Mutex
	known map[string]bill
}

type bill struct {
	supplied
	err error
}

func newBills() *bills { return &bills{known: map[string]bill{}} }

// bill is the air supply of an arrangement at a plenum pressure.
func (g *ground) bill(ctx context.Context, a *arrangement, pressure float64) (supplied, error) {
	key := a.sizes(pressure)
	g.bills.lock.Lock()
	b, ok := g.bills.known[key]
	g.bills.lock.Unlock()
	if ok {
		return b.supplied, b.err
	}
	b.supplied, b.err = g.supply(ctx, a.job(pressure))
	if ctx.Err() != nil {
		return b.supplied, ctx.Err()
	}
	g.bills.lock.Lock()
	g.bills.known[key] = b
	g.bills.lock.Unlock()
	return b.supplied, b.err
}

// sizes names everything about an arrangement that its air side sees.
func (a *arrangement) sizes(pressure float64) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s|%g", a.concept.name, pressure)
	for i := range a.setups {
		s := &a.setups[i]
		fmt.Fprintf(&b, "|%g %g %g %g", s.length, s.gap, s.bore, s.spacing)
	}
	return b.String()
}
