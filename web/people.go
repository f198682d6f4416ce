package web

import (
	"cmp"
	"fmt"
	"net/http"
	"net/url"
	"regexp"
	"strings"

	"doorwright/journal"
	"doorwright/record"
)

type peopleView struct {
	All                         []personRow
	To, Again                   string // the address and the form that wait for who it is
	Wrong, Name, Initials, Role string
	Log, Key                    string
	Meters                      []string
}

type personRow struct {
	Initials, Name, Role string
	Here                 bool
}

func (h *handler) people(w http.ResponseWriter, r *http.Request) {
	h.showPeople(w, r, peopleView{To: inside(r.URL.Query().Get("to"))})
}

func (h *handler) showPeople(w http.ResponseWriter, r *http.Request, v peopleView) {
	who := h.who(r)
	for _, p := range h.Journal.State().People {
		v.All = append(v.All, personRow{p.Key, p.Value.Name, p.Value.Role, p.Key == who})
	}
	for _, m := range h.Journal.State().Meters {
		says := fmt.Sprintf("%s: %s, number %s, calibrated %s", m.Key, m.Value.Title, m.Value.Number, m.Value.Calibrated)
		if !m.Value.Due.IsZero() {
			says += ", due " + m.Value.Due.String()
			if m.Value.Due.Before(h.Now()) {
				says += ": its calibration has run out"
			}
		}
		v.Meters = append(v.Meters, says)
	}
	v.Log, v.Key = h.Journal.Device()
	h.show(w, r, peoplePage(sheet{Title: "People", Who: who, Where: []step{{"Jobs", "/"}}}, v))
}

// askWho answers a form when nobody has said yet who they are. The form waits in the page that asks, and is answered as soon
// as that is said; one that is too long for that is to be sent again.
func (h *handler) askWho(w http.ResponseWriter, r *http.Request) {
	v := peopleView{To: r.URL.RequestURI(), Again: r.PostForm.Encode()}
	if v.Again == "" || len(v.Again) > mostDocument {
		v.To, v.Again = "/", ""
	}
	unfit(w)
	h.showPeople(w, r, v)
}

// mostWaiting bounds a form of people with another that waits in it: percent signs make that three times as long.
const mostWaiting = 4 * mostDocument

// initialsForm is that of the keys of a document.
var initialsForm = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9_-]{0,7}$`)

// mostName bounds a name: longer ones are no names.
const mostName = 120

func (h *handler) addPerson(w http.ResponseWriter, r *http.Request) {
	if !h.formUpTo(w, r, mostWaiting) {
		return
	}
	named := namedIn(r.PostForm)
	to := inside(r.PostForm.Get("to"))
	if wrong := h.unnamed(named); wrong != "" {
		unfit(w)
		h.showPeople(w, r, peopleView{To: to, Again: r.PostForm.Get("again"), Wrong: wrong, Name: named.Name, Initials: named.Initials, Role: named.Role})
		return
	}
	if h.elsewhere(r) {
		if h.write(w, r, named) {
			http.Redirect(w, r, cmp.Or(to, "/people"), http.StatusSeeOther)
		}
		return
	}
	_, err := h.Journal.Write(r.Context(), named.Initials, named, journal.Seated{Initials: named.Initials})
	h.seated(w, r, err)
}

// namedIn is who a form names.
func namedIn(form url.Values) journal.Named {
	line := func(name string) string { return strings.TrimSpace(form.Get(name)) }
	return journal.Named{Initials: line("initials"), Person: record.Person{Name: line("name"), Role: line("role")}}
}

// unnamed says why somebody cannot be added to the list of people; nothing when they can.
func (h *handler) unnamed(p journal.Named) string {
	_, taken := h.Journal.State().People.Get(p.Initials)
	switch {
	case p.Name == "" || len(p.Name) > mostName || len(p.Role) > mostName:
		return "Write a name of at most 120 letters."
	case !initialsForm.MatchString(p.Initials):
		return "Write initials of one to eight letters and digits, such as mw."
	case taken:
		return "The initials " + p.Initials + " are somebody else's: add a letter."
	}
	return ""
}

func (h *handler) seat(w http.ResponseWriter, r *http.Request) {
	if !h.formUpTo(w, r, mostWaiting) {
		return
	}
	if h.elsewhere(r) {
		h.refuse(w, r, http.StatusForbidden, "Only at the machine itself", "A device that has joined writes in the name it joined with, and does not change who sits at the machine.")
		return
	}
	who := r.PostForm.Get("initials")
	if _, ok := h.Journal.State().People.Get(who); !ok {
		h.refuse(w, r, http.StatusUnprocessableEntity, "Nobody has these initials", "Choose somebody of the list.")
		return
	}
	_, err := h.Journal.Write(r.Context(), who, journal.Seated{Initials: who})
	h.seated(w, r, err)
}

// elsewhere says that a request comes from a device that has joined, which has a person of its own.
func (h *handler) elsewhere(r *http.Request) bool { return h.Who != nil && h.Who(r) != "" }

// seated goes on after somebody has said who they are: with the form that waited for it, else with a page.
func (h *handler) seated(w http.ResponseWriter, r *http.Request, err error) {
	if err != nil {
		h.refuse(w, r, http.StatusInternalServerError, "Nothing was kept", err.Error())
		return
	}
	to, again := inside(r.PostForm.Get("to")), r.PostForm.Get("again")
	if to == "" {
		to = "/"
	}
	if again == "" {
		http.Redirect(w, r, to, http.StatusSeeOther)
		return
	}
	waited, err := http.NewRequestWithContext(r.Context(), http.MethodPost, to, strings.NewReader(again))
	if err != nil {
		h.refuse(w, r, http.StatusBadRequest, "Nothing was kept", err.Error())
		return
	}
	waited.Header = r.Header.Clone()
	waited.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	h.answers.ServeHTTP(w, waited)
}

// inside is an address if it leads to a page of ours, and nothing otherwise: nobody is sent elsewhere by a link.
func inside(to string) string {
	if !strings.HasPrefix(to, "/") || strings.HasPrefix(to, "//") || strings.ContainsAny(to, "\\\r\n") {
		return ""
	}
	return to
}

// addMeter keeps a meter; the one that was kept last is the one in use.
func (h *handler) addMeter(w http.ResponseWriter, r *http.Request) {
	if !h.form(w, r) {
		return
	}
	line := func(name string) string { return strings.TrimSpace(r.PostForm.Get(name)) }
	m := journal.Owned{Meter: line("id"), Instrument: record.Instrument{Title: line("title"), Number: line("number")}}
	err := m.Calibrated.UnmarshalText([]byte(line("calibrated")))
	if due := line("due"); err == nil && due != "" {
		err = m.Due.UnmarshalText([]byte(due))
	}
	switch {
	case err != nil:
		h.refuse(w, r, http.StatusUnprocessableEntity, "The meter was not kept", err.Error())
	case !unitNameForm.MatchString(m.Meter) || m.Title == "" || m.Number == "" || len(m.Title)+len(m.Number) > mostNote:
		h.refuse(w, r, http.StatusUnprocessableEntity, "The meter was not kept", "Write a short name such as M1, what it is, and its number.")
	default:
		if h.write(w, r, m) {
			http.Redirect(w, r, "/people", http.StatusSeeOther)
		}
	}
}
