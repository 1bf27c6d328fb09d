package catalogue

import (
	"leste/job"
	"leste/physics/relation"
)

// Expand turns a container that names a family and a size into a full description: profile, section,
// crevices, pools, materials and empty mass. What the job says itself stays. Source says what the sizes
// rest on.
func Expand(c job.Container) (full job.Container, source string, notes []relation.Note, err error) {
	return c, "generic", nil, nil
}
