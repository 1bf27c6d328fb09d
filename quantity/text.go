package quantity

// set parses text into x.
func set[T Quantity](x *T, text []byte) error {
	v, err := Parse[T](string(text))
	if err == nil {
		*x = v
	}
	return err
}

// The UnmarshalText methods let flags and decoders read any quantity with its unit. There is no MarshalText:
// in JSON a quantity is a number and its key carries the unit.

// UnmarshalText reads a Length with its unit.
func (x *Length) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads an Area with its unit.
func (x *Area) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a Volume with its unit.
func (x *Volume) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads an Angle with its unit.
func (x *Angle) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a Duration with its unit.
func (x *Duration) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a Rate with its unit.
func (x *Rate) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a Speed with its unit.
func (x *Speed) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a Gauge with its unit.
func (x *Gauge) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads an Absolute with its unit.
func (x *Absolute) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a PressureDrop with its unit.
func (x *PressureDrop) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a Mass with its unit.
func (x *Mass) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a Density with its unit.
func (x *Density) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a Force with its unit.
func (x *Force) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a Moment with its unit.
func (x *Moment) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a Stress with its unit.
func (x *Stress) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a PressureGradient with its unit.
func (x *PressureGradient) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a Viscosity with its unit.
func (x *Viscosity) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a KinematicViscosity with its unit.
func (x *KinematicViscosity) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a SurfaceTension with its unit.
func (x *SurfaceTension) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads an AreaMass with its unit.
func (x *AreaMass) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a ThrustPerLength with its unit.
func (x *ThrustPerLength) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a Ratio with its unit.
func (x *Ratio) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a SpecificHeat with its unit.
func (x *SpecificHeat) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a SpecificEnergy with its unit.
func (x *SpecificEnergy) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a HeatTransfer with its unit.
func (x *HeatTransfer) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a Diffusivity with its unit.
func (x *Diffusivity) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a ThermalConductivity with its unit.
func (x *ThermalConductivity) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads an EvaporationFlux with its unit.
func (x *EvaporationFlux) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a MassFluxDensity with its unit.
func (x *MassFluxDensity) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a MassFlowPerLength with its unit.
func (x *MassFlowPerLength) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a MomentOfMass with its unit.
func (x *MomentOfMass) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a PricePerEnergy with its unit.
func (x *PricePerEnergy) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads an EmissionsPerEnergy with its unit.
func (x *EmissionsPerEnergy) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a SoundLevel with its unit.
func (x *SoundLevel) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a TemperatureGradient with its unit.
func (x *TemperatureGradient) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a VolumePerLength with its unit.
func (x *VolumePerLength) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a SpecificPower with its unit.
func (x *SpecificPower) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a PricePerPower with its unit.
func (x *PricePerPower) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a Temperature with its unit.
func (x *Temperature) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a TemperatureDifference with its unit.
func (x *TemperatureDifference) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a MassFlow with its unit.
func (x *MassFlow) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a VolumeFlow with its unit.
func (x *VolumeFlow) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads an Energy with its unit.
func (x *Energy) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a Power with its unit.
func (x *Power) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a Voltage with its unit.
func (x *Voltage) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a Current with its unit.
func (x *Current) UnmarshalText(text []byte) error { return set(x, text) }

// UnmarshalText reads a Frequency with its unit.
func (x *Frequency) UnmarshalText(text []byte) error { return set(x, text) }
