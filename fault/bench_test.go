package fault_test

import (
	"fmt"
	"strings"
	"testing"

	"doorwright/demo"
	"doorwright/fault"
)

func BenchmarkOfDemo(b *testing.B) {
	plan := readPlan(b, "brackwater.yaml", demo.Brackwater)
	for b.Loop() {
		k := fault.New(plan)
		for _, door := range doorsOf(plan) {
			k.Of(door)
		}
	}
}

// The time for each door should not grow with the number of doors.
func BenchmarkOfDoors(b *testing.B) {
	for _, n := range []int{10, 100, 1000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			doors := make([]string, n)
			for i := range doors {
				doors[i] = "locks: [magnet-12]\nentry: reader-pulse\nexit: [exit-button]\ncontacts: [contact-surface]\n" +
					"releases: [release-2]\nfire: fire-interface\nwatch: relay-12\nsupervision: double"
			}
			plan := readPlan(b, "many.yaml", manyDoors(doors))
			for b.Loop() {
				k := fault.New(plan)
				for _, door := range doorsOf(plan) {
					k.Of(door)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/float64(n), "us/door")
		})
	}
}

// manyDoors is a job of doors D0, D1 ... on controllers of their own, all fed from one supply in the riser.
func manyDoors(doors []string) []byte {
	var controllers, written, runs strings.Builder
	for i, door := range doors {
		fmt.Fprintf(&controllers, "  C%d: {model: controller-1-12, place: D%d.box, feed: PS1}\n", i, i)
		fmt.Fprintf(&written, "  D%d:\n    title: Door %d\n    escape: none\n    fire-rated: no\n    controller: C%d\n    %s\n",
			i, i, i, strings.ReplaceAll(door, "\n", "\n    "))
		fmt.Fprintf(&runs, "  F%d: {from: riser, to: D%d.box, cable: 2x2.5, length: 30 m}\n", i, i)
	}
	return fmt.Appendf(nil, `job: J
title: Many doors
rules: [uk-b]
places: {riser: {title: Riser}}
supplies:
  PS1: {model: supply-12-5, place: riser, battery: battery-12-17, zero-volt: earthed}
  PS2: {model: supply-24-5, place: riser, zero-volt: floating}
controllers:
%sdoors:
%sruns:
%s`, controllers.String(), written.String(), runs.String())
}
