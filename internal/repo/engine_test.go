package repo

import (
	"fmt"
	"go/ast"
	"slices"
	"strings"
	"testing"
)

func TestEngineTouchesNoWorld(t *testing.T) { holds(t, engine) }

// worldly lists what the engine must not import, each with everything below it, and why.
func worldly() []struct{ pkg, why string } {
	const (
		outside = "files, processes and networks are the command's; the engine takes values and gives values"
		same    = "the same input must give the same output to the last digit"
		quiet   = "the engine says things in its results, not on a stream beside them"
	)
	return []struct{ pkg, why string }{
		{"os", outside},
		{"net", outside},
		{"syscall", outside},
		{"plugin", outside},
		{"database/sql", outside},
		{"path/filepath", outside},
		{"io/ioutil", outside},
		{"testing", "it belongs to tests"},
		{"time", same + "; a clock differs each time, and durations are unit.Second"},
		{"math/rand", same},
		{"crypto/rand", same},
		{"hash/maphash", same},
		{"log", quiet},
		{"expvar", quiet},
		{"unsafe", "nothing here is worth it"},
	}
}

// isEngine says whether a package is of the engine: below what keeps, shows and serves.
func isEngine(dir string) bool {
	first, _, _ := strings.Cut(dir, "/")
	return !slices.Contains([]string{"cmd", "internal", "journal", "web", "serve"}, first)
}

// engine checks that packages of the engine import nothing of the world, print nothing, and start nothing at init.
func engine(_ *testing.T, tr tree) []string {
	var broken []string
	for _, g := range tr.goes {
		if g.test || !isEngine(g.dir) {
			continue
		}
		for _, path := range g.imports() {
			for _, w := range worldly() {
				if path == w.pkg || strings.HasPrefix(path, w.pkg+"/") {
					broken = append(broken, fmt.Sprintf("%s imports %s: %s", g.path, path, w.why))
				}
			}
		}
		broken = append(broken, loud(g)...)
	}
	return broken
}

// loud finds prints to the process's own streams, and init functions.
func loud(g goFile) []string {
	var broken []string
	ast.Inspect(g.file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.FuncDecl:
			if n.Recv == nil && n.Name.Name == "init" {
				broken = append(broken, g.at(n)+" has an init function: nothing registers itself, lists stand in one visible place")
			}
		case *ast.CallExpr:
			if name := called(n); slices.Contains([]string{"fmt.Print", "fmt.Printf", "fmt.Println", "print", "println"}, name) {
				broken = append(broken, g.at(n)+" calls "+name+": the engine says things in its results, not on a stream")
			}
		}
		return true
	})
	return broken
}

// called is the name of the function in a call as it is written: "fmt.Println", "len"; empty for anything longer.
func called(c *ast.CallExpr) string {
	switch f := c.Fun.(type) {
	case *ast.Ident:
		return f.Name
	case *ast.SelectorExpr:
		if x, is := f.X.(*ast.Ident); is {
			return x.Name + "." + f.Sel.Name
		}
	}
	return ""
}

func TestWorldInTheEngineIsFoundOut(t *testing.T) {
	tells(t, engine, []sample{
		{"pure", map[string]string{"good/a.go": "package good\nimport _ \"math\"\n"}, nil},
		{"a disk", map[string]string{"good/a.go": "package good\nimport _ \"os/exec\"\n"}, []string{"good/a.go imports os/exec: files"}},
		{"a clock", map[string]string{"good/a.go": "package good\nimport _ \"time\"\n"}, []string{"good/a.go imports time: the same"}},
		{"chance", map[string]string{"good/a.go": "package good\nimport _ \"math/rand/v2\"\n"}, []string{"math/rand/v2"}},
		{"a clock in a test or the command", map[string]string{
			"good/a_test.go": "package good\nimport _ \"time\"\n", "cmd/top/a.go": "package main\nimport _ \"time\"\n",
		}, nil},
		{
			"a print",
			map[string]string{"good/a.go": "package good\nimport \"fmt\"\nfunc f() {\n\tfmt.Println(1)\n}\n"},
			[]string{"good/a.go:4 calls fmt.Println"},
		},
		{"an init", map[string]string{"good/a.go": "package good\nfunc init() {}\n"}, []string{"good/a.go:2 has an init function"}},
	})
}
