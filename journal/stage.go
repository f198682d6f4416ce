package journal

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"

	"doorwright/document"
)

// stage tries a batch on copies of the documents before anything is written: what cannot be done is refused, and each
// change gets what stood there before.
type stage struct {
	fold  *fold
	trees map[string]*document.Tree
}

func (s *stage) prepare(bodies []Body) ([]Body, error) {
	out := make([]Body, len(bodies))
	for i, b := range bodies {
		if err := check(b); err != nil {
			return nil, err
		}
		var err error
		if out[i], err = s.one(b); err != nil {
			return nil, err
		}
	}
	return out, nil
}

func (s *stage) one(body Body) (Body, error) {
	switch b := body.(type) {
	case Imported:
		return s.imported(b)
	case Edited:
		t, err := s.tree(b.Job)
		if err == nil {
			b.Was, err = changed(t, b.Object, b.Field, b.Value)
		}
		return b, err
	case Removed:
		t, err := s.tree(b.Job)
		if err == nil {
			b.Was, err = changed(t, b.Object, "", "")
		}
		if err == nil && b.Was == "" {
			err = fmt.Errorf("there is no %s", b.Object)
		}
		return b, err
	}
	if id := body.about(); id != "" && s.trees[id] == nil && s.fold.jobs[id] == nil {
		return nil, fmt.Errorf("there is no job %q", id)
	}
	return body, nil
}

func (s *stage) imported(b Imported) (Body, error) {
	t, err := document.ReadTree([]byte(b.Document))
	if err != nil {
		return nil, fmt.Errorf("the document cannot be kept: %w", err)
	}
	if is, err := t.Text("job"); err != nil || is != b.Job {
		return nil, fmt.Errorf("the document is that of job %q, not of %q", is, b.Job)
	}
	b.Over = ""
	if old, err := s.tree(b.Job); err == nil {
		text, err := old.Bytes()
		if err != nil {
			return nil, err
		}
		b.Over = markOf(text)
	}
	s.trees[b.Job] = t
	return b, nil
}

// tree is the document of a job as it will be after what was staged.
func (s *stage) tree(id string) (*document.Tree, error) {
	if t := s.trees[id]; t != nil {
		return t, nil
	}
	b := s.fold.jobs[id]
	if b == nil {
		return nil, fmt.Errorf("there is no job %q", id)
	}
	t, err := b.grown()
	if err != nil {
		return nil, err
	}
	s.trees[id] = t.Clone()
	return s.trees[id], nil
}

// markOf is a short name of a text.
func markOf(text []byte) string {
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:16])
}

// changed puts a value at a field and gives what stood there. A field of an object is set only where the object is: an
// object that was removed never comes back in part.
func changed(t *document.Tree, object, field, value string) (was string, err error) {
	path := PathOf(object, field)
	if was, err = t.Get(path...); err != nil {
		return "", err
	}
	if parents := path[:len(path)-1]; len(parents) > 1 {
		if parent, err := t.Get(parents...); err != nil || parent == "" {
			return "", fmt.Errorf("there is no %s any more", object)
		}
	}
	return was, t.Set(value, path...)
}
