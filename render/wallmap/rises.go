package wallmap

import (
	"math"
	"slices"
	"strings"

	leste "leste"
)

// A Rise is a zone of the wall that ends a pass with more water than it began with.
type Rise struct {
	Zone          string
	Before, After float64  // kg on its wall
	From          []string // zones beside it that lost water, the lower one first; none where it came another way
}

// A rise is told from these shares and amounts on: less is the water that a step of time or a cell moves to and fro.
const (
	leastRise     = 0.05
	leastRiseMass = 0.5e-6 // kg
)

// Rises lists the zones that end the pass with more water on their wall than they began with, the lowest first.
func (v *Frames) Rises() []Rise {
	first, last := v.walls[0].m, v.walls[len(v.walls)-1].m
	zones, beside := neighbours(first)
	before, after := zoneMasses(first), zoneMasses(last)
	var out []Rise
	for _, zone := range zones {
		gain := after[zone] - before[zone]
		if gain < leastRiseMass || gain < leastRise*before[zone] {
			continue
		}
		out = append(out, Rise{Zone: zone, Before: before[zone], After: after[zone], From: sources(zone, beside, func(z string) bool { return after[z] < before[z] })})
	}
	return out
}

// sources are the nearest zones that lost water, beside a zone or beyond others that gained some.
func sources(zone string, beside map[string][]string, lost func(string) bool) []string {
	var out []string
	seen := map[string]bool{zone: true}
	for next := []string{zone}; len(next) > 0; next = next[1:] {
		for _, z := range beside[next[0]] {
			if seen[z] {
				continue
			}
			seen[z] = true
			if lost(z) {
				out = append(out, z)
			} else {
				next = append(next, z)
			}
		}
	}
	return out
}

// neighbours are the zones of a wall from the base to the top, and which lie beside which.
func neighbours(m *leste.Map) (zones []string, beside map[string][]string) {
	beside = map[string][]string{}
	add := func(a, b string) {
		if !slices.Contains(beside[a], b) {
			beside[a] = append(beside[a], b)
		}
	}
	for row, zone := range m.Zone {
		if !slices.Contains(zones, zone) {
			zones = append(zones, zone)
		}
		if row > 0 && m.Zone[row-1] != zone {
			add(zone, m.Zone[row-1])
			add(m.Zone[row-1], zone)
		}
	}
	return zones, beside
}

// zoneMasses is the water on the wall of each zone [kg].
func zoneMasses(m *leste.Map) map[string]float64 {
	masses := map[string]float64{}
	for row, zone := range m.Zone {
		cell := 2 * math.Pi * m.Radius[row] * (m.S[row+1] - m.S[row]) / float64(m.Cols)
		for _, water := range m.Water[row*m.Cols : (row+1)*m.Cols] {
			masses[zone] += cell * water
		}
	}
	return masses
}

// risesLine says it in one line.
func risesLine(rises []Rise) string {
	var parts []string
	for _, r := range rises {
		text := r.Zone + " ends with " + Mass(r.After, r.After, r.After) + " after " + Mass(r.Before, r.Before, r.Before)
		if len(r.From) > 0 {
			text += ", from the " + strings.Join(r.From, " and the ")
		}
		parts = append(parts, text)
	}
	if len(parts) == 0 {
		return ""
	}
	return "more water at the end than at the beginning: " + strings.Join(parts, "; ")
}
