package job

import (
	"reflect"
	"strings"

	"doorwright/cable"
	"doorwright/unit"

	"pgregory.net/rapid"
)

// anyDocument draws a document of any content a reader accepts, sensible or not: it walks the types, so that a new key
// is covered without a change here.
func anyDocument(t *rapid.T) *Document {
	var d Document
	draw(t, reflect.ValueOf(&d).Elem(), "", 0)
	return &d
}

var (
	anyText = rapid.OneOf(
		rapid.SampledFrom([]string{
			"a", "1", "no", "null", "~", "12 V", "1e3", "- x", "a: b", "#", "'", "\"", "<<", "*a", "&a", "!x",
		}),
		rapid.StringMatching(`[ -~äß°Ω€–\n]{1,20}`),
	)
	anyName = rapid.StringMatching(`[A-Za-z][A-Za-z0-9_-]{0,8}`)
	anyUnit = rapid.Float64Range(-1e6, 1e6)
)

func draw(t *rapid.T, v reflect.Value, one string, depth int) {
	switch x := v.Addr().Interface().(type) {
	case *unit.Size:
		if rapid.Bool().Draw(t, "metric") {
			*x = unit.MM2(rapid.Float64Range(0.01, 1000).Draw(t, "mm2"))
		} else {
			*x = unit.AWG(rapid.IntRange(0, 40).Draw(t, "gauge"))
		}
		return
	case *cable.FaradPerMetre:
		*x = cable.FaradPerMetre(rapid.IntRange(1, 1000).Draw(t, "pF")) * 1e-12
		return
	}
	switch v.Kind() {
	case reflect.String:
		words := anyText
		if one != "" {
			words = rapid.SampledFrom(strings.Split(one, "|"))
		}
		v.SetString(words.Draw(t, "text"))
	case reflect.Bool:
		v.SetBool(rapid.Bool().Draw(t, "flag"))
	case reflect.Int:
		v.SetInt(int64(rapid.IntRange(-5, 500).Draw(t, "number")))
	case reflect.Float64:
		v.SetFloat(anyUnit.Draw(t, "quantity"))
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		draw(t, v.Elem(), one, depth)
	case reflect.Slice:
		drawList(t, v, one, depth)
	case reflect.Struct:
		drawFields(t, v, depth)
	}
}

func drawList(t *rapid.T, v reflect.Value, one string, depth int) {
	n := rapid.IntRange(0, max(0, 3-depth)).Draw(t, "length")
	if n == 0 {
		return // nil: an empty list is written like none
	}
	v.Set(reflect.MakeSlice(v.Type(), n, n))
	used := map[string]bool{}
	for i := range n {
		e := v.Index(i)
		if key := e.Kind() == reflect.Struct && e.NumField() == 2 && e.Type().Field(0).Name == "Key"; !key {
			draw(t, e, one, depth+1)
			continue
		}
		name := anyName.Filter(func(s string) bool { return !used[s] }).Draw(t, "name")
		used[name] = true
		e.Field(0).SetString(name)
		draw(t, e.Field(1), "", depth+1)
	}
}

func drawFields(t *rapid.T, v reflect.Value, depth int) {
	if low := v.FieldByName("Low"); low.IsValid() && v.NumField() == 2 {
		a, b := anyUnit.Draw(t, "end"), anyUnit.Draw(t, "end")
		low.SetFloat(min(a, b))
		v.FieldByName("High").SetFloat(max(a, b))
		return
	}
	for i := range v.NumField() {
		f := v.Type().Field(i)
		if f.Tag.Get("yaml") == "-" || f.Tag.Get("need") == "" && !rapid.Bool().Draw(t, f.Name) {
			continue
		}
		draw(t, v.Field(i), f.Tag.Get("one"), depth)
	}
}
