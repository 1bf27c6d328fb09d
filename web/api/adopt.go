package api

import (
	"context"
	"net/http"
	"reflect"

	"leste/design"
	"leste/job"
	"leste/web/document"
)

// adopted is the text of a job with the stations and the air supply that a search found; what else the file says,
// its comments and its order stay.
func adopted(s document.State, found *job.Job) ([]byte, error) {
	file, _ := job.Read(s.ID, s.Text)
	text, err := design.WriteAs(found, "", file.Spelling())
	if err != nil {
		return nil, err
	}
	keys := []string{"stations", "air_supply"}
	if !reflect.DeepEqual(s.Job.Next, found.Next) { // a second station has come between
		keys = append(keys, "next")
	}
	return document.Graft(s.Text, text, keys...)
}

// TakeOption names an option of a job.
type TakeOption struct {
	Option int `json:"option" minimum:"0" maximum:"1000" doc:"Its place among the options, from 0."`
}

// takeOption makes the stations of an option, and its air supply where it has one, those of the job.
func (a *api) takeOption(_ context.Context, in *struct {
	ChangeIn
	Body TakeOption
},
) (*jobOut, error) {
	d, err := a.open(in.Job)
	if err != nil {
		return nil, err
	}
	state := d.State()
	if in.Body.Option >= len(state.Job.Options) {
		return nil, refused(http.StatusConflict, codeNothing, "The job has no such option")
	}
	option := &state.Job.Options[in.Body.Option]
	taken := job.Clone(state.Job)
	if len(option.Stations) > 0 { // else it has those of the job
		taken.Stations = option.Stations
	}
	if option.AirSupply != nil {
		taken.AirSupply = *option.AirSupply
	}
	text, err := adopted(state, taken)
	if err != nil {
		return nil, faultOf(err, nil)
	}
	s, err := d.Replace(in.base(), document.Step{Name: "Take " + option.Name + " as the job", By: in.Tab}, text)
	return a.changed(s, err)
}
