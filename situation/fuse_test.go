package situation_test

import (
	"slices"
	"strings"
	"testing"

	"doorwright/fault"
	"doorwright/situation"
	"doorwright/unit"
)

// twoOnABoard is a supply of 24 V whose board has an output for each of two doors.
const twoOnABoard = `job: F
title: Two doors on a board
rules: [uk-b]
places: {riser: {title: Riser}}
models:
  board-resets:
    kind: board
    title: Distribution board whose fuses close again
    strip:
      - {label: "+", pin: feed.plus}
      - {label: "-", pin: feed.minus}
      - {label: "1+", pin: out1.plus}
      - {label: "1-", pin: out1.minus}
      - {label: "2+", pin: out2.plus}
      - {label: "2-", pin: out2.minus}
    ports:
      feed: {is: load, use: feed, nominal: 24 V, window: 20 V to 30 V, watts: 3 W}
      out1: {is: output, from: feed, limit: 1 A, blows: resets}
      out2: {is: output, from: feed, limit: 1 A, blows: resets}
supplies:
  PS1: {model: supply-24-5, place: riser, zero-volt: earthed, board: board-24-8-fused}
controllers:
  C1: {model: controller-1-24, place: A.box, feed: PS1/1}
  C2: {model: controller-1-24, place: B.box, feed: PS1/2}
doors:
  A:
    title: First
    controller: C1
    cable-length: 5 m
    escape: out
    fire-rated: no
    entry: reader-pulse-wide
    locks: [{model: strike-24-secure, handle: frees}]
    exit: [exit-button]
    contacts: [contact-surface]
  B:
    title: Second
    controller: C2
    cable-length: 5 m
    escape: out
    fire-rated: no
    entry: reader-pulse-wide
    locks: [{model: strike-24-secure, handle: frees}]
    exit: [exit-button]
    contacts: [contact-surface]
runs:
  W1: {from: riser, to: A.box, cable: 2x1.0, length: 10 m}
  W2: {from: riser, to: B.box, cable: 2x1.0, length: 10 m}
`

// feedJoined is a resistance across the feed of the first controller.
func feedJoined(ohms unit.Ohm) *fault.Fault {
	return &fault.Fault{ID: "feed", Edits: []fault.Edit{{Op: fault.Join, A: "C1.feed.plus", B: "C1.feed.minus", Ohms: ohms}}}
}

// A fuse of 1 A opens at twice its rating and above, not below (IEC 60127-2: at 2.1 times, from memory); 24 V float at
// 27.3 V, so that 11 ohm draw some 2.4 A and 17 ohm some 1.6 A.
func TestAFuseOpensAtTwiceItsRating(t *testing.T) {
	for _, c := range []struct {
		name       string
		board      string
		ohms       unit.Ohm
		blown      bool
		overloaded bool
	}{
		{"a short", "board-24-8-fused", 0.05, true, true},
		{"twice its rating", "board-24-8-fused", 11, true, true},
		{"more than its rating", "board-24-8-fused", 17, false, true},
		{"less than its rating", "board-24-8-fused", 60, false, false},
		{"a short on one that closes again", "board-resets", 0.05, true, true},
		{"an output that limits", "board-24-8", 0.05, false, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := siteOf(t, strings.Replace(twoOnABoard, "board: board-24-8-fused", "board: "+c.board, 1))
			is := s.Island("C1")
			b := is.FaultyBench(situation.Nominal(), feedJoined(c.ohms))
			if got := slices.Contains(b.Blown(), "PS1.board.out1"); got != c.blown {
				t.Errorf("blown %v, want %v: %v", got, c.blown, b.Blown())
			}
			if got := b.Overloaded(); got != c.overloaded {
				t.Errorf("overloaded %v, want %v", got, c.overloaded)
			}
			if c.blown && (b.RunsID("C1") || !b.RunsID("C2") || len(b.Blown()) != 1) {
				t.Errorf("C1 runs %v, C2 runs %v, blown %v", b.RunsID("C1"), b.RunsID("C2"), b.Blown())
			}
		})
	}
}

// A fuse that has blown stays open when the power comes back; one that resets has let go by then.
func TestABlownFuseStaysOpen(t *testing.T) {
	for _, c := range []struct {
		board string
		stays bool
	}{{"board-24-8-fused", true}, {"board-resets", false}} {
		s := siteOf(t, strings.Replace(twoOnABoard, "board: board-24-8-fused", "board: "+c.board, 1))
		is := s.Island("C1")
		b := is.FaultyBench(situation.Nominal(), feedJoined(0.05))
		b.Take(situation.Step{Do: []situation.Action{{Device: "PS1", Signal: "mains", On: false}}})
		if got := len(b.Blown()) > 0; got != c.stays {
			t.Errorf("%s: blown %v without mains, want %v", c.board, got, c.stays)
		}
		b.Take(situation.Step{Do: []situation.Action{{Device: "PS1", Signal: "mains", On: true}}})
		if !slices.Contains(b.Blown(), "PS1.board.out1") || b.RunsID("C1") || !b.RunsID("C2") {
			t.Errorf("%s: after mains came back %v have blown, C1 runs %v, C2 runs %v", c.board, b.Blown(), b.RunsID("C1"), b.RunsID("C2"))
		}
	}
}

// Of two fuses in line the smaller opens and saves the other, which carries as much.
func TestTheFuseThatCarriesMostForItsSizeOpensFirst(t *testing.T) {
	for _, c := range []struct {
		rating unit.Ampere
		opens  string
	}{{0.5, "fuse.fuse"}, {1.5, "PS1.board.out1"}} {
		plan := planOf(t, twoOnABoard)
		fusedAt("C1.feed.plus", c.rating)(t, plan)
		b := situation.New(plan).Island("C1").FaultyBench(situation.Nominal(), feedJoined(0.05))
		if got := b.Blown(); !slices.Equal(got, []string{c.opens}) {
			t.Errorf("a fuse of %v behind one of 1 A: %v have opened, want only %s", c.rating, got, c.opens)
		}
	}
}
