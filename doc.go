// Package leste designs blow-off and drying stations for packaging lines and calculates what they leave.
//
// Assess answers, from one job: will this station leave the container dry enough for the machine that
// comes next, at every format and speed, with which air, from which blower, at what cost, and will the
// container still stand.
package leste
