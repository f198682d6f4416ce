package paper_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"doorwright/demo"
	"doorwright/document"
	"doorwright/draw"
	"doorwright/job"
	"doorwright/mend"
	"doorwright/paper"
	"doorwright/record"
)

// readJob reads a job that must be valid.
func readJob(t testing.TB, text []byte) *job.Job {
	t.Helper()
	j, problems := job.Read("job.yaml", text)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return j
}

// workOf is what papers of a job are made from, without a record.
func workOf(t testing.TB, text []byte) *paper.Work {
	t.Helper()
	return paper.NewWork(mend.NewExaminer().Examine(readJob(t, text)), nil)
}

// examined is the examination of the demo, which papers read and never change.
var examined = sync.OnceValues(func() (*mend.Examination, document.Problems) {
	j, problems := job.Read("job.yaml", demo.Brackwater)
	if len(problems) > 0 {
		return nil, problems
	}
	return mend.NewExaminer().Examine(j), nil
})

// brief is how much a test does under -short: with the race detector, which slows the solver some ten times, less of the
// same kind will do.
func brief(full, short int) int {
	if testing.Short() {
		return short
	}
	return full
}

// demoWork is the demo with its record.
func demoWork(t testing.TB) *paper.Work {
	t.Helper()
	x, wrong := examined()
	if len(wrong) > 0 {
		t.Fatal(wrong)
	}
	r, problems := record.Read("record.yaml", demo.Record, x.Plan)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return paper.NewWork(x, r)
}

// frame is a title block on a size of sheet.
func frame(t testing.TB, size string) paper.Frame {
	t.Helper()
	s, ok := paper.FindSize(size)
	if !ok {
		t.Fatalf("no size %s", size)
	}
	return paper.Frame{
		Size: s, Owner: "Harbour Trust", Made: "M. Wren", Approved: "K. Fenn", Issued: record.Date{
			Year:  2026,
			Month: 10, Day: 20,
		},
	}
}

// doorNamed is a door of a job.
func doorNamed(t testing.TB, j *job.Job, id string) *job.Door {
	t.Helper()
	for _, d := range j.Doors {
		if d.ID == id {
			return d
		}
	}
	t.Fatalf("no door %s", id)
	return nil
}

// doorSheet is the sheet of one door.
func doorSheet(t testing.TB, w *paper.Work, id string) *paper.Paper {
	t.Helper()
	p, err := w.DoorSheet(frame(t, "a4"), doorNamed(t, w.Job, id))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// pdf writes a paper to a file of its own and gives its path and its bytes.
func pdf(t testing.TB, p *paper.Paper) (path string, data []byte) {
	t.Helper()
	data, err := p.PDF()
	if err != nil {
		t.Fatal(err)
	}
	path = filepath.Join(t.TempDir(), "paper.pdf")
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return path, data
}

// tool runs a program that must be there and must succeed, and gives what it prints.
func tool(t testing.TB, name string, args ...string) string {
	t.Helper()
	var out, wrong bytes.Buffer
	c := exec.Command(name, args...)
	c.Stdout, c.Stderr = &out, &wrong
	if err := c.Run(); err != nil {
		t.Fatalf("%s: %v; on Debian sh test.sh installs what is missing\n%s%s", name, err, out.String(), wrong.String())
	}
	return out.String()
}

// textOf is the text of the pages as they were laid out, a line for each text.
func textOf(p *paper.Paper) string {
	var b strings.Builder
	for _, s := range p.Pages {
		for _, item := range s.Items {
			if t, is := item.(draw.Text); is {
				b.WriteString(t.Text + "\n")
			}
		}
	}
	return b.String()
}
