package api

import (
	"reflect"

	"leste/design"
	"leste/job"
	"leste/web/document"
)

// adopted is the text of a job with the stations and the air supply that a search found; what else the file says,
// its comments and its order stay.
func adopted(s document.State, found *job.Job) ([]byte, error) {
	text, err := design.Write(found, "")
	if err != nil {
		return nil, err
	}
	keys := []string{"stations", "air_supply"}
	if !reflect.DeepEqual(s.Job.Next, found.Next) { // a second station has come between
		keys = append(keys, "next")
	}
	return document.Graft(s.Text, text, keys...)
}
