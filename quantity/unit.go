package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// dim holds the exponents of a unit's base units, in the order of the base constants.
type dim [7]int8

const (
	baseMetre = iota
	baseKilogram
	baseSecond
	baseKelvin
	baseAmpere
	baseRadian  // kept apart, so that "15 deg" is no ratio
	baseDecibel // kept apart, for the same reason
)

var baseSymbols = [len(dim{})]string{"m", "kg", "s", "K", "A", "rad", "dB"}

// Dimensions of the kinds.
var (
	dLength              = dim{baseMetre: 1}
	dArea                = dim{baseMetre: 2}
	dVolume              = dim{baseMetre: 3}
	dAngle               = dim{baseRadian: 1}
	dTime                = dim{baseSecond: 1}
	dRate                = dim{baseSecond: -1}
	dSpeed               = dim{baseMetre: 1, baseSecond: -1}
	dPressure            = dim{baseMetre: -1, baseKilogram: 1, baseSecond: -2}
	dMass                = dim{baseKilogram: 1}
	dDensity             = dim{baseMetre: -3, baseKilogram: 1}
	dForce               = dim{baseMetre: 1, baseKilogram: 1, baseSecond: -2}
	dEnergy              = dim{baseMetre: 2, baseKilogram: 1, baseSecond: -2}
	dPower               = dim{baseMetre: 2, baseKilogram: 1, baseSecond: -3}
	dGradient            = dim{baseMetre: -2, baseKilogram: 1, baseSecond: -2}
	dViscosity           = dim{baseMetre: -1, baseKilogram: 1, baseSecond: -1}
	dTension             = dim{baseKilogram: 1, baseSecond: -2}
	dAreaMass            = dim{baseMetre: -2, baseKilogram: 1}
	dSpecificHeat        = dim{baseMetre: 2, baseSecond: -2, baseKelvin: -1}
	dSpecificEnergy      = dim{baseMetre: 2, baseSecond: -2}
	dHeatTransfer        = dim{baseKilogram: 1, baseSecond: -3, baseKelvin: -1}
	dDiffusivity         = dim{baseMetre: 2, baseSecond: -1}
	dConductivity        = dim{baseMetre: 1, baseKilogram: 1, baseSecond: -3, baseKelvin: -1}
	dMassFlux            = dim{baseMetre: -2, baseKilogram: 1, baseSecond: -1}
	dMassLength          = dim{baseMetre: 1, baseKilogram: 1}
	dPerEnergy           = dim{baseMetre: -2, baseKilogram: -1, baseSecond: 2}
	dMassPerEnergy       = dim{baseMetre: -2, baseSecond: 2}
	dSound               = dim{baseDecibel: 1}
	dTemperature         = dim{baseKelvin: 1}
	dTemperatureGradient = dim{baseMetre: -1, baseKelvin: 1}
	dMassFlow            = dim{baseKilogram: 1, baseSecond: -1}
	dVolumeFlow          = dim{baseMetre: 3, baseSecond: -1}
	dVoltage             = dim{baseMetre: 2, baseKilogram: 1, baseSecond: -3, baseAmpere: -1}
	dCurrent             = dim{baseAmpere: 1}
)

func (d dim) plus(e dim, times int) dim {
	for i := range d {
		d[i] += int8(int(e[i]) * times)
	}
	return d
}

// unit is one symbol: value in SI = number*factor + offset.
type unit struct {
	factor float64
	dim    dim
	offset float64 // K, temperatures only
	traits traits
}

// traits of a unit.
type traits uint8

const (
	prefixed   traits = 1 << iota // takes SI prefixes up to a thousand
	large                         // and those for a million and more
	overRoom                      // a pressure above the room's
	overVacuum                    // a pressure above vacuum
)

// Exact definitions of units outside SI: the international yard and pound (1959), standard gravity
// (CGPM 1901), the US gallon of 231 in3, water of 1000 kg/m3 and mercury of 13595.1 kg/m3 for columns.
const (
	inch    = 0.0254
	foot    = 12 * inch
	pound   = 0.45359237
	gravity = 9.80665
	psi     = pound * gravity / (inch * inch)
	gallon  = 231 * inch * inch * inch
	water   = 1000 * gravity    // Pa per metre of water
	mercury = 13595.1 * gravity // Pa per metre of mercury
	btu     = 1055.05585262     // international table
)

// unitRow is one row of the table: the spellings of a unit, the usual one first, and what it is worth.
type unitRow struct {
	symbols string
	factor  float64
	dim     dim
	traits  traits
}

var unitRows = []unitRow{
	{"m", 1, dLength, prefixed},
	{"in inch inches", inch, dLength, 0},
	{"ft feet foot", foot, dLength, 0},
	{"yd", 3 * foot, dLength, 0},
	{"mi", 5280 * foot, dLength, 0},
	{"mil thou", inch / 1000, dLength, 0},
	{"micron", 1e-6, dLength, 0},

	{"l L", 1e-3, dVolume, prefixed},
	{"gal", gallon, dVolume, 0},
	{"floz", gallon / 128, dVolume, 0},

	{"rad", 1, dAngle, prefixed},
	{"deg ° degree degrees Grad", math.Pi / 180, dAngle, 0},

	{"s", 1, dTime, prefixed},
	{"sec second seconds", 1, dTime, 0},
	{"min minute minutes", 60, dTime, 0},
	{"h hr hour hours", 3600, dTime, 0},
	{"d day days", 86400, dTime, 0},
	{"month months", year / 12, dTime, 0},
	{"year years a", year, dTime, 0},

	{"Hz", 1, dRate, prefixed | large},
	{"rpm bpm cpm", 1. / 60, dRate, 0},
	{"bph cph", 1. / 3600, dRate, 0},
	{"b bottle bottles can cans jar jars container containers rev start starts 1", 1, dim{}, 0},
	{"100", 100, dim{}, 0},

	{"fpm", foot / 60, dSpeed, 0},
	{"fps", foot, dSpeed, 0},
	{"mph", 5280 * foot / 3600, dSpeed, 0},

	{"Pa", 1, dPressure, prefixed | large},
	{"bar", 1e5, dPressure, prefixed},
	{"psi", psi, dPressure, 0},
	{"psig", psi, dPressure, overRoom},
	{"psia", psi, dPressure, overVacuum},
	{"barg", 1e5, dPressure, prefixed | overRoom},
	{"bara", 1e5, dPressure, prefixed | overVacuum},
	{"Pag", 1, dPressure, prefixed | large | overRoom},
	{"Paa", 1, dPressure, prefixed | large | overVacuum},
	{"atm", 101325, dPressure, 0},
	{"Torr torr", 101325. / 760, dPressure, 0},
	{"inH2O inWC inwc", inch * water, dPressure, 0},
	{"ftH2O", foot * water, dPressure, 0},
	{"mmH2O mmWC", 1e-3 * water, dPressure, 0},
	{"cmH2O", 1e-2 * water, dPressure, 0},
	{"mH2O", water, dPressure, 0},
	{"inHg", inch * mercury, dPressure, 0},
	{"mmHg", 1e-3 * mercury, dPressure, 0},

	{"g", 1e-3, dMass, prefixed},
	{"t", 1000, dMass, 0},
	{"lb lbs", pound, dMass, 0},
	{"oz", pound / 16, dMass, 0},

	{"N", 1, dForce, prefixed},
	{"lbf", pound * gravity, dForce, 0},
	{"ozf", pound * gravity / 16, dForce, 0},
	{"kgf", gravity, dForce, 0},
	{"dyn", 1e-5, dForce, 0},

	{"P", 0.1, dViscosity, prefixed},
	{"St", 1e-4, dDiffusivity, prefixed},

	{"J", 1, dEnergy, prefixed | large},
	{"Wh", 3600, dEnergy, prefixed | large},
	{"Btu BTU", btu, dEnergy, 0},
	{"cal", 4.184, dEnergy, prefixed | large},
	{"W", 1, dPower, prefixed | large},
	{"hp", 550 * foot * pound * gravity, dPower, 0},

	{"K", 1, dTemperature, prefixed},
	{"degC °C C ℃", 1, dTemperature, 0},
	{"degF °F F ℉", 5. / 9, dTemperature, 0},

	{"cfm acfm", foot * foot * foot / 60, dVolumeFlow, 0},
	{"cfh", foot * foot * foot / 3600, dVolumeFlow, 0},
	{"gpm", gallon / 60, dVolumeFlow, 0},

	{"V", 1, dVoltage, prefixed},
	{"A", 1, dCurrent, prefixed},
	{"dB dBA", 1, dSound, 0},
	{"% percent", 0.01, dim{}, 0},
	{"‰", 0.001, dim{}, 0},
}

// zeros holds, for the spellings of temperature scales, the temperature [K] of their zero.
var zeros = map[string]float64{
	"degC": float64(ZeroCelsius), "degF": 459.67 * 5 / 9,
}

// units is the table by symbol.
var units = func() map[string]unit {
	table := make(map[string]unit, 2*len(unitRows))
	for _, r := range unitRows {
		symbols := strings.Fields(r.symbols)
		for _, s := range symbols {
			table[s] = unit{r.factor, r.dim, zeros[symbols[0]], r.traits}
		}
	}
	return table
}()

// prefixes of SI that a blow-off job may meet.
var prefixes = map[string]float64{
	"n": 1e-9, "u": 1e-6, "µ": 1e-6, "μ": 1e-6, "m": 1e-3, "c": 1e-2, "d": 1e-1, "h": 1e2, "k": 1e3, "M": 1e6, "G": 1e9,
}

// standard are symbols of standard flow: an amount of air, counted in volumes at a state the symbol does not
// tell.
var standard = []string{"scfm", "SCFM", "scfh", "slm", "slpm", "SLPM", "Nm3", "Sm3", "NL", "Nl", "sm3", "Ncm3", "sccm", "stdm3"}

// lookup returns the unit of a symbol.
func lookup(symbol string) (unit, bool) {
	if u, ok := units[symbol]; ok {
		return u, true
	}
	f, u, ok := split(symbol)
	if !ok || f >= million && u.traits&large == 0 {
		return unit{}, false
	}
	u.factor *= f
	return u, true
}

// split takes the prefix off a symbol.
func split(symbol string) (prefix float64, u unit, ok bool) {
	_, n := utf8.DecodeRuneInString(symbol)
	f, known := prefixes[symbol[:n]]
	u, ok = units[symbol[n:]]
	return f, u, known && ok && u.traits&prefixed != 0
}

// million is the least of the prefixes in capitals. "Mbar", "Mg" and "ML" are no units of a packaging line but small ones
// in the wrong letters, so that they are refused.
const million = 1e6

// unknown says why a symbol is no unit.
func unknown(symbol string) string {
	if f, _, ok := split(symbol); ok && f >= million {
		return fmt.Sprintf("%q would be %s %s, which nobody measures in", clip(symbol), map[float64]string{million: "a million", 1e9: "a thousand million"}[f], symbol[1:])
	}
	return fmt.Sprintf("the unit %q is not known", clip(symbol))
}

// String writes a dimension in base units, e.g. "kg m-1 s-2".
func (d dim) String() string {
	var b strings.Builder
	for i, e := range d {
		if e == 0 {
			continue
		}
		if b.Len() > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(baseSymbols[i])
		if e != 1 {
			b.WriteString(strconv.Itoa(int(e)))
		}
	}
	return b.String()
}
