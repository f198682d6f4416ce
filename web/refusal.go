package web

import (
	"maps"
	"net/http"
	"net/url"
	"slices"
	"strings"
)

// refusalView says why a page is not shown or a form was not kept.
type refusalView struct {
	Why    string
	Typed  []typedField
	Kept   []field // the rest of the form
	Action string
	Again  bool   // it may be sent again as it is put right
	Back   string // the page of the form; empty when it is not known
}

// typedField is a field that somebody has typed in.
type typedField struct{ Name, Title, Value string }

// typedTitles are the fields of those forms that have no page of their own for a mistake, in words.
func typedTitles(path string) []field {
	if path == "/meters" {
		return []field{{"id", "Short name"}, {"title", "What it is"}, {"number", "Its number"}, {"calibrated", "Calibrated on"}, {"due", "Due"}}
	}
	return []field{
		{"what", "What is wrong"},
		{"fix", "What was done"},
		{"class", "It touches (life, security, function or looks)"},
		{"owner", "Who must put it right"},
		{"retest", "Retest, such as T31"},
		{"question", "Question"},
		{"answer", "Answer"},
		{"seen", "What is there"},
		{"received", "Card number that was read"},
		{"expected", "in place of"},
		{"reason", "Why it is accepted"},
		{"why", "Why it is withdrawn"},
		{"to", "Taken over by"},
		{"role", "Role"},
		{"note", "Note"},
		{"revision", "Revision"},
	}
}

// isField says that a name of a form is that of a field, or of one of several such: "fix.S1".
func isField(name string, of field) bool {
	first, _, _ := strings.Cut(name, ".")
	return first == of.Name
}

// refusalOf keeps what was typed in a form that is refused. A form that waits for who somebody is, is kept by the page that
// asks. What has changed meanwhile is looked at again before anything is sent.
func refusalOf(r *http.Request, code int, why string) refusalView {
	v := refusalView{Why: why, Action: r.URL.RequestURI(), Again: code == http.StatusUnprocessableEntity}
	if r.Method != http.MethodPost || strings.HasPrefix(r.URL.Path, "/people") {
		return v
	}
	if from, err := url.Parse(r.Referer()); err == nil && from.Host == r.Host {
		v.Back = inside(from.RequestURI())
	}
	titles := typedTitles(r.URL.Path)
	some := false
	names := slices.Sorted(maps.Keys(r.PostForm))
	for _, t := range titles {
		for _, name := range names {
			if isField(name, t) {
				v.Typed = append(v.Typed, typedField{name, t.Value, r.PostForm.Get(name)})
				some = some || r.PostForm.Get(name) != ""
			}
		}
	}
	if !some {
		v.Typed = nil
		return v
	}
	for name, all := range r.PostForm {
		if slices.ContainsFunc(titles, func(t field) bool { return isField(name, t) }) {
			continue
		}
		for _, value := range all {
			v.Kept = append(v.Kept, field{name, value})
		}
	}
	slices.SortStableFunc(v.Kept, func(a, b field) int { return strings.Compare(a.Name, b.Name) })
	return v
}
