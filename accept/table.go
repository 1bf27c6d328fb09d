package accept

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// separators part the cells of a table as spreadsheets save it: commas; semicolons, where the comma is the decimal mark;
// tabs, as text.
var separators = []rune{',', ';', '\t'}

func separatorName(r rune) string {
	return map[rune]string{',': "commas", ';': "semicolons", '\t': "tabs"}[r]
}

// largest is the size that a file of measurements may have [bytes].
const largest = 64 << 20

// tableText is the text of a file in UTF-8, with lines that end as here, and what parts its cells: what parts the names
// of the columns.
func tableText(name string, in io.Reader) (text string, separator rune, err error) {
	data, err := io.ReadAll(io.LimitReader(in, largest+1))
	if err != nil {
		return "", 0, fmt.Errorf("%s: %w", name, err)
	}
	if len(data) > largest {
		return "", 0, fmt.Errorf("%s is larger than %d MB; split the file", name, largest>>20)
	}
	if bytes.HasPrefix(data, []byte("PK\x03\x04")) {
		return "", 0, &RowError{name, 1, 1, "the file is a workbook; save its sheet as CSV", nil}
	}
	text = strings.NewReplacer("\u00a0", " ", "\u202f", " ").Replace(decoded(data)) // blanks that spreadsheets put in look like others
	if !strings.Contains(text, "\n") {
		text = strings.ReplaceAll(text, "\r", "\n")
	}
	n := 0
	for line := range strings.SplitSeq(text, "\n") {
		n++
		line = strings.TrimSpace(line)
		mark, told := strings.CutPrefix(line, "sep=") // some spreadsheets write so what parts the cells
		switch {
		case n == 1 && told && len(mark) <= 1:
			text = "#" + text
			continue
		case line == "" || strings.HasPrefix(line, "#"):
			continue
		}
		var found []string
		for _, s := range separators {
			if strings.ContainsRune(line, s) {
				found = append(found, separatorName(s))
				if separator == 0 {
					separator = s
				}
			}
		}
		if len(found) > 1 {
			return "", 0, &RowError{name, n, 1, fmt.Sprintf("the names of the columns are parted by more than one sign (%s); use one of them in the whole file", strings.Join(found, ", ")), nil}
		}
		break
	}
	if separator == 0 {
		separator = separators[0]
	}
	return text, separator, nil
}

// decoded is the text of a file in UTF-8, whatever a spreadsheet saved it as: UTF-8 or UTF-16 by its mark, or the
// 8-bit letters of western Europe.
func decoded(data []byte) string {
	var order binary.ByteOrder
	switch {
	case bytes.HasPrefix(data, []byte{0xff, 0xfe}):
		order = binary.LittleEndian
	case bytes.HasPrefix(data, []byte{0xfe, 0xff}):
		order = binary.BigEndian
	}
	if order != nil {
		var units []uint16
		for data = data[2:]; len(data) > 1; data = data[2:] {
			units = append(units, order.Uint16(data))
		}
		return string(utf16.Decode(units))
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	if utf8.Valid(data) {
		return string(data)
	}
	letters := make([]rune, len(data))
	for i, b := range data {
		letters[i] = rune(b) // those of Latin-1 have their own numbers
	}
	return string(letters)
}

// decimalComma is a number of a table whose decimal mark is the comma.
var decimalComma = regexp.MustCompile(`\d,\d`)

// thousands is a number that such a table may group by points: 1.200 is 1200 there, and elsewhere a little more than 1.
var thousands = regexp.MustCompile(`^[-+]?\d{1,3}(?:\.\d{3})+(?:[^\d.,]|$)`)

// commasDecide reports whether the comma is the decimal mark of a table.
func commasDecide(text string, separator rune) bool {
	return separator == ';' || separator == '\t' && decimalComma.MatchString(text)
}

// mixed reports whether a row is parted otherwise than the names of the columns, and how: the same sign, where the whole
// row stands in quotation marks.
func mixed(record []string, separator rune) (other rune, ok bool) {
	for _, s := range separators {
		what, _, found := strings.Cut(record[0], string(s))
		if _, known := kindNamed(strings.ToLower(strings.TrimSpace(what))); found && known {
			return s, true
		}
	}
	return 0, false
}

// commentedOut tells of rows of the form that are filled in and yet begin with the sign of a remark.
func commentedOut(name, text string, separator rune, order []int) []error {
	var wrong []error
	n := 0
	for line := range strings.SplitSeq(text, "\n") {
		n++
		remark, ok := strings.CutPrefix(line, "#")
		if !ok {
			continue
		}
		cells := strings.Split(remark, string(separator))
		filled := func(column int) bool {
			i := order[column]
			return i >= 0 && i < len(cells) && strings.TrimSpace(cells[i]) != ""
		}
		if order[0] >= len(cells) {
			continue
		}
		if _, known := kindNamed(strings.ToLower(strings.TrimSpace(cells[order[0]]))); known && (filled(4) || filled(5) || filled(6)) {
			wrong = append(wrong, &RowError{name, n, 1, `the row is filled in and begins with "#", which makes it a remark; take the "#" away, or the row counts for nothing`, nil})
		}
	}
	return wrong
}

// oneSentence tells of rows that are parted otherwise, all at once.
func oneSentence(name string, lines []int, separator, other rune) error {
	switch {
	case len(lines) == 0:
		return nil
	case other == separator:
		return &RowError{name, lines[0], 1, fmt.Sprintf("the whole row stands in quotation marks and is a single cell; take the marks away (rows like this: %d)", len(lines)), nil}
	}
	text := fmt.Sprintf("the row is parted by %s, the names of the columns by %s; use one of them in the whole file", separatorName(other), separatorName(separator))
	if n := len(lines); n > 1 {
		text = fmt.Sprintf("the row and %d more are parted by %s, the names of the columns by %s; use one of them in the whole file", n-1, separatorName(other), separatorName(separator))
	}
	return &RowError{name, lines[0], 1, text, nil}
}

// blank reports whether all cells are empty, as the rows that spreadsheets add.
func blank(record []string) bool {
	return !slices.ContainsFunc(record, func(s string) bool { return strings.TrimSpace(s) != "" })
}

// errEmpty is a file without even the names of columns.
func errEmpty(name string) error {
	return errors.New(name + ": the file is empty; its first line names the columns " + strings.Join(columns, ", "))
}
