package document

import (
	"bytes"
	"encoding/json"
	"reflect"
	"strings"
	"testing"

	"doorwright/unit"

	"pgregory.net/rapid"
)

func ids() *rapid.Generator[string] { return rapid.StringMatching(`[A-Za-z][A-Za-z0-9_-]{0,31}`) }

// texts are the hard ones for YAML: other types in disguise, blanks at the ends, several lines, odd characters.
func texts() *rapid.Generator[string] {
	return rapid.OneOf(
		rapid.SampledFrom([]string{
			"yes", "null", "~", "1.10", "0x1f", "2026-01-02", "a: b", "- a", "#", " a", "a ", "a\nb", "a\n", "\na", " a\n b",
			"a\n\n", "a\tb", "a\r\nb", "|", "\u2028", "\u0085", "\ufeff", "'", "\"", "*a", "&a", "!a", "%", "@", "<<", "=",
			"a\n b\nc\n", "\t", "\n", "\u007f", "a\u00a0", "---", "...", "😀", "\x00", "key: |\n  x", "a #b", "[", "{a}",
		}),
		rapid.String(),
	)
}

// mapOf is a Map of values, without the same name twice.
func mapOf[T any](t *rapid.T, label string, keys *rapid.Generator[string], value func() T) Map[T] {
	var m Map[T]
	for _, key := range rapid.SliceOfNDistinct(keys, 0, 4, rapid.ID).Draw(t, label) {
		m = append(m, Entry[T]{key, value()})
	}
	return m
}

func number[T ~float64](t *rapid.T, label string) T {
	return T(rapid.Float64().Draw(t, label))
}

func fittedOf(t *rapid.T) fitted {
	f := fitted{
		common: common{texts().Draw(t, "note"), rapid.Float64().Draw(t, "weight")},
		Lock:   lock{number[unit.Ampere](t, "draw"), rapid.SampledFrom([]side{"", "safe", "secure"}).Draw(t, "fail")},
		Length: number[unit.Metre](t, "length"), Core: unit.AWG(rapid.IntRange(0, 40).Draw(t, "gauge")),
		Side: rapid.SampledFrom([]side{"", "in", "out", "both"}).Draw(t, "side"), Escape: rapid.Bool().Draw(t, "escape"),
	}
	f.Supply = f.Supply.With(number[unit.Volt](t, "supply"))
	if rapid.Bool().Draw(t, "metric") {
		f.Core = unit.MM2(rapid.Float64Range(0.01, 100).Draw(t, "area"))
	}
	return f
}

func sheetOf(t *rapid.T, deep bool) sheet {
	s := sheet{
		Title: texts().Draw(t, "title"), Plain: texts().Draw(t, "plain"),
		Site:   site{texts().Draw(t, "town"), rapid.Int().Draw(t, "storeys")},
		Doors:  mapOf(t, "doors", ids(), func() fitted { return fittedOf(t) }),
		Labels: mapOf(t, "labels", rapid.StringMatching(`[!-~]{1,8}`), func() screw { return screw(texts().Draw(t, "s")) }),
		Kinds:  mapOf(t, "kinds", ids(), func() side { return "in" }),
		Runs: mapOf(t, "runs", ids(), func() Map[int] {
			return append(mapOf(t, "run", ids(), func() int { return rapid.Int().Draw(t, "core") }), Map[int]{}...)
		}),
		Small: rapid.Uint8().Draw(t, "small"), Tiny: rapid.Int8().Draw(t, "tiny"),
	}
	if notes := rapid.SliceOfN(texts(), 1, 3).Draw(t, "notes"); deep {
		s.Notes = notes
		inner := sheetOf(t, false)
		s.Deep = &inner
		rails := number[unit.Volt](t, "rails")
		s.Rails = &rails
		s.Lists = [][]unit.Ohm{{number[unit.Ohm](t, "r")}, nil}
	}
	return s
}

func TestWhatIsPrintedIsReadAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := sheetOf(t, true)
		text, err := Print(want)
		if err != nil {
			t.Fatal(err)
		}
		var got sheet
		if _, problems := Read("", text, &got); len(problems) > 0 {
			t.Fatalf("%v in\n%s", problems, text)
		}
		if !reflect.DeepEqual(got, want) {
			t.Fatalf("read\n%#v, want\n%#v, from\n%s", got, want, text)
		}
		again, err := Print(got)
		if err != nil || !bytes.Equal(text, again) {
			t.Fatalf("printed\n%s, then\n%s (%v)", text, again, err)
		}
	})
}

func TestPrintedForm(t *testing.T) {
	s := sheet{
		Title: "yes", Notes: []string{"one", "two\nlines"}, Plain: "x",
		Doors: Map[fitted]{{"D3", fitted{Lock: lock{0.5, "safe"}, Length: 42, Core: unit.MM2(0.5)}}, {"D1", fitted{}}},
	}
	const want = `title: "yes"
doors:
  D3:
    lock:
      draw: 0.5 A
      fail: safe
    length: 42 m
    core: 0.5 mm2
  D1:
    lock:
      draw: 0 A
notes:
  - one
  - |-
    two
    lines
plain: x
`
	got, err := Print(s)
	if err != nil || string(got) != want {
		t.Errorf("printed\n%s(%v), want\n%s", got, err, want)
	}
}

func TestPrintRefusesWhatIsNotText(t *testing.T) {
	if text, err := Print(sheet{Title: "\xff"}); err == nil {
		t.Errorf("printed %s", text)
	}
	if text, err := Print(Map[string]{{"a", "\xff"}}); err == nil {
		t.Errorf("printed %s", text)
	}
}

func TestMapKeepsItsOrderInJSON(t *testing.T) {
	m := Map[unit.Volt]{{"b", 2}, {"a", 1}, {"c", 3}}
	data, err := json.Marshal(m)
	if err != nil || string(data) != `{"b":2,"a":1,"c":3}` {
		t.Errorf("written %s (%v)", data, err)
	}
	var back Map[unit.Volt]
	if err := json.Unmarshal(data, &back); err != nil || !reflect.DeepEqual(back, m) {
		t.Errorf("read %v (%v), want %v", back, err, m)
	}
	if v, ok := back.Get("a"); !ok || *v != 1 {
		t.Errorf("a is %v", v)
	}
	if _, ok := back.Get("d"); ok {
		t.Error("d is there")
	}
	if got := strings.Join(back.Keys(), ""); got != "bac" {
		t.Errorf("names %s, want bac", got)
	}
	if err := json.Unmarshal([]byte(`[1]`), &back); err == nil {
		t.Error("a list is read as a Map")
	}
}
