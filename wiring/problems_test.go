package wiring_test

import (
	"reflect"
	"slices"
	"testing"

	"doorwright/device"
	"doorwright/job"
	"doorwright/wiring"
)

// without is a model less the ports that drop picks, and their terminals.
func without(m *device.Model, drop func(name string, p device.Port) bool) *device.Model {
	n := *m
	n.Ports, n.Strip = nil, nil
	for _, e := range m.Ports {
		if !drop(e.Key, e.Value) {
			n.Ports = append(n.Ports, e)
		}
	}
	for _, t := range m.Strip {
		if port, _ := device.SplitPin(t.Pin); n.Port(port) != nil {
			n.Strip = append(n.Strip, t)
		}
	}
	return &n
}

func ofType(is device.PortType) func(string, device.Port) bool {
	return func(_ string, p device.Port) bool { return p.Is == is }
}

// What cannot be wired says where, what is missing and what to add, and the rest is wired all the same. Most of these
// jobs would be refused when read; here they are spoilt afterwards, as a program might.
func TestProblems(t *testing.T) {
	for _, c := range []struct {
		name  string
		job   string
		spoil func(j *job.Job)
		want  []wiring.Problem
	}{
		{
			"no auxiliary input left", oneDoor("locks: [strike-12-secure]\naux: [contact-surface, contact-surface]"), nil,
			[]wiring.Problem{{
				"D1", "auxiliary input 2 (D1.aux2): C1 (controller-1-12) has no auxiliary input left for door channel 1",
				"fit a controller with more inputs, or leave this one out",
			}},
		},
		{
			"too few cores for the signals",
			oneDoor("locks: [strike-12-secure]\nexit: [exit-button]\nreleases: [{model: release-2, into: input}]",
				"runs: {A: {from: D1.box, to: D1.in, cable: 2x0.5, length: 9 m}}"),
			func(j *job.Job) { j.Runs[0].Carries = job.Carries{Data: true} },
			[]wiring.Problem{{
				"D1", "exit request: between D1.box and D1.in the runs that may carry signal have not 2 cores in one sheath left",
				"use a cable with more cores, or add a run",
			}},
		},
		{
			"too few cores for power: one problem for both poles",
			oneDoor("locks: [magnet-12]", "runs: {A: {from: D1.box, to: D1.head, cable: 4x0.22, length: 9 m, carries: [signal]}}"), nil,
			[]wiring.Problem{{
				"D1", "lock feed: between D1.box and D1.head the runs that may carry power have not 2 cores in one sheath left",
				"use a cable with more cores, or add a run",
			}},
		},
		{
			"no run", oneDoor("locks: [strike-12-secure]\ncontacts: [contact-surface]"),
			func(j *job.Job) { j.Runs = nil },
			[]wiring.Problem{
				{"D1", "controller supply: no run joins riser and D1.box", "add a run from riser to D1.box"},
				{"D1", "lock feed: no run joins D1.box and D1.head", "add a run from D1.box to D1.head"},
				{"D1", "door contact: no run joins D1.box and D1.head", "add a run from D1.box to D1.head"},
			},
		},
		{
			"no such terminal", oneDoor("locks: [magnet-12]"),
			func(j *job.Job) {
				m := *j.Controllers[0].Model
				m.Strip = nil
				for _, s := range j.Controllers[0].Model.Strip {
					if s.Pin != "lock1.nc" {
						m.Strip = append(m.Strip, s)
					}
				}
				j.Controllers[0].Model = &m
			},
			[]wiring.Problem{{"C1", "C1 (controller-1-12) brings lock1.nc out on no terminal", "fit a model that does"}},
		},
		{
			"locks on different feeds", oneDoor("locks: [magnet-12, {model: magnet-12, feed: PS1}]"), nil,
			[]wiring.Problem{{
				"D1", "its locks hang on different feeds, but one relay contact switches one feed", "give all locks of the door the same feed",
			}},
		},
		{
			"locks that need power at opposite times", oneDoor("locks: [magnet-12, strike-12-secure]"), nil,
			[]wiring.Problem{{
				"D1", "D1.lock1 and D1.lock2 need power at opposite times, but one relay contact serves both",
				"fit locks that are all fail-safe or all fail-secure",
			}},
		},
		{
			"too few ways in the door loop",
			oneDoor("locks: [handle-lock-12]\nloop: door-loop"),
			func(j *job.Job) {
				m := *j.Doors[0].Loop.Model
				m.Ports = slices.Clone(m.Ports)
				m.Ports[0].Value.Ways = 3
				j.Doors[0].Loop.Model = &m
			},
			[]wiring.Problem{{
				"D1", "D1.loop (door-loop) has 3 ways, and what is in the leaf needs 4", "fit a door loop with more ways",
			}},
		},
		{
			"no door loop to the leaf", oneDoor("locks: [handle-lock-12]"), nil,
			[]wiring.Problem{{"D1", "D1.lock1 is in leaf 1, and no door loop goes there", "add a door loop to that leaf"}},
		},
		{
			"exit devices that differ at rest", oneDoor("locks: [strike-12-secure]\nexit: [exit-button, button-closed]", closedButton),
			func(j *job.Job) { j.Controllers[0].Settings.Channels[0].Exit.Rest = device.RestOpen },
			[]wiring.Problem{{
				"D1", "D1.exit2 (button-closed) has no exit contact that is open at rest, as the exit input expects",
				"fit exit devices that rest alike, or set the input to what they are",
			}},
		},
		{
			"no contact at all", oneDoor("locks: [strike-12-secure]\naux: [contact-surface]"),
			func(j *job.Job) { j.Doors[0].Aux[0].Model = without(j.Doors[0].Aux[0].Model, ofType(device.Contact)) },
			[]wiring.Problem{{"D1.aux1", "D1.aux1 (contact-surface) has no contact that is closed at rest", "fit a model that has one"}},
		},
		{
			"no release contact", oneDoor("locks: [magnet-12]\nreleases: [release-1]"),
			func(j *job.Job) {
				j.Doors[0].Releases[0].Model = without(j.Doors[0].Releases[0].Model, ofType(device.Contact))
			},
			[]wiring.Problem{{"D1.release1", "D1.release1 (release-1) has no contact for the lock feed", "fit a release that has one"}},
		},
		{
			"no sounder output", oneDoor("locks: [strike-12-secure]\nsounder: sounder-12"),
			func(j *job.Job) {
				j.Controllers[0].Model = without(j.Controllers[0].Model, func(name string, _ device.Port) bool { return name == "sounder1" })
			},
			[]wiring.Problem{{"C1", "C1 (controller-1-12) has no sounder output for door channel 1", "fit a model that has one"}},
		},
		{
			"no reader port", oneDoor("locks: [strike-12-secure]\nentry: reader-pulse"),
			func(j *job.Job) { j.Controllers[0].Model = without(j.Controllers[0].Model, ofType(device.PulseIn)) },
			[]wiring.Problem{{"C1", "C1 (controller-1-12) has no pulse reader port for the entry reader", "fit a model that has one"}},
		},
		{
			"no bus port", oneDoor("locks: [strike-12-secure]\nentry: reader-485"),
			func(j *job.Job) { j.Controllers[0].Model = without(j.Controllers[0].Model, ofType(device.Bus)) },
			[]wiring.Problem{{"C1", "C1 (controller-1-12) has no RS-485 port for the entry reader", "fit a model that has one"}},
		},
		{
			"no board output", oneDoor("locks: [{model: magnet-24, feed: PS2/1}]", "supplies:"+boarded),
			func(j *job.Job) { j.Doors[0].Locks[0].Feed.Output = 9 },
			[]wiring.Problem{{
				"PS2.board", "PS2.board (board-24-8) has no output 9", "use one of its outputs 1 to 8, or fit a board with more",
			}},
		},
		{
			"no earth for 0 V and screens", oneDoor("locks: [strike-12-secure]\nentry: reader-pulse"),
			func(j *job.Job) {
				j.Controllers[0].Model = without(j.Controllers[0].Model, ofType(device.Earth))
				j.Supplies[0].Model = without(j.Supplies[0].Model, ofType(device.Earth))
			},
			[]wiring.Problem{
				{"PS1", "PS1 (supply-12-5) has no earth terminal to tie its 0 V to", "fit a model that has one, or say that its 0 V floats"},
				{
					"D1.out.s", "no unit with an earth terminal is at D1.box or D1.out, nor does a screened run meet it there",
					"end the run at a unit with an earth terminal, for its screen",
				},
			},
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			j := readJob(t, c.job)
			if c.spoil != nil {
				c.spoil(j)
			}
			p := wiring.Make(j)
			if !reflect.DeepEqual(p.Problems, c.want) {
				t.Errorf("got\n%q\nwant\n%q", p.Problems, c.want)
			}
			if len(p.Conductors) == 0 {
				t.Error("nothing is wired")
			}
		})
	}
}

const boarded = `  PS1: {model: supply-12-5, place: riser, zero-volt: earthed}
  PS2: {model: supply-24-5, place: riser, zero-volt: floating, board: board-24-8}`
