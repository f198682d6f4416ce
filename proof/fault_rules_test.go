package proof_test

import (
	"slices"
	"strings"
	"testing"

	"doorwright/fault"
	"doorwright/proof"
)

// onBoard is the lobby with its locks fed from a distribution board, which the fire signal switches off too when it is
// joined there.
func onBoard(fire string) string {
	text := strings.Replace(lobby("release-2", "box", "uk-a"), "works-to: 12 V}", "works-to: 12 V, board: board-12-8"+fire+"}", 1)
	for _, output := range []string{"PS1/1", "PS1/2"} {
		text = strings.Replace(text, "handle: none, on-battery", "handle: none, feed: "+output+", on-battery", 1)
	}
	return text
}

// Each rule about ways out by one arrangement in which no single fault of a class takes the way it is about, and one that
// is as good while sound and loses the way by one named fault. The rules are those of a list of plain consequences; the
// arrangements are common practice, no source.
func TestOneFaultTakesAWayThatTheSoundDoorHas(t *testing.T) {
	both := onBoard(", fire: fire-interface, released: [1, 2]")
	for _, c := range sample([]struct {
		rule, way     string
		keeps, breaks string
		by            string
	}{
		// Every path to the lock has a release contact in it: a nail past the only one, and there is a path without.
		{"R-01", "release", lobby("release-2", "box", "uk-a"), lobby("release-1", "box", "uk-a"), "bridge:D1.release1.pole1.a+pole1.b"},
		// No loss of supply keeps the lock: but the supply of another door does, through the sheath that both share.
		{"R-03", "no-battery", multicore("lobby", "yard"), multicore("lobby", "lobby"), "bridge:W1/1+3"},
		// The fire contact opens on alarm, unless it is welded: with the board behind it released too, that is no matter.
		{"R-07", "fire", both, onBoard(""), "part:D1.fire.fire.no-contact:welded"},
		// What the controller does is in line with the fire contact, until something joins its relay past that.
		{"R-08", "fire-silence", both, onBoard(""), "bridge:C1.lock1.nc+D1.watch.contact1.no@D1.box"},
		// A second feed behind the release chain: the other pole breaks that, or nothing does.
		{"R-09", "release", lobby("release-2", "box", "uk-a"), lobby("release-1", "box", "uk-a"), "supplied:lead:D1.lock1.coil.plus:D1.lock1.coil-plus.joint.screw@PS1"},
		// A lock with a feed of its own hangs on the watch relay when its controller dies; one fed through the controller
		// goes with it.
		{"R-14", "unfed", lobby("release-2", "box", "uk-a"), both, "part:D1.watch.contact1.no-contact:welded"},
	}, 3) {
		for _, text := range []string{c.keeps, c.breaks} {
			for _, f := range prove(t, []byte(text)).Findings {
				if f.Rule == c.rule {
					t.Errorf("%s is broken without any fault: %s", c.rule, f.What)
				}
			}
		}
		class := fault.Class(c.by[:strings.Index(c.by, ":")])
		takes := func(text string) []string {
			var ids []string
			for _, s := range tried(t, text, "D1").Doors[0].Seen {
				if s.Fault.Class == class && slices.Contains(s.Lost, c.way) && !jams(s) {
					ids = append(ids, s.Fault.ID)
				}
			}
			return ids
		}
		if ids := takes(c.keeps); len(ids) > 0 {
			t.Errorf("%s: %q is lost by %v where it should be kept", c.rule, c.way, ids)
		}
		if ids := takes(c.breaks); !slices.Contains(ids, c.by) {
			t.Errorf("%s: %q is lost by %v, not by %s", c.rule, c.way, ids, c.by)
		}
	}
}

// jams says that a fault is a release that cannot be worked, against which no wiring helps.
func jams(s proof.FaultSeen) bool { return strings.HasSuffix(s.Fault.ID, ".operated:off") }
