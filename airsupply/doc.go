// Package airsupply answers what air reaches each outlet, from which blower, and what it draws from the mains.
//
// A Network is the inlet, blowers, ducts, hoses, plenums and outlets of a job. Solve finds where they agree;
// Cases does so for every condition the station must live with. Pressures in a network are stagnation
// (total) pressures from the room to the outlet, so that a change of bore costs nothing by itself and only
// loss coefficients do. Losses are compressible: a loss K takes (k/2) M^2 p0 K of the total pressure.
package airsupply
