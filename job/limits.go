package job

import (
	"fmt"
	"reflect"
	"strconv"

	q "leste/quantity"
)

// kindLimits are the limits of what can be meant for quantities whose field states none, in the syntax of
// the file. They are wide: they catch slipped units and signs, not bad design.
var kindLimits = map[q.Kind][2]string{
	q.KindLength:             {"0 mm", "1000 m"},
	q.KindArea:               {"0 m2", "100000 m2"},
	q.KindVolume:             {"0 l", "10 m3"},
	q.KindAngle:              {"-180 deg", "180 deg"},
	q.KindDuration:           {"0 s", "100000 h"},
	q.KindRate:               {"0 /h", "100000 /min"},
	q.KindSpeed:              {"0 m/s", "500 m/s"},
	q.KindGauge:              {"0 kPa", "1500 kPa"},
	q.KindAbsolute:           {"20 kPa", "200 kPa"},
	q.KindPressureDrop:       {"0 Pa", "500 kPa"},
	q.KindMass:               {"0 g", "1000 kg"},
	q.KindRatio:              {"0", "1000"},
	q.KindAreaMass:           {"0 g/m2", "1000 g/m2"},
	q.KindSurfaceTension:     {"15 mN/m", "80 mN/m"},
	q.KindPricePerEnergy:     {"0 /kWh", "100000 /kWh"},
	q.KindPricePerPower:      {"0 /(kW year)", "100000000 /(kW year)"},
	q.KindEmissionsPerEnergy: {"0 kg/kWh", "3 kg/kWh"},
	q.KindSoundLevel:         {"0 dB", "160 dB"},
	q.KindTemperature:        {"-60 degC", "250 degC"},
	q.KindMassFlow:           {"0 kg/s", "20 kg/s"},
	q.KindVolumeFlow:         {"0 m3/h", "100000 m3/h"},
	q.KindSpecificPower:      {"0.5 kW/(m3/min)", "50 kW/(m3/min)"},
	q.KindPower:              {"0 W", "2000 kW"},
	q.KindVoltage:            {"100 V", "1000 V"},
	q.KindCurrent:            {"0 A", "5000 A"},
	q.KindFrequency:          {"40 Hz", "70 Hz"},
}

// limit is a pair of limits, as text and in SI.
type limit struct {
	leastText, mostText string
	least, most         float64
}

// findLimit returns what a number in the field may be, and false when nothing limits it.
func (f *field) findLimit() (limit, bool) {
	l := limit{leastText: f.least, mostText: f.most}
	switch f.form {
	case quantityForm:
		if l.leastText == "" {
			k, ok := kindLimits[f.kind]
			if !ok {
				return l, false
			}
			l.leastText, l.mostText = k[0], k[1]
		}
		l.least, l.most = mustParse(f.kind, l.leastText), mustParse(f.kind, l.mostText)
	case countForm, numberForm: // counts, and prices in the job's currency
		if l.leastText == "" {
			l.leastText, l.mostText = "0", "1e12"
			if f.form == countForm {
				l.mostText = "100000"
			}
		}
		l.least, _ = strconv.ParseFloat(l.leastText, 64)
		l.most, _ = strconv.ParseFloat(l.mostText, 64)
	default:
		return l, false
	}
	return l, true
}

func mustParse(k q.Kind, text string) float64 {
	v, err := k.Parse(text)
	if err != nil {
		panic("job: limit " + text + ": " + err.Error())
	}
	return v
}

// outside says why the value of a field cannot be meant, or nil.
func (f *field) outside(v reflect.Value) *fault {
	whole := v
	if f.maybe {
		if !v.Field(1).Bool() {
			return nil
		}
		v = v.Field(0)
	}
	var x float64
	switch f.form {
	case quantityForm, numberForm:
		x = v.Float()
	case countForm:
		x = float64(v.Int())
	default:
		return nil
	}
	l := f.limit
	const noise = 1e-9 // of unit conversion
	if !f.limited || x >= l.least-noise*abs(l.least) && x <= l.most+noise*abs(l.most) {
		return nil
	}
	text, _ := f.write(whole)
	want := fmt.Sprintf("write a value from %s to %s", l.leastText, l.mostText)
	if f.kind == q.KindRatio && x > l.most && x/100 <= l.most && x/100 >= l.least {
		const written = 12 // digits, fewer than the noise of unit conversion
		want = fmt.Sprintf("write \"%s %%\" if a percentage is meant", strconv.FormatFloat(x, 'g', written, 64))
	}
	if f.kind == q.KindRatio && x > 1 && l.most <= 1 {
		text = strconv.FormatFloat(x*100, 'g', 6, 64) + " %"
	}
	if x < l.least {
		return &fault{CodeRange, fmt.Sprintf("%s: %s is below the least that can be meant, %s", f.key, text, l.leastText), want}
	}
	return &fault{CodeRange, fmt.Sprintf("%s: %s is above the most that can be meant, %s", f.key, text, l.mostText), want}
}

func abs(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}
