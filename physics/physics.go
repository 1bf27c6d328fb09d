package physics

import (
	"sync"

	"leste/physics/air"
	"leste/physics/jet"
	"leste/physics/relation"
	"leste/physics/water"
)

// Cards returns the registry of all relations. A card that is incomplete is a programming error and panics.
func Cards() relation.Registry { return registry() }

// registry is read-only once built.
var registry = sync.OnceValue(func() relation.Registry {
	r, err := relation.New(air.Cards(), jet.Cards(), water.Cards())
	if err != nil {
		panic("physics: " + err.Error())
	}
	return r
})
