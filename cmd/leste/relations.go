package main

import (
	"strings"

	"leste/calc"
	"leste/physics/relation"
	"leste/render/asjson"
	"leste/render/text"
)

type relationsCommand struct {
	ID string `arg:"" optional:"" help:"Relation to show; all are listed when left out."`
}

// Run lists the relations or shows one.
func (c relationsCommand) Run(p *program) error {
	cards := calc.Relations().All()
	if c.ID != "" {
		card, err := calc.Relations().Get(c.ID)
		if err != nil {
			return wrongInput(err, "relations")
		}
		cards = []relation.Card{card}
	}
	switch {
	case p.options.JSON && c.ID != "":
		return p.printDocument(asjson.Card(cards[0]))
	case p.options.JSON:
		return p.printDocument(asjson.Cards(cards))
	case c.ID != "":
		return p.print([]byte(cards[0].Text(p.width)))
	}
	rows := make([][]string, len(cards))
	for i, card := range cards {
		sources := make([]string, len(card.Sources))
		for j, s := range card.Sources {
			sources[j] = s.Text()
		}
		rows[i] = []string{card.ID, card.Title, strings.Join(sources, "; ")}
	}
	return p.print([]byte(text.Table(p.style(), []string{"relation", "gives", "source"}, rows)))
}
