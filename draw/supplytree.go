package draw

import (
	"fmt"
	"slices"
	"strings"

	"doorwright/device"
	"doorwright/job"
	"doorwright/situation"
	"doorwright/unit"
	"doorwright/wiring"
)

// Instant is the moment that the figures of a drawing are of.
type Instant struct {
	Island *situation.Island
	Bench  *situation.Bench // settled
	Say    string           // "idle, case nominal"
}

// treeBranch is what hangs on one output of a supply for one controller.
type treeBranch struct {
	output     int // of the board; 0 is the supply itself
	controller *job.Controller
	runs       []*job.Run
	rows       []treeRow
	given      unit.Volt // at the supply
}

// treeRow is one consumer with its figures.
type treeRow struct {
	id     string
	title  string
	inner  bool // fed through the controller above it
	volts  unit.Volt
	amps   unit.Ampere
	window unit.Band[unit.Volt]
}

// Columns of the supply tree, from the left.
const (
	treeSource MM = 33 // boxes of mains, supply, board, battery
	treeBox    MM = 37 // where the branches begin
	treeRuns   MM = 49 // a branch with its runs
	treeRowsAt    = treeBox + treeRuns
	treeVolts     = treeRowsAt + 46 // right edges of figures
	treeAmps      = treeVolts + 15
	treeGauge     = treeAmps + 2.5
	treeWindow    = treeGauge + 14
	treeMargin    = treeWindow + 17.5
	treeWide      = treeMargin + 1
	treeStep   MM = 4
	treeType   MM = 2.15
)

// SupplyTree draws what hangs on a supply: mains, battery, outputs, runs, doors, with volts, amperes and margins at an
// instant. A sheet is no higher than high, 0 for one sheet of any height; there may be several.
func SupplyTree(p *wiring.Plan, s *job.Supply, at Instant, high MM) []*Sheet {
	branches := branchesOf(p, s, at)
	const head, foot MM = 24, 14
	var pages [][]treeBranch
	used := MM(0)
	for _, b := range branches {
		if len(pages) == 0 || high > 0 && used+b.high() > high-2*margin-head-foot {
			pages, used = append(pages, nil), 0
		}
		used += b.high()
		pages[len(pages)-1] = append(pages[len(pages)-1], b)
	}
	if len(pages) == 0 {
		pages = [][]treeBranch{nil}
	}
	var sheets []*Sheet
	for i, page := range pages {
		title := fmt.Sprintf("Supply tree of %s: %s", s.ID, s.Title)
		if len(pages) > 1 {
			title += fmt.Sprintf(" (sheet %d of %d)", i+1, len(pages))
		}
		sheets = append(sheets, treeSheet(p, s, at, title, page))
	}
	return sheets
}

func (b treeBranch) high() MM {
	return max(MM(len(b.rows))*treeStep, MM(2+len(b.runs))*treeType*lineHigh+2) + 4
}

// branchesOf gathers the consumers of a supply by output and controller.
func branchesOf(p *wiring.Plan, s *job.Supply, at Instant) []treeBranch {
	var all []treeBranch
	branch := func(f job.Feed, c *job.Controller) *treeBranch {
		i := slices.IndexFunc(all, func(b treeBranch) bool { return b.output == f.Output && b.controller == c })
		if i < 0 {
			i = len(all)
			all = append(all, treeBranch{output: f.Output, controller: c})
		}
		return &all[i]
	}
	for _, c := range p.Job.Controllers {
		if c.Feed.Supply == s {
			b := branch(c.Feed, c)
			b.add(at, &c.Fitted, false)
		}
	}
	for _, d := range p.Job.Doors {
		feeds := feedsOf(d)
		for _, f := range d.Fitted() {
			switch feed := feeds[f.ID]; {
			case feed.Supply == s:
				branch(feed, d.Controller).add(at, f, false)
			case feed.Supply == nil && d.Controller.Feed.Supply == s:
				branch(d.Controller.Feed, d.Controller).add(at, f, true)
			}
		}
	}
	all = slices.DeleteFunc(all, func(b treeBranch) bool { return len(b.rows) == 0 })
	slices.SortStableFunc(all, func(a, b treeBranch) int { return a.output - b.output })
	for i := range all {
		b := &all[i]
		slices.SortStableFunc(b.rows, func(r, o treeRow) int { return depth(r) - depth(o) })
		b.runs = runsOf(p, s, *b)
		_, b.given = giving(s, at)
	}
	return all
}

// depth is 1 for what is fed through the controller, 0 for what the supply feeds itself.
func depth(r treeRow) int {
	if r.inner {
		return 1
	}
	return 0
}

// feedsOf are the feeds that the devices of a door name, by id.
func feedsOf(d *job.Door) map[string]job.Feed {
	feeds := map[string]job.Feed{}
	for _, l := range d.Locks {
		feeds[l.ID] = l.Feed
	}
	for _, r := range []*job.Reader{d.Entry, d.ExitReader} {
		if r != nil && r.Feed != nil {
			feeds[r.ID] = *r.Feed
		}
	}
	for _, e := range d.Exits {
		if e.Feed != nil {
			feeds[e.ID] = *e.Feed
		}
	}
	return feeds
}

// add enters the ports of a device that take power.
func (b *treeBranch) add(at Instant, f *job.Fitted, inner bool) {
	u := at.Island.Unit(f.ID)
	if u == nil {
		return
	}
	for _, p := range at.Island.Probes(device.Load, device.Coil, device.LockCoil) {
		if p.Unit != u {
			continue
		}
		title := f.Title
		if title == "" {
			title = f.Model.Title
		}
		b.rows = append(b.rows, treeRow{f.ID, title, inner, at.Bench.Across(&p), at.Bench.Amps(&p), p.Port.Window})
	}
}

// runsOf lists the runs by which a branch leaves the supply.
func runsOf(p *wiring.Plan, s *job.Supply, b treeBranch) []*job.Run {
	var all []*job.Run
	feedsController := len(b.rows) > 0 && b.rows[0].id == b.controller.ID
	near := func(e wiring.End) bool {
		return e.Device != nil && (e.Device.ID == s.ID || strings.HasPrefix(e.Device.ID, s.ID+"."))
	}
	for _, c := range p.Conductors {
		if c.Run == nil || slices.Contains(all, c.Run) || !near(c.A) && !near(c.B) {
			continue
		}
		serves := c.Feeds != nil && c.Feeds.ID == b.controller.ID
		if !feedsController {
			serves = c.Feeds == nil && slices.ContainsFunc(b.rows, func(r treeRow) bool { return strings.HasPrefix(r.id, c.Door+".") })
		}
		if serves {
			all = append(all, c.Run)
		}
	}
	return all
}

// treeSheet draws one sheet.
func treeSheet(p *wiring.Plan, s *job.Supply, at Instant, title string, branches []treeBranch) *Sheet {
	pen := &pen{by: Point{margin, margin}}
	titleLines(pen, title, p.Job, treeWide)
	pen.text(Text{At: Point{0, 12.4}, Size: 2.4, Bold: true, Text: fit("Figures calculated for: "+at.Say, treeWide, 2.4, true)})
	pen.by.Y += headHigh + 10
	treeHeads(pen)
	y, trunk := MM(0), []MM{}
	for _, b := range branches {
		trunk = append(trunk, y+treeStep/2)
		pen.branch(s, at, b, y)
		y += b.high()
	}
	bottom, from := pen.source(s, at)
	bottom = max(y, bottom)
	if len(trunk) > 0 {
		pen.line(s.ID, medium, Point{treeSource, from}, Point{treeBox, from})
		pen.line(s.ID, medium, Point{treeBox, min(from, trunk[0])}, Point{treeBox, max(from, trunk[len(trunk)-1])})
	}
	const note = "All figures are calculated, none is measured. The bar is the range in which the data sheet lets the unit work, " +
		"the mark its voltage; the margin is the distance to the nearer end. A unit without voltage is off."
	pen.lines(Text{At: Point{0, bottom + 4}, Size: treeType, Ink: Grey}, wrap(note, treeWide, treeType, false))
	return &Sheet{Title: title, Width: treeWide + 2*margin, Height: pen.by.Y + bottom + 10 + margin, Items: pen.items}
}

// treeHeads names the columns of figures.
func treeHeads(p *pen) {
	for _, h := range []struct {
		x      MM
		anchor Anchor
		text   string
	}{
		{treeRowsAt + 2, Left, "consumer"},
		{treeVolts, Right, "volts, calc."},
		{treeAmps, Right, "amps, calc."},
		{treeGauge, Left, "its range"},
		{treeMargin, Right, "margin, calc."},
	} {
		p.text(Text{At: Point{h.x, -3}, Size: treeType, Anchor: h.anchor, Ink: Grey, Text: h.text})
	}
	p.line("", hair, Point{treeRowsAt, -2}, Point{treeWide, -2})
}

// source draws mains, the supply with its battery, and the board; it returns how far down they reach, and at what height
// the branches begin.
func (p *pen) source(s *job.Supply, at Instant) (bottom, from MM) {
	y := p.sourceBox("", 0, "Mains ~", "work for a licensed electrician")
	join := func(of string) {
		p.line(of, medium, Point{treeSource / 2, y}, Point{treeSource / 2, y + 4})
		y += 4
	}
	join(s.ID)
	top := y
	y = p.sourceBox(s.ID, y, s.ID, s.Model.Title, p.given(s, at))
	middle := (top + y) / 2
	from = middle
	if s.Board != nil {
		join(s.Board.ID)
		from = y
		y = p.sourceBox(s.Board.ID, y, s.Board.ID, s.Board.Model.Title)
		from = (from + y) / 2
	}
	if s.Battery != nil {
		y += 4
		end := p.sourceBox(s.Battery.ID, y, s.Battery.ID, s.Battery.Model.Title, fmt.Sprintf("works down to %v", s.WorksTo))
		p.line(s.Battery.ID, medium, Point{0, middle}, Point{-3, middle}, Point{-3, (y + end) / 2}, Point{0, (y + end) / 2})
		y = end
	}
	return y, from
}

// sourceBox draws one box of the column at a height, and returns its lower edge.
func (p *pen) sourceBox(of string, y MM, name string, words ...string) MM {
	const size = treeType
	room := MM(treeSource - 3)
	names := wrap(name, room, size, true)
	var lines []string
	for _, w := range words {
		lines = append(lines, wrap(w, room, size, false)...)
	}
	high := MM(len(names)+len(lines))*size*lineHigh + 2
	p.rect(of, medium, Paper, Point{0, y}, treeSource, high, 0.8)
	next := p.lines(Text{Of: Of(of), At: Point{1.5, y + 2.8}, Size: size, Bold: true}, names)
	p.lines(Text{Of: Of(of), At: Point{1.5, next}, Size: size}, lines)
	return y + high
}

// given says what a supply gives.
func (p *pen) given(s *job.Supply, at Instant) string {
	q, volts := giving(s, at)
	if q == nil {
		return ""
	}
	return fmt.Sprintf("gives %v at %v, calculated; limit %v", ampsText(at.Bench.Amps(q)), volts, q.Port.Limit)
}

// giving is the output of a supply and its voltage; nil when it has none.
func giving(s *job.Supply, at Instant) (*situation.Probe, unit.Volt) {
	u := at.Island.Unit(s.ID)
	for _, q := range at.Island.Probes(device.Source) {
		if q.Unit == u {
			return &q, at.Bench.Volts(u, device.PinOf(q.PortName, "plus"), device.PinOf(q.PortName, "minus"))
		}
	}
	return nil, 0
}

// branch draws one branch at a height.
func (p *pen) branch(s *job.Supply, at Instant, b treeBranch, y MM) {
	p.line(s.ID, medium, Point{treeBox, y + treeStep/2}, Point{treeRowsAt, y + treeStep/2})
	label := "from the supply"
	if b.output > 0 && s.Board != nil {
		label = fmt.Sprintf("output %d", b.output)
		if q := s.Board.Model.Port(fmt.Sprintf("out%d", b.output)); q != nil {
			label += fmt.Sprintf(", limit %v", q.Limit)
		}
	}
	p.text(Text{At: Point{treeBox + 2, y + 1.2}, Size: treeType, Text: label})
	base := y + treeStep/2 + 2.8
	for _, r := range b.runs {
		p.text(Text{Of: Of(r.ID), At: Point{treeBox + 2, base}, Size: treeType, Text: fit(runLine(r), treeRuns-3, treeType, false)})
		base += treeType * lineHigh
	}
	if len(b.runs) == 0 {
		p.text(Text{At: Point{treeBox + 2, base}, Size: treeType, Ink: Grey, Text: "in the same place"})
		base += treeType * lineHigh
	}
	if lost := b.given - b.rows[0].volts; !b.rows[0].off() {
		p.text(Text{At: Point{treeBox + 2, base}, Size: treeType, Text: fmt.Sprintf("%v lost on the way, calculated", max(0, lost))})
	}
	p.rect("", thin, NoInk, Point{treeRowsAt, y}, treeWide-treeRowsAt, MM(len(b.rows))*treeStep+0.6, 0.8)
	for i, r := range b.rows {
		p.treeRow(r, y+MM(i)*treeStep+0.3)
	}
}

// runLine is a run in a few words.
func runLine(r *job.Run) string {
	length := r.Designed
	if r.Pulled > 0 {
		length = r.Pulled
	}
	return fmt.Sprintf("%s: %s, %v to %s", r.ID, r.TypeID, length, r.To.ID)
}

// treeRow draws one consumer.
func (p *pen) treeRow(r treeRow, y MM) {
	base, x := y+2.6, MM(treeRowsAt+2)
	if r.inner {
		x += 3
	}
	room := treeVolts - 15 - x
	p.text(Text{Of: Of(r.id), At: Point{x, base}, Size: treeType, Bold: !r.inner, Text: fit(r.id, room, treeType, !r.inner)})
	figure := func(x MM, text string, ink Ink, bold bool) {
		p.text(Text{Of: Of(r.id), At: Point{x, base}, Size: treeType, Anchor: Right, Ink: ink, Bold: bold, Text: text})
	}
	if r.off() {
		figure(treeVolts, "off", Grey, false)
		return
	}
	figure(treeVolts, r.volts.String(), Black, false)
	figure(treeAmps, ampsText(r.amps), Black, false)
	if r.window.IsZero() {
		return
	}
	gap := min(r.volts-r.window.Low, r.window.High-r.volts)
	p.gauge(r, y+treeStep/2)
	if gap < 0 {
		p.warning(Point{treeWindow + 3.4, y + treeStep/2}, 1.4)
		figure(treeMargin, gap.String(), Warn, true)
		return
	}
	figure(treeMargin, gap.String(), Black, false)
}

// nothing is less than any unit draws: what leaks through the models of open contacts.
const nothing unit.Ampere = 0.0005

func ampsText(v unit.Ampere) string {
	if v < nothing {
		return "0 A"
	}
	return v.String()
}

// off says that a unit is switched off: it draws nothing, and what stands at it is far below what it works from.
func (r treeRow) off() bool {
	return r.amps < nothing && (r.volts < r.window.Low/2 || r.volts < 1)
}

// gauge is a bar from the lowest to the highest voltage of a unit with a mark at the present one.
func (p *pen) gauge(r treeRow, y MM) {
	const wide = treeWindow - treeGauge - 2
	span := r.window.High - r.window.Low
	if span <= 0 {
		return
	}
	p.rect(r.id, thin, Shade, Point{treeGauge, y - 0.7}, wide, 1.4, 0)
	share := min(max(float64((r.volts-r.window.Low)/span), -0.04), 1.04)
	x := treeGauge + MM(share)*wide
	p.line(r.id, Stroke{Width: 0.7, Ink: Black}, Point{x, y - 1.3}, Point{x, y + 1.3})
}

// warning is a triangle with a mark of exclamation round a point.
func (p *pen) warning(at Point, half MM) {
	p.shape("", Stroke{Width: 0.3, Ink: Warn}, Paper, true, at.plus(0, -half), at.plus(half*1.1, half*0.8), at.plus(-half*1.1, half*0.8))
	p.line("", Stroke{Width: half / 4, Ink: Warn}, at.plus(0, -half*0.45), at.plus(0, half*0.25))
	p.circle("", Stroke{}, Warn, at.plus(0, half*0.52), half/7)
}
