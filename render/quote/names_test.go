package quote

import (
	"fmt"
	"os"
	"reflect"
	"regexp"
	"strings"
	"testing"

	leste "leste"
	"leste/airsupply"
	"leste/catalogue"
	"leste/job"
	"leste/render/document"
	"leste/render/scene"
	"leste/render/words"
	"leste/station"
)

// called are names of things that a user may choose: words of the tables, of the job file, and of several words.
var called = []string{"Top", "Closure", "Surge", "Hose", "Not met", "Caution", "Blower", "Belt", "Dry and wet", "A grazing jet is not predicted", "Drops; film"}

// named gives every outlet, station, machine and format of a job its name from a list.
func named(j *job.Job, name func(i int) string) {
	n := 0
	next := func(s *string, refer ...*string) {
		old := *s
		*s = name(n)
		n++
		for _, r := range refer {
			if *r == old {
				*r = *s
			}
		}
	}
	var outlets, formats []*string
	for i := range j.Stations {
		for k := range j.Stations[i].Frames {
			for m := range j.Stations[i].Frames[k].Settings {
				formats = append(formats, &j.Stations[i].Frames[k].Settings[m].Format)
			}
		}
	}
	for i := range j.AirSupply.Branches {
		outlets = append(outlets, &j.AirSupply.Branches[i].To)
	}
	for i := range j.Stations {
		for k := range j.Stations[i].Outlets {
			next(&j.Stations[i].Outlets[k].Name, outlets...)
		}
	}
	for i := range j.Next {
		next(&j.Next[i].Name)
	}
	for i := range j.Formats {
		next(&j.Formats[i].Name, formats...)
	}
}

// papered are the texts of a renamed job's papers, in each of some languages.
func papered(t *testing.T, path string, o leste.Options, name func(int) string, languages ...string) [][]string {
	t.Helper()
	given := loaded(t, path)
	named(given, name)
	r, err := leste.Assess(t.Context(), given, o)
	if err != nil {
		t.Fatal(err)
	}
	filled := job.Clone(given)
	job.Fill(filled)
	in := &Input{Job: filled, Result: r, Offer: Offer{Date: day}, Cards: cards(t)}
	plan, problems := station.Resolve(filled, station.ResolveOptions{})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	in.Plan = plan
	supply, err := airsupply.Assess(t.Context(), given, catalogue.GenericParts())
	if err != nil {
		t.Fatal(err)
	}
	if supply.Plan.Network != nil {
		in.Branches = supply.Plan.Network.Branches
	}
	out := make([][]string, len(languages))
	for i, language := range languages {
		w, err := words.New(language, words.Both)
		if err != nil {
			t.Fatal(err)
		}
		in.Words = w.Naming(Names(given)...)
		out[i] = allTexts(in)
	}
	return out
}

// allTexts are the texts of all papers and lists.
func allTexts(in *Input) []string {
	var out []string
	for _, d := range []*document.Document{Quotation(in), SetUp(in), Acceptance(in), Risk(in)} {
		for _, b := range d.Blocks {
			if f, ok := b.(document.Figure); ok {
				b = document.Figure{Caption: f.Caption} // names break their lines in figures
			}
			texts(reflect.ValueOf(b), &out)
		}
	}
	for _, l := range Lists(in) {
		for _, row := range l.Rows {
			for _, cell := range row {
				if text, ok := cell.(string); ok {
					out = append(out, text)
				}
			}
		}
	}
	return out
}

// An outlet called "Top" was "Oben" in a German paper: papers of a job whose things are called by words of the tables
// are those of one whose names nobody knows.
func TestLawNamesAreNeverTranslated(t *testing.T) {
	languages := []string{"en", "de"}
	for _, name := range []string{"cans-three-sizes", "as-found-speed-up", "pet-500-closure"} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			o := quickly
			if name == "as-found-speed-up" { // with its questions
				o.Nominal, o.NoRanking = false, false
			}
			path := "../../examples/" + name + ".yaml"
			strange := func(i int) string { return fmt.Sprintf("Qx%dz", i) }
			want := papered(t, path, o, strange, languages...)
			for turn := range 3 {
				known := func(i int) string { return called[(i+4*turn)%len(called)] }
				got := papered(t, path, o, known, languages...)
				for l, language := range languages {
					if len(got[l]) != len(want[l]) || len(got[l]) < 100 {
						t.Fatalf("%d texts, %d with strange names", len(got[l]), len(want[l]))
					}
					for i := range want[l] {
						renamed := want[l][i]
						for k := 30; k >= 0; k-- {
							renamed = strings.ReplaceAll(renamed, strange(k), known(k))
						}
						if got[l][i] != renamed {
							t.Errorf("%s: %q, want %q", language, got[l][i], renamed)
						}
					}
				}
			}
		})
	}
}

// assessedAs are the inputs of papers for a job that somebody has renamed the stations of.
func assessedAs(t *testing.T, given *job.Job) *Input {
	t.Helper()
	for i := range given.Next {
		given.Next[i].After = ""
	}
	r, err := leste.Assess(t.Context(), given, quickly)
	if err != nil {
		t.Fatal(err)
	}
	filled := job.Clone(given)
	job.Fill(filled)
	plan, problems := station.Resolve(filled, station.ResolveOptions{})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return &Input{Job: filled, Result: r, Plan: plan, Offer: Offer{Date: day}, Cards: cards(t)}
}

// Outlets that a search named stayed English in German papers and drawings: "top manifold", "left knife of station 2".
func TestLawNamesOfASearchAreTranslated(t *testing.T) {
	given := loaded(t, "../../examples/cans-three-sizes.yaml")
	names := []string{"left knife of station 2", "top manifold"}
	named(given, func(i int) string {
		if i < len(names) {
			return names[i]
		}
		return fmt.Sprintf("Qx%dz", i)
	})
	given.Name, given.Stations[0].Name, given.Stations[0].Frames[0].Name = "Qx: two stations", "station, second", "side frame"
	given.Stations[0].Search = true
	in := assessedAs(t, given)
	supply, err := airsupply.Assess(t.Context(), given, catalogue.GenericParts())
	if err != nil {
		t.Fatal(err)
	}
	in.Branches = supply.Plan.Network.Branches
	said := map[string][]string{
		"en": {"left knife of station 2", "top manifold", "two stations", "station, second", "side frame"},
		"de": {"Luftmesser links, Station 2", "Düsenleiste oben", "zwei Stationen", "Station, zweite", "seitlich"},
	}
	for language, want := range said {
		w, err := words.New(language, words.Both)
		if err != nil {
			t.Fatal(err)
		}
		in.Words = w.Searched(Found(given)...).Naming(Names(given)...)
		var all []string
		for _, d := range []*document.Document{Quotation(in), SetUp(in), Acceptance(in), Risk(in)} {
			texts(reflect.ValueOf(d), &all)
		}
		for _, l := range Lists(in) {
			texts(reflect.ValueOf(l), &all)
		}
		for _, s := range scene.Sheets(in.Job, in.Plan, scene.Options{Words: in.Words, Date: day}) {
			texts(reflect.ValueOf(s.Drawing), &all)
		}
		text := strings.Join(all, "\n")
		for _, name := range want {
			if !strings.Contains(text, name) {
				t.Errorf("%q is nowhere in the papers in %s", name, language)
			}
		}
		for _, line := range all {
			for _, name := range said["en"] {
				if language != "en" && strings.Contains(line, name) {
					t.Errorf("%q is left in the papers in %s: %q", name, language, line)
				}
			}
		}
	}
}

// A kind of station that a search tries has no name in German.
func TestLawEveryKindOfStationOfASearchHasGerman(t *testing.T) {
	w, err := words.New("de", words.SI)
	if err != nil {
		t.Fatal(err)
	}
	found := 0
	for file, kinds := range map[string]*regexp.Regexp{
		"concept.go": regexp.MustCompile(`\badd\("([^"]+)", "`), "drawn.go": regexp.MustCompile(`\{"([^"]+)", "the outlets|asDrawn = "([^"]+)"`),
	} {
		source, err := os.ReadFile("../../design/" + file)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range kinds.FindAllStringSubmatch(string(source), -1) {
			found++
			if name := m[1] + m[len(m)-1]; len(m) == 2 && !w.Has("concept."+m[1]) || len(m) == 3 && !w.Has("concept."+name) {
				t.Errorf("there is no German for %q", name)
			}
		}
	}
	if found < 13 {
		t.Errorf("only %d kinds were found", found)
	}
}

// The blower that a search chose stayed English in German papers: "Gebläse blower", "blower: es liefe bei 441 m³/h".
func TestLawTheBlowerOfASearchIsTranslated(t *testing.T) {
	w, err := words.New("de", words.SI)
	if err != nil {
		t.Fatal(err)
	}
	if got := w.Naming("blower").Found("blower"); got != "Gebläse" {
		t.Errorf("it is called %q", got)
	}
}

// A user's own "left knife" became "Luftmesser links" in German papers, and a station called so was the "Station Station".
func TestLawOwnNamesStayAndStationsAreToldOnce(t *testing.T) {
	given := loaded(t, "../../examples/cans-three-sizes.yaml")
	st := &given.Stations[0]
	st.Name, st.Frames[0].Name = "station", "side frame"
	st.Outlets[0].Name, st.Outlets[1].Name = "left knife", "right knife"
	for i := range st.Outlets {
		st.Outlets[i].Frame = "side frame"
	}
	in := assessedAs(t, given)
	w, err := words.New("de", words.SI)
	if err != nil {
		t.Fatal(err)
	}
	for _, searched := range []bool{false, true} {
		st.Search = searched
		in.Words = w.Searched(Found(given)...).Naming(Names(given)...)
		var all []string
		for _, d := range []*document.Document{Quotation(in), SetUp(in)} {
			texts(reflect.ValueOf(d), &all)
		}
		for _, s := range scene.Sheets(in.Job, in.Plan, scene.Options{Words: in.Words, Date: day}) {
			texts(reflect.ValueOf(s.Drawing), &all)
		}
		text := strings.Join(all, "\n")
		want, other := "left knife", "Luftmesser links"
		if searched {
			want, other = other, want
		}
		if !strings.Contains(text, want) || strings.Contains(text, other) {
			t.Errorf("named by a search %v: %q is there: %v, %q: %v", searched, want, strings.Contains(text, want), other, strings.Contains(text, other))
		}
		if doubled := regexp.MustCompile("(?i)station station").FindString(text); doubled != "" || !strings.Contains(text, "der Station 1") {
			t.Errorf("a caption has %q", doubled)
		}
	}
}
