// Package catalogue holds what a job may name instead of describing: families of containers and closures,
// wall materials, and the user's own parts.
package catalogue
