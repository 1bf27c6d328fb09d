package document

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"sync"
	"time"

	"leste/job"
)

// A Revision names one text of a file; equal texts have equal revisions.
type Revision string

func revisionOf(text []byte) Revision {
	sum := sha256.Sum256(text)
	return Revision(hex.EncodeToString(sum[:8]))
}

// States of the file on disk beside the document on the desk.
const (
	Same    = "same"    // the file says what the document says
	Changed = "changed" // somebody else has written the file since
	Gone    = "gone"    // the file is no longer there
	Unsaved = "unsaved" // the document has no file yet
)

// A State is a document at one moment.
type State struct {
	ID       string
	Revision Revision
	Text     []byte
	Job      *job.Job // as the file says it, nothing filled; never nil
	Problems job.Problems
	Undo     string // name of the step that undo takes back, "" when there is none
	Redo     string
	Disk     string
	Theirs   []byte // what the file holds while Disk is Changed; nil otherwise
}

// Values returns what the file says as a tree of objects, lists and texts.
func (s *State) Values() any { return values(s.Text) }

// Locate gives problems that were found later their places in the file.
func (s *State) Locate(problems job.Problems) job.Problems {
	f, _ := job.Read(s.ID, s.Text)
	out := slices.Clone(problems)
	for i := range out {
		out[i].File = s.ID
		out[i].Line, out[i].Column = f.Locate(out[i].Path)
	}
	return out.Sort()
}

// A Step is a change with the name that undo shows. Steps with the same Merge that follow each other closely count
// as one: a knife that is nudged ten times goes back at once.
type Step struct {
	Name  string
	Merge string
	By    string // who made it, for the others
}

// An Event tells the others what happened to a document.
type Event struct {
	Revision Revision
	Step     string
	By       string
	Disk     string
}

// ErrRevision says that a change was meant for another revision than the document has now.
var ErrRevision = errors.New("the job has changed meanwhile; nothing was overwritten")

// ErrDisk says that the file was changed outside and somebody must say which text stays.
var ErrDisk = errors.New("the file was changed outside the desk; say first which of the two stays")

// ErrSteps says that there is no step to take back or to repeat.
var ErrSteps = errors.New("there is no such step")

// disk is where a document is kept.
type disk interface {
	read() ([]byte, error)
	write(text []byte) error
}

// past is the document after one step.
type past struct {
	text []byte
	step Step
	at   time.Time
}

// Bounds of a document's history.
const (
	mostSteps   = 500
	mostHistory = 16 << 20 // bytes
	mergeWithin = 2 * time.Second
)

// A Document is one job file that is open. All methods may be called from several goroutines.
type Document struct {
	id   string
	disk disk // nil while it has no file
	now  func() time.Time

	mu        sync.Mutex
	file      *job.File
	problems  job.Problems
	revision  Revision
	history   []past
	at        int    // index of the present in history
	kept      []byte // what the file on disk held when it was last read or written
	state     string
	listeners map[chan Event]bool
}

// newDocument opens a text; d is nil for one that has no file.
func newDocument(id string, text []byte, d disk) *Document {
	doc := &Document{id: id, disk: d, now: time.Now, state: Same, kept: text, listeners: map[chan Event]bool{}}
	if d == nil {
		doc.state = Unsaved
	}
	doc.show(text)
	doc.history = []past{{text: text}}
	return doc
}

// show makes a text the present one.
func (d *Document) show(text []byte) {
	d.file, d.problems = job.Load(d.id, text)
	d.revision = revisionOf(text)
}

// State returns the document as it is now.
func (d *Document) State() State {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.snapshot()
}

func (d *Document) snapshot() State {
	s := State{
		ID: d.id, Revision: d.revision, Text: d.history[d.at].text, Job: job.Clone(d.file.Job),
		Problems: slices.Clone(d.problems), Disk: d.state,
	}
	if d.state == Changed {
		s.Theirs = d.kept
	}
	if d.at > 0 {
		s.Undo = d.history[d.at].step.Name
	}
	if d.at+1 < len(d.history) {
		s.Redo = d.history[d.at+1].step.Name
	}
	return s
}

// Preview returns the document as it would be after some edits; nothing is changed.
func (d *Document) Preview(edits []Edit) (State, error) {
	s := d.State()
	text, err := apply(d.id, s.Text, edits)
	if err != nil {
		return s, err
	}
	f, problems := job.Load(d.id, text)
	s.Text, s.Revision, s.Job, s.Problems = text, revisionOf(text), f.Job, problems
	return s, nil
}

// Edit makes a step of some edits and writes the file.
func (d *Document) Edit(base Revision, step Step, edits []Edit) (State, error) {
	return d.change(base, step, func(text []byte) ([]byte, error) { return apply(d.id, text, edits) })
}

// Replace makes a step of a whole new text and writes the file.
func (d *Document) Replace(base Revision, step Step, text []byte) (State, error) {
	return d.change(base, step, func([]byte) ([]byte, error) {
		if len(text) > job.LargestFile {
			return nil, fmt.Errorf("the text has %d bytes, a job file has at most %d", len(text), job.LargestFile)
		}
		return slices.Clone(text), nil
	})
}

func (d *Document) change(base Revision, step Step, to func([]byte) ([]byte, error)) (State, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if err := d.ready(base); err != nil {
		return d.snapshot(), err
	}
	text, err := to(d.history[d.at].text)
	if err != nil {
		return d.snapshot(), err
	}
	if revisionOf(text) == d.revision {
		return d.snapshot(), nil
	}
	if err := d.save(text); err != nil {
		return d.snapshot(), err
	}
	d.push(text, step)
	d.tell(step)
	return d.snapshot(), nil
}

// ready says whether a change that was meant for base may be made now.
func (d *Document) ready(base Revision) error {
	d.look()
	switch {
	case d.state == Changed || d.state == Gone:
		return ErrDisk
	case base != d.revision:
		return ErrRevision
	}
	return nil
}

// save writes a text to the file; the document stays as it is.
func (d *Document) save(text []byte) error {
	if d.disk == nil {
		return nil
	}
	if err := d.disk.write(text); err != nil {
		return err
	}
	d.kept = text
	d.state = Same
	return nil
}

// push makes a text the present one, as a step after the last.
func (d *Document) push(text []byte, step Step) {
	now := d.now()
	d.history = d.history[:d.at+1]
	last := &d.history[d.at]
	if d.at > 0 && step.Merge != "" && step.Merge == last.step.Merge && now.Sub(last.at) < mergeWithin {
		last.text, last.at = text, now
	} else {
		d.history = append(d.history, past{text, step, now})
		d.at++
	}
	size := 0
	for i := len(d.history) - 1; i > 0; i-- {
		size += len(d.history[i].text)
		if size > mostHistory || len(d.history)-i > mostSteps {
			d.history = slices.Delete(d.history, 0, i)
			d.at -= i
			break
		}
	}
	d.show(text)
}

// Undo takes the last step back.
func (d *Document) Undo(base Revision, by string) (State, error) { return d.walk(base, by, -1) }

// Redo repeats the step that was taken back last.
func (d *Document) Redo(base Revision, by string) (State, error) { return d.walk(base, by, 1) }

func (d *Document) walk(base Revision, by string, way int) (State, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if err := d.ready(base); err != nil {
		return d.snapshot(), err
	}
	to := d.at + way
	if to < 0 || to >= len(d.history) {
		return d.snapshot(), ErrSteps
	}
	name := "Redo: " + d.history[to].step.Name
	if way < 0 {
		name = "Undo: " + d.history[d.at].step.Name
	}
	if err := d.save(d.history[to].text); err != nil {
		return d.snapshot(), err
	}
	d.at = to
	d.show(d.history[to].text)
	d.tell(Step{Name: name, By: by})
	return d.snapshot(), nil
}

// Settle ends a difference between the document and the file that was changed outside: the file's text stays, or
// the document's. The other one becomes a step of the history, so that neither is lost.
func (d *Document) Settle(base Revision, keepDisk bool, by string) (State, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.look()
	if base != d.revision {
		return d.snapshot(), ErrRevision
	}
	mine := d.history[d.at].text
	switch {
	case d.state == Gone && keepDisk:
		d.disk, d.state = nil, Unsaved
		d.tell(Step{Name: "The file is gone; the job goes on unsaved", By: by})
	case d.state == Gone:
		if err := d.save(mine); err != nil {
			return d.snapshot(), err
		}
		d.tell(Step{Name: "Write the file again", By: by})
	case d.state == Changed && keepDisk:
		d.state = Same
		d.push(d.kept, Step{Name: "Changed outside", By: by})
		d.tell(Step{Name: "Changed outside", By: by})
	case d.state == Changed:
		theirs := d.kept
		if err := d.save(mine); err != nil {
			return d.snapshot(), err
		}
		d.push(theirs, Step{Name: "Changed outside"})
		d.push(mine, Step{Name: "Keep what the desk had", By: by})
		d.tell(Step{Name: "Keep what the desk had", By: by})
	}
	return d.snapshot(), nil
}

// Poll looks whether the file was changed outside and tells the listeners.
func (d *Document) Poll() {
	d.mu.Lock()
	defer d.mu.Unlock()
	before, text := d.state, revisionOf(d.kept)
	d.look()
	if d.state != before || d.state == Changed && revisionOf(d.kept) != text {
		d.tell(Step{})
	}
}

// look compares the file on disk with what it held last.
func (d *Document) look() {
	if d.disk == nil {
		return
	}
	text, err := d.disk.read()
	switch {
	case errors.Is(err, fs.ErrNotExist):
		d.state = Gone
	case err != nil: // it cannot be read just now: the next look may tell
	case revisionOf(text) == d.revision:
		d.kept, d.state = text, Same
	case revisionOf(text) != revisionOf(d.kept) || d.state == Gone:
		d.kept, d.state = text, Changed
	}
}

// Listen returns a channel of what happens to the document and a function that ends it. A slow listener misses
// events, never the latest one.
func (d *Document) Listen() (events <-chan Event, end func()) {
	const waiting = 8
	c := make(chan Event, waiting)
	d.mu.Lock()
	defer d.mu.Unlock()
	d.listeners[c] = true
	return c, func() {
		d.mu.Lock()
		defer d.mu.Unlock()
		delete(d.listeners, c)
	}
}

// heard reports whether anybody listens.
func (d *Document) heard() bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	return len(d.listeners) > 0
}

func (d *Document) tell(step Step) {
	e := Event{d.revision, step.Name, step.By, d.state}
	for c := range d.listeners {
		for {
			select {
			case c <- e:
			default:
				select { // drop the oldest
				case <-c:
				default:
				}
				continue
			}
			break
		}
	}
}
