package web

import (
	"net/http"
	"net/url"
	"slices"
)

// keepField is the field of a form with several buttons that names the field whose button was pressed. What was typed in the
// others is carried along.
const keepField = "keep"

// mostCarried bounds what an address carries along: browsers send it twice, and headers are bounded (a figure of our own choice).
const mostCarried = 16 << 10

// leftOf is what was typed in a form, but for the fields that were kept.
func leftOf(form url.Values, kept ...string) url.Values {
	left := url.Values{}
	for name, all := range form {
		if name != keepField && !slices.Contains(kept, name) && len(all) > 0 && all[0] != "" {
			left.Set(name, all[0])
		}
	}
	return left
}

// carrying is an address that carries along what was typed; false for more than an address takes.
func carrying(to string, left url.Values) (string, bool) {
	if len(left) == 0 {
		return to, true
	}
	query := left.Encode()
	return to + "?" + query, len(query) <= mostCarried
}

// carryOn goes to a page of a door after something was kept, with what else was typed. More than an address takes is shown at once.
func (h *handler) carryOn(w http.ResponseWriter, r *http.Request, to string, left url.Values, show func(http.ResponseWriter, *http.Request, *atDoor, url.Values, string)) {
	if to, ok := carrying(to, left); ok {
		http.Redirect(w, r, to, http.StatusSeeOther)
		return
	}
	if at, ok := h.doorOf(w, r); ok { // as it is now
		show(w, r, at, left, "")
	}
}

// legible is what was typed, or nothing if it is no text.
func legible(typed url.Values) url.Values {
	if isText(typed) != nil {
		return nil
	}
	return typed
}
