package main

import (
	"context"
	"crypto/rand"
	"fmt"
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
	Listen    string `default:"127.0.0.1:8023" help:"Address of this machine to serve at; port 0 for any that is free."`
	Workspace string `help:"File that everything is kept in; default in the user's data folder."`
	NoBrowser bool   `help:"Do not open a browser."`
	Demo      bool   `help:"With the demo job. Nothing is kept, unless --workspace says where."`
}

// Run serves until it is interrupted.
func (c *serveCmd) Run(e *env) error {
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
		return err
	}
	if c.Demo && j.State().Job("BTO") == nil {
		if _, err := j.Write(ctx, "demo", journal.Imported{Job: "BTO", File: "brackwater.yaml", Document: string(demo.Brackwater)}); err != nil {
			return err
		}
	}
	return serve.Run(ctx, serve.Options{Listen: c.Listen, Pages: web.New(web.Options{Journal: j, Now: now, Failed: func(err error) { fmt.Fprintln(os.Stderr, err) }}), Ready: func(url string) {
		e.page.say(0, plain, fmt.Sprintf("The pages are at %s. %s End with Ctrl-C.", url, where))
		e.flush()
		if !c.NoBrowser {
			if err := open(ctx, url); err != nil {
				e.page.say(0, plain, fmt.Sprintf("No browser could be opened (%v): open the address yourself.", err))
				e.flush()
			}
		}
	}})
}

// store is where everything is kept, and that in words.
func (c *serveCmd) store(ctx context.Context) (journal.Store, string, error) {
	file := c.Workspace
	switch {
	case file == "" && c.Demo:
		return journal.NewMemory(), "This is a demo: nothing is kept.", nil
	case file == "":
		folder, err := dataFolder()
		if err != nil {
			return nil, "", fmt.Errorf("there is no place to keep things in, name one with --workspace: %w", err)
		}
		file = filepath.Join(folder, "doorwright", "workspace.db")
	}
	s, err := sqlite.Open(ctx, file)
	return s, "Everything is kept in " + file + ".", err
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
