package draw

import (
	"fmt"
	"slices"
	"strings"

	"doorwright/job"
	"doorwright/wiring"
)

// block is a place of the site, or a door with all its places.
type block struct {
	id       string
	title    string
	lines    []string
	network  []string   // network connections of its controllers
	run      []*job.Run // from the block it hangs on
	words    []string   // of these runs
	children []*block
	entered  bool
}

// Measures of the block diagram.
const (
	blockWide MM = 68
	blockStep MM = 58 // from one level to the next
	blockType MM = 2.15
)

// Site draws the places of a job with the runs between them, level by level from the supplies, and the network
// connections.
func Site(p *wiring.Plan) *Sheet {
	title := fmt.Sprintf("Site of job %s: %s", p.Job.ID, p.Job.Title)
	roots := blocksOf(p)
	body := &pen{by: Point{margin, margin + headHigh}}
	y, levels := MM(0), 0
	var taps []tap
	for _, b := range roots {
		var depth int
		y, depth, taps = body.block(b, 0, y, taps)
		y += 4
		levels = max(levels, depth)
	}
	right := MM(levels-1)*blockStep + blockWide
	right, y = body.network(taps, right, y)
	head := &pen{by: Point{margin, margin}}
	titleLines(head, title, p.Job, right)
	const note = "On each line: the run, its cable, its length, how many of its cores are used. In a door: the runs from its box to the " +
		"frame and to both sides."
	y = body.lines(Text{At: Point{0, y + 2}, Size: blockType, Ink: Grey}, wrap(note, right, blockType, false))
	return &Sheet{
		Title: title, Width: right + 2*margin, Height: margin + headHigh + y + margin,
		Items: append(head.items, body.items...),
	}
}

// blockOf is the id of the block that a place is in.
func blockOf(p *job.Place) string {
	if p.Door != "" {
		return p.Door
	}
	return p.ID
}

// blocksOf makes the trees of blocks: places with supplies first, then what no run reaches from them.
func blocksOf(p *wiring.Plan) []*block {
	var all []*block
	byID := map[string]*block{}
	for _, place := range p.Job.Places {
		id := blockOf(place)
		if byID[id] != nil {
			continue
		}
		b := &block{id: id, title: place.Title}
		if place.Building != "main" {
			b.title += ", building " + place.Building
		}
		all, byID[id] = append(all, b), b
	}
	for _, d := range p.Job.Doors {
		byID[d.ID].title = d.ID + ": " + d.Title
		byID[d.ID].lines = append(byID[d.ID].lines, doorWords(d)...)
	}
	equip(p, byID)
	var roots []*block
	enter := func(b *block) {
		if !b.entered {
			roots = append(roots, b)
			grow(p, b, byID)
		}
	}
	for _, s := range p.Job.Supplies {
		enter(byID[blockOf(s.Place)])
	}
	for _, b := range all {
		enter(b)
	}
	return roots
}

// doorWords say what is fitted to a door.
func doorWords(d *job.Door) []string {
	count := map[job.Role]int{}
	var order []job.Role
	for _, f := range d.Fitted() {
		if count[f.Role] == 0 {
			order = append(order, f.Role)
		}
		count[f.Role]++
	}
	var parts []string
	for _, r := range order {
		part := string(r)
		if count[r] > 1 {
			part = fmt.Sprintf("%d x %s", count[r], r)
		}
		parts = append(parts, part)
	}
	if len(parts) == 0 {
		return []string{"nothing fitted"}
	}
	return []string{strings.Join(parts, ", ")}
}

// equip writes supplies, controllers and inner runs into the blocks.
func equip(p *wiring.Plan, byID map[string]*block) {
	for _, s := range p.Job.Supplies {
		b := byID[blockOf(s.Place)]
		b.lines = append(b.lines, fmt.Sprintf("%s: %s", s.ID, s.Model.Title))
	}
	for _, c := range p.Job.Controllers {
		b := byID[blockOf(c.Place)]
		b.lines = append(b.lines, fmt.Sprintf("%s: %s", c.ID, c.Model.Title))
		if n := c.Network; n != (job.NetworkDoc{}) {
			b.network = append(b.network, strings.TrimSpace(strings.Join([]string{c.ID, n.Address, n.Switch}, " ")))
		}
	}
	for _, d := range p.Job.Doors {
		if in := innerRuns(p, d); len(in) > 0 {
			byID[d.ID].lines = append(byID[d.ID].lines, "runs inside: "+strings.Join(in, "; "))
		}
	}
}

// innerRuns are the cables between the places of a door, by the place they go to: "head 4x0.75 and 8x0.22".
func innerRuns(p *wiring.Plan, d *job.Door) []string {
	var ends []string
	types := map[string][]string{}
	for _, r := range p.Job.Runs {
		if r.From.Door != d.ID || r.To.Door != d.ID {
			continue
		}
		end := endOf(r.To)
		if !slices.Contains(ends, end) {
			ends = append(ends, end)
		}
		types[end] = append(types[end], r.TypeID)
	}
	for i, end := range ends {
		ends[i] = end + " " + strings.Join(types[end], " and ")
	}
	return ends
}

// endOf is the end of a place's id that says where at the door it is.
func endOf(p *job.Place) string { return p.ID[strings.LastIndexByte(p.ID, '.')+1:] }

// grow hangs on a block what runs reach from it. A run to what hangs somewhere already is written into the block.
func grow(p *wiring.Plan, from *block, byID map[string]*block) {
	from.entered = true
	queue := []*block{from}
	for len(queue) > 0 {
		b := queue[0]
		queue = queue[1:]
		for _, r := range p.Job.Runs {
			to := byID[blockOf(r.To)]
			if to == b {
				to = byID[blockOf(r.From)]
			} else if byID[blockOf(r.From)] != b {
				continue
			}
			switch {
			case to == b:
			case !to.entered:
				to.entered, to.run = true, []*job.Run{r}
				b.children, queue = append(b.children, to), append(queue, to)
			case slices.Contains(b.children, to):
				to.run = append(to.run, r)
			case !slices.Contains(b.run, r):
				b.lines = append(b.lines, fmt.Sprintf("also %s to %s", runLine(r), to.id))
			}
		}
	}
	from.count(p)
}

// count puts the words of the runs on their lines, with how many cores the plan uses.
func (b *block) count(p *wiring.Plan) {
	used := map[*job.Run]int{}
	for _, c := range p.Conductors {
		if c.Kind == wiring.Core {
			used[c.Run]++
		}
	}
	b.label(used)
}

// label does so for all that hangs on a block.
func (b *block) label(used map[*job.Run]int) {
	for _, c := range b.children {
		c.label(used)
		for _, r := range c.run {
			length := r.Designed
			if r.Pulled > 0 {
				length = r.Pulled
			}
			c.words = append(c.words, fmt.Sprintf("%s: %s, %v, %d of %d used", r.ID, r.TypeID, length, used[r], len(r.Type.Cores())))
		}
	}
}

// tap is a network connection of a block.
type tap struct {
	text string
	at   Point // on the right edge of the block
}

// block draws a block and what hangs on it, and returns how far down and how many levels they reach.
func (p *pen) block(b *block, level int, y MM, taps []tap) (MM, int, []tap) {
	x := MM(level) * blockStep
	const line = blockType * lineHigh
	names := wrap(b.title, blockWide-4, titleSize, true)
	var lines []string
	for _, l := range b.lines {
		lines = append(lines, wrap(l, blockWide-4, blockType, false)...)
	}
	high := MM(len(names))*titleSize*lineHigh + MM(len(lines))*line + 2.4
	high = max(high, MM(len(b.network))*4+1, MM(len(b.words))*line+3)
	p.rect(b.id, medium, Paper, Point{x, y}, blockWide, high, 0.8)
	next := p.lines(Text{Of: Of(b.id), At: Point{x + 2, y + 3}, Size: titleSize, Bold: true}, names)
	p.lines(Text{Of: Of(b.id), At: Point{x + 2, next}, Size: blockType}, lines)
	for i, n := range b.network {
		taps = append(taps, tap{n, Point{x + blockWide, y + 3 + 4*MM(i)}})
	}
	bottom, deepest, trunk := y+high, level+1, y+high
	for _, c := range b.children {
		at := bottom + 4
		var depth int
		bottom, depth, taps = p.block(c, level+1, at, taps)
		deepest = max(deepest, depth)
		from := Point{x + 5, at + 3}
		p.line(c.run[0].ID, medium, from, Point{x + blockStep, at + 3})
		p.line(c.run[0].ID, medium, Point{x + 5, trunk}, from)
		trunk = at + 3
		for i, w := range c.words {
			p.text(Text{
				Of: Of(c.run[i].ID), At: Point{x + 6.5, at + 2.3 + MM(i)*(line+0.6)}, Size: blockType,
				Text: fit(w, blockStep-8, blockType, false),
			})
		}
	}
	return bottom, deepest, taps
}

// network draws the network connections to one line at the right, and returns the right and the lower edge.
func (p *pen) network(taps []tap, right, bottom MM) (MM, MM) {
	if len(taps) == 0 {
		return right, bottom
	}
	wide := MM(0)
	for _, t := range taps {
		wide = max(wide, Measure(t.text, blockType, false))
	}
	x := right + wide + 6
	s := Stroke{Width: 0.35, Ink: Black, Dash: DashDots}
	for _, t := range taps {
		p.line("", s, t.at, Point{x, t.at.Y})
		p.text(Text{At: Point{x - 1.5, t.at.Y - 0.8}, Size: blockType, Anchor: Right, Text: t.text})
	}
	p.line("", s, Point{x, -3}, Point{x, taps[len(taps)-1].at.Y})
	p.text(Text{At: Point{x, -4}, Size: titleSize, Bold: true, Anchor: Right, Text: "Network"})
	return x, bottom
}
