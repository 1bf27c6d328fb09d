package quote

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	_ "image/jpeg" // logos
	_ "image/png"  // logos
	"sort"
	"strings"
	"text/template"

	"go.yaml.in/yaml/v4"

	leste "leste"
	"leste/job"
	"leste/render/document"
	"leste/render/words"
)

// A Template is the user's own letterhead, words and texts.
type Template struct {
	Head  document.Letterhead
	Words words.Words
	texts map[string]*template.Template
}

// places are the texts that a template folder may hold.
var places = []string{"intro", "scope", "closing"}

// letterhead is the file letterhead.yaml.
type letterhead struct {
	Name  string   `yaml:"name"`
	Lines []string `yaml:"lines"`
}

// ReadTemplate makes a template of the files of a folder, by name: letterhead.yaml, logo.png or logo.jpg,
// words.csv, and intro.txt, scope.txt, closing.txt in the syntax of text/template. What cannot be used is
// told and left out; the rest is used.
func ReadTemplate(files map[string][]byte, w words.Words) (Template, error) {
	t := Template{Words: w, texts: map[string]*template.Template{}}
	var wrong []error
	names := make([]string, 0, len(files))
	for name := range files {
		names = append(names, name)
	}
	sort.Strings(names)
	for _, name := range names {
		data := files[name]
		var err error
		switch base, ext, _ := strings.Cut(name, "."); {
		case name == "letterhead.yaml":
			err = t.letterhead(name, data)
		case base == "logo" && (ext == "png" || ext == "jpg" || ext == "jpeg"):
			if _, kind, e := image.DecodeConfig(bytes.NewReader(data)); e != nil {
				err = fmt.Errorf("%s is no picture that can be shown: %w; give a PNG or JPEG", name, e)
			} else if kind == "png" || kind == "jpeg" {
				t.Head.Logo = data
			}
		case name == "words.csv":
			t.Words, err = t.Words.With(bytes.NewReader(data), name)
		case ext == "txt" && known(base):
			var parsed *template.Template
			if parsed, err = template.New(name).Option("missingkey=error").Parse(string(data)); err == nil {
				t.texts[base] = parsed
			}
		default:
			err = fmt.Errorf("%s has no place in a template; known are letterhead.yaml, logo.png, words.csv, %s.txt", name, strings.Join(places, ".txt, "))
		}
		if err != nil {
			wrong = append(wrong, err)
		}
	}
	return t, errors.Join(wrong...)
}

func known(base string) bool {
	for _, p := range places {
		if p == base {
			return true
		}
	}
	return false
}

func (t *Template) letterhead(name string, data []byte) error {
	var h letterhead
	l, err := yaml.NewLoader(bytes.NewReader(data), yaml.WithKnownFields())
	if err == nil {
		err = l.Load(&h)
	}
	if err != nil {
		return located(name, err)
	}
	t.Head.Name, t.Head.Lines = h.Name, h.Lines
	return nil
}

// Texts fills the user's texts. A text that fails is told with its line and left out.
func (t Template) Texts(j *job.Job, r *leste.Result, o Offer) (map[string]string, error) {
	out := map[string]string{}
	var wrong []error
	for _, place := range places {
		parsed := t.texts[place]
		if parsed == nil {
			continue
		}
		var b strings.Builder
		if err := parsed.Execute(&b, map[string]any{"Job": j, "Result": r, "Offer": o}); err != nil {
			wrong = append(wrong, err)
			continue
		}
		out[place] = strings.TrimSpace(b.String())
	}
	return out, errors.Join(wrong...)
}
