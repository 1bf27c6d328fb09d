// Package air gives the properties of humid air and how heat and vapour pass between air and a wet wall.
//
// Every relation is a pure function of its arguments. It is total: an input that cannot exist (a pressure
// that is not positive, air above saturation) gives NaN, and an input outside the range of the relation gives
// the formula's value; whether it is inside is asked of the relation's card (see Cards), never hidden here.
// Properties serve 40 to 250 kPa and -40 to 150 degC, which covers what a blower discharges; the narrower
// range a site may have is the card site-air.
package air
