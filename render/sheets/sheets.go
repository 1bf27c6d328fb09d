// Package sheets writes lists as spreadsheets: one XLSX with a sheet for each list, and a CSV of each.
package sheets

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	q "leste/quantity"
	"leste/render/drawing"
)

// A List is one table. Cells are string, float64 or int; a number that is not known is left empty.
type List struct {
	Name  string // of the sheet and the file
	Title string
	Heads []string
	Rows  [][]any
}

// CSV returns the list as comma-separated values.
func CSV(l List) ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	if err := w.Write(l.Heads); err != nil {
		return nil, fmt.Errorf("sheets: %w", err)
	}
	for _, row := range l.Rows {
		out := make([]string, len(row))
		for i, c := range row {
			out[i] = plain(c)
		}
		if err := w.Write(out); err != nil {
			return nil, fmt.Errorf("sheets: %w", err)
		}
	}
	w.Flush()
	return b.Bytes(), w.Error()
}

// plain writes a cell as text. A text that a spreadsheet would take for a formula is marked as text.
func plain(c any) string {
	switch c := c.(type) {
	case nil:
		return ""
	case float64:
		if math.IsNaN(c) || math.IsInf(c, 0) {
			return ""
		}
		return strconv.FormatFloat(q.Unsigned(c), 'f', -1, 64)
	case int:
		return strconv.Itoa(c)
	}
	s := fmt.Sprint(c)
	if s != "" && strings.ContainsRune("=+-@\t\r", rune(s[0])) {
		return "'" + s
	}
	return s
}

// XLSX returns all lists as one workbook. The date is the one it carries.
func XLSX(title string, date time.Time, lists ...List) (out []byte, err error) {
	f := excelize.NewFile()
	defer func() {
		if e := f.Close(); e != nil && err == nil {
			err = fmt.Errorf("sheets: %w", e)
		}
	}()
	stamp := date.UTC().Format(time.RFC3339)
	if err := f.SetDocProps(&excelize.DocProperties{Title: title, Creator: "Leste", LastModifiedBy: "Leste", Created: stamp, Modified: stamp}); err != nil {
		return nil, fmt.Errorf("sheets: %w", err)
	}
	used := map[string]bool{}
	for i, l := range lists {
		name := sheetName(l.Name, used)
		if i == 0 {
			err = f.SetSheetName("Sheet1", name)
		} else {
			_, err = f.NewSheet(name)
		}
		if err == nil {
			err = fill(f, name, l)
		}
		if err != nil {
			return nil, fmt.Errorf("sheets: list %s: %w", l.Name, err)
		}
	}
	b, err := f.WriteToBuffer()
	if err != nil {
		return nil, fmt.Errorf("sheets: %w", err)
	}
	return b.Bytes(), nil
}

// sheetName is a name that the format takes: at most 31 letters, none of its signs, no two the same.
func sheetName(s string, used map[string]bool) string {
	s = strings.Map(func(r rune) rune {
		if strings.ContainsRune(`:\/?*[]'`, r) {
			return ' '
		}
		return r
	}, s)
	letters := []rune(strings.TrimSpace(s))
	if len(letters) == 0 {
		letters = []rune("list")
	}
	if len(letters) > 28 {
		letters = letters[:28]
	}
	name := strings.TrimSpace(string(letters))
	letters = []rune(name)
	for n := 2; used[strings.ToLower(name)]; n++ {
		name = string(letters) + " " + strconv.Itoa(n)
	}
	used[strings.ToLower(name)] = true
	return name
}

// The rows of a sheet: its title, a free row, the heads, the list.
const headRow = 3

func fill(f *excelize.File, sheet string, l List) error {
	title, err := f.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true, Size: 14, Color: drawing.Sea.Hex()[1:]}})
	if err != nil {
		return err
	}
	head, err := f.NewStyle(&excelize.Style{
		Font:   &excelize.Font{Bold: true, Color: drawing.Sea.Hex()[1:]},
		Border: []excelize.Border{{Type: "bottom", Style: 2, Color: drawing.Sea.Hex()[1:]}}, Alignment: &excelize.Alignment{WrapText: true, Vertical: "bottom"},
	})
	if err != nil {
		return err
	}
	body, err := f.NewStyle(&excelize.Style{Alignment: &excelize.Alignment{WrapText: true, Vertical: "top"}})
	if err != nil {
		return err
	}
	if err := set(f, sheet, 1, 1, l.Title, title); err != nil {
		return err
	}
	widths := make([]int, len(l.Heads))
	for i, h := range l.Heads {
		widths[i] = utf8.RuneCountInString(h)
		if err := set(f, sheet, i+1, headRow, h, head); err != nil {
			return err
		}
	}
	for r, row := range l.Rows {
		for i, c := range row {
			if v, ok := c.(float64); ok {
				c = q.Unsigned(v)
				if math.IsNaN(v) || math.IsInf(v, 0) {
					c = nil
				}
			}
			if i < len(widths) {
				widths[i] = max(widths[i], utf8.RuneCountInString(fmt.Sprint(c)))
			}
			if err := set(f, sheet, i+1, headRow+1+r, c, body); err != nil {
				return err
			}
		}
	}
	for i, w := range widths {
		column, err := excelize.ColumnNumberToName(i + 1)
		if err != nil {
			return err
		}
		if err := f.SetColWidth(sheet, column, column, float64(min(max(w, 8), 48)+2)); err != nil {
			return err
		}
	}
	return f.SetPanes(sheet, &excelize.Panes{Freeze: true, YSplit: headRow, TopLeftCell: "A4", ActivePane: "bottomLeft"})
}

func set(f *excelize.File, sheet string, column, row int, value any, style int) error {
	cell, err := excelize.CoordinatesToCellName(column, row)
	if err != nil {
		return err
	}
	if err := f.SetCellValue(sheet, cell, value); err != nil {
		return err
	}
	return f.SetCellStyle(sheet, cell, cell, style)
}
