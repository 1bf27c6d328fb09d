package document

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"leste/job"
)

// sample is a job with comments, block and flow style.
const sample = `# first line
leste: 1
job: A line   # its name
line: {rate: 600 /min, container_gap: 10 mm}
formats:
  # the only size
  - name: small can
    container: {family: can, size: 330 standard}
stations:
  - name: first # here
    outlets:
      - name: left
        kind: air knife
        side: left
        length: 250 mm
        slot_gap: 1.2 mm

      # the other side
      - name: right
        kind: air knife
        side: right
        length: 250 mm # long
        slot_gap: 1.2 mm
next:
  - {machine: packer, distance: 4 m}
`

// memory is a disk for tests.
type memory struct {
	text []byte
	gone bool
	fail error
}

func (m *memory) read() ([]byte, error) {
	if m.gone {
		return nil, fs.ErrNotExist
	}
	return m.text, nil
}

func (m *memory) write(text []byte) error {
	if m.fail == nil {
		m.text, m.gone = text, false
	}
	return m.fail
}

func opened(t *testing.T) (*Document, *memory) {
	t.Helper()
	m := &memory{text: []byte(sample)}
	d := newDocument("a.yaml", []byte(sample), m)
	if s := d.State(); len(s.Problems) > 0 {
		t.Fatal(s.Problems)
	}
	return d, m
}

func TestLawEditsChangeTheirPlaceOnly(t *testing.T) {
	for _, c := range []struct {
		name     string
		edit     Edit
		old, new string
	}{
		{"a value", Edit{Op: Set, Path: "/stations/0/outlets/1/length", Value: "10 in"}, "length: 250 mm # long", "length: 10 in # long"},
		{"a value in braces", Edit{Op: Set, Path: "/line/rate", Value: "36000 /h"}, "rate: 600 /min", "rate: 36000 /h"},
		{"a new key", Edit{Op: Set, Path: "/stations/0/outlets/1/stand_off", Value: "not known"}, "slot_gap: 1.2 mm\nnext", "slot_gap: 1.2 mm\n        stand_off: not known\nnext"},
		{
			"the second outlet and its comment",
			Edit{Op: Remove, Path: "/stations/0/outlets/1"},
			"\n      # the other side\n      - name: right\n        kind: air knife\n        side: right\n        length: 250 mm # long\n        slot_gap: 1.2 mm\n", "\n",
		},
		{"the first outlet", Edit{Op: Remove, Path: "/stations/0/outlets/0"}, "      - name: left\n        kind: air knife\n        side: left\n        length: 250 mm\n        slot_gap: 1.2 mm\n", ""},
		{"a key", Edit{Op: Remove, Path: "/stations/0/outlets/1/length"}, "        length: 250 mm # long\n", ""},
		{"the key behind the dash", Edit{Op: Remove, Path: "/stations/0/outlets/0/name"}, "- name: left\n        kind", "- kind"},
		{"a group", Edit{Op: Remove, Path: "/line"}, "line: {rate: 600 /min, container_gap: 10 mm}\n", ""},
		{"a list", Edit{Op: Remove, Path: "/formats"}, "formats:\n  # the only size\n  - name: small can\n    container: {family: can, size: 330 standard}\n", ""},
		{
			"an outlet at the end",
			Edit{Op: Add, Path: "/stations/0/outlets", Entry: map[string]any{"side": "above", "name": "top: it", "kind": "nozzle"}},
			"slot_gap: 1.2 mm\nnext", "slot_gap: 1.2 mm\n      - name: 'top: it'\n        kind: nozzle\n        side: above\nnext",
		},
		{
			"an outlet before the second",
			Edit{Op: Add, Path: "/stations/0/outlets/1", Entry: map[string]any{"name": "top"}},
			"      # the other side", "      - name: top\n      # the other side",
		},
		{
			"a station with an outlet",
			Edit{Op: Add, Path: "/stations/0", Entry: map[string]any{"name": "zeroth", "outlets": []any{map[string]any{"side": "left", "name": "a"}}}},
			"stations:\n", "stations:\n  - name: zeroth\n    outlets:\n    - name: a\n      side: left\n",
		},
		{
			"the first of a list that is not there",
			Edit{Op: Add, Path: "/limits", Entry: map[string]any{"zone": "all", "pressure": "2 kPa"}},
			"distance: 4 m}\n", "distance: 4 m}\nlimits:\n  - zone: all\n    pressure: 2 kPa\n",
		},
		{
			"the first of a list in an entry",
			Edit{Op: Add, Path: "/stations/0/frames", Entry: map[string]any{"name": "post"}},
			"slot_gap: 1.2 mm\nnext", "slot_gap: 1.2 mm\n    frames:\n      - name: post\nnext",
		},
		{
			"beside an entry in braces",
			Edit{Op: Add, Path: "/next", Entry: map[string]any{"machine": "coder"}},
			"distance: 4 m}\n", "distance: 4 m}\n  - machine: coder\n",
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			if !strings.Contains(sample, c.old) {
				t.Fatal("the sample does not hold what is changed")
			}
			out, err := apply("a.yaml", []byte(sample), []Edit{c.edit})
			if err != nil {
				t.Fatal(err)
			}
			want := strings.Replace(sample, c.old, c.new, 1)
			if diff := cmp.Diff(want, string(out)); diff != "" {
				t.Error(diff)
			}
			if _, problems := job.Read("a.yaml", out); len(problems) > 0 && c.edit.Op != Remove && c.edit.Path != "/stations/0/outlets/1" && c.edit.Path != "/stations/0" {
				t.Error(problems)
			}
		})
	}
}

func TestLawWhatIsAddedCanBeTakenOut(t *testing.T) {
	for _, text := range []string{
		sample, strings.ReplaceAll(sample, "\n", "\r\n"), "leste: 1\njob: x\n", "leste: 1\njob: x\nstations:\n", "leste: 1\njob: x\nstations: []\n",
		"leste: 1\njob: x\nstations:\n- name: a\n- name: b\n", "leste: 1\njob: x\nstations: [{name: a}, {name: b}]", "{leste: 1, job: x}",
		`{"leste": 1, "job": "x", "stations": [{"name": "a"}]}`, "leste: 1\njob: x\nnotes: |\n  two\n\n  lines\n", "leste: 1\njob: x\nstations: # none yet\n",
	} {
		before := values([]byte(text))
		held := 0
		if m, ok := before.(map[string]any)["stations"].([]any); ok {
			held = len(m)
		}
		out := []byte(text)
		var err error
		for i, e := range []Edit{
			{Op: Add, Path: "/stations", Entry: map[string]any{"name": "new: one"}},
			{Op: Add, Path: fmt.Sprintf("/stations/%d/outlets", held), Entry: map[string]any{"name": "k", "kind": "nozzle"}},
			{Op: Add, Path: "/stations/0", Entry: map[string]any{"name": "# zero"}},
			{Op: Set, Path: fmt.Sprintf("/stations/%d/outlets/0/bore", held+1), Value: "5 mm"},
		} {
			if out, err = apply("a", out, []Edit{e}); err != nil {
				t.Fatalf("%q, edit %d: %v", text, i, err)
			}
		}
		stations, ok := values(out).(map[string]any)["stations"].([]any)
		if !ok || len(stations) != held+2 {
			t.Fatalf("%q became %q", text, out)
		}
		want := map[string]any{"name": "new: one", "outlets": []any{map[string]any{"name": "k", "kind": "nozzle", "bore": "5 mm"}}}
		if diff := cmp.Diff(want, stations[held+1]); diff != "" {
			t.Errorf("%q: %s", text, diff)
		}
		for _, path := range []string{fmt.Sprintf("/stations/%d", held+1), "/stations/0"} {
			if out, err = apply("a", out, []Edit{{Op: Remove, Path: path}}); err != nil {
				t.Fatalf("%q: %v", text, err)
			}
		}
		after := values(out).(map[string]any)
		if held == 0 {
			delete(after, "stations")
			delete(before.(map[string]any), "stations")
		}
		if diff := cmp.Diff(before, any(after)); diff != "" {
			t.Errorf("%q: %s", text, diff)
		}
		if strings.Contains(text, "\r\n") && strings.Count(string(out), "\n") != strings.Count(string(out), "\r\n") {
			t.Errorf("line ends are mixed in %q", out)
		}
	}
}

func TestLawWrongEditsAreRefusedAndChangeNothing(t *testing.T) {
	deep := map[string]any{"name": "x"}
	for range 20 {
		deep = map[string]any{"outlets": []any{deep}}
	}
	for _, e := range []Edit{
		{Op: Set, Path: "/stations/0/outlets/0/length", Value: "two bananas"},
		{Op: Set, Path: "/stations/7/name", Value: "x"},
		{Op: Set, Path: "", Value: "x"},
		{Op: Remove, Path: "/stations/7"},
		{Op: Remove, Path: ""},
		{Op: Add, Path: "/job", Entry: map[string]any{"a": "b"}},
		{Op: Add, Path: "/stations"},
		{Op: Add, Path: "/stations/0/0", Entry: map[string]any{"a": "b"}},
		{Op: Add, Path: "/stations", Entry: deep},
		{Op: Add, Path: "/stations", Entry: map[string]any{"name": make(chan int)}},
		{Op: "burn", Path: "/job"},
	} {
		d, m := opened(t)
		s, err := d.Edit(d.State().Revision, Step{Name: "wrong"}, []Edit{{Op: Set, Path: "/job", Value: "B"}, e})
		if err == nil {
			t.Errorf("%+v was taken", e)
		}
		if string(s.Text) != sample || string(m.text) != sample || s.Undo != "" {
			t.Errorf("%+v changed something", e)
		}
	}
	d, _ := opened(t)
	if _, err := d.Edit(d.State().Revision, Step{}, make([]Edit, mostEdits+1)); err == nil {
		t.Error("too many edits were taken")
	}
	if _, err := d.Replace(d.State().Revision, Step{}, make([]byte, job.LargestFile+1)); err == nil {
		t.Error("too large a text was taken")
	}
	var p job.Problem
	if _, err := d.Preview([]Edit{{Op: Set, Path: "/line/rate", Value: "3 m"}}); !errors.As(err, &p) || p.Path != "/line/rate" || p.Want == "" {
		t.Errorf("got %v", err)
	}
}

func TestLawUndoAndRedoWalkTheSameWay(t *testing.T) {
	d, m := opened(t)
	texts := []string{sample}
	for i := range 5 {
		s, err := d.Edit(d.State().Revision, Step{Name: fmt.Sprintf("Step %d", i)}, []Edit{{Op: Set, Path: "/job", Value: fmt.Sprintf("Job %d", i)}})
		if err != nil {
			t.Fatal(err)
		}
		texts = append(texts, string(s.Text))
	}
	for i := 4; i >= 0; i-- {
		if got, want := d.State().Undo, fmt.Sprintf("Step %d", i); got != want {
			t.Errorf("undo is %q, want %q", got, want)
		}
		if s, err := d.Undo(d.State().Revision, ""); err != nil || string(s.Text) != texts[i] || string(m.text) != texts[i] {
			t.Errorf("undo to %d: %v", i, err)
		}
	}
	if _, err := d.Undo(d.State().Revision, ""); !errors.Is(err, ErrSteps) {
		t.Errorf("undo of nothing: %v", err)
	}
	for i := 1; i <= 5; i++ {
		if s, err := d.Redo(d.State().Revision, ""); err != nil || string(s.Text) != texts[i] {
			t.Errorf("redo to %d: %v", i, err)
		}
	}
	if _, err := d.Redo(d.State().Revision, ""); !errors.Is(err, ErrSteps) {
		t.Errorf("redo of nothing: %v", err)
	}
	// A new step after an undo forgets what was undone.
	if _, err := d.Undo(d.State().Revision, ""); err != nil {
		t.Fatal(err)
	}
	if s, err := d.Edit(d.State().Revision, Step{Name: "other"}, []Edit{{Op: Set, Path: "/job", Value: "Other"}}); err != nil || s.Redo != "" {
		t.Errorf("redo is %q, %v", s.Redo, err)
	}
}

func TestLawNudgesCountAsOneStep(t *testing.T) {
	d, _ := opened(t)
	clock := time.Unix(0, 0)
	d.now = func() time.Time { return clock }
	nudge := func(i int) {
		t.Helper()
		if _, err := d.Edit(d.State().Revision, Step{Name: "Move", Merge: "x"}, []Edit{{Op: Set, Path: "/job", Value: fmt.Sprint("J", i)}}); err != nil {
			t.Fatal(err)
		}
		clock = clock.Add(mergeWithin / 2)
	}
	for i := range 4 {
		nudge(i)
	}
	clock = clock.Add(mergeWithin)
	nudge(9)
	if len(d.history) != 3 {
		t.Errorf("%d texts are kept, want the first, the four together, and the last", len(d.history))
	}
	if s, _ := d.Undo(d.State().Revision, ""); s.Job.Name != "J3" {
		t.Errorf("undo leads to %q", s.Job.Name)
	}
}

func TestLawHistoryIsBounded(t *testing.T) {
	d, _ := opened(t)
	for i := range mostSteps + 50 {
		if _, err := d.Edit(d.State().Revision, Step{Name: "s"}, []Edit{{Op: Set, Path: "/job", Value: fmt.Sprint("J", i)}}); err != nil {
			t.Fatal(err)
		}
	}
	if len(d.history) > mostSteps+1 || d.at != len(d.history)-1 {
		t.Errorf("%d texts are kept, the present is %d", len(d.history), d.at)
	}
}

func TestLawTwoTabsDoNotOverwriteEachOther(t *testing.T) {
	d, _ := opened(t)
	base := d.State().Revision
	if _, err := d.Edit(base, Step{Name: "one", By: "tab 1"}, []Edit{{Op: Set, Path: "/job", Value: "One"}}); err != nil {
		t.Fatal(err)
	}
	s, err := d.Edit(base, Step{Name: "two", By: "tab 2"}, []Edit{{Op: Set, Path: "/job", Value: "Two"}})
	if !errors.Is(err, ErrRevision) || s.Job.Name != "One" {
		t.Errorf("the second tab got %v and %q", err, s.Job.Name)
	}
	if _, err := d.Undo(base, "tab 2"); !errors.Is(err, ErrRevision) {
		t.Errorf("undo from an old revision: %v", err)
	}
}

func TestLawAChangeOutsideLosesNeitherSide(t *testing.T) {
	theirs := strings.Replace(sample, "A line", "Their line", 1)
	for _, keepDisk := range []bool{true, false} {
		d, m := opened(t)
		if _, err := d.Edit(d.State().Revision, Step{Name: "mine"}, []Edit{{Op: Set, Path: "/job", Value: "My line"}}); err != nil {
			t.Fatal(err)
		}
		mine := string(m.text)
		events, end := d.Listen()
		m.text = []byte(theirs)
		d.Poll()
		if e := <-events; e.Disk != Changed {
			t.Errorf("told %+v", e)
		}
		if s, err := d.Edit(d.State().Revision, Step{}, []Edit{{Op: Set, Path: "/job", Value: "Third"}}); !errors.Is(err, ErrDisk) || string(m.text) != theirs || s.Disk != Changed {
			t.Errorf("an edit over a changed file: %v, %q", err, s.Disk)
		}
		s, err := d.Settle(d.State().Revision, keepDisk, "")
		if err != nil || s.Disk != Same {
			t.Fatalf("%v, %q", err, s.Disk)
		}
		want, other := mine, theirs
		if keepDisk {
			want, other = theirs, mine
		}
		if string(m.text) != want || string(s.Text) != want {
			t.Errorf("keepDisk %v: kept %q", keepDisk, m.text)
		}
		if s, err = d.Undo(s.Revision, ""); err != nil || string(s.Text) != other {
			t.Errorf("keepDisk %v: undo gave %v and %q", keepDisk, err, s.Text)
		}
		end()
	}
}

func TestLawAFileThatIsGoneCanBeWrittenAgain(t *testing.T) {
	for _, keepDisk := range []bool{true, false} {
		d, m := opened(t)
		m.gone = true
		d.Poll()
		s := d.State()
		if s.Disk != Gone {
			t.Fatal(s.Disk)
		}
		s, err := d.Settle(s.Revision, keepDisk, "")
		if err != nil || string(s.Text) != sample || m.gone != keepDisk {
			t.Errorf("keepDisk %v: %v, gone %v", keepDisk, err, m.gone)
		}
	}
}

func TestLawADiskThatFailsChangesNothing(t *testing.T) {
	d, m := opened(t)
	m.fail = errors.New("the disk is full")
	s, err := d.Edit(d.State().Revision, Step{Name: "x"}, []Edit{{Op: Set, Path: "/job", Value: "B"}})
	if !errors.Is(err, m.fail) || string(s.Text) != sample || s.Undo != "" {
		t.Errorf("%v, undo %q", err, s.Undo)
	}
}

func TestLawASlowListenerHearsTheLatest(t *testing.T) {
	d, _ := opened(t)
	events, end := d.Listen()
	defer end()
	for i := range 30 {
		if _, err := d.Edit(d.State().Revision, Step{Name: "s"}, []Edit{{Op: Set, Path: "/job", Value: fmt.Sprint("J", i)}}); err != nil {
			t.Fatal(err)
		}
	}
	var last Event
	for len(events) > 0 {
		last = <-events
	}
	if last.Revision != d.State().Revision {
		t.Error("the latest event was dropped")
	}
}

func TestLawManyHandsOnOneDocument(t *testing.T) {
	d, _ := opened(t)
	var wg sync.WaitGroup
	var mu sync.Mutex
	made := 0
	for hand := range 8 {
		wg.Go(func() {
			for i := range 20 {
				s := d.State()
				if _, err := d.Edit(s.Revision, Step{Name: "s"}, []Edit{{Op: Set, Path: "/job", Value: fmt.Sprintf("J %d %d", hand, i)}}); err == nil {
					mu.Lock()
					made++
					mu.Unlock()
				} else if !errors.Is(err, ErrRevision) {
					t.Error(err)
				}
			}
		})
	}
	wg.Wait()
	if len(d.history) != made+1 {
		t.Errorf("%d steps were made, %d are kept", made, len(d.history)-1)
	}
}

func TestLawAFolderServesItsJobsAndNothingElse(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{"a.yaml": sample, "b.yml": "leste: 1\njob: b\n", "other.yaml": "x: 1\n", "notes.txt": "leste: 1\n", ".hidden.yaml": sample} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	outside := filepath.Join(t.TempDir(), "secret.yaml")
	if err := os.WriteFile(outside, []byte(sample), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(outside, filepath.Join(dir, "link.yaml")); err != nil {
		t.Fatal(err)
	}
	f, err := OpenFolder(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer func() {
		if err := f.Close(); err != nil {
			t.Error(err)
		}
	}()
	list, err := f.List(t.Context())
	if err != nil || len(list) != 2 || list[0].ID != "a.yaml" || list[0].Name != "A line" || list[1].ID != "b.yml" {
		t.Errorf("%+v, %v", list, err)
	}
	for _, id := range []string{"", "../secret.yaml", "/etc/passwd", "link.yaml", "notes.txt", ".hidden.yaml", "none.yaml", "a.yaml/", "..", strings.Repeat("x", 300) + ".yaml"} {
		if _, err := f.Get(id); err == nil {
			t.Errorf("%q was opened", id)
		}
	}
	d, err := f.Get("a.yaml")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := d.Edit(d.State().Revision, Step{Name: "x"}, []Edit{{Op: Set, Path: "/job", Value: "New"}}); err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(filepath.Join(dir, "a.yaml"))
	if err != nil || !strings.Contains(string(text), "job: New   # its name") {
		t.Errorf("%v, %s", err, text)
	}
	if info, _ := os.Stat(filepath.Join(dir, "a.yaml")); info.Mode().Perm() != 0o600 {
		t.Errorf("the mode became %v", info.Mode())
	}
	if again, _ := f.Get("a.yaml"); again != d {
		t.Error("a file was opened twice")
	}
	if _, err := f.Create("a.yaml", []byte(sample)); !errors.Is(err, ErrTaken) {
		t.Errorf("created over a file: %v", err)
	}
	if _, err := f.Create("../x.yaml", []byte(sample)); !errors.Is(err, ErrName) {
		t.Errorf("created outside: %v", err)
	}
	if _, err := f.Create("new.yaml", []byte(sample)); err != nil {
		t.Error(err)
	}
	f.Keep("demo", []byte(sample))
	if list, _ = f.List(t.Context()); len(list) != 4 || list[2].Disk != Unsaved {
		t.Errorf("%+v", list)
	}
	names, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range names {
		if strings.HasSuffix(n.Name(), ".part") {
			t.Errorf("%s was left", n.Name())
		}
	}
}

func TestLawAFolderHearsOfChangesOutside(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a.yaml")
	if err := os.WriteFile(path, []byte(sample), 0o600); err != nil {
		t.Fatal(err)
	}
	f, err := OpenFolder(path)
	if err != nil {
		t.Fatal(err)
	}
	defer func() {
		if err := f.Close(); err != nil {
			t.Error(err)
		}
	}()
	if f.One() != "a.yaml" {
		t.Errorf("serves %q", f.One())
	}
	d, err := f.Get("a.yaml")
	if err != nil {
		t.Fatal(err)
	}
	events, end := d.Listen()
	defer end()
	if err := os.WriteFile(path, []byte(strings.Replace(sample, "A line", "Theirs", 1)), 0o600); err != nil {
		t.Fatal(err)
	}
	select {
	case e := <-events:
		if e.Disk != Changed {
			t.Errorf("%+v", e)
		}
	case <-time.After(10 * pollEvery):
		t.Error("nothing was told")
	}
}

func FuzzEdits(f *testing.F) {
	f.Add(sample, "/stations/0/outlets/1", "remove")
	f.Add("leste: 1\nstations: []\n", "/stations", "add")
	f.Add("a: &x [1]\nstations: *x\n", "/stations/0", "remove")
	f.Fuzz(func(t *testing.T, text, path, op string) {
		out, err := apply("f", []byte(text), []Edit{{Op: op, Path: path, Value: "1 mm", Entry: map[string]any{"name": "n"}}})
		if err != nil {
			return
		}
		if _, ok := parse(out); !ok {
			t.Errorf("%q at %q made %q of %q", op, path, out, text)
		}
	})
}

// An entry that was added to a file whose lines end in a return alone ended the operation with a panic.
func TestLawEntriesAreAddedWhateverEndsLines(t *testing.T) {
	for _, end := range []string{"\n", "\r\n", "\r", "\u0085", "\u2028", "\u2029"} {
		text := "job: x" + end + "stations:" + end + "  - name: a" + end + "  - name: b" + end + "leste: 1" + end
		for _, e := range []Edit{{Op: Add, Path: "/stations/1", Entry: map[string]any{"name": "n"}}, {Op: Add, Path: "/formats", Entry: map[string]any{"name": "n"}}, {Op: Remove, Path: "/stations/0"}} {
			out, err := apply("f", []byte(text), []Edit{e})
			if err != nil {
				t.Errorf("%q: %s %s: %v", end, e.Op, e.Path, err)
				continue
			}
			f, _ := job.Read("f", out)
			var names []string
			for i := range f.Job.Stations {
				names = append(names, f.Job.Stations[i].Name)
			}
			want := map[string]string{"/stations/1": "a n b", "/formats": "a b", "/stations/0": "b"}[e.Path]
			if strings.Join(names, " ") != want || f.Job.Name != "x" || (e.Path == "/formats") != (len(f.Job.Formats) == 1) {
				t.Errorf("%q: %s %s made %q", end, e.Op, e.Path, out)
			}
		}
	}
}
