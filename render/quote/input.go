package quote

import (
	leste "leste"
	"leste/accept"
	"leste/job"
	"leste/physics/relation"
	q "leste/quantity"
	"leste/render/document"
	"leste/render/words"
	"leste/station"
)

// Input is everything that the papers are made from. The job is filled.
type Input struct {
	Job        *job.Job
	Result     *leste.Result
	Plan       *station.Plan // nil for a job without containers
	Words      words.Words
	Offer      Offer
	Head       document.Letterhead
	Texts      map[string]string // the user's own texts by place: "intro", "scope", "closing"
	Blowers    []BlowerCurve
	Loads      []Load
	Branches   []job.Branch       // ducts and hoses as calculated; the job's own when empty
	Tolerances []accept.Tolerance // of settings
	Limits     []accept.Tolerance // conditions of the promise
	Cards      func(id string) (relation.Card, error)
}

// A BlowerCurve is what the figure of one blower shows: inlet flow [m3/s] against pressure rise [Pa].
type BlowerCurve struct {
	Name      string
	Curve     [][2]float64 // at the speed in use
	System    [][2]float64 // what the system asks for
	Operating [2]float64
	Cases     []CasePoint
}

// A CasePoint is the operating point of one case.
type CasePoint struct {
	Name       string
	Flow, Rise float64
}

// A Load is one line of the load list.
type Load struct {
	Blower      string
	Rated       q.Power
	Class       string
	Voltage     q.Voltage
	Frequency   q.Frequency
	FullLoad    q.Current
	Running     q.Current // at the operating point
	PowerFactor q.Ratio
	Starter     string
	Starts      float64 // per hour
	Protection  string
	Signals     []string
	Devices     []leste.Device // that the list speaks of
	Notes       []string
}

// limits of texts that come from elsewhere.
const unit = "\u00a0"

// branches are the ducts and hoses; assumed is true when nobody has laid them out.
func (in *Input) branches() (list []job.Branch, assumed bool) {
	if given := in.Job.AirSupply.Branches; len(given) > 0 {
		return given, false
	}
	return in.Branches, true
}

// tone returns the tone of a verdict.
func tone(v leste.Verdict) document.Tone {
	switch v {
	case leste.Met:
		return document.Good
	case leste.NotMet:
		return document.Bad
	}
	return document.Undecided
}

// base is what every paper starts from.
func (in *Input) base(kind string) *document.Document {
	w := in.Words
	d := &document.Document{
		Kind: kind, Title: w.Found(in.Job.Name), Subtitle: in.Offer.Subtitle, Language: w.Language, Number: in.Offer.Label(), Date: in.Offer.Date, Head: in.Head,
		Labels: document.Labels{
			Contents: w.T("label.contents"), Page: w.T("label.page"), Figure: w.T("label.figure"), Table: w.T("label.table"),
			Continued: w.T("label.continued"), For: w.T("label.for"),
		},
	}
	if in.Offer.Invented {
		d.Foot = w.T("label.invented")
	}
	return d
}

// deciding returns the requirement that decides, with its format and zone; ok is false when nothing is required.
func (in *Input) deciding() (f leste.FormatResult, z leste.ZoneResult, x leste.RequirementResult, ok bool) {
	d, ok := leste.Deciding(in.Result.Formats...)
	if !ok {
		return f, z, x, false
	}
	return *d.Format, *d.Zone, *d.RequirementResult, true
}

// kindOf returns the kind of quantity that a requirement is about.
func kindOf(quantity string) q.Kind {
	switch quantity {
	case "water":
		return q.KindAreaMass
	case "mass":
		return q.KindMass
	case "drop":
		return q.KindLength
	}
	return q.None
}

// column is how the quantities of requirements are written beside each other: water in grams in any units, drops in
// millimetres or inches.
func (in *Input) column(quantity string, values ...float64) words.Column {
	if quantity == "drop" {
		return in.Words.Column(q.KindLength, append(values, 1e-3)...)
	}
	return in.Words.Water().Column(kindOf(quantity), values...)
}

// against writes the band of a requirement and its limit, each with the digits that tell whether it is kept.
func (in *Input) against(x leste.RequirementResult) (value, limit string) {
	if x.Quantity == "rejects" {
		return in.Words.AgainstPercent(x.Value, x.Limit)
	}
	return in.column(x.Quantity, x.Value.Likely, x.Limit).Against(x.Value, x.Limit)
}

// limit writes what a requirement tolerates.
func (in *Input) limit(x leste.RequirementResult) string {
	if x.Quantity == "rejects" {
		return in.Words.Number(100*x.Limit, 3) + unit + "%"
	}
	return in.column(x.Quantity, x.Limit).Value(x.Limit, 3)
}
