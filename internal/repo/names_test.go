package repo

import (
	"fmt"
	"go/ast"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"
)

func TestNamesInArchitectureExist(t *testing.T) { holds(t, names) }

var symbolForm = regexp.MustCompile(`^([a-z]\w*)\.([A-Z]\w*(?:\.[A-Z]\w*)?)$`)

// names checks that everything in backticks in ARCHITECTURE.md is there: a path, an exported symbol with its package
// before it, or a module that go.mod requires.
func names(t *testing.T, tr tree) []string {
	symbols := exported(tr)
	gomod := tr.text(t, "go.mod")
	found := ticks(tr.text(t, "ARCHITECTURE.md"))
	if len(found) == 0 {
		return []string{"ARCHITECTURE.md names nothing in backticks"}
	}
	var broken []string
	for i, name := range found {
		if slices.Contains(found[:i], name) || tr.exists(name) || strings.Contains(gomod, "\t"+name+" v") {
			continue
		}
		if symbolForm.MatchString(name) {
			if !symbols[name] {
				broken = append(broken, fmt.Sprintf("ARCHITECTURE.md names %s, which is no exported symbol", name))
			}
			continue
		}
		broken = append(broken, fmt.Sprintf("ARCHITECTURE.md names %s, which is neither a path nor a required module", name))
	}
	return broken
}

// exported gathers the exported symbols of the tree: "wiring.Make", "job.Job", "job.Job.Assumed", "unit.Volt.String".
func exported(tr tree) map[string]bool {
	all := map[string]bool{}
	for _, g := range tr.goes {
		if g.test {
			continue
		}
		pkg := path.Base(g.dir)
		for _, d := range g.file.Decls {
			for _, name := range declared(d) {
				all[pkg+"."+name] = true
			}
		}
	}
	return all
}

// declared lists the names a declaration gives, fields and methods with their type before them.
func declared(d ast.Decl) []string {
	var all []string
	switch d := d.(type) {
	case *ast.FuncDecl:
		name := d.Name.Name
		if d.Recv != nil {
			name = receiver(d.Recv.List[0].Type) + "." + name
		}
		all = append(all, name)
	case *ast.GenDecl:
		for _, s := range d.Specs {
			switch s := s.(type) {
			case *ast.ValueSpec:
				for _, n := range s.Names {
					all = append(all, n.Name)
				}
			case *ast.TypeSpec:
				all = append(all, s.Name.Name)
				if st, is := s.Type.(*ast.StructType); is {
					for _, f := range st.Fields.List {
						for _, n := range f.Names {
							all = append(all, s.Name.Name+"."+n.Name)
						}
					}
				}
			}
		}
	}
	return all
}

// receiver is the name of a receiver's type, without its star and its parameters.
func receiver(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.StarExpr:
		return receiver(e.X)
	case *ast.IndexExpr:
		return receiver(e.X)
	case *ast.IndexListExpr:
		return receiver(e.X)
	case *ast.Ident:
		return e.Name
	}
	return ""
}

func TestNamesOfNothingAreFoundOut(t *testing.T) {
	code := "package good\ntype Job struct{ Doors int }\nfunc (*Job) Read() {}\nfunc Make() {}\nconst Limit = 1\n"
	tells(t, names, []sample{
		{"all there", map[string]string{
			"good/a.go": code, "go.mod": "module tiny\n\nrequire (\n\ta.org/x v1.0.0\n)\n",
			"ARCHITECTURE.md": "`good` `good/a.go` `good.Job.Doors` `good.Job.Read` `good.Make` `good.Limit` `a.org/x`",
		}, nil},
		{"a folder that is gone", map[string]string{"ARCHITECTURE.md": "`gone`"}, []string{"names gone, which is neither"}},
		{
			"symbols that are gone",
			map[string]string{"good/a.go": code, "ARCHITECTURE.md": "`good.Made` and `good.Job.Width`"},
			[]string{"good.Made, which is no exported symbol", "good.Job.Width, which"},
		},
		{"nothing named", map[string]string{"ARCHITECTURE.md": "plain"}, []string{"names nothing"}},
	})
}
