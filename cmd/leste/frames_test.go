package main

import (
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const canJob = "../../examples/can-330-sidewall.yaml"

// The pass is written as data and pictures: eight moments, or those that were asked for.
func TestLawAssessWritesThePass(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "pass")
	got := run(t, "assess", canJob, "--cell", "8 mm", "--nominal", "--frames", folder)
	if got.code == exitInput || got.code == exitInternal {
		t.Fatalf("exit code %d: %s", got.code, got.errors)
	}
	mustHold(t, folder, "frame-330-mL-can-01.png", "frame-330-mL-can-02.png", "frame-330-mL-can-03.png", "frame-330-mL-can-04.png",
		"frame-330-mL-can-05.png", "frame-330-mL-can-06.png", "frame-330-mL-can-07.png", "frame-330-mL-can-08.png", "frames-330-mL-can.json", "frames-330-mL-can.png")
	first := readFrames(t, folder)
	if len(first.Frames) != usualFrames {
		t.Fatalf("%d moments", len(first.Frames))
	}
	before := 0.0
	pressed := false
	for k, m := range first.Frames {
		if len(m.Water) != first.Rows*first.Cols || len(m.Press) != len(m.Water) || len(first.S) != first.Rows+1 {
			t.Fatalf("moment %d: %d amounts and %d pressures on %d x %d cells", k, len(m.Water), len(m.Press), first.Rows, first.Cols)
		}
		if k > 0 && m.Time <= before {
			t.Errorf("moment %d at %g s follows one at %g s", k, m.Time, before)
		}
		before = m.Time
		for _, p := range m.Press {
			pressed = pressed || p > 500
		}
	}
	if a, b := first.Frames[0].Total, first.Frames[usualFrames-1].Total; !(b > 0 && b < a) || !pressed {
		t.Errorf("%g mg on the wall at first, %g at last; pressed: %v", a, b, pressed)
	}

	other := filepath.Join(t.TempDir(), "two")
	if got := run(t, "assess", canJob, "--cell", "8 mm", "--nominal", "--frames", other, "--moments", "0.1 s, 250 ms"); got.code == exitInput {
		t.Fatal(got.errors)
	}
	two := readFrames(t, other)
	if len(two.Frames) != 2 || two.Frames[0].Time < 0.1 || two.Frames[0].Time > 0.12 || two.Frames[1].Time < 0.25 || two.Frames[1].Time > 0.27 {
		t.Errorf("moments %+v", two.Frames)
	}
}

func readFrames(t *testing.T, folder string) framesData {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(folder, "frames-330-mL-can.json"))
	if err != nil {
		t.Fatal(err)
	}
	var d framesData
	if err := json.Unmarshal(data, &d); err != nil {
		t.Fatal(err)
	}
	return d
}

func TestLawFramesThatCannotBeAreRefused(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "none")
	for name, args := range map[string][]string{
		"a method without time":       {"--frames", folder, "--method", "quick"},
		"moments without a folder":    {"--moments", "0.1 s"},
		"a moment that is no time":    {"--frames", folder, "--moments", "soon"},
		"a moment without a unit":     {"--frames", folder, "--moments", "0.1"},
		"a negative moment":           {"--frames", folder, "--moments=-1 s"},
		"a moment after the stations": {"--frames", folder, "--moments", "1 h", "--nominal", "--cell", "8 mm"},
		"too many moments":            {"--frames", folder, "--moments", strings.Repeat("0 s,", 300) + "1 s"},
	} {
		if got := run(t, append([]string{"assess", canJob}, args...)...); got.code != exitInput || !strings.Contains(got.errors, "--") {
			t.Errorf("%s: exit code %d, %q", name, got.code, got.errors)
		}
	}
	if _, err := os.Stat(folder); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("a refused run left the folder: %v", err)
	}
}
