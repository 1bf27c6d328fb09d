package calc

import "strings"

// A unit is what the end of a key says about its number.
type unit struct {
	suffix string
	name   string
	size   float64 // SI units in one of it
	zero   float64 // SI value of its zero
}

// units lists the ends of keys, longer ones before those that they end with.
var units = []unit{
	{"_kg_s_m2", "kg/(s m²)", 1, 0},
	{"_kg_s_m", "kg/(s m)", 1, 0},
	{"_kg_s", "kg/s", 1, 0},
	{"_kg_m3", "kg/m³", 1, 0},
	{"_g_kg", "g/kg", 1e-3, 0},
	{"_g_m2", "g/m²", 1e-3, 0},
	{"_m3_min", "m³/min", 1.0 / 60, 0},
	{"_um_s", "µm/s", 1e-6, 0},
	{"_m_s", "m/s", 1, 0},
	{"_pa_s", "Pa s", 1, 0},
	{"_pa_m", "Pa/m", 1, 0},
	{"_kpa", "kPa", 1e3, 0},
	{"_pa", "Pa", 1, 0},
	{"_n_m", "N/m", 1, 0},
	{"_n", "N", 1, 0},
	{"_db_m", "dB for 1 m", 1, 0},
	{"_db", "dB", 1, 0},
	{"_w_n", "W/N", 1, 0},
	{"_w", "W", 1, 0},
	{"_c", "°C", 1, 273.15},
	{"_k", "K", 1, 0},
	{"_pct", "%", 0.01, 0},
	{"_deg", "°", 3.14159265358979323846 / 180, 0},
	{"_um", "µm", 1e-6, 0},
	{"_mm", "mm", 1e-3, 0},
	{"_ms", "ms", 1e-3, 0},
	{"_ul", "µL", 1e-9, 0},
	{"_s", "s", 1, 0},
}

// unitOf returns the unit of a key; a key without one is a plain number.
func unitOf(key string) unit {
	for _, u := range units {
		if strings.HasSuffix(key, u.suffix) {
			return u
		}
	}
	return unit{size: 1}
}

// Unit returns the unit of an answer as print shows it, "" for a plain number.
func (o Output) Unit() string { return unitOf(o.Key).name }

func (u unit) fromSI(x float64) float64 { return (x - u.zero) / u.size }
