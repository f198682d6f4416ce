package mend_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"doorwright/mend"
	"doorwright/proof"
)

// shop is a door whose controller, reader and lock take 4 W and half an ampere from a supply with a battery.
const shop = `
job: SHOP
title: A shop
rules: [uk-b]
places: {cabinet: {title: Cabinet}}
temperature: 20 C to 30 C
supplies:
  PS1: {model: SUPPLY, battery: BATTERY, place: cabinet, zero-volt: earthed, standby: HOURS h, works-to: 12 V}
controllers:
  C1: {model: controller-1-12, place: cabinet, feed: PS1}
doors:
  D1:
    title: Shop door
    escape: none
    fire-rated: no
    controller: C1
    entry: reader-pulse
    locks: [{model: magnet-12, feed: PS1, handle: none, on-battery: hold}]
    exit: [exit-button]
    contacts: [contact-surface]
    watch: relay-12
    supervision: double
    cable-length: 5 m
`

func shopWith(supply, battery string, hours int) string {
	return strings.NewReplacer("SUPPLY", supply, "BATTERY", battery, "HOURS", fmt.Sprint(hours)).Replace(shop)
}

func letGo(supply, battery string, hours int) string {
	return strings.Replace(shopWith(supply, battery, hours), "on-battery: hold", "on-battery: let-go", 1)
}

// Charging currents of the built-in supplies, and capacities of the built-in batteries of 12 V, by their models.
var (
	chargers   = map[string]float64{"supply-12-2": 0.4, "supply-12-5": 1, "supply-12-10": 2}
	capacities = map[string]float64{"battery-12-7": 7, "battery-12-17": 17, "battery-12-24": 24, "battery-12-38": 38}
)

// A charger is told to give too little just when it gives less than 0.8 C / (24 h x 0.85): 80 % of the capacity in 24 h
// (EN 54-4, 5.3.1). The doors leave enough of each supply here: they draw less than 1 A of 2.2 A and more. No mend of what
// a battery lacks brings a charger that gives too little, or one that falls shorter than before; nor one that charges with
// more than a quarter of the capacity in an hour (from memory of data sheets).
func TestMendsOfBatteriesCanBeCharged(t *testing.T) {
	short := func(supply, battery string) float64 { return 1 - chargers[supply]/(0.8*capacities[battery]/(24*0.85)) }
	seen := 0
	for supply := range chargers {
		for battery := range capacities {
			for _, hours := range []int{2, 16} {
				if testing.Short() && seen > 2 { // as the race detector runs
					continue
				}
				j := read(t, shopWith(supply, battery, hours))
				x := mend.NewExaminer()
				e := x.Examine(j)
				if told := find(e.Findings, mend.RequirementRecharge) != nil; told != (short(supply, battery) > 0) {
					t.Errorf("%s with %s: told %v, short by %.2f", supply, battery, told, short(supply, battery))
				}
				x.All(j, e)
				for _, f := range e.Findings {
					for _, m := range f.Mends {
						newSupply, newBattery := set(m, "supplies.PS1.model", supply), set(m, "supplies.PS1.battery", battery)
						if is := short(newSupply, newBattery); is > max(0, short(supply, battery)) || f.Requirement == mend.RequirementRecharge && is > 0 {
							t.Errorf("%s with %s, %d h: %q of %s is short by %.2f", supply, battery, hours, m.Text, f.Requirement, is)
						}
						if chargers[newSupply] > max(0.25*capacities[newBattery], chargers[supply]) {
							t.Errorf("%s with %s, %d h: %q charges harder than a quarter of the capacity", supply, battery, hours, m.Text)
						}
						seen++
					}
				}
			}
		}
	}
	if seen == 0 {
		t.Error("no mend was offered")
	}
}

// set is what a mend sets at a path, or what stands there.
func set(m proof.Mend, path, otherwise string) string {
	for _, c := range m.Set {
		if c.Path == path {
			return c.Value
		}
	}
	return otherwise
}

// What charges a battery is mended by a smaller battery that still lasts, or by a supply that charges with more; where a
// larger battery is needed that the charger cannot bring back, by both.
func TestWhatChargesABatteryIsMended(t *testing.T) {
	for _, c := range []struct {
		name, text, requirement string
		changes                 []proof.Change
		never                   string // battery that is not offered with the supply there is
	}{
		{
			"smaller battery", shopWith("supply-12-2", "battery-12-17", 2), mend.RequirementRecharge,
			[]proof.Change{{Path: "supplies.PS1.battery", Value: "battery-12-7"}},
			"battery-12-24",
		},
		{
			"stronger charger", shopWith("supply-12-2", "battery-12-17", 8), mend.RequirementRecharge,
			[]proof.Change{{Path: "supplies.PS1.model", Value: "supply-12-5"}},
			"battery-12-7",
		},
		{
			"larger battery and stronger charger", letGo("supply-12-2", "battery-12-17", 18), mend.RequirementStandby,
			[]proof.Change{{Path: "supplies.PS1.battery", Value: "battery-12-24"}, {Path: "supplies.PS1.model", Value: "supply-12-5"}},
			"battery-12-24",
		},
		{
			"largest battery and strongest charger", letGo("supply-12-2", "battery-12-17", 20), mend.RequirementStandby,
			[]proof.Change{{Path: "supplies.PS1.battery", Value: "battery-12-38"}, {Path: "supplies.PS1.model", Value: "supply-12-10"}},
			"battery-12-38",
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			j := read(t, c.text)
			x := mend.NewExaminer()
			e := x.Examine(j)
			x.All(j, e)
			f := find(e.Findings, c.requirement)
			if f == nil {
				t.Fatalf("no %s among %d findings", c.requirement, len(e.Findings))
			}
			if !slices.ContainsFunc(f.Mends, func(m proof.Mend) bool { return slices.Equal(m.Set, c.changes) }) {
				t.Errorf("%s: no mend sets %v: %+v", f.What, c.changes, f.Mends)
			}
			for _, m := range f.Mends {
				if set(m, "supplies.PS1.battery", "") == c.never && set(m, "supplies.PS1.model", "") == "" {
					t.Errorf("%s is offered with the charger there is", c.never)
				}
			}
		})
	}
}
