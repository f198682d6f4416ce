package journal

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"doorwright/document"
)

// builder makes the state of one job of its entries, one after the other.
type builder struct {
	job   Job
	text  []byte         // the document as it was imported or printed last
	tree  *document.Tree // with edits; nil while nobody has edited
	fresh bool           // text is the tree printed
	ticks map[[2]string]int
	last  map[[2]string]*Entry // by object and field: who changed it last
}

func newBuilder(id string) *builder {
	return &builder{job: Job{ID: id, Stopped: map[string]string{}}, fresh: true, ticks: map[[2]string]int{}, last: map[[2]string]*Entry{}}
}

// enter takes the next entry, unless it was withdrawn.
func (b *builder) enter(e *Entry, withdrawn map[place]bool) {
	b.job.History = append(b.job.History, e)
	if !withdrawn[place{e.Log, e.Seq}] {
		b.take(e)
	}
}

func (b *builder) take(e *Entry) {
	j := &b.job
	switch x := e.Body.(type) {
	case Imported:
		j.File = x.File
		b.text, b.tree, b.fresh, b.last = []byte(x.Document), nil, true, map[[2]string]*Entry{}
	case Edited:
		b.edit(e, x.Object, x.Field, x.Value, x.Was)
	case Removed:
		b.edit(e, x.Object, "", "", x.Was)
	case Planned:
		j.Plans = append(j.Plans, x)
	case Ticked:
		key := [2]string{x.Core.ID, x.End}
		if i, ok := b.ticks[key]; ok {
			j.Ticks[i] = x
		} else {
			b.ticks[key] = len(j.Ticks)
			j.Ticks = append(j.Ticks, x)
		}
	case Measured:
		j.done.Read = append(j.done.Read, x.Reading)
	case Tested:
		j.done.Tested = append(j.done.Tested, x.Test)
	case Sighted:
		j.done.Seen = append(j.done.Seen, x.Sight)
	case Fitted:
		j.done.Fitted = append(j.done.Fitted, x.Fitting)
	case Snagged:
		j.done.Snags = with(j.done.Snags, x.ID, x.Snag)
	case Accepted:
		j.done.Accepts = append(j.done.Accepts, x.Acceptance)
	case Photographed:
		j.Photos = append(j.Photos, x)
	case Asked:
		if i := slices.IndexFunc(j.Asked, func(a Asked) bool { return a.ID == x.ID }); i >= 0 {
			j.Asked[i] = x
		} else {
			j.Asked = append(j.Asked, x)
		}
	case Stopped:
		j.Stopped[e.Who+" "+x.Door] = x.Page
	}
}

// edit changes the document. An edit that did not know of the last one of the same field, by another device, clashes
// with it: the later one counts, and both are told.
func (b *builder) edit(e *Entry, object, field, value, was string) {
	if b.tree == nil {
		tree, err := document.ReadTree(b.text)
		if err != nil {
			b.ill(e, "there is no document that can be edited: "+err.Error())
			return
		}
		b.tree = tree
	}
	path := PathOf(object, field)
	before, _ := b.tree.Get(path...)
	key := [2]string{object, field}
	if l := b.last[key]; l != nil && l.Log != e.Log && strings.TrimSpace(before) != strings.TrimSpace(was) {
		b.job.Clashes = append(b.job.Clashes, Clash{object, field, value, before})
	}
	if err := b.tree.Set(value, path...); err != nil {
		b.ill(e, err.Error())
		return
	}
	b.last[key], b.fresh = e, false
}

// PathOf is the path of a field in the document.
func PathOf(object, field string) []string {
	var path []string
	if object != "" {
		path = strings.Split(object, "/")
	}
	if field != "" {
		path = append(path, field)
	}
	return path
}

func (b *builder) ill(e *Entry, why string) {
	b.job.Ill = append(b.job.Ill, fmt.Sprintf("entry %v by %s: %s", e, e.Who, why))
}

// finished is the job as it stands. What is added later leaves it as it is.
func (b *builder) finished() *Job {
	if !b.fresh {
		b.fresh = true
		text, err := b.tree.Bytes()
		if err != nil {
			b.job.Ill = append(b.job.Ill, "the document cannot be written: "+err.Error())
		} else {
			b.text = text
		}
	}
	j := b.job
	j.Document = b.text
	j.Ticks, j.Asked, j.Stopped = slices.Clone(j.Ticks), slices.Clone(j.Asked), maps.Clone(j.Stopped)
	return &j
}
