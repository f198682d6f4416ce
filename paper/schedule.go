package paper

import (
	"math"
	"strconv"
)

// Schedule is a table for people and programs: on paper, as a sheet of the workbook, as CSV.
type Schedule struct {
	Name    string // short, for a file or a sheet: "cables"
	Title   string
	Columns []Column
	Rows    [][]Cell
}

// Column is one column of a schedule.
type Column struct {
	Title   string
	Unit    string // of its figures, such as "m"; empty for text and counts
	Number  bool   // its cells are numbers
	Decimal int    // figures behind the point, as shown
	Aside   bool   // only in the workbook and in CSV: paper has no room for it
}

// Head is the heading with its unit.
func (c Column) Head() string {
	if c.Unit == "" {
		return c.Title
	}
	return c.Title + " (" + c.Unit + ")"
}

// Cell is a text or a number.
type Cell struct {
	Text   string
	Number float64
	Is     bool // it is a number
}

func words(s string) Cell { return Cell{Text: s} }

// number is a number; what is not finite is an empty cell.
func number(v float64) Cell {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return Cell{}
	}
	return Cell{Number: v, Is: true}
}

func (s *Schedule) add(cells ...Cell) { s.Rows = append(s.Rows, cells) }

// shows is the cell as paper shows it.
func (c Column) shows(x Cell) string {
	if !x.Is {
		return x.Text
	}
	return strconv.FormatFloat(x.Number, 'f', c.Decimal, 64)
}

// table is the schedule for paper.
func (s Schedule) table() table {
	t := table{}
	for _, c := range s.Columns {
		if !c.Aside {
			t.columns = append(t.columns, column{title: c.Head(), right: c.Number})
		}
	}
	for _, r := range s.Rows {
		var cells []string
		for i, c := range s.Columns {
			if !c.Aside {
				cells = append(cells, c.shows(r[i]))
			}
		}
		t.add(cells...)
	}
	return t
}

// ScheduleKind is one of the schedules that a job has.
type ScheduleKind struct {
	Name, Title string
	of          func(*Work) Schedule
}

// ScheduleKinds are all schedules, in the order of the work. It is the one list of them.
func ScheduleKinds() []ScheduleKind {
	return []ScheduleKind{
		{"doors", "Door schedule", (*Work).doorSchedule},
		{"cables", "Cable schedule", (*Work).cableSchedule},
		{"terminations", "Termination schedule", (*Work).terminationSchedule},
		{"components", "Links and added components", (*Work).componentSchedule},
		{"settings", "Settings", (*Work).settingSchedule},
		{"network", "Controllers and network", (*Work).networkSchedule},
		{"loads", "Load schedule", (*Work).loadSchedule},
		{"materials", "Bill of material", (*Work).materialSchedule},
		{"readings", "Readings", (*Work).readingSchedule},
		{"tests", "Function tests", (*Work).testSchedule},
	}
}

// Schedule makes one schedule of a job.
func (w *Work) Schedule(k ScheduleKind) Schedule {
	s := k.of(w)
	s.Name = k.Name
	if s.Title == "" {
		s.Title = k.Title
	}
	return s
}

// Schedules makes all schedules of a job.
func (w *Work) Schedules() []Schedule {
	var all []Schedule
	for _, k := range ScheduleKinds() {
		all = append(all, w.Schedule(k))
	}
	return all
}
