package journal

import (
	"bytes"
	"context"
	"fmt"
)

// Merged says what a pack brought.
type Merged struct{ Logs, Entries, Photos int }

// Merge takes everything of another store in, all or nothing. A log that both hold must begin alike: one that says
// something else at a place is refused, and nothing is changed.
func (j *Journal) Merge(ctx context.Context, from Store) (Merged, error) {
	r, err := Verify(ctx, from)
	if err != nil {
		return Merged{}, err
	}
	if len(r.Wrong) > 0 {
		return Merged{}, fmt.Errorf("the pack is not sound: %s", r.Wrong[0])
	}
	theirs, err := from.Logs(ctx)
	if err != nil {
		return Merged{}, err
	}
	if err := j.sameKeys(ctx, theirs); err != nil {
		return Merged{}, err
	}
	var m Merged
	var batches []Batch
	for _, k := range theirs {
		b, err := j.newOf(ctx, from, k)
		if err != nil {
			return Merged{}, err
		}
		if b != nil {
			m.Logs, m.Entries = m.Logs+1, m.Entries+len(b.Raw)
			batches = append(batches, *b)
		}
	}
	if len(batches) == 0 {
		return m, nil
	}
	hashes, err := from.Blobs(ctx)
	if err != nil {
		return Merged{}, err
	}
	for _, hash := range hashes {
		data, err := from.Blob(ctx, hash)
		if err != nil {
			return Merged{}, err
		}
		batches[0].Blobs = append(batches[0].Blobs, Blob{hash, data})
		m.Photos++
	}
	if err := j.store.Append(ctx, batches...); err != nil {
		return Merged{}, fmt.Errorf("nothing was taken in: %w", err)
	}
	return m, j.load(ctx)
}

// sameKeys checks that logs that both hold have one key.
func (j *Journal) sameKeys(ctx context.Context, theirs []Kept) error {
	ours, err := j.store.Logs(ctx)
	if err != nil {
		return err
	}
	for _, o := range ours {
		for _, k := range theirs {
			if k.Log == o.Log && k.Verify != o.Verify {
				return fmt.Errorf("%s has another key than the log that is kept here under that name", k.Log)
			}
		}
	}
	return nil
}

// newOf is what a log of another store has beyond ours; nil for nothing.
func (j *Journal) newOf(ctx context.Context, from Store, k Kept) (*Batch, error) {
	var ours [][]byte
	if err := j.store.Read(ctx, k.Log, 0, func(raw []byte) error {
		ours = append(ours, bytes.Clone(raw))
		return nil
	}); err != nil {
		return nil, err
	}
	b := &Batch{Log: k.Log, Verify: k.Verify, From: int64(len(ours)), Head: k.Head}
	at := 0
	err := from.Read(ctx, k.Log, 0, func(raw []byte) error {
		if at < len(ours) && !bytes.Equal(raw, ours[at]) {
			return fmt.Errorf("%s says something else at entry %d than the log that is kept here: one of the two was altered", k.Log, at)
		}
		if at >= len(ours) {
			b.Raw = append(b.Raw, bytes.Clone(raw))
		}
		at++
		return nil
	})
	if err != nil || len(b.Raw) == 0 {
		return nil, err
	}
	if k.Log == j.device.Log {
		return nil, fmt.Errorf("%s is written here, and the pack has more of it than is kept: this store is an older copy", k.Log)
	}
	return b, nil
}
