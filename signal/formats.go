package signal

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"
	"sync"

	"doorwright/document"
)

//go:embed formats.yaml
var formatsYAML []byte

// mostFormats bounds a file of formats; every one is tried on a number.
const mostFormats = 64

// KeyText is the form of a format's name, which may be its number of bits.
func (Format) KeyText() (pattern, example string) {
	return `^[A-Za-z0-9][A-Za-z0-9_-]{0,31}$`, "site-34"
}

// ReadFormats reads a file of card formats in YAML or JSON, and gives all that is wrong in it:
//
//	formats:
//	  site-34:
//	    title: as on the cards of this site
//	    bits: 34
//	    fields: {facility: 2-17, card: 18-33}
//	    parity:
//	      - {bit: 1, sense: even, over: 2-17}
//	      - {bit: 34, sense: odd, over: 18-33}
func ReadFormats(file string, data []byte) ([]*Format, document.Problems) {
	var doc struct {
		Formats document.Map[Format] `yaml:"formats" need:"name the formats, each with title, bits and fields"`
	}
	source, problems := document.Read(file, data, &doc)
	if n := len(doc.Formats); n > mostFormats {
		return nil, append(problems, source.Problem("formats", fmt.Sprintf("%d formats", n),
			fmt.Sprintf("a file holds at most %d", mostFormats)))
	}
	unread := slices.Clone(problems)
	all := make([]*Format, len(doc.Formats))
	for i := range doc.Formats {
		all[i] = &doc.Formats[i].Value
		all[i].ID = doc.Formats[i].Key
		path := document.Path("formats", all[i].ID)
		if !slices.ContainsFunc(unread, func(p document.Problem) bool { return strings.HasPrefix(p.Where+".", path+".") }) {
			problems = append(problems, all[i].Check(source, path)...)
		} // what could not be read would only be reported a second time
	}
	if len(problems) > 0 {
		return nil, problems.Sorted()
	}
	return all, nil
}

// Formats lists the built-in formats in the order of their file. They are shared and must not be changed.
func Formats() []*Format { return append([]*Format(nil), builtIn()...) }

// builtIn reads the file once. It is part of the program, so a fault in it is a fault of the program; a test reads it.
var builtIn = sync.OnceValue(func() []*Format {
	all, problems := ReadFormats("signal/formats.yaml", formatsYAML)
	if len(problems) > 0 {
		panic(problems)
	}
	return all
})
