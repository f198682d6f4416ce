// Package site writes job documents of any number of doors, for tests and benchmarks.
//
// The doors go through the arrangements of the trade in turn, twenty to a supply, one supply of 12 V and one of 24 V by
// turns. The same number of doors gives the same bytes.
package site

import (
	"bytes"
	"cmp"
	"fmt"
	"strings"
)

// DoorsPerSupply is how many doors hang on one supply, if not told otherwise.
const DoorsPerSupply = 20

// Generate writes the job document of a site with so many doors, which proves without an error. Doors are named D1, D2
// ..., in the order of the document, supplies PS1, PS2 ...; the run W1 feeds D1, and so on.
func Generate(doors int) []byte { return Of(Doors(doors)...) }

// OnOneSupply writes the job document of a site with so many doors, twenty or more, on one supply of 12 V, which is made
// for them. In the nominal case it proves without an error.
func OnOneSupply(doors int) []byte {
	all := Doors(doors)
	for i := range all {
		all[i].together = doors
	}
	return Of(all...)
}

// Door is one door to be written.
type Door struct {
	Number   int  // from 1; names the door and gives it its arrangement and lengths
	Mirror   bool // hinges on the other side
	together int  // how many doors hang on its supply; 0 for as many as usual
}

// Doors are the doors 1 to n.
func Doors(n int) []Door {
	all := make([]Door, n)
	for i := range all {
		all[i].Number = i + 1
	}
	return all
}

// Of writes the job document of a site of these doors alone, in this order. A second door comes with the door before it.
func Of(doors ...Door) []byte {
	var b bytes.Buffer
	together := DoorsPerSupply
	if len(doors) > 0 {
		together = doors[0].perSupply()
	}
	sized := figures(together)
	b.WriteString(sized.Replace(heading))
	if together > DoorsPerSupply {
		b.WriteString(sized.Replace(largeBattery))
	}
	b.WriteString("\nplaces:\n")
	supplies := suppliesOf(doors)
	for _, s := range supplies {
		fmt.Fprintf(&b, "  riser%d: {title: Riser %d}\n", s, s)
	}
	b.WriteString("\nsupplies:\n")
	for _, s := range supplies {
		b.WriteString(sized.Replace(strings.ReplaceAll(supplyText[s%2], "{n}", fmt.Sprint(s))))
	}
	b.WriteString("\ncontrollers:\n")
	firsts := firstsOf(doors)
	for _, d := range firsts {
		d.controller(&b)
	}
	b.WriteString("\ndoors:\n")
	for _, d := range doors {
		d.write(&b)
	}
	b.WriteString("\nruns:\n")
	for _, d := range firsts {
		d.feed(&b)
	}
	for _, d := range doors {
		d.runs(&b)
	}
	return b.Bytes()
}

// suppliesOf are the numbers of the supplies the doors hang on, each once, in the order they are met.
func suppliesOf(doors []Door) []int {
	var all []int
	seen := map[int]bool{}
	for _, d := range doors {
		if s := d.supply(); !seen[s] {
			seen[s] = true
			all = append(all, s)
		}
	}
	return all
}

// firstsOf are the doors in whose boxes the controllers of the doors are, each once, in the order they are met.
func firstsOf(doors []Door) []Door {
	var all []Door
	seen := map[int]bool{}
	for _, d := range doors {
		if n, _ := d.first(); !seen[n] {
			seen[n] = true
			all = append(all, Door{Number: n, together: d.together})
		}
	}
	return all
}

// ID is the name of the door.
func (d Door) ID() string { return fmt.Sprintf("D%d", d.Number) }

func (d Door) perSupply() int { return cmp.Or(d.together, DoorsPerSupply) }

// supply is the number of the door's supply.
func (d Door) supply() int { return (d.Number-1)/d.perSupply() + 1 }

// turn is the place of the door among those of its supply, from 0.
func (d Door) turn() int { return (d.Number - 1) % d.perSupply() }

// arrangement is how the door is fitted.
func (d Door) arrangement() arrangement {
	list := arrangements[d.supply()%2]
	return list[d.turn()%len(list)]
}

// first is the number of the first door on the door's controller, and whether there may be two.
func (d Door) first() (number int, two bool) {
	before := Door{Number: d.Number - 1, together: d.together}
	switch {
	case d.arrangement().shares:
		return d.Number, true
	case d.turn() > 0 && before.arrangement().shares:
		return d.Number - 1, true
	}
	return d.Number, false
}

// Second says that the door is the second of a controller for two, which is in the box of the door before it.
func (d Door) Second() bool {
	first, _ := d.first()
	return first != d.Number
}

// channel is the door's controller, and which of its doors it is.
func (d Door) channel() string {
	first, two := d.first()
	if !two {
		return fmt.Sprintf("C%d", first)
	}
	return fmt.Sprintf("C%d/%d", first, 1+d.Number-first)
}

// controller writes the door's controller, which is in the door's box.
func (d Door) controller(b *bytes.Buffer) {
	model := "controller-1-"
	if _, two := d.first(); two {
		model = "controller-2-"
	}
	fmt.Fprintf(b, "  C%d: {model: %s%s, place: %s.box, feed: PS%d}\n", d.Number, model, d.arrangement().volts, d.ID(), d.supply())
}

// write writes the door. Its lengths go through 5 m to 11 m, so that no two neighbours are alike.
func (d Door) write(b *bytes.Buffer) {
	a := d.arrangement()
	handing := []string{"left", "right"}
	if d.Mirror {
		handing = []string{"right", "left"}
	}
	fmt.Fprintf(b, "  %s:\n    title: %s %d\n    controller: %s\n    cable-length: %d m\n", d.ID(), a.title, d.Number, d.channel(), 5+d.Number%7)
	fmt.Fprintf(b, "    opening: {width: 900 mm, height: 2100 mm, handing: %s, swing: out}\n", handing[d.Number%2])
	for line := range strings.Lines(a.fitted) {
		b.WriteString("    " + strings.ReplaceAll(line, "{board}", d.boardOutput()))
	}
}

// boardOutput is the board output that feeds the door's lock, where the arrangement wants one: two doors to an output.
func (d Door) boardOutput() string { return fmt.Sprintf("PS%d/%d", d.supply(), 1+d.turn()/5) }

// feed writes the run that feeds the door's controller and its locks, 8 m to 22 m long.
func (d Door) feed(b *bytes.Buffer) {
	fmt.Fprintf(b, "  W%d: {from: riser%d, to: %s.box, cable: %s, length: %d m}\n",
		d.Number, d.supply(), d.ID(), d.arrangement().feed, 8+d.Number*4%15)
}

// runs writes the runs within the door that its arrangement needs beside the usual ones.
func (d Door) runs(b *bytes.Buffer) {
	for i, r := range d.arrangement().runs {
		fmt.Fprintf(b, "  W%d.%d: {from: %s.box, to: %s.%s}\n", d.Number, i+1, d.ID(), d.ID(), r)
	}
}
