package journal

import "errors"

// Undo are the entries that take the last change of a job back that still counts: every edit that was made together with
// it. They are edits themselves, so that they stay in sight. It errs when there is nothing to take back.
func (j *Job) Undo() ([]Body, error) {
	var all []Body
	undone, change := 0, ""
	for i := len(j.History) - 1; i >= 0; i-- {
		var back Edited
		switch b := j.History[i].Body.(type) {
		case Imported:
			i = 0
			continue
		case Edited:
			if b.Undoes {
				undone++
				continue
			}
			back = Edited{Job: j.ID, Object: b.Object, Field: b.Field, Value: b.Was, Was: b.Value, Change: b.Change, Undoes: true}
		case Removed:
			back = Edited{Job: j.ID, Object: b.Object, Value: b.Was, Undoes: true}
		default:
			continue
		}
		if undone > 0 {
			undone--
			continue
		}
		if len(all) > 0 && (change == "" || back.Change != change) {
			break
		}
		all, change = append(all, back), back.Change
	}
	if len(all) == 0 {
		return nil, errors.New("nothing was changed since the document was brought in")
	}
	return all, nil
}
