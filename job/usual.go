package job

// usualValue is a default that depends on other answers, or that is only needed sometimes. The defaults of
// single values stand in their tags.
type usualValue struct {
	of, when                 string
	value, low, high, source string
}

const usualSpeed = "0.6 m/s"

var usualValues = []usualValue{
	{"site: summer: temperature", "", "28 degC", "24 degC", "35 degC", practice},
	{"site: summer: humidity", "", "65 %", "50 %", "75 %", practice},
	{"site: winter: temperature", "", "20 degC", "15 degC", "24 degC", practice},
	{"site: winter: humidity", "", "40 %", "25 %", "55 %", practice},
	{"site: inlet_summer: temperature", "outdoors", "30 degC", "24 degC", "38 degC", practice},
	{"site: inlet_summer: humidity", "outdoors", "50 %", "35 %", "70 %", practice},
	{"site: inlet_winter: temperature", "outdoors", "0 degC", "-15 degC", "8 degC", practice},
	{"site: inlet_winter: humidity", "outdoors", "80 %", "60 %", "95 %", practice},
	// Under the ceiling: warmed by the heat that rises, with the usual room's moisture.
	{"site: inlet_summer: temperature", "ceiling", "36 degC", "30 degC", "45 degC", practice},
	{"site: inlet_summer: humidity", "ceiling", "41 %", "28 %", "55 %", practice},
	{"site: inlet_winter: temperature", "ceiling", "28 degC", "22 degC", "35 degC", practice},
	{"site: inlet_winter: humidity", "ceiling", "25 %", "15 %", "40 %", practice},

	{"line: belt: friction", "dry", "0.35", "0.25", "0.5", practice},
	{"line: belt: friction", "wet", "0.25", "0.15", "0.35", practice},
	{"line: belt: friction", "lubricated", "0.12", "0.08", "0.18", practice},
	{"line: belt: width", "", "83 mm", "55 mm", "190 mm", practice}, // one strand of chain
	{"line: speed", "", usualSpeed, "0.3 m/s", "1 m/s", practice},
	{"line: container_gap", "", "0 mm", "0 mm", "30 mm", practice},

	{"outlets: slot_gap", AirKnife, "1.2 mm", "0.8 mm", "1.5 mm", practice},
	{"outlets: bore", "", "19 mm", "10 mm", "38 mm", practice},
	{"outlets: spacing", NozzleManifold, "50 mm", "30 mm", "100 mm", practice},
	{"outlets: length", "", "300 mm", "200 mm", "600 mm", practice},
	{"outlets: plenum_pressure", "no blower is named", "20 kPa", "8 kPa", "30 kPa", practice},
}
