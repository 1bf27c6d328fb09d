package jet

import (
	"math"

	"leste/quantity"
)

// SoundPower is the sound power of a free subsonic jet of mass flow m and exit speed u, from the mixing of
// the jet with air of sound speed c; card jet-sound.
func SoundPower(m quantity.MassFlow, u, c quantity.Speed) quantity.Power {
	return quantity.Power(soundPower(float64(m), float64(u), float64(c)))
}

// SoundPowerPerLength is SoundPower for a slot, per metre.
func SoundPowerPerLength(m quantity.MassFlowPerLength, u, c quantity.Speed) quantity.PowerPerLength {
	return quantity.PowerPerLength(soundPower(float64(m), float64(u), float64(c)))
}

func soundPower(m, u, c float64) float64 {
	return 1e-4 * math.Pow(u/c, 5) * m * u * u / 2
}

// HighSoundPower is an upper estimate: a throttling valve's efficiency in place of a free jet's; card
// jet-sound-high. Mach is that of the exit.
func HighSoundPower(m quantity.MassFlow, u quantity.Speed, mach quantity.Ratio) quantity.Power {
	return quantity.Power(1e-4 * math.Pow(float64(mach), 3) * float64(m) * float64(u) * float64(u) / 2)
}

// SoundPowerLevel is the level of a sound power over 1 pW, dB.
func SoundPowerLevel(w quantity.Power) quantity.SoundLevel {
	return quantity.SoundLevel(10 * math.Log10(float64(w)/1e-12))
}

// PeakFrequency of a jet's sound, from exit speed and bore or gap; card jet-sound-peak.
func PeakFrequency(u quantity.Speed, width quantity.Length) quantity.Frequency {
	return quantity.Frequency(0.2 * float64(u) / float64(width))
}
