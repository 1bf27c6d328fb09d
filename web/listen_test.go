package web_test

import (
	"bufio"
	"compress/gzip"
	"net/http"
	"strings"
)

// readEvents reads a stream of server-sent events until it ends.
func readEvents(r *http.Response, each func(name, data string)) {
	lines := bufio.NewScanner(r.Body)
	if r.Header.Get("Content-Encoding") == "gzip" {
		z, err := gzip.NewReader(r.Body)
		if err != nil {
			return
		}
		lines = bufio.NewScanner(z)
	}
	name, data := "message", ""
	for lines.Scan() {
		line := lines.Text()
		switch {
		case line == "":
			if data != "" {
				each(name, data)
			}
			name, data = "message", ""
		case strings.HasPrefix(line, "event: "):
			name = strings.TrimPrefix(line, "event: ")
		case strings.HasPrefix(line, "data: "):
			data = strings.TrimPrefix(line, "data: ")
		}
	}
}
