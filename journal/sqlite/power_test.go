package sqlite

import (
	"context"
	"crypto/rand"
	"fmt"
	mrand "math/rand/v2"
	"strings"
	"testing"
	"time"

	"doorwright/journal"

	"github.com/ncruces/go-sqlite3/vfs"
)

// on puts a disk under a name that SQLite finds it by, until the test ends.
func on(t *testing.T, d *disk) string {
	t.Helper()
	name := fmt.Sprintf("disk-%p", d)
	vfs.Register(name, d)
	t.Cleanup(func() { vfs.Unregister(name) })
	return name
}

// session writes to a store on a disk, two entries at a time with a small checkpoint now and then, until it has done all
// or something fails. It gives the number of entries that were acknowledged.
func session(t *testing.T, layer string, batches int) (acknowledged int) {
	t.Helper()
	ctx := context.Background()
	s, err := open(ctx, "/store.db", layer, "")
	if err != nil {
		return 0
	}
	defer s.Close() //nolint:errcheck // the power may be gone
	if _, err := s.db.ExecContext(ctx, "pragma wal_autocheckpoint = 8"); err != nil {
		return 0
	}
	j, err := journal.Open(ctx, s, time.Now, rand.Reader)
	if err != nil {
		return 0
	}
	acknowledged = j.State().Entries
	if acknowledged == 0 {
		if _, err := j.Write(ctx, "mw", small(), edit(0)); err != nil {
			return 0
		}
		acknowledged = 2
	}
	for i := range batches {
		if _, err := j.Write(ctx, "mw", edit(i), edit(i+1)); err != nil {
			return acknowledged
		}
		acknowledged += 2
	}
	return acknowledged
}

// sound checks what is on a disk: at least what was acknowledged, nothing half, all of it verified.
func sound(t *testing.T, d *disk, acknowledged int, what string) {
	t.Helper()
	ctx := context.Background()
	s, err := open(ctx, "/store.db", on(t, d), "")
	if err != nil {
		t.Fatalf("%s: it does not open: %v", what, err)
	}
	defer s.Close() //nolint:errcheck // it was only read
	j, err := journal.Open(ctx, s, time.Now, rand.Reader)
	if err != nil {
		t.Fatalf("%s: %v", what, err)
	}
	if n := j.State().Entries; n < acknowledged || n%2 != 0 {
		t.Errorf("%s: %d entries are there, %d were acknowledged, two at a time", what, n, acknowledged)
	}
	if _, err := j.Write(ctx, "mw", small(), edit(1)); err != nil {
		t.Errorf("%s: it cannot be written on: %v", what, err)
	}
	if r, err := journal.Verify(ctx, s); err != nil || len(r.Wrong) > 0 {
		t.Errorf("%s: %+v, %v", what, r, err)
	}
}

// The power is cut before each operation of a session in turn, then again while the next session takes in what is left.
func TestPowerCutAtAnyInstantLosesNothing(t *testing.T) {
	whole := newDisk()
	if n := session(t, on(t, whole), 12); n != 26 || whole.ops < 100 {
		t.Fatalf("%d entries in %d operations", n, whole.ops)
	}
	step := 1
	if testing.Short() {
		step = 9
	}
	tried := 0
	for cut := 1; cut <= whole.ops; cut += step {
		random := mrand.New(mrand.NewPCG(uint64(cut), 7))
		d := newDisk()
		d.cutAt = cut
		first := session(t, on(t, d), 12)
		d = d.afterCut(random)
		d.cutAt = 1 + random.IntN(60)
		second := session(t, on(t, d), 3)
		sound(t, d.afterCut(random), max(first, second), fmt.Sprintf("cut before operation %d", cut))
		tried++
	}
	if tried < 10 {
		t.Errorf("only %d cuts tried", tried)
	}
}

// Each operation of a session fails in turn, once. What was acknowledged is there, and the same journal goes on.
func TestOneFailingOperationLosesNothing(t *testing.T) {
	ctx := context.Background()
	whole := newDisk()
	session(t, on(t, whole), 12)
	step := 2
	if testing.Short() {
		step = 9
	}
	failures, wentOn := 0, 0
	for fail := 1; fail <= whole.ops; fail += step {
		d := newDisk()
		s, err := open(ctx, "/store.db", on(t, d), "")
		if err != nil {
			t.Fatal(err)
		}
		if _, err := s.db.ExecContext(ctx, "pragma wal_autocheckpoint = 8"); err != nil {
			t.Fatal(err)
		}
		j, err := journal.Open(ctx, s, time.Now, rand.Reader)
		if err == nil {
			_, err = j.Write(ctx, "mw", small(), edit(0))
		}
		if err != nil {
			t.Fatal(err)
		}
		d.failA = d.ops + fail
		acknowledged := 2
		failed := false
		for i := range 12 {
			switch _, err := j.Write(ctx, "mw", edit(i), edit(i+1)); {
			case err == nil:
				acknowledged += 2
				if failed {
					wentOn++
				}
			default:
				failed = true
				failures++
			}
		}
		if n := j.State().Entries; n < acknowledged {
			t.Errorf("operation %d: %d entries in memory, %d acknowledged", fail, n, acknowledged)
		}
		s.Close() //nolint:errcheck // the disk says what is kept
		d.failA = 0
		sound(t, d, acknowledged, fmt.Sprintf("operation %d failed", fail))
	}
	if failures == 0 || wentOn == 0 {
		t.Errorf("%d writes failed, %d after that did not", failures, wentOn)
	}
}

// A disk that gets full in the middle of a write: it says so, nothing is lost, and with room again the same journal goes
// on.
func TestFullDiskSaysSoAndGoesOn(t *testing.T) {
	ctx := context.Background()
	tried := 0
	for room := 120 << 10; room < 400<<10; room += 40<<10 + 1000 {
		d := newDisk()
		d.room = room
		s, err := open(ctx, "/store.db", on(t, d), "")
		if err != nil {
			t.Fatal(err)
		}
		j, err := journal.Open(ctx, s, time.Now, rand.Reader)
		if err == nil {
			_, err = j.Write(ctx, "mw", small(), edit(0))
		}
		if err != nil {
			t.Fatal(err)
		}
		acknowledged := 2
		for i := 0; d.full == 0; i++ {
			if _, err = j.Write(ctx, "mw", edit(i), edit(i+1)); err == nil {
				acknowledged += 2
			}
		}
		if err != nil && !strings.Contains(err.Error(), "the disk is full") {
			t.Errorf("a full disk: %v", err)
		}
		if n := j.State().Entries; n != acknowledged {
			t.Errorf("%d entries in memory, %d acknowledged", n, acknowledged)
		}
		d.room = 0
		if _, err := j.Write(ctx, "mw", edit(1), edit(2)); err != nil {
			t.Errorf("with room again: %v", err)
		}
		s.Close() //nolint:errcheck // the disk says what is kept
		sound(t, d, acknowledged+2, fmt.Sprintf("%d bytes of room", room))
		tried++
	}
	if tried == 0 {
		t.Error("no disk tried")
	}
}
