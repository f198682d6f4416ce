package situation_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"doorwright/demo"
	"doorwright/device"
	"doorwright/fault"
	"doorwright/internal/site"
	"doorwright/job"
	"doorwright/situation"
)

// stepsAt are the sequences of a door: every cause there and of the whole island.
func stepsAt(is *situation.Island, d *job.Door) [][]situation.Step {
	var all [][]situation.Step
	for _, c := range situation.Causes() {
		at := d
		if !c.Door {
			at = nil
		}
		if s := c.Steps(is, at); s != nil {
			all = append(all, s)
		}
	}
	return all
}

// closeSight is what is seen of a door at one watched instant.
type closeSight struct {
	volts   []float64
	effect  situation.Effect
	heard   bool
	settled bool
	memory  device.ChannelMemory
}

func lookClose(is *situation.Island, d *job.Door, b *situation.Bench, shows situation.Shows) closeSight {
	state := b.Door(d)
	s := closeSight{effect: state.Effect, heard: shows.Heard, settled: b.Outcome().Settled(), memory: state.Memory}
	for _, l := range state.Locks {
		s.volts = append(s.volts, float64(l.Volts))
	}
	for _, p := range is.Probes(device.Load, device.Input) {
		if p.Unit.Device.Door == d.ID || p.Unit.Device == is.Unit(d.Controller.ID).Device {
			s.volts = append(s.volts, float64(b.Across(&p)))
		}
	}
	return s
}

type instant struct{ sequence, step int }

// sample is how many of something are tried: a tenth where a run is to be short.
func sample(n int) int {
	if testing.Short() {
		return n / 10
	}
	return n
}

// held is what was seen in a closeup, held against the whole island.
type held struct{ tried, close, whole int }

// against looks at a door with a fault in two ways and compares every watched instant.
func (h *held) against(t *testing.T, is *situation.Island, d *job.Door, id string, close, whole func(situation.See)) {
	near := map[instant]closeSight{}
	close(func(q, k int, b *situation.Bench, shows situation.Shows, _ bool) {
		near[instant{q, k}] = lookClose(is, d, b, shows)
	})
	whole(func(q, k int, b *situation.Bench, shows situation.Shows, _ bool) {
		got, want := near[instant{q, k}], lookClose(is, d, b, shows)
		h.tried++
		worst := 0.0
		for i := range want.volts {
			worst = max(worst, math.Abs(got.volts[i]-want.volts[i]))
		}
		if worst > 1e-3 || got.effect != want.effect || got.heard != want.heard || got.settled != want.settled || got.memory != want.memory {
			t.Errorf("%s %s sequence %d step %d: off by %.3g V, %v and %v, heard %v and %v, settled %v and %v, %+v and %+v", d.ID, id, q, k, worst,
				got.effect, want.effect, got.heard, want.heard, got.settled, want.settled, got.memory, want.memory)
		}
		if worst < 1e-5 {
			h.close++
		}
	})
}

func (h *held) judge(t *testing.T, least int) {
	t.Logf("%d instants, %d within 10 uV; %d faults moved the whole island in some instant", h.tried, h.close, h.whole)
	if h.tried < least || h.close < h.tried-h.tried/1000 {
		t.Error("too few were tried, or too few are within 10 uV")
	}
}

// Looked at alone, a door with a fault shows what it shows as a part of the whole island with the fault as true elements.
func TestACloseupShowsWhatTheWholeIslandShows(t *testing.T) {
	var h held
	for _, text := range [][]byte{demo.Brackwater, demo.Flawed, site.Generate(26), []byte(twoOnABoard)} {
		s := siteOf(t, string(text))
		r := rand.New(rand.NewPCG(3, 9))
		for _, d := range s.Plan.Job.Doors {
			is := s.Island(d.Controller.ID)
			c := is.Frames(situation.Nominal()).Closeup(d, stepsAt(is, d))
			all := append(fault.Of(s.Plan, d.ID), fault.Attacks(s.Plan, d.ID)...)
			for range sample(60) {
				f := &all[r.IntN(len(all))]
				if !is.Has(f) {
					continue
				}
				h.against(t, is, d, f.ID,
					func(see situation.See) { c.Run(f, nil, see) },
					func(see situation.See) { c.RunWhole(f, see) })
			}
			h.whole += c.Wide
		}
	}
	h.judge(t, sample(50000))
}

// So does a door of an island that stands in its frames with a fault that many doors share.
func TestACloseupInFaultyFramesShowsWhatTheWholeIslandShows(t *testing.T) {
	var h held
	for _, text := range [][]byte{demo.Brackwater, demo.Flawed, site.Generate(12), []byte(twoOnABoard)} {
		s := siteOf(t, string(text))
		r := rand.New(rand.NewPCG(5, 8))
		shared := fault.Of(s.Plan, "")
		for range sample(250) {
			f := &shared[r.IntN(len(shared))]
			d := s.Plan.Job.Doors[r.IntN(len(s.Plan.Job.Doors))]
			is := s.Island(d.Controller.ID)
			if !is.Has(f) {
				continue
			}
			frames := is.Frames(situation.Nominal())
			sound := frames.Closeup(d, stepsAt(is, d))
			c := sound.On(frames.With(f))
			h.against(t, is, d, f.ID,
				func(see situation.See) { c.Run(nil, nil, see) },
				func(see situation.See) { sound.RunWhole(f, see) })
			h.whole += c.Wide
		}
	}
	h.judge(t, sample(8000))
}

// One fault after another of a door, in every cause: the door looked at alone where that does, and always the whole
// island.
func BenchmarkFaultsOfADoor(b *testing.B) {
	for name, text := range map[string][]byte{"demo": demo.Brackwater, "20 doors": site.Generate(20)} {
		s := siteOf(b, string(text))
		d := s.Plan.Job.Doors[0]
		is := s.Island(d.Controller.ID)
		c := is.Frames(situation.Nominal()).Closeup(d, stepsAt(is, d))
		var all []fault.Fault
		for _, f := range fault.Of(s.Plan, d.ID) {
			if is.Has(&f) {
				all = append(all, f)
			}
		}
		see := func(_, _ int, b *situation.Bench, _ situation.Shows, _ bool) { _ = b.Door(d) }
		alone := func(f *fault.Fault, see situation.See) { c.Run(f, nil, see) }
		for way, run := range map[string]func(*fault.Fault, situation.See){"alone": alone, "whole": c.RunWhole} {
			b.Run(name+"/"+way, func(b *testing.B) {
				i := 0
				for b.Loop() {
					run(&all[i%len(all)], see)
					i++
				}
			})
		}
	}
}
