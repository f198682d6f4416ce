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
	stopped     bool
}

// What a long run does, in words around how much of it is done.
const (
	faultsTried = "faults tried at %d of %d doors"
	mendsSought = "mends looked for of %d of %d findings about faults"
)

func newWatcher(w io.Writer) *watcher {
	c := &watcher{}
	if isTerminal(w) {
		c.w = w
	}
	return c
}

// of shows how far something is, told in words around how much of it is done.
func (c *watcher) of(what string) func(done, all int) bool {
	return func(done, all int) bool { return c.step(what, done, all) }
}

// step takes note that so many of all are done and says whether to go on. From the first on, an interrupt means to stop
// and show what is done; what comes after that is not begun.
func (c *watcher) step(what string, done, all int) bool {
	if c.interrupted == nil {
		c.interrupted = make(chan os.Signal, 1)
		signal.Notify(c.interrupted, os.Interrupt)
	}
	if c.w != nil {
		fmt.Fprintf(c.w, "\r"+what, done, all)
		if done == all {
			fmt.Fprint(c.w, "\r\x1b[K")
		}
	}
	select {
	case <-c.interrupted:
		c.stopped = true
	default:
	}
	return !c.stopped
}

// stop lets interrupts end the program again.
func (c *watcher) stop() {
	if c.interrupted != nil {
		signal.Stop(c.interrupted)
	}
}
