package proof

import (
	"math"
	"slices"
	"testing"

	"doorwright/demo"
	"doorwright/job"
	"doorwright/situation"
	"doorwright/wiring"
)

// islandsOf are those of a job.
func islandsOf(t *testing.T, text []byte) []*situation.Island {
	t.Helper()
	j, problems := job.Read("job.yaml", text)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return situation.New(wiring.Make(j)).Islands
}

// What a cause is combined with, where a door has everything fitted.
func TestNoCauseIsCombinedWithItself(t *testing.T) {
	combined := map[string][]string{}
	for _, is := range islandsOf(t, demo.Brackwater) {
		for _, s := range sequences(is, nil) {
			if !slices.Contains(combined[s.with], s.cause.ID) {
				combined[s.with] = append(combined[s.with], s.cause.ID)
			}
		}
	}
	for with, itself := range map[string][]string{"": {}, withFire: {"fire", "fire-silence", "fire-reset"}, withRelease: {"release"}} {
		for _, c := range situation.Causes() {
			if got, want := slices.Contains(combined[with], c.ID), !slices.Contains(itself, c.ID); got != want {
				t.Errorf("%s combined with %q: %v", c.ID, with, got)
			}
		}
	}
}

// A fire signal that is given while it stands, or a release that is operated twice, changes nothing at any door: what is
// left out is told by the same thing alone, and by what happens while it stands.
func TestWhatIsCombinedWithItselfTellsNothingNew(t *testing.T) {
	compared := 0
	for _, text := range [][]byte{demo.Brackwater, demo.Flawed} {
		for _, is := range islandsOf(t, text) {
			for _, s := range sequences(is, nil) {
				again := s.with == "" && (s.cause.ID == "fire" || s.cause.ID == "fire-silence" || s.cause.ID == "release")
				if !again {
					continue
				}
				for _, c := range is.Cases() {
					alone, twice := is.Bench(c), is.Bench(c)
					twice.Take(situation.Step{Say: "before", Do: s.steps[0].Do, Wait: moment})
					for _, step := range s.steps {
						alone.Take(step)
						twice.Take(step)
						for _, d := range is.Doors {
							compared++
							sameDoor(t, d.ID+", "+s.cause.ID+", "+c.Name+", "+step.Say, alone.Door(d), twice.Door(d))
						}
					}
				}
			}
		}
	}
	if compared < 400 {
		t.Errorf("only %d instants of doors were compared", compared)
	}
}

func sameDoor(t *testing.T, at string, a, b situation.DoorState) {
	t.Helper()
	if a.Effect != b.Effect || alarmOf(a.Memory) != alarmOf(b.Memory) {
		t.Errorf("%s: %v with alarm %q, and %v with alarm %q", at, a.Effect, alarmOf(a.Memory), b.Effect, alarmOf(b.Memory))
	}
	for i := range a.Locks {
		// Two solutions of one network may differ by a millionth of a volt (a figure of our own choice).
		if math.Abs(float64(a.Locks[i].Volts-b.Locks[i].Volts)) > 1e-6 {
			t.Errorf("%s: lock %d gets %v and %v", at, i, a.Locks[i].Volts, b.Locks[i].Volts)
		}
	}
}
