package main

import (
	"slices"
	"strings"

	"doorwright/wiring"
)

// landings is the termination schedule: what lands on every terminal.
type landings struct {
	Job      string    `json:"job"`
	Landings []landing `json:"landings"` // in the order of groups, devices and strips
	by       string
	reasons  bool
	alone    bool // one door is asked for: what others land on its devices stands nowhere else
	devices  []landedDevice
}

// landing is one conductor end on a terminal.
type landing struct {
	Door      string        `json:"door"` // empty: shared by several
	Place     string        `json:"place"`
	Device    string        `json:"device"`
	Terminal  string        `json:"terminal"`
	Pin       string        `json:"pin"`
	Plug      string        `json:"plug,omitempty"`
	Conductor string        `json:"conductor"`
	Kind      wiring.Kind   `json:"kind"`
	Run       string        `json:"run,omitempty"`
	Core      int           `json:"core,omitempty"`
	Colour    string        `json:"colour,omitempty"`
	To        end           `json:"to"`
	Reason    wiring.Reason `json:"reason"`
}

// landedDevice is one device with its landings.
type landedDevice struct {
	group, place string
	device       *wiring.Device
	landings     []landing
	others       []landing // of other doors, or shared
	empty        []string  // labels of terminals that stay empty
}

// shared is the group of what belongs to no single door.
const shared = ""

func landingSheet(v *view) (sheet, error) {
	if v.by == "run" {
		return coreSheet(v), nil
	}
	s := landings{Job: v.job.ID, Landings: []landing{}, by: v.by, reasons: v.reasons, alone: v.door != nil}
	on := map[*wiring.Device][]wiring.Landing{}
	for _, l := range v.plan.Landings() {
		on[l.Device] = append(on[l.Device], l)
	}
	for _, group := range v.groups() {
		for _, d := range v.inPlaces() {
			if l := landed(d, on[d], group, v.by); len(l.landings) > 0 {
				s.devices = append(s.devices, l)
				s.Landings = append(s.Landings, l.landings...)
			}
		}
	}
	return s, nil
}

// groups are the doors asked for, and what is shared behind them; a single group without order by door.
func (v *view) groups() []string {
	var ids []string
	for _, d := range v.doors() {
		ids = append(ids, d.ID)
	}
	if v.door == nil {
		ids = append(ids, shared)
	}
	if v.by == "device" {
		return []string{strings.Join(ids, " ")}
	}
	return ids
}

// inPlaces lists the devices of the plan place by place, since that is how a technician meets them.
func (v *view) inPlaces() []*wiring.Device {
	order := map[string]int{}
	for i, p := range v.job.Places {
		order[p.ID] = i
	}
	all := slices.Clone(v.plan.Devices)
	if v.by == "door" {
		slices.SortStableFunc(all, func(a, b *wiring.Device) int { return order[a.Place.ID] - order[b.Place.ID] })
	}
	return all
}

// landed lists what lands on the strip of a device for a group.
func landed(d *wiring.Device, on []wiring.Landing, group, by string) landedDevice {
	out := landedDevice{group: group, place: d.Place.ID, device: d}
	taken := map[string]bool{}
	for _, l := range on {
		t := l.Terminal
		taken[t.Pin] = true
		whole := conductorOf(l.Conductor)
		x := landing{
			Door: l.Door, Place: d.Place.ID, Device: d.ID, Terminal: t.Label, Pin: t.Pin, Plug: t.Plug, Conductor: whole.ID,
			Kind: whole.Kind, Run: whole.Run, Core: whole.Core, Colour: whole.Colour, To: endOf(l.Far), Reason: whole.Reason,
		}
		if l.Door != group && (by == "door" || !slices.Contains(strings.Split(group, " "), l.Door)) {
			out.others = append(out.others, x)
			continue
		}
		out.landings = append(out.landings, x)
	}
	for _, t := range d.Model.Strip {
		if !taken[t.Pin] {
			out.empty = append(out.empty, t.Label)
		}
	}
	return out
}

func (s landings) text(p *page) {
	p.title("LANDINGS " + s.Job)
	p.say(0, plain, "Terminal by terminal: what lands there, where it comes from, what it is for. Calculated from what is "+
		"fitted; terminals named as empty stay empty."+map[bool]string{true: " Of one door only: what others land on the same devices is named with " +
		"them; devices on which nothing of this door lands are left out."}[s.alone])
	group, place := "?", ""
	for _, d := range s.devices {
		if d.group != group && s.by == "door" {
			p.gap()
			p.title(groupTitle(d.group))
			place = ""
		}
		if d.place != place && s.by == "door" {
			p.gap()
			p.say(0, bold, "At "+d.place)
		}
		group, place = d.group, d.place
		p.gap()
		s.device(p, d)
	}
}

func groupTitle(door string) string {
	if door == shared {
		return "SHARED BY SEVERAL DOORS"
	}
	return "DOOR " + door
}

// device writes one device: its terminals in the order of the strip.
func (s landings) device(p *page, d landedDevice) {
	p.say(2, bold, deviceTitle(d.device, s.by == "device"))
	if d.device.Added != nil {
		p.say(4, plain, d.device.Added.Why)
	}
	t := table{head: []string{"terminal", "wire", "to", "for"}}
	for _, l := range d.landings {
		t.add(l.Terminal, l.wire(), l.To.String(), l.Reason.Purpose)
	}
	p.table(4, t)
	if s.reasons {
		for _, l := range d.landings {
			p.say(4, bold, l.Terminal+": "+l.wire())
			reason(p, 6, l.Reason)
		}
	}
	if s.alone && len(d.others) > 0 {
		p.say(4, dim, "taken by others: "+strings.Join(takenBy(d.others), ", "))
	}
	if len(d.empty) > 0 {
		p.say(4, dim, "empty: "+strings.Join(d.empty, ", "))
	}
}

// takenBy says of each landing of others which wire it is and whose.
func takenBy(others []landing) []string {
	var all []string
	for _, l := range others {
		whose := "door " + l.Door
		if l.Door == shared {
			whose = "shared"
		}
		all = append(all, l.Terminal+" ("+l.wire()+" to "+l.To.String()+", "+whose+")")
	}
	return all
}

// deviceTitle names a device by id and by what it is.
func deviceTitle(d *wiring.Device, place bool) string {
	title := d.ID + ": " + d.Title
	if d.Title != d.ModelID && d.Added == nil {
		title += " (" + d.ModelID + ")"
	}
	if place {
		title += ", at " + d.Place.ID
	}
	return title
}

func (l landing) wire() string {
	return conductor{Kind: l.Kind, Run: l.Run, Core: l.Core, Colour: l.Colour}.wire()
}

func (s landings) table() table {
	t := table{head: []string{
		"door", "place", "device", "terminal", "plug", "kind", "run", "core", "colour", "to_device",
		"to_terminal", "purpose", "why", "without", "basis",
	}}
	for _, l := range s.Landings {
		t.add(l.Door, l.Place, l.Device, l.Terminal, l.Plug, string(l.Kind), l.Run, coreText(l.Core), l.Colour, l.To.Device,
			l.To.Label, l.Reason.Purpose, l.Reason.Why, l.Reason.Without, l.Reason.Basis)
	}
	return t
}
