package job

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"doorwright/document"
)

// Read reads a job from a YAML or JSON document. It returns all problems at once, sorted, each with its place, what was
// found and what would be right; the job is nil when there is any. File is only quoted.
func Read(file string, data []byte) (*Job, document.Problems) {
	var d Document
	src, problems := document.Read(file, data, &d)
	for i, p := range problems {
		if p.Where == "" { // the text as a whole could not be read
			return nil, problems
		}
		problems[i] = refuseAlternating(p)
	}
	r := newResolver(&d, src, problems)
	r.asWritten = true
	r.resolve()
	problems = append(problems, r.problems...)
	if len(problems) > 0 {
		return nil, problems.Sorted()
	}
	return r.job, nil
}

// Resolve makes a job of a document that was changed or made by a program: names resolved, defaults filled in. A zero
// value counts as left out, and a word that is not in its closed list (escape, handle, side ...) as the default. Src
// says where values stood before the change; nil when that is not known. The job refers to d, which must not be changed
// afterwards; the job is nil when there is any problem.
func Resolve(d *Document, src *document.Source) (*Job, document.Problems) {
	r := newResolver(d, src, nil)
	r.resolve()
	if len(r.problems) > 0 {
		return nil, r.problems.Sorted()
	}
	return r.job, nil
}

// alternating matches a voltage written as alternating current.
var alternating = regexp.MustCompile(`(?i)\d\s*m?k?v\s*(\(?a\.?c\.?\)?|~)|\d\s*hz\b`)

const directOnly = "is alternating current; this tool computes direct current only, so fit a direct-current unit " +
	"or wire and prove this one by other means"

// refuseAlternating puts the reason in place of "unknown unit" where somebody wrote a voltage such as "12 V AC".
func refuseAlternating(p document.Problem) document.Problem {
	if alternating.MatchString(p.Found) {
		p.Want = directOnly
	}
	return p
}

// harm holds the paths that the reader found something wrong at. What follows from that is not said again.
type harm map[string]bool

// at says that the value at path, or one it is part of, could not be read.
func (h harm) at(path string) bool {
	for len(h) > 0 {
		if h[path] {
			return true
		}
		cut := strings.LastIndexByte(path, '.')
		if cut < 0 {
			return false
		}
		path = path[:cut]
	}
	return false
}

// under says that something at or inside the value at path could not be read.
func (h harm) under(path string) bool {
	for p := range h {
		if p == path || strings.HasPrefix(p, path+".") {
			return true
		}
	}
	return h.at(path)
}

// topKeys are the keys of a document.
var topKeys = []string{
	"job", "title", "revision", "rules", "make-up", "measures", "temperature",
	"places", "supplies", "controllers", "doors", "runs", "models", "cables",
}

// section says that a section could not be read, or that some key at the top is misspelt, which may have been meant for
// it.
func (h harm) section(name string) bool {
	for p := range h {
		if p == name || !strings.Contains(p, ".") && !slices.Contains(topKeys, p) && mayMean(p, name) {
			return true
		}
	}
	return false
}

// mayMean says that a misspelt key at the top may have been meant for a section: it is nearest to it, or near to none.
func mayMean(key, section string) bool {
	nearest, ok := document.Nearest(key, topKeys)
	return !ok || nearest == section
}

// under is the path of a part of the value at path.
func under(path, part string) string { return path + "." + part }

// item is the path of item i, from 0, of the list at path; people count from 1.
func item(path string, i int) string { return path + "." + strconv.Itoa(i+1) }

func quote(s string) string { return strconv.Quote(shorten(s)) }

// shownRunes is how much of a wrong value a message repeats.
const shownRunes = 60

func shorten(s string) string {
	if r := []rune(s); len(r) > shownRunes {
		return string(r[:shownRunes]) + "…"
	}
	return s
}

// parent is the path of what the value at path is part of.
func parent(path string) string { return path[:max(strings.LastIndexByte(path, '.'), 0)] }
