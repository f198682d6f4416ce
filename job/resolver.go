package job

import (
	"fmt"
	"strings"

	"doorwright/cable"
	"doorwright/device"
	"doorwright/document"
)

// resolver turns a document into a job: one pass that reports everything wrong and lists everything assumed.
type resolver struct {
	doc       *Document
	src       *document.Source
	asWritten bool // src tells of this very document, not of one before a change
	harm      harm
	job       *Job
	compared  int // names compared so far in search of the nearest
	problems  document.Problems

	models      device.Catalogue
	unfit       map[string]bool // user models with something wrong: known by name, not to be looked into
	cables      map[string]*cable.Type
	cableIDs    []string
	places      map[string]*Place
	supplies    map[string]*Supply
	controllers map[string]*Controller
	channels    map[channel]*Door
	lines       map[linePort][]lineReader
	lineOrder   []linePort        // the keys of lines, in order
	ids         map[string]string // id -> what has it
	joined      map[*Place]*Place // towards the place that stands for all those joined by runs
}

// channel is one door's share of a controller.
type channel struct {
	controller *Controller
	number     int
}

// Bounds of a job. They are far above any site and keep a hostile document from taking minutes.
const (
	maxEntries  = 2000 // of each section
	maxPerDoor  = 64   // of each list of a door
	maxPorts    = 300  // terminals or ports of a model
	maxElements = 30   // bundles of a cable type
	maxProblems = 500
	maxCompared = 200_000 // names compared in search of the nearest
)

func newResolver(d *Document, src *document.Source, found document.Problems) *resolver {
	r := &resolver{
		doc: d, src: src, harm: harm{}, unfit: map[string]bool{}, cables: map[string]*cable.Type{},
		places: map[string]*Place{}, supplies: map[string]*Supply{}, controllers: map[string]*Controller{},
		channels: map[channel]*Door{}, ids: map[string]string{}, lines: map[linePort][]lineReader{},
		joined: map[*Place]*Place{},
	}
	for _, p := range found {
		r.harm[p.Where] = true
	}
	return r
}

func (r *resolver) resolve() {
	d := r.doc
	r.job = &Job{ID: d.Job, Title: d.Title, Revision: d.Revision, Document: d}
	r.job.NorthAmerican = d.MakeUp == cable.NorthAmerican
	r.job.Measures = measures(d)
	if r.tooLarge() {
		return
	}
	r.required("job", d.Job, "the permanent id of the job, such as BTO")
	r.required("title", d.Title, "what the job is called")
	r.makeUp()
	r.surroundings()
	r.families()
	r.catalogues()
	r.allPlaces()
	r.allSupplies()
	r.allControllers()
	r.allDoors()
	r.dataLines()
	r.allRuns()
	r.buildings()
}

// tooLarge refuses what no site has before any work is done on it.
func (r *resolver) tooLarge() bool {
	before := len(r.problems)
	for _, s := range []struct {
		path string
		n    int
	}{
		{"places", len(r.doc.Places)},
		{"supplies", len(r.doc.Supplies)},
		{"controllers", len(r.doc.Controllers)},
		{"doors", len(r.doc.Doors)},
		{"runs", len(r.doc.Runs)},
		{"models", len(r.doc.Models)},
		{"cables", len(r.doc.Cables)},
	} {
		if s.n > maxEntries {
			r.problem(s.path, fmt.Sprintf("%d entries", s.n), fmt.Sprintf("at most %d belong in one job; split it", maxEntries))
		}
	}
	for _, e := range r.doc.Doors {
		v := e.Value
		if n := max(len(v.Locks), len(v.Exit), len(v.Contacts), len(v.Releases), len(v.Aux)); n > maxPerDoor {
			r.problem(under("doors", e.Key), fmt.Sprintf("a list of %d devices", n),
				fmt.Sprintf("a door has at most %d of one sort", maxPerDoor))
		}
	}
	r.largeTypes()
	return len(r.problems) > before
}

// largeTypes refuses models and cable types that no maker makes.
func (r *resolver) largeTypes() {
	for _, e := range r.doc.Models {
		if n := max(len(e.Value.Strip), len(e.Value.Ports)); n > maxPorts {
			r.problem(under("models", e.Key), fmt.Sprintf("a model of %d terminals or ports", n),
				fmt.Sprintf("a model has at most %d", maxPorts))
		}
	}
	for _, e := range r.doc.Cables {
		if n := len(e.Value.Elements); n > maxElements {
			r.problem(under("cables", e.Key), fmt.Sprintf("a cable of %d bundles", n),
				fmt.Sprintf("a cable type has at most %d", maxElements))
		}
	}
}

// problem reports something wrong unless the reader has said so already.
func (r *resolver) problem(path, found, want string) {
	if len(r.problems) < maxProblems && !r.harm.at(path) {
		r.problems = append(r.problems, r.src.Problem(path, found, want))
	}
}

// unknown reports a name that is not among the known ones. Known is called only when it is needed. In a document full
// of unknown names the later ones get no suggestion. Besides says what else can be done, if anything.
func (r *resolver) unknown(path, word, what string, known func() []string, besides ...string) {
	if len(r.problems) >= maxProblems || r.harm.at(path) {
		return
	}
	want := "is not a known " + what
	if r.compared < maxCompared {
		names := known()
		r.compared += len(names)
		want = document.Unknown(word, what, names)
	}
	r.problem(path, quote(word), want+strings.Join(besides, ""))
}

// lost says that a name may be unknown only because the section it would stand in could not be read.
func (r *resolver) lost(section string, entries int) bool {
	return entries == 0 && r.harm.section(section)
}

// required reports an empty text that must be there.
func (r *resolver) required(path, text, why string) bool {
	if text == "" {
		r.problem(path, "", "is missing; "+why)
	}
	return text != ""
}

// stated says whether the document as written has a value of its own at path, to tell "0 s" from nothing.
func (r *resolver) stated(path string) bool {
	if !r.asWritten {
		return false
	}
	line, column := r.src.At(path)
	upLine, upColumn := r.src.At(parent(path))
	return line != upLine || column != upColumn
}

// claim reports an id that something else has already.
func (r *resolver) claim(id, path, what string) {
	if first, taken := r.ids[id]; taken {
		r.problem(path, quote(id), "is already the id of "+first+"; ids are unique over the job")
		return
	}
	r.ids[id] = what
}

// twice reports items that stand in a list before.
func twice[T comparable](r *resolver, path string, list []T) {
	seen := map[T]bool{}
	for i, v := range list {
		if seen[v] {
			r.problem(item(path, i), quote(fmt.Sprint(v)), "was given before in this list; keep one of the two")
		}
		seen[v] = true
	}
}

// assume lists what was left out and what it was taken as.
func (r *resolver) assume(path, taken string) {
	r.job.Assumed = append(r.job.Assumed, Assumption{Where: path, Text: "not stated, taken as " + taken})
}

// judge lists what was left out, bears on life and is therefore judged as the strictest case.
func (r *resolver) judge(path, text string) {
	r.job.Assumed = append(r.job.Assumed, Assumption{Where: path, Text: text, Life: true})
}
