package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"leste/design"
	"leste/job"
	q "leste/quantity"
)

// outcome is what one run of the commands gave.
type outcome struct {
	code        int
	out, errors string
}

func run(t *testing.T, args ...string) outcome { return runWith(t, "", args...) }

func runWith(t *testing.T, stdin string, args ...string) outcome {
	t.Helper()
	var out, errs bytes.Buffer
	p := &program{in: strings.NewReader(stdin), out: &out, errors: &errs, width: usualWidth}
	code := p.run(t.Context(), args)
	return outcome{code, out.String(), errs.String()}
}

// document decodes standard output, which must be exactly one JSON document.
func (o outcome) document(t *testing.T) map[string]any {
	t.Helper()
	d := json.NewDecoder(strings.NewReader(o.out))
	var doc map[string]any
	if err := d.Decode(&doc); err != nil {
		t.Fatalf("standard output is no JSON document: %v\n%s", err, o.out)
	}
	if err := d.Decode(&struct{}{}); !errors.Is(err, io.EOF) {
		t.Fatalf("standard output goes on after the document: %s", o.out)
	}
	return doc
}

const broken1 = `leste: 1
job: broken
line: { sped: 1 m/s }
stations:
  - name: s
    outlets:
      - { name: k, kind: air knife, side: left, height: 50 mm, length: 200 mm, slot_gap: 1.5 }
`

func TestLawExitCodes(t *testing.T) {
	folder := t.TempDir()
	bad := filepath.Join(folder, "bad.yaml")
	if err := os.WriteFile(bad, []byte(broken1), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name string
		args []string
		code int
		says string
	}{
		{"nothing", nil, exitDone, "Usage: leste"},
		{"help", []string{"--help"}, exitDone, "Exit codes"},
		{"help of a command", []string{"calc", "jet", "--help"}, exitDone, "--slot-gap"},
		{"version", []string{"version"}, exitDone, "leste "},
		{"unknown command", []string{"frobnicate"}, exitInput, "frobnicate"},
		{"the commands that there are", []string{"frobnicate"}, exitInput, "known are new, check, assess"},
		{"the topics that there are", []string{"calc", "jett"}, exitInput, "known are jet, reach"},
		{"no topic", []string{"calc"}, exitInput, "known are: jet, reach"},
		{"one file too many", []string{"check", "a", "b"}, exitInput, "unexpected argument b"},
		{"unknown flag", []string{"version", "--frob"}, exitInput, "frob"},
		{"unknown units", []string{"version", "--units", "metric"}, exitInput, "si"},
		{"missing file", []string{"check", filepath.Join(folder, "none.yaml")}, exitInput, "cannot be read"},
		{"folder as file", []string{"check", folder}, exitInput, "cannot be read"},
		{"good file", []string{"check", "../../examples/can-330-sidewall.yaml"}, exitDone, "nothing wrong"},
		{"bad file", []string{"check", bad}, exitInput, bad + ":3:"},
		{"relation", []string{"relations", "wall-shear"}, exitDone, "greatest wall shear"},
		{"all relations", []string{"relations"}, exitDone, "plane-jet"},
		{"unknown relation", []string{"relations", "wall-sheer"}, exitInput, "near it are"},
		{"topic", []string{"calc", "jet", "--slot-gap", "1.5 mm", "--pressure", "20 kPa"}, exitDone, "171.9 m/s"},
		{"missing input", []string{"calc", "jet", "--slot-gap", "1.5 mm"}, exitInput, "--pressure: it must be given"},
		{"unit missing", []string{"calc", "jet", "--slot-gap", "1.5", "--pressure", "20 kPa"}, exitInput, "--slot-gap"},
		{"unknown shell", []string{"completion", "csh"}, exitInput, "bash"},
		{"survey", []string{"survey", "../../examples/compressed-air-survey.csv"}, exitDone, "5 places blow"},
		{"validate", []string{"validate"}, exitDone, "rows pass"},
		{"survey of a job", []string{"survey", bad}, exitInput, "column"},
		{"starter over a file", []string{"new", bad}, exitInput, "--force"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := run(t, c.args...)
			if got.code != c.code || !strings.Contains(got.out+got.errors, c.says) {
				t.Errorf("exit code %d, want %d and %q in:\n%.2000s%s", got.code, c.code, c.says, got.out, got.errors)
			}
			if got.code != exitDone && c.name != "bad file" && c.name != "survey of a job" && got.out != "" {
				t.Errorf("an error wrote to standard output: %s", got.out)
			}
		})
	}
}

// With --json standard output holds one document, errors too.
func TestLawJSONIsOneDocument(t *testing.T) {
	good := "../../examples/can-330-sidewall.yaml"
	for _, args := range [][]string{
		{"version"},
		{"relations"},
		{"relations", "wall-shear"},
		{"check", good},
		{"calc", "air"},
		{"survey", "../../examples/compressed-air-survey.csv"},
		{"calc", "jet", "--bore", "20 mm", "--spacing", "60 mm", "--pressure", "20 kPa"},
		{"completion", "fish"},
		{"new", "-"},
		{"schema"},
		{"validate"},
		{"calc", "jet"},
		{"frobnicate"},
		{"check", "none.yaml"},
	} {
		got := run(t, append(args, "--json")...)
		got.document(t)
		if got.errors != "" {
			t.Errorf("%v: standard error holds %q", args, got.errors)
		}
	}
	doc := runWith(t, broken1, "check", "-", "--json").document(t)
	problems := doc["problems"].([]any)
	if len(problems) != 2 || doc["ok"] != false {
		t.Fatalf("problems %v, want two", problems)
	}
	if p := problems[0].(map[string]any); p["line"] != 3.0 || p["path"] != "/line/sped" || p["code"] != "key" {
		t.Errorf("problem %v", p)
	}
}

func TestLawCalcKeysAreThoseOfTheContract(t *testing.T) {
	doc := run(t, "calc", "jet", "--slot-gap", "1.5 mm", "--pressure", "20 kPa", "--temperature", "20 degC", "--distance", "100 mm", "--discharge", "1", "--json").document(t)
	for _, key := range []string{
		"exit_velocity_m_s", "mass_flux_kg_s_m2", "flow_kg_s_m", "thrust_n_m", "velocity_m_s", "velocity_ratio", "impact_pressure_pa",
		"max_pressure_gradient_pa_m", "max_wall_shear_pa", "half_width_mm", "sound_power_db_m",
	} {
		if _, ok := doc[key].(float64); !ok {
			t.Errorf("%s = %v, want a number", key, doc[key])
		}
	}
	row := run(t, "calc", "jet", "--bore", "20 mm", "--spacing", "60 mm", "--pressure", "20 kPa", "--json").document(t)
	if _, ok := row["merged"].(bool); !ok {
		t.Errorf("merged = %v, want true or false", row["merged"])
	}
	for _, key := range []string{"flow_kg_s", "thrust_n", "sound_power_db", "ripple_pct"} {
		if _, ok := row[key].(float64); !ok {
			t.Errorf("%s = %v, want a number", key, row[key])
		}
	}
}

// Outlets shorter than any that is tried were searched for, and slots and nozzles that no job file can hold.
func TestLawSizesThatLeaveNothingAreRefused(t *testing.T) {
	file := filepath.Join("..", "..", "examples", "design-pet-sketch.yaml")
	for _, c := range [][3]string{
		{"--longest", "5 mm", "60 mm"},
		{"--longest", "50 m", "5 m"},
		{"--gaps", "0 mm", "above zero"},
		{"--gaps", "50 mm", "20 mm"},
		{"--bores", "190 mm", "83 mm"},
		{"--bores", "0.01 mm", "0.2 mm"},
	} {
		got := run(t, "design", file, "-o", t.TempDir(), c[0], c[1])
		if got.code != exitInput || strings.Count(got.errors, "\n") != 1 || !strings.Contains(got.errors, c[2]) || got.out != "" {
			t.Errorf("%s %s: exit code %d, %q, %q", c[0], c[1], got.code, got.out, got.errors)
		}
	}
}

// The help told 60 mm at least to whoever has a job in US units, whose shortest outlet is another.
func TestLawHelpTellsTheLengthsOfBothUnits(t *testing.T) {
	help := strings.Join(strings.Fields(run(t, "design", "--help").out), " ")
	for _, units := range []q.System{q.SI, q.US} {
		for _, length := range design.UsualSizes(units).Lengths {
			if want := q.Format(length, units); !strings.Contains(help, want) {
				t.Errorf("%q of an outlet is not in the help of a search: %s", want, help)
			}
		}
	}
}

// What stands in the way of a search stayed in metric units: a dew point of 25.1 degC.
func TestLawWhatRefusesASearchFollowsItsUnits(t *testing.T) {
	file := filepath.Join("..", "..", "examples", "cold-product-humid-room.yaml")
	for units, want := range map[string]string{"si": "25.1 °C", "us": "77.2 °F"} {
		got := run(t, "design", file, "-o", t.TempDir(), "--units", units)
		if got.code != exitInput || !strings.Contains(got.out, want) || !strings.Contains(got.out, "330 mL can") {
			t.Errorf("%s: exit code %d, %s%s", units, got.code, got.out, got.errors)
		}
	}
}

// The comment above a job file in US units told what fails in kilopascals.
func TestLawTheHeadOfAFoundJobIsInItsUnits(t *testing.T) {
	f := &design.Found{
		What: "a pair of air knives, level", Sure: true, Fails: "with more air than 12 kPa, can of 40 mm slips on the belt",
		Job: &job.Job{Formats: []job.Format{{Name: "can of 40 mm"}}},
	}
	for units, want := range map[q.System]string{q.SI: "with more air than 12 kPa, can of 40 mm slips", q.US: "with more air than 1.74 psi, can of 40 mm slips"} {
		if got := head(&design.Study{}, f, inUnits(f.Job, units)); !strings.Contains(got, want) {
			t.Errorf("%s: %q lacks %q", units, got, want)
		}
	}
}

// Notes of a job, which tell of the knives that it draws, stood in the quotation of manifolds that a search found: they are
// a comment of the file.
func TestLawNotesOfTheJobAreAComment(t *testing.T) {
	notes := "The knives stand level.\r\n\nExpected:\u0085not met.\u2028leste: 2\n"
	f := &design.Found{What: "a pair of air knives, level", Sure: true, Job: &job.Job{}}
	text, err := design.Write(f.Job, head(&design.Study{Notes: notes}, f, inUnits(f.Job, q.SI)))
	if err != nil {
		t.Fatal(err)
	}
	want := "# Found by leste design: a pair of air knives, level.\n# Notes of the job that was searched for:\n#   The knives stand level.\n#   Expected: not met. leste: 2\n"
	if !strings.HasPrefix(string(text), want) || strings.Contains(strings.TrimPrefix(string(text), want), "#") {
		t.Errorf("%s", text)
	}
	given, err := os.ReadFile("../../examples/as-found-speed-up.yaml")
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	file := filepath.Join(folder, "job.yaml")
	if err := os.WriteFile(file, given, 0o600); err != nil {
		t.Fatal(err)
	}
	if got := run(t, "design", file, "--concepts", "as found, other air", "--budget", "20", "-o", filepath.Join(folder, "out")); got.code != 0 && got.code != exitNotMet {
		t.Fatalf("exit code %d, %s", got.code, got.errors)
	}
	text, err = os.ReadFile(filepath.Join(folder, "out", "job-as-found-other-air.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	found, problems := job.Load("found", text)
	if len(problems) > 0 || found.Job.Notes != "" || !strings.Contains(string(text), "\n#   Expected: not met. Level knives") || !strings.Contains(string(text), "\n# \"old station\" stands there and is only set anew.") {
		t.Errorf("%v\n%s", problems, text)
	}
}

// "The saved state is of version 0" was said of the study.json beside the saved search.
func TestLawWhatIsNoSavedSearchIsToldWhatItIs(t *testing.T) {
	folder := t.TempDir()
	file := filepath.Join(folder, "job.yaml")
	files := map[string]string{
		"job.yaml": bareKnives, "study.json": `{"schema": "leste-design-1", "job": "bare", "concepts": []}`, "result.json": `{"schema": "leste-result-1"}`,
		"list.json": "[1, 2]", "search.json": `{"version": "ten", "populations": []}`,
	}
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for name, want := range map[string]string{
		"study.json": "study.json is a study and not a saved search, which is the search.json of the same folder", "job.yaml": "job.yaml is no saved search; leste design writes that to search.json",
		"result.json": "result.json is no saved search; leste design writes", "list.json": "list.json is no saved search; leste design writes",
		"search.json": "search.json is no saved search that this program reads", "none.json": "cannot be read",
	} {
		got := run(t, "design", "-o", filepath.Join(folder, "out"), "--resume", filepath.Join(folder, name), file)
		if got.code != exitInput || !strings.Contains(got.errors, want) || strings.Contains(got.errors, "version 0") {
			t.Errorf("%s: code %d, %q, want %q", name, got.code, got.errors, want)
		}
	}
}

// What no blower does was told in SI whatever was asked for, where the study of a search told it in the units asked for.
func TestLawWhatTheAirSupplyRefusesFollowsItsUnits(t *testing.T) {
	text, err := os.ReadFile(oneSize)
	if err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(t.TempDir(), "job.yaml")
	text = bytes.ReplaceAll(text, []byte("plenum_pressure: 20 kPa"), []byte("plenum_pressure: 45 kPa"))
	if err := os.WriteFile(name, text, 0o600); err != nil {
		t.Fatal(err)
	}
	for units, want := range map[string][2]string{"si": {"kg/s", "kPa"}, "us": {"lb/min", "psi"}} {
		for _, args := range [][]string{{"assess", name}, {"quote", name, "-o", filepath.Join(t.TempDir(), "offer")}} {
			got := run(t, append(args, "--units", units)...)
			if got.code != exitRefused || !strings.Contains(got.errors, want[0]) || !strings.Contains(got.errors, want[1]) {
				t.Errorf("%s in %s: exit code %d, %s", args[0], units, got.code, got.errors)
			}
		}
	}
}

func TestLawTheStarterIsAGoodJob(t *testing.T) {
	name := filepath.Join(t.TempDir(), "job.yaml")
	if got := run(t, "new", name); got.code != exitDone {
		t.Fatalf("new: %s", got.errors)
	}
	if got := run(t, "check", name); got.code != exitDone {
		t.Errorf("check: %s%s", got.out, got.errors)
	}
	if got := run(t, "new", name, "--force"); got.code != exitDone {
		t.Errorf("new --force: %s", got.errors)
	}
	if got := run(t, "new", "-"); !strings.HasPrefix(got.out, "#") {
		t.Errorf("new -: %.40q", got.out)
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, syscall.ENOSPC }

func TestLawAFullOutputIsAFailure(t *testing.T) {
	p := &program{in: strings.NewReader(""), out: full{}, errors: io.Discard, width: usualWidth}
	if code := p.run(t.Context(), []string{"version"}); code != exitInternal {
		t.Errorf("exit code %d, want %d", code, exitInternal)
	}
}

type faulty struct{}

func (faulty) Write([]byte) (int, error) { panic("a fault") }

// With --json the reason went to standard output alone, so that nobody heard of a full disk.
func TestFullOutputIsSaidWithJSONToo(t *testing.T) {
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Skipf("no full device here: %v", err)
	}
	t.Cleanup(func() { _ = full.Close() })
	var errs bytes.Buffer
	p := &program{in: strings.NewReader(""), out: full, errors: &errs, width: usualWidth}
	if code := p.run(t.Context(), []string{"version", "--json"}); code != exitInternal || !strings.Contains(errs.String(), "cannot be written") {
		t.Errorf("code %d, standard error %q", code, errs.String())
	}
}

// A relation that gives no answer ended with the code of success.
func TestCalcThatStopsIsARefusal(t *testing.T) {
	o := run(t, "calc", "jet", "--slot-gap", "1 mm", "--pressure", "1e300 kPa", "--json")
	if doc := o.document(t); o.code != exitRefused || doc["thrust_n_m"] != nil {
		t.Errorf("code %d, thrust %v", o.code, doc["thrust_n_m"])
	}
}

func TestLawAFaultIsNotTakenForWrongInput(t *testing.T) {
	var errs bytes.Buffer
	p := &program{in: strings.NewReader(""), out: faulty{}, errors: &errs, width: usualWidth}
	if code := p.run(t.Context(), []string{"version"}); code != exitInternal || !strings.Contains(errs.String(), "has a fault") {
		t.Errorf("exit code %d, %q", code, errs.String())
	}
}

func TestLawFoldersAreWrittenWholeOrNotAtAll(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "out")
	files := []output{{"a.txt", []byte("a")}, {"b.txt", []byte("b")}}
	if err := writeFolder(folder, files); err != nil {
		t.Fatal(err)
	}
	mustHold(t, folder, "a.txt", "b.txt")

	// A file that cannot be staged leaves what was there, and nothing beside it.
	err := writeFolder(folder, []output{{"a.txt", []byte("new")}, {"no/such/folder.txt", []byte("x")}})
	if err == nil {
		t.Fatal("writing into a folder that is not there worked")
	}
	mustHold(t, folder, "a.txt", "b.txt")
	if b, _ := os.ReadFile(filepath.Join(folder, "a.txt")); string(b) != "a" {
		t.Errorf("a.txt holds %q after a failed write", b)
	}

	if err := writeFolder(filepath.Join(folder, "a.txt"), files); exitCode(err) != exitInput || !strings.Contains(err.Error(), "is no folder") {
		t.Errorf("a file as folder: %v", err)
	}
}

func mustHold(t *testing.T, folder string, names ...string) {
	t.Helper()
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range entries {
		got = append(got, e.Name())
	}
	if strings.Join(got, " ") != strings.Join(names, " ") {
		t.Errorf("the folder holds %v, want %v", got, names)
	}
}

func TestLawWriteFailuresAreToldApart(t *testing.T) {
	for cause, code := range map[error]int{
		fs.ErrPermission: exitInput, syscall.EROFS: exitInput, syscall.ENOTDIR: exitInput,
		syscall.ENOSPC: exitInternal, syscall.EDQUOT: exitInternal, syscall.EIO: exitInternal,
	} {
		if got := exitCode(writeFailure("out", &fs.PathError{Op: "write", Path: "out/x", Err: cause})); got != code {
			t.Errorf("%v: exit code %d, want %d", cause, got, code)
		}
	}
	if got := exitCode(context.Canceled); got != exitInternal {
		t.Errorf("interrupted: exit code %d", got)
	}
}

// A folder that cannot hold the study was told only when the search was over, and the search was lost with it.
func TestLawAFolderThatCannotHoldAStudyIsToldBeforeTheSearch(t *testing.T) {
	given := filepath.Join("..", "..", "examples", "design-pet-sketch.yaml")
	dir := t.TempDir()
	file := filepath.Join(dir, "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	ended, cancel := context.WithCancel(t.Context())
	cancel() // a search that begins is interrupted, which has another code
	for _, out := range []string{file, filepath.Join(file, "deeper")} {
		var errs bytes.Buffer
		p := &program{in: strings.NewReader(""), out: io.Discard, errors: &errs, width: usualWidth}
		if code := p.run(ended, []string{"design", given, "-o", out}); code != exitInput || !strings.Contains(errs.String(), "is no folder") {
			t.Errorf("%s: exit %d, %s", out, code, errs.String())
		}
	}
	for _, out := range []string{dir, filepath.Join(dir, "new", "deeper")} {
		if err := canHold(out); err != nil {
			t.Errorf("%s: %v", out, err)
		}
	}
	mustHold(t, dir, "file")
}

func TestLawNamesBecomeFileNames(t *testing.T) {
	got := uniqueNames([]string{"330 mL can", "330 mL  can", "../../etc", "Größe/1", "", "***"})
	want := []string{"330-mL-can", "330-mL-can-2", "etc", "Größe-1", "unnamed", "unnamed-2"}
	if strings.Join(got, "|") != strings.Join(want, "|") {
		t.Errorf("names %v, want %v", got, want)
	}
}

func TestLawProgressComesAfterASecond(t *testing.T) {
	var b bytes.Buffer
	now := time.Unix(0, 0)
	g := &progress{w: &b, now: func() time.Time { return now }, next: now.Add(progressAfter)}
	g.report(1, 10, "drying")
	if b.Len() > 0 {
		t.Errorf("told %q at once", b.String())
	}
	now = now.Add(2 * time.Second)
	g.report(5, 10, "drying")
	g.report(6, 10, "drying")
	g.report(1, 0, "drying")
	g.end()
	if b.String() != " 50 %  drying\n" {
		t.Errorf("told %q", b.String())
	}
}

// The completion script offers commands, topics and flags in a real shell.
func TestLawBashCompletes(t *testing.T) {
	bash, err := exec.LookPath("bash")
	if err != nil {
		t.Skip("skipped: bash is not installed")
	}
	script := run(t, "completion", "bash").out
	for words, want := range map[string]string{
		"leste ch":                 "check",
		"leste calc comp":          "compression compressed-air",
		"leste calc jet --slot":    "--slot-gap",
		"leste --json relations -": "--help --json --units",
	} {
		list := strings.Fields(words)
		probe := script + "\nCOMP_WORDS=(" + words + ")\nCOMP_CWORD=" + string(rune('0'+len(list)-1)) + "\n_leste\necho \"${COMPREPLY[@]}\"\n"
		out, err := exec.CommandContext(t.Context(), bash, "-c", probe).CombinedOutput()
		if err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		if got := strings.TrimSpace(string(out)); got != want {
			t.Errorf("%q completes to %q, want %q", words, got, want)
		}
	}
}
