package journal

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"sync"
	"time"

	"doorwright/document"
)

// Journal is an open workspace. It may be used by several goroutines at once.
type Journal struct {
	store  Store
	now    func() time.Time
	device Device

	mu    sync.Mutex
	tree  *tree    // of the device's own log
	all   []*Entry // of all logs, in order
	fold  *fold
	state *State // nil: not made since the last change

	unsure bool // a write has failed: what is kept must be read again before the next
}

// Open opens a store, and gives it a device where it has none. Now is the clock of the device, random a source of
// secrets. Every entry is read and checked against its neighbours and the signed heads; it errs on the first that does not
// fit, and Verify says all.
func Open(ctx context.Context, s Store, now func() time.Time, random io.Reader) (*Journal, error) {
	d, ok, err := s.Device(ctx)
	if err == nil && !ok {
		if d, err = NewDevice(random); err == nil {
			err = s.SetDevice(ctx, d)
		}
	}
	if err != nil {
		return nil, err
	}
	j := &Journal{store: s, now: now, device: d}
	return j, j.load(ctx)
}

// load reads all logs and folds them.
func (j *Journal) load(ctx context.Context) error {
	trees, all, err := readAll(ctx, j.store)
	if err != nil {
		return err
	}
	if j.tree = trees[j.device.Log]; j.tree == nil {
		j.tree = &tree{}
	}
	j.refold(all)
	return nil
}

// readAll reads all logs and checks them.
func readAll(ctx context.Context, s Store) (map[string]*tree, []*Entry, error) {
	logs, err := s.Logs(ctx)
	if err != nil {
		return nil, nil, err
	}
	trees := map[string]*tree{}
	var all []*Entry
	for _, k := range logs {
		t, entries, err := readLog(ctx, s, k)
		if err != nil {
			return nil, nil, err
		}
		trees[k.Log] = t
		all = append(all, entries...)
	}
	return trees, all, clockHolds(all)
}

// Look reads what is kept, checks it as Open does, and gives all entries in order and what they come to, without a device
// and without writing anything.
func Look(ctx context.Context, s Store) ([]*Entry, *State, error) {
	_, all, err := readAll(ctx, s)
	if err != nil {
		return nil, nil, err
	}
	j := &Journal{}
	j.refold(all)
	return all, j.State(), nil
}

// refold folds all entries anew, after some came that do not follow the ones that were there.
func (j *Journal) refold(all []*Entry) {
	inOrder(all)
	j.all, j.fold, j.state = all, newFold(), nil
	for _, e := range all {
		j.fold.take(e)
	}
}

// clock is the highest of all entries.
func (j *Journal) clock() int64 {
	if len(j.all) == 0 {
		return 0
	}
	return j.all[len(j.all)-1].Clock
}

// clockHolds checks that no clock is ahead of all that was written: one that were could stop everybody from writing on.
// Each entry is one above the highest that its writer knew, and a store holds all of what its writers knew.
func clockHolds(all []*Entry) error {
	for _, e := range all {
		if e.Clock > int64(len(all)) {
			return fmt.Errorf("entry %v has clock %d among %d entries: a log is missing, or it was not written by a journal", e, e.Clock, len(all))
		}
	}
	return nil
}

// readLog reads a log and checks all of it.
func readLog(ctx context.Context, s Store, k Kept) (*tree, []*Entry, error) {
	t := &tree{}
	var all []*Entry
	err := s.Read(ctx, k.Log, 0, func(raw []byte) error {
		e, err := t.follow(k.Log, raw)
		if err == nil {
			all = append(all, e)
		}
		return err
	})
	if err != nil {
		return nil, nil, err
	}
	return t, all, t.agrees(k)
}

// follow checks that an entry follows the ones before and adds it.
func (t *tree) follow(log string, raw []byte) (*Entry, error) {
	e, err := readEntry(raw)
	switch {
	case err != nil:
		return nil, fmt.Errorf("entry %d of %s: %w", t.size, log, err)
	case e.Log != log || e.Seq != t.size:
		return nil, fmt.Errorf("entry %d of %s: it says it is entry %d of %s", t.size, log, e.Seq, e.Log)
	case e.Prev != t.last:
		return nil, fmt.Errorf("entry %d of %s: it does not follow the entry before", t.size, log)
	case e.Clock <= t.clock:
		return nil, fmt.Errorf("entry %d of %s: its clock stands still", t.size, log)
	}
	t.clock = e.Clock
	return e, t.add(raw)
}

// agrees checks the tree against the key and the signed head of the log.
func (t *tree) agrees(k Kept) error {
	if err := checkKey(k.Log, k.Verify); err != nil {
		return err
	}
	switch {
	case k.Size != t.size:
		return fmt.Errorf("%s: %d entries are kept, of %d", k.Log, t.size, k.Size)
	case t.size == 0 && len(k.Head) == 0:
		return nil
	}
	signed, err := ReadHead(k.Head, k.Verify)
	if err != nil {
		return fmt.Errorf("%s: %w", k.Log, err)
	}
	h, err := t.head(k.Log)
	switch {
	case err != nil:
		return err
	case signed.Log != k.Log:
		return fmt.Errorf("%s: its head is that of %s", k.Log, signed.Log)
	case signed.Size != h.Size:
		return fmt.Errorf("%s: %d entries are kept, the signed head has %d", k.Log, h.Size, signed.Size)
	case signed.Root != h.Root:
		return fmt.Errorf("%s: the entries are not those that the head was signed for", k.Log)
	}
	return nil
}

// Write adds entries, all or none, and returns when they are kept for good. It errs on what is incomplete or cannot be done,
// and fills in what changes were made of.
func (j *Journal) Write(ctx context.Context, who string, bodies ...Body) ([]*Entry, error) {
	return j.write(ctx, who, nil, bodies)
}

// WritePhoto adds a photo with its bytes; the body gets the hash.
func (j *Journal) WritePhoto(ctx context.Context, who string, p Photographed, data []byte) (*Entry, error) {
	sum := sha256.Sum256(data)
	p.Blob = hex.EncodeToString(sum[:])
	all, err := j.write(ctx, who, []Blob{{p.Blob, data}}, []Body{p})
	if err != nil {
		return nil, err
	}
	return all[0], nil
}

func (j *Journal) write(ctx context.Context, who string, blobs []Blob, bodies []Body) ([]*Entry, error) {
	if who == "" {
		return nil, errors.New("nobody has said who writes this")
	}
	j.mu.Lock()
	defer j.mu.Unlock()
	if err := j.sure(ctx); err != nil {
		return nil, err
	}
	bodies, err := (&stage{j.fold, map[string]*document.Tree{}}).prepare(bodies)
	if err != nil {
		return nil, err
	}
	t := j.tree.copied()
	at := j.now().UTC().Truncate(time.Second)
	b := Batch{Log: j.device.Log, Verify: j.device.Verify, From: t.size, Blobs: blobs}
	var all []*Entry
	for i, body := range bodies {
		e := &Entry{j.device.Log, t.size, j.clock() + int64(i) + 1, at, who, t.last, body}
		raw, err := e.bytes()
		if err != nil {
			return nil, err
		}
		// What was written must read as it was meant: a body that loses something on the way is refused now.
		if e, err = t.follow(e.Log, raw); err != nil {
			return nil, err
		}
		all, b.Raw = append(all, e), append(b.Raw, raw)
	}
	h, err := t.head(j.device.Log)
	if err != nil {
		return nil, err
	}
	if b.Head, err = sign(h, j.device); err != nil {
		return nil, err
	}
	if err := j.store.Append(ctx, b); err != nil {
		j.unsure = true
		return nil, fmt.Errorf("it could not be kept: %w", err)
	}
	j.tree, j.state = t, nil
	for _, e := range all {
		j.all = append(j.all, e)
		j.fold.take(e)
	}
	return all, nil
}

// sure reads again what is kept when a write has failed: a failing disk may have kept it all the same.
func (j *Journal) sure(ctx context.Context) error {
	if !j.unsure {
		return nil
	}
	if err := j.load(ctx); err != nil {
		return fmt.Errorf("a write has failed, and what is kept cannot be read: %w", err)
	}
	j.unsure = false
	return nil
}

// State is the present state of the workspace. It is not to be changed; the next one is another.
func (j *Journal) State() *State {
	j.mu.Lock()
	defer j.mu.Unlock()
	if j.state == nil {
		j.state = j.fold.state()
	}
	return j.state
}

// Device is the name and the public key of the log that is written here.
func (j *Journal) Device() (log, verify string) { return j.device.Log, j.device.Verify }

// Blob is the bytes of a photo; nil when they are not here.
func (j *Journal) Blob(ctx context.Context, hash string) ([]byte, error) {
	return j.store.Blob(ctx, hash)
}

// Export writes the whole workspace as a pack.
func (j *Journal) Export(ctx context.Context, w io.Writer) error { return Export(ctx, j.store, w) }
