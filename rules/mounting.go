package rules

import (
	"slices"
	"strings"

	"doorwright/unit"
)

// Item is what is mounted at a door, as far as its place matters.
type Item string

// The items.
const (
	ItemReader  Item = "reader"
	ItemButton  Item = "button"  // a request to exit worked by hand
	ItemRelease Item = "release" // a manual release
	ItemSensor  Item = "sensor"  // sees people come to leave
	ItemContact Item = "contact"
	ItemMagnet  Item = "magnet"
	ItemLock    Item = "lock" // strike, bolt or lock at the height of the handle
	ItemSounder Item = "sounder"
)

// Mounting is where an item is usually fitted. Heights are of its middle above the floor, distances of its middle from
// the clear opening: beside it for what is on the wall, from the leading edge of the leaf for what is at the head.
type Mounting struct {
	Item   Item
	Height Demand[unit.Metre]
	AtHead bool // at the head of the frame; Height is then 0
	Beside Demand[unit.Metre]
	Tall   Demand[unit.Band[unit.Metre]] // heights that suit; zero for any
	Apart  Demand[unit.Band[unit.Metre]] // distances that suit; zero for any
	ByHand bool                          // people work it by hand, so the reach rules bind
}

// Mountings lists where items are usually fitted: defaults to offer. Most is common practice.
func Mountings() []Mounting {
	return []Mounting{
		{
			Item: ItemReader, Height: Demand[unit.Metre]{1.05, readerTrade}, Beside: Demand[unit.Metre]{0.2, readerTrade},
			Apart: Demand[unit.Band[unit.Metre]]{band(0.1, 0.3), readerTrade}, ByHand: true,
		},
		{
			Item: ItemButton, Height: Demand[unit.Metre]{1.05, heightTrade}, Beside: Demand[unit.Metre]{0.2, trade}, ByHand: true,
		},
		{
			Item: ItemRelease, Height: Demand[unit.Metre]{1.1, heightTrade}, Beside: Demand[unit.Metre]{0.2, trade}, ByHand: true,
		},
		{
			Item: ItemSensor, Height: Demand[unit.Metre]{2.3, sensorTrade},
			Tall: Demand[unit.Band[unit.Metre]]{band(2.1, 2.5), sensorTrade},
		},
		{
			Item: ItemContact, AtHead: true, Beside: Demand[unit.Metre]{0.1, contactTrade},
			Apart: Demand[unit.Band[unit.Metre]]{band(0.075, 0.15), contactTrade},
		},
		{Item: ItemMagnet, AtHead: true, Beside: Demand[unit.Metre]{0.3, trade}},
		{
			Item: ItemLock, Height: Demand[unit.Metre]{0.95, leverHeight},
			Tall: Demand[unit.Band[unit.Metre]]{band(0.8, 1.05), leverHeight},
		},
		{Item: ItemSounder, Height: Demand[unit.Metre]{2.3, trade}, Beside: Demand[unit.Metre]{0.35, trade}},
	}
}

// MountingOf is the row of an item.
func MountingOf(item Item) Mounting {
	all := Mountings()
	return all[max(0, slices.IndexFunc(all, func(m Mounting) bool { return m.Item == item }))]
}

// reach is the heights at which everybody reaches a control, for families whose ids begin alike.
type reach struct {
	families string
	band     Demand[unit.Band[unit.Metre]]
}

// reaches are the bands of all families. The last row is for all that name none.
var reaches = []reach{
	{"ibc-", Demand[unit.Band[unit.Metre]]{band(0.38, 1.22), adaReach}},
	{"nfpa-", Demand[unit.Band[unit.Metre]]{band(0.38, 1.22), adaReach}},
	{"uk-", Demand[unit.Band[unit.Metre]]{band(0.75, 1.2), admReach}},
	{"de", Demand[unit.Band[unit.Metre]]{band(0.85, 1.05), dinReach}},
	{"", Demand[unit.Band[unit.Metre]]{band(1.0, 1.2), heightTrade}},
}

// Reach is the band of heights at which everybody reaches a control under the rules of a family. Only sources for single
// countries were seen; for other families it is the band that suits most of them.
func (f Family) Reach() Demand[unit.Band[unit.Metre]] {
	i := slices.IndexFunc(reaches, func(r reach) bool { return strings.HasPrefix(f.ID, r.families) })
	return reaches[i].band
}

// Limit is a band that a height or a distance of an item should lie in.
type Limit struct {
	Distance bool // of the distance from the opening, not of the height
	Band     unit.Band[unit.Metre]
	Source   Source
}

// Limits lists the bands for an item under the rules of some families, each once; Strictest stands for none.
func Limits(item Item, families ...Family) []Limit {
	if len(families) == 0 {
		families = []Family{Strictest()}
	}
	m := MountingOf(item)
	var all []Limit
	add := func(distance bool, d Demand[unit.Band[unit.Metre]]) {
		l := Limit{distance, d.Value, d.Source}
		if !d.Value.IsZero() && !slices.Contains(all, l) {
			all = append(all, l)
		}
	}
	for _, f := range families {
		if item == ItemRelease {
			add(false, f.Height)
			add(true, Demand[unit.Band[unit.Metre]]{band(0, f.Distance.Value), f.Distance.Source})
		}
		if m.ByHand {
			add(false, f.Reach())
		}
	}
	add(false, m.Tall)
	add(true, m.Apart)
	return all
}
