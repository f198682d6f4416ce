package job

import (
	"regexp"
	"strings"
	"sync"

	"doorwright/cable"
	"doorwright/device"
	"doorwright/rules"
	"doorwright/unit"
)

// What comes with the tool, read once: reading it takes longer than resolving a job.
var (
	builtinCables = sync.OnceValue(cable.Types)
	knownFamilies = sync.OnceValue(func() []rules.Family { return append(rules.Families(), rules.Strictest()) })
)

// catalogues makes the models and cable types of the job known, after those that come with the tool.
func (r *resolver) catalogues() {
	r.models = device.Builtin()
	r.userModels()
	for _, t := range builtinCables() {
		r.cables[t.ID] = &t
		r.cableIDs = append(r.cableIDs, t.ID)
	}
	r.userCables()
}

// userModels checks the models of the document. One with a problem is known by name, so that the devices of that model
// are not refused as well.
func (r *resolver) userModels() {
	sound := r.doc.Models[:0:0]
	for _, e := range r.doc.Models {
		path := under("models", e.Key)
		ac := mentionsAlternating(&e.Value)
		if ac != "" {
			r.problem(path, quote(ac), directOnly)
		}
		if ac != "" || r.harm.under(path) {
			r.unfit[e.Key] = true
			continue
		}
		sound = append(sound, e)
	}
	models, flaws := r.models.With(sound)
	for _, f := range flaws {
		id, _, _ := strings.Cut(f.Path, ".")
		if _, builtin := r.models.Get(id); !builtin {
			r.unfit[id] = true
		}
		r.problem(under("models", f.Path), f.Found, f.Want)
	}
	r.models = models
}

// alternatingWords matches a kind or title of a unit for alternating current.
var alternatingWords = regexp.MustCompile(`(?i)\balternating\b|\bAC\b|\ba\.c\.|\bv\s*~|\d\s*vac\b`)

// directWords matches what says that a unit takes direct current as well.
var directWords = regexp.MustCompile(`(?i)\bDC\b|\bd\.c\.|\d\s*vdc\b|\bdirect\b`)

// mentionsAlternating is the text of a model that says it works on alternating current only; empty when none does. A
// supply is fed from the mains, which are alternating current, and may say so.
func mentionsAlternating(m *device.Model) string {
	for _, text := range []string{m.Kind, m.Title} {
		if alternatingWords.MatchString(text) && !directWords.MatchString(text) && !has(m, device.Source) {
			return text
		}
	}
	return ""
}

func (r *resolver) userCables() {
	for _, e := range r.doc.Cables {
		path := under("cables", e.Key)
		if _, taken := r.cables[e.Key]; taken {
			r.problem(path, quote(e.Key), "is the id of another cable type; choose one of its own")
			continue
		}
		t := e.Value
		t.ID = e.Key
		if !r.harm.under(path) {
			for _, p := range t.Check(r.src, path) {
				r.problem(p.Where, p.Found, p.Want)
			}
		}
		r.cables[t.ID] = &t
		r.cableIDs = append(r.cableIDs, t.ID)
	}
}

// families reads the rule families of the job.
func (r *resolver) families() {
	if len(r.doc.Rules) == 0 {
		r.job.Families = []rules.Family{rules.Strictest()}
		r.judge("rules", "not stated, judged under the strictest of all families")
		return
	}
	r.job.Families = r.familiesNamed("rules", r.doc.Rules)
	r.job.FamiliesStated = true
}

func (r *resolver) familiesNamed(path string, ids []string) []rules.Family {
	twice(r, path, ids)
	var named []rules.Family
	seen := map[string]bool{}
	for i, id := range ids {
		f, ok := familyOf(id)
		if !ok {
			r.unknown(item(path, i), id, "rule family", familyIDs)
		}
		if ok && !seen[id] {
			named = append(named, f)
		}
		seen[id] = true
	}
	return named
}

func familyOf(id string) (rules.Family, bool) {
	for _, f := range knownFamilies() {
		if f.ID == id {
			return f, true
		}
	}
	return rules.Family{}, false
}

func familyIDs() []string {
	var ids []string
	for _, f := range knownFamilies() {
		ids = append(ids, f.ID)
	}
	return ids
}

// makeUp says which cables are chosen where no run is written.
func (r *resolver) makeUp() {
	if r.doc.MakeUp == "" {
		r.assume("make-up", cable.IEC)
	}
}

// measures are those that are stated, or those that go with the cables.
func measures(d *Document) unit.Measures {
	switch {
	case d.Measures != "":
		return unit.Measures(d.Measures)
	case d.MakeUp == cable.NorthAmerican:
		return unit.Feet
	}
	return unit.Metric
}
