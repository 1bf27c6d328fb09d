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

// RelationsPage is the documentation page of all relations, docs/relations.md.
//
//go:generate go run ./internal/page -out ../docs/relations.md
func RelationsPage() string {
	return "# The relations\n\nWritten from the cards in the code by `make generate`; do not edit.\n\n" +
		relation.Markdown(Relations().All())
}
