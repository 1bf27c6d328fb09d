// Package scene draws stations: plan, elevation along and elevation across the line, to scale and
// dimensioned from the datum, with each format's setting.
//
// It draws what station.Plan has placed and computes nothing but projections. Views stand in third-angle
// order: the plan above the elevation along the line, the elevation across beside it. When the operator
// sees containers travel from right to left, everything is turned to that side.
package scene
