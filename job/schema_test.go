package job

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"go.yaml.in/yaml/v4"
)

func compiled(t testing.TB) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(Schema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.DefaultDraft(jsonschema.Draft2020)
	c.AssertFormat()
	if err := c.AddResource("job.schema.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("job.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// asJSON reads YAML as editors hand it to a schema.
func asJSON(t testing.TB, text []byte) any {
	t.Helper()
	var v any
	if err := yaml.Unmarshal(text, &v); err != nil {
		t.Fatal(err)
	}
	return v
}

func TestLawSchemaAcceptsEveryJob(t *testing.T) {
	s := compiled(t)
	for name, text := range jobs(t) {
		if err := s.Validate(asJSON(t, []byte(text))); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	for _, text := range []string{
		"leste: 1\njob: 42\nsite: {altitude: 0, noise_limit: '?', voltage: }\n",
		"leste: 1\njob: a\nline: {stops: true, surge: 1.2}\nnext: [{machine: camera, formats: x}]\nsite:\nformats:\n",
	} {
		if _, problems := Read("x", []byte(text)); len(problems) > 0 {
			t.Fatal(problems.Error())
		}
		if err := s.Validate(asJSON(t, []byte(text))); err != nil {
			t.Errorf("%s: %v", text, err)
		}
	}
}

// The schema finds by itself what Read finds by shape; what only Check finds it need not.
func TestLawSchemaRefusesMalformedFiles(t *testing.T) {
	s := compiled(t)
	refused := 0
	for _, c := range allMalformed(t) {
		_, problems := Read("x", c.text)
		if len(problems) == 0 {
			continue
		}
		switch problems[0].Code {
		case CodeKey, CodeShape, CodeChoice, "no-unit", "kind":
		case CodeMissing:
			if strings.Contains(problems[0].Text, "value is missing") || strings.Contains(problems[0].Text, "is empty") {
				continue // an empty text is a text for a schema
			}
		default:
			continue
		}
		var v any
		if yaml.Unmarshal(c.text, &v) != nil { // an alias in itself
			continue
		}
		if strings.Contains(string(c.text), "<<") || strings.Contains(string(c.text), "low: -10 mm") || strings.Contains(string(c.text), "kW/m3 min") || strings.Contains(string(c.text), "300 m/min") {
			continue // merges and compound units are beyond it
		}
		if s.Validate(v) == nil {
			t.Errorf("%s %s: the schema lets through what Read refuses: %s", c.where, c.title, problems[0])
			continue
		}
		refused++
	}
	if refused < 80 {
		t.Errorf("only %d cases", refused)
	}
}

func TestLawGeneratedDocumentsAreCurrent(t *testing.T) {
	for name, want := range map[string][]byte{"job.schema.json": Schema(), "job-file.md": Document()} {
		got, err := os.ReadFile(filepath.Join("..", "docs", name))
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(got, want) {
			t.Errorf("docs/%s is not what the tags say; run go generate ./job", name)
		}
	}
}

// The links of the reference lead to titles that it has.
func TestLawDocumentLinks(t *testing.T) {
	text := string(Document())
	titles := map[string]bool{}
	for _, m := range regexp.MustCompile(`(?m)^## (.*)$`).FindAllStringSubmatch(text, -1) {
		if a := anchor(m[1]); titles[a] {
			t.Errorf("two titles %s", m[1])
		} else {
			titles[a] = true
		}
	}
	for _, m := range regexp.MustCompile(`\]\(#([^)]*)\)`).FindAllStringSubmatch(text, -1) {
		if !titles[m[1]] {
			t.Errorf("no title #%s", m[1])
		}
	}
}

// Every commented key of the starter can be uncommented as it stands.
func TestLawStarterCommentsAreKeys(t *testing.T) {
	text := string(Starter())
	if n := strings.Count(text, "# Name of the outlet."); n != 1 {
		t.Errorf("a key is explained %d times", n)
	}
	lines := strings.Split(text, "\n")
	key := regexp.MustCompile(`^( +)# ([a-z_]+: .*)$`)
	n := 0
	for i, line := range lines {
		m := key.FindStringSubmatch(line)
		if m == nil {
			continue
		}
		n++
		lines[i] = m[1] + m[2]
		if _, problems := Load("starter.yaml", []byte(strings.Join(lines, "\n"))); len(problems) > 0 {
			t.Error(problems.Error())
		}
	}
	if n < 25 {
		t.Errorf("only %d commented keys", n)
	}
}
