package mend

import (
	"cmp"
	"runtime"
	"slices"
	"strings"
	"sync"

	"doorwright/document"
	"doorwright/job"
	"doorwright/proof"
)

// mostMends is how many mends are kept for one finding.
const mostMends = 3

// All looks for mends of every finding of an examined job and enters them, best first. A finding that none was found
// for keeps an empty list. Of a job of which only some doors were examined, a change is examined at these doors and at all
// that it makes share copper with them.
func (x *Examiner) All(j *job.Job, e *Examination) {
	tried := x.tryAll(j, e)
	for i := range e.Findings {
		f := &e.Findings[i]
		f.Mends = []proof.Mend{}
		var good []proof.Mend
		for _, t := range tried {
			if t.candidate.serves(f.Key()) && t.mends(f.Key()) {
				good = append(good, t.candidate.mend(j))
			}
		}
		slices.SortStableFunc(good, func(a, b proof.Mend) int { return cmp.Compare(a.Cost, b.Cost) })
		f.Mends = append(f.Mends, good[:min(len(good), mostMends)]...)
	}
}

// trial is a candidate, what was found in the job changed by it, and before that at the same doors; after is nil when the
// changed job is no job.
type trial struct {
	candidate     *candidate
	before, after map[string]bool
}

// mends says that a finding is gone and none has come.
func (t trial) mends(key string) bool {
	if t.after == nil || t.after[key] {
		return false
	}
	for k := range t.after {
		if !t.before[k] {
			return false
		}
	}
	return true
}

// tryAll gathers the candidates for all findings and examines each changed job once, on all processors.
func (x *Examiner) tryAll(j *job.Job, e *Examination) []trial {
	all := gather(j, e)
	trials := make([]trial, len(all))
	next := make(chan int)
	var wg sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for i := range next {
				trials[i] = x.try(j, e, all[i])
			}
		})
	}
	for i := range all {
		next <- i
	}
	close(next)
	wg.Wait()
	return trials
}

// try examines the job changed by a candidate.
func (x *Examiner) try(j *job.Job, e *Examination, c *candidate) trial {
	changed := c.changed(j)
	if changed == nil {
		return trial{candidate: c}
	}
	after := x.again(changed, e)
	return trial{c, x.before(j, e, after), keys(after.Findings)}
}

// again examines a changed job as far as the job was examined.
func (x *Examiner) again(changed *job.Job, e *Examination) *Examination {
	if e.Partial() {
		return x.ExamineAround(changed, e.doorIDs())
	}
	return x.Examine(changed)
}

// before is what was found before a change at all doors that were examined after it, which may be more.
func (x *Examiner) before(j *job.Job, e, after *Examination) map[string]bool {
	known := keys(e.Findings)
	if !e.Partial() {
		return known
	}
	was := e.doorIDs()
	more := slices.DeleteFunc(after.doorIDs(), func(id string) bool { return slices.Contains(was, id) })
	if len(more) > 0 {
		for _, f := range x.ExamineAround(j, more).Findings {
			known[f.Key()] = true
		}
	}
	return known
}

// changed is the job changed by a candidate, nil when it is no job then.
func (c *candidate) changed(j *job.Job) *job.Job {
	doc := j.Document.Clone()
	for _, e := range c.edits {
		e.apply(doc)
	}
	changed, problems := job.Resolve(doc, nil)
	if len(problems) > 0 {
		return nil
	}
	return changed
}

func keys(findings []proof.Finding) map[string]bool {
	all := map[string]bool{}
	for _, f := range findings {
		all[f.Key()] = true
	}
	return all
}

// gather lists the candidates of all findings; one that serves several findings stands there once.
func gather(j *job.Job, e *Examination) []*candidate {
	var all []*candidate
	known := map[string]*candidate{}
	for _, f := range e.Findings {
		for _, c := range candidates(&context{j, e.Plan, f}) {
			if old := known[c.id()]; old != nil {
				old.findings = append(old.findings, f.Key())
				continue
			}
			c.findings = []string{f.Key()}
			known[c.id()] = c
			all = append(all, c)
		}
	}
	return all
}

// candidate is a change that may mend a finding.
type candidate struct {
	text     string
	cost     int
	edits    []edit
	findings []string // keys of those it was proposed for
}

// edit changes one field of a document.
type edit struct {
	path, value string // as a person would write it
	apply       func(*job.Document)
}

func (c *candidate) serves(key string) bool { return slices.Contains(c.findings, key) }

func (c *candidate) id() string {
	var b strings.Builder
	for _, e := range c.edits {
		b.WriteString(e.path + "=" + e.value + ";")
	}
	return b.String()
}

// mend is the candidate in words, with all that it changes in the document: what its edits say, and what they bring along.
func (c *candidate) mend(j *job.Job) proof.Mend {
	m := proof.Mend{Text: c.text, Cost: c.cost}
	for _, e := range c.edits {
		m.Set = append(m.Set, proof.Change{Path: e.path, Value: e.value})
	}
	m.Set = append(m.Set, c.alongside(j)...)
	return m
}

// alongside is what the edits change beyond what they say, field by field.
func (c *candidate) alongside(j *job.Job) []proof.Change {
	said, err := said(j.Document, c.edits)
	if err != nil {
		said = nil
	}
	doc := j.Document.Clone()
	for _, e := range c.edits {
		e.apply(doc)
	}
	done, err := job.Print(doc)
	if err != nil || said == nil {
		return nil // a document that was examined prints
	}
	changes, err := document.Compare(said, done)
	if err != nil {
		return nil
	}
	var all []proof.Change
	for _, d := range changes {
		all = append(all, proof.Change{Path: d.Where, Value: d.Is})
	}
	return all
}

// said is a document with only what edits say of themselves.
func said(d *job.Document, edits []edit) ([]byte, error) {
	text, err := job.Print(d)
	if err != nil {
		return nil, err
	}
	tree, err := document.ReadTree(text)
	if err != nil {
		return nil, err
	}
	for _, e := range edits {
		if err := job.Put(tree, job.Path(e.path), e.value); err != nil {
			return nil, err
		}
	}
	return tree.Bytes()
}

// Costs of a mend, by the work it takes.
const (
	costSetting = 1
	costPart    = 2
	costDevice  = 3
	costCable   = 4
	costSupply  = 5
)
