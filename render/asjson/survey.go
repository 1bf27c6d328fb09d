package asjson

import "leste/cost"

type surveyRow struct {
	Line       int     `json:"line"`
	Tag        string  `json:"tag"`
	Purpose    *string `json:"purpose"`
	FreeAir    number  `json:"free_air_m3_min"`
	Thrust     number  `json:"thrust_n"`
	Power      number  `json:"power_w"`
	Energy     number  `json:"energy_kwh_year"`
	Cost       band    `json:"cost_year"`
	Blower     number  `json:"blower_w"`
	BlowerCost band    `json:"blower_cost_year"`
	Saving     band    `json:"saving_year"`
}

type survey struct {
	Schema     string      `json:"schema"`
	File       string      `json:"file"`
	Currency   string      `json:"currency"`
	Energy     number      `json:"energy_kwh_year"`
	Cost       band        `json:"cost_year"`
	BlowerCost band        `json:"blower_cost_year"`
	Saving     band        `json:"saving_year"`
	Rows       []surveyRow `json:"rows"`
	Wrong      []string    `json:"wrong"`
}

// Survey writes a plant's blow-offs.
func Survey(file string, r cost.SurveyResult) ([]byte, error) {
	return document(survey{
		Schema: "leste-survey-1", File: file, Currency: r.Currency, Energy: times(r.Energy, kWh),
		Cost: bandOf(r.Cost, 1), BlowerCost: bandOf(r.BlowerCost, 1), Saving: bandOf(r.Saving, 1),
		Rows: list(r.Rows, func(a cost.Assessed) surveyRow {
			return surveyRow{
				a.Line, a.Tag, text(a.Purpose), times(a.FreeAir, 60), number(a.Thrust), number(a.Power), times(a.Energy, kWh),
				bandOf(a.Cost, 1), number(a.Blower), bandOf(a.BlowerCost, 1), bandOf(a.Saving, 1),
			}
		}),
		Wrong: list(r.Wrong, error.Error),
	})
}
