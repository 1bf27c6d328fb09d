// Package water gives what water does on a wall: how thick a film is, what a jet leaves of it, when it breaks
// into drops and which drops stay, what a crevice or a corner holds, what evaporates and what condenses; and
// how many containers show that a promise is kept.
//
// Conventions: contact angles are in radians, advancing above receding. Speeds are those of the wall relative
// to the jet, along the normal of the front where it matters. A drop's diameter is that of the circle it
// covers.
//
// Relations are pure and total: an input that cannot exist gives NaN, an input outside the range of a relation
// gives the formula's value, and the relation's card (see Cards) says which it was. Where nothing limits a
// quantity (a film no air holds back, a drop no air moves) the result is +Inf, and the function says so.
// Functions whose names end in SI are the same relations in plain float64 for inner loops.
package water
