// Package drying follows the water on a container: what arrives, what the air moves and leaves, what is
// trapped, lies in recesses, drips, evaporates or condenses on the way, and whether the next machine
// tolerates the rest.
//
// Two methods share every relation about water: "quick", a closed form per patch in the order of the
// passes, and "transport", a film and drop balance on the grid of the wall.
package drying
