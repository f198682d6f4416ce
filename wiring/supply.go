package wiring

import (
	"fmt"

	"doorwright/device"
	"doorwright/job"
)

func ends(d *Device, port string) pair {
	return pair{pinOf(d, port, "plus"), pinOf(d, port, "minus")}
}

// supply wires a supply: battery, board, the board's fire and reset inputs, 0 V to earth.
func (p *planner) supply(s *job.Supply) {
	ps := p.of(&s.Fitted)
	if s.Battery != nil {
		p.battery(ps, p.of(s.Battery))
	}
	if s.Board != nil {
		p.board(s, ps, p.of(s.Board))
	}
	p.zeroToEarth(s, ps)
}

func (p *planner) battery(ps, battery *Device) {
	at, ok := p.port(ps, device.Battery, "", 0, "", "battery terminals")
	from, ok2 := p.port(battery, device.Battery, "", 0, "", "battery terminals")
	if ok && ok2 {
		p.joinPair(ends(battery, from), ends(ps, at), whyBattery)
	}
}

func (p *planner) board(s *job.Supply, ps, board *Device) {
	out, ok := p.port(ps, device.Source, "", 0, "", "output")
	in, ok2 := p.port(board, device.Load, "", 0, "", "supply input")
	if ok && ok2 {
		p.joinPair(ends(ps, out), ends(board, in), whyBoardFeed)
	}
	if s.Fire != nil {
		p.boardInput(board, p.of(s.Fire), "fire", true, whyFireInput)
	}
	if s.Reset != nil {
		p.boardInput(board, p.of(s.Reset), "reset", false, whyReset)
	}
}

// boardInput brings a contact to an input of a board: the fire signal, closed while all is well, or the reset key.
func (p *planner) boardInput(board, from *Device, use string, closed bool, why Reason) {
	in, ok := p.port(board, device.Input, use, 0, "", use+" input")
	if !ok {
		return
	}
	if c, ok := p.contact(from, use, closed); ok {
		sideBySide(
			p.join(pinOf(board, in, "in"), c.a, Signal, why),
			p.join(pinOf(board, in, "common"), c.b, Signal, why))
	}
}

// zeroToEarth ties 0 V to earth at the supply, where the job says so, or where it does not say and both are tried.
func (p *planner) zeroToEarth(s *job.Supply, ps *Device) {
	if s.ZeroStated && !s.Earthed {
		return
	}
	out, ok := ps.Model.FindPort(device.Source, "", 0, "")
	earths := ps.Model.PortsOf(device.Earth)
	if !ok || len(earths) == 0 {
		if s.Earthed {
			p.problem(ps.ID, named(ps)+" has no earth terminal to tie its 0 V to",
				"fit a model that has one, or say that its 0 V floats")
		}
		return
	}
	why := whyZeroEarth
	if !s.ZeroStated {
		why = whyZeroGranted
	}
	p.join(ends(ps, out).minus, pinOf(ps, earths[0], "earth"), Power, why).unsure = !s.ZeroStated
}

// feedEnds are the terminals a feed comes from. The controller is that of the door being planned.
func (p *planner) feedEnds(f job.Feed, controller *Device, channel int) (pair, bool) {
	switch {
	case f.Controller:
		port, ok := p.port(controller, device.Output, "lock", channel, "", "lock-power output")
		return ends(controller, port), ok
	case f.Output > 0 && f.Supply.Board != nil:
		board := p.of(f.Supply.Board)
		outputs := board.Model.PortsOf(device.Output)
		if f.Output > len(outputs) {
			p.problem(board.ID, fmt.Sprintf("%s has no output %d", named(board), f.Output),
				fmt.Sprintf("use one of its outputs 1 to %d, or fit a board with more", len(outputs)))
			return pair{}, false
		}
		return ends(board, outputs[f.Output-1]), true
	}
	ps := p.of(&f.Supply.Fitted)
	port, ok := p.port(ps, device.Source, "", 0, "", "output")
	return ends(ps, port), ok
}

// controllerFeed brings the supply to a controller.
func (p *planner) controllerFeed(c *job.Controller) {
	d := p.of(&c.Fitted)
	from, ok := p.feedEnds(c.Feed, d, 0)
	if !ok {
		return
	}
	if in, ok := p.port(d, device.Load, "", 0, "", "supply input"); ok {
		plus, minus := p.joinPair(from, ends(d, in), whyControllerFeed)
		plus.feeds = d
		plus.door, minus.door = d.Door, d.Door
	}
}
