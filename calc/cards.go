package calc

import (
	"sync"

	"leste/airsupply"
	"leste/cost"
	"leste/physics"
	"leste/physics/relation"
)

// Relations returns every relation that an answer or a result may name.
func Relations() relation.Registry { return relations() }

var relations = sync.OnceValue(func() relation.Registry {
	r, err := relation.New(physics.Cards().All(), airsupply.Cards(), cost.Cards())
	if err != nil {
		panic("calc: " + err.Error())
	}
	return r
})
