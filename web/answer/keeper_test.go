package answer_test

import (
	"context"
	"errors"
	"os"
	"sync"
	"testing"
	"time"

	"leste/design"
	"leste/job"
	"leste/web/answer"
	"leste/web/document"
)

// opened keeps the answers of one example, in a folder of its own.
func opened(t *testing.T, example string) (*answer.Keeper, *document.Document) {
	t.Helper()
	text, err := os.ReadFile("../../examples/" + example)
	if err != nil {
		t.Fatal(err)
	}
	folder, err := document.OpenFolder(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	k := answer.NewKeeper(nil, nil)
	t.Cleanup(func() {
		k.Close()
		if err := folder.Close(); err != nil {
			t.Error(err)
		}
	})
	return k, folder.Keep("job", text)
}

func edit(t *testing.T, d *document.Document, path, value string) document.State {
	t.Helper()
	s, err := d.Edit(d.State().Revision, document.Step{Name: "edit"}, []document.Edit{{Op: document.Set, Path: path, Value: value}})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

const height = "/stations/0/outlets/0/height"

func TestLawWhoeverAsksForTheSameSharesOneCalculation(t *testing.T) {
	k, d := opened(t, "can-330-sidewall.yaml")
	events, end := k.Listen("job")
	defer end()
	got := make([]*answer.Answer, 8)
	var wg sync.WaitGroup
	for i := range got {
		wg.Go(func() {
			var err error
			if got[i], err = k.Answer(t.Context(), d, answer.Quick); err != nil {
				t.Error(err)
			}
		})
	}
	wg.Wait()
	for _, a := range got {
		if a != got[0] {
			t.Error("two answers to one question")
		}
	}
	if started, running := k.Activity(); started != 1 || running != 0 {
		t.Errorf("%d started, %d running", started, running)
	}
	e := <-events
	for e.Progress != nil {
		e = <-events
	}
	if e.Ready != got[0] {
		t.Errorf("%+v", e)
	}
	again, err := k.Answer(t.Context(), d, answer.Quick)
	if err != nil || again != got[0] {
		t.Errorf("an answer that is kept is not given: %v", err)
	}
	edit(t, d, height, "80 mm")
	other, err := k.Answer(t.Context(), d, answer.Quick)
	if err != nil || other == got[0] || other.Revision != d.State().Revision {
		t.Errorf("an answer to another text: %v", err)
	}
	if k.Forget() {
		t.Error("an answer that somebody looks at was forgotten")
	}
	end()
	if !k.Forget() {
		t.Error("nothing was forgotten")
	}
}

// What a hand let go of is mostly what was shown last: its answer is that of the trial.
func TestLawWhatWasTriedIsNotCalculatedAgain(t *testing.T) {
	k, d := opened(t, "can-330-sidewall.yaml")
	tried, err := d.Preview([]document.Edit{{Op: document.Set, Path: height, Value: "70 mm"}})
	if err != nil {
		t.Fatal(err)
	}
	trial, err := k.Try(t.Context(), "tab", tried, answer.Quick)
	if err != nil {
		t.Fatal(err)
	}
	before, _ := k.Activity()
	now := edit(t, d, height, "70 mm")
	kept, err := k.Answer(t.Context(), d, answer.Quick)
	if err != nil {
		t.Fatal(err)
	}
	if after, _ := k.Activity(); after != before {
		t.Errorf("%d calculations for what was answered already", after-before)
	}
	if kept.Revision != now.Revision || kept.Result != trial.Result {
		t.Errorf("revision %s, want %s; the same result: %t", kept.Revision, now.Revision, kept.Result == trial.Result)
	}
	edit(t, d, height, "71 mm")
	other, err := k.Answer(t.Context(), d, answer.Quick)
	if err != nil {
		t.Fatal(err)
	}
	if other.Result == trial.Result {
		t.Error("the answer of a trial stands for another job")
	}
}

func TestLawTheLatestEditWins(t *testing.T) {
	k, d := opened(t, "can-330-sidewall.yaml")
	old := make(chan error)
	go func() {
		_, err := k.Answer(t.Context(), d, answer.Whole)
		old <- err
	}()
	running(t, k, 1)
	s := edit(t, d, height, "80 mm")
	k.Changed(s.ID, s.Revision)
	if err := <-old; !errors.Is(err, answer.ErrStale) {
		t.Errorf("the answer to the old text ends with %v", err)
	}
	a, err := k.Answer(t.Context(), d, answer.Quick)
	if err != nil || a.Revision != s.Revision {
		t.Errorf("%v", err)
	}
	running(t, k, 0)
}

func TestLawWhatNobodyWaitsForIsGivenUp(t *testing.T) {
	k, d := opened(t, "can-330-sidewall.yaml")
	ctx, leave := context.WithCancel(t.Context())
	old := make(chan error)
	go func() {
		_, err := k.Answer(ctx, d, answer.Whole)
		old <- err
	}()
	running(t, k, 1)
	leave()
	if err := <-old; !errors.Is(err, answer.ErrStale) {
		t.Error(err)
	}
	running(t, k, 0)
	if k.Stop("job", answer.Whole) || k.Stop("nothing", answer.Whole) {
		t.Error("something was stopped that does not run")
	}
}

// running waits until so many calculations run.
func running(t *testing.T, k *answer.Keeper, want int64) {
	t.Helper()
	for deadline := time.Now().Add(30 * time.Second); time.Now().Before(deadline); time.Sleep(5 * time.Millisecond) {
		if _, n := k.Activity(); n == want {
			return
		}
	}
	t.Fatalf("there never were %d running", want)
}

func TestLawATrialChangesNothing(t *testing.T) {
	k, d := opened(t, "can-330-sidewall.yaml")
	base, err := k.Answer(t.Context(), d, answer.Quick)
	if err != nil {
		t.Fatal(err)
	}
	s, err := d.Preview([]document.Edit{{Op: document.Set, Path: height, Value: "110 mm"}})
	if err != nil {
		t.Fatal(err)
	}
	tried, err := k.Try(t.Context(), "tab", s, answer.Quick)
	if err != nil || tried.Result.Formats[0].Container == base.Result.Formats[0].Container {
		t.Errorf("%v: the same water as before", err)
	}
	if again, err := k.Answer(t.Context(), d, answer.Quick); err != nil || again != base {
		t.Errorf("%v: the trial took the answer's place", err)
	}
	s, err = d.Preview([]document.Edit{{Op: document.Set, Path: height, Value: "9 m"}})
	if err != nil {
		t.Fatal(err)
	}
	var problems job.Problems
	if _, err := k.Try(t.Context(), "tab", s, answer.Quick); !errors.As(err, &problems) {
		t.Errorf("a place that cannot be ends with %v", err)
	}
}

func TestLawASearchIsStoppedWithTheBestSoFar(t *testing.T) {
	k, d := opened(t, "can-330-sidewall.yaml")
	if _, err := k.Searched("job"); !errors.Is(err, answer.ErrNone) {
		t.Error(err)
	}
	if _, err := k.StopSearch(t.Context(), "job"); !errors.Is(err, answer.ErrNone) {
		t.Error(err)
	}
	if f, err := k.Search(d, design.Options{Seed: 1, Budget: 5000}); err != nil || f.State != answer.SearchRunning {
		t.Fatal(f.State, err)
	}
	if _, err := k.Search(d, design.Options{}); !errors.Is(err, answer.ErrRunning) {
		t.Error(err)
	}
	f, err := k.StopSearch(t.Context(), "job")
	if err != nil || f.State != answer.SearchStopped {
		t.Errorf("%s, %v", f.State, err)
	}
	if _, err := k.Station("job", "no such concept"); !errors.Is(err, answer.ErrNone) {
		t.Error(err)
	}
	running(t, k, 0)
}
