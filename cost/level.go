package cost

import (
	"math"

	q "leste/quantity"
)

// SumLevels adds sound levels by their energy. No level at all is -Inf.
func SumLevels(levels ...q.SoundLevel) q.SoundLevel {
	var sum float64
	for _, l := range levels {
		sum += math.Pow(10, float64(l)/10)
	}
	return q.SoundLevel(10 * math.Log10(sum))
}

// WithoutBackground takes a background level out of a measured one; NaN when it is not below.
func WithoutBackground(measured, background q.SoundLevel) q.SoundLevel {
	return q.SoundLevel(10 * math.Log10(math.Pow(10, float64(measured)/10)-math.Pow(10, float64(background)/10)))
}

// A Place is where the sound is heard: distance, directivity of the source's surroundings (1 free, 2 on a
// floor), and the room's surface and mean absorption; surface 0 leaves the room out.
type Place struct {
	Distance    q.Length
	Directivity q.Ratio
	Surface     q.Area
	Absorption  q.Ratio
}

// PressureLevel is the sound pressure level of a source of sound power level power. length is the length of a
// line of outlets seen from its middle; 0 is a point.
//
//	Lp = Lw + 10 lg(Q/(4 pi r^2) + 4/R),  line: Q theta/(4 pi L r), theta = 2 atan(L/2r);  R = S a/(1-a)
//
// Range: distance above 0.1 m; +-3 dB. Source: the classical room equation; line source re-derived.
func PressureLevel(power q.SoundLevel, length q.Length, at Place) q.SoundLevel {
	r, d, l := float64(at.Distance), float64(at.Directivity), float64(length)
	if !(r > 0) || !(d > 0) || !(l >= 0) {
		return q.SoundLevel(math.NaN())
	}
	direct := d / (4 * math.Pi * r * r)
	if l > 0 {
		direct = d * 2 * math.Atan(l/(2*r)) / (4 * math.Pi * l * r)
	}
	return power + q.SoundLevel(10*math.Log10(direct+at.reverberant()))
}

// reverberant is 4/R; nothing without a room or when everything is absorbed.
func (p Place) reverberant() float64 {
	a := float64(p.Absorption)
	if !(p.Surface > 0) || !(a > 0) || a >= 1 {
		return 0
	}
	return 4 * (1 - a) / (float64(p.Surface) * a)
}

// CriticalRadius is where the direct and the reverberant field are alike; +Inf without a room.
func CriticalRadius(p Place) q.Length {
	return q.Length(math.Sqrt(float64(p.Directivity) / (4 * math.Pi * p.reverberant())))
}

// HoodReduction is what a hood takes off [dB], limited by its openings: wall is what its walls take off.
func HoodReduction(wall q.SoundLevel, open, walls q.Area) q.SoundLevel {
	if !(open >= 0) || !(walls >= 0) || open+walls == 0 {
		return q.SoundLevel(math.NaN())
	}
	share := float64(open / (open + walls))
	return q.SoundLevel(-10 * math.Log10(share+(1-share)*math.Pow(10, -float64(wall)/10)))
}

// SpeedLevel is how much the sound of a blower changes at a speed ratio: 50 lg N, +-3 dB, common practice.
func SpeedLevel(speed q.Ratio) q.SoundLevel { return q.SoundLevel(50 * math.Log10(float64(speed))) }

// An Exposure is a level a person works in for a time.
type Exposure struct {
	Level q.SoundLevel // A-weighted
	Time  q.Duration
}

// AllowedTime is the time at a level that makes a full dose by 29 CFR 1910.95: 8 h at 90 dBA, halved for each
// 5 dB.
func AllowedTime(l q.SoundLevel) q.Duration {
	return q.Duration(8 * hour / math.Pow(2, (float64(l)-90)/5))
}

// Dose is the noise dose by 29 CFR 1910.95, 1 is full; levels below the threshold do not count (80 dBA for the
// hearing conservation programme, 90 dBA for the limit).
func Dose(exposures []Exposure, threshold q.SoundLevel) q.Ratio {
	var d float64
	for _, e := range exposures {
		if e.Level >= threshold {
			d += float64(e.Time) / float64(AllowedTime(e.Level))
		}
	}
	return q.Ratio(d)
}

// WeightedAverage is the 8 h time-weighted average of a dose by 29 CFR 1910.95.
func WeightedAverage(dose q.Ratio) q.SoundLevel {
	return q.SoundLevel(16.61*math.Log10(float64(dose)) + 90)
}

// DailyExposure is LEX,8h by directive 2003/10/EC.
func DailyExposure(exposures []Exposure) q.SoundLevel {
	var sum float64
	for _, e := range exposures {
		sum += float64(e.Time) / (8 * hour) * math.Pow(10, float64(e.Level)/10)
	}
	return q.SoundLevel(10 * math.Log10(sum))
}

// Limits of directive 2003/10/EC on the daily exposure, and of 29 CFR 1910.95 on the average.
const (
	LowerAction     q.SoundLevel = 80
	UpperAction     q.SoundLevel = 85
	ExposureLimit   q.SoundLevel = 87 // hearing protectors counted
	ActionLevel     q.SoundLevel = 85 // dose of one half
	PermissibleDose q.Ratio      = 1
)
