package paper_test

import (
	"bytes"
	"encoding/csv"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"doorwright/paper"
)

func TestTheWorkbookReadsElsewhere(t *testing.T) {
	all := demoWork(t).Schedules()
	data, err := paper.Workbook(all)
	if err != nil {
		t.Fatal(err)
	}
	again, _ := paper.Workbook(all)
	if !bytes.Equal(data, again) {
		t.Error("the bytes differ")
	}
	f, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if got := f.GetSheetList(); len(got) != len(all) || len(all) < 8 {
		t.Fatalf("sheets %v", got)
	}
	numbers := 0
	for _, s := range all {
		rows, err := f.GetRows(s.Name, excelize.Options{RawCellValue: true})
		if err != nil || len(rows) != len(s.Rows)+1 {
			t.Errorf("%s: %d rows of %d, %v", s.Name, len(rows), len(s.Rows)+1, err)
			continue
		}
		panes, err := f.GetPanes(s.Name)
		if err != nil || !panes.Freeze || panes.YSplit != 1 {
			t.Errorf("%s: the headings do not stay: %+v, %v", s.Name, panes, err)
		}
		for i, r := range s.Rows {
			for k, c := range r {
				name, _ := excelize.CoordinatesToCellName(k+1, i+2)
				kind, _ := f.GetCellType(s.Name, name)
				if !c.Is {
					if got, _ := f.GetCellValue(s.Name, name); got != c.Text {
						t.Errorf("%s %s: %q, want %q", s.Name, name, got, c.Text)
					}
					continue
				}
				numbers++
				got, err := strconv.ParseFloat(rows[i+1][k], 64)
				if err != nil || math.Abs(got-c.Number) > 1e-9*math.Abs(c.Number) || kind == excelize.CellTypeInlineString {
					t.Errorf("%s %s: %q is not the number %v", s.Name, name, rows[i+1][k], c.Number)
				}
			}
		}
	}
	if numbers < 300 {
		t.Errorf("only %d numbers", numbers)
	}
	kinds := map[string]int{}
	for _, n := range f.GetDefinedName() {
		kinds[n.Name]++
	}
	for _, name := range []string{"_xlnm.Print_Area", "_xlnm.Print_Titles", "_xlnm._FilterDatabase"} {
		if kinds[name] != len(all) {
			t.Errorf("%d of %s", kinds[name], name)
		}
	}
}

func TestSchedulesAsCSV(t *testing.T) {
	for _, s := range demoWork(t).Schedules() {
		rows, err := csv.NewReader(bytes.NewReader(s.CSV())).ReadAll()
		if err != nil || len(rows) != len(s.Rows)+1 {
			t.Errorf("%s: %d rows, %v", s.Name, len(rows), err)
		}
		for i, r := range s.Rows {
			for k, c := range r {
				if !c.Is && rows[i+1][k] != strings.ReplaceAll(c.Text, "\r\n", "\n") {
					t.Errorf("%s: %q became %q", s.Name, c.Text, rows[i+1][k])
				}
			}
		}
	}
}
