// Package physics gathers the published relations of Leste: air, jets and water on walls. Each relation
// is a pure function with a card that carries its equation, range, source and uncertainty as data.
package physics
