package water

import "leste/quantity"

// Settings are the quantities of the drying relations that no publication fixes and that trials narrow. Each
// is a likely value with its range. Not all of them make things monotonically worse: evaluate both ends.
type Settings struct {
	Drag           quantity.Band // drag coefficient of a drop on its front
	SlideShare     quantity.Band // speed at which a drop must slide over the line's, for it to be swept
	HoleSpacing    quantity.Band // m, of the holes in a film that breaks
	SmallDropShare quantity.Band // of the water swept in drops, left behind as small drops
	Spread         quantity.Band // of drop sizes, standard deviation of the logarithm
	Incoming       quantity.Band // kg/m2 on a wall that does not wet
	IncomingDrop   quantity.Band // m, volume-median base diameter of the drops that come in
	MistReturn     quantity.Band // share of the mist that lands on the container again
	RunDownShare   quantity.Band // of trapped water above what the wall holds, that ends on the wall below
}

// Defaults returns the settings before any trial; common practice and judgement, no source. Drag is anchored
// on the critical Weber number 7.9 of card drop-balance.
func Defaults() Settings {
	return Settings{
		Drag:           quantity.Band{Likely: 0.20, Low: 0.15, High: 0.40},
		SlideShare:     quantity.Band{Likely: 0.5, Low: 0.15, High: 1},
		HoleSpacing:    quantity.Band{Likely: 4e-3, Low: 1.5e-3, High: 10e-3},
		SmallDropShare: quantity.Band{Likely: 0.10, Low: 0.03, High: 0.30},
		Spread:         quantity.Band{Likely: 0.4, Low: 0.25, High: 0.6},
		Incoming:       quantity.Band{Likely: 0.050, Low: 0.020, High: 0.100},
		IncomingDrop:   quantity.Band{Likely: 3.2e-3, Low: 2e-3, High: 5e-3},
		MistReturn:     quantity.Band{Likely: 0, Low: 0, High: 0.2},
		RunDownShare:   quantity.Band{Likely: 0.30, Low: 0.10, High: 0.60},
	}
}
