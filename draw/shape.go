package draw

// Shapes of kinds of units, for somebody who chooses one: what it looks like on a door or in a box, in a few lines. They
// are our own and stand for no particular unit. Each lies between -15 and 15 across and 0 and 14 down.

// shapeHigh is the height that a shape takes up.
const shapeHigh MM = 14

// shapeOf draws the shape of a kind; nil for a kind that has none.
func shapeOf(kind string) func(p *pen) {
	switch kind {
	case "controller":
		return controllerShape
	case "pulse-reader":
		return func(p *pen) {
			readerShape(p)
			p.line("", thin, Point{-8, 10}, Point{-7, 10}, Point{-7, 8}, Point{-6, 8}, Point{-6, 10}, Point{-4, 10}, Point{-4, 8}, Point{-3, 8}, Point{-3, 10}, Point{-2, 10})
		}
	case "serial-reader":
		return func(p *pen) {
			readerShape(p)
			p.line("", thin, Point{-8, 8.5}, Point{-2, 8.5}, Point{-3, 7.7})
			p.line("", thin, Point{-2, 10}, Point{-8, 10}, Point{-7, 10.8})
		}
	case "bus-reader":
		return func(p *pen) {
			readerShape(p)
			for _, y := range []MM{8.5, 10} {
				p.line("", thin, Point{-8, y}, Point{-2, y})
				p.circle("", thin, Black, Point{-8 + (y-8.5)*2 + 1.5, y}, 0.4)
			}
		}
	case "magnet":
		return magnetShape
	case "strike":
		return strikeShape
	case "bolt":
		return boltShape
	case "handle-lock":
		return handleLockShape
	case "exit-button":
		return func(p *pen) {
			p.rect("", medium, Paper, Point{-5.5, 1.5}, 11, 11, 1)
			p.circle("", medium, Paper, Point{0, 7}, 3.4)
			p.circle("", thin, Paper, Point{0, 7}, 2.2)
		}
	case "exit-sensor":
		return exitSensorShape
	case "release":
		return releaseShape
	case "key-switch":
		return func(p *pen) {
			p.circle("", medium, Paper, Point{0, 7}, 5.6)
			p.circle("", thin, Paper, Point{0, 7}, 3)
			p.rect("", thin, Black, Point{-0.4, 5}, 0.8, 4, 0)
		}
	case "door-contact":
		return doorContactShape
	case "sounder":
		return sounderShape
	}
	return partShape(kind)
}

// partShape is the shape of what stands in a box or a cupboard.
func partShape(kind string) func(p *pen) {
	switch kind {
	case "relay":
		return relayShape
	case "fire-interface":
		return fireShape
	case "supply":
		return supplyShape
	case "battery":
		return batteryShape
	case "board":
		return boardShape
	case "junction":
		return junctionShape
	case "door-loop":
		return doorLoopShape
	case "fuse", "resistor":
		return func(p *pen) {
			p.line("", medium, Point{-10, 7}, Point{-4, 7})
			p.line("", medium, Point{4, 7}, Point{10, 7})
			p.rect("", medium, Paper, Point{-4, 5}, 8, 4, 0)
			if kind == "fuse" {
				p.line("", thin, Point{-4, 7}, Point{4, 7})
			}
		}
	case "diode":
		return func(p *pen) {
			p.line("", medium, Point{-10, 7}, Point{10, 7})
			p.shape("", medium, Black, true, Point{-2, 4.5}, Point{-2, 9.5}, Point{2, 7})
			p.line("", medium, Point{2, 4.5}, Point{2, 9.5})
		}
	case "clamp":
		return func(p *pen) {
			p.line("", medium, Point{-10, 7}, Point{10, 7})
			p.shape("", medium, Black, true, Point{-3.5, 4.5}, Point{-3.5, 9.5}, Point{0, 7})
			p.shape("", medium, Black, true, Point{3.5, 4.5}, Point{3.5, 9.5}, Point{0, 7})
			p.line("", medium, Point{-1, 4}, Point{0, 4.8}, Point{0, 9.2}, Point{1, 10})
		}
	}
	return nil
}

// controllerShape is a board in a case: a chip with its legs, terminals above and below.
func controllerShape(p *pen) {
	p.rect("", medium, Paper, Point{-11, 1}, 22, 12, 0.8)
	p.rect("", thin, Shade, Point{-3.5, 5}, 7, 4, 0)
	for i := range 4 {
		x := -2.6 + 1.75*MM(i)
		p.line("", thin, Point{x, 5}, Point{x, 4.2})
		p.line("", thin, Point{x, 9}, Point{x, 9.8})
	}
	for i := range 9 {
		x := -9.2 + 2.3*MM(i)
		p.circle("", thin, Paper, Point{x, 2.5}, 0.5)
		p.circle("", thin, Paper, Point{x, 11.5}, 0.5)
	}
}

// readerShape is a plate on the wall with waves before it.
func readerShape(p *pen) {
	p.rect("", medium, Paper, Point{-9, 0.8}, 8, 12.4, 1.2)
	p.circle("", thin, Paper, Point{-5, 3.6}, 0.7)
	for _, r := range []MM{2.2, 4.2, 6.2} {
		p.arc("", thin, Point{0.5, 7}, r, -40, 80)
	}
}

// magnetShape is the magnet under the head of the frame, with its plate on the leaf below.
func magnetShape(p *pen) {
	p.line("", hair, Point{-14, 1}, Point{14, 1})
	p.rect("", medium, Shade, Point{-13, 1}, 26, 5.5, 0.5)
	p.rect("", medium, Paper, Point{-11.5, 9}, 23, 2.2, 0.3)
	for _, x := range []MM{-8, -4, 0, 4, 8} {
		p.line("", Stroke{Width: 0.25, Ink: Black, Dash: Dashed}, Point{x, 6.5}, Point{x, 9})
	}
	p.rect("", hair, NoInk, Point{-14, 11.2}, 28, 2.6, 0)
}

// strikeShape is the plate in the frame with its keeper, and the latch that comes into it.
func strikeShape(p *pen) {
	p.rect("", medium, Paper, Point{-7, 0.8}, 5, 12.4, 0.6)
	p.circle("", thin, Paper, Point{-4.5, 2.4}, 0.6)
	p.circle("", thin, Paper, Point{-4.5, 11.6}, 0.6)
	p.rect("", thin, Shade, Point{-5.6, 4.4}, 3.6, 5.2, 0)
	p.shape("", medium, Paper, true, Point{8, 5.4}, Point{-1.6, 5.4}, Point{-4.4, 8.6}, Point{8, 8.6})
	p.line("", medium, Point{8, 1}, Point{8, 13})
}

// boltShape is a body with its bolt thrown into a plate.
func boltShape(p *pen) {
	p.rect("", medium, Shade, Point{-13, 3.5}, 14, 7, 0.6)
	p.rect("", medium, Paper, Point{1, 5.4}, 9, 3.2, 0.3)
	p.line("", medium, Point{7, 0.8}, Point{7, 5})
	p.line("", medium, Point{7, 9}, Point{7, 13.2})
	p.circle("", thin, Paper, Point{-11, 5}, 0.5)
	p.circle("", thin, Paper, Point{-11, 9}, 0.5)
}

// handleLockShape is a lock case with its latch, a lever and a cylinder.
func handleLockShape(p *pen) {
	p.rect("", medium, Paper, Point{-8, 0.6}, 8, 12.8, 0.6)
	p.shape("", medium, Paper, true, Point{-8, 4}, Point{-11, 4}, Point{-12, 6.4}, Point{-8, 6.4})
	p.circle("", medium, Shade, Point{-4, 5.2}, 1.7)
	p.rect("", medium, Paper, Point{-4, 4.4}, 14, 1.7, 0.8)
	p.circle("", thin, Paper, Point{-4, 10.4}, 1.3)
	p.rect("", thin, Black, Point{-4.2, 10}, 0.4, 1.6, 0)
}

// exitSensorShape is a head above the door with the field that it sees.
func exitSensorShape(p *pen) {
	p.rect("", medium, Paper, Point{-6, 0.6}, 12, 3.6, 1)
	p.arc("", medium, Point{0, 4.2}, 1.8, 0, 180)
	dashed := Stroke{Width: 0.25, Ink: Black, Dash: Dashed}
	p.line("", dashed, Point{-2.6, 5.4}, Point{-10, 13.4})
	p.line("", dashed, Point{2.6, 5.4}, Point{10, 13.4})
	p.arc("", thin, Point{0, 3.4}, 6, 50, 80)
	p.arc("", thin, Point{0, 3.4}, 9, 50, 80)
}

// releaseShape is a square unit whose pane is broken or pressed in.
func releaseShape(p *pen) {
	p.rect("", medium, Paper, Point{-6.5, 0.5}, 13, 13, 1)
	p.rect("", thin, Shade, Point{-4.6, 3}, 9.2, 8, 0.4)
	p.circle("", medium, Paper, Point{0, 7}, 1.7)
	p.line("", thin, Point{-4.6, 5.4}, Point{-3, 6.2}, Point{-2.6, 5.2}, Point{-1.6, 6.4})
	p.line("", thin, Point{4.6, 8.8}, Point{3, 8}, Point{2.6, 9}, Point{1.6, 7.6})
}

// doorContactShape is the switch in the frame and its magnet in the leaf.
func doorContactShape(p *pen) {
	p.rect("", medium, Paper, Point{-12, 4.5}, 11, 5, 0.6)
	p.line("", thin, Point{-12, 7}, Point{-8.5, 7})
	p.line("", medium, Point{-8.5, 7}, Point{-4.6, 6.1})
	p.line("", thin, Point{-4.8, 7}, Point{-1, 7})
	p.rect("", medium, Shade, Point{3, 4.5}, 9, 5, 0.6)
	p.line("", thin, Point{7.5, 4.5}, Point{7.5, 9.5})
	p.line("", hair, Point{1, 1}, Point{1, 13})
}

func sounderShape(p *pen) {
	p.shape("", medium, Paper, true, Point{-9, 5}, Point{-5.5, 5}, Point{-0.5, 1}, Point{-0.5, 13}, Point{-5.5, 9}, Point{-9, 9})
	for _, r := range []MM{3, 5.5, 8} {
		p.arc("", thin, Point{-0.5, 7}, r, -40, 80)
	}
}

// relayShape is a coil that moves a blade.
func relayShape(p *pen) {
	p.rect("", medium, Paper, Point{-11, 1}, 22, 12, 0.8)
	p.rect("", medium, Shade, Point{-8, 4.5}, 5, 5, 0)
	p.line("", mechanical, Point{-3, 7}, Point{5.2, 7})
	p.line("", medium, Point{6, 10}, Point{4.4, 4.4})
	p.line("", thin, Point{6, 10}, Point{6, 12})
	p.circle("", thin, Paper, Point{3.6, 3.6}, 0.5)
	p.circle("", thin, Paper, Point{7.6, 3.6}, 0.5)
}

// fireShape is a unit that hands a fire signal on: a flame, and a contact that opens.
func fireShape(p *pen) {
	p.rect("", medium, Paper, Point{-11, 1}, 22, 12, 0.8)
	p.shape("", medium, Shade, true, Point{-5.4, 2.8}, Point{-3.4, 5.4}, Point{-3, 4.6}, Point{-1.8, 8}, Point{-3.4, 11}, Point{-7.4, 11}, Point{-8.8, 8}, Point{-7, 5.6})
	p.line("", thin, Point{1.5, 7}, Point{3.5, 7})
	p.line("", medium, Point{3.5, 7}, Point{7, 4.6})
	p.line("", thin, Point{7, 7}, Point{9, 7})
}

// supplyShape turns mains into direct current.
func supplyShape(p *pen) {
	p.rect("", medium, Paper, Point{-11, 1}, 22, 12, 0.8)
	p.line("", thin, Point{-11, 13}, Point{11, 1})
	p.arc("", medium, Point{-6.8, 4.6}, 1.2, 180, 180)
	p.arc("", medium, Point{-4.4, 4.6}, 1.2, 180, -180)
	p.line("", medium, Point{3, 9}, Point{8, 9})
	p.line("", Stroke{Width: 0.4, Ink: Black, Dash: Dotted}, Point{3, 10.6}, Point{8, 10.6})
}

func batteryShape(p *pen) {
	p.rect("", medium, Shade, Point{-9, 3}, 18, 10.4, 0.5)
	for _, x := range []MM{-6, 4} {
		p.rect("", medium, Paper, Point{x, 1.2}, 2.4, 1.8, 0)
	}
	p.line("", medium, Point{-6, 6.4}, Point{-3.4, 6.4})
	p.line("", medium, Point{-4.7, 5.1}, Point{-4.7, 7.7})
	p.line("", medium, Point{4, 6.4}, Point{6.6, 6.4})
}

// boardShape hands one feed on through a row of outputs.
func boardShape(p *pen) {
	p.rect("", medium, Paper, Point{-12, 0.8}, 24, 12.4, 0.8)
	p.rect("", thin, Shade, Point{-2, 2}, 4, 2.4, 0)
	p.line("", thin, Point{0, 4.4}, Point{0, 6})
	p.line("", medium, Point{-9, 6}, Point{9, 6})
	for i := range 5 {
		x := -9 + 4.5*MM(i)
		p.line("", thin, Point{x, 6}, Point{x, 8})
		p.rect("", thin, Paper, Point{x - 1, 8}, 2, 3, 0)
	}
}

func junctionShape(p *pen) {
	p.rect("", medium, Paper, Point{-10, 3}, 20, 8, 0.6)
	p.line("", medium, Point{-7.5, 7}, Point{7.5, 7})
	for i := range 4 {
		p.circle("", thin, Paper, Point{-7.5 + 5*MM(i), 7}, 1.2)
	}
}

// doorLoopShape is a hose from the frame to the leaf.
func doorLoopShape(p *pen) {
	p.rect("", medium, Shade, Point{-11.5, 1}, 3, 9, 0.3)
	p.rect("", medium, Shade, Point{8.5, 1}, 3, 9, 0.3)
	p.arc("", medium, Point{0, 4}, 9.2, 0, 180)
	p.arc("", medium, Point{0, 4}, 7.8, 0, 180)
	p.line("", medium, Point{-9.2, 3.2}, Point{-9.2, 4})
	p.line("", medium, Point{9.2, 3.2}, Point{9.2, 4})
}
