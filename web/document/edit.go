package document

import (
	"errors"
	"fmt"
	"strconv"

	"leste/job"
	"leste/web/form"
)

// Ways to change a file.
const (
	Set    = "set"
	Add    = "add"
	Remove = "remove"
)

// An Edit is one change of a file. Paths are those of problems: /stations/0/outlets/1/slot_gap.
type Edit struct {
	Op    string         `json:"op" enum:"set,add,remove" doc:"set a value, add an entry to a list, remove an entry or a key."`
	Path  string         `json:"path" maxLength:"500" doc:"Of the value, of the list (with a number at its end: before that entry), or of what is removed."`
	Value string         `json:"value,omitempty" maxLength:"20000" doc:"To set, with its unit as a person types it; \"not known\" to leave it open."`
	Entry map[string]any `json:"entry,omitempty" doc:"To add: keys and texts as in the file."`
}

// mostEdits is how many edits one step may hold.
const mostEdits = 200

// jobForm is the schema of the job file. It is read-only.
var jobForm = form.OfJob()

// apply makes the edits on a text, all of them or none. An error that is a job.Problem says what of a value cannot
// be read, and what would be right.
func apply(name string, text []byte, edits []Edit) ([]byte, error) {
	if len(edits) > mostEdits {
		return nil, fmt.Errorf("%d edits at once are too many; %d are allowed", len(edits), mostEdits)
	}
	for i := range edits {
		var err error
		if text, err = edits[i].apply(name, text); err != nil {
			return nil, err
		}
	}
	if len(text) > job.LargestFile {
		return nil, fmt.Errorf("the file would have %d bytes, a job file has at most %d", len(text), job.LargestFile)
	}
	return text, nil
}

func (e *Edit) apply(name string, text []byte) ([]byte, error) {
	var out []byte
	var err error
	switch e.Op {
	case Set:
		f, _ := job.Read(name, text)
		if err = f.Set(e.Path, e.Value); err != nil {
			return nil, err
		}
		return f.Bytes(), nil
	case Remove:
		out, err = remove(text, steps(e.Path))
	case Add:
		out, err = e.add(text)
	default:
		return nil, fmt.Errorf("%q is no way to change a file; %s, %s and %s are", e.Op, Set, Add, Remove)
	}
	if errors.Is(err, errPlace) {
		return nil, job.Problem{File: name, Path: e.Path, Code: job.CodeKey, Text: "the file has no place " + e.Path, Want: "give the path of something that it holds"}
	}
	if err != nil {
		return nil, err
	}
	if _, ok := parse(out); !ok {
		return nil, job.Problem{File: name, Path: e.Path, Code: job.CodeSyntax, Text: e.Path + " cannot be changed from here", Want: "edit the text of the file"}
	}
	return out, nil
}

func (e *Edit) add(text []byte) ([]byte, error) {
	path, at := steps(e.Path), -1
	if n := len(path); n > 0 {
		if i, err := strconv.Atoi(path[n-1]); err == nil {
			path, at = path[:n-1], i
		}
	}
	list := ""
	for _, s := range path {
		list += "/" + s
	}
	if _, ok := jobForm.Entry(list); !ok {
		return nil, errPlace
	}
	if len(e.Entry) == 0 {
		return nil, fmt.Errorf("an entry for %s must hold something", list)
	}
	const deepestEntry = 8
	entry, err := node(e.Entry, jobForm, list, deepestEntry)
	if err != nil {
		return nil, err
	}
	return insert(text, path, at, entry)
}
