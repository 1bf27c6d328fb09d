// Package cost answers what a station's air costs in a year: energy, money, sound, heat and exhaust, and what
// compressed air doing the same would cost.
package cost
