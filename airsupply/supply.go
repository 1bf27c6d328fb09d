package airsupply

import (
	"context"
	"fmt"

	"leste/catalogue"
	"leste/job"
	"leste/physics/air"
	"leste/physics/relation"
	q "leste/quantity"
)

// A Supply is the whole answer of the air side to a job.
type Supply struct {
	Plan       *Plan
	Outlets    []Outlet  // fed by a blower, or measured
	Nominal    Operation // without blowers when the plenum pressures are measured
	Study      CaseStudy // empty when they are
	Idle       q.Power   // drawn while turned down in idle gaps; 0 when nothing is or can be
	Loads      []Load
	Compressed Operation // of outlets on the compressed-air main; no outlets without any
	OnMain     []Outlet  // those outlets
	Assumed    []job.Assumed
	Notes      []relation.Note
}

// Assess lays out and solves the air side of a job in every case.
func Assess(ctx context.Context, j *job.Job, parts catalogue.Parts) (Supply, error) {
	j = job.Clone(j)
	job.Fill(j)
	var s Supply
	var err error
	if s.Outlets, s.Assumed, err = Outlets(j); err != nil {
		return s, err
	}
	if err := s.onMain(j); err != nil {
		return s, err
	}
	if len(s.Outlets) == 0 && len(s.OnMain) > 0 {
		return s, nil
	}
	if s.Plan, err = Build(ctx, j, s.Outlets, parts); err != nil {
		return s, err
	}
	s.Assumed = append(s.Assumed, s.Plan.Assumed...)
	if s.Plan.Network == nil {
		s.Nominal, err = FixedPressure(s.Outlets, s.Plan.Measured, s.Plan.Site.Summer.Room, 0)
		s.Notes = s.Nominal.Notes
		return s, err
	}
	idle := j.Cost.IdleSpeed.V
	if j.Cost.Idle != "turn down" {
		idle = 0
	}
	if s.Study, err = Study(ctx, s.Plan.Network, s.Plan.Site, idle); err != nil {
		return s, err
	}
	s.Nominal = s.Study.Cases[0].Operation
	for _, c := range s.Study.Cases {
		if c.Name == TurnedDown {
			s.Idle = c.Operation.Grid
		}
	}
	if s.Loads, err = Loads(s.Plan, j); err != nil {
		return s, err
	}
	s.Notes = append(s.Notes, s.Nominal.Notes...)
	var solved []Operation
	for _, c := range s.Study.Cases {
		if c.Refused == "" {
			solved = append(solved, c.Operation)
		}
	}
	s.Notes = append(s.Notes, Ratings(solved, s.Plan.Network.Branches)...)
	s.Notes = append(s.Notes, s.Plan.Wanted.missed(s.Nominal)...)
	for _, season := range []Inlets{s.Plan.Site.Summer, s.Plan.Site.Winter} {
		if notes := Condensation(s.Nominal, season.Inlet, season.Room.T); len(notes) > 0 {
			s.Notes = append(s.Notes, notes...)
			break
		}
	}
	for _, m := range s.Study.Motors {
		switch {
		case !m.OK:
			s.Notes = append(s.Notes, tooSmall(m))
		case m.Rated > tooLarge*m.Need:
			s.Notes = append(s.Notes, oversized(m))
		}
	}
	return s, nil
}

// tooSmall is the note on a motor that its machine can overload, with the size that bears it.
func tooSmall(m MotorCheck) relation.Note {
	bears := "no usual motor bears it"
	if rated, ok := PreferredMotor(m.Class, m.Need); ok {
		bears = fmt.Sprintf("one of %.3g kW bears it", float64(rated)/1e3)
	}
	return relation.Note{
		Severity: relation.Stop, Relation: "motor-efficiency",
		Text:  "motor of " + called(m.Blower) + ": on the coldest day it may have to give more than its rated power; " + bears,
		Value: float64(m.Need), Limit: float64(m.Rated), Unit: "W",
	}
}

// tooLarge is how many times the greatest power asked of it a motor may be rated for without a word: sizes step by
// about a third, and a next size or two is often taken; common practice, no source.
const tooLarge = 2

// oversized is the note on a motor that is far larger than its machine ever needs, with the size that is enough.
func oversized(m MotorCheck) relation.Note {
	text := "motor of " + called(m.Blower) + ": its rating is more than twice the greatest power that may be asked of it"
	if rated, ok := PreferredMotor(m.Class, m.Need); ok {
		text += fmt.Sprintf("; one of %.3g kW bears it", float64(rated)/1e3)
	}
	return relation.Note{Severity: relation.Info, Relation: "motor-efficiency", Text: text, Value: float64(m.Rated), Limit: float64(tooLarge * m.Need), Unit: "W"}
}

// onMain solves the outlets fed from the compressed-air main at its nozzle pressure.
func (s *Supply) onMain(j *job.Job) error {
	for _, st := range j.Stations {
		for _, o := range st.Outlets {
			if !o.Compressed {
				continue
			}
			one, more, err := OutletOf(o)
			if err != nil {
				return refuse("outlet "+o.Name, "%v", err)
			}
			s.OnMain = append(s.OnMain, one)
			s.Assumed = append(s.Assumed, more...)
		}
	}
	if len(s.OnMain) == 0 {
		return nil
	}
	site, err := siteOf(j)
	if err != nil {
		return err
	}
	main := j.AirSupply.Compressed
	if main == nil {
		main = &job.CompressedAir{}
		s.Assumed = append(s.Assumed, job.Assumed{
			Path: "/air_supply/compressed/nozzle_pressure", Value: "4 bar", Low: "1 bar", High: "6 bar", Source: practice,
		})
	}
	pressure := orDefault(main.Nozzle, 4e5)
	dry := air.Dry(site.Pressure, site.Summer.Room.T)
	s.Compressed, err = Header(s.OnMain, pressure, dry)
	return err
}
