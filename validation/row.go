package validation

import (
	"context"
	"math"

	"leste/airsupply"
	"leste/cost"
	"leste/physics/relation"
)

// A Row is one reference value and what the program computes for it.
type Row struct {
	ID        string
	Relation  string // ID of the card
	Source    string
	Basis     relation.Basis
	Expected  float64
	Computed  float64
	Tolerance float64 // absolute, in Unit
	Unit      string
}

// Pass reports whether the computed value lies within the tolerance; NaN never does.
func (r Row) Pass() bool { return math.Abs(r.Computed-r.Expected) <= r.Tolerance }

// Run computes every row, in a fixed order.
func Run(ctx context.Context) []Row {
	var l list
	for _, add := range []func(*list){
		discharge, edges, orifice, impact, aslant, freeJets, rows, heat, atmosphere, humidAir, water, films, wiping, drops, crevices, phase, rejects, trade,
	} {
		add(&l)
	}
	for _, c := range append(airsupply.Checks(ctx), cost.Checks()...) {
		l = append(l, Row(c))
	}
	return l
}

type list []Row

// A group is rows of one relation and source.
type group struct {
	l        *list
	relation string
	source   string
	basis    relation.Basis
	unit     string
	share    float64 // tolerance as a share of the expected value
	least    float64 // tolerance at least
}

func (g group) row(id string, expected, computed float64) {
	*g.l = append(*g.l, Row{
		ID: id, Relation: g.relation, Source: g.source, Basis: g.basis, Expected: expected, Computed: computed,
		Tolerance: max(g.least, g.share*math.Abs(expected)), Unit: g.unit,
	})
}
