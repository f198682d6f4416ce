package main

import (
	"context"
	"fmt"
	"net/http"
	"os"
	"os/exec"
	"os/signal"
	"runtime"
	"syscall"

	"doorwright/demo"
	"doorwright/serve"
	"doorwright/web"
)

// serveCmd puts the pages on this machine.
type serveCmd struct {
	Listen    string `default:"127.0.0.1:8023" help:"Address of this machine to serve at; port 0 for any that is free."`
	NoBrowser bool   `help:"Do not open a browser."`
	Demo      bool   `help:"With the demo job."`
}

// Run serves until it is interrupted.
func (c *serveCmd) Run(e *env) error {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	pages := web.New(web.Options{
		Jobs: func(context.Context) ([]web.Shelf, error) {
			return []web.Shelf{{ID: "BTO", Document: demo.Brackwater}}, nil
		},
		Who: func(*http.Request) string { return "" },
	})
	return serve.Run(ctx, serve.Options{Listen: c.Listen, Pages: pages, Ready: func(url string) {
		e.page.say(0, plain, "The pages are at "+url+". End with Ctrl-C.")
		e.flush()
		if !c.NoBrowser {
			if err := open(ctx, url); err != nil {
				e.page.say(0, plain, fmt.Sprintf("No browser could be opened (%v): open the address yourself.", err))
				e.flush()
			}
		}
	}})
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
