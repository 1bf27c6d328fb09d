package quote

import (
	"math"
	"strings"

	"leste/physics/relation"
)

// gathered says the notes in the language of the paper. What is said of several formats in the same words, without
// figures, is said once, of all of them.
func (in *Input) gathered(notes []relation.Note) []relation.Note {
	type saying struct {
		severity relation.Severity
		text     string
	}
	var out []relation.Note
	first := map[saying]int{}
	about := map[int][]string{} // formats by place in out
	for _, n := range notes {
		text := sentence(in.Words.Say(n.Text))
		name, rest := in.ofFormat(n.Text, text)
		n.Text = text
		if name == "" || !math.IsNaN(n.Value) || !math.IsNaN(n.Limit) {
			out = append(out, n)
			continue
		}
		at, again := first[saying{n.Severity, rest}]
		if !again {
			at = len(out)
			first[saying{n.Severity, rest}] = at
			out = append(out, n)
		}
		about[at] = append(about[at], name)
		switch names := about[at]; {
		case len(names) == 1:
		case len(names) == len(in.Result.Formats):
			out[at].Text = in.Words.T("notes.all") + ": " + rest
		default:
			out[at].Text = strings.Join(names, ", ") + ": " + rest
		}
	}
	return out
}

// ofFormat parts what is said of a format into its name and the rest; "" where it is said of none.
func (in *Input) ofFormat(text, said string) (name, rest string) {
	for i := range in.Result.Formats {
		name := in.Result.Formats[i].Name
		if !strings.HasPrefix(text, name+": ") {
			continue
		}
		if rest, ok := strings.CutPrefix(said, sentence(name)+": "); ok {
			return name, rest
		}
	}
	return "", ""
}
