package sheets

import (
	"bytes"
	"encoding/csv"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"
)

var day = time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)

func lists() []List {
	return []List{
		{Name: "Parts", Title: "Parts", Heads: []string{"Item", "Quantity"}, Rows: [][]any{{"air knife", 2.0}, {"=HYPERLINK(1)", 1}, {"hose", math.NaN()}}},
		{Name: "parts", Title: "Same name", Heads: []string{"a"}},
		{Name: "A very long name of a list [with] signs/and more", Title: "Long", Heads: []string{"a"}},
	}
}

func book(t *testing.T) []byte {
	t.Helper()
	b, err := XLSX("Lists", day, lists()...)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestLawTheWorkbookHoldsTheLists(t *testing.T) {
	f, err := excelize.OpenReader(bytes.NewReader(book(t)))
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = f.Close() }() // read only
	if diff := cmp.Diff([]string{"Parts", "parts 2", "A very long name of a list"}, f.GetSheetList()); diff != "" {
		t.Error(diff)
	}
	rows, err := f.GetRows("Parts")
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([][]string{{"Parts"}, nil, {"Item", "Quantity"}, {"air knife", "2"}, {"=HYPERLINK(1)", "1"}, {"hose"}}, rows); diff != "" {
		t.Error(diff)
	}
	if formula, _ := f.GetCellFormula("Parts", "A5"); formula != "" {
		t.Errorf("a text became the formula %q", formula)
	}
}

func TestLawTheSameListsGiveTheSameBytes(t *testing.T) {
	if !bytes.Equal(book(t), book(t)) {
		t.Error("two workbooks differ")
	}
}

func TestLawACSVIsReadBackAndHoldsNoFormula(t *testing.T) {
	b, err := CSV(lists()[0])
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(b)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([][]string{{"Item", "Quantity"}, {"air knife", "2"}, {"'=HYPERLINK(1)", "1"}, {"hose", ""}}, rows); diff != "" {
		t.Error(diff)
	}
}

// Source: LibreOffice opens the workbook and writes it as CSV.
func TestReferenceLibreOfficeOpensIt(t *testing.T) {
	office, err := exec.LookPath("soffice")
	if err != nil {
		t.Skip("LibreOffice (Debian package libreoffice-calc) is not installed")
	}
	dir := t.TempDir()
	path := filepath.Join(dir, "lists.xlsx")
	if err := os.WriteFile(path, book(t), 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(office, "-env:UserInstallation=file://"+dir+"/profile", "--headless", "--convert-to", "csv", "--outdir", dir, path).CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	text, err := os.ReadFile(filepath.Join(dir, "lists.csv"))
	if err != nil || !strings.Contains(string(text), "air knife,2") {
		t.Errorf("LibreOffice reads %q, %v", text, err)
	}
}
