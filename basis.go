package leste

import (
	"fmt"

	"leste/catalogue"
	"leste/drying"
	"leste/job"
	"leste/station"
)

// A Basis is a job laid out without its air: the bodies of its formats on the line, and the water each of them
// brings to the machines. Somebody who tries many stations on one job makes one Basis and adds the air to its
// problems; every value that a job does not give is the one that Assess assumes.
type Basis struct{ a *assessment }

// NewBasis lays out a job with cells of a size [m]; 0 is 2 mm. The job is not changed. Its stations keep their
// names and places on the line; their outlets are left out. What cannot be laid out comes as job.Problems.
func NewBasis(j *job.Job, cell float64) (*Basis, error) {
	if len(j.Formats) == 0 {
		return nil, fmt.Errorf("the job has no formats, so that there is nothing to blow on")
	}
	if cell == 0 {
		cell = usualCell
	}
	bare := job.Clone(j)
	for i := range bare.Stations {
		bare.Stations[i].Outlets, bare.Stations[i].Frames = nil, nil
	}
	a := &assessment{given: bare, job: job.Clone(bare), result: &Result{}, parts: catalogue.GenericParts()}
	a.options = Options{Method: quickMethod, Cell: cell, Nominal: true}
	a.result.Assumed = job.Fill(a.job)
	if err := a.layOut(); err != nil {
		return nil, err
	}
	return &Basis{a}, nil
}

// Job is the job with everything assumed that nobody gave; its stations have no outlets. It must not be changed.
func (b *Basis) Job() *job.Job { return b.a.job }

// Formats are the formats with their bodies, and the scenes of the stations without outlets. They must not be
// changed.
func (b *Basis) Formats() []station.FormatPlan { return b.a.plan.Formats }

// Problem is the water of one format, by its index among Formats, at a speed over its nominal one, with a time that
// the line stands on the way to each machine [s]. Passes are left to the caller, one for each station in their order;
// Before of the first is the time since the last wetting.
func (b *Basis) Problem(format int, speed, stop float64) *drying.Problem {
	return b.a.problem(&stage{plan: &b.a.plan.Formats[format]}, situation{name: caseNominal, speed: speed, stop: stop})
}

// Restart is the Problem of a format when the line has stood between the last station and every machine, as Assess
// takes it; nil where it may not stop.
func (b *Basis) Restart(format int) *drying.Problem {
	if f := &b.a.plan.Formats[format]; b.a.job.Line.Stops.V && len(f.Stations) > 0 {
		return b.a.problem(&stage{plan: f}, situation{name: caseRestart, speed: 1, stop: restartsIn})
	}
	return nil
}

// Standing is how the containers are judged to stand, as Assess does it: while they pass, or where the line may stop
// with a container under the air, also then. The belt's friction is the given one, or follows from its state.
func (b *Basis) Standing(format int) (passing, stopped station.StandOptions, stops bool) {
	passing = b.a.standOptions()
	stopped = passing
	passing.Speed = b.a.plan.Formats[format].Speed
	return passing, stopped, b.a.job.Line.Stops.V
}

// standOptions are those of the belt.
func (a *assessment) standOptions() station.StandOptions {
	var options station.StandOptions
	if belt := a.given.Line.Belt; belt.Friction.Known {
		options.Friction = float64(belt.Friction.V)
	} else if belt.State != "" {
		options.Belts = []string{belt.State}
	}
	return options
}

// CaseRestart names the case in which the line has stood between the last station and the next machine.
const CaseRestart = caseRestart

// PushMargin is the least factor by which a container must resist tipping and lifting before Assess is sure of it.
const PushMargin = pushMargin
