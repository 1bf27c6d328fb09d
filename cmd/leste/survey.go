package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"strings"

	"leste/cost"
	q "leste/quantity"
	"leste/render/asjson"
	"leste/render/text"
)

type surveyCommand struct {
	File          string `arg:"" help:"List of places that blow compressed air, as CSV with the columns tag, bore or slot and length, pressure, hours, shifts, count, purpose, discharge; - reads standard input."`
	Electricity   string `default:"0.15 /kWh" help:"Price of electricity. Default: ${default}."`
	Currency      string `default:"EUR" help:"Currency of the price. Default: ${default}."`
	SpecificPower string `default:"6.6 kW/(m3/min)" help:"Compressor power for each flow of free air. Default: ${default}."`
	Top           int    `default:"20" help:"Rows shown; 0 shows all. Default: ${default}."`
}

// Run ranks the blow-offs of a plant by what a blower would save.
func (c surveyCommand) Run(ctx context.Context, p *program) error {
	data, name, err := p.read(c.File)
	if err != nil {
		return err
	}
	terms := cost.SurveyTerms{Currency: c.Currency}
	if terms.Electricity, err = q.Parse[q.PricePerEnergy](c.Electricity); err != nil {
		return wrongInput(err, "survey --electricity")
	}
	if terms.SpecificPower, err = q.Parse[q.SpecificPower](c.SpecificPower); err != nil {
		return wrongInput(err, "survey --specific-power")
	}
	found, err := cost.Survey(ctx, cost.ReadSurvey(bytes.NewReader(data)), terms)
	switch {
	case errors.Is(err, context.Canceled):
		return err
	case err != nil:
		return wrongInput(err, "%s", name)
	}
	if p.options.JSON {
		if err := p.printDocument(asjson.Survey(name, found)); err != nil {
			return err
		}
	} else if err := p.print([]byte(text.Survey(found, c.Top, p.style()) + wrongLines(name, found.Wrong))); err != nil {
		return err
	}
	if len(found.Wrong) > 0 {
		return ended(exitInput)
	}
	return nil
}

// wrongLines lists the lines that were left out.
func wrongLines(name string, wrong []error) string {
	if len(wrong) == 0 {
		return ""
	}
	var b strings.Builder
	fmt.Fprintf(&b, "\nLeft out, %d %s:\n", len(wrong), plural(len(wrong), "line", "lines"))
	for _, err := range wrong {
		fmt.Fprintf(&b, "%s: %v\n", name, err)
	}
	return b.String()
}
