// Package jet gives what leaves an air outlet and what of it reaches a wall.
//
// Conventions, the same for every relation:
//   - ambient density and viscosity (the film's, where a warm jet is more than 20 K above the room) hold
//     everywhere after the lip; the density at the exit appears only in mass flow and thrust;
//   - thrust already contains the discharge and velocity coefficients, and no relation after the lip takes
//     them again; gap and bore appear there only in Reynolds numbers and validity limits;
//   - the gap is the whole gap, never half of it;
//   - the distance is along the jet's axis from the lip to the wall, not the perpendicular stand-off.
//
// Relations are pure and total: an input that cannot exist (a negative absolute pressure) gives NaN, an input
// outside the range of a relation gives the formula's value, and the relation's card (see Cards) says which
// it was. Functions whose names end in SI are the same relations in plain float64 for inner loops.
package jet
