// Package station knows where things are: the surfaces of containers, the outlets and what carries them,
// the neighbours, rails and belt; what the air does to each patch of wall while a container passes; and
// whether the container stands while it does.
//
// Conventions. The container's frame has its origin on the axis at belt height, axes parallel to the
// line's: x along travel, y left, z up. Angles around the container run from +x (the leading side)
// towards +y. The grid's rows run along the profile from the centre of the base to the centre of the top,
// its columns around. Normals point out of the body.
package station
