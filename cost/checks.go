package cost

import (
	"math"

	"leste/airsupply"
	"leste/job"
	"leste/physics/air"
	"leste/physics/relation"
	q "leste/quantity"
)

// Checks runs the reference checks of money, sound and exhaust.
func Checks() []airsupply.Check {
	var out []airsupply.Check
	add := func(id, card, source string, basis relation.Basis, expected, computed, tolerance float64, unit string) {
		out = append(out, airsupply.Check{
			ID: id, Relation: card, Source: source, Basis: basis, Expected: expected, Computed: computed, Tolerance: tolerance, Unit: unit,
		})
	}
	const (
		inch      = 0.0254
		psi       = 6894.757293
		cfm       = 4.719474432e-4
		freeTable = 1.2014 // kg/m3, 0.075 lb/ft3
	)
	hole := func(bore, psig float64) float64 {
		area := q.Area(math.Pi / 4 * bore * bore * inch * inch)
		return float64(HoleFlow(area, 1, q.Gauge(psig*psi), 14.7*psi, q.Temperature((70+459.67)/1.8), freeTable)) / cfm
	}
	const table = "orifice discharge table of compressed-air handbooks, coefficient 1"
	add("orifice-quarter-inch", "compressed-air-rival", table, relation.Published, 104, hole(.25, 100), 1, "scfm")
	add("orifice-low-pressure", "compressed-air-rival", table, relation.Published, 15.9, hole(.25, 5), 0.16, "scfm")
	add("orifice-half-inch", "compressed-air-rival", table, relation.Published, 415, hole(.5, 100), 4.2, "scfm")
	const leaks = "US DOE Compressed Air Challenge: a quarter-inch leak all year at 18 and 32 cents for 1000 ft3"
	add("leak-cost-low", "compressed-air-rival", leaks, relation.SecondHand, 9839, hole(.25, 100)*60*8760/1000*0.18, 40, "USD")
	add("leak-cost-high", "compressed-air-rival", leaks, relation.SecondHand, 17491, hole(.25, 100)*60*8760/1000*0.32, 70, "USD")

	const handbook = "NIST Handbook 135, tables of present-value factors"
	add("upv", "present-value", handbook, relation.Published, 8.5302, UPV(.03, 10), 5e-5, "1")
	add("upv-escalating", "present-value", handbook, relation.Published, 9.48127, EscalatingUPV(.03, .02, 10), 5e-6, "1")
	npv := math.NaN()
	if c, err := Compare(Alternative{2000, 36000, 500}, Alternative{14500, 6624, 900}, .08, .02, 10); err == nil {
		npv = c.NPV
	}
	add("net-present-value", "present-value", "independent spreadsheet", relation.Rederived, 202236.12, npv, 0.005, "EUR")

	mixed := []Exposure{{85, 5 * hour}, {87, 2 * hour}, {80, hour / 2}}
	add("dose", "noise-dose", "29 CFR 1910.95, worked example", relation.Published, 49.3, 100*float64(Dose(mixed, 80)), 0.05, "%")
	add("daily-exposure", "noise-dose", "Directive 2003/10/EC, 88 dB for 4 h", relation.Published, 84.99, float64(DailyExposure([]Exposure{{88, 4 * hour}})), 5e-3, "dB")
	room := Place{Distance: 2, Directivity: 2, Surface: 900, Absorption: .1}
	add("sound-in-room", "room-sound", "classical room equation, by hand", relation.Rederived, 84.02, float64(PressureLevel(95, 0, room)), 5e-3, "dB")
	add("exhaust", "exhaust-balance", "balance of volume, by hand", relation.Rederived, .545, float64(ExhaustBalance(.25, 1, .295, false)), 1e-12, "m3/s")

	// A trade fact that must come out untuned: a blower does the duty on about a fifth of the energy. The band
	// is that of realistic pairs of blower and compressor.
	ratio := math.NaN()
	if r, err := CompressedAir(20.57, 3445, air.Dry(101325, q.Celsius(20)), &job.CompressedAir{}); err == nil {
		ratio = r.Ratio.Likely
	}
	add("blower-over-compressed-air", "compressed-air-rival", "equal thrust, realistic pairs", relation.Practice, 0.225, ratio, 0.105, "1")
	return out
}
