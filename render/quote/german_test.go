package quote

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	leste "leste"
	"leste/airsupply"
	"leste/catalogue"
	"leste/cost"
	"leste/job"
	"leste/physics"
	"leste/physics/relation"
	"leste/render/document"
	"leste/render/words"
	"leste/station"
)

// cards are all relations that a result may name.
func cards(t testing.TB) func(string) (relation.Card, error) {
	t.Helper()
	all, err := relation.New(physics.Cards().All(), airsupply.Cards(), cost.Cards())
	if err != nil {
		t.Fatal(err)
	}
	return all.Get
}

// loaded is an example as its file says it.
func loaded(t *testing.T, path string) *job.Job {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	file, problems := job.Load(filepath.Base(path), data)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return file.Job
}

// answered is the input of an example's papers, assessed coarsely, in German.
func answered(t *testing.T, path string, o leste.Options) *Input {
	t.Helper()
	given := loaded(t, path)
	r, err := leste.Assess(t.Context(), given, o)
	if err != nil {
		t.Fatal(err)
	}
	filled := job.Clone(given)
	job.Fill(filled)
	w, err := words.New("de", words.SI)
	if err != nil {
		t.Fatal(err)
	}
	in := &Input{Job: filled, Result: r, Words: w, Offer: Offer{Date: day}, Cards: cards(t)}
	if len(filled.Formats) > 0 {
		plan, problems := station.Resolve(filled, station.ResolveOptions{})
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		in.Plan = plan
	}
	supply, err := airsupply.Assess(t.Context(), given, catalogue.GenericParts())
	if err != nil {
		t.Skipf("an example without papers: %v", err)
	}
	for _, l := range supply.Loads {
		x := Load{Blower: l.Blower, Class: l.Class, Starter: l.Starter, Protection: l.Protection, Signals: l.Signals, Devices: l.Devices}
		for _, n := range l.Notes {
			x.Notes = append(x.Notes, n.Text)
		}
		in.Loads = append(in.Loads, x)
	}
	if supply.Plan != nil && supply.Plan.Network != nil {
		in.Branches = supply.Plan.Network.Branches
	}
	return in
}

// english are words that no German sentence holds.
var english = regexp.MustCompile(`(?i)\b(the|of|is|are|and|for|with|from|by|its|it|this|that|than|to|or|which|where|when|more|less|only|supply|rails|cost|belt|discharge|bore)\b`)

// cited is what a source is called; titles of papers stay as they were published.
var cited = regexp.MustCompile(`^(aus dem Gedächtnis nach|veröffentlicht:|aus zweiter Hand:|neu hergeleitet: .*\(\d{4}\))`)

// texts gathers every text of a value.
func texts(v reflect.Value, out *[]string) {
	switch v.Kind() {
	case reflect.String:
		*out = append(*out, v.String())
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			texts(v.Elem(), out)
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			texts(v.Index(i), out)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			texts(v.Field(i), out)
		}
	}
}

// own are the user's words and names in a job, the longest first.
func own(j *job.Job) []string {
	out := []string{j.Name, reflow(j.Notes)}
	for _, f := range j.Formats {
		out = append(out, f.Name)
	}
	for _, s := range j.Stations {
		out = append(out, s.Name)
		for _, o := range s.Outlets {
			out = append(out, o.Name)
		}
		for _, f := range s.Frames {
			out = append(out, f.Name)
		}
	}
	for _, m := range j.Next {
		out = append(out, m.Name, m.Complaint)
	}
	for _, b := range j.AirSupply.Branches {
		out = append(out, b.Name, b.From, b.To)
	}
	out = append(out, strings.Split("what, format, at, state, value, containers, failed, note; generic belt", "; ")...) // columns of a file, parts
	slices.SortFunc(out, func(a, b string) int { return len(b) - len(a) })
	return slices.DeleteFunc(out, func(s string) bool { return s == "" })
}

// without leaves names out of a text.
func without(text string, names []string) string {
	for _, name := range names {
		text = strings.ReplaceAll(text, name, "…")
	}
	return text
}

// untranslated returns the texts of a German paper in which English is left.
func untranslated(d *document.Document, names []string) []string {
	var all, out []string
	texts(reflect.ValueOf(d.Blocks), &all)
	texts(reflect.ValueOf(d.Cover), &all)
	for _, text := range all {
		for line := range strings.SplitSeq(text, "\n") {
			rest := without(line, names)
			if !cited.MatchString(rest) && english.MatchString(rest) && !slices.Contains(out, line) {
				out = append(out, line)
			}
		}
	}
	return out
}

func TestLawNoEnglishSentenceOnAGermanPage(t *testing.T) {
	files, err := filepath.Glob("../../examples/*.yaml")
	if err != nil || len(files) < 5 {
		t.Fatalf("%d examples, %v", len(files), err)
	}
	for _, path := range files {
		t.Run(strings.TrimSuffix(filepath.Base(path), ".yaml"), func(t *testing.T) {
			t.Parallel()
			o := leste.Options{Method: "quick", Cell: 8e-3, Nominal: true, NoRanking: true}
			if strings.Contains(path, "as-found") { // one with all its cases and questions
				o.Nominal, o.NoRanking = false, false
			}
			in := answered(t, path, o)
			for _, d := range []*document.Document{Quotation(in), SetUp(in), Acceptance(in), Risk(in), Survey(in.Words, in.Head, day)} {
				for _, text := range untranslated(d, own(in.Job)) {
					t.Errorf("%s: there is no German for %q; add a row to render/words/sentences.csv", d.Kind, text)
				}
			}
			for _, l := range Lists(in) {
				for _, row := range l.Rows {
					for _, cell := range row {
						text, _ := cell.(string)
						if english.MatchString(without(text, own(in.Job))) {
							t.Errorf("list %s: there is no German for %q", l.Name, text)
						}
					}
				}
			}
		})
	}
}

// fieldsOfJobs visits every field that a job file can have.
func fieldsOfJobs(visit func(reflect.StructField)) {
	seen := map[reflect.Type]bool{}
	var walk func(reflect.Type)
	walk = func(of reflect.Type) {
		for of.Kind() == reflect.Pointer || of.Kind() == reflect.Slice || of.Kind() == reflect.Map {
			of = of.Elem()
		}
		if of.Kind() != reflect.Struct || seen[of] {
			return
		}
		seen[of] = true
		for i := range of.NumField() {
			f := of.Field(i)
			visit(f)
			walk(f.Type)
		}
	}
	walk(reflect.TypeFor[job.Job]())
}

// What a remedy costs stands beside it, in the language of the paper, whatever gives way.
func TestLawTheQuotationTellsWhatARemedyCosts(t *testing.T) {
	var against []string
	for _, way := range []string{station.Tip, station.Lift, station.Slide, station.HeldBack} {
		for _, in := range []string{"empty container, wet belt, alone", "empty container, held by the grips, alone"} {
			if does, gives := leste.GivesWay(way, in); gives {
				against = append(against, "with it can 0 "+does, "with it can 0 "+does+" even sooner")
				if way == station.Tip || way == station.Lift {
					against = append(against, "with it can 0 "+leste.Nearly(does))
				}
			}
		}
	}
	for _, quantity := range []string{"pressure", "speed", "temperature"} {
		for _, zone := range []string{"closure", job.ZoneAll} {
			does := leste.TooMuchAir(quantity, zone)
			against = append(against, "with it can 0 "+does, "with it can 0 "+does+" even sooner")
		}
	}
	if len(against) < 20 {
		t.Fatalf("only %d sentences", len(against))
	}
	plain := func(s string) string { return strings.ReplaceAll(s, "\u00a0", " ") }
	for _, language := range words.Languages() {
		r := result(1, short)
		r.Helps[0].Against = against
		in := input(t, r, language)
		written := plain(every(t, in))
		for _, text := range against {
			said, ok := in.Words.Said(text)
			if language != "en" && (!ok || strings.Contains(said, " the ") || strings.Contains(said, " is ")) {
				t.Errorf("%s: %q is said as %q; add a row to render/words/sentences.csv", language, text, said)
			}
			if !strings.Contains(written, plain(said)) {
				t.Errorf("%s: the papers lack %q", language, said)
			}
		}
	}
}

func TestLawEveryPhraseOfJobsAndRelationsHasGerman(t *testing.T) {
	w, err := words.New("de", words.SI)
	if err != nil {
		t.Fatal(err)
	}
	checked := 0
	check := func(what, text string) {
		checked++
		if _, ok := w.Said(text); !ok {
			t.Errorf("%s: there is no German for %q; add a row to render/words/sentences.csv", what, text)
		}
	}
	fieldsOfJobs(func(f reflect.StructField) {
		for _, tag := range []string{"doc", "source"} {
			if text := strings.TrimSuffix(f.Tag.Get(tag), "."); text != "" {
				check(f.Name, text)
			}
		}
	})
	all, err := relation.New(physics.Cards().All(), airsupply.Cards(), cost.Cards())
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range all.All() {
		check(c.ID, c.Title)
		for _, s := range c.Sources {
			check(c.ID, s.Where)
		}
		for _, l := range c.Limits {
			if l.Text != "" {
				check(c.ID, l.Text)
			}
			for _, s := range c.Symbols {
				if s.Name == l.Symbol {
					check(c.ID, s.Meaning)
				}
			}
		}
	}
	if checked < 600 {
		t.Fatalf("only %d phrases were found", checked)
	}
}

// speakers are the small functions by which a package adds a note or a caution.
var speakers = []string{"info", "plain", "note", "add", "caution"}

// written gathers the sentences of notes and cautions in a source file: the text of every note, and what speakers are
// given. Verbs become a name; what is put together from parts is left out.
func written(file *ast.File) []string {
	verb := regexp.MustCompile(`%[-+.0-9]*[a-z]`)
	var out []string
	say := func(e ast.Expr) {
		if call, ok := e.(*ast.CallExpr); ok && len(call.Args) > 0 {
			if f, ok := call.Fun.(*ast.SelectorExpr); ok && f.Sel.Name == "Sprintf" {
				e = call.Args[0]
			}
		}
		lit, ok := e.(*ast.BasicLit)
		if !ok || lit.Kind != token.STRING {
			return
		}
		text, err := strconv.Unquote(lit.Value)
		if err == nil && !strings.Contains(text, "%s%s") && strings.Count(text, " ") > 2 && !strings.HasPrefix(text, ",") {
			out = append(out, verb.ReplaceAllString(strings.ReplaceAll(text, "%%", "%"), "Y7"))
		}
	}
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.CompositeLit:
			keys := map[string]ast.Expr{}
			for _, e := range n.Elts {
				if kv, ok := e.(*ast.KeyValueExpr); ok {
					if k, ok := kv.Key.(*ast.Ident); ok {
						keys[k.Name] = kv.Value
					}
				}
			}
			if keys["Severity"] != nil && keys["Text"] != nil {
				say(keys["Text"])
			}
		case *ast.CallExpr:
			name := ""
			switch f := n.Fun.(type) {
			case *ast.Ident:
				name = f.Name
			case *ast.SelectorExpr:
				name = f.Sel.Name
			}
			if slices.Contains(speakers, name) {
				for _, a := range n.Args {
					say(a)
				}
			}
		}
		return true
	})
	return out
}

func TestLawEverySentenceThatIsWrittenHasGerman(t *testing.T) {
	w, err := words.New("de", words.SI)
	if err != nil {
		t.Fatal(err)
	}
	found := 0
	for _, dir := range []string{".", "airsupply", "catalogue", "cost", "drying", "station"} {
		files, err := filepath.Glob(filepath.Join("../..", dir, "*.go"))
		if err != nil {
			t.Fatal(err)
		}
		for _, path := range files {
			name := filepath.Base(path)
			if strings.HasSuffix(name, "_test.go") || slices.Contains([]string{"cards.go", "checks.go", "body.go"}, name) {
				continue
			}
			file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
			if err != nil {
				continue // does not build, which others say
			}
			for _, text := range written(file) {
				found++
				if _, ok := w.Said(text); !ok {
					t.Errorf("%s: there is no German for %q; add a row to render/words/sentences.csv", path, text)
				}
			}
		}
	}
	if found < 30 {
		t.Fatalf("only %d sentences were found", found)
	}
}

// The survey sheet and the list of assumed values kept words of the job file in English: "damp", "next 1, requires 1".
func TestLawWordsOfTheJobFileHaveGerman(t *testing.T) {
	w, err := words.New("de", words.SI)
	if err != nil {
		t.Fatal(err)
	}
	class := regexp.MustCompile(`^(IE\d|US premium)$`) // of motors, called so everywhere
	fieldsOfJobs(func(f reflect.StructField) {
		for choice := range strings.SplitSeq(f.Tag.Get("one"), "|") {
			if _, ok := w.Said(choice); choice != "" && !ok && !class.MatchString(choice) {
				t.Errorf("%s: there is no German for the choice %q", f.Name, choice)
			}
		}
	})

	files, err := filepath.Glob("../../examples/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range files {
		for _, a := range job.Fill(loaded(t, path)) {
			parts := strings.Split(strings.Trim(a.Path, "/"), "/")
			for i, part := range parts {
				text := strings.ReplaceAll(part, "_", " ")
				if i > 0 && strings.Trim(part, "0123456789") == "" {
					text = strings.ReplaceAll(parts[i-1], "_", " ") + " 1"
				}
				if _, ok := w.Said(text); !ok && i < len(parts)-1 {
					t.Errorf("%s: there is no German for %q of %s", filepath.Base(path), text, a.Path)
				}
			}
		}
	}
}
