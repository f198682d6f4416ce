package situation_test

import (
	"math"
	"testing"

	"doorwright/demo"
	"doorwright/device"
	"doorwright/job"
	"doorwright/situation"
	"doorwright/wiring"
)

func islandOnBattery(t *testing.T) (*situation.Island, *situation.Bench) {
	t.Helper()
	j, problems := job.Read("brackwater.yaml", demo.Brackwater)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	is := situation.New(wiring.Make(j)).Island("PS1")
	b := is.Bench(situation.Nominal())
	b.Take(situation.Step{Do: []situation.Action{{Device: "PS1", Signal: "mains", On: false}}})
	if !b.Outcome().Settled() {
		t.Fatal("the bench did not settle")
	}
	return is, b
}

// What the battery gives is what flows through the supply's transfer path, by Kirchhoff's current law.
func TestPartAmpsOfABattery(t *testing.T) {
	is, b := islandOnBattery(t)
	given, ok := b.PartAmps(is.Unit("PS1.battery"), "cells.cells")
	if !ok || given >= 0 {
		t.Fatalf("%v, %v", given, ok)
	}
	for _, p := range is.Probes(device.Battery) {
		if p.Unit.Device.ID == "PS1" && math.Abs(float64(b.Amps(&p)+given)) > 1e-6 {
			t.Errorf("%v given, %v handed on", given, b.Amps(&p))
		}
	}
	if _, ok := b.PartAmps(is.Unit("PS1.battery"), "no.part"); ok {
		t.Error("a part that is not there has a current")
	}
}

func TestStretchAndCells(t *testing.T) {
	is, b := islandOnBattery(t)
	c1 := is.Unit("C1")
	volts := func() float64 { return float64(b.Volts(c1, "feed.plus", "feed.minus")) }
	before := volts()
	b.Stretch(2)
	far := volts()
	b.Stretch(2)
	if far >= before || math.Abs(volts()-far) > 1e-6 {
		t.Errorf("%v, twice as far %v, said again %v", before, far, volts())
	}
	b.Stretch(1)
	if math.Abs(volts()-before) > 1e-6 {
		t.Errorf("%v, back at its length %v", before, volts())
	}
	full, end := situation.CellVolts()
	b.SetCells(is.Unit("PS1.battery"), end)
	low := volts()
	if lost := before - low; lost < 5*float64(full-end) {
		t.Errorf("six cells fell by %v each, the controller by %v", full-end, lost)
	}
}

// A relay coil alone: its resistance by its data sheet, seen at its terminals with nothing powered.
func TestOhmsBetween(t *testing.T) {
	is, b := islandOnBattery(t)
	b.Take(situation.Step{Do: []situation.Action{{Device: "PS1.battery", Signal: "connected", On: false}}})
	if got := b.OhmsBetween(is.Unit("visitor.lock1"), "coil.plus", "coil.minus"); got < 11.9 || got > 24.1 {
		t.Errorf("two magnets of 24 ohm side by side, or one: %v", got)
	}
	if got := b.OhmsBetween(is.Unit("visitor.lock1"), "no.pin", "coil.minus"); got != 0 {
		t.Errorf("no pin: %v", got)
	}
}
