#!/usr/bin/env bash
# Writes oracle.csv: texts as this package reads them, and their SI values by GNU Units, whose definitions
# of units are independent of this package. Needs the Debian package "units".
# Each line below: text | kind in words | the same for GNU Units | SI unit for GNU Units.
set -euo pipefail
cd "$(dirname "$0")"
{
	echo "# GNU Units $(units --version | head -1 | grep -o '[0-9.]*$'); written by oracle.sh"
	echo "text,kind,si"
	while IFS='|' read -r text kind expression si; do
		[ -n "$text" ] || continue
		value=$(units -t -o '%.15g' "$expression" "$si")
		printf '"%s",%s,%s\n' "$text" "$kind" "$value"
	done <<-'LIST'
		1.5 mm|a length|1.5 mm|m
		250 um|a length|250 um|m
		3 µm|a length|3 um|m
		7 micron|a length|7 micron|m
		4 in|a length|4 inch|m
		1 1/2 in|a length|1.5 inch|m
		3/8 in|a length|(3/8) inch|m
		12.5 ft|a length|12.5 ft|m
		2 yd|a length|2 yd|m
		0.4 mi|a length|0.4 mile|m
		60 mil|a length|60 mil|m
		1,5 cm|a length|1.5 cm|m
		2e-3 km|a length|2e-3 km|m
		3 cm2|an area|3 cm^2|m^2
		5 in2|an area|5 in^2|m^2
		20 ft^2|an area|20 ft^2|m^2
		330 ml|a volume|330 ml|m^3
		7 ul|a volume|7 ul|m^3
		12 floz|a volume|12 usfloz|m^3
		1 gal|a volume|1 usgallon|m^3
		15 deg|an angle|15 degree|radian
		0.2 rad|an angle|0.2 radian|radian
		40 mrad|an angle|40 mradian|radian
		7 s|a time|7 s|s
		2 sec|a time|2 sec|s
		10 ms|a time|10 ms|s
		5 min|a time|5 min|s
		6000 h|a time|6000 hour|s
		30 days|a time|30 day|s
		1 year|a time|1 julianyear|s
		3 months|a time|3 julianyear / 12|s
		600 /min|a rate|600 / min|1/s
		36000 b/h|a rate|36000 / hour|1/s
		36 000 bottles/h|a rate|36000 / hour|1/s
		1200 bpm|a rate|1200 / min|1/s
		36000 bph|a rate|36000 / hour|1/s
		18000 rpm|a rate|18000 / min|1/s
		0.6 m/s|a speed|0.6 m/s|m/s
		30 m/min|a speed|30 m/min|m/s
		120 ft/min|a speed|120 ft/min|m/s
		120 fpm|a speed|120 ft/min|m/s
		3 fps|a speed|3 ft/s|m/s
		2 mph|a speed|2 mph|m/s
		20 kPa|a gauge pressure|20 kPa|Pa
		200 mbar|a gauge pressure|200 mbar|Pa
		0.2 bar|a gauge pressure|0.2 bar|Pa
		80 inH2O|a gauge pressure|80 inH2O|Pa
		3 psi|a gauge pressure|3 psi|Pa
		3 psig|a gauge pressure|3 psi|Pa
		1.2 barg|a gauge pressure|1.2 bar|Pa
		5 kPag|a gauge pressure|5 kPa|Pa
		14.7 psia|an absolute pressure|14.7 psi|Pa
		1.01 bara|an absolute pressure|1.01 bar|Pa
		99 kPaa|an absolute pressure|99 kPa|Pa
		1013 hPa|an absolute pressure|1013 hPa|Pa
		29.92 inHg|an absolute pressure|29.92 inHg|Pa
		760 mmHg|an absolute pressure|760 mmHg|Pa
		1 atm|an absolute pressure|1 atm|Pa
		700 Torr|an absolute pressure|700 torr|Pa
		2 ftH2O|a pressure difference|2 ft water|Pa
		300 mmH2O|a pressure difference|300 mm water|Pa
		30 cmH2O|a pressure difference|30 cm water|Pa
		3 mH2O|a pressure difference|3 m water|Pa
		350 g|a mass|350 g|kg
		2 t|a mass|2 tonne|kg
		150 mg|a mass|150 mg|kg
		0.5 lb|a mass|0.5 lb|kg
		12 oz|a mass|12 oz|kg
		0.075 lb/ft3|a density|0.075 lb/ft^3|kg/m^3
		1 g/cm3|a density|1 g/cm^3|kg/m^3
		3 lbf|a force|3 lbf|N
		8 ozf|a force|0.5 lbf|N
		2 kgf|a force|2 kgf|N
		500 dyn|a force|500 dyne|N
		50 mN|a force|50 mN|N
		2 lbf in|a moment|2 lbf inch|N m
		5 N mm|a moment|5 N mm|N m
		50 psi/in|a pressure gradient|50 psi/inch|Pa/m
		1 cP|a dynamic viscosity|1 centipoise|Pa s
		1.8e-5 Pa s|a dynamic viscosity|1.8e-5 Pa s|Pa s
		15 cSt|a kinematic viscosity|15 centistokes|m^2/s
		72 dyn/cm|a surface tension|72 dyne/cm|N/m
		72 mN/m|a surface tension|72 mN/m|N/m
		50 g/m2|water per area|50 g/m^2|kg/m^2
		5 mg/cm²|water per area|5 mg/cm^2|kg/m^2
		0.1 oz/ft2|water per area|0.1 oz/ft^2|kg/m^2
		2 lbf/ft|a thrust per length|2 lbf/ft|N/m
		60 %|a plain number or a percentage|60 percent|1
		1/1000|a plain number or a percentage|1/1000|1
		3 ‰|a plain number or a percentage|0.003|1
		1 Btu/(lb degF)|a specific heat|1 btu/(lb degF)|J/(kg K)
		1 kcal/(kg K)|a specific heat|1 kcal_th/(kg K)|J/(kg K)
		1050 Btu/lb|an energy per mass|1050 btu/lb|J/kg
		2 Btu/(h ft2 degF)|a heat transfer coefficient|2 btu/(hour ft^2 degF)|W/(m^2 K)
		0.9 ft2/h|a diffusivity|0.9 ft^2/hour|m^2/s
		0.12 Btu/(h ft degF)|a thermal conductivity|0.12 btu/(hour ft degF)|W/(m K)
		2 lb/(ft2 h)|an evaporation rate per area|2 lb/(ft^2 hour)|kg/(m^2 s)
		40 lb/(ft2 s)|a mass flow per area|40 lb/(ft^2 s)|kg/(m^2 s)
		12 lb/(min ft)|a mass flow per length|12 lb/(min ft)|kg/(s m)
		2 lb ft|a moment of mass|2 lb ft|kg m
		0.15 /kWh|a price per energy|0.15 / kWh|1/J
		120 /MWh|a price per energy|120 / MWh|1/J
		0.8 lb/kWh|emissions per energy|0.8 lb/kWh|kg/J
		3 degF/ft|a temperature gradient|3 degF/ft|K/m
		2 ml/m|a volume per length|2 ml/m|m^2
		6.6 kW/(m3/min)|a power per flow|6.6 kW/(m^3/min)|J/m^3
		18 kW/(100 cfm)|a power per flow|18 kW/(100 ft^3/min)|J/m^3
		40 degC|a temperature|tempC(40)|K
		104 degF|a temperature|tempF(104)|K
		-40 °F|a temperature|tempF(-40)|K
		300 K|a temperature|300 K|K
		9 degF|a temperature difference|9 degF|K
		40 lb/min|a mass flow|40 lb/min|kg/s
		350 cfm|a volume flow|350 ft^3/min|m^3/s
		2000 cfh|a volume flow|2000 ft^3/hour|m^3/s
		600 m3/h|a volume flow|600 m^3/hour|m^3/s
		30 gpm|a volume flow|30 usgallon/min|m^3/s
		90 l/min|a volume flow|90 l/min|m^3/s
		1200 kWh|an energy|1200 kWh|J
		3 MJ|an energy|3 MJ|J
		500 Btu|an energy|500 btu|J
		15 hp|a power|15 hp|W
		11 kW|a power|11 kW|W
		0.4 kV|a voltage|0.4 kV|V
		900 mA|a current|900 mA|A
		50 Hz|a frequency|50 Hz|1/s
	LIST
} >oracle.csv
