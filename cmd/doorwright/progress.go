package main

import (
	"fmt"
	"io"
	"os"
	"os/signal"
)

// watcher shows at a terminal how far a long run is, and lets an interrupt end it with what is done.
type watcher struct {
	w           io.Writer // nil where nobody watches
	interrupted chan os.Signal
}

func newWatcher(w io.Writer) *watcher {
	c := &watcher{}
	if isTerminal(w) {
		c.w = w
	}
	return c
}

// step takes note that so many of all are done and says whether to go on. From the first on, an interrupt means to stop
// and show what is done.
func (c *watcher) step(done, all int) bool {
	if c.interrupted == nil {
		c.interrupted = make(chan os.Signal, 1)
		signal.Notify(c.interrupted, os.Interrupt)
	}
	if c.w != nil {
		fmt.Fprintf(c.w, "\rfaults tried at %d of %d doors", done, all)
		if done == all {
			fmt.Fprint(c.w, "\r\x1b[K")
		}
	}
	select {
	case <-c.interrupted:
		return false
	default:
		return true
	}
}

// stop lets interrupts end the program again.
func (c *watcher) stop() {
	if c.interrupted != nil {
		signal.Stop(c.interrupted)
	}
}
