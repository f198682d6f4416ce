package journal

import "errors"

// Undo are the entries that take the last change of a job back that still counts: every edit that was made together with
// it. They are edits themselves and stay in sight; each names the entry that it takes back. It errs when there is nothing
// to take back.
func (j *Job) Undo() ([]Body, error) {
	undone := map[Ref]bool{}
	var all []Body
	var last *Entry
	change := ""
	for i := len(j.History) - 1; i >= 0; i-- {
		e := j.History[i]
		if _, ok := e.Body.(Imported); ok && !j.gone[e.Ref()] {
			break
		}
		if x, ok := e.Body.(Edited); ok && x.Undoes != (Ref{}) {
			if !j.gone[e.Ref()] {
				undone[x.Undoes] = true
			}
			continue
		}
		back, ok := j.back(e)
		if !ok || undone[e.Ref()] || j.gone[e.Ref()] {
			continue
		}
		if last != nil && (change == "" || back.Change != change || e.Log != last.Log) {
			break
		}
		all, last, change = append(all, back), e, back.Change
	}
	if len(all) == 0 {
		return nil, errors.New("nothing was changed since the document was brought in")
	}
	return all, nil
}

// back is the edit that takes another change back; false for an entry that changes nothing.
func (j *Job) back(e *Entry) (Edited, bool) {
	switch b := e.Body.(type) {
	case Edited:
		return Edited{Job: j.ID, Object: b.Object, Field: b.Field, Value: b.Was, Change: b.Change, Undoes: e.Ref()}, true
	case Removed:
		return Edited{Job: j.ID, Object: b.Object, Value: b.Was, Undoes: e.Ref()}, true
	}
	return Edited{}, false
}
