package cost

import q "leste/quantity"

// A Caution is one thing the user must look after, with what it follows from.
type Caution struct {
	Topic  string
	Text   string
	Source string
}

const (
	practice  = "common practice, no source"
	toConfirm = "from memory, to be confirmed against the standard"
)

// HotToHold is the air in a duct above which its skin is too hot to hold for long; from memory of ISO 13732-1.
const HotToHold = 43 + q.ZeroCelsius

// Conditions choose the cautions that apply beyond those of every station.
type Conditions struct {
	Belt, Inverter bool
	CompressedAir  bool // in the comparison or on the station
	Flammable      bool // vapour of solvent or alcohol may be present
	Glass          bool // glass containers
	OpenProduct    bool // open containers under or near the air
	DosedWater     bool // recirculated or dosed rinse water, which mist carries into the air
	HotSurface     bool // ducts above 43 degC
	ColdDucts      bool // warm humid air in ducts colder than its dew point under pressure
	Recirculation  bool // the blower may draw its own warm, wet air
	SeveralBlowers bool
	WashedDown     bool
}

// Cautions returns the fixed texts that apply. They are part of every report.
func Cautions(c Conditions) []Caution {
	out := []Caution{
		{"estimate", "The figures are estimates for planning, no certificate of conformity; local codes, a machinery risk assessment (ISO 12100) and the law of the place decide.", practice},
		{"licensed work", "Electrical and structural work, guarding and wiring are for licensed persons.", practice},
		{"noise", "Measure the sound level after installation; the calculation is no proof of compliance.", "29 CFR 1910.95; directive 2003/10/EC"},
		{"lock-out", "Before work: lock out the electricity and wait until the rotor stands and the plenums are without pressure. A variable-frequency drive is no isolation.", "29 CFR 1910.147; ISO 14118"},
		{"coast-down", "The rotor runs on for minutes after switching off; keep guards closed until it stands.", practice},
		{"fingers and hair", "Keep guards before the inlet and all moving parts; distances after ISO 13857.", toConfirm},
		{"jets", "Do not aim air at people; blown water and particles reach the eyes.", practice},
		{"wet floor", "Mist and drips make floors slippery: drip tray, drain and anti-slip floor.", "29 CFR 1910.22"},
		{"scope", "Pressures above 50 kPa and air above 100 degC are not covered.", practice},
	}
	for _, o := range []struct {
		applies bool
		caution Caution
	}{
		{c.Belt, Caution{"belt", "Belt drives are fully guarded; a speed above the rated one can burst the wheel.", practice}},
		{c.Inverter, Caution{"inverter", "Set the drive's greatest frequency and current so that the rated speed cannot be passed; derate drive and motor above 1000 m and 40 degC by their makers.", practice}},
		{c.CompressedAir, Caution{"compressed air", "Compressed air for cleaning stays below 30 psi when dead-ended, with chip guarding and eye protection.", "29 CFR 1910.242(b)"}},
		{c.Flammable, Caution{"flammable vapour", "Not for explosive atmospheres: blower, motor and jets ignite and spread vapour. Stop; ask a specialist.", "IEC 60079 series, " + toConfirm}},
		{c.Glass, Caution{"glass", "Fragments of a broken container are blown about: screen the station and clear it before restart.", practice}},
		{c.OpenProduct, Caution{"open product", "Air onto open product needs the filtration that the user's hazard analysis sets, and drainable construction.", "ISO 29463; EN 1672-2"}},
		{c.DosedWater, Caution{"mist", "Mist of recirculated or dosed water carries germs and chemicals: extract it and watch its hygiene.", practice}},
		{c.HotSurface, Caution{"hot surface", "Ducts are hot: guard or insulate them within reach.", "ISO 13732-1, " + toConfirm}},
		{c.ColdDucts, Caution{"condensation in ducts", "Warm air under pressure condenses in cold ducts at start: drain the low points, so that no water reaches an outlet.", practice}},
		{c.Recirculation, Caution{"inlet", "Do not draw inlet air from above the wet station: it is warm and wet, and loads the filter.", practice}},
		{c.SeveralBlowers, Caution{"parallel blowers", "Each blower needs a non-return flap; a machine that stands still must not turn backward.", practice}},
		{c.WashedDown, Caution{"wash-down", "Protection against water as IEC 60529 for the cleaning used; drain plenums after it.", toConfirm}},
	} {
		if o.applies {
			out = append(out, o.caution)
		}
	}
	return out
}
