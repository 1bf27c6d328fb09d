package airsupply

import (
	"fmt"
	"math"
	"strings"

	"leste/job"
	"leste/physics/relation"
	q "leste/quantity"
)

// A Load is one line of the load list that an electrician plans from.
type Load struct {
	Blower      string
	Rated       q.Power
	Class       string
	Voltage     q.Voltage // line to line, three phases
	Frequency   q.Frequency
	Current     q.Current // at full load
	FromPlate   bool      // Current is the nameplate's, not calculated
	PowerFactor q.Ratio
	Efficiency  q.Ratio
	Starter     string
	StartsPerH  float64 // allowed starts in an hour, by the makers
	Protection  string  // class by IEC 60529
	Signals     []string
	Devices     []Device // that starter, signals and notes speak of
	Notes       []relation.Note
}

// A Device is a piece of hardware that a load needs beside its motor; it is ordered with the other parts.
type Device struct {
	Name string
	For  string // what it is read for or set to; "" where its name says it
}

// told is how the list names a device.
func (d Device) told() string {
	if d.For == "" {
		return d.Name
	}
	return d.Name + ": " + d.For
}

// The devices of every blower's load.
var (
	thermistors  = Device{Name: "thermistors of the motor"}
	plenumSwitch = Device{"plenum pressure switch", "low pressure stops the promise of dry containers"}
	filterSwitch = Device{"filter pressure switch", "change the filter"}
)

// usualAltitude and usualAround are where ratings of motors hold without asking (IEC 60034-1).
const (
	usualAltitude q.Length      = 1000
	usualAround   q.Temperature = 40 + q.ZeroCelsius
)

// directStart is the greatest motor usually started straight from the mains; common practice, no source.
const directStart q.Power = 4000

// Loads returns the load list of a plan's blowers for a filled job. Wiring, protection and conformity are left
// to licensed persons.
func Loads(p *Plan, j *job.Job) ([]Load, error) {
	if p.Network == nil {
		return nil, nil
	}
	var out []Load
	for i := range p.Network.Blowers {
		b := &p.Network.Blowers[i]
		var given *job.Motor
		for k := range j.AirSupply.Blowers {
			if j.AirSupply.Blowers[k].Name == b.Name {
				given = j.AirSupply.Blowers[k].Motor
			}
		}
		load := q.Ratio(MotorDemand(b.Machine, b.Speed, p.Site.coldest(b.Name), b.Drive.Belt) / b.Drive.Motor.Rated)
		l, err := loadOf(b, given, j, load)
		if err != nil {
			return nil, refuse("motor of "+called(b.Name), "%v", err)
		}
		out = append(out, l)
	}
	return out, nil
}

// loadOf is the line of one blower; load is the greatest share of its motor's rating that may be asked.
func loadOf(b *Blower, given *job.Motor, j *job.Job, load q.Ratio) (Load, error) {
	m := b.Drive.Motor
	eta, err := m.FullLoad()
	if err != nil {
		return Load{}, err
	}
	l := Load{
		Blower: b.Name, Rated: m.Rated, Class: m.Class, Efficiency: eta, PowerFactor: 0.85, Protection: "IP55",
		Voltage: orDefault(j.Site.Voltage, 400), Frequency: orDefault(j.Site.Frequency, 50),
		StartsPerH: float64(orDefault(j.Cost.StartsPerHour, 6.0/3600)) * 3600,
		Signals:    []string{"run command from the line", "running and fault to the line"},
	}
	for _, d := range []Device{thermistors, plenumSwitch, filterSwitch} {
		l.reads(d)
	}
	if given != nil {
		l.Voltage = orDefault(given.Voltage, l.Voltage)
		l.PowerFactor = orDefault(given.PowerFactor, l.PowerFactor)
	}
	if !(l.Voltage > 50 && l.Voltage < 1000) {
		return l, fmt.Errorf("a three-phase supply lies between 50 and 1000 V, not %g V", float64(l.Voltage))
	}
	l.Current = FullLoadCurrent(m.Rated, l.Voltage, eta, l.PowerFactor)
	if given != nil && given.Current.Known {
		l.Current, l.FromPlate = given.Current.V, true
	}
	switch {
	case b.Drive.Inverter:
		l.starts(Device{"variable-frequency drive with mains filter", "greatest frequency set to the allowed speed"})
		l.Signals = append(l.Signals, "speed setting of each format to the drive")
		if b.Drive.Belt {
			l.Signals = append(l.Signals, "drive current, for the filter and the belt")
		} else {
			l.Signals = append(l.Signals, "drive current, for the filter")
		}
	case m.Rated <= directStart:
		l.starts(Device{Name: "direct on line starter"})
	default:
		l.starts(Device{Name: "star-delta or soft starter"})
	}
	if b.Machine != nil && b.Machine.Kind == SideChannel {
		l.Devices = append(l.Devices, Device{"relief valve", "beside a machine whose power rises as its flow is closed"})
		l.note(relation.Caution, "Fit a relief valve: the power of this machine rises as its flow is closed.")
	} else {
		l.note(relation.Caution, "Motor protection for open outlets: the power rises as the flow opens.")
	}
	if b.Drive.Belt {
		l.reads(Device{Name: "rotation switch of the belt drive"})
	}
	derated := []string{}
	if j.Site.Altitude.V > usualAltitude {
		derated = append(derated, "above 1000 m")
	}
	if j.Site.Summer.Temperature.V > usualAround {
		derated = append(derated, "around 40 degC or more")
	}
	if len(derated) > 0 {
		l.note(relation.Caution, "Motor and drive give less "+strings.Join(derated, " and ")+", and "+fmt.Sprintf("%.0f %% of the rating", 100*float64(load))+" may be asked of them: ask their makers for the derating.")
	}
	l.note(relation.Info, "Cable, protection and conformity are for licensed persons; the current is for planning.")
	return l, nil
}

// starts takes a device to start the motor by.
func (l *Load) starts(d Device) {
	l.Starter = d.told()
	l.Devices = append(l.Devices, d)
}

// reads takes a device whose signal is read.
func (l *Load) reads(d Device) {
	l.Signals = append(l.Signals, d.told())
	l.Devices = append(l.Devices, d)
}

func (l *Load) note(sev relation.Severity, text string) {
	l.Notes = append(l.Notes, relation.Note{Severity: sev, Relation: "motor-efficiency", Text: text, Value: math.NaN(), Limit: math.NaN()})
}

// FullLoadCurrent of a three-phase motor: P/(sqrt 3 U eta cos phi).
func FullLoadCurrent(rated q.Power, line q.Voltage, efficiency, powerFactor q.Ratio) q.Current {
	return q.Current(float64(rated) / (math.Sqrt(3) * float64(line) * float64(efficiency) * float64(powerFactor)))
}
