package proof

import (
	"strings"

	"doorwright/device"
	"doorwright/fault"
	"doorwright/job"
	"doorwright/situation"
)

// Notice says how a fault comes to light.
type Notice string

// The ways a fault comes to light, from the quickest on.
const (
	AtOnce Notice = "at once" // the system shows it while nothing happens
	InUse  Notice = "in use"  // the door does not do what it does every day
	OnTest Notice = "on test" // only a release, a fire signal or a loss of supply brings it out
	Never  Notice = "never"   // nothing shows it, in any cause tried: nobody learns of it
)

// FaultSeen is what becomes of a door with one fault.
type FaultSeen struct {
	Fault    *fault.Fault     // without its edits: the catalogue has them
	Idle     situation.Effect // of the locks while nothing happens
	Lost     []string         // ways out that no longer let people out, by the causes' ids
	Notice   Notice
	Shows    string  // what shows it, in a few words
	Tested   bool    // a way out fails that only its periodic test shows
	Accepted string  // the reason for which the job accepts what it breaks
	Broken   string  // id of the requirement it breaks; empty when none
	Beside   *Beside // what a short does beyond the door; nil when nothing
}

// Beside is what a short at a door does beyond it, while nothing happens.
type Beside struct {
	Takes []string // ids of other doors whose locks or electronics go with it
	Blown []string // the fuses that open, by unit and port
}

// glance is what is kept of one watched instant of a door.
type glance struct {
	effect   situation.Effect
	heard    bool
	settled  bool
	runs     bool
	memory   device.ChannelMemory
	demand   demand
	overload bool // a supply is in its limit
	readers  [2]bool
}

// lookAt takes a glance at a door. The demand is what the sound door must do there, from facts that no fault changes.
func lookAt(b *situation.Bench, d *job.Door, shows situation.Shows) (glance, situation.DoorState) {
	state := b.Door(d)
	g := glance{
		effect: state.Effect, heard: shows.Heard, settled: b.Outcome().Settled(),
		runs: state.Facts.Runs, memory: state.Memory, overload: b.InLimit(),
	}
	for i, r := range []*job.Reader{d.Entry, d.ExitReader} {
		g.readers[i] = r != nil && b.RunsID(r.ID)
	}
	return g, state
}

func rankOf(n Notice) int {
	for i, m := range []Notice{AtOnce, InUse, OnTest} {
		if n == m {
			return i
		}
	}
	return 3
}

// noticeOf says when a difference comes to light that shows in a cause.
func noticeOf(cause, what string) Notice {
	switch cause {
	case "idle":
		if strings.HasPrefix(what, lockIs) {
			return InUse // no system sees a lock; somebody finds the door so
		}
		return AtOnce
	case "granted", "exit", "opened", "forced", "held":
		return InUse
	}
	return OnTest
}

// lockIs begins what is said of the lock.
const lockIs = "lock "

// differs says what is different at an instant, in a few words; empty when nothing is that somebody could see.
func differs(sound, with *glance) string {
	switch {
	case !with.settled && sound.settled:
		return "something keeps restarting"
	case with.memory.Tamper && !sound.memory.Tamper:
		return "line fault shown"
	case !with.runs && sound.runs:
		return "controller off"
	case sound.readers != with.readers:
		return "reader off"
	case with.overload && !sound.overload:
		return "supply in its limit"
	case with.memory.Forced != sound.memory.Forced:
		return "forced-open alarm " + isOr(with.memory.Forced)
	case with.memory.Held != sound.memory.Held:
		return "held-open alarm " + isOr(with.memory.Held)
	case with.effect != sound.effect:
		return lockIs + with.effect.String()
	case sound.heard && !with.heard:
		return "card not read"
	case with.memory.Open != sound.memory.Open:
		return "door seen " + map[bool]string{true: "open", false: "closed"}[with.memory.Open]
	}
	return ""
}

func isOr(on bool) string {
	if on {
		return "raised"
	}
	return "missing"
}
