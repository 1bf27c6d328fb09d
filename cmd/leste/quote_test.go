package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"leste/job"
	"leste/station"
)

const (
	threeSizes = "../../examples/cans-three-sizes.yaml"
	oneSize    = "../../examples/can-330-sidewall.yaml"
)

// quoted writes a quotation of a job and returns its folder.
func quoted(t testing.TB, job string, args ...string) (folder string, got outcome) {
	t.Helper()
	folder = filepath.Join(t.TempDir(), "offer")
	args = append([]string{"quote", job, "-o", folder, "--method", "quick", "--terms", "../../examples/quotation/terms.yaml", "--template", "../../examples/quotation/template"}, args...)
	var out, errs bytes.Buffer
	p := &program{in: strings.NewReader(""), out: &out, errors: &errs, width: usualWidth}
	code := p.run(t.Context(), args)
	got = outcome{code, out.String(), errs.String()}
	if got.code != exitDone {
		t.Fatalf("exit code %d: %s", got.code, got.errors)
	}
	return folder, got
}

// folderOf reads all files of a folder.
func folderOf(t *testing.T, dir string) map[string][]byte {
	t.Helper()
	files, err := folder(dir)
	if err != nil {
		t.Fatal(err)
	}
	return files
}

func TestLawTheSameJobGivesTheSamePapers(t *testing.T) {
	first, got := quoted(t, threeSizes, "--json")
	second, _ := quoted(t, threeSizes)
	a, b := folderOf(t, first), folderOf(t, second)
	total := 0
	for name, data := range a {
		total += len(data)
		if !bytes.Equal(data, b[name]) {
			t.Errorf("%s differs between two runs", name)
		}
	}
	for _, name := range []string{
		"quotation.pdf", "quotation.html", "set-up.pdf", "acceptance.pdf", "acceptance.csv", "risk-notes.pdf", "survey.pdf", "internal-costs.pdf", "lists.xlsx", "list-parts.csv",
		"drawings.pdf", "drawing-330-ml-standard-before-the-wrapper.dxf", "drawing-500-ml-before-the-wrapper.svg", "station-250-ml-slim-before-the-wrapper.glb", "fonts-licence.txt", keptName,
	} {
		if len(a[name]) == 0 {
			t.Errorf("%s is missing", name)
		}
	}
	if total > 5<<20 {
		t.Errorf("the papers take %d bytes, more than 5 MB", total)
	}
	if doc := got.document(t); doc["schema"] != "leste-quote-1" || len(doc["files"].([]any)) != len(a) {
		t.Errorf("document %v", doc)
	}

	// Reopened, the quotation has its own numbers, whatever the program would say today.
	again := filepath.Join(t.TempDir(), "again")
	if got := run(t, "quote", filepath.Join(first, keptName), "-o", again, "--template", "../../examples/quotation/template"); got.code != exitDone {
		t.Fatal(got.errors)
	}
	for name, data := range folderOf(t, again) {
		if !bytes.Equal(data, a[name]) {
			t.Errorf("%s differs after reopening", name)
		}
	}
}

// Source: python3-ezdxf of Debian; the job file gives the heights, the catalogue the container.
func TestReferenceTheDrawingHasTheStationsDimensions(t *testing.T) {
	if err := exec.Command("/usr/bin/python3", "-c", "import ezdxf").Run(); err != nil {
		t.Skip("the independent DXF reader (Debian package python3-ezdxf) is not installed")
	}
	dir, _ := quoted(t, oneSize)
	out, err := exec.Command("/usr/bin/python3", "-c", `
import sys, ezdxf
doc = ezdxf.readfile(sys.argv[1])
assert len(doc.audit().errors) == 0
print(sorted(round(d.get_measurement(), 1) for d in doc.modelspace().query("DIMENSION")))
`, filepath.Join(dir, "drawing-330-ml-can-before-the-packer.dxf")).CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	for what, want := range map[string]string{"container height": "115.2", "container diameter": "66.2", "outlet above the belt": "68.0", "rail": "30.0", "pitch": "80.2"} {
		if !strings.Contains(string(out), want) {
			t.Errorf("the %s of %s mm is not in %s", what, want, out)
		}
	}
}

func TestLawWhatCannotBeUsedIsToldAndThePapersMade(t *testing.T) {
	template := t.TempDir()
	for name, text := range map[string]string{"logo.png": "no picture", "intro.txt": "{{.Nothing.At}}", "letterhead.yaml": "name: 山 Air\n"} {
		if err := os.WriteFile(filepath.Join(template, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	_, got := quoted(t, oneSize, "--template", template)
	for _, want := range []string{"logo.png is no picture", "intro.txt:1", "U+5C71"} {
		if !strings.Contains(got.errors, want) {
			t.Errorf("nothing is said about %q: %s", want, got.errors)
		}
	}
}

func TestLawWrongTermsWriteNothing(t *testing.T) {
	terms := filepath.Join(t.TempDir(), "terms.yaml")
	if err := os.WriteFile(terms, []byte("kind: gift\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(t.TempDir(), "offer")
	for name, args := range map[string][]string{
		"terms": {"--terms", terms}, "date": {"--date", "2 March"}, "no template": {"--template", "/nonexistent"}, "no terms": {"--terms", "/nonexistent"},
	} {
		got := run(t, append([]string{"quote", "../../examples/can-330-sidewall.yaml", "-o", out, "--method", "quick"}, args...)...)
		if got.code != exitInput || got.errors == "" {
			t.Errorf("%s: exit code %d, %q", name, got.code, got.errors)
		}
	}
	if _, err := os.Stat(out); err == nil {
		t.Error("something was written")
	}
}

func TestLawAcceptJudgesTheKeptPromise(t *testing.T) {
	dir, _ := quoted(t, oneSize)
	kept := filepath.Join(dir, keptName)
	rows := filepath.Join(t.TempDir(), "results.csv")
	write := func(text string) {
		if err := os.WriteFile(rows, []byte("what,format,at,state,value,containers,failed,note\n"+text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	weigh := func(format, value string) string {
		return strings.Repeat("water,"+format+",all,,"+value+",1,,\nwater,"+format+",all,,"+strings.Replace(value, "0 mg", "5 mg", 1)+",1,,\n", 2)
	}
	sidewall := strings.ReplaceAll(weigh("330 mL can", "20 mg"), ",all,", ",sidewall,")
	for name, c := range map[string]struct {
		rows    string
		code    int
		verdict string
	}{
		"accepted":     {sidewall + weigh("330 mL can", "200 mg"), exitDone, "accepted"},
		"not accepted": {sidewall + weigh("330 mL can", "800 mg"), exitNotMet, "not accepted"},
		"not enough":   {sidewall, exitUndecided, "not enough"},
		"a wrong row":  {sidewall + weigh("330 mL can", "200 mg") + "watr,x,y,,1 mg,,,\n", exitInput, "not enough"},
	} {
		write(c.rows)
		got := run(t, "accept", kept, rows, "--json")
		if got.code != c.code {
			t.Errorf("%s: exit code %d, want %d: %s", name, got.code, c.code, got.errors)
		}
		if doc := got.document(t); doc["verdict"] != c.verdict || doc["schema"] != "leste-accept-1" {
			t.Errorf("%s: %v", name, doc["verdict"])
		}
	}
	// The line runs as it was ordered; the case that decides ran faster.
	data, err := os.ReadFile(oneSize)
	if err != nil {
		t.Fatal(err)
	}
	file, _ := job.Load(oneSize, data)
	job.Fill(file.Job)
	plan, _ := station.Resolve(file.Job, station.ResolveOptions{})
	write(fmt.Sprintf("speed,330 mL can,,,%g m/s,,,\n", float64(plan.Formats[0].Speed)))
	if got := run(t, "accept", kept, rows); strings.Contains(got.out, "off") {
		t.Errorf("the ordered speed is told to be off: %s", got.out)
	}
	write(sidewall)
	if got := run(t, "accept", kept, rows); !strings.Contains(got.out, "not enough") || !strings.Contains(got.out, "no containers were weighed") {
		t.Errorf("text: %s", got.out)
	}
	if got := run(t, "accept", kept, rows, "--language", "de"); !strings.Contains(got.out, "nicht genug") || !strings.Contains(got.out, "dort wurde kein Behälter gewogen") {
		t.Errorf("German text: %s", got.out)
	}
	german, _ := quoted(t, oneSize, "--language", "de")
	for _, d := range []string{dir, german} {
		if got := run(t, "accept", kept, filepath.Join(d, "acceptance.csv")); got.code != exitUndecided || got.errors != "" {
			t.Errorf("the blank form gives %d: %s", got.code, got.errors)
		}
	}
	if blank := folderOf(t, german)["acceptance.csv"]; !bytes.Contains(blank, []byte("what;format")) {
		t.Errorf("the German form is parted so that no German spreadsheet opens it in columns: %s", blank)
	}
}

func BenchmarkQuote(b *testing.B) {
	for b.Loop() {
		quoted(b, threeSizes)
	}
}

// A wrong column was told after the whole assessment.
func TestAcceptReadsTheMeasurementsFirst(t *testing.T) {
	dir := t.TempDir()
	jobFile, results := filepath.Join(dir, "job.yaml"), filepath.Join(dir, "results.csv")
	for name, text := range map[string]string{jobFile: broken1, results: "measure,format\n1,2\n"} {
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if o := run(t, "accept", jobFile, results); o.code != exitInput || !strings.Contains(o.errors, "no column") {
		t.Errorf("code %d: %s%s", o.code, o.out, o.errors)
	}
}
