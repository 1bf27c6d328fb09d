package web

import (
	"bytes"
	"embed"
	"fmt"
	"io/fs"
	"net/http"
	"path"
	"strings"
	"time"
)

// dist is what `make ui` built; only a README where it has not run.
//
//go:embed all:dist
var dist embed.FS

// screens serves the pages of the desk. Every address that is no file is the page itself, which finds its own way.
type screens struct {
	files fs.FS
	page  []byte // nil where they were not built
}

func newScreens(files fs.FS) screens {
	page, err := fs.ReadFile(files, "index.html")
	if err != nil {
		page = nil
	}
	return screens{files, page}
}

// missing is the page of a program that was built without the screens.
const missing = `<!doctype html>
<html lang="en"><meta charset="utf-8"><title>Leste: the screens are missing</title>
<h1>The screens of the desk are missing</h1>
<p>This program was built without them. Everything else works: the commands on the command line, and the
operations below /api that /api/openapi.json describes.</p>
<p>To have the screens, install Node 20 or later, run <code>make ui build</code> in the source, and start the new
program.</p>
</html>
`

// kept for a year: files whose name changes with what they hold.
const keptLong = "public, max-age=31536000, immutable"

// ServeHTTP implements http.Handler.
func (s screens) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		w.Header().Set("Allow", "GET, HEAD")
		sayFault(w, http.StatusMethodNotAllowed, "A page can only be read")
		return
	}
	name := strings.TrimPrefix(path.Clean(r.URL.Path), "/")
	if path.Ext(name) == "" || name == "index.html" {
		s.servePage(w, r)
		return
	}
	data, err := fs.ReadFile(s.files, name)
	if err != nil || name == "README" {
		sayFault(w, http.StatusNotFound, fmt.Sprintf("There is no file %q", name))
		return
	}
	if strings.HasPrefix(name, "assets/") {
		w.Header().Set("Cache-Control", keptLong)
	} else {
		w.Header().Set("Cache-Control", "no-cache")
	}
	http.ServeContent(w, r, name, time.Time{}, bytes.NewReader(data))
}

func (s screens) servePage(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Header().Set("Cache-Control", "no-cache")
	page := s.page
	if page == nil {
		page = []byte(missing)
		w.WriteHeader(http.StatusServiceUnavailable)
		if r.Method != http.MethodHead {
			fmt.Fprint(w, string(page))
		}
		return
	}
	http.ServeContent(w, r, "index.html", time.Time{}, bytes.NewReader(page))
}

// HasScreens reports whether the program was built with the screens.
func HasScreens() bool {
	_, err := fs.Stat(dist, "dist/index.html")
	return err == nil
}
