package main

import (
	"errors"
	"fmt"
	"reflect"
	"strings"

	"github.com/alecthomas/kong"

	"leste/calc"
	q "leste/quantity"
	"leste/render/asjson"
	"leste/render/text"
)

// calcCommand has one subcommand for each topic; the table of topics makes its flags.
type calcCommand struct {
	kong.Plugins
}

// addTopics makes the subcommands.
func (c *calcCommand) addTopics() error {
	for _, topic := range calc.Topics() {
		flags, err := topicFlags(topic)
		if err != nil {
			return err
		}
		command := reflect.StructOf([]reflect.StructField{{
			Name: exported(topic.Name),
			Type: flags,
			Tag:  tags("cmd", "", "name", topic.Name, "help", topic.Help, "group", topic.Asks),
		}})
		c.Plugins = append(c.Plugins, reflect.New(command).Interface())
	}
	return nil
}

// topicFlags returns a struct of text flags, one for each input of the topic.
func topicFlags(topic calc.Topic) (reflect.Type, error) {
	var fields []reflect.StructField
	for _, p := range topic.Params {
		help := p.Help
		switch {
		case p.Need:
			help += " Needed."
		case p.Default != "":
			help += fmt.Sprintf(" Default: %s.", p.Default)
		}
		placeholder := strings.Join(p.Choices, "|")
		if p.Kind != q.None {
			placeholder = fmt.Sprintf("%q", p.Example())
		}
		name := exported(p.Name)
		for _, f := range fields {
			if f.Name == name {
				return nil, fmt.Errorf("topic %s has the input %s twice", topic.Name, p.Name)
			}
		}
		fields = append(fields, reflect.StructField{
			Name: name, Type: reflect.TypeFor[*string](),
			Tag: tags("name", p.Name, "help", help, "placeholder", placeholder),
		})
	}
	return reflect.StructOf(fields), nil
}

// tags writes the tag of a field; the parser reads \" and ' in quoted values.
func tags(pairs ...string) reflect.StructTag {
	var b strings.Builder
	for i := 0; i < len(pairs); i += 2 {
		fmt.Fprintf(&b, "%s:%q ", pairs[i], pairs[i+1])
	}
	return reflect.StructTag(strings.TrimSpace(b.String()))
}

// exported turns "slot-gap" into "SlotGap".
func exported(name string) string {
	var b strings.Builder
	for part := range strings.SplitSeq(name, "-") {
		b.WriteString(strings.ToUpper(part[:1]) + part[1:])
	}
	return b.String()
}

// Run answers the topic that was selected.
func (c *calcCommand) Run(p *program, parsed *kong.Context) error {
	topic, err := calc.Find(parsed.Selected().Name)
	if err != nil {
		return wrongInput(err, "calc")
	}
	given := map[string]string{}
	for _, flag := range parsed.Selected().Flags {
		if value, ok := flag.Target.Interface().(*string); ok && value != nil {
			given[flag.Name] = *value
		}
	}
	answer, err := topic.Answer(given)
	if err != nil {
		return calcFailure(err)
	}
	if p.options.JSON {
		err = p.printDocument(asjson.Answer(answer))
	} else {
		err = p.print([]byte(text.Answer(answer, p.style())))
	}
	if err == nil && answer.Refused() {
		return ended(exitRefused)
	}
	return err
}

// calcFailure speaks of flags where the topic spoke of inputs.
func calcFailure(err error) error {
	var wrong *calc.InputError
	if !errors.As(err, &wrong) {
		return broken(err, "the question cannot be answered")
	}
	if wrong.Param == "" {
		return wrongInput(nil, "calc %s: %s", wrong.Topic, wrong.Text)
	}
	return wrongInput(nil, "calc %s --%s: %s", wrong.Topic, wrong.Param, wrong.Text)
}

// style is how reports are written for people.
func (p *program) style() text.Style {
	return text.Style{Units: q.System(p.options.Units), Colour: p.colour, Width: p.width}
}
