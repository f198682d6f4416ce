package mend

import (
	"slices"
	"strings"

	"doorwright/document"
	"doorwright/job"
	"doorwright/proof"
)

// candidate is a change that may mend a finding.
type candidate struct {
	text     string
	steps    []string // of two changes; nil for one
	cost     int
	edits    []edit
	findings []*proof.Finding // those that it was proposed for
}

// edit changes one field of a document.
type edit struct {
	path, value string // as a person would write it
	apply       func(*job.Document)
}

// gather lists the candidates of all findings; one that serves several findings stands there once.
func gather(j *job.Job, e *Examination) []*candidate {
	var all []*candidate
	known := map[string]*candidate{}
	for i := range e.Findings {
		f := &e.Findings[i]
		for _, c := range candidates(&context{j, e.Plan, *f}) {
			if old := known[c.id()]; old != nil {
				old.findings = append(old.findings, f)
				continue
			}
			c.findings = []*proof.Finding{f}
			known[c.id()] = c
			all = append(all, c)
		}
	}
	return all
}

func (c *candidate) serves(f *proof.Finding) bool { return slices.Contains(c.findings, f) }

func (c *candidate) id() string {
	var b strings.Builder
	for _, e := range c.edits {
		b.WriteString(e.path + "=" + e.value + ";")
	}
	return b.String()
}

// exceeds says that a candidate does all that another does and something beside.
func (c *candidate) exceeds(o *candidate) bool {
	return len(c.edits) > len(o.edits) && !slices.ContainsFunc(o.edits, func(x edit) bool {
		return !slices.ContainsFunc(c.edits, func(y edit) bool { return y.path == x.path && y.value == x.value })
	})
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

// mend is the candidate in words, with all that it changes in the document: what its edits say, and what they bring along.
func (c *candidate) mend(j *job.Job) proof.Mend {
	m := proof.Mend{Text: c.text, Steps: c.steps, Cost: c.cost}
	for _, e := range c.edits {
		m.Set = append(m.Set, proof.Change{Path: e.path, Value: e.value})
	}
	m.Set = append(m.Set, c.alongside(j)...)
	return m
}

// alongside is what the edits change beyond what they say, field by field.
func (c *candidate) alongside(j *job.Job) []proof.Change {
	doc := j.Document.Clone()
	var named []string
	for _, e := range c.edits {
		e.apply(doc)
		named = append(named, job.Path(e.path)...)
	}
	was, is := job.Apart(j.Document, doc, named)
	said, err := said(was, c.edits)
	if err != nil {
		said = nil
	}
	done, err := job.Print(is)
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
