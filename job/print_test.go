package job

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"doorwright/document"

	"go.yaml.in/yaml/v3"
	"pgregory.net/rapid"
)

func TestPrintedDocumentsReadBackTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anyDocument(t)
		text, err := Print(d)
		if err != nil {
			t.Fatal(err)
		}
		var back Document
		if _, problems := document.Read("printed.yaml", text, &back); len(problems) > 0 {
			t.Fatalf("%v\n%s", problems, text)
		}
		if !reflect.DeepEqual(*d, back) {
			again, _ := Print(&back)
			t.Fatalf("wrote\n%s\nread back as\n%s", text, again)
		}
	})
}

func TestPrintedExamplesMakeTheSameJob(t *testing.T) {
	for _, file := range files(t, "testdata/*.yaml") {
		t.Run(filepath.Base(file), func(t *testing.T) {
			j := mustRead(t, file)
			text, err := Print(j.Document)
			if err != nil {
				t.Fatal(err)
			}
			again, problems := Read("printed.yaml", text)
			if len(problems) > 0 {
				t.Fatalf("%v\n%s", problems, text)
			}
			if !reflect.DeepEqual(j, again) {
				t.Errorf("another job after printing:\n%s", text)
			}
			if twice, err := Print(again.Document); err != nil || string(twice) != string(text) {
				t.Errorf("printed differently the second time (%v):\n%s", err, twice)
			}
		})
	}
}

func TestDevicesOfWhichOnlyTheModelIsKnownPrintShort(t *testing.T) {
	text, err := Print(mustRead(t, "testdata/plain.yaml").Document)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"entry: reader-pulse\n", "- magnet-12\n", "- release-2\n", "fire: fire-interface\n"} {
		if !strings.Contains(string(text), want) {
			t.Errorf("%q is not in\n%s", want, text)
		}
	}
}

func TestJSONMakesTheSameJobAsYAML(t *testing.T) {
	for _, file := range files(t, "testdata/*.yaml") {
		t.Run(filepath.Base(file), func(t *testing.T) {
			var n yaml.Node
			if err := yaml.Unmarshal(readFile(t, file), &n); err != nil {
				t.Fatal(err)
			}
			j, problems := Read("job.json", []byte(asJSON(n.Content[0])))
			if len(problems) > 0 {
				t.Fatal(problems)
			}
			if want := mustRead(t, file); !reflect.DeepEqual(j, want) {
				t.Errorf("got %+v\nwant %+v", j, want)
			}
		})
	}
}

// asJSON writes a YAML document as JSON, keys in their order.
func asJSON(n *yaml.Node) string {
	var parts []string
	switch n.Kind {
	case yaml.MappingNode:
		for i := 0; i < len(n.Content); i += 2 {
			parts = append(parts, fmt.Sprintf("%s: %s", asJSON(n.Content[i]), asJSON(n.Content[i+1])))
		}
		return "{" + strings.Join(parts, ",\n") + "}"
	case yaml.SequenceNode:
		for _, c := range n.Content {
			parts = append(parts, asJSON(c))
		}
		return "[" + strings.Join(parts, ", ") + "]"
	}
	if n.Tag == "!!int" || n.Tag == "!!float" || n.Tag == "!!bool" {
		return n.Value
	}
	text, err := json.Marshal(n.Value)
	if err != nil {
		panic(err)
	}
	return string(text)
}

func TestCloneSharesNothingWithItsOriginal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anyDocument(t)
		c := d.Clone()
		if !reflect.DeepEqual(d, c) {
			t.Fatal("the clone differs")
		}
		seen := map[uintptr]string{}
		addresses(reflect.ValueOf(d), "d", func(p uintptr, path string) { seen[p] = path })
		addresses(reflect.ValueOf(c), "d", func(p uintptr, path string) {
			if first, shared := seen[p]; shared {
				t.Fatalf("%s of the clone is %s of the original", path, first)
			}
		})
	})
}

// addresses visits every pointer and list of a value.
func addresses(v reflect.Value, path string, visit func(p uintptr, path string)) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			visit(v.Pointer(), path)
			addresses(v.Elem(), path, visit)
		}
	case reflect.Slice:
		if v.Len() > 0 {
			visit(v.Pointer(), path)
		}
		for i := range v.Len() {
			addresses(v.Index(i), fmt.Sprintf("%s[%d]", path, i), visit)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			addresses(v.Field(i), path+"."+v.Type().Field(i).Name, visit)
		}
	}
}

func TestSchemaFileIsUpToDate(t *testing.T) {
	schema, err := Schema()
	if err != nil {
		t.Fatal(err)
	}
	golden(t, "schema.json", string(schema))
	if !json.Valid(schema) {
		t.Error("not JSON")
	}
}

func FuzzRead(f *testing.F) {
	for _, pattern := range []string{"testdata/*.yaml", "testdata/bad/*.yaml", "testdata/bad/*.json"} {
		found, err := filepath.Glob(pattern)
		if err != nil || len(found) == 0 {
			f.Fatalf("no files match %s (%v)", pattern, err)
		}
		for _, file := range found {
			data, err := os.ReadFile(file)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(data)
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		j, problems := Read("job.yaml", data)
		if (j == nil) != (len(problems) > 0) {
			t.Fatalf("job %v with problems %v", j, problems)
		}
		for _, p := range problems {
			if p.File != "job.yaml" || p.Found == "" && p.Want == "" {
				t.Errorf("no use to anybody: %+v", p)
			}
		}
		if j == nil {
			return
		}
		text, err := Print(j.Document)
		if err != nil {
			t.Fatal(err)
		}
		if again, problems := Read("job.yaml", text); len(problems) > 0 || !reflect.DeepEqual(j, again) {
			t.Fatalf("another job after printing (%v):\n%s", problems, text)
		}
	})
}
