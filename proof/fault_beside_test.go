package proof_test

import (
	"slices"
	"strings"
	"testing"

	"doorwright/fault"
	"doorwright/proof"
)

// A short at one door puts the other out where both hang on one supply, and not where each has a fuse. Sound, both
// arrangements hold the requirement. That the fuse has blown is noticed where it takes electronics off line; where it
// feeds a lock alone, nobody sees more than a lock that has let go (common practice, no source).
func TestAShortStaysAtItsDoorBehindAFuse(t *testing.T) {
	plain := lobby("release-2", "box", "uk-b")
	board := strings.Replace(plain, "works-to: 12 V}", "works-to: 12 V, board: board-12-8-fused}", 1)
	fused := strings.Replace(board, "place: D1.box, feed: PS1}", "place: D1.box, feed: PS1/1}", 1)
	fused = strings.Replace(fused, "place: D2.box, feed: PS1}", "place: D2.box, feed: PS1/2}", 1)
	locks := strings.Replace(board, "handle: none, on-battery", "handle: none, feed: PS1/1, on-battery", 1)
	told := strings.Replace(locks, "board-12-8-fused}", "board-12-8-fused, tells: D1}", 1)
	told = strings.Replace(told, "doors:", `runs:
  W1: {from: riser, to: D1.box, cable: 4x1.5, length: 8 m}
  W2: {from: riser, to: D1.box, cable: 4x0.22, length: 8 m}
doors:`, 1)
	const feed = "bridge:C1.feed.plus+feed.minus"
	for _, c := range []struct {
		name, text, short string
		breaks            bool
		takes             []string
		blown             []string
		notice            proof.Notice
	}{
		{"one supply", plain, feed, true, []string{"D2"}, nil, proof.AtOnce},
		{"a fuse for each door", fused, feed, false, nil, []string{"PS1.board.out1"}, proof.AtOnce},
		{"a fuse for the lock", locks, "part:D1.lock1.coil.winding:short", true, nil, []string{"PS1.board.out1"}, proof.InUse},
		{"a fuse for the lock, watched", told, "part:D1.lock1.coil.winding:short", true, nil, []string{"PS1.board.out1"}, proof.AtOnce},
	} {
		t.Run(c.name, func(t *testing.T) {
			if problems := planned(t, c.text).Problems; len(problems) > 0 {
				t.Fatalf("%v", problems)
			}
			report := tried(t, c.text, "D1")
			if got := breaks(report, "short-stays-at-door") != nil; got != c.breaks {
				t.Errorf("the requirement is broken: %v", got)
			}
			seen := report.Doors[0].Seen
			i := slices.IndexFunc(seen, func(s proof.FaultSeen) bool { return s.Fault.ID == c.short })
			if i < 0 {
				t.Fatalf("no fault %s; bridges are %v", c.short, bridges(seen))
			}
			s := &seen[i]
			if !slices.Equal(s.Beside.Takes, c.takes) || !slices.Equal(s.Beside.Blown, c.blown) || s.Notice != c.notice {
				t.Errorf("takes %v, blown %v, noticed %s (%s)", s.Beside.Takes, s.Beside.Blown, s.Notice, s.Shows)
			}
		})
	}
}

func bridges(seen []proof.FaultSeen) []string {
	var ids []string
	for _, s := range seen {
		if s.Fault.Class == fault.Bridge || s.Fault.Class == fault.Part {
			ids = append(ids, s.Fault.ID)
		}
	}
	return ids
}
