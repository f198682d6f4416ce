package site

import (
	"fmt"
	"strings"
)

// heading is the top of the document. A supply of an ampere for each of its doors is added as a user adds a unit from its
// data sheet, with a battery to match: twenty doors of 12 V draw more than the largest built-in one gives.
const heading = `job: SITE
title: Site of many doors
revision: A
rules: [uk-b]
temperature: 0 C to 40 C

models:
  supply-12-{amperes}:
    kind: supply
    title: Supply, 12 V {amperes} A, with standby battery
    strip:
      - {label: "+", pin: out.plus, cores: 2, to: 6 mm2}
      - {label: "-", pin: out.minus, cores: 2, to: 6 mm2}
      - {label: "B+", pin: battery.plus, to: 6 mm2}
      - {label: "B-", pin: battery.minus, to: 6 mm2}
      - {label: "EARTH", pin: earth.earth, cores: 2, to: 4 mm2}
    ports:
      out: {is: source, nominal: 12 V, float: 13.65 V, spread: 0.01, limit: {limit} A, short: {short} A}
      battery: {is: battery, from: out, nominal: 12 V, charge: {charge} A, dropped: 10 V, ohms: {path} mohm}
      earth: {is: earth}
`

// largeBattery is added for more doors than usual; for those there is one built in.
const largeBattery = `  battery-12-{hours}:
    kind: battery
    title: Battery, 12 V {hours} Ah
    strip:
      - {label: "+", pin: cells.plus, to: 6 mm2}
      - {label: "-", pin: cells.minus, to: 6 mm2}
    ports:
      cells: {is: battery, nominal: 12 V, cells: 6, ohms: {cells} mohm, capacity: {hours} Ah}
`

// figures are what the heading and a supply of 12 V are filled in with, for so many doors.
func figures(doors int) *strings.Replacer {
	var all []string
	for name, parts := range map[string]int{"amperes": 20, "limit": 22, "short": 10, "charge": 4, "hours": 38} {
		all = append(all, "{"+name+"}", fmt.Sprint(parts*doors/DoorsPerSupply))
	}
	for name, ohms := range map[string]int{"path": 10, "cells": 7} {
		all = append(all, "{"+name+"}", fmt.Sprint(ohms*DoorsPerSupply/doors))
	}
	return strings.NewReplacer(all...)
}

// supplyText are the supplies of 24 V and of 12 V.
var supplyText = [2]string{
	`  PS{n}:
    model: supply-24-10
    place: riser{n}
    battery: battery-24-38
    zero-volt: earthed
    standby: 4 h
    works-to: 24 V
    board: board-24-8
    fire: fire-interface
    reset: key-switch
    released: [1, 2, 3, 4]
    latching: [1, 2, 3, 4]
`,
	`  PS{n}:
    model: supply-12-{amperes}
    place: riser{n}
    battery: battery-12-{hours}
    zero-volt: earthed
    standby: 4 h
    works-to: 12.6 V
`,
}

// arrangement is one way to fit a door.
type arrangement struct {
	title  string
	volts  string   // of its controller
	shares bool     // the next door in turn is on the same controller
	feed   string   // cable of the run that feeds it
	fitted string   // fields of the door, one to a line
	runs   []string // further runs from its box: the end of the place's name, and the cable
}

// sharing is the arrangement on a controller for two doors, of which the next in turn is the other.
func (a arrangement) sharing() arrangement {
	a.shares = true
	return a
}

// arrangements are the doors on a supply of 24 V and on one of 12 V, in turn.
var arrangements = [2][]arrangement{
	{
		magnetOnBoard, handleLockOnBus, strikeSecure24, bothWaysOnBoard, strikeSafe24,
		magnetWithSensor24, handleLockSafe24, store24, strikeSafeWithInside24, strikeSecure24,
	},
	{
		magnet12.sharing(), strikeSecure12, magnetWithSensor12.sharing(), store12, strikeSafe12.sharing(),
		strikeSecure12, handleLockSafe12.sharing(), handleLockSerial12, twoLeaves12.sharing(), store12,
	},
}
