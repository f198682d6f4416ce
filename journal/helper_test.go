package journal

import (
	"context"
	"crypto/rand"
	"testing"
	"time"

	"doorwright/demo"
	"doorwright/job"
	"doorwright/record"
	"doorwright/wiring"
)

// ticking is a clock that goes on by a second each time it is looked at.
func ticking() func() time.Time {
	at := time.Date(2026, 10, 12, 8, 0, 0, 0, time.UTC)
	return func() time.Time {
		at = at.Add(time.Second)
		return at
	}
}

func opened(t testing.TB, s Store) *Journal {
	t.Helper()
	j, err := Open(context.Background(), s, ticking(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

func wrote(t testing.TB, j *Journal, bodies ...Body) []*Entry {
	t.Helper()
	all, err := j.Write(context.Background(), "mw", bodies...)
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func brackwater() Imported {
	return Imported{Job: "BTO", File: "brackwater.yaml", Document: string(demo.Brackwater)}
}

// small is a job of which only the title matters.
func small() Imported {
	return Imported{Job: "BTO", File: "small.yaml", Document: "job: BTO\ntitle: w\n"}
}

// planOf is the wiring plan of a document.
func planOf(t testing.TB, document []byte) *wiring.Plan {
	t.Helper()
	read, problems := job.Read("test", document)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return wiring.Make(read)
}

var act = record.Act{By: "mw", On: record.Date{Year: 2026, Month: 10, Day: 12, Timed: true, Hour: 9, Minute: 5}}
