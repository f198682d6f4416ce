package sqlite

import (
	"bufio"
	"bytes"
	"context"
	"crypto/rand"
	"fmt"
	mrand "math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"doorwright/demo"
	"doorwright/journal"
	"doorwright/record"
)

func opened(t testing.TB, file string) (*Store, *journal.Journal) {
	t.Helper()
	s, err := Open(context.Background(), file)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() }) //nolint:errcheck // the test says what matters
	j, err := journal.Open(context.Background(), s, time.Now, rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	return s, j
}

var act = record.Act{By: "mw", On: record.Date{Year: 2026, Month: 10, Day: 12}}

// begun is an open store with a job of which only the title matters.
func begun(t testing.TB, file string) (*Store, *journal.Journal) {
	t.Helper()
	s, j := opened(t, file)
	if _, err := j.Write(context.Background(), "mw", small()); err != nil {
		t.Fatal(err)
	}
	return s, j
}

func small() journal.Body {
	return journal.Imported{Job: "BTO", File: "small.yaml", Document: "job: BTO\ntitle: w\n"}
}

func edit(n int) journal.Body {
	return journal.Edited{Job: "BTO", Field: "title", Value: fmt.Sprint(n)}
}

func TestWhatIsWrittenIsThereWhenItIsOpenedAgain(t *testing.T) {
	ctx := context.Background()
	file := filepath.Join(t.TempDir(), "deep", "store.db")
	s, j := begun(t, file)
	if _, err := j.Write(ctx, "mw", edit(1), edit(2)); err != nil {
		t.Fatal(err)
	}
	if _, err := j.WritePhoto(ctx, "mw", journal.Photographed{Job: "BTO", Act: act}, []byte("picture")); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	s, j = opened(t, file)
	if n := j.State().Entries; n != 4 {
		t.Errorf("%d entries", n)
	}
	if r, err := journal.Verify(ctx, s); err != nil || len(r.Wrong) > 0 || r.Blobs != 1 {
		t.Errorf("%+v, %v", r, err)
	}
}

func TestOneProcessAtATime(t *testing.T) {
	file := filepath.Join(t.TempDir(), "store.db")
	s, _ := opened(t, file)
	want := fmt.Sprintf("another process (process %d on ", os.Getpid())
	if _, err := Open(context.Background(), file); err == nil || !strings.Contains(err.Error(), want) {
		t.Errorf("opened twice: %v", err)
	}
	if _, err := Look(context.Background(), file); err == nil || !strings.Contains(err.Error(), want) {
		t.Errorf("looked into while it is open: %v", err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if left, err := filepath.Glob(file + "?*"); err != nil || len(left) > 0 {
		t.Errorf("left behind: %v %v", left, err)
	}
}

func TestOtherFilesAreNotTouched(t *testing.T) {
	file := filepath.Join(t.TempDir(), "notes.txt")
	if err := os.WriteFile(file, []byte(strings.Repeat("my notes ", 500)), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(context.Background(), file); err == nil || !strings.Contains(err.Error(), "no journal") {
		t.Errorf("a text file: %v", err)
	}
	if data, err := os.ReadFile(file); err != nil || !strings.HasPrefix(string(data), "my notes") || len(data) != 4500 {
		t.Errorf("the text file was changed: %v", err)
	}
}

func TestBackupOfAnOpenStoreOpens(t *testing.T) {
	ctx := context.Background()
	dir := t.TempDir()
	s, j := begun(t, filepath.Join(dir, "store.db"))
	if _, err := j.Write(ctx, "mw", edit(1)); err != nil {
		t.Fatal(err)
	}
	if err := s.Backup(ctx, filepath.Join(dir, "copy.db")); err != nil {
		t.Fatal(err)
	}
	if _, err := j.Write(ctx, "mw", edit(2)); err != nil {
		t.Fatal(err)
	}
	if _, copied := opened(t, filepath.Join(dir, "copy.db")); copied.State().Entries != 2 {
		t.Errorf("%d entries in the copy", copied.State().Entries)
	}
	if err := s.Backup(ctx, filepath.Join(dir, "copy.db")); err == nil {
		t.Error("a backup over another")
	}
}

// A backup has no key: whoever goes on from it writes another log, and both can be brought together again.
func TestBackupGoesOnAsAnotherDevice(t *testing.T) {
	ctx := context.Background()
	dir := t.TempDir()
	s, j := begun(t, filepath.Join(dir, "store.db"))
	d, _, err := s.Device(ctx)
	if err != nil {
		t.Fatal(err)
	}
	copied := filepath.Join(dir, "copy.db")
	if err := s.Backup(ctx, copied); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(copied)
	if secret := d.Signer[len(d.Signer)-40:]; err != nil || bytes.Contains(data, []byte(secret)) {
		t.Errorf("the backup holds the secret key: %v", err)
	}
	if _, err := j.Write(ctx, "mw", edit(1)); err != nil {
		t.Fatal(err)
	}
	other, k := opened(t, copied)
	if _, err := k.Write(ctx, "mw", edit(2)); err != nil {
		t.Fatal(err)
	}
	if m, err := j.Merge(ctx, other); err != nil || m.Entries != 1 {
		t.Errorf("%+v, %v", m, err)
	}
	if n := len(j.State().Job("BTO").Clashes); n != 1 {
		t.Errorf("%d clashes", n)
	}
}

func TestLookingChangesNothing(t *testing.T) {
	ctx := context.Background()
	before, err := os.ReadFile("testdata/store-1.db")
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "store.db")
	if err := os.WriteFile(file, before, 0o600); err != nil {
		t.Fatal(err)
	}
	s, err := Look(ctx, file)
	if err != nil {
		t.Fatal(err)
	}
	if r, err := journal.Verify(ctx, s); err != nil || len(r.Wrong) > 0 || len(r.Heads) != 1 {
		t.Errorf("%+v, %v", r, err)
	}
	if wrong, err := s.Check(ctx); err != nil || len(wrong) > 0 {
		t.Errorf("%v, %v", wrong, err)
	}
	if err := s.SetDevice(ctx, journal.Device{Log: "x"}); err == nil {
		t.Error("it can be written")
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	after, err := os.ReadFile(file)
	if err != nil || !bytes.Equal(before, after) {
		t.Errorf("the file was changed: %v", err)
	}
	if left, err := filepath.Glob(file + "?*"); err != nil || len(left) > 0 {
		t.Errorf("left behind: %v %v", left, err)
	}
	if _, err := Look(ctx, file+"x"); err == nil {
		t.Error("a file that is not there was looked into")
	}
}

// The store of each release opens in every later one. KEEP_STORE=1 writes that of this one, once.
func TestStoreOfEveryVersionOpens(t *testing.T) {
	if os.Getenv("KEEP_STORE") != "" {
		keep(t, "testdata/store-1.db")
	}
	kept, err := filepath.Glob("testdata/store-*.db")
	if err != nil || len(kept) == 0 {
		t.Fatal("no store is kept", err)
	}
	for _, file := range kept {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		mine := filepath.Join(t.TempDir(), "store.db")
		if err := os.WriteFile(mine, data, 0o600); err != nil {
			t.Fatal(err)
		}
		s, j := opened(t, mine)
		if r, err := journal.Verify(context.Background(), s); err != nil || len(r.Wrong) > 0 {
			t.Errorf("%s: %+v, %v", file, r, err)
		}
		if st := j.State(); st.Entries < 3 || st.Unknown > 0 || len(st.Jobs) == 0 || len(st.Jobs[0].Ill) > 0 {
			t.Errorf("%s: %+v", file, st)
		}
		if _, err := j.Write(context.Background(), "mw", journal.Edited{Job: "BTO", Field: "title", Value: "Later"}); err != nil {
			t.Errorf("%s cannot be written on: %v", file, err)
		}
	}
}

// keep writes a store with a job and some work done.
func keep(t *testing.T, file string) {
	if err := os.Remove(file); err != nil && !os.IsNotExist(err) {
		t.Fatal(err)
	}
	s, j := opened(t, file)
	_, err := j.Write(context.Background(), "mw",
		journal.Named{Initials: "mw", Person: record.Person{Name: "Mara Wren"}},
		journal.Imported{Job: "BTO", File: "brackwater.yaml", Document: string(demo.Brackwater)},
		journal.Edited{Job: "BTO", Object: "doors/staff", Field: "title", Value: "Side door", Was: "Staff door"},
		journal.Sighted{Job: "BTO", Sight: record.Sight{Door: "staff", What: "closer leaks", Act: act}})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := j.WritePhoto(context.Background(), "mw", journal.Photographed{Job: "BTO", Door: "staff", Type: "image/png", Act: act}, []byte("picture")); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
}

// Flip any byte of the file, also where nothing is kept: it does not open, or the check says so.
func TestFlippedByteInTheFileIsFound(t *testing.T) {
	ctx := context.Background()
	whole, err := os.ReadFile("testdata/store-1.db")
	if err != nil {
		t.Fatal(err)
	}
	if wrong, err := checkPages(bytes.NewReader(whole)); err != nil || len(wrong) > 0 {
		t.Fatalf("a sound file: %v %v", wrong, err)
	}
	for i := range whole {
		whole[i] ^= 1 << (i % 8)
		if from := i / pageSize * pageSize; pageHolds(whole[from : from+pageSize]) {
			t.Fatalf("byte %d: nothing is said", i)
		}
		whole[i] ^= 1 << (i % 8)
	}
	random := mrand.New(mrand.NewPCG(3, 4))
	for range 150 {
		data := bytes.Clone(whole)
		i := random.IntN(len(data))
		data[i] ^= 1 << random.IntN(8)
		file := filepath.Join(t.TempDir(), "store.db")
		if err := os.WriteFile(file, data, 0o600); err != nil {
			t.Fatal(err)
		}
		s, err := Look(ctx, file)
		if err != nil {
			continue
		}
		wrong, err := s.Check(ctx)
		if err == nil && len(wrong) == 0 {
			t.Errorf("byte %d: nothing is said", i)
		}
		s.Close() //nolint:errcheck // it was only read
	}
}

// Somebody who changes the file and mends its checksums is found out by the logs.
func TestChangedEntryWithGoodChecksumsIsFound(t *testing.T) {
	ctx := context.Background()
	for what, change := range map[string]string{
		"an entry":    "update entry set raw = cast(replace(cast(raw as text), 'leaks', 'works') as blob)",
		"a lost one":  "delete from entry where seq = (select max(seq) from entry)",
		"a gap":       "delete from entry where seq = 1",
		"the size":    "update log set size = size - 1",
		"the head":    "update log set head = x'00'",
		"the key":     "update log set verify = replace(verify, 'log', 'lug')",
		"the name":    "pragma foreign_keys = off; update log set log = 'log-0'; update entry set log = 'log-0'",
		"a photo":     "update blob set data = x'00'",
		"no photo":    "delete from blob",
		"another log": "insert into log values ('log-1', 'x', 0, x'')",
	} {
		data, err := os.ReadFile("testdata/store-1.db")
		if err != nil {
			t.Fatal(err)
		}
		file := filepath.Join(t.TempDir(), "store.db")
		if err := os.WriteFile(file, data, 0o600); err != nil {
			t.Fatal(err)
		}
		s, err := Open(ctx, file)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := s.db.ExecContext(ctx, change); err != nil {
			t.Fatal(what, err)
		}
		if r, err := journal.Verify(ctx, s); err == nil && len(r.Wrong) == 0 {
			t.Errorf("%s: nothing is said", what)
		}
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
	}
}

// TestMain lets the test binary be the process that is killed.
func TestMain(m *testing.M) {
	if file := os.Getenv("DOORWRIGHT_KILL_ME"); file != "" {
		writeUntilKilled(file)
		return
	}
	if file := os.Getenv("DOORWRIGHT_LIMIT_ME"); file != "" {
		writeUntilFull(file)
		return
	}
	os.Exit(m.Run())
}

// writeUntilKilled writes entry after entry and says each number once it is acknowledged.
func writeUntilKilled(file string) {
	ctx := context.Background()
	s, err := Open(ctx, file)
	if err != nil {
		fmt.Println("error", err)
		return
	}
	j, err := journal.Open(ctx, s, time.Now, rand.Reader)
	if err != nil {
		fmt.Println("error", err)
		return
	}
	fmt.Printf("has %d.\n", j.State().Entries)
	if j.State().Job("BTO") == nil {
		if _, err := j.Write(ctx, "mw", small(), edit(1)); err != nil {
			fmt.Println("error", err)
			return
		}
	}
	for n := j.State().Entries + 1; ; n += 2 {
		if _, err := j.Write(ctx, "mw", edit(n), edit(n+1)); err != nil {
			fmt.Println("error", err)
			return
		}
		fmt.Printf("has %d.\n", n+1)
	}
}

// Processes are killed at random instants while they write; what each had acknowledged is there, and nothing half.
func TestKilledProcessesLoseNothing(t *testing.T) {
	stores := 10
	if testing.Short() {
		stores = 1
	}
	random := mrand.New(mrand.NewPCG(1, 2))
	acknowledged := 0
	for range stores {
		file := filepath.Join(t.TempDir(), "store.db")
		kept := 0
		for i := range 20 {
			// One in four is killed while it starts and takes in what the last one left, the others while they write.
			kept = killed(t, file, i%4 > 0, time.Duration(random.IntN(15000))*time.Microsecond, kept)
		}
		s, j := opened(t, file)
		if n := j.State().Entries; n < kept || n%2 != 0 {
			t.Errorf("%d entries are there, %d were acknowledged, two at a time", n, kept)
		}
		if r, err := journal.Verify(context.Background(), s); err != nil || len(r.Wrong) > 0 {
			t.Errorf("%+v, %v", r, err)
		}
		acknowledged += kept
	}
	if acknowledged < 20*stores {
		t.Errorf("only %d entries were acknowledged in %d runs", acknowledged, 20*stores)
	}
}

// killed starts a process that writes, and kills it after a time: from its start, or from when it has written. It gives the
// number of entries that are acknowledged by then.
func killed(t *testing.T, file string, wrote bool, after time.Duration, kept int) int {
	t.Helper()
	child := exec.Command(os.Args[0])
	child.Env = append(os.Environ(), "DOORWRIGHT_KILL_ME="+file)
	out, err := child.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := child.Start(); err != nil {
		t.Fatal(err)
	}
	lines := bufio.NewScanner(out)
	read := func() bool {
		more := lines.Scan()
		var n int
		switch _, err := fmt.Sscanf(lines.Text(), "has %d.", &n); {
		case strings.HasPrefix(lines.Text(), "error"):
			t.Fatal(lines.Text())
		case err == nil && n < kept:
			t.Fatalf("%d entries are there, %d were acknowledged", n, kept)
		case err == nil:
			kept = n
		}
		return more
	}
	for i := 0; wrote && i < 2 && read(); i++ { // what is there, and what was written first
	}
	time.Sleep(after)
	child.Process.Kill() //nolint:errcheck // it may have ended: the lines say so
	for read() {
	}
	child.Wait() //nolint:errcheck // it was killed
	return kept
}

func BenchmarkWrite(b *testing.B) {
	_, j := begun(b, filepath.Join(b.TempDir(), "store.db"))
	for i := 0; b.Loop(); i++ {
		if _, err := j.Write(context.Background(), "mw", edit(i)); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkWriteHundred(b *testing.B) {
	_, j := begun(b, filepath.Join(b.TempDir(), "store.db"))
	var all []journal.Body
	for i := range 100 {
		all = append(all, journal.Seated{Initials: fmt.Sprint(i)})
	}
	for b.Loop() {
		if _, err := j.Write(context.Background(), "mw", all...); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(100*b.N)/b.Elapsed().Seconds(), "entries/s")
}
