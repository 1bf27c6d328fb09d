package quote

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strings"
	"time"

	"go.yaml.in/yaml/v4"

	"leste/render/words"
)

// Terms are the commercial side of an offer as the user keeps it, costs included.
type Terms struct {
	Kind       string    `yaml:"kind"` // "budget" or "firm"
	Number     string    `yaml:"number"`
	Revision   string    `yaml:"revision"`
	Date       time.Time `yaml:"date"`
	ValidUntil time.Time `yaml:"valid_until"`
	For        []string  `yaml:"for"`
	Subtitle   string    `yaml:"subtitle"`
	Currency   string    `yaml:"currency"`
	Items      []Item    `yaml:"items"`
	Discount   float64   `yaml:"discount_pct"`
	Delivery   string    `yaml:"delivery"`
	Payment    string    `yaml:"payment"`
	Remarks    []string  `yaml:"remarks"`
	Invented   bool      `yaml:"invented_data"` // marks every page of a demonstration
}

// Item is one position of the offer.
type Item struct {
	Name     string  `yaml:"name"`
	Part     string  `yaml:"part"`
	Quantity float64 `yaml:"quantity"`
	Unit     string  `yaml:"unit"`
	Cost     float64 `yaml:"cost"`  // each, what it costs the maker
	Price    float64 `yaml:"price"` // each, what the customer pays before discount
	Note     string  `yaml:"note"`
}

// An Offer is what a customer may see of the terms. It has no costs.
type Offer struct {
	Kind, Number, Revision string
	Date, ValidUntil       time.Time
	For                    []string
	Subtitle, Currency     string
	Positions              []Position
	Discount               float64 // share
	Delivery, Payment      string
	Remarks                []string
	Invented               bool
}

// A Position is one line of an offer.
type Position struct {
	Name, Part, Unit, Note string
	Quantity, Price, Sum   float64
}

// Total is the sum of the positions before discount; 0 without prices.
func (o Offer) Total() float64 {
	t := 0.0
	for _, p := range o.Positions {
		t += p.Sum
	}
	return t
}

// Net is the total less the discount.
func (o Offer) Net() float64 { return o.Total() * (1 - o.Discount) }

// Label is the number with its revision.
func (o Offer) Label() string {
	if o.Revision == "" {
		return o.Number
	}
	return o.Number + " " + o.Revision
}

// draft is the number of an offer that was given none.
const draft = "draft"

// In is the offer in the language of words: of what it says of its own accord, which is that it has no number yet.
func (o Offer) In(w words.Words) Offer {
	if o.Number == draft {
		o.Number = w.T("quote.draft")
	}
	return o
}

// Offer returns what the customer may see.
func (t Terms) Offer() Offer {
	o := Offer{
		Kind: t.Kind, Number: t.Number, Revision: t.Revision, Date: t.Date, ValidUntil: t.ValidUntil, For: t.For, Subtitle: t.Subtitle,
		Currency: t.Currency, Discount: t.Discount / 100, Delivery: t.Delivery, Payment: t.Payment, Remarks: t.Remarks, Invented: t.Invented,
	}
	for _, i := range t.Items {
		o.Positions = append(o.Positions, Position{Name: i.Name, Part: i.Part, Unit: i.Unit, Note: i.Note, Quantity: i.Quantity, Price: i.Price, Sum: i.Quantity * i.Price})
	}
	return o
}

// ReadTerms reads terms from YAML. Every problem is told, with its line where YAML knows it.
func ReadTerms(name string, data []byte) (Terms, error) {
	t := Terms{Kind: "budget", Number: draft}
	dec, err := yaml.NewLoader(strings.NewReader(string(data)), yaml.WithKnownFields())
	if err != nil {
		return t, located(name, err)
	}
	if len(strings.TrimSpace(string(data))) > 0 {
		if err := dec.Load(&t); err != nil {
			return t, located(name, err)
		}
	}
	return t, t.check(name)
}

func (t Terms) check(name string) error {
	var wrong []error
	bad := func(format string, args ...any) { wrong = append(wrong, fmt.Errorf(name+": "+format, args...)) }
	if t.Kind != "budget" && t.Kind != "firm" {
		bad("kind is %q; an offer is budget or firm", t.Kind)
	}
	if t.Number == "" {
		bad("number is empty; an offer needs one")
	}
	if !(t.Discount >= 0 && t.Discount < 100) {
		bad("discount_pct is %g; it lies from 0 to below 100", t.Discount)
	}
	if !t.ValidUntil.IsZero() && t.ValidUntil.Before(t.Date) {
		bad("valid_until lies before date")
	}
	for i, item := range t.Items {
		if item.Name == "" {
			bad("items[%d] has no name", i)
		}
		for what, v := range map[string]float64{"quantity": item.Quantity, "cost": item.Cost, "price": item.Price} {
			if v < 0 || math.IsNaN(v) || math.IsInf(v, 0) {
				bad("items[%d] %s: %s is %g; it is 0 or more", i, item.Name, what, v)
			}
		}
		if item.Quantity == 0 {
			bad("items[%d] %s: quantity is missing", i, item.Name)
		}
	}
	return errors.Join(wrong...)
}

// place is how the YAML reader says where it stopped.
var place = regexp.MustCompile(`(?:at )?L(\d+)\.C(\d+):? ?|line (\d+):? ?`)

// located puts the place of a YAML error before its text.
func located(name string, err error) error {
	text := strings.Join(strings.Fields(err.Error()), " ")
	text = strings.TrimPrefix(strings.TrimPrefix(text, "go-yaml load error "), "go-yaml: ")
	at := ""
	if m := place.FindStringSubmatch(text); m != nil {
		at = ":" + m[1] + m[3]
		if m[2] != "" {
			at += ":" + m[2]
		}
		text = strings.Replace(text, m[0], "", 1)
	}
	return fmt.Errorf("%s%s: %s", name, at, strings.TrimSpace(text))
}
