package tryout

import (
	"fmt"
	"strings"

	"doorwright/circuit"
	"doorwright/device"
	"doorwright/fault"
	"doorwright/situation"
	"doorwright/wiring"
)

// Feed says how a lock gets its power, or what keeps it away.
type Feed struct {
	Supply string   // id of what it comes from; empty when no way leads to one
	Path   []string // conductors from the positive of the supply to the lock and back to its 0 V, by id
	Breaks []Break  // what is open on the way with the fewest breaks
}

// Break is one place where the way of the power is open.
type Break struct {
	Where string // "contact of staff.release1 C1/NC1"
	Why   string // "staff.release1 stands operated"
}

// hop is one step of a way: over a conductor, or through a part of a unit.
type hop struct {
	to   string
	wire *wiring.Conductor
	open *Break
	end  string // id of the source, at its terminal
}

// feedOf finds the way with the fewest breaks from a lock to the two poles of a supply.
func (v *viewer) feedOf(lock string) Feed {
	u := v.island.Unit(lock)
	if u == nil {
		return Feed{}
	}
	graph := v.hops()
	var f Feed
	for _, name := range u.Device.Model.PortsOf(device.LockCoil) {
		for _, pole := range []string{"plus", "minus"} {
			from := lock + "." + device.PinOf(name, pole)
			way := fewest(graph, from, pole)
			if way == nil {
				f.Breaks = append(f.Breaks, Break{from, "no wire leads from here to a supply"})
				continue
			}
			for _, h := range way {
				if h.wire != nil {
					f.Path = append(f.Path, h.wire.ID)
				}
				if h.open != nil {
					f.Breaks = append(f.Breaks, *h.open)
				}
				if h.end != "" && pole == "plus" {
					f.Supply = h.end
				}
			}
		}
		break
	}
	return f
}

// hops are all steps of the island that power can take: conductors and the parts that pass it on.
func (v *viewer) hops() map[string][]hop {
	graph := map[string][]hop{}
	add := func(a, b string, h hop) {
		h.to = b
		graph[a] = append(graph[a], h)
		h.to = a
		graph[b] = append(graph[b], h)
	}
	for _, c := range v.island.Conductors {
		if c.B.Device == nil {
			continue
		}
		h := hop{wire: c}
		if v.isCut(c) {
			h.open = &Break{c.ID, fmt.Sprintf("%s from %v to %v is cut", c.ID, c.A, c.B)}
		}
		add(c.A.String(), c.B.String(), h)
	}
	for _, u := range v.island.Units {
		for _, p := range u.Device.Model.Parts(v.bench.Settings(u)) {
			a, b := u.Device.ID+"."+p.A, u.Device.ID+"."+p.B
			switch p.Is {
			case device.PartContact:
				add(a, b, hop{open: v.opened(u, p)})
			case device.PartResistor, device.PartLimiter:
				if p.B != device.Ground && passes(u, p) {
					add(a, b, hop{})
				}
			case device.PartLimited, device.PartSource:
				graph[a] = append(graph[a], hop{to: "+", end: u.Device.ID})
				graph[b] = append(graph[b], hop{to: "-", end: u.Device.ID})
			}
		}
	}
	return graph
}

// passes says that a resistor is one that power goes through: a bar, a through way, a fuse, an output.
func passes(u *situation.Unit, p device.Part) bool {
	name, _ := device.SplitPin(p.Name)
	port := u.Device.Model.Port(name)
	if port == nil {
		return false
	}
	switch port.Is {
	case device.Bar, device.Through, device.Fuse, device.Output:
		return true
	}
	return false
}

func (v *viewer) isCut(c *wiring.Conductor) bool {
	if v.wrong == nil {
		return false
	}
	for _, e := range v.wrong.Edits {
		if e.Op == fault.Resist && e.Conductor == c && e.Ohms >= circuit.OpenOhms {
			return true
		}
	}
	return false
}

// opened tells why a contact is open; nil when it is closed.
func (v *viewer) opened(u *situation.Unit, p device.Part) *Break {
	port, _ := device.SplitPin(p.Name)
	where := "contact " + label(u, port)
	if v.wrong != nil {
		for _, e := range v.wrong.Edits {
			if e.Op == fault.Gate && e.Device.ID == u.Device.ID && e.Part == p.Name {
				if e.On {
					return nil
				}
				return &Break{where, "it stays open whatever happens"}
			}
		}
	}
	var why []string
	for _, c := range p.When {
		if v.bench.Signal(u, c.Signal) != c.Is {
			why = append(why, fmt.Sprintf("%s: %s is %s", u.Device.ID, c.Signal, either(c.Is, "off", "on")))
		}
	}
	if len(why) == 0 {
		return nil
	}
	return &Break{where, strings.Join(why, ", ")}
}

// fewest finds a way from a node to a pole with the fewest breaks, and among those the shortest; nil when there is none.
func fewest(graph map[string][]hop, from, pole string) []hop {
	goal := map[string]string{"plus": "+", "minus": "-"}[pole]
	type reached struct {
		cost int
		from string
		by   hop
	}
	const breakCost = 1000 // more than any way is long
	best := map[string]reached{from: {}}
	queue := []string{from}
	for len(queue) > 0 {
		node := queue[0]
		queue = queue[1:]
		for _, h := range graph[node] {
			cost := best[node].cost + 1
			if h.open != nil {
				cost += breakCost
			}
			if b, ok := best[h.to]; !ok || cost < b.cost {
				best[h.to] = reached{cost, node, h}
				if h.to != "+" && h.to != "-" {
					queue = append(queue, h.to)
				}
			}
		}
	}
	if _, ok := best[goal]; !ok {
		return nil
	}
	var way []hop
	for node := goal; node != from; node = best[node].from {
		way = append(way, best[node].by)
	}
	return way
}
