package job

import (
	"reflect"
	"testing"

	"pgregory.net/rapid"
)

// TestDocumentsWithSlipsNeverPanic puts wrong words and figures into good documents. What comes out is a whole job or
// problems, never half of one.
func TestDocumentsWithSlipsNeverPanic(t *testing.T) {
	var examples []*Document
	for _, file := range files(t, "testdata/*.yaml") {
		examples = append(examples, mustRead(t, file).Document)
	}
	good, bad := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom(examples).Draw(t, "example").Clone()
		var spots []reflect.Value
		leaves(reflect.ValueOf(d).Elem(), &spots)
		var words []string
		for _, s := range spots {
			if s.Kind() == reflect.String {
				words = append(words, s.String())
			}
		}
		words = append(words, "", "nowhere", "PS1/9", "C1/0", "magnet-12", "exit-button", "supply-24-5", "board-24-8")
		for range rapid.IntRange(1, 3).Draw(t, "slips") {
			slip(t, rapid.SampledFrom(spots).Draw(t, "spot"), words)
		}
		j, problems := Resolve(d, nil)
		if (j == nil) != (len(problems) > 0) {
			t.Fatalf("job %v with problems %v", j, problems)
		}
		if j == nil {
			bad++
			return
		}
		good++
		if missing := incomplete(j); missing != "" {
			t.Fatalf("%s is incomplete though nothing was wrong", missing)
		}
	})
	if good == 0 || bad == 0 {
		t.Errorf("%d good documents, %d bad ones: some of both are needed", good, bad)
	}
}

// TestOneSlipAnywhereNeverPanics tries every spot of the examples in turn.
func TestOneSlipAnywhereNeverPanics(t *testing.T) {
	for _, file := range files(t, "testdata/*.yaml") {
		example := mustRead(t, file).Document
		var spots []reflect.Value
		leaves(reflect.ValueOf(example.Clone()).Elem(), &spots)
		if len(spots) < 50 {
			t.Fatalf("%s has only %d spots", file, len(spots))
		}
		for i := range spots {
			for _, wrong := range wrongValues(spots[i].Type()) {
				d := example.Clone()
				var again []reflect.Value
				leaves(reflect.ValueOf(d).Elem(), &again)
				again[i].Set(wrong)
				if j, problems := Resolve(d, nil); (j == nil) != (len(problems) > 0) || j != nil && incomplete(j) != "" {
					text, _ := Print(d)
					t.Errorf("job %v with problems %v of\n%s", j, problems, text)
				}
			}
		}
	}
}

// wrongValues are values that hardly any spot of a type can have.
func wrongValues(of reflect.Type) []reflect.Value {
	wrong := []reflect.Value{reflect.Zero(of)}
	for _, v := range []any{"nowhere", -1.0, 1e9, -1, 99, true} {
		if x := reflect.ValueOf(v); x.Kind() == of.Kind() {
			wrong = append(wrong, x.Convert(of))
		}
	}
	return wrong
}

// leaves gathers the texts, figures, flags and lists of a document.
func leaves(v reflect.Value, spots *[]reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			*spots = append(*spots, v)
			leaves(v.Elem(), spots)
		}
	case reflect.Slice:
		if v.Len() > 0 {
			*spots = append(*spots, v)
		}
		for i := range v.Len() {
			leaves(v.Index(i), spots)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Field(i).CanSet() {
				leaves(v.Field(i), spots)
			}
		}
	default:
		*spots = append(*spots, v)
	}
}

// slip changes one spot: another word of the document, another figure, a list or a device left out.
func slip(t *rapid.T, v reflect.Value, words []string) {
	switch v.Kind() {
	case reflect.String:
		v.SetString(rapid.SampledFrom(words).Draw(t, "word"))
	case reflect.Float64:
		v.SetFloat(rapid.SampledFrom([]float64{-1, 0, 1, 12, 1e9}).Draw(t, "figure"))
	case reflect.Int:
		v.SetInt(int64(rapid.IntRange(-1, 9).Draw(t, "number")))
	case reflect.Bool:
		v.SetBool(!v.Bool())
	default:
		v.SetZero()
	}
}

// incomplete names the first thing of a job that lacks a part every later step counts on; empty when all is there.
func incomplete(j *Job) string {
	all := []*Fitted{}
	for _, s := range j.Supplies {
		for _, f := range []*Fitted{&s.Fitted, s.Battery, s.Board, s.Fire, s.Reset} {
			if f != nil {
				all = append(all, f)
			}
		}
	}
	for _, c := range j.Controllers {
		all = append(all, &c.Fitted)
		if c.Feed.Supply == nil {
			return c.ID
		}
	}
	for _, d := range j.Doors {
		all = append(all, d.Fitted()...)
		if d.Controller == nil || d.Channel < 1 || d.Channel > len(d.Controller.Settings.Channels) || len(d.Locks) == 0 {
			return d.ID
		}
	}
	for _, f := range all {
		if f.Model == nil || f.Place == nil {
			return f.ID
		}
	}
	for _, r := range j.Runs {
		if r.Type == nil || r.From == nil || r.To == nil || !(r.Length() > 0) {
			return r.ID
		}
	}
	return ""
}
