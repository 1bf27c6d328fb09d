package api

import (
	"context"
	"encoding/json"
	"math"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"leste/calc"
	"leste/catalogue"
	q "leste/quantity"
	"leste/render/asjson"
	"leste/web/form"
	"leste/web/view"
)

// A Question is a topic of the pocket calculators with its inputs.
type Question struct {
	Topic  string          `json:"topic"`
	Asks   string          `json:"asks" doc:"The question in words; several topics may share one."`
	Help   string          `json:"help"`
	Inputs []QuestionInput `json:"inputs"`
	Keys   []QuestionKey   `json:"answers" doc:"What it answers."`
}

// A QuestionInput is one input of a topic.
type QuestionInput struct {
	Name    string   `json:"name"`
	Help    string   `json:"help"`
	Kind    *string  `json:"kind" doc:"Kind of quantity in words; null for a choice."`
	Units   []string `json:"units"`
	Choices []string `json:"choices"`
	Default *string  `json:"default"`
	Source  *string  `json:"source" doc:"What the default rests on."`
	Example string   `json:"example"`
	Need    bool     `json:"need"`
}

// A QuestionKey is one answer of a topic.
type QuestionKey struct {
	Key  string `json:"key"`
	Name string `json:"name"`
	Unit string `json:"unit"`
}

// A Reply is the answer to one question.
type Reply struct {
	Topic   string       `json:"topic"`
	Refused bool         `json:"refused" doc:"A relation was asked for something that it does not cover."`
	Inputs  []ReplyInput `json:"inputs"`
	Answers []ReplyValue `json:"answers"`
	Notes   []Note       `json:"notes"`
	Cards   []string     `json:"relations" doc:"Ids of the relations used."`
}

// A ReplyInput is one value that was used.
type ReplyInput struct {
	Name    string  `json:"name"`
	Text    string  `json:"text" doc:"With its unit."`
	Assumed bool    `json:"assumed"`
	Source  *string `json:"source"`
}

// A ReplyValue is one answer: a number, or words.
type ReplyValue struct {
	Key   string  `json:"key"`
	Name  string  `json:"name"`
	Unit  string  `json:"unit"`
	Value exactly `json:"value" doc:"null when it is no number or not known."`
	Text  *string `json:"text" doc:"Of an answer in words."`
}

// A Note is what an answer says about its own validity.
type Note struct {
	Severity string  `json:"severity" enum:"info,caution,outside,stop"`
	Relation *string `json:"relation"`
	Text     string  `json:"text"`
	Value    exactly `json:"value"`
	Limit    exactly `json:"limit"`
	Unit     string  `json:"unit"`
}

// exactly is a number with all its digits, null for one that is not known.
type exactly float64

// MarshalJSON implements json.Marshaler.
func (x exactly) MarshalJSON() ([]byte, error) {
	if v := float64(x); !math.IsNaN(v) && !math.IsInf(v, 0) {
		return json.Marshal(v)
	}
	return []byte("null"), nil
}

// Schema implements huma.SchemaProvider.
func (exactly) Schema(huma.Registry) *huma.Schema {
	return &huma.Schema{Type: huma.TypeNumber, Nullable: true}
}

// Cards is the document that relations --json prints.
type Cards json.RawMessage

// MarshalJSON implements json.Marshaler.
func (c Cards) MarshalJSON() ([]byte, error) { return json.RawMessage(c).MarshalJSON() }

// Schema implements huma.SchemaProvider.
func (Cards) Schema(r huma.Registry) *huma.Schema {
	return &huma.Schema{
		Type: huma.TypeObject, Required: []string{"schema", "relations"}, Properties: map[string]*huma.Schema{
			"schema":    {Type: huma.TypeString},
			"relations": {Type: huma.TypeArray, Items: shape(r, asjson.CardType(), "Relation")},
		},
	}
}

// A Family is a family of containers of the catalogue.
type Family struct {
	Name     string       `json:"name"`
	Doc      string       `json:"doc"`
	Material string       `json:"material"`
	Section  string       `json:"section"`
	Closures []string     `json:"closures" doc:"That fit it, the usual one first."`
	Zones    []string     `json:"zones"`
	Sizes    []FamilySize `json:"sizes"`
}

// A FamilySize is one size of a family.
type FamilySize struct {
	Name     string      `json:"name"`
	Diameter view.Number `json:"diameter_mm"`
	Width    view.Number `json:"width_mm" doc:"Along travel, of a body that is not round; 0 otherwise."`
	Height   view.Number `json:"height_mm"`
}

// Families are the families and materials of the catalogue.
type Families struct {
	Families  []Family `json:"families"`
	Materials []string `json:"materials"`
}

func (a *api) bookOperations(h huma.API) {
	huma.Register(h, operation("form", http.MethodGet, "/form", "The forms of a job file, made from its schema", tagBooks, 500), a.form)
	huma.Register(h, operation("families", http.MethodGet, "/families", "Families of containers with their sizes and closures", tagBooks, 500), a.families)
	huma.Register(h, operation("questions", http.MethodGet, "/questions", "The questions that can be asked without a job", tagBooks, 500), a.questions)
	huma.Register(h, operation("ask", http.MethodPost, "/questions/{topic}", "Answer one question", tagBooks, 400, 404, 413, 415, 422, 500), a.ask)
	huma.Register(h, operation("relations", http.MethodGet, "/relations", "Every relation with its equation, range and source, as relations --json prints it", tagBooks, 500), a.relations)
}

func (a *api) form(context.Context, *struct{}) (*struct{ Body form.Schema }, error) {
	return &struct{ Body form.Schema }{form.OfJob()}, nil
}

func (a *api) families(context.Context, *struct{}) (*struct{ Body Families }, error) {
	out := Families{Families: []Family{}, Materials: []string{}}
	for _, f := range catalogue.Families() {
		x := Family{
			Name: f.Name, Doc: f.Doc, Material: f.Material, Section: f.Section,
			Closures: append([]string{}, f.Closures...), Zones: append([]string{}, f.Zones...), Sizes: []FamilySize{},
		}
		for _, s := range f.Sizes {
			x.Sizes = append(x.Sizes, FamilySize{s.Name, view.Number(s.Diameter.MM()), view.Number(s.Width.MM()), view.Number(s.Height.MM())})
		}
		out.Families = append(out.Families, x)
	}
	for _, m := range catalogue.Materials() {
		out.Materials = append(out.Materials, m.Name)
	}
	return &struct{ Body Families }{out}, nil
}

type questionsOut struct {
	Body struct {
		Questions []Question `json:"questions"`
	}
}

func (a *api) questions(context.Context, *struct{}) (*questionsOut, error) {
	out := &questionsOut{}
	out.Body.Questions = []Question{}
	for _, t := range calc.Topics() {
		x := Question{Topic: t.Name, Asks: t.Asks, Help: t.Help, Inputs: []QuestionInput{}, Keys: []QuestionKey{}}
		for _, p := range t.Params {
			in := QuestionInput{
				Name: p.Name, Help: p.Help, Units: []string{}, Choices: append([]string{}, p.Choices...),
				Default: orNull(p.Default), Source: orNull(p.Source), Example: p.Example(), Need: p.Need,
			}
			if p.Kind != q.None {
				in.Kind, in.Units = orNull(p.Kind.Name()), append(in.Units, p.Kind.Units()...)
			}
			x.Inputs = append(x.Inputs, in)
		}
		for _, o := range t.Answers {
			x.Keys = append(x.Keys, QuestionKey{o.Key, o.Name, o.Unit()})
		}
		out.Body.Questions = append(out.Body.Questions, x)
	}
	return out, nil
}

func (a *api) ask(_ context.Context, in *struct {
	Topic string `path:"topic" maxLength:"80"`
	Body  struct {
		Inputs map[string]string `json:"inputs" doc:"Values with their units, by the input's name; what is left out takes its default."`
	}
},
) (*struct{ Body Reply }, error) {
	topic, err := calc.Find(in.Topic)
	if err != nil {
		return nil, refused(http.StatusNotFound, codeNotFound, sentence(err.Error()))
	}
	x, err := topic.Answer(in.Body.Inputs)
	if err != nil {
		return nil, faultOf(err, nil)
	}
	out := Reply{Topic: topic.Name, Refused: x.Refused(), Inputs: []ReplyInput{}, Answers: []ReplyValue{}, Notes: []Note{}, Cards: append([]string{}, x.Relations...)}
	for _, i := range x.Inputs {
		text := i.Text
		if !math.IsNaN(i.Value) {
			text = i.Param.Kind.Exact(i.Value)
		}
		r := ReplyInput{Name: i.Param.Name, Text: text, Assumed: i.Assumed}
		if i.Assumed {
			r.Source = orNull(i.Param.Source)
		}
		out.Inputs = append(out.Inputs, r)
	}
	for _, r := range x.Results {
		v := ReplyValue{Key: r.Output.Key, Name: r.Output.Name, Unit: r.Output.Unit(), Value: exactly(r.InUnit())}
		switch word := r.Value.(type) {
		case string:
			v.Text = &word
		case bool:
			yes := map[bool]string{true: "yes", false: "no"}[word]
			v.Text = &yes
		}
		out.Answers = append(out.Answers, v)
	}
	for _, n := range x.Notes {
		out.Notes = append(out.Notes, Note{string(n.Severity), orNull(n.Relation), n.Text, exactly(n.Value), exactly(n.Limit), n.Unit})
	}
	return &struct{ Body Reply }{out}, nil
}

func (a *api) relations(context.Context, *struct{}) (*struct{ Body Cards }, error) {
	b, err := asjson.Cards(calc.Relations().All())
	if err != nil {
		return nil, faultOf(err, nil)
	}
	return &struct{ Body Cards }{Cards(b)}, nil
}
