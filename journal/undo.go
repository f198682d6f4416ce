package journal

import "errors"

// Undo is the entry that takes the last edit of a job back that still counts; it is itself an edit, so that it can be taken
// back too. It errs when there is nothing to take back.
func (j *Job) Undo() (Body, error) {
	undone := 0
	for i := len(j.History) - 1; i >= 0; i-- {
		switch b := j.History[i].Body.(type) {
		case Imported:
			return nil, errors.New("nothing was changed since the document was brought in")
		case Edited:
			if b.Undoes {
				undone++
				continue
			}
			if undone > 0 {
				undone--
				continue
			}
			return Edited{Job: j.ID, Object: b.Object, Field: b.Field, Value: b.Was, Was: b.Value, Undoes: true}, nil
		case Removed:
			if undone > 0 {
				undone--
				continue
			}
			return Edited{Job: j.ID, Object: b.Object, Value: b.Was, Undoes: true}, nil
		}
	}
	return nil, errors.New("nothing was changed yet")
}
