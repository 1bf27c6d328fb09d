package job

import (
	"bytes"
	"errors"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// mustRead reads a text that has no problems of form.
func mustRead(t testing.TB, text string) *File {
	t.Helper()
	f, problems := Read("job.yaml", []byte(text))
	if len(problems) > 0 {
		t.Fatalf("read:\n%s", problems.Error())
	}
	return f
}

func TestLawUnchangedFileIsByteIdentical(t *testing.T) {
	for _, text := range []string{string(Starter()), "leste: 1\njob:   \"a\"   # c\r\n", "\ufeffleste: 1\njob: a"} {
		if got := mustRead(t, text).Bytes(); string(got) != text {
			t.Errorf("changed:\n%s", cmp.Diff(text, string(got)))
		}
	}
}

// Every way a value may stand in a file, what Set makes of it, and nothing else touched.
func TestReferenceSetEditsInPlace(t *testing.T) {
	const head = "leste: 1 # one\njob: a # name\n"
	for _, c := range []struct{ name, text, path, value, want string }{
		{"plain", "site:\n  altitude: 60 m # sea\n", "/site/altitude", "100 m", "site:\n  altitude: 100 m # sea\n"},
		{"double quotes", "site:\n  altitude: \"60 m\" # sea\n", "/site/altitude", "70 m", "site:\n  altitude: 70 m # sea\n"},
		{"single quotes", "notes: 'it''s' # n\nsite:   {}\n", "/notes", "it is", "notes: it is # n\nsite:   {}\n"},
		{"needs quotes", "notes: a\n", "/notes", "a: b # c", "notes: \"a: b # c\"\n"},
		{"flow", "site:\n  summer: {temperature: 28 degC, humidity: 65 %} # hot\n", "/site/summer/temperature", "30 degC", "site:\n  summer: {temperature: 30 degC, humidity: 65 %} # hot\n"},
		{"flow, new key", "site:\n  summer: { temperature: 28 degC } # hot\n", "/site/summer/humidity", "60 %", "site:\n  summer: { temperature: 28 degC, humidity: 60 % } # hot\n"},
		{"flow, empty", "site: {}\n", "/site/altitude", "1 m", "site: {altitude: 1 m}\n"},
		{"flow, comma", "options:\n- {name: a}\n", "/options/0/name", "a, b", "options:\n- {name: \"a, b\"}\n"},
		{"new key", "site:\n  altitude: 60 m # sea\n  # next\nline:\n  speed: 1 m/s\n", "/site/voltage", "400 V", "site:\n  altitude: 60 m # sea\n  voltage: 400 V\n  # next\nline:\n  speed: 1 m/s\n"},
		{"new group", "notes: a\n", "/line/belt/friction", "0.3", "notes: a\nline: {belt: {friction: \"0.3\"}}\n"},
		{"new key in a list", "options:\n  - name: a # o\n    air_supply:\n      filter: {class: x}\n", "/options/0/air_supply/filter/count", "2", "options:\n  - name: a # o\n    air_supply:\n      filter: {class: x, count: 2}\n"},
		{"empty value", "site:\n  altitude: # sea\n", "/site/altitude", "3 m", "site:\n  altitude: 3 m # sea\n"},
		{"empty group", "site: # here\nnotes: a\n", "/site/altitude", "3 m", "site: {altitude: 3 m} # here\nnotes: a\n"},
		{"umlaut before", "arrives: { from: rinser, looks: damp } # ü\n", "/arrives/looks", "wet", "arrives: { from: rinser, looks: wet } # ü\n"},
		{"umlaut in line", "options: [{name: \"Öl\", stations: [{name: x}]}] # ü\n", "/options/0/stations/0/name", "y", "options: [{name: \"Öl\", stations: [{name: y}]}] # ü\n"},
		{"windows lines", "site:\r\n  altitude: 60 m # s\r\n", "/site/voltage", "400 V", "site:\r\n  altitude: 60 m # s\r\n  voltage: 400 V\r\n"},
		{"not known", "site:\n  altitude: 60 m\n", "/site/altitude", "not known", "site:\n  altitude: not known\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := mustRead(t, head+c.text)
			if err := f.Set(c.path, c.value); err != nil {
				t.Fatal(err)
			}
			got := strings.TrimPrefix(string(f.Bytes()), head)
			// A value may be quoted or not: both say the same.
			if got != c.want && strings.ReplaceAll(got, `"`, "") != strings.ReplaceAll(c.want, `"`, "") {
				t.Errorf("got\n%s\nwant\n%s", got, c.want)
			}
		})
	}
}

// A block text and a value with a tag go through the YAML writer: the rest of the file and its comments
// must survive.
func TestLawSetOfUnusualYAMLKeepsComments(t *testing.T) {
	f := mustRead(t, "leste: 1 # one\njob: a\nnotes: | # n\n  two\n  lines\nsite:\n  # above\n  altitude: !!str 60 m # sea\n")
	for path, value := range map[string]string{"/notes": "short", "/site/altitude": "70 m"} {
		if err := f.Set(path, value); err != nil {
			t.Fatal(err)
		}
		if got, known, err := Value(f.Job, path); err != nil || !known || got != value {
			t.Errorf("%s is %q, %v", path, got, err)
		}
	}
	for _, c := range []string{"# one", "# above", "# sea"} {
		if !bytes.Contains(f.Bytes(), []byte(c)) {
			t.Errorf("comment %q is lost:\n%s", c, f.Bytes())
		}
	}
}

func TestReferenceSetRefuses(t *testing.T) {
	text := "leste: 1\njob: a\nsite: &s\n  altitude: 60 m\noptions:\n  - name: a\n"
	for _, c := range []struct{ path, value, code string }{
		{"/site/altitude", "60", "no-unit"},
		{"/site/altitud", "60 m", CodeKey},
		{"/site", "60 m", CodeShape},
		{"/options/1/name", "b", CodeKey},
		{"/options/x/name", "b", CodeKey},
		{"/site/inlet_from", "cellar", CodeChoice},
		{"/job", "", CodeMissing},
		{"", "", CodeKey},
	} {
		f := mustRead(t, text)
		err := f.Set(c.path, c.value)
		var p Problem
		if !errors.As(err, &p) || p.Code != c.code {
			t.Errorf("Set(%q, %q): %v, want code %s", c.path, c.value, err, c.code)
		}
		if string(f.Bytes()) != text {
			t.Errorf("Set(%q, %q) changed the file though it refused", c.path, c.value)
		}
	}
}

// Whatever value of the starter is set to whatever its field can hold: the job then says exactly that, no
// other value moves, and every comment survives.
func TestLawSetChangesOneValue(t *testing.T) {
	f0 := mustRead(t, string(Starter()))
	var paths []string
	fields := map[string]*field{}
	jobGroup.each(reflect.ValueOf(f0.Job).Elem(), "", func(path string, f *field, _, _ reflect.Value) {
		paths, fields[path] = append(paths, path), f
	})
	comments := bytes.Count(f0.Bytes(), []byte("#"))
	rapid.Check(t, func(t *rapid.T) {
		f := readAgain(string(Starter()))
		for range rapid.IntRange(1, 4).Draw(t, "edits") {
			path := rapid.SampledFrom(paths).Draw(t, "path")
			fd := fields[path]
			var value string
			switch fd.form {
			case choiceForm:
				value = rapid.SampledFrom(fd.choices).Draw(t, "choice")
			case flagForm:
				value = rapid.SampledFrom([]string{"yes", "no"}).Draw(t, "flag")
			case countForm:
				value = rapid.SampledFrom([]string{"1", "12"}).Draw(t, "count")
				if path == "/leste" {
					value = "1"
				}
			case quantityForm:
				value = fd.kind.Exact(rapid.Float64Range(2e4, 1e6).Draw(t, "x"))
			case numberForm:
				value = "3.5"
			default:
				value = rapid.StringMatching(`[a-zü#:,{}\[\]"'\\ -]{0,12}x`).Draw(t, "text")
			}
			want := Clone(f.Job)
			if err := SetValue(want, path, value); err != nil {
				t.Fatal(err)
			}
			if err := f.Set(path, value); err != nil {
				t.Fatalf("Set(%q, %q): %v", path, value, err)
			}
			if d := cmp.Diff(want, f.Job); d != "" {
				t.Fatalf("Set(%q, %q): %s", path, value, d)
			}
		}
		if n := bytes.Count(f.Bytes(), []byte("#")); n < comments {
			t.Fatalf("%d of %d comments left:\n%s", n, comments, f.Bytes())
		}
	})
}

func readAgain(text string) *File {
	f, problems := Read("job.yaml", []byte(text))
	if len(problems) > 0 {
		panic(problems.Error())
	}
	return f
}
