package air

import (
	"math"

	"leste/physics/internal/solve"
	"leste/quantity"
)

// LatentHeat is the heat of evaporation of water, J/kg; card latent-heat.
func LatentHeat(t quantity.Temperature) quantity.SpecificEnergy {
	return quantity.SpecificEnergy(2.501e6 - 2326*t.C())
}

// MassTransfer is the speed at which vapour leaves a surface whose heat transfer coefficient is h, by the
// Chilton-Colburn analogy with the air's properties at the film state; card mass-transfer.
func MassTransfer(h quantity.HeatTransfer, film Moist) quantity.Speed {
	return quantity.Speed(float64(h) / (float64(film.Density()) * float64(film.SpecificHeat()) *
		math.Pow(float64(film.Lewis()), 2.0/3)))
}

// EvaporationFlux is the mass flux of vapour from water at temperature surface into the air, positive when
// it evaporates and negative when it condenses, with the wind of the vapour itself (Stefan flow) included.
// The speed transfer comes from MassTransfer. Card evaporation-flux. NaN when the water would boil.
func EvaporationFlux(transfer quantity.Speed, a Moist, surface quantity.Temperature) quantity.EvaporationFlux {
	ps := SaturationPressure(surface)
	if !(ps < a.P) {
		return quantity.EvaporationFlux(math.NaN())
	}
	filmT := (float64(a.T) + float64(surface)) / 2
	return quantity.EvaporationFlux(float64(transfer) * float64(a.P) / (float64(VapourGasConstant) * filmT) *
		math.Log(float64((a.P-a.VapourPressure())/(a.P-ps))))
}

// Surface is a wet wall between air and product.
type Surface struct {
	Air      Moist
	Heat     quantity.HeatTransfer // air to water
	Transfer quantity.Speed        // vapour; 0 takes MassTransfer of Heat at the film state
	Product  quantity.Temperature
	Inward   quantity.HeatTransfer // water film to product; 0 is an adiabatic wall
}

// Exchange is what a wet wall settles at.
type Exchange struct {
	Surface quantity.Temperature
	Flux    quantity.EvaporationFlux // positive evaporates, negative condenses
	Inward  float64                  // W/m2 into the product
}

// Balance returns the surface temperature at which the heat from the air and from the product pays for the
// evaporation, and the flux there; card surface-balance. All three are NaN when there is no such temperature
// between -60 degC and boiling.
func (s Surface) Balance() Exchange {
	surplus := func(t float64) float64 {
		ts := quantity.Temperature(t)
		return float64(s.Heat)*float64(s.Air.T-ts) + float64(s.Inward)*float64(s.Product-ts) -
			float64(s.FluxAt(ts))*float64(LatentHeat(ts))
	}
	boiling := SaturationTemperature(s.Air.P)
	ts := quantity.Temperature(solve.Root(surplus, coldest, float64(boiling)-0.01, 1e-10))
	return Exchange{Surface: ts, Flux: s.FluxAt(ts), Inward: float64(s.Inward) * float64(ts-s.Product)}
}

// FluxAt is the evaporation flux with the water at temperature ts.
func (s Surface) FluxAt(ts quantity.Temperature) quantity.EvaporationFlux {
	transfer := s.Transfer
	if transfer == 0 {
		film := s.Air
		film.T = (s.Air.T + ts) / 2
		transfer = MassTransfer(s.Heat, film)
	}
	return EvaporationFlux(transfer, s.Air, ts)
}

// coldest surface temperature looked for, K.
const coldest = 213.15
