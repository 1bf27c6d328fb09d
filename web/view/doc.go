// Package view turns a job that is laid out in space, and its result, into what the desk draws: the line to scale,
// each station with its outlets, the container's wall with its water. It calculates
// nothing of its own but projections.
//
// Lengths are millimetres. Axes are those of the program: x along travel, y to the left, z up from the belt; a
// station's coordinates are about its own datum.
package view
