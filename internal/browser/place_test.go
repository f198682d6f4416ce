package browser

import (
	"context"
	"crypto/rand"
	"strings"
	"testing"
	"time"

	"doorwright/demo"
	"doorwright/journal"
	"doorwright/record"
	"doorwright/serve"
	"doorwright/web"
)

// place is a machine that serves the pages as the command does, over a journal in memory.
type place struct {
	journal *journal.Journal
	url     string // without a slash at its end
	options serve.Options
}

// open serves a journal with two people, the first at this device, and the jobs given by the names of their documents.
func open(t *testing.T, jobs map[string][]byte) *place {
	t.Helper()
	j, err := journal.Open(context.Background(), journal.NewMemory(), time.Now, rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	write(t, j, journal.Named{Initials: "kf", Person: record.Person{Name: "Kari Fenn"}},
		journal.Named{Initials: "mw", Person: record.Person{Name: "Mara Wren"}}, journal.Seated{Initials: "mw"})
	for name, text := range jobs {
		write(t, j, journal.Imported{Job: name, Document: string(text)})
	}
	today := func() record.Date { return record.Date{Year: 2026, Month: 10, Day: 12, Timed: true, Hour: 9} }
	pages := web.New(web.Options{Journal: j, Now: today, Who: serve.Who, Background: t.Context(), Failed: func(err error) { t.Error(err) }})

	members, err := serve.OpenMembers("", time.Now)
	if err != nil {
		t.Fatal(err)
	}
	known := func(who string) bool {
		_, is := j.State().People.Get(who)
		return is
	}
	p := &place{journal: j, options: serve.Options{Listen: "127.0.0.1:0", Pages: pages, Members: members, Known: known}}
	ctx, stop := context.WithCancel(context.Background())
	ready, ended := make(chan string, 1), make(chan error, 1)
	here := p.options
	here.Ready = func(url, _ string) { ready <- url }
	go func() { ended <- serve.Run(ctx, here) }()
	t.Cleanup(func() {
		stop()
		if err := <-ended; err != nil {
			t.Error(err)
		}
	})
	select {
	case url := <-ready:
		p.url = strings.TrimSuffix(url, "/")
		return p
	case err := <-ended:
		ended <- nil
		t.Fatal(err)
	}
	return nil
}

func write(t *testing.T, j *journal.Journal, bodies ...journal.Body) {
	t.Helper()
	if _, err := j.Write(context.Background(), "mw", bodies...); err != nil {
		t.Fatal(err)
	}
}

// brackwater is the demo job.
func brackwater() map[string][]byte { return map[string][]byte{"BTO": demo.Brackwater} }
