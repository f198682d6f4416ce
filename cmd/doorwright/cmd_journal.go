package main

import (
	"bytes"
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"doorwright/journal"
	"doorwright/journal/sqlite"
)

// journalCmd is what can be done with a workspace while no pages are served from it.
type journalCmd struct {
	Verify journalVerifyCmd `cmd:"" help:"Check every byte of a workspace or a pack."`
	Heads  journalHeadsCmd  `cmd:"" help:"Print the signed heads, to be given to somebody else to keep."`
	Show   journalShowCmd   `cmd:"" help:"Show the last entries of a workspace or a pack."`
	Export journalExportCmd `cmd:"" help:"Write everything in a workspace to a pack, one file, without the secret key."`
	Import journalImportCmd `cmd:"" help:"Take the logs of a pack into a workspace, all or nothing."`
}

// keptFile is an open workspace, or a pack in memory.
type keptFile struct {
	journal.Store
	file *sqlite.Store // nil for a pack
}

func (k keptFile) close() {
	if k.file != nil {
		k.file.Close() //nolint:errcheck // it was only read
	}
}

// look opens a workspace or a pack to be read, by how it begins.
func look(ctx context.Context, name string) (keptFile, error) {
	f, err := os.Open(name)
	if err != nil {
		return keptFile{}, unread(name, err, "a workspace or a pack")
	}
	defer f.Close() //nolint:errcheck // it was only read
	begins := make([]byte, 16)
	n, err := io.ReadFull(f, begins)
	if err != nil && !errors.Is(err, io.ErrUnexpectedEOF) && !errors.Is(err, io.EOF) {
		return keptFile{}, unread(name, err, "a workspace or a pack")
	}
	switch begins = begins[:n]; {
	case bytes.HasPrefix(begins, []byte("SQLite format 3")): // Database File Format, section 1.2
		s, err := sqlite.Look(ctx, name)
		return keptFile{s, s}, err
	case bytes.HasPrefix(begins, []byte("PK")): // APPNOTE.TXT, section 4.3.7
		m, err := openPack(ctx, name)
		return keptFile{m, nil}, err
	}
	return keptFile{}, fmt.Errorf("%s is neither a workspace nor a pack, or its beginning is damaged", name)
}

func openPack(ctx context.Context, name string) (*journal.Memory, error) {
	data, err := os.ReadFile(name)
	if err != nil {
		return nil, unread(name, err, "a pack")
	}
	m, err := journal.OpenPack(ctx, data)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return m, nil
}

type journalVerifyCmd struct {
	File string   `arg:"" help:"A workspace, or a pack."`
	Held []string `help:"File with signed heads that somebody else has kept: every log must still begin with what they were signed for." placeholder:"FILE"`
}

// Help is what the command's help says beyond its flags.
func (journalVerifyCmd) Help() string {
	return `Checks each entry against its neighbours, each log against its signed head, each photo against its hash, and each ` +
		`page of a workspace against its checksum. Exit code 1 says that something was altered or damaged, 2 that the file ` +
		`cannot even be opened.

What is sound in itself was not altered since its heads were signed. Whoever holds the workspace also holds its key and ` +
		`can write another log: evidence begins when another party holds a head. Give them out with journal heads, and check ` +
		`against them with --held.
`
}

// Run checks and shows what was found.
func (c *journalVerifyCmd) Run(e *env) error {
	ctx := context.Background()
	k, err := look(ctx, c.File)
	if err != nil {
		return err
	}
	defer k.close()
	var held [][]byte
	for _, name := range c.Held {
		text, err := e.fetch(name, "the file of signed heads")
		if err != nil {
			return err
		}
		heads := journal.SplitHeads(text)
		if len(heads) == 0 {
			return fmt.Errorf("%s has no signed heads in it", name)
		}
		held = append(held, heads...)
	}
	r, err := journal.Verify(ctx, k.Store, held...)
	if err != nil {
		return err
	}
	s := verification{File: c.File, Held: len(held), Photos: r.Blobs, Wrong: append([]string{}, r.Wrong...)}
	if k.file != nil {
		pages, err := k.file.Check(ctx)
		if err != nil {
			return err
		}
		s.Wrong = append(s.Wrong, pages...)
	}
	for i, h := range r.Heads {
		s.Logs = append(s.Logs, verifiedLog{h.Log, h.Size, h.Root.String(), r.Keys[i]})
	}
	if len(s.Wrong) > 0 {
		e.code = exitErrors
	}
	return e.show(s)
}

type journalHeadsCmd struct {
	File string `arg:"" help:"A workspace, or a pack."`
}

// Run prints the heads as they are signed.
func (c *journalHeadsCmd) Run(e *env) error {
	if err := e.plainOnly("signed heads have"); err != nil {
		return err
	}
	ctx := context.Background()
	k, err := look(ctx, c.File)
	if err != nil {
		return err
	}
	defer k.close()
	logs, err := k.Logs(ctx)
	if err != nil {
		return err
	}
	for _, l := range logs {
		if len(l.Head) > 0 {
			fmt.Fprintf(e.out, "%s\n", l.Head) //nolint:errcheck // the last flush tells
		}
	}
	return nil
}

type journalShowCmd struct {
	File string `arg:"" help:"A workspace, or a pack."`
	Job  string `help:"Only what is about this job." placeholder:"ID"`
	Last int    `default:"20" help:"How many entries; 0 for all."`
}

// Run shows the last entries.
func (c *journalShowCmd) Run(e *env) error {
	ctx := context.Background()
	k, err := look(ctx, c.File)
	if err != nil {
		return err
	}
	defer k.close()
	all, state, err := journal.Look(ctx, k.Store)
	if err != nil {
		return err
	}
	if c.Job != "" {
		j := state.Job(c.Job)
		if j == nil {
			return fmt.Errorf("there is no job %q in %s", c.Job, c.File)
		}
		all = j.History
	}
	return e.show(entriesOf(all, state, c.Last))
}

type journalExportCmd struct {
	Store string `arg:"" help:"A workspace."`
	Pack  string `arg:"" help:"The file to write; it must not be there yet."`
}

// Run writes the pack beside its place and puts it there when it is whole.
func (c *journalExportCmd) Run(e *env) error {
	if err := e.plainOnly("a pack has"); err != nil {
		return err
	}
	ctx := context.Background()
	k, err := look(ctx, c.Store)
	if err != nil {
		return err
	}
	defer k.close()
	if r, err := journal.Verify(ctx, k.Store); err != nil || len(r.Wrong) > 0 {
		return fmt.Errorf("%s is not sound, see journal verify; nothing was written", c.Store)
	}
	if _, err := os.Stat(c.Pack); err == nil {
		return fmt.Errorf("%s is there already", c.Pack)
	}
	f, err := os.CreateTemp(filepath.Dir(c.Pack), ".pack-*")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name()) //nolint:errcheck // it is gone when all went well
	err = journal.Export(ctx, k.Store, f)
	if err == nil {
		err = f.Sync()
	}
	if err := errors.Join(err, f.Close()); err != nil {
		return err
	}
	if err := os.Rename(f.Name(), c.Pack); err != nil {
		return err
	}
	e.page.say(0, plain, "Everything is in "+c.Pack+", signed, without the secret key.")
	return nil
}

type journalImportCmd struct {
	Store string `arg:"" help:"A workspace; it is made where there is none."`
	Pack  string `arg:"" help:"The pack to take in."`
}

// Run takes the pack in and says what it brought.
func (c *journalImportCmd) Run(e *env) error {
	if err := e.plainOnly("a pack has"); err != nil {
		return err
	}
	ctx := context.Background()
	m, err := openPack(ctx, c.Pack)
	if err != nil {
		return err
	}
	s, err := sqlite.Open(ctx, c.Store)
	if err != nil {
		return err
	}
	defer s.Close() //nolint:errcheck // everything acknowledged is on disk
	j, err := journal.Open(ctx, s, time.Now, rand.Reader)
	if err != nil {
		return err
	}
	got, err := j.Merge(ctx, m)
	if err != nil {
		return fmt.Errorf("%s was not taken in, nothing is changed: %w", c.Pack, err)
	}
	e.page.say(0, plain, fmt.Sprintf("Taken in: %s and %s, of %s.", counted(got.Entries, "entry"),
		counted(got.Photos, "photo"), counted(got.Logs, "log")))
	for _, l := range conflicts(j.State()) {
		e.page.label(0, "ADVICE", yellow, l)
	}
	return nil
}
