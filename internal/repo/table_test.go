package repo

import (
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// row is one package in the table of allowed imports.
type row struct {
	line     int
	pkg      string
	all      bool // may import everything below
	imports  []string
	testsAdd []string
}

// outside is one row of the table of modules from outside.
type outside struct {
	module string
	code   []string // packages that may import it
	tests  []string // packages whose tests may
	all    bool     // all tests may
}

var (
	ticked    = regexp.MustCompile("`([^`]*)`")
	everytest = regexp.MustCompile(`^\s*all\s*$`)
)

// cells splits a line of a table; nil for other lines and for the rule under the head.
func cells(line string) []string {
	line = strings.TrimSpace(line)
	if !strings.HasPrefix(line, "|") || strings.HasPrefix(line, "| ---") {
		return nil
	}
	return strings.Split(strings.Trim(line, "|"), "|")
}

func ticks(cell string) []string {
	var all []string
	for _, m := range ticked.FindAllStringSubmatch(cell, -1) {
		all = append(all, m[1])
	}
	return all
}

// tables reads the two tables of ARCHITECTURE.md.
func tables(t *testing.T, doc string) (rows []row, modules []outside) {
	t.Helper()
	head := ""
	for line := range strings.Lines(doc) {
		c := cells(line)
		switch {
		case c == nil:
			continue
		case len(ticks(c[0])) == 0 && len(ticks(strings.Join(c, ""))) == 0:
			head = strings.TrimSpace(c[0])
		case head == "line" && len(c) == 4:
			n, err := strconv.Atoi(strings.TrimSpace(c[0]))
			if err != nil || len(ticks(c[1])) != 1 {
				t.Fatalf("ARCHITECTURE.md: cannot read the row %q; it wants a number and one package", line)
			}
			everything := strings.TrimSpace(c[2]) == "everything below"
			rows = append(rows, row{n, ticks(c[1])[0], everything, ticks(c[2]), ticks(c[3])})
		case head == "module from outside" && len(c) == 4 && len(ticks(c[0])) == 1:
			modules = append(modules, outside{ticks(c[0])[0], ticks(c[1]), ticks(c[2]), everytest.MatchString(c[2])})
		default:
			t.Fatalf("ARCHITECTURE.md: cannot read the row %q of the table %q", line, head)
		}
	}
	if len(rows) == 0 {
		t.Fatal("ARCHITECTURE.md has no table of allowed imports")
	}
	return rows, modules
}
