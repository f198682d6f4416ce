package repo

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"
)

func TestImportsFollowTheTable(t *testing.T) { holds(t, imports) }

// imports checks the table of allowed imports against itself, and the tree against the table.
func imports(t *testing.T, tr tree) []string {
	rows, modules := tables(t, tr.text(t, "ARCHITECTURE.md"))
	lines := map[string]int{}
	for _, r := range rows {
		lines[r.pkg] = r.line
	}
	broken := points(rows, lines)
	broken = append(broken, required(tr.text(t, "go.mod"), modules)...)
	for _, p := range tr.packages() {
		if _, listed := lines[p]; !listed {
			broken = append(broken, p+": the package is not in the table of allowed imports of ARCHITECTURE.md")
		}
	}
	for _, g := range tr.goes {
		i := slices.IndexFunc(rows, func(r row) bool { return r.pkg == g.dir })
		if i < 0 {
			continue
		}
		for _, path := range g.imports() {
			if ours, is := strings.CutPrefix(path, tr.module+"/"); is {
				if !rows[i].allows(ours, g.test, lines) {
					broken = append(broken, fmt.Sprintf("%s imports %s: the table of ARCHITECTURE.md does not allow it; "+
						"a package imports only from lines below its own, so that it can be read without what is above it", g.path, ours))
				}
			} else if strings.Contains(firstOf(path), ".") && !allowedOutside(modules, path, g) {
				broken = append(broken, fmt.Sprintf("%s imports %s: the table of modules from outside in ARCHITECTURE.md does not allow "+
					"it; each one is a thing to keep up with, so it comes with a reason", g.path, path))
			}
		}
	}
	return broken
}

func (r row) allows(ours string, test bool, lines map[string]int) bool {
	line, listed := lines[ours]
	return listed && r.all && line < r.line || slices.Contains(r.imports, ours) ||
		test && (ours == r.pkg || slices.Contains(r.testsAdd, ours))
}

// points checks that the table itself points downwards, and names only packages it lists.
func points(rows []row, lines map[string]int) []string {
	var broken []string
	for _, r := range rows {
		for _, to := range slices.Concat(r.imports, r.testsAdd) {
			line, listed := lines[to]
			if !listed {
				broken = append(broken, fmt.Sprintf("ARCHITECTURE.md: %s may import %s, which has no row", r.pkg, to))
			} else if line >= r.line {
				broken = append(broken, fmt.Sprintf("ARCHITECTURE.md: %s on line %d may import %s on line %d, which is not below it",
					r.pkg, r.line, to, line))
			}
		}
	}
	return broken
}

var directRequire = regexp.MustCompile(`(?m)^(?:require |\t)(\S+) v\S+$`)

// required checks that go.mod asks for nothing that the table of modules does not list. (Indirect ones end in a comment.)
func required(gomod string, modules []outside) []string {
	var broken []string
	for _, m := range directRequire.FindAllStringSubmatch(gomod, -1) {
		if !slices.ContainsFunc(modules, func(o outside) bool { return o.module == m[1] }) {
			broken = append(broken, "go.mod: "+m[1]+" is not in the table of modules from outside in ARCHITECTURE.md")
		}
	}
	return broken
}

func allowedOutside(modules []outside, path string, g goFile) bool {
	return slices.ContainsFunc(modules, func(o outside) bool {
		return (path == o.module || strings.HasPrefix(path, o.module+"/")) &&
			(slices.Contains(o.code, g.dir) || g.test && (o.all || slices.Contains(o.tests, g.dir)))
	})
}

func firstOf(path string) string {
	first, _, _ := strings.Cut(path, "/")
	return first
}

func TestImportsAreFoundOut(t *testing.T) {
	const table = "| line | package | may import | its tests also |\n| --- | --- | --- | --- |\n" +
		"| 0 | `good` | | |\n| 1 | `mid` | `good` | |\n| 1 | `side` | `good` | |\n| 2 | `cmd/top` | everything below | |\n" +
		"\n| module from outside | may be imported by | in tests of | for |\n| --- | --- | --- | --- |\n" +
		"| `a.org/x` | `mid` | | a reason |\n| `a.org/t` | | all | another |\n"
	with := func(files ...string) map[string]string {
		m := map[string]string{"ARCHITECTURE.md": table}
		for i := 0; i < len(files); i += 2 {
			m[files[i]] = files[i+1]
		}
		return m
	}
	tells(t, imports, []sample{
		{"downwards is fine", with(
			"mid/a.go", "package mid\nimport _ \"tiny/good\"\nimport _ \"a.org/x/sub\"\n",
			"mid/a_test.go", "package mid_test\nimport _ \"tiny/mid\"\nimport _ \"a.org/t\"\n",
			"cmd/top/a.go", "package main\nimport _ \"tiny/mid\"\n"), nil},
		{"a package without a row", with("new/a.go", "package new\n"), []string{"new: the package is not in the table"}},
		{"upwards", with("mid/a.go", "package mid\nimport _ \"tiny/cmd/top\"\n"), []string{"mid/a.go imports cmd/top"}},
		{"sideways", with("mid/a.go", "package mid\nimport _ \"tiny/side\"\n"), []string{"mid/a.go imports side"}},
		{"a test upwards", with("good/a_test.go", "package good\nimport _ \"tiny/mid\"\n"), []string{"good/a_test.go imports mid"}},
		{
			"a module from outside in another package", with("side/a.go", "package side\nimport _ \"a.org/x\"\n"),
			[]string{"side/a.go imports a.org/x"},
		},
		{"a module of tests in code", with("side/a.go", "package side\nimport _ \"a.org/t\"\n"), []string{"side/a.go imports a.org/t"}},
		{
			"a module nobody listed", with("go.mod", "module tiny\n\nrequire (\n\ta.org/n v1.0.0\n\ta.org/i v1.0.0 // indirect\n)\n"),
			[]string{"go.mod: a.org/n is not in the table"},
		},
		{
			"a table that points sideways and into the void",
			map[string]string{"ARCHITECTURE.md": "| line | package | may import | its tests also |\n" +
				"| 0 | `good` | `gone` | |\n| 0 | `side` | `good` | |\n"},
			[]string{"good may import gone, which has no row", "side on line 0 may import good on line 0"},
		},
	})
}
