package job

import (
	"bufio"
	"bytes"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"
)

// malformed is one faulty job file with the problems that must be found in it.
type malformed struct {
	title    string
	where    string // of the case itself
	text     []byte
	expected []string // "line:col: beginning of the sentence"
}

const mark = "«"

// readMalformed reads the cases of one file; see the head of file.txt for how they are written.
func readMalformed(t testing.TB, path, base string) []malformed {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var cases []malformed
	var title, where string
	var whole, old, new, says []string
	text, started := base, false
	edit := func() {
		if len(old) == 0 && len(new) == 0 {
			return
		}
		from, to := strings.Join(old, "\n")+"\n", strings.Join(new, "\n")+"\n"
		if strings.Count("\n"+text, "\n"+from) != 1 {
			t.Fatalf("%s: %q is not once in the base", where, from)
		}
		text = strings.TrimPrefix(strings.Replace("\n"+text, "\n"+from, "\n"+to, 1), "\n")
		old, new = nil, nil
	}
	finish := func() {
		if !started {
			return
		}
		edit()
		if whole != nil {
			text = strings.Join(whole, "\n")
			if whole[len(whole)-1] != mark { // a mark alone stands for the end of the file
				text += "\n"
			}
		}
		cases = append(cases, settleCase(t, title, where, text, says))
		text, whole, says = base, nil, nil
	}
	s := bufio.NewScanner(bytes.NewReader(data))
	for n := 1; s.Scan(); n++ {
		line := s.Text()
		switch {
		case strings.HasPrefix(line, "== "):
			finish()
			started, title, where = true, line[3:], fmt.Sprintf("%s:%d", filepath.Base(path), n)
		case !started || line == "":
		case line[0] == '=':
			whole = append(whole, line[1:])
		case line[0] == '-':
			if len(new) > 0 {
				edit()
			}
			old = append(old, line[1:])
		case line[0] == '+':
			new = append(new, line[1:])
		case strings.HasPrefix(line, "! "):
			says = append(says, line[2:])
		default:
			t.Fatalf("%s:%d: no such line: %q", path, n, line)
		}
	}
	finish()
	return cases
}

var escaped = regexp.MustCompile(`\\x([0-9a-f]{2})`)

// settleCase takes the marks out of the text and turns them into lines and columns.
func settleCase(t testing.TB, title, where, text string, says []string) malformed {
	t.Helper()
	c := malformed{title: title, where: where}
	lines := strings.Split(text, "\n")
	k := 0
	for i, line := range lines {
		for {
			at := strings.Index(line, mark)
			if at < 0 {
				break
			}
			column := utf8.RuneCountInString(line[:at]) + 1
			line = line[:at] + line[at+len(mark):]
			if k >= len(says) {
				t.Fatalf("%s: more marks than sentences", where)
			}
			c.expected = append(c.expected, fmt.Sprintf("%d:%d: %s", i+1, column, says[k]))
			k++
		}
		lines[i] = line
	}
	if k < len(says) {
		t.Fatalf("%s: more sentences than marks", where)
	}
	text = strings.Join(lines, "\n")
	text = escaped.ReplaceAllStringFunc(text, func(s string) string {
		b, _ := strconv.ParseUint(s[2:], 16, 8)
		return string([]byte{byte(b)})
	})
	c.text = []byte(text)
	return c
}

func allMalformed(t testing.TB) []malformed {
	t.Helper()
	base, err := os.ReadFile(filepath.Join("testdata", "malformed", "base.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob(filepath.Join("testdata", "malformed", "*.txt"))
	if err != nil {
		t.Fatal(err)
	}
	var all []malformed
	for _, f := range files {
		all = append(all, readMalformed(t, f, string(base))...)
	}
	return all
}

// The places and sentences are thought out case by case, not taken from the output.
func TestReferenceMalformedFiles(t *testing.T) {
	cases := allMalformed(t)
	if len(cases) < 200 {
		t.Errorf("only %d cases", len(cases))
	}
	for _, c := range cases {
		t.Run(c.where+" "+c.title, func(t *testing.T) {
			_, problems := Load("x", c.text)
			ok := len(problems) == len(c.expected)
			for i := 0; ok && i < len(problems); i++ {
				ok = strings.HasPrefix(strings.TrimPrefix(problems[i].String(), "x:"), c.expected[i])
			}
			if !ok {
				t.Errorf("got\n%s\nwant\nx:%s", problems.Error(), strings.Join(c.expected, "\nx:"))
			}
			for _, p := range problems {
				if p.File != "x" || p.Code == "" || p.Want == "" || p.Line < 1 || p.Column < 1 {
					t.Errorf("incomplete: %#v", p)
				}
			}
		})
	}
}

// Every code that a problem may have is met by at least one case.
func TestLawMalformedFilesMeetEveryCode(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range allMalformed(t) {
		_, problems := Load("x", c.text)
		for _, p := range problems {
			seen[p.Code] = true
		}
	}
	for _, code := range []string{
		CodeFile, CodeSyntax, CodeVersion, CodeKey, CodeTwice, CodeShape, CodeMissing, CodeChoice, CodeText,
		CodeRange, CodeConflict, CodeReference, CodeOutline, CodeAlias,
		"number", "no-unit", "unit", "kind", "basis", "standard",
	} {
		if !seen[code] {
			t.Errorf("no case meets the code %q; seen are %v", code, slices.Sorted(maps.Keys(seen)))
		}
	}
}

func TestLawTheBaseOfTheMalformedFilesIsRight(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("testdata", "malformed", "base.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	if _, problems := Load("base.yaml", data); len(problems) > 0 {
		t.Error(problems.Error())
	}
}
