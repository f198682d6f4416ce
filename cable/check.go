package cable

import (
	"fmt"
	"slices"
	"strings"

	"doorwright/document"
)

// KeyText is the form of a cable type's id in a document.
func (Type) KeyText() (pattern, example string) { return `^[A-Za-z0-9][A-Za-z0-9_.+-]{0,31}$`, "4x0.5" }

// Check lists what is wrong with a type that stands at path in a document, all at once: missing or impossible figures,
// colours that do not match the cores, and cores that nobody could tell apart. A nil source knows no lines.
func (t Type) Check(source *document.Source, path string) document.Problems {
	var problems document.Problems
	add := func(found, want string, parts ...any) {
		problems = append(problems, source.Problem(document.Path(append([]any{path}, parts...)...), found, want))
	}
	if len(t.Elements) == 0 {
		add("a cable without cores", "list at least one element", "elements")
	}
	t.checkFigures(add)
	total := 0
	for i, e := range t.Elements {
		e.check(func(found, want, key string) { add(found, want, "elements", i, key) })
		total += e.count()
		if len(t.Elements) > 1 && strings.TrimSpace(e.Label) == "" {
			add("a bundle without a label", "give each bundle of a sheath a label that tells it from the others",
				"elements", i, "label")
		}
		if t.hasTwin(i) {
			add("two bundles with the same label, size and colours", "nobody could tell them apart; give them other labels",
				"elements", i)
		}
	}
	if total > maxCores {
		add(fmt.Sprintf("%d cores in one sheath", total), fmt.Sprintf("at most %d are possible", maxCores), "elements")
	}
	return problems
}

func (t Type) checkFigures(add func(found, want string, parts ...any)) {
	for _, f := range []struct {
		key   string
		value float64
		text  string
	}{
		{"capacitance", float64(t.Capacitance), t.Capacitance.String()},
		{"impedance", float64(t.Impedance), t.Impedance.String()},
		{"diameter", float64(t.Diameter), t.Diameter.String()},
	} {
		if !(f.value >= 0) || !isFinite(f.value) {
			add(f.text, "is not possible; give the data-sheet figure or leave it out", f.key)
		}
	}
}

// hasTwin says whether an earlier bundle looks like bundle i.
func (t Type) hasTwin(i int) bool {
	e := t.Elements[i]
	return slices.ContainsFunc(t.Elements[:i], func(o Element) bool {
		return o.Label == e.Label && o.Size == e.Size && slices.Equal(o.Colours, e.Colours)
	})
}

// check hands every problem of the bundle to add, with the key it lies under.
func (e Element) check(add func(found, want, key string)) {
	cores := fmt.Sprintf("%d cores", e.Cores)
	switch group := e.Arrangement.GroupSize(); {
	case e.Cores < 1 || e.Cores > maxCores:
		add(cores, fmt.Sprintf("a bundle has 1 to %d", maxCores), "cores")
	case e.Cores%group != 0:
		add(cores, fmt.Sprintf("a %s takes %d; give a multiple of it", e.Arrangement, group), "cores")
	}
	if !e.Conductor().sized() {
		add("no possible conductor size", "write it like \"0.5 mm2\" or \"24 AWG\"", "size")
	}
	if !(e.LimitPerKM >= 0) || !isFinite(float64(e.LimitPerKM)) {
		add(e.LimitPerKM.String(), "is not possible; give the data-sheet figure or leave it out", "limit-per-km")
	}
	if len(e.Colours) != e.Cores {
		add(fmt.Sprintf("%d colours for %s", len(e.Colours), cores), "give one colour for each core, in order", "colours")
	}
	for i, c := range e.Colours {
		switch {
		case strings.TrimSpace(c) == "":
			add(fmt.Sprintf("no colour for core %d", i+1), "write IEC 60757 letters or your own words", "colours")
		case looksLikeLetters(c) && ColourName(c) == c:
			add(fmt.Sprintf("%q for core %d", c, i+1), "is not made of the IEC 60757 letters "+letters()+
				"; write a marking of your own in small letters", "colours")
		}
	}
	e.checkAlike(add)
}

// checkAlike names colours that cannot be told apart: two equal cores in a group, or two equal groups in the bundle.
// Cores that lie side by side are groups of one.
func (e Element) checkAlike(add func(found, want, key string)) {
	var seen []string
	for group := range slices.Chunk(e.Colours, e.Arrangement.GroupSize()) {
		sorted := slices.Sorted(slices.Values(group))
		if len(slices.Compact(slices.Clone(sorted))) < len(sorted) {
			add(fmt.Sprintf("one colour twice in a %s (%s)", e.Arrangement, strings.Join(group, ", ")),
				"nobody could tell the cores apart", "colours")
		}
		name := strings.Join(sorted, " with ")
		if slices.Contains(seen, name) {
			add(name+" twice in one bundle", "nobody could tell the cores apart", "colours")
		}
		seen = append(seen, name)
	}
}
