package job

import (
	"reflect"
	"slices"
)

// Apart are two documents without most of what is the same in both: of the objects of each kind, those stay that differ, that
// are named, and the first, so that no kind is left empty. What a change does to some of a thousand doors is told from them.
func Apart(a, b *Document, named []string) (x, y *Document) {
	before, after := *a, *b
	for i := range reflect.TypeFor[Document]().NumField() {
		was, is := reflect.ValueOf(&before).Elem().Field(i), reflect.ValueOf(&after).Elem().Field(i)
		if isMap(was.Type()) {
			stay := append(firstOf(was), append(firstOf(is), named...)...)
			s, t := others(was, is, stay), others(is, was, stay)
			was.Set(s)
			is.Set(t)
		}
	}
	return &before, &after
}

// isMap says that a field of a document is a list of objects by name.
func isMap(t reflect.Type) bool {
	return t.Kind() == reflect.Slice && t.Elem().Kind() == reflect.Struct && t.Elem().NumField() == 2 && t.Elem().Field(0).Name == "Key"
}

func firstOf(m reflect.Value) []string {
	if m.Len() == 0 {
		return nil
	}
	return []string{m.Index(0).Field(0).String()}
}

// others are the entries of m that o does not have as they are, and the named ones.
func others(m, o reflect.Value, named []string) reflect.Value {
	there := map[string]reflect.Value{}
	for i := range o.Len() {
		there[o.Index(i).Field(0).String()] = o.Index(i).Field(1)
	}
	some := reflect.MakeSlice(m.Type(), 0, 1)
	for i := range m.Len() {
		key, value := m.Index(i).Field(0).String(), m.Index(i).Field(1)
		same, known := there[key]
		if !known || slices.Contains(named, key) || !reflect.DeepEqual(value.Interface(), same.Interface()) {
			some = reflect.Append(some, m.Index(i))
		}
	}
	return some
}
