package api

import (
	"errors"
	"strings"

	"leste/catalogue"
	"leste/job"
)

// job writes the job file of an enquiry: what was said, and stations that are still to be found. What a caller could
// not say stands there as not known, so that it shows where to ask.
func (e *Enquiry) job() ([]byte, error) {
	family, err := catalogue.FamilyNamed(e.Family)
	if err != nil {
		return nil, &Fault{Status: 422, Code: codeProblems, Text: sentence(err.Error()), Problems: []Problem{{Path: "body.enquiry.family", Code: codeProblems, Text: err.Error()}}}
	}
	size, err := family.SizeNamed(e.Size)
	if err != nil {
		return nil, &Fault{Status: 422, Code: codeProblems, Text: sentence(err.Error()), Problems: []Problem{{Path: "body.enquiry.size", Code: codeProblems, Text: err.Error()}}}
	}
	text := []byte(enquiryFile)
	f, problems := job.Read("enquiry", text)
	if len(problems) > 0 {
		return nil, problems
	}
	name := strings.TrimSpace(e.Name)
	if name == "" {
		name = family.Name + " " + size.Name
	}
	var wrong job.Problems
	for _, x := range []struct{ path, value, otherwise string }{
		{"/job", name, ""},
		{"/formats/0/name", family.Name + " " + size.Name, ""},
		{"/formats/0/container/family", family.Name, ""},
		{"/formats/0/container/size", size.Name, ""},
		{"/line/rate", e.Rate, job.NotKnown},
		{"/arrives/from", e.From, job.NotKnown},
		{"/arrives/looks", e.Looks, job.NotKnown},
		{"/next/0/machine", e.Machine, "other"},
		{"/next/0/distance", e.Distance, job.NotKnown},
		{"/next/0/complaint", e.Says, job.NotKnown},
		{"/cost/currency", e.Currency, "EUR"},
	} {
		value := strings.TrimSpace(x.value)
		if value == "" {
			value = x.otherwise
		}
		if err := f.Set(x.path, value); err != nil {
			var p job.Problem
			if !errors.As(err, &p) {
				return nil, err
			}
			wrong = append(wrong, p)
		}
	}
	if len(wrong) > 0 {
		return nil, wrong
	}
	return f.Bytes(), nil
}

// enquiryFile is the file of an enquiry before anything was said.
const enquiryFile = `leste: 1
job: enquiry

line:
  rate: not known
  container_gap: not known

arrives:
  from: not known
  looks: not known
  time_since: not known
  temperature: not known

formats:
  - name: container
    container:
      family: can
      size: 330 standard

# A first guess: two air knives that sweep the wall from the top down. Drag them where there is room, or search.
stations:
  - name: station
    state: planned
    outlets:
      - name: left knife
        kind: air knife
        side: left
        x: 0 mm
        height: not known
        stand_off: 40 mm
        tilt: 25 deg
        aim_down: 10 deg
        length: 300 mm
        slot_gap: 1.2 mm
        plenum_pressure: 20 kPa
      - name: right knife
        kind: air knife
        side: right
        x: 0 mm
        height: not known
        stand_off: 40 mm
        tilt: 25 deg
        aim_down: 10 deg
        length: 300 mm
        slot_gap: 1.2 mm
        plenum_pressure: 20 kPa

next:
  - machine: other
    distance: not known
    complaint: not known

cost:
  currency: EUR
`
