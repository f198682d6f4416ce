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
	at    map[string]*Entry // by path: who changed it last
	below map[string]*Entry // by path: who changed something at it or below it last
}

func newBuilder(id string) *builder {
	b := &builder{job: Job{ID: id, Stopped: map[string]string{}, gone: map[Ref]bool{}}, fresh: true, ticks: map[[2]string]int{}}
	b.at, b.below = map[string]*Entry{}, map[string]*Entry{}
	return b
}

// enter takes the next entry, unless it was withdrawn.
func (b *builder) enter(e *Entry, withdrawn map[Ref]bool) {
	b.job.History = append(b.job.History, e)
	if withdrawn[e.Ref()] {
		b.job.gone[e.Ref()] = true
		return
	}
	if err := check(e.Body); err != nil {
		b.ill(e, err.Error())
		return
	}
	b.take(e)
}

func (b *builder) take(e *Entry) {
	j := &b.job
	switch x := e.Body.(type) {
	case Imported:
		b.replace(e, x)
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
		b.snag(x)
	case Accepted:
		j.done.Accepts = append(j.done.Accepts, x.Acceptance)
	case HandedOver:
		j.done.Handed = append(j.done.Handed, x.Handover)
	case Photographed:
		j.Photos = append(j.Photos, x)
	case Asked:
		b.asked(x)
	case Withdrawn:
		if !slices.ContainsFunc(j.History, func(o *Entry) bool { return o.Ref() == Ref{x.Log, x.Seq} }) {
			b.ill(e, fmt.Sprintf("there is no entry %v of this job to withdraw", Ref{x.Log, x.Seq}))
		}
	case Stopped:
		j.Stopped[e.Who+" "+x.Door] = x.Page
	}
}

// snag adds a snag or says how one is now. Two devices may both have called one S1 before they met: it is the same only
// when the same person found it at the same door at the same time. The later one gets another id, and none is lost.
func (b *builder) snag(x Snagged) {
	snags := b.job.done.Snags
	for i := range snags {
		if v := snags[i].Value; stem(snags[i].Key) == stem(x.ID) && v.Act == x.Act && v.Door == x.Door {
			b.job.done.Snags = with(snags, snags[i].Key, x.Snag)
			return
		}
	}
	id := free(x.ID, func(id string) bool { _, ok := snags.Get(id); return ok })
	b.job.done.Snags = with(snags, id, x.Snag)
}

// asked adds a question or its answer, and keeps two questions apart that got one id on two devices.
func (b *builder) asked(x Asked) {
	all := b.job.Asked
	if i := slices.IndexFunc(all, func(a Asked) bool {
		return stem(a.ID) == stem(x.ID) && a.Question == x.Question && a.Door == x.Door
	}); i >= 0 {
		x.ID = all[i].ID
		all[i] = x
		return
	}
	x.ID = free(x.ID, func(id string) bool { return slices.ContainsFunc(all, func(a Asked) bool { return a.ID == id }) })
	b.job.Asked = append(all, x)
}

// apart stands between an id and the number that keeps it apart from another of the same id.
const apart = "_"

func stem(id string) string {
	s, _, _ := strings.Cut(id, apart)
	return s
}

// free is the first of id, id_2, id_3 ... that is not taken.
func free(id string, taken func(string) bool) string {
	got := id
	for n := 2; taken(got); n++ {
		got = fmt.Sprintf("%s%s%d", stem(id), apart, n)
	}
	return got
}

// grown is the document as a tree.
func (b *builder) grown() (*document.Tree, error) {
	if b.tree == nil {
		tree, err := document.ReadTree(b.text)
		if err != nil {
			return nil, fmt.Errorf("there is no document that can be edited: %w", err)
		}
		b.tree = tree
	}
	return b.tree, nil
}

// replace puts an imported document in the place of what was there. When another device had changed that meanwhile, it is
// told.
func (b *builder) replace(e *Entry, x Imported) {
	if b.others(nil, e) && b.markNow() != x.Over {
		b.job.Clashes = append(b.job.Clashes, Clash{Kept: "the document that " + e.Who + " brought in", Lost: "what was changed elsewhere meanwhile"})
	}
	b.job.File = x.File
	b.text, b.tree, b.fresh = []byte(x.Document), nil, true
	b.at, b.below = map[string]*Entry{}, map[string]*Entry{}
	b.touch(nil, e)
}

// markNow is the mark of the document as it would be printed now.
func (b *builder) markNow() string {
	t, err := b.grown()
	if err != nil {
		return ""
	}
	text, err := t.Bytes()
	if err != nil {
		return ""
	}
	return markOf(text)
}

// edit changes the document. An edit whose writer did not know of the last change there, made on another device, clashes
// with it: the later one counts, and both are told. A field of an object that is gone is not set.
func (b *builder) edit(e *Entry, object, field, value, was string) {
	tree, err := b.grown()
	if err != nil {
		b.ill(e, err.Error())
		return
	}
	path := PathOf(object, field)
	others := b.others(path, e)
	before, err := changed(tree, object, field, value)
	switch {
	case err != nil && others:
		b.job.gone[e.Ref()] = true
		b.job.Clashes = append(b.job.Clashes, Clash{object, field, "", value})
		return
	case err != nil:
		b.ill(e, err.Error())
		return
	}
	if lines := strings.TrimSpace; others && lines(before) != lines(was) && lines(before) != lines(value) {
		b.job.Clashes = append(b.job.Clashes, Clash{object, field, value, before})
	}
	b.touch(path, e)
	b.fresh = false
}

// touch remembers who changed a path last.
func (b *builder) touch(path []string, e *Entry) {
	for i := range len(path) + 1 {
		b.below[strings.Join(path[:i], "/")] = e
	}
	b.at[strings.Join(path, "/")] = e
}

// others says whether somebody else was the last to change a path, something below it, or all that it is in.
func (b *builder) others(path []string, e *Entry) bool {
	if o := b.below[strings.Join(path, "/")]; o != nil && o.Log != e.Log {
		return true
	}
	for i := range path {
		if o := b.at[strings.Join(path[:i], "/")]; o != nil && o.Log != e.Log {
			return true
		}
	}
	return false
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
	b.job.gone[e.Ref()] = true
	b.job.Ill = append(b.job.Ill, fmt.Sprintf("entry %v by %s: %s", e, e.Who, why))
}

// finished is the job as it stands. What is added later leaves it as it is.
func (b *builder) finished() *Job {
	j := b.job
	if !b.fresh {
		text, err := b.tree.Bytes()
		if err != nil {
			j.Ill = append(slices.Clip(j.Ill), "the document cannot be written: "+err.Error())
		} else {
			b.text, b.fresh = text, true
		}
	}
	j.Document = b.text
	j.Ticks, j.Asked, j.Stopped, j.gone = slices.Clone(j.Ticks), slices.Clone(j.Asked), maps.Clone(j.Stopped), maps.Clone(j.gone)
	return &j
}
