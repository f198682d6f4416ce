//go:build unix

package sqlite

import (
	"bufio"
	"bytes"
	"context"
	"crypto/rand"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"doorwright/journal"
)

// writeUntilFull writes to a file that the system lets grow no further, says each acknowledged number, and what failed.
func writeUntilFull(file string) {
	ctx := context.Background()
	s, err := Open(ctx, file)
	if err != nil {
		fmt.Println("error", err)
		return
	}
	j, err := journal.Open(ctx, s, time.Now, rand.Reader)
	if err == nil {
		_, err = j.Write(ctx, "mw", small(), edit(1))
	}
	signal.Ignore(syscall.SIGXFSZ)
	if err == nil {
		err = syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: 300 << 10, Max: 300 << 10})
	}
	if err != nil {
		fmt.Println("error", err)
		return
	}
	for n := 3; n < 10000; n += 2 {
		if _, err := j.Write(ctx, "mw", edit(n), edit(n+1)); err != nil {
			fmt.Println("full", err)
			return // without closing: as if it had been killed then
		}
		fmt.Println(n + 1)
	}
}

// A real file that cannot grow: the write fails, and all that was acknowledged before is there.
func TestFileThatCannotGrowKeepsWhatWasKept(t *testing.T) {
	file := filepath.Join(t.TempDir(), "store.db")
	child := exec.Command(os.Args[0])
	child.Env = append(os.Environ(), "DOORWRIGHT_LIMIT_ME="+file)
	out, err := child.Output()
	if err != nil || !strings.Contains(string(out), "full") {
		t.Fatalf("it never got full: %v\n%s", err, out)
	}
	acknowledged := 2
	for lines := bufio.NewScanner(bytes.NewReader(out)); lines.Scan(); {
		fmt.Sscan(lines.Text(), &acknowledged) //nolint:errcheck // the last line is none
	}
	s, j := opened(t, file)
	if n := j.State().Entries; n < acknowledged || n%2 != 0 || acknowledged < 10 {
		t.Errorf("%d entries are there, %d were acknowledged", n, acknowledged)
	}
	if r, err := journal.Verify(context.Background(), s); err != nil || len(r.Wrong) > 0 {
		t.Errorf("%+v, %v", r, err)
	}
}
