// Package physics gathers the cards of all published relations on air, jets and water into one registry.
package physics
