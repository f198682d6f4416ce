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

// Looked at alone, a door with a fault shows what it shows as a part of the whole island with the fault as true elements.
func TestACloseupShowsWhatTheWholeIslandShows(t *testing.T) {
	tried, close, whole := 0, 0, 0
	for name, text := range map[string][]byte{"demo": demo.Brackwater, "site": site.Generate(6)} {
		s := siteOf(t, string(text))
		r := rand.New(rand.NewPCG(3, 9))
		for _, d := range s.Plan.Job.Doors {
			is := s.Island(d.Controller.ID)
			sequences := stepsAt(is, d)
			c := is.Frames(situation.Nominal()).Closeup(d, sequences)
			all := append(fault.Of(s.Plan, d.ID), fault.Attacks(s.Plan, d.ID)...)
			for range 90 {
				f := &all[r.IntN(len(all))]
				if !is.Has(f) {
					continue
				}
				near := map[instant]closeSight{}
				wide := c.Wide
				c.Run(f, func(q, k int, b *situation.Bench, shows situation.Shows, _ bool) {
					near[instant{q, k}] = lookClose(is, d, b, shows)
				})
				if c.Wide > wide {
					whole++
					continue
				}
				c.RunWhole(f, func(q, k int, b *situation.Bench, shows situation.Shows, _ bool) {
					got, want := near[instant{q, k}], lookClose(is, d, b, shows)
					tried++
					worst := 0.0
					for i := range want.volts {
						worst = max(worst, math.Abs(got.volts[i]-want.volts[i]))
					}
					if worst > 1e-3 || got.effect != want.effect || got.heard != want.heard || got.settled != want.settled || got.memory != want.memory {
						t.Errorf("%s %s %s sequence %d step %d: off by %.3g V, %v and %v, heard %v and %v, %+v and %+v", name, d.ID, f.ID, q, k, worst,
							got.effect, want.effect, got.heard, want.heard, got.memory, want.memory)
					}
					if worst < 1e-5 {
						close++
					}
				})
			}
		}
	}
	t.Logf("%d instants, %d within 10 uV; %d faults moved the whole island", tried, close, whole)
	if tried < 20000 || close < tried-tried/1000 {
		t.Error("too few were tried, or too few are within 10 uV")
	}
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
		for way, run := range map[string]func(*fault.Fault, situation.See){"alone": c.Run, "whole": c.RunWhole} {
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
