package repo

import (
	"fmt"
	"go/ast"
	"go/token"
	"io/fs"
	"path"
	"slices"
	"strings"
	"testing"
)

func TestTestdataIsThere(t *testing.T) { holds(t, seeds) }

// seeds checks that every path or pattern of test data that a test names finds something, so that no loop over files is
// empty, and that no folder of test data belongs to a package without tests.
func seeds(_ *testing.T, tr tree) []string {
	var broken []string
	tested := map[string]bool{}
	for _, g := range tr.goes {
		if !g.test || g.dir == "internal/repo" { // this package writes of test data and has none
			continue
		}
		tested[g.dir] = true
		for _, pattern := range patterns(g) {
			if found, err := fs.Glob(tr.fsys, path.Join(g.dir, pattern)); err != nil || len(found) == 0 {
				broken = append(broken, fmt.Sprintf("%s uses %s, which finds no file: its test would pass without checking anything",
					g.path, pattern))
			}
		}
	}
	for _, tx := range tr.texts {
		if dir, _, is := strings.Cut(tx.path, "/testdata/"); is && !tested[dir] {
			broken = append(broken, tx.path+" belongs to a package without tests")
		}
	}
	return broken
}

// patterns lists the string literals of a file that begin with "testdata/", and joins of literals that begin with
// "testdata", as far as they are literal. Directives such as //go:embed are checked by the compiler.
func patterns(g goFile) []string {
	var all []string
	add := func(p string) {
		if p = path.Clean(p); !slices.Contains(all, p) {
			all = append(all, p)
		}
	}
	ast.Inspect(g.file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.BasicLit:
			if s := literal(n); n.Kind == token.STRING && (s == "testdata" || strings.HasPrefix(s, "testdata/")) {
				add(s)
			}
		case *ast.CallExpr:
			if name := called(n); name == "filepath.Join" || name == "path.Join" {
				if p := joined(n.Args); strings.HasPrefix(p, "testdata") {
					add(p)
				}
			}
		}
		return true
	})
	return all
}

// joined is the path that the leading literals of a call make.
func joined(args []ast.Expr) string {
	var parts []string
	for _, a := range args {
		l, is := a.(*ast.BasicLit)
		if !is {
			break
		}
		parts = append(parts, literal(l))
	}
	return path.Join(parts...)
}

func TestMissingTestdataIsFoundOut(t *testing.T) {
	test := func(code string) string { return "package good\nvar x = " + code + "\n" }
	tells(t, seeds, []sample{
		{"all found", map[string]string{
			"good/a_test.go":       test(`[]string{"testdata/*.yaml", filepath.Join("testdata", "sub", name), "no testdata/x"}`),
			"good/testdata/a.yaml": "a", "good/testdata/sub/b": "b",
		}, nil},
		{"an empty pattern", map[string]string{
			"good/a_test.go": test(`"testdata/*.yaml"`), "good/testdata/a.json": "a",
		}, []string{"good/a_test.go uses testdata/*.yaml, which finds no file"}},
		{"an empty join", map[string]string{
			"good/a_test.go": test(`filepath.Join("testdata", "bad", "*.yaml")`), "good/testdata/a.json": "a",
		}, []string{"uses testdata/bad/*.yaml, which finds no file"}},
		{"test data of nobody", map[string]string{"good/testdata/a": "a"}, []string{"good/testdata/a belongs to a package without tests"}},
	})
}
