package paper

import (
	"fmt"

	"doorwright/document"
	"doorwright/draw"
	"doorwright/job"
	"doorwright/wiring"
)

// Stock is what labels are printed on: sheets with a grid of labels, or a tape that is cut after each.
type Stock struct {
	Page          Size // of a sheet
	Columns, Rows int
	Wide, High    draw.MM // of one label; on a tape High is its width, and a label is as long as it must be
	Across, Down  draw.MM // from edge to edge of neighbours
	Left, Top     draw.MM // margins
	Tape          bool
}

// Tape is a continuous tape of a width, in mm.
func Tape(width draw.MM) Stock { return Stock{High: width, Tape: true} }

// Check says what is wrong with the stock: labels that do not fit the sheet, or a tape nobody can read.
func (s Stock) Check() error {
	switch {
	case s.Tape && (s.High < 5 || s.High > 100):
		return fmt.Errorf("a tape of %g mm: tapes are 5 mm to 100 mm wide", float64(s.High))
	case s.Tape:
		return nil
	case s.Columns < 1 || s.Rows < 1 || s.Columns*s.Rows > 2000:
		return fmt.Errorf("%d columns by %d rows: a sheet has at least one label, and at most 2000", s.Columns, s.Rows)
	case s.Wide < 8 || s.High < 5:
		return fmt.Errorf("labels of %g mm by %g mm: nothing readable fits on less than 8 mm by 5 mm", float64(s.Wide),
			float64(s.High))
	case s.Columns > 1 && s.Across < s.Wide || s.Rows > 1 && s.Down < s.High:
		return fmt.Errorf("a pitch of %g mm by %g mm: labels of %g mm by %g mm would overlap", float64(s.Across),
			float64(s.Down),
			float64(s.Wide), float64(s.High))
	case s.Left+s.Across*draw.MM(s.Columns-1)+s.Wide > s.Page.Width+0.01 || s.Top+s.Down*draw.MM(s.Rows-1)+s.High > s.Page.Height+0.01:
		return fmt.Errorf("%d by %d labels of %g mm by %g mm do not fit a sheet of %g mm by %g mm", s.Columns, s.Rows,
			float64(s.Wide), float64(s.High), float64(s.Page.Width), float64(s.Page.Height))
	}
	return nil
}

// Centred is the stock with its grid in the middle of the sheet.
func (s Stock) Centred() Stock {
	s.Left = (s.Page.Width - s.Across*draw.MM(s.Columns-1) - s.Wide) / 2
	s.Top = (s.Page.Height - s.Down*draw.MM(s.Rows-1) - s.High) / 2
	return s
}

// LabelKinds are the kinds of labels, in the order of the work.
func LabelKinds() []string { return []string{"cables", "cores", "devices", "supplies"} }

// label is what stands on one label: the tag in large type, and lines below.
type label struct {
	tag   string
	lines []string
	wrap  bool // goes round a cable: the text stands twice, so that it is read from both sides
}

// Labels are the labels of a job, or of one door of it, of the kinds named; of all kinds when none is. It errs on a
// stock
// that cannot be.
func (w *Work) Labels(s Stock, door *job.Door, kinds ...string) (*Paper, error) {
	if err := s.Check(); err != nil {
		return nil, err
	}
	if len(kinds) == 0 {
		kinds = LabelKinds()
	}
	var all []label
	for _, k := range kinds {
		switch k {
		case "cables":
			all = append(all, w.cableLabels(door)...)
		case "cores":
			all = append(all, w.coreLabels(door)...)
		case "devices":
			all = append(all, w.deviceLabels(door)...)
		case "supplies":
			all = append(all, w.supplyLabels(door)...)
		default:
			return nil, fmt.Errorf("%q %s", k, document.Unknown(k, "kind of label", LabelKinds()))
		}
	}
	p := &Paper{Title: w.Job.ID + " " + w.Job.Title + ": labels"}
	if s.Tape {
		p.Pages = tapeOf(s, all)
	} else {
		p.Pages = sheetsOf(s, all)
	}
	return p, nil
}

func (w *Work) runsFor(door *job.Door) []*job.Run {
	if door == nil {
		return w.Job.Runs
	}
	return w.runsOf(door.ID)
}

// cableLabels are two for each run, one for each end: its own tag, where it goes, where this end is (IEC 62491: the
// same tag on drawing and cable, with the far end).
func (w *Work) cableLabels(door *job.Door) []label {
	var all []label
	for _, r := range w.runsFor(door) {
		for _, ends := range [][2]*job.Place{{r.From, r.To}, {r.To, r.From}} {
			all = append(all, label{
				tag: r.ID, wrap: true,
				lines: []string{"here " + ends[0].ID, "to " + ends[1].ID, r.TypeID},
			})
		}
	}
	return all
}

// coreLabels are two for each core, one for each end: run and core, the terminal it goes on, the far one.
func (w *Work) coreLabels(door *job.Door) []label {
	var all []label
	for _, r := range w.runsFor(door) {
		used, _ := w.coresOf(r)
		for _, l := range used {
			c := l.Conductor
			if door != nil && c.Door != door.ID {
				continue
			}
			for _, ends := range [][2]wiring.End{{c.A, c.B}, {c.B, c.A}} {
				all = append(all, label{
					tag: r.ID + "/" + whole(c.Core.Index) + " " + c.Core.Colour, wrap: true,
					lines: []string{ends[0].Name(), "to " + ends[1].Name()},
				})
			}
		}
	}
	return all
}

func (w *Work) deviceLabels(door *job.Door) []label {
	var all []label
	for _, d := range w.Plan.Devices {
		if d.Role == job.RoleSupply || d.Role == job.RoleBattery || door != nil && d.Door != door.ID && d.ID != door.Controller.ID {
			continue
		}
		all = append(all, label{tag: d.ID, lines: []string{d.Title, d.Place.ID}})
	}
	return all
}

// supplyLabels are one for each supply and one for each battery, with room for the date where it is not known.
func (w *Work) supplyLabels(door *job.Door) []label {
	var all []label
	for _, s := range w.Job.Supplies {
		if door != nil && !feeds(s, door) {
			continue
		}
		lines := []string{s.Model.Title, s.Place.ID, "serves " + w.servedBy(s)}
		all = append(all, label{tag: s.ID, lines: lines})
		if s.Battery == nil {
			continue
		}
		fitted := "fitted ____-__-__"
		if w.Record != nil {
			if a := w.Record.Battery(s.Battery.ID); a != nil {
				fitted = "fitted " + a.On.String()
			}
		}
		all = append(all, label{tag: s.Battery.ID, lines: []string{s.Battery.Model.Title, fitted}})
	}
	return all
}
