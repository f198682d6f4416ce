package main

import (
	"bufio"
	"fmt"
	"strconv"
	"strings"

	"doorwright/find"
	"doorwright/meter"
)

// askCall asks what somebody called for and takes it into account; false when the input ends, or is to.
func askCall(e *env, f *find.Finder, in *bufio.Scanner) bool {
	p, calls := e.page, f.Calls()
	p.gap()
	p.label(0, "CALL", bold, "What is wrong, as it was told? A number, or words as for --call; nothing when nothing was told.")
	for i, c := range calls {
		p.hang(5, strconv.Itoa(i+1), plain, c.Says, 9)
	}
	for {
		e.flush()
		if !in.Scan() {
			return false
		}
		text := strings.TrimSpace(in.Text())
		switch text {
		case "", "skip":
			return true
		case "quit":
			return false
		}
		o, err := calledFor(text, calls)
		if err == nil {
			err = f.See(o)
		}
		if err == nil {
			return true
		}
		p.label(0, "AGAIN", yellow, err.Error())
	}
}

// calledFor is what was typed: the number of a call, or what was seen in words.
func calledFor(text string, calls []find.Call) (meter.Observation, error) {
	if n, err := strconv.Atoi(text); err == nil {
		if n < 1 || n > len(calls) {
			return meter.Observation{}, fmt.Errorf("%d is none of the list; give 1 to %d, or nothing", n, len(calls))
		}
		return calls[n-1].Seen, nil
	}
	o, err := meter.ParseSeen(text)
	o.Called = true
	return o, err
}
