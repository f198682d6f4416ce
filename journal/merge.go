package journal

import (
	"bytes"
	"context"
	"fmt"
	"slices"
)

// Merged says what a pack brought.
type Merged struct{ Logs, Entries, Photos int }

// Offer is what a merge would bring.
type Offer struct {
	Brings  Merged
	Entries []*Entry // in order
	Told    []string // what would be told of the workspace then and is not now: what clashes, what fits nothing
	Then    *State   // the workspace as it would be
}

// Merge takes everything of another store in, all or nothing. A log that both hold must begin alike: one that says
// something else at a place is refused, and nothing is changed.
func (j *Journal) Merge(ctx context.Context, from Store) (Merged, error) {
	if err := sound(ctx, from); err != nil {
		return Merged{}, err
	}
	j.mu.Lock()
	defer j.mu.Unlock()
	if err := j.sure(ctx); err != nil {
		return Merged{}, err
	}
	m, batches, fresh, err := j.coming(ctx, from)
	if err != nil || len(batches) == 0 {
		return m, err
	}
	if err := j.store.Append(ctx, batches...); err != nil {
		j.unsure = true
		return Merged{}, fmt.Errorf("it could not be taken in: %w", err)
	}
	j.refold(slices.Concat(j.all, fresh))
	return m, nil
}

// Offered says what a merge of another store would bring, and changes nothing. It errs where Merge would.
func (j *Journal) Offered(ctx context.Context, from Store) (*Offer, error) {
	if err := sound(ctx, from); err != nil {
		return nil, err
	}
	j.mu.Lock()
	defer j.mu.Unlock()
	if err := j.sure(ctx); err != nil {
		return nil, err
	}
	m, _, fresh, err := j.coming(ctx, from)
	if err != nil {
		return nil, err
	}
	inOrder(fresh)
	then := &Journal{}
	then.refold(slices.Concat(j.all, fresh))
	now := j.fold.state().told()
	state := then.State()
	told := slices.DeleteFunc(state.told(), func(s string) bool { return slices.Contains(now, s) })
	return &Offer{m, fresh, told, state}, nil
}

// told is all that must be told of a workspace.
func (s *State) told() []string {
	all := slices.Clone(s.Clashes)
	for _, j := range s.Jobs {
		for _, c := range j.Clashes {
			all = append(all, j.ID+": "+c.String())
		}
		for _, x := range j.Ill {
			all = append(all, j.ID+": "+x)
		}
	}
	return all
}

// sound errs on a store that is not as it was written.
func sound(ctx context.Context, s Store) error {
	r, err := Verify(ctx, s)
	if err != nil {
		return err
	}
	if len(r.Wrong) > 0 {
		return fmt.Errorf("the pack is not sound: %s", r.Wrong[0])
	}
	return nil
}

// coming is what another store has beyond ours.
func (j *Journal) coming(ctx context.Context, from Store) (m Merged, batches []Batch, fresh []*Entry, err error) {
	theirs, err := from.Logs(ctx)
	if err != nil {
		return Merged{}, nil, nil, err
	}
	for _, k := range theirs {
		b, entries, err := j.newOf(ctx, from, k)
		if err != nil {
			return Merged{}, nil, nil, err
		}
		if b == nil {
			continue
		}
		if b.Blobs, err = photosOf(ctx, from, entries); err != nil {
			return Merged{}, nil, nil, err
		}
		m.Logs, m.Entries, m.Photos = m.Logs+1, m.Entries+len(b.Raw), m.Photos+len(b.Blobs)
		batches, fresh = append(batches, *b), append(fresh, entries...)
	}
	return m, batches, fresh, nil
}

// newOf is what a log of another store has beyond ours; nil for nothing.
func (j *Journal) newOf(ctx context.Context, from Store, k Kept) (*Batch, []*Entry, error) {
	var ours [][]byte
	if err := j.store.Read(ctx, k.Log, 0, func(raw []byte) error {
		ours = append(ours, bytes.Clone(raw))
		return nil
	}); err != nil {
		return nil, nil, err
	}
	b := &Batch{Log: k.Log, Verify: k.Verify, From: int64(len(ours)), Head: k.Head}
	var entries []*Entry
	at := 0
	err := from.Read(ctx, k.Log, 0, func(raw []byte) error {
		if at < len(ours) && !bytes.Equal(raw, ours[at]) {
			return fmt.Errorf("%s says something else at entry %d than the log that is kept here: one of the two was altered", k.Log, at)
		}
		if at++; at <= len(ours) {
			return nil
		}
		e, err := readEntry(raw)
		b.Raw, entries = append(b.Raw, bytes.Clone(raw)), append(entries, e)
		return err
	})
	if err != nil || len(b.Raw) == 0 {
		return nil, nil, err
	}
	if k.Log == j.device.Log {
		return nil, nil, fmt.Errorf("%s is written here, and the pack has more of it than is kept: this store is an older copy", k.Log)
	}
	return b, entries, nil
}

// photosOf are the bytes of the photos that entries are about. Other blobs of a pack are left.
func photosOf(ctx context.Context, from Store, entries []*Entry) ([]Blob, error) {
	var all []Blob
	seen := map[string]bool{}
	for _, e := range entries {
		p, ok := e.Body.(Photographed)
		if !ok || seen[p.Blob] {
			continue
		}
		seen[p.Blob] = true
		data, err := from.Blob(ctx, p.Blob)
		if err != nil {
			return nil, err
		}
		all = append(all, Blob{p.Blob, data})
	}
	return all, nil
}
