package main

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"

	"doorwright/find"
)

// keptOpening is the file that the first questions at a door are kept in, so that the first one is asked before all that the
// door can show is worked out.
type keptOpening struct {
	Document string        `json:"document"` // what was read of job and door
	Opening  *find.Opening `json:"opening"`
}

// documentOf knows the document and the door again.
func (c *findCmd) documentOf(e *env) (string, error) {
	file := c.File
	if c.AsFound != "" {
		file = c.AsFound
	}
	if file == "-" {
		return "", errors.New("--opening needs a job in a file, since answers come from the standard input")
	}
	data, err := e.read(file)
	if err != nil {
		return "", err
	}
	h := sha256.New()
	fmt.Fprintf(h, "%t %s\n", c.AsFound != "", c.Door)
	h.Write(data)
	return hex.EncodeToString(h.Sum(nil)), nil
}

// open reads the opening that was kept of a document; nil when there is none, or one of another document.
func (c *findCmd) open(document string) (*find.Opening, error) {
	data, err := os.ReadFile(c.Opening)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, unread(c.Opening, err, "a file for --opening, or a name that is not there")
	}
	var k keptOpening
	if err := json.Unmarshal(data, &k); err != nil {
		return nil, fmt.Errorf("%s does not hold the first questions at a door (%w); name a file that is not there, or delete it", c.Opening, err)
	}
	if k.Document != document {
		return nil, nil
	}
	return k.Opening, nil
}

// keep works the opening of a finder out and writes it.
func (c *findCmd) keep(document string, f *find.Finder) error {
	o, err := f.Opening()
	if err != nil {
		return err
	}
	f.Begin(o)
	data, err := json.MarshalIndent(keptOpening{document, o}, "", "  ")
	if err != nil {
		return err
	}
	return save(c.Opening, append(data, '\n'))
}

// opened makes the finder. With an opening that was kept, the first question stands there before that.
func (c *findCmd) opened(e *env) (*find.Finder, error) {
	if c.Opening == "" {
		return c.finder(e)
	}
	document, err := c.documentOf(e)
	if err != nil {
		return nil, err
	}
	o, err := c.open(document)
	if err != nil {
		return nil, err
	}
	if o != nil && e.format == "text" && len(c.Read)+len(c.See) == 0 && c.Readings == "" {
		for _, b := range o.Before {
			e.page.label(0, "BEFORE", yellow, b)
		}
		e.page.label(0, "NEXT", bold, o.Says)
		e.page.say(0, dim, "Begin with it; what the answers mean is being worked out.")
		e.flush()
	}
	f, err := c.finder(e)
	if err != nil || f.Begin(o) {
		return f, err
	}
	return f, c.keep(document, f)
}
