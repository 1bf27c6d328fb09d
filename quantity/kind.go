package quantity

// Kind names one of the quantity types, for code that meets quantities by their kind: the job file, the
// forms of the desk, the flags of the commands.
type Kind uint8

// The kinds, one for each type. None is the zero value and no quantity.
const (
	None Kind = iota
	KindLength
	KindArea
	KindVolume
	KindAngle
	KindDuration
	KindRate
	KindSpeed
	KindGauge
	KindAbsolute
	KindPressureDrop
	KindMass
	KindDensity
	KindForce
	KindMoment
	KindStress
	KindPressureGradient
	KindViscosity
	KindKinematicViscosity
	KindSurfaceTension
	KindAreaMass
	KindThrustPerLength
	KindRatio
	KindSpecificHeat
	KindSpecificEnergy
	KindHeatTransfer
	KindDiffusivity
	KindThermalConductivity
	KindEvaporationFlux
	KindMassFluxDensity
	KindMassFlowPerLength
	KindMomentOfMass
	KindPricePerEnergy
	KindEmissionsPerEnergy
	KindSoundLevel
	KindTemperatureGradient
	KindVolumePerLength
	KindSpecificPower
	KindPricePerPower
	KindTemperature
	KindTemperatureDifference
	KindMassFlow
	KindVolumeFlow
	KindEnergy
	KindPower
	KindVoltage
	KindCurrent
	KindFrequency
	kindEnd
)

// Quantity is any of the quantity types.
type Quantity interface {
	Length | Area | Volume | Angle | Duration | Rate | Speed |
		Gauge | Absolute | PressureDrop |
		Mass | Density | Force | Moment | Stress | PressureGradient | Viscosity | KinematicViscosity |
		SurfaceTension | AreaMass | ThrustPerLength | Ratio | SpecificHeat | SpecificEnergy | HeatTransfer |
		Diffusivity | ThermalConductivity | EvaporationFlux | MassFluxDensity | MassFlowPerLength |
		MomentOfMass | PricePerEnergy | EmissionsPerEnergy | SoundLevel | TemperatureGradient |
		VolumePerLength | SpecificPower | PricePerPower |
		Temperature | TemperatureDifference | MassFlow | VolumeFlow | Energy | Power | Voltage | Current |
		Frequency
}

// KindOf returns the kind of a value of one of the quantity types, or None.
func KindOf(v any) Kind {
	switch v.(type) {
	case Length:
		return KindLength
	case Area:
		return KindArea
	case Volume:
		return KindVolume
	case Angle:
		return KindAngle
	case Duration:
		return KindDuration
	case Rate:
		return KindRate
	case Speed:
		return KindSpeed
	case Gauge:
		return KindGauge
	case Absolute:
		return KindAbsolute
	case PressureDrop:
		return KindPressureDrop
	case Mass:
		return KindMass
	case Density:
		return KindDensity
	case Force:
		return KindForce
	case Moment:
		return KindMoment
	case Stress:
		return KindStress
	case PressureGradient:
		return KindPressureGradient
	case Viscosity:
		return KindViscosity
	case KinematicViscosity:
		return KindKinematicViscosity
	case SurfaceTension:
		return KindSurfaceTension
	case AreaMass:
		return KindAreaMass
	case ThrustPerLength:
		return KindThrustPerLength
	case Ratio:
		return KindRatio
	case SpecificHeat:
		return KindSpecificHeat
	case SpecificEnergy:
		return KindSpecificEnergy
	case HeatTransfer:
		return KindHeatTransfer
	case Diffusivity:
		return KindDiffusivity
	case ThermalConductivity:
		return KindThermalConductivity
	case EvaporationFlux:
		return KindEvaporationFlux
	case MassFluxDensity:
		return KindMassFluxDensity
	case MassFlowPerLength:
		return KindMassFlowPerLength
	case MomentOfMass:
		return KindMomentOfMass
	case PricePerEnergy:
		return KindPricePerEnergy
	case EmissionsPerEnergy:
		return KindEmissionsPerEnergy
	case SoundLevel:
		return KindSoundLevel
	case TemperatureGradient:
		return KindTemperatureGradient
	case VolumePerLength:
		return KindVolumePerLength
	case SpecificPower:
		return KindSpecificPower
	case PricePerPower:
		return KindPricePerPower
	case Temperature:
		return KindTemperature
	case TemperatureDifference:
		return KindTemperatureDifference
	case MassFlow:
		return KindMassFlow
	case VolumeFlow:
		return KindVolumeFlow
	case Energy:
		return KindEnergy
	case Power:
		return KindPower
	case Voltage:
		return KindVoltage
	case Current:
		return KindCurrent
	case Frequency:
		return KindFrequency
	}
	return None
}

// kindData says how a kind is written.
type kindData struct {
	name    string  // with article, for sentences
	dim     dim     // dimension of its SI unit
	scale   float64 // the type's value over the coherent SI value
	example string  // a usual value with its unit
	units   string  // units offered in forms and error messages, "|" between them; the first is the usual one
	si, us  string  // units printed, smallest first; the largest whose number is at least 1 is taken
}

// year is the Julian year, the basis of yearly prices.
const year = 365.25 * 24 * 3600

// kinds is indexed by Kind.
var kinds = [kindEnd]kindData{
	KindLength:                {"a length", dLength, 1, "40 mm", "mm|cm|m|um|in|ft", "um|mm|m@10", "in|ft@10"},
	KindArea:                  {"an area", dArea, 1, "200 cm2", "mm2|cm2|m2|in2|ft2", "mm2|cm2|m2", "in2|ft2@10"},
	KindVolume:                {"a volume", dVolume, 1, "330 ml", "ul|ml|l|m3|in3|ft3|floz|gal", "ul|ml|l|m3", "floz|gal"},
	KindAngle:                 {"an angle", dAngle, 1, "15 deg", "deg|rad|mrad", "deg", "deg"},
	KindDuration:              {"a time", dTime, 1, "5 s", "s|ms|min|h|d", "ms|s|min@2|h@2", "ms|s|min@2|h@2"},
	KindRate:                  {"a rate", dRate, 1, "600 /min", "/min|/h|/s|b/h|rpm", "/h|/min", "/h|/min"},
	KindSpeed:                 {"a speed", dSpeed, 1, "0.6 m/s", "m/s|m/min|ft/min|ft/s", "m/s", "ft/min"},
	KindGauge:                 {"a gauge pressure", dPressure, 1, "20 kPa", "kPa|mbar|Pa|bar|psi|inH2O", "Pa|kPa|bar@5", "inH2O|psi@0.14"},
	KindAbsolute:              {"an absolute pressure", dPressure, 1, "101.3 kPa", "kPa|mbar|hPa|Pa|bar|psi|inHg", "Pa|kPa", "psi"},
	KindPressureDrop:          {"a pressure difference", dPressure, 1, "250 Pa", "Pa|kPa|mbar|bar|inH2O|psi", "Pa|kPa|bar@5", "inH2O|psi"},
	KindMass:                  {"a mass", dMass, 1, "350 g", "mg|g|kg|oz|lb", "mg|g|kg", "mg|oz|lb"},
	KindDensity:               {"a density", dDensity, 1, "1.2 kg/m3", "kg/m3|g/cm3|lb/ft3", "kg/m3", "lb/ft3"},
	KindForce:                 {"a force", dForce, 1, "2 N", "mN|N|kN|lbf|ozf", "mN|N|kN", "lbf"},
	KindMoment:                {"a moment", dEnergy, 1, "0.1 N m", "N m|N mm|lbf ft|lbf in", "N mm|N m", "lbf in|lbf ft"},
	KindStress:                {"a stress along the wall", dPressure, 1, "50 Pa", "Pa|kPa|psi", "Pa|kPa", "Pa"},
	KindPressureGradient:      {"a pressure gradient", dGradient, 1, "500 kPa/m", "Pa/m|kPa/m|Pa/mm|psi/in", "Pa/m|kPa/m", "psi/in"},
	KindViscosity:             {"a dynamic viscosity", dViscosity, 1, "1 mPa s", "mPa s|Pa s|uPa s|cP", "uPa s|mPa s|Pa s", "cP"},
	KindKinematicViscosity:    {"a kinematic viscosity", dDiffusivity, 1, "1 mm2/s", "mm2/s|m2/s|cSt", "mm2/s", "cSt"},
	KindSurfaceTension:        {"a surface tension", dTension, 1, "72 mN/m", "mN/m|N/m|dyn/cm", "mN/m", "mN/m"},
	KindAreaMass:              {"water per area", dAreaMass, 1, "50 g/m2", "g/m2|mg/cm2|kg/m2|oz/ft2", "g/m2|kg/m2", "g/m2"},
	KindThrustPerLength:       {"a thrust per length", dTension, 1, "30 N/m", "N/m|lbf/in|lbf/ft", "N/m", "lbf/ft"},
	KindRatio:                 {"a plain number or a percentage", dim{}, 1, "60 %", "%|", "", ""},
	KindSpecificHeat:          {"a specific heat", dSpecificHeat, 1, "4.2 kJ/(kg K)", "J/(kg K)|kJ/(kg K)|Btu/(lb degF)", "J/(kg K)|kJ/(kg K)", "Btu/(lb degF)"},
	KindSpecificEnergy:        {"an energy per mass", dSpecificEnergy, 1, "2450 kJ/kg", "kJ/kg|J/kg|Btu/lb", "J/kg|kJ/kg", "Btu/lb"},
	KindHeatTransfer:          {"a heat transfer coefficient", dHeatTransfer, 1, "12 W/(m2 K)", "W/(m2 K)|Btu/(h ft2 degF)", "W/(m2 K)", "Btu/(h ft2 degF)"},
	KindDiffusivity:           {"a diffusivity", dDiffusivity, 1, "25 mm2/s", "mm2/s|m2/s|cm2/s|ft2/h", "mm2/s", "ft2/h"},
	KindThermalConductivity:   {"a thermal conductivity", dConductivity, 1, "0.2 W/(m K)", "W/(m K)|mW/(m K)|Btu/(h ft degF)", "mW/(m K)|W/(m K)", "Btu/(h ft degF)"},
	KindEvaporationFlux:       {"an evaporation rate per area", dMassFlux, 1, "0.7 g/(m2 s)", "g/(m2 s)|kg/(m2 s)|kg/(m2 h)|lb/(ft2 h)", "g/(m2 s)", "lb/(ft2 h)"},
	KindMassFluxDensity:       {"a mass flow per area", dMassFlux, 1, "200 kg/(m2 s)", "kg/(m2 s)|lb/(ft2 s)", "kg/(m2 s)", "lb/(ft2 s)"},
	KindMassFlowPerLength:     {"a mass flow per length", dViscosity, 1, "0.3 kg/(s m)", "kg/(s m)|kg/(h m)|lb/(min ft)", "g/(s m)|kg/(s m)", "lb/(min ft)"},
	KindMomentOfMass:          {"a moment of mass", dMassLength, 1, "1 g m", "kg m|g m|lb ft", "g m|kg m", "lb ft"},
	KindPricePerEnergy:        {"a price per energy", dPerEnergy, 1, "0.15 /kWh", "/kWh|/MWh", "/kWh", "/kWh"},
	KindEmissionsPerEnergy:    {"emissions per energy", dMassPerEnergy, 1, "0.35 kg/kWh", "kg/kWh|g/kWh|kg/MWh|lb/kWh", "kg/kWh", "lb/kWh"},
	KindSoundLevel:            {"a sound level", dSound, 1, "85 dB", "dB", "dB", "dB"},
	KindTemperatureGradient:   {"a temperature gradient", dTemperatureGradient, 1, "2 K/m", "K/m|degF/ft", "K/m", "degF/ft"},
	KindVolumePerLength:       {"a volume per length", dArea, 1, "2 ml/m", "ul/mm|ml/m|l/m", "ml/m|l/m", "ml/m"},
	KindSpecificPower:         {"a power per flow", dPressure, 1, "6.6 kW/(m3/min)", "kW/(m3/min)|kW/(m3/h)|kW/(100 cfm)", "kW/(m3/min)", "kW/(100 cfm)"},
	KindPricePerPower:         {"a price per power and year", dPerEnergy, year, "60 /(kW year)", "/(kW year)|/(kW month)", "/(kW year)", "/(kW year)"},
	KindTemperature:           {"a temperature", dTemperature, 1, "28 degC", "degC|degF|K", "degC", "degF"},
	KindTemperatureDifference: {"a temperature difference", dTemperature, 1, "5 K", "K|degF", "K", "degF"},
	KindMassFlow:              {"a mass flow", dMassFlow, 1, "0.3 kg/s", "kg/s|kg/h|g/s|kg/min|lb/min|lb/h", "g/s|kg/s", "lb/min"},
	KindVolumeFlow:            {"a volume flow", dVolumeFlow, 1, "600 m3/h", "m3/h|m3/min|m3/s|l/s|l/min|cfm", "m3/h", "cfm"},
	KindEnergy:                {"an energy", dEnergy, 1, "1200 kWh", "kWh|MWh|J|kJ|MJ|Btu", "J|kJ|kWh", "Btu|kWh"},
	KindPower:                 {"a power", dPower, 1, "11 kW", "kW|W|hp", "W|kW", "W|hp"},
	KindVoltage:               {"a voltage", dVoltage, 1, "400 V", "V|kV", "V", "V"},
	KindCurrent:               {"a current", dCurrent, 1, "20 A", "A|mA", "mA|A", "mA|A"},
	KindFrequency:             {"a frequency", dRate, 1, "50 Hz", "Hz|kHz", "Hz", "Hz"},
}

// Name returns the kind in words with its article, e.g. "a length".
func (k Kind) Name() string { return kinds[k].name }

// Example returns a usual value of the kind with its unit, e.g. "40 mm".
func (k Kind) Example() string { return kinds[k].example }
