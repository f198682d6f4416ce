package journal

import (
	"bytes"
	"encoding/json"
	"fmt"
	"time"

	"golang.org/x/mod/sumdb/tlog"
)

// Entry is one thing that was written.
type Entry struct {
	Log   string // the device's log
	Seq   int64  // place in the log, from 0
	Clock int64  // above that of every entry its writer knew (Lamport): orders entries of different devices
	At    time.Time
	Who   string // initials
	Prev  string // hash of the entry before; empty for the first
	Body  Body
}

// written is an entry as it is kept. The order of its fields is that of the bytes, which are what is hashed.
type written struct {
	Log   string          `json:"log"`
	Seq   int64           `json:"seq"`
	Clock int64           `json:"clock"`
	At    string          `json:"at"`
	Who   string          `json:"who"`
	Prev  string          `json:"prev"`
	Kind  string          `json:"kind"`
	Body  json.RawMessage `json:"body"`
}

// mostEntry bounds one entry. Photos are kept apart.
const mostEntry = 20 << 20

// bytes writes the entry.
func (e *Entry) bytes() ([]byte, error) {
	kind, err := kindOf(e.Body)
	if err != nil {
		return nil, err
	}
	body, err := encode(e.Body)
	if err != nil {
		return nil, err
	}
	raw, err := json.Marshal(written{e.Log, e.Seq, e.Clock, e.At.UTC().Format(time.RFC3339), e.Who, e.Prev, kind, body})
	switch {
	case err != nil:
		return nil, err
	case len(raw) > mostEntry:
		return nil, fmt.Errorf("an entry of %d MiB is too large: at most %d", len(raw)>>20, mostEntry>>20)
	}
	return raw, checkText(raw)
}

// readEntry reads what bytes wrote, now or in an earlier version: a body may lack what was added to its kind since. It errs
// on anything else than the one way to write an entry.
func readEntry(raw []byte) (*Entry, error) {
	if len(raw) > mostEntry {
		return nil, fmt.Errorf("an entry of %d MiB is too large", len(raw)>>20)
	}
	d := json.NewDecoder(bytes.NewReader(raw))
	d.DisallowUnknownFields()
	var w written
	if err := d.Decode(&w); err != nil {
		return nil, fmt.Errorf("an entry cannot be read: %w", err)
	}
	at, err := time.Parse(time.RFC3339, w.At)
	if err != nil {
		return nil, fmt.Errorf("an entry has no time: %w", err)
	}
	body, err := decode(w.Kind, w.Body)
	if err != nil {
		return nil, err
	}
	w.At = at.UTC().Format(time.RFC3339)
	if again, err := json.Marshal(w); err != nil || !bytes.Equal(again, raw) {
		return nil, fmt.Errorf("entry %d of %s is not written as entries are", w.Seq, w.Log)
	}
	return &Entry{w.Log, w.Seq, w.Clock, at, w.Who, w.Prev, body}, nil
}

// Job is the id of the job that the entry is about; empty for the workspace.
func (e *Entry) Job() string { return e.Body.about() }

// Ref names the entry.
func (e *Entry) Ref() Ref { return Ref{e.Log, e.Seq} }

func hashOf(raw []byte) string { return tlog.RecordHash(raw).String() }
