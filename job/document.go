package job

import (
	"bytes"
	"fmt"
	"strings"

	q "leste/quantity"
)

// Document returns the reference of the job file as Markdown, made from the struct tags.
func Document() []byte {
	d := &documentWriter{done: map[string]string{}}
	fmt.Fprintf(d, `# The job file

One YAML file says what is known of a line, of what it carries, of what blows on it and of what stands next.
This page is made from the program's own schema; the same schema for editors is [job.schema.json](job.schema.json).
To complete and check while typing, begin a file with

    # yaml-language-server: $schema=job.schema.json

## How values are written

- A quantity is a number with its unit: %s. Units of one kind can be mixed in a file.
- A decimal comma is read as a point (%s). Where a comma could group thousands (%s) the value is refused. Groups of three
  digits may be set off by spaces (%s).
- Inside braces a comma ends a value, as the file is YAML: a number with a decimal comma needs quotes there (%s). On a
  line of its own it needs none.
- Inches may be written as fractions (%s). A plain 0 needs no unit, unless it is a temperature or a sound level.
- Pressures at outlets are gauge, above the room's; a barometer is absolute. %s or %s may be added and must then agree.
- A standard flow ("scfm", "Nm3/h") is refused: it counts air, not volume. Give the actual flow.
- What is not known may be left out, or answered with %s. A usual value is then assumed, listed in the result with its
  range, and ranked by how much it matters.
- Yes and no may also be written true and false. Names are free; where one value names another the two must agree
  letter for letter.

| quantity | units offered | example |
|---|---|---|
`, "`1.5 mm`, `20 kPa`, `350 cfm`, `36000 b/h`, `104 degF`", "`1,5 mm`", "`1,500 mm`", "`36 000 /h`", "`{height: \"3,5 mm\"}`", "`1 1/2 in`", "`gauge`", "`abs`", "`not known`")
	used := map[q.Kind]bool{}
	kindsIn(jobGroup, used)
	for k := q.KindLength; k <= q.KindFrequency; k++ {
		if used[k] {
			units := k.Units()
			for i, u := range units {
				units[i] = "`" + u + "`"
				if u == "" {
					units[i] = "none"
				}
			}
			fmt.Fprintf(d, "| %s | %s | `%s` |\n", plainName(k), strings.Join(units, ", "), k.Example())
		}
	}
	d.group("The whole file", "", "", jobGroup)
	d.usual()
	return d.Bytes()
}

// usual lists the defaults that depend on other answers.
func (d *documentWriter) usual() {
	d.WriteString(`
## What is assumed from other answers

| value | when | assumed | from | to | rests on |
|---|---|---|---|---|---|
`)
	for _, u := range usualValues {
		fmt.Fprintf(d, "| %s | %s | %s | %s | %s | %s |\n", u.of, u.when, u.value, u.low, u.high, u.source)
	}
	for _, name := range lookNames {
		w := looks[name]
		fmt.Fprintf(d, "| arrives: water | looks %s | %g g/m2 | %g g/m2 | %g g/m2 | %s |\n", name, w[0], w[1], w[2], judgement)
	}
	fmt.Fprintf(d, "| arrives: water | nobody looked | 50 g/m2 after %d s, falling with the root of the time since wetting, 20 to 100 g/m2 | 0.4 times | 2 times | %s |\n", usualSince, judgement)
	for _, name := range jobGroup.byKey["next"].group.byKey["machine"].choices {
		t := tolerances[name]
		for _, l := range []struct{ key, value, low, high string }{
			{"water", t.water, t.waterLow, t.waterHigh}, {"drop", t.drop, t.dropLow, t.dropHigh}, {"mass", t.mass, t.massLow, t.massHigh},
		} {
			if l.value != "" {
				fmt.Fprintf(d, "| next: requires: %s | %s | %s | %s | %s | usual, no source; the machine's specification tells |\n", l.key, name, l.value, l.low, l.high)
			}
		}
	}
	d.WriteString(`
A machine that states no requirement is held to these on the zone it usually looks at: a camera on the closure (cans: the seam),
a labeller on the label panel (cans: the sidewall), a coder on the closure (cans: the dome), a wrapper or packer on the
whole container. A complaint in plain words ("0.1 % rejects at the closure", "one in a thousand, label lifts") names
the zone and the share of rejects instead.

Speed, rate and spacing: two of them make the third. What a format says wins over what the line says; of the line the spacing wins
over the speed, and the speed over the rate. Where nobody said enough, containers touch and then run at the assumed speed.
`)
}

func kindsIn(g *group, used map[q.Kind]bool) {
	for _, f := range g.fields {
		if f.form == quantityForm {
			used[f.kind] = true
		}
		if f.group != nil {
			kindsIn(f.group, used)
		}
	}
}

// documentWriter writes one table for each group, at its first place.
type documentWriter struct {
	bytes.Buffer
	done map[string]string // title by group name
}

func (d *documentWriter) group(title, path, doc string, g *group) {
	d.done[g.name] = title
	fmt.Fprintf(d, "\n## %s\n\n", title)
	if doc != "" {
		fmt.Fprintf(d, "%s\n\n", doc)
	}
	d.WriteString("| key | what it is | written as | when left out | limits |\n|---|---|---|---|---|\n")
	var below []*field
	for _, f := range g.fields {
		fmt.Fprintf(d, "| `%s` | %s | %s | %s | %s |\n", f.key, cell(f.doc), d.written(f, path), f.leftOut(), f.limitText())
		if f.group != nil && d.done[f.group.name] == "" {
			d.done[f.group.name] = titleOf(path, f)
			below = append(below, f)
		}
	}
	for _, f := range below {
		d.group(titleOf(path, f), strings.Trim(path+": "+f.key, ": "), f.doc, f.group)
	}
}

func titleOf(path string, f *field) string {
	return "`" + strings.Trim(path+": "+f.key, ": ") + "`"
}

// written says how the field is written.
func (d *documentWriter) written(f *field, path string) string {
	switch f.form {
	case groupForm, listForm:
		title := d.done[f.group.name]
		if title == "" {
			title = titleOf(path, f)
		}
		what := "keys, see "
		if f.form == listForm {
			what = "list, see "
		}
		return what + "[" + title + "](#" + anchor(title) + ")"
	case wordsForm:
		return "list of names"
	case choiceForm:
		return "`" + strings.Join(f.choices, "`, `") + "`"
	case quantityForm:
		return f.kind.Name() + ", `" + f.example() + "`"
	case countForm:
		return "whole number"
	case numberForm:
		return "number"
	case flagForm:
		return "`yes`, `no`"
	}
	return "text"
}

// anchor is the fragment that Markdown renderers give a title.
func anchor(title string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(title) {
		switch {
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '_' || r == '-':
			b.WriteRune(r)
		case r == ' ':
			b.WriteByte('-')
		}
	}
	return b.String()
}

func cell(s string) string { return strings.ReplaceAll(s, "|", "\\|") }

// leftOut says what happens when the field is not given.
func (f *field) leftOut() string {
	switch {
	case f.need:
		return "**must be given**"
	case f.def == "":
		return ""
	}
	text := "`" + f.def + "`"
	if f.low != "" {
		text += fmt.Sprintf(" (%s to %s)", f.low, f.high)
	}
	if f.source != "" && f.source != f.def {
		text += "; " + f.source
	}
	return cell(text)
}

func (f *field) limitText() string {
	if !f.limited {
		return ""
	}
	if f.form == numberForm {
		return "0 or more"
	}
	return f.limit.leastText + " to " + f.limit.mostText
}
