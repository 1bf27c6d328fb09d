package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// layout is a job whose form is right and whose outlet stands inside the can.
const layout = `leste: 1
job: inside
line: { speed: 0.6 m/s, container_gap: 14 mm }
formats:
  - { name: can, container: { family: can, size: 330 standard } }
stations:
  - name: s
    outlets:
      - { name: knife, kind: air knife, side: left, height: 60 mm, offset: 20 mm, length: 200 mm, slot_gap: 1.5 mm, plenum_pressure: 20 kPa }
next:
  - { machine: packer, distance: 3 m }
`

func TestLawAssessWritesEverythingAndTellsTheVerdict(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "out")
	got := run(t, "assess", "../../examples/cannot-be-met.yaml", "-o", folder, "--method", "quick", "--json")
	if got.code != exitNotMet {
		t.Fatalf("exit code %d, want %d: %s", got.code, exitNotMet, got.errors)
	}
	if doc := got.document(t); doc["verdict"] != "not met" || doc["schema"] != "leste-assess-1" {
		t.Errorf("verdict %v, schema %v", doc["verdict"], doc["schema"])
	}
	mustHold(t, folder, "map-330-mL-can.png", "map-330-mL-can.svg", "report.txt", "result.json")
	file, err := os.ReadFile(filepath.Join(folder, "result.json"))
	if err != nil || string(file) != got.out {
		t.Errorf("result.json (%v) is not what was printed", err)
	}
	if got := run(t, "assess", "../../examples/air-side-only.yaml"); got.code != exitDone || !strings.HasPrefix(got.out, "met") {
		t.Errorf("air side alone: exit code %d, %.60q %s", got.code, got.out, got.errors)
	}
}

func TestLawTheSameJobGivesTheSameBytes(t *testing.T) {
	for method, cell := range map[string]string{"quick": "6 mm", "transport": "10 mm"} { // workers that wait for each other are slow where cores are few
		args := []string{"assess", "../../examples/can-330-sidewall.yaml", "--method", method, "--cell", cell, "--json", "--workers"}
		one, two := run(t, append(args, "1")...), run(t, append(args, "2")...)
		if one.out != two.out || one.out == "" {
			t.Errorf("%s: one core and two cores give different bytes: %s", method, one.errors+two.errors)
		}
	}
}

func TestLawLayoutProblemsHaveAPlace(t *testing.T) {
	for _, command := range []string{"check", "assess"} {
		got := runWith(t, layout, command, "-")
		if got.code != exitInput || !strings.Contains(got.out, "standard input:9:") {
			t.Errorf("%s: exit code %d, want %d and line 9 in %s%s", command, got.code, exitInput, got.out, got.errors)
		}
		doc := runWith(t, layout, command, "-", "--json").document(t)
		if list, ok := doc["problems"].([]any); !ok || len(list) == 0 {
			t.Errorf("%s --json: %v", command, doc)
		}
	}
}

func TestLawAssessRefusesWhatItDoesNotKnow(t *testing.T) {
	if got := run(t, "assess", "../../examples/can-330-sidewall.yaml", "--method", "magic"); got.code != exitInput || !strings.Contains(got.errors, "quick") {
		t.Errorf("unknown method: exit code %d, %s", got.code, got.errors)
	}
	for _, cell := range []string{"2", "0 mm", "-1 mm", "1 m", "NaN mm"} {
		if got := run(t, "assess", "../../examples/can-330-sidewall.yaml", "--cell="+cell); got.code != exitInput || !strings.Contains(got.errors, "--cell") {
			t.Errorf("cell %q: exit code %d, %s", cell, got.code, got.errors)
		}
	}
	if got := runWith(t, broken1, "assess", "-"); got.code != exitInput || !strings.Contains(got.out, "sped") {
		t.Errorf("broken job: exit code %d, %s", got.code, got.out)
	}
}

// An interrupted assessment writes nothing.
func TestLawAnInterruptionLeavesNothing(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "out")
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	var out, errs bytes.Buffer
	p := &program{in: strings.NewReader(""), out: &out, errors: &errs, width: usualWidth}
	code := p.run(ctx, []string{"assess", "../../examples/can-330-sidewall.yaml", "-o", folder})
	if code != exitInternal || !strings.Contains(errs.String(), "interrupted") {
		t.Errorf("exit code %d, %q", code, errs.String())
	}
	if _, err := os.Stat(folder); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("the folder is there: %v", err)
	}
	if out.Len() > 0 {
		t.Errorf("standard output holds %q", out.String())
	}
}

// Every relation that a result names can be shown.
func TestLawRelationsOfAResultAreKnown(t *testing.T) {
	var doc struct{ Relations []string }
	got := run(t, "assess", "../../examples/can-330-sidewall.yaml", "--method", "quick", "--json")
	if err := json.Unmarshal([]byte(got.out), &doc); err != nil {
		t.Fatal(err)
	}
	for _, id := range doc.Relations {
		if got := run(t, "relations", id); got.code != exitDone {
			t.Errorf("the result names the relation %q, which nobody knows", id)
		}
	}
}

func TestLawOptionsSideBySideAreInTheDocument(t *testing.T) {
	got := run(t, "assess", "../../examples/design-options-can.yaml", "--method", "quick", "--nominal", "--json")
	var doc struct {
		Options struct {
			Schema  string `json:"schema"`
			Options []struct {
				Name string `json:"name"`
			} `json:"options"`
		} `json:"options"`
	}
	if err := json.Unmarshal([]byte(got.out), &doc); err != nil {
		t.Fatal(err)
	}
	if doc.Options.Schema != "leste-options-1" || len(doc.Options.Options) != 3 {
		t.Errorf("%+v, want the job as drawn and its two options", doc.Options)
	}
}
