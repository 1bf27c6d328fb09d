package answer

import (
	"context"
	"errors"
	"os"
	"strings"
	"testing"

	leste "leste"
	"leste/job"
	"leste/web/document"
)

func TestLawAFaultEndsOneCalculationOnly(t *testing.T) {
	text, err := os.ReadFile("../../examples/air-side-only.yaml")
	if err != nil {
		t.Fatal(err)
	}
	folder, err := document.OpenFolder(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	defer folder.Close() //nolint:errcheck // the test is over
	var said string
	k := NewKeeper(nil, func(fault any, stack []byte) { said = fault.(string) + string(stack) })
	defer k.Close()
	d := folder.Keep("job", text)
	k.assess = func(context.Context, *job.Job, leste.Options) (*leste.Result, error) { panic("broken on purpose") }
	if _, err := k.Answer(t.Context(), d, Quick); !errors.Is(err, ErrFault) {
		t.Errorf("a fault ends with %v", err)
	}
	if !strings.HasPrefix(said, "broken on purpose") || !strings.Contains(said, "fault_test.go") {
		t.Errorf("reported %q", said)
	}
	k.assess = leste.Assess
	if a, err := k.Answer(t.Context(), d, Quick); err != nil || a.Result == nil {
		t.Errorf("the next one ends with %v", err)
	}
}
