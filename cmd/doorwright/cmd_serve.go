package main

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"log"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"runtime"
	"syscall"
	"time"

	"doorwright/demo"
	"doorwright/journal"
	"doorwright/journal/sqlite"
	"doorwright/record"
	"doorwright/serve"
	"doorwright/web"
)

// serveCmd puts the pages on this machine.
type serveCmd struct {
	Listen    string `default:"127.0.0.1:8023" help:"Address to serve at; port 0 for any that is free. On any but a loopback address over TLS, and other devices join with a code."`
	Cert      string `placeholder:"FILE" help:"Certificate for TLS, in PEM; default one of an authority of our own."`
	Key       string `placeholder:"FILE" help:"Its key."`
	Workspace string `placeholder:"FILE" help:"File that everything is kept in; default in the user's data folder."`
	NoBrowser bool   `help:"Do not open a browser."`
	Demo      bool   `help:"With the demo job. Nothing is kept, unless --workspace says where."`
}

// Run serves until it is interrupted.
func (c *serveCmd) Run(e *env) error {
	if err := e.plainOnly("the pages have"); err != nil {
		return err
	}
	at, err := serve.ParseAddress(c.Listen)
	if err != nil {
		return err
	}
	if (c.Cert == "") != (c.Key == "") {
		return errors.New("--cert and --key go together: give the certificate and its key, or neither")
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	store, where, err := c.store(ctx)
	if err != nil {
		return err
	}
	if file, ok := store.(*sqlite.Store); ok {
		defer file.Close() //nolint:errcheck // everything acknowledged is on disk
	}
	j, err := journal.Open(ctx, store, time.Now, rand.Reader)
	if err != nil {
		return fmt.Errorf("%s cannot be used: %w; see doorwright journal verify", where, err)
	}
	if c.Demo && j.State().Job("BTO") == nil {
		if _, err := j.Write(ctx, "demo", journal.Imported{Job: "BTO", File: "brackwater.yaml", Document: string(demo.Brackwater)}); err != nil {
			return err
		}
	}
	o, err := c.options(where, at)
	if err != nil {
		return err
	}
	o.Pages = web.New(web.Options{Journal: j, Now: now, Who: serve.Who, Background: ctx, Failed: func(err error) { fmt.Fprintln(os.Stderr, err) }})
	o.Known = func(who string) bool {
		_, is := j.State().People.Get(who)
		return is
	}
	o.Ready = func(url, note string) { c.ready(ctx, e, url, note, where) }
	return serve.Run(ctx, o)
}

// options are those of the network; the authority and the devices that have joined stand beside the workspace.
func (c *serveCmd) options(where string, at serve.Address) (serve.Options, error) {
	o := serve.Options{Listen: c.Listen, CertFile: c.Cert, KeyFile: c.Key, Log: log.New(io.Discard, "", 0)}
	folder := filepath.Dir(where)
	file := filepath.Join(folder, "devices.json")
	if where == "" {
		file = ""
	}
	var err error
	if o.Members, err = serve.OpenMembers(file, time.Now); err != nil || at.Here() || c.Cert != "" {
		return o, err
	}
	if where == "" {
		return o, errors.New("say with --workspace where the certificate of this machine is kept, or give one with --cert and --key")
	}
	o.Authority, err = serve.OpenAuthority(folder, time.Now())
	return o, err
}

// ready says where the pages are, and opens them.
func (c *serveCmd) ready(ctx context.Context, e *env, url, note, where string) {
	kept := "Everything is kept in " + where + "."
	if where == "" {
		kept = "This is a demo: nothing is kept."
	}
	e.page.say(0, plain, fmt.Sprintf("The pages are at %s. %s End with Ctrl-C.", url, kept))
	if note != "" {
		e.page.say(0, plain, note)
	}
	e.flush()
	if c.NoBrowser {
		return
	}
	if err := open(ctx, url); err != nil {
		e.page.say(0, plain, fmt.Sprintf("No browser could be opened (%v): open the address yourself.", err))
		e.flush()
	}
}

// store is where everything is kept, and the file; empty for nowhere.
func (c *serveCmd) store(ctx context.Context) (journal.Store, string, error) {
	file := c.Workspace
	switch {
	case file == "" && c.Demo:
		return journal.NewMemory(), "", nil
	case file == "":
		folder, err := dataFolder()
		if err != nil {
			return nil, "", fmt.Errorf("there is no place to keep things in, name one with --workspace: %w", err)
		}
		file = filepath.Join(folder, "doorwright", "workspace.db")
	}
	if info, err := os.Stat(file); err == nil && info.IsDir() {
		return nil, "", unread(file, errors.New("is a directory"), "the file of a workspace")
	}
	s, err := sqlite.Open(ctx, file)
	return s, file, err
}

// dataFolder is where a user's programs keep their data: by the XDG Base Directory Specification on Linux, else by the
// custom of the system.
func dataFolder() (string, error) {
	if runtime.GOOS != "linux" {
		return os.UserConfigDir()
	}
	if folder := os.Getenv("XDG_DATA_HOME"); filepath.IsAbs(folder) {
		return folder, nil
	}
	home, err := os.UserHomeDir()
	return filepath.Join(home, ".local", "share"), err
}

// now is the date and the time of day here.
func now() record.Date {
	t := time.Now()
	return record.Date{Year: t.Year(), Month: int(t.Month()), Day: t.Day(), Timed: true, Hour: t.Hour(), Minute: t.Minute()}
}

// open shows an address in the browser of whoever runs the program.
func open(ctx context.Context, url string) error {
	command := []string{"xdg-open"}
	switch runtime.GOOS {
	case "darwin":
		command = []string{"open"}
	case "windows":
		command = []string{"rundll32", "url.dll,FileProtocolHandler"}
	}
	return exec.CommandContext(ctx, command[0], append(command[1:], url)...).Start() //nolint:gosec // the address is our own
}
