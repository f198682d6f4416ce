package document

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"
)

// Map is a mapping from names to values that keeps the order of the document. It is read from a mapping and written
// as one, in order, in YAML and in JSON.
//
// A name has at most 32 letters, digits, "_" and "-", the first a letter, unless the type of the values has a method
// KeyText() (pattern, example string) that gives another regular expression for it.
type Map[T any] []Entry[T]

// Entry is one name of a Map with its value.
type Entry[T any] struct {
	Key   string
	Value T
}

// Get is the value of a name, to be read or changed in place.
func (m Map[T]) Get(key string) (*T, bool) {
	for i := range m {
		if m[i].Key == key {
			return &m[i].Value, true
		}
	}
	return nil, false
}

// Keys are the names in the order of the document.
func (m Map[T]) Keys() []string {
	keys := make([]string, len(m))
	for i, e := range m {
		keys[i] = e.Key
	}
	return keys
}

// MarshalYAML writes a mapping in the order of the entries.
func (m Map[T]) MarshalYAML() (any, error) {
	return nodeOf(reflect.ValueOf(m))
}

// MarshalJSON writes an object in the order of the entries.
func (m Map[T]) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, e := range m {
		if i > 0 {
			b.WriteByte(',')
		}
		key, err := json.Marshal(e.Key)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", e.Key, err)
		}
		value, err := json.Marshal(e.Value)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", e.Key, err)
		}
		b.Write(append(append(key, ':'), value...))
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// UnmarshalJSON reads back what MarshalJSON writes; documents of people go through Read.
func (m *Map[T]) UnmarshalJSON(data []byte) error {
	d := json.NewDecoder(bytes.NewReader(data))
	if t, err := d.Token(); err != nil || t != json.Delim('{') {
		return fmt.Errorf("not a mapping of names: %.40s", data)
	}
	var read Map[T]
	for d.More() {
		key, err := d.Token()
		if err != nil {
			return err
		}
		e := Entry[T]{Key: key.(string)} // encoding/json has checked that the keys of an object are strings
		if err := d.Decode(&e.Value); err != nil {
			return fmt.Errorf("%s: %w", e.Key, err)
		}
		read = append(read, e)
	}
	*m = read
	return nil
}

// mapping is what the reader and the schema need of any Map.
type mapping interface {
	add(key string) reflect.Value // appends an entry and gives its value, addressable until the next add
	valueType() reflect.Type
}

func (m *Map[T]) add(key string) reflect.Value {
	*m = append(*m, Entry[T]{Key: key})
	return reflect.ValueOf(&(*m)[len(*m)-1].Value).Elem()
}

func (m *Map[T]) valueType() reflect.Type { return reflect.TypeFor[T]() }
