package document

import (
	"reflect"
	"strconv"
	"strings"
	"testing"

	"doorwright/demo"

	"go.yaml.in/yaml/v3"
)

const treeSample = `# Head.
job: BTO
doors:
  staff:
    title: Staff door # inside
    locks: [{model: strike-12, handle: frees}]
  store: {title: Store}
`

func TestTreeSetsOneFieldAndKeepsTheRest(t *testing.T) {
	tree, err := ReadTree([]byte(treeSample))
	if err != nil {
		t.Fatal(err)
	}
	for _, set := range [][]string{
		{"Side door", "doors", "staff", "title"},
		{"[{model: magnet-12}]", "doors", "staff", "locks"},
		{"{model: contact-surface}", "doors", "store", "contact"},
		{"title: New", "doors", "new"},
		{"", "doors", "store", "title"},
		{"", "nowhere", "at", "all"},
	} {
		if err := tree.Set(set[0], set[1:]...); err != nil {
			t.Fatal(err)
		}
	}
	got, err := tree.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	want := `# Head.
job: BTO
doors:
  staff:
    title: Side door # inside
    locks: [{model: magnet-12}]
  store: {contact: {model: contact-surface}}
  new:
    title: New
`
	if string(got) != want {
		t.Errorf("got:\n%s\nwant:\n%s", got, want)
	}
	if was, err := tree.Get("doors", "staff", "locks"); err != nil || was != "[{model: magnet-12}]\n" {
		t.Errorf("locks are %q, %v", was, err)
	}
	if none, err := tree.Get("doors", "staff", "sounder"); err != nil || none != "" {
		t.Errorf("no sounder is %q, %v", none, err)
	}
}

func TestTreeSetsPlacesOfLists(t *testing.T) {
	tree, err := ReadTree([]byte("doors:\n  a:\n    exit: [x, {model: y}]\n"))
	if err != nil {
		t.Fatal(err)
	}
	for _, set := range [][]string{{"button", "doors", "a", "exit", "1"}, {"z", "doors", "a", "exit", "2", "model"}, {"w", "doors", "a", "exit", "3"}, {"", "doors", "a", "exit", "1"}} {
		if err := tree.Set(set[0], set[1:]...); err != nil {
			t.Fatal(err)
		}
	}
	if got, err := tree.Get("doors", "a", "exit"); err != nil || got != "[{model: z}, w]\n" {
		t.Errorf("%q, %v", got, err)
	}
	for _, wrong := range [][]string{{"doors", "a", "exit", "9"}, {"doors", "a", "exit", "9", "model"}, {"doors", "a", "exit", "first"}} {
		if err := tree.Set("x", wrong...); err == nil {
			t.Errorf("%v was set", wrong)
		}
	}
}

func TestCompareTellsFieldsThatDiffer(t *testing.T) {
	got, err := Compare([]byte(treeSample), []byte(`{"job": "BTO", "doors": {"store": {"title": "Store", "leaves": 2}, "staff": {"title": "Side door", "locks": [{"model": "strike-12", "handle": "frees"}]}}}`))
	if err != nil {
		t.Fatal(err)
	}
	want := []Change{
		{"doors.staff.title", []string{"doors", "staff", "title"}, "Staff door", "Side door"},
		{"doors.store.leaves", []string{"doors", "store", "leaves"}, "", "2"},
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("%+v", got)
	}
}

func TestTreeRefusesWhatCannotBeEdited(t *testing.T) {
	for text, says := range map[string]string{"": "empty", "- a": "mapping", "a: &x 1\nb: *x": "aliases", "a: [": "a"} {
		if _, err := ReadTree([]byte(text)); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v, should say %q", text, err, says)
		}
	}
	tree, err := ReadTree([]byte(treeSample))
	if err != nil {
		t.Fatal(err)
	}
	if err := tree.Set("x", "job", "title"); err == nil || !strings.Contains(err.Error(), "no mapping") {
		t.Errorf("a field of a text: %v", err)
	}
	if err := tree.Set("a: [", "doors", "staff", "title"); err == nil {
		t.Error("a value that is no YAML was taken")
	}
}

// Whatever is read prints to what reads the same, and setting a field to what it is changes nothing.
func FuzzTree(f *testing.F) {
	f.Add(treeSample, "title")
	f.Add(string(demo.Brackwater), "doors")
	f.Add("a: |\n  text\n  of lines\nb: {c: \"x\\ny\"}", "b")
	f.Fuzz(func(t *testing.T, text, field string) {
		tree, err := ReadTree([]byte(text))
		if err != nil {
			return
		}
		once, err := tree.Bytes()
		if err != nil {
			return // YAML that cannot be written again is refused when it is kept
		}
		again, err := ReadTree(once)
		if err != nil {
			t.Fatalf("%q prints as %q, which does not read: %v", text, once, err)
		}
		was, err := again.Get(field)
		if err != nil || was == "" {
			return
		}
		if err := again.Set(was, field); err != nil {
			return // a value that reads only beside its neighbours
		}
		if _, err := again.Bytes(); err != nil {
			t.Errorf("%q set to itself no longer prints: %v", field, err)
		}
	})
}

// Nothing stays nothing, however it is written and wherever it stands.
func TestNothingStaysNothing(t *testing.T) {
	tree, err := ReadTree([]byte("a: {x: , y: ~}\nb:\n"))
	if err != nil {
		t.Fatal(err)
	}
	text, err := tree.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	if changes, err := Compare([]byte("a: {x: null, y: }\nb: ~\n"), text); err != nil || len(changes) > 0 {
		t.Errorf("%q: %+v, %v", text, changes, err)
	}
	was, err := tree.Get("b")
	if err != nil {
		t.Fatal(err)
	}
	if err := tree.Set(was, "b"); err != nil {
		t.Errorf("%q cannot be set again: %v", was, err)
	}
	for _, odd := range []string{"? [a]\n: 1", "~: 1", "a: {<<: {b: 1}}"} {
		if _, err := ReadTree([]byte(odd)); err == nil {
			t.Errorf("%q was read", odd)
		}
	}
}

// valueOf is a node without its style and comments: mappings, lists, and words with their tags.
func valueOf(n *yaml.Node) any {
	switch n.Kind {
	case yaml.MappingNode:
		m := map[string]any{}
		for i := 0; i+1 < len(n.Content); i += 2 {
			if _, twice := m[n.Content[i].Value]; !twice {
				m[n.Content[i].Value] = valueOf(n.Content[i+1])
			}
		}
		return m
	case yaml.SequenceNode:
		l := []any{}
		for _, c := range n.Content {
			l = append(l, valueOf(c))
		}
		return l
	}
	if n.ShortTag() == "!!null" {
		return nil
	}
	return n.ShortTag() + " " + n.Value
}

// A field that is set reads back as what was put there, and nothing else is touched.
func FuzzTreeSet(f *testing.F) {
	f.Add(treeSample, "doors", "staff", "title", "Side door")
	f.Add(treeSample, "doors", "staff", "locks", "[{model: magnet-12}]")
	f.Add(string(demo.Brackwater), "doors", "visitor", "title", "A \"new\" one: two\n")
	f.Add("a: {x: , y: ~}\nb:\n", "a", "x", "y", "|\n  text\n")
	f.Fuzz(func(t *testing.T, text, one, two, three, value string) {
		tree, err := ReadTree([]byte(text))
		if err != nil {
			return
		}
		if _, err := tree.Bytes(); err != nil {
			return // it could not be written before
		}
		put, err := plainNode([]byte(value))
		if value == "" || err != nil {
			return
		}
		path := []string{one, two, three}
		before := valueOf(tree.root)
		if err := tree.Set(value, path...); err != nil {
			return
		}
		written, err := tree.Bytes()
		if err != nil {
			return // a text that cannot be written is told before anything is kept
		}
		again, err := ReadTree(written)
		if err != nil {
			t.Fatalf("%q with %q set at %q prints as %q, which does not read: %v", text, value, path, written, err)
		}
		want := withValue(before, valueOf(put), path)
		if got := valueOf(again.root); !reflect.DeepEqual(got, want) {
			t.Errorf("%q with %q set at %q reads as %v, not %v", text, value, path, got, want)
		}
	})
}

// withValue is a shape with a value at a path.
func withValue(in, value any, path []string) any {
	if len(path) == 0 {
		return value
	}
	switch in := in.(type) {
	case nil:
		return map[string]any{path[0]: withValue(nil, value, path[1:])}
	case map[string]any:
		in[path[0]] = withValue(in[path[0]], value, path[1:])
	case []any:
		i, err := strconv.Atoi(path[0])
		if err != nil || i < 1 {
			return in
		}
		if i == len(in)+1 {
			return append(in, withValue(nil, value, path[1:]))
		}
		in[i-1] = withValue(in[i-1], value, path[1:])
	}
	return in
}

// A list of numbers in brackets is JSON as well as YAML, and stays a list of plain numbers.
func TestNumbersInBracketsStayPlain(t *testing.T) {
	tree, err := ReadTree([]byte("a: 1\n"))
	if err != nil {
		t.Fatal(err)
	}
	if err := tree.Set("[1, 2, 0.5, 1e3]", "released"); err != nil {
		t.Fatal(err)
	}
	got, err := tree.Bytes()
	if want := "a: 1\nreleased:\n  - 1\n  - 2\n  - 0.5\n  - 1e3\n"; err != nil || string(got) != want {
		t.Errorf("%q, %v, want %q", got, err, want)
	}
}

// In flow style a value stands behind its key in one line, and reads back the same.
func TestFlowIsOneLineOfTheSameValue(t *testing.T) {
	for value, want := range map[string]string{
		"- release-2\n- model: release-2\n  side: unsecured\n": "[release-2, {model: release-2, side: unsecured}]",
		"{a: [1, 2]}": "{a: [1, 2]}",
		"1 kohm":      "1 kohm",
		"a: b: c":     "a: b: c", // no YAML
	} {
		if got := Flow(value); got != want {
			t.Errorf("%q in flow style is %q, not %q", value, got, want)
		}
	}
}
