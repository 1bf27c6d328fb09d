package quantity

import "math"

// Geometry and time.
type (
	Length   float64 // m
	Area     float64 // m2
	Volume   float64 // m3
	Angle    float64 // rad
	Duration float64 // s
	Rate     float64 // 1/s, containers or events per second
	Speed    float64 // m/s
)

// Pressure, always one of three kinds.
type (
	Gauge        float64 // Pa above the ambient pressure
	Absolute     float64 // Pa
	PressureDrop float64 // Pa, the difference of two pressures of the same kind
)

// Mechanics.
type (
	Mass                float64 // kg
	Density             float64 // kg/m3
	Force               float64 // N
	Moment              float64 // N m
	MomentumFlux        float64 // N/m2, momentum carried per area and time
	PowerPerForce       float64 // W/N, power spent per thrust
	PowerPerLength      float64 // W/m
	Stress              float64 // Pa, along the wall
	PressureGradient    float64 // Pa/m
	Viscosity           float64 // Pa s, dynamic
	KinematicViscosity  float64 // m2/s
	SurfaceTension      float64 // N/m
	AreaMass            float64 // kg/m2, water on a wall
	ThrustPerLength     float64 // N/m, momentum flux per metre of slot
	Ratio               float64 // 1
	SpecificHeat        float64 // J/(kg K)
	SpecificEnergy      float64 // J/kg
	HeatTransfer        float64 // W/(m2 K), heat transfer coefficient
	Diffusivity         float64 // m2/s
	ThermalConductivity float64 // W/(m K)
	EvaporationFlux     float64 // kg/(m2 s), positive leaving the wall
	MassFluxDensity     float64 // kg/(m2 s)
	MassFlowPerLength   float64 // kg/(s m)
	MomentOfMass        float64 // kg m
	PricePerEnergy      float64 // currency unit per joule
	EmissionsPerEnergy  float64 // kg CO2 per joule
	SoundLevel          float64 // dB; the reference is part of the name where it is used
	TemperatureGradient float64 // K/m
	VolumePerLength     float64 // m3/m
	SpecificPower       float64 // J/m3, compressor power per free-air flow
	PricePerPower       float64 // currency unit per watt and year
)

// Heat, flow, electricity.
type (
	Temperature           float64 // K
	TemperatureDifference float64 // K
	MassFlow              float64 // kg/s
	VolumeFlow            float64 // m3/s at the state named where it is used
	Energy                float64 // J
	Power                 float64 // W
	Voltage               float64 // V
	Current               float64 // A
	Frequency             float64 // Hz
)

// ZeroCelsius is 0 degC in kelvin.
const ZeroCelsius Temperature = 273.15

// Celsius returns the temperature of t degC.
func Celsius(t float64) Temperature { return Temperature(t) + ZeroCelsius }

// C returns the temperature in degC.
func (t Temperature) C() float64 { return float64(t - ZeroCelsius) }

// Degrees returns the angle of d degrees.
func Degrees(d float64) Angle { return Angle(d * math.Pi / 180) }

// Deg returns the angle in degrees.
func (a Angle) Deg() float64 { return float64(a) * 180 / math.Pi }

// MM returns the length in millimetres.
func (l Length) MM() float64 { return float64(l) * 1e3 }

// Millimetres returns the length of x mm.
func Millimetres(x float64) Length { return Length(x * 1e-3) }

// Above returns the absolute pressure of a gauge pressure over an ambient.
func (g Gauge) Above(ambient Absolute) Absolute { return ambient + Absolute(g) }

// Over returns the gauge pressure of an absolute pressure over an ambient.
func (p Absolute) Over(ambient Absolute) Gauge { return Gauge(p - ambient) }
