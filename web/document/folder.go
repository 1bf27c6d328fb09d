package document

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	"leste/job"
)

// A Folder is where the job files of a desk are: a folder, or one file in it. It reads and writes nothing outside.
type Folder struct {
	root *os.Root
	only string // name of the one file served, "" for all

	mu   sync.Mutex
	open map[string]*Document

	stop chan struct{}
	done chan struct{}
}

// ErrNoJob says that there is no such job file.
var ErrNoJob = errors.New("there is no such job")

// ErrName says that a name cannot be that of a job file.
var ErrName = errors.New("a job file needs a plain name that ends with .yaml")

// ErrTaken says that a file of that name is there already.
var ErrTaken = errors.New("a file of that name is there already")

const (
	pollEvery = 400 * time.Millisecond
	mostJobs  = 500 // files listed of a folder
)

// OpenFolder opens a folder, or the folder of a file and of it only that file. Close it after use.
func OpenFolder(target string) (*Folder, error) {
	info, err := os.Stat(target)
	if err != nil {
		return nil, err
	}
	dir, only := target, ""
	if !info.IsDir() {
		if target, err = filepath.EvalSymlinks(target); err != nil {
			return nil, err
		}
		dir, only = filepath.Dir(target), filepath.Base(target)
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, err
	}
	f := &Folder{root: root, only: only, open: map[string]*Document{}, stop: make(chan struct{}), done: make(chan struct{})}
	go f.watch()
	return f, nil
}

// Close ends the watch over the open files.
func (f *Folder) Close() error {
	close(f.stop)
	<-f.done
	return f.root.Close()
}

// watch polls the documents that somebody looks at. Polling also works on network drives, where changes are not
// told.
func (f *Folder) watch() {
	defer close(f.done)
	tick := time.NewTicker(pollEvery)
	defer tick.Stop()
	for {
		select {
		case <-f.stop:
			return
		case <-tick.C:
		}
		f.mu.Lock()
		all := make([]*Document, 0, len(f.open))
		for _, d := range f.open {
			all = append(all, d)
		}
		f.mu.Unlock()
		for _, d := range all {
			if d.heard() {
				d.Poll()
			}
		}
	}
}

// An Entry is one job file of the folder.
type Entry struct {
	ID       string
	Name     string // what the job calls itself; "" when the file cannot be read
	Problems int
	Modified time.Time
	Disk     string
}

// List returns the job files, by name.
func (f *Folder) List(ctx context.Context) ([]Entry, error) {
	names := []string{f.only}
	if f.only == "" {
		var err error
		if names, err = f.names(); err != nil {
			return nil, err
		}
	}
	var out []Entry
	for _, name := range names {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		info, err := f.root.Stat(name)
		if err != nil || !info.Mode().IsRegular() {
			continue
		}
		text, err := f.read(name)
		if err != nil {
			continue
		}
		file, problems := job.Load(name, text)
		if file.Job.Schema == 0 && f.only == "" {
			continue // some other YAML
		}
		out = append(out, Entry{name, file.Job.Name, len(problems), info.ModTime(), Same})
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	for id, d := range f.open {
		if s := d.State(); s.Disk == Unsaved {
			out = append(out, Entry{ID: id, Name: s.Job.Name, Problems: len(s.Problems), Disk: Unsaved})
		}
	}
	slices.SortFunc(out, func(a, b Entry) int { return strings.Compare(a.ID, b.ID) })
	return out, nil
}

func (f *Folder) names() ([]string, error) {
	entries, err := fs.ReadDir(f.root.FS(), ".")
	if err != nil {
		return nil, err
	}
	var out []string
	for _, e := range entries {
		if plainName(e.Name()) && len(out) < mostJobs {
			out = append(out, e.Name())
		}
	}
	return out, nil
}

// plainName reports whether a name can be that of a job file in the folder.
func plainName(name string) bool {
	ext := strings.ToLower(filepath.Ext(name))
	return (ext == ".yaml" || ext == ".yml" || ext == ".json") && len(name) <= 200 && name[0] != '.' &&
		!strings.ContainsAny(name, "/\\:*?\"<>|\x00")
}

// Get opens a job file, once for all who ask.
func (f *Folder) Get(id string) (*Document, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if d := f.open[id]; d != nil {
		return d, nil
	}
	if id == "" || f.only != "" && id != f.only || f.only == "" && !plainName(id) {
		return nil, ErrNoJob
	}
	text, err := f.read(id)
	if err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			return nil, ErrNoJob
		}
		return nil, err
	}
	d := newDocument(id, text, file{f, id})
	f.open[id] = d
	return d, nil
}

// Keep holds a text as an open document without a file, e.g. a demonstration.
func (f *Folder) Keep(id string, text []byte) *Document {
	f.mu.Lock()
	defer f.mu.Unlock()
	if d := f.open[id]; d != nil {
		return d
	}
	d := newDocument(id, text, nil)
	f.open[id] = d
	return d
}

// Create writes a new job file and opens it.
func (f *Folder) Create(id string, text []byte) (*Document, error) {
	if id == "" || !plainName(id) {
		return nil, ErrName
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	if _, err := f.root.Lstat(id); err == nil || f.open[id] != nil {
		return nil, ErrTaken
	}
	d := file{f, id}
	if err := d.write(text); err != nil {
		return nil, err
	}
	doc := newDocument(id, text, d)
	f.open[id] = doc
	return doc, nil
}

// One returns the name of the one file served, "" for a folder.
func (f *Folder) One() string { return f.only }

func (f *Folder) read(name string) ([]byte, error) {
	r, err := f.root.Open(name)
	if err != nil {
		return nil, err
	}
	text, err := io.ReadAll(io.LimitReader(r, job.LargestFile+1))
	return text, errors.Join(err, r.Close())
}

// file is one file of a folder.
type file struct {
	folder *Folder
	name   string
}

func (f file) read() ([]byte, error) { return f.folder.read(f.name) }

// write writes the file beside its place and moves it there when it is whole, with the mode of the old one.
func (f file) write(text []byte) (err error) {
	mode := fs.FileMode(0o666)
	info, statErr := f.folder.root.Stat(f.name)
	if statErr == nil {
		mode = info.Mode().Perm()
	}
	part := fmt.Sprintf(".%s.%d.part", f.name, os.Getpid())
	defer func() {
		if err != nil {
			err = fmt.Errorf("%s cannot be written: %w", f.name, err)
		}
	}()
	w, err := f.folder.root.OpenFile(part, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, mode)
	if err != nil {
		return err
	}
	_, err = w.Write(text)
	if err == nil {
		err = w.Sync()
	}
	if err == nil && statErr == nil {
		err = w.Chmod(mode)
	}
	if err = errors.Join(err, w.Close()); err == nil {
		err = f.folder.root.Rename(part, f.name)
	}
	if err != nil {
		return errors.Join(err, f.folder.root.Remove(part))
	}
	return nil
}
