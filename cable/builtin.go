package cable

import (
	_ "embed"
	"slices"
	"sync"

	"doorwright/document"
)

//go:embed types.yaml
var typesYAML []byte

// Types lists the built-in cable types in the order of their file. The slice is the caller's; what its elements point
// to is shared and must not be changed.
func Types() []Type { return slices.Clone(builtIn()) }

// Find is the built-in type with an id.
func Find(id string) (Type, bool) {
	i := slices.IndexFunc(builtIn(), func(t Type) bool { return t.ID == id })
	if i < 0 {
		return Type{}, false
	}
	return builtIn()[i], true
}

// builtIn reads the file once. It is part of the program, so a fault in it is a fault of the program; a test reads it.
var builtIn = sync.OnceValue(func() []Type {
	var file struct {
		Types document.Map[Type] `yaml:"types" need:"the cable types"`
	}
	source, problems := document.Read("cable/types.yaml", typesYAML, &file)
	types := make([]Type, len(file.Types))
	for i, e := range file.Types {
		types[i] = e.Value
		types[i].ID = e.Key
		problems = append(problems, e.Value.Check(source, document.Path("types", e.Key))...)
	}
	if len(problems) > 0 {
		panic(problems)
	}
	return types
})
