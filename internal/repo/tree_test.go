package repo

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"
	"unicode/utf8"
)

// tree is the repository as the rules see it: every text in it, its Go files parsed.
type tree struct {
	fsys   fs.FS
	module string // path of the Go module
	texts  []text // all files that are UTF-8, sorted by path
	goes   []goFile
}

type text struct {
	path string
	data string
}

// goFile is a parsed Go file. Those in folders named testdata are no part of the module and not here.
type goFile struct {
	text
	dir       string // the folder, which stands for the package: "cmd/doorwright"
	test      bool
	generated bool
	set       *token.FileSet
	file      *ast.File
}

// at says where a node stands, for messages.
func (g goFile) at(n ast.Node) string {
	return g.path + ":" + strconv.Itoa(g.set.Position(n.Pos()).Line)
}

// imports lists what the file imports.
func (g goFile) imports() []string {
	var all []string
	for _, spec := range g.file.Imports {
		all = append(all, literal(spec.Path))
	}
	return all
}

var moduleLine = regexp.MustCompile(`(?m)^module (\S+)$`)

// load reads a tree. What Git keeps for itself, and built things that .gitignore names, are left out.
func load(t *testing.T, fsys fs.FS) tree {
	t.Helper()
	tr := tree{fsys: fsys}
	err := fs.WalkDir(fsys, ".", func(p string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && (p == ".git" || p == ".cache"):
			return fs.SkipDir
		case !d.Type().IsRegular():
			return nil
		}
		data, err := fs.ReadFile(fsys, p)
		if err != nil {
			return err
		}
		if utf8.Valid(data) {
			tr.texts = append(tr.texts, text{p, string(data)})
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, tx := range tr.texts {
		if tx.path == "go.mod" {
			tr.module = moduleLine.FindStringSubmatch(tx.data)[1]
		}
		if strings.HasSuffix(tx.path, ".go") && !strings.Contains("/"+tx.path, "/testdata/") {
			tr.goes = append(tr.goes, parse(t, tx))
		}
	}
	if tr.module == "" || len(tr.goes) == 0 {
		t.Fatal("this is no tree of a Go module")
	}
	return tr
}

func parse(t *testing.T, tx text) goFile {
	t.Helper()
	set := token.NewFileSet()
	file, err := parser.ParseFile(set, tx.path, tx.data, parser.ParseComments|parser.SkipObjectResolution)
	if err != nil {
		t.Fatal(err)
	}
	return goFile{
		text: tx, dir: path.Dir(tx.path), test: strings.HasSuffix(tx.path, "_test.go"),
		generated: ast.IsGenerated(file), set: set, file: file,
	}
}

// text gives the content of a file that must be there.
func (tr tree) text(t *testing.T, p string) string {
	t.Helper()
	i := slices.IndexFunc(tr.texts, func(x text) bool { return x.path == p })
	if i < 0 {
		t.Fatalf("there is no %s", p)
	}
	return tr.texts[i].data
}

// packages lists the folders with Go files, sorted.
func (tr tree) packages() []string {
	var all []string
	for _, g := range tr.goes {
		all = append(all, g.dir)
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// exists says whether a path is there.
func (tr tree) exists(p string) bool {
	_, err := fs.Stat(tr.fsys, p)
	return fs.ValidPath(p) && err == nil
}

// literal is the text of a string literal.
func literal(l *ast.BasicLit) string {
	s, err := strconv.Unquote(l.Value)
	if err != nil {
		return ""
	}
	return s
}

// rule finds what breaks it in a tree, one line for each.
type rule func(t *testing.T, tr tree) []string

// holds checks a rule on the repository.
func holds(t *testing.T, r rule) {
	t.Helper()
	for _, broken := range r(t, load(t, os.DirFS("../.."))) {
		t.Error(broken)
	}
}

// sample is a tiny tree and what a rule must say about it: one text for each line, in order.
type sample struct {
	name  string
	files map[string]string
	says  []string
}

// tells checks a rule on samples. A go.mod and one harmless package are added to each.
func tells(t *testing.T, r rule, samples []sample) {
	t.Helper()
	for _, s := range samples {
		t.Run(s.name, func(t *testing.T) {
			files := fstest.MapFS{
				"go.mod":       {Data: []byte("module tiny\n\ngo 1.26\n")},
				"good/good.go": {Data: []byte("// Package good is harmless.\npackage good\n")},
			}
			for p, data := range s.files {
				files[p] = &fstest.MapFile{Data: []byte(data)}
			}
			got := r(t, load(t, files))
			if len(got) != len(s.says) {
				t.Fatalf("it says %d things: %q; want %d: %q", len(got), got, len(s.says), s.says)
			}
			for i, want := range s.says {
				if !strings.Contains(got[i], want) {
					t.Errorf("it says %q, want %q in it", got[i], want)
				}
			}
		})
	}
}
