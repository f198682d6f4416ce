package device

import (
	"embed"
	"fmt"
	"io/fs"
	"slices"
	"strconv"
	"sync"

	"doorwright/document"
)

//go:embed models/*.yaml
var modelFiles embed.FS

// Catalogue is an ordered collection of models by id. The models are shared, not copied: nobody changes them.
type Catalogue struct {
	models document.Map[*Model]
}

// Builtin is the catalogue of generic models, file by file in alphabetical order. They are read once: that takes longer
// than resolving a job.
func Builtin() Catalogue { return readBuiltin() }

var readBuiltin = sync.OnceValue(builtin)

// builtin reads the catalogue of generic models. It panics when one of them is broken; a test keeps that from happening.
func builtin() Catalogue {
	files, err := fs.Glob(modelFiles, "models/*.yaml")
	if err != nil {
		panic(fmt.Sprintf("device: %v", err))
	}
	var c Catalogue
	for _, file := range files {
		data, err := modelFiles.ReadFile(file)
		if err != nil {
			panic(fmt.Sprintf("device: %v", err))
		}
		var models document.Map[Model]
		if _, problems := document.Read(file, data, &models); len(problems) > 0 {
			panic(fmt.Sprintf("device: %v", problems))
		}
		more, flaws := c.With(models)
		if len(flaws) > 0 {
			panic(fmt.Sprintf("device: %s: %v", file, flaws))
		}
		c = more
	}
	return c
}

// Get is the model of that id.
func (c Catalogue) Get(id string) (*Model, bool) {
	m, ok := c.models.Get(id)
	if !ok {
		return nil, false
	}
	return *m, true
}

// IDs are the ids of all models, in order.
func (c Catalogue) IDs() []string { return c.models.Keys() }

// With is the catalogue with a user's models behind it, and what is wrong with them; the paths of the flaws start with
// the id. A model with flaws is left out, and so is one whose id is taken.
func (c Catalogue) With(user document.Map[Model]) (Catalogue, []Flaw) {
	with := Catalogue{models: slices.Clone(c.models)}
	var flaws []Flaw
	for i := range user {
		id, m := user[i].Key, &user[i].Value
		if _, taken := with.Get(id); taken {
			flaws = append(flaws, Flaw{
				Path: id, Found: strconv.Quote(id), Want: "is the id of another model; choose one of its own",
			})
			continue
		}
		wrong := Check(id, m)
		flaws = append(flaws, wrong...)
		if len(wrong) == 0 {
			with.models = append(with.models, document.Entry[*Model]{Key: id, Value: m})
		}
	}
	return with, flaws
}
