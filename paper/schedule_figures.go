package paper

import (
	"doorwright/meter"
	"doorwright/record"
)

// loadSchedule is one row for each consumer of each supply, and one for the supply.
func (w *Work) loadSchedule() Schedule {
	s := Schedule{
		Name: "loads", Title: "Load schedule (calculated from the solved network, all doors locked, nominal)",
		Columns: []Column{
			{Title: "supply"},
			{Title: "what"},
			{Title: "idle", Unit: "A", Number: true, Decimal: 3},
			{Title: "highest", Unit: "A", Number: true, Decimal: 3},
			{Title: "on battery", Unit: "A", Number: true, Decimal: 3},
			{Title: "limit", Unit: "A", Number: true, Decimal: 2},
			{Title: "lowest", Unit: "V", Number: true, Decimal: 2},
			{Title: "highest", Unit: "V", Number: true, Decimal: 2},
		},
	}
	for _, l := range w.Examination.Loads {
		s.add(words(l.Supply.ID), words("all of it"), number(float64(l.Idle)), number(float64(l.Highest)),
			number(float64(l.Battery)),
			number(float64(l.Rated)), number(float64(l.Volts.Low)), number(float64(l.Volts.High)))
		for _, i := range l.Items {
			s.add(words(l.Supply.ID), words(i.Device), number(float64(i.Amps)), Cell{}, Cell{}, Cell{}, Cell{}, Cell{})
		}
	}
	return s
}

// readingSchedule is one row for each expected reading, with what was measured.
func (w *Work) readingSchedule() Schedule {
	s := Schedule{Name: "readings", Title: "Readings", Columns: []Column{
		{Title: "door"},
		{Title: "device"},
		{Title: "red lead", Aside: true},
		{Title: "black lead", Aside: true},
		{Title: "where"},
		{Title: "condition"},
		{Title: "unit"},
		{Title: "calculated", Number: true, Decimal: 2},
		{Title: "calculated low", Number: true, Decimal: 2},
		{Title: "calculated high", Number: true, Decimal: 2},
		{Title: "measured", Number: true, Decimal: 2},
		{Title: "verdict"},
		{Title: "by"},
		{Title: "on"},
		{Title: "meter"},
	}}
	for _, e := range w.Expected {
		got, verdict, by, on, meterID := Cell{}, "", "", "", ""
		if r := w.readingOf(e); r != nil {
			got, verdict, by, on, meterID = number(r.Shows.Figure()), verdictOf(e, r), r.By, r.On.String(), r.Meter
			if !got.Is {
				got = words(r.Shows.String())
			}
		}
		high, calculatedFigure := number(e.High), number(e.Nominal)
		if e.Open {
			high, calculatedFigure = words(overRange), words(overRange)
		}
		s.add(words(e.Door), words(e.Device), words(e.Pin), words(e.Against), words(e.Label), words(e.Condition),
			words(e.Unit),
			calculatedFigure, number(e.Low), high, got, words(verdict), words(by), words(on), words(meterID))
	}
	return s
}

// readingOf is what was measured of an expectation; nil when nothing was.
func (w *Work) readingOf(e meter.Expectation) *record.Reading {
	if w.Record == nil {
		return nil
	}
	return w.Record.Reading(e)
}

// verdictOf says whether a reading is as expected.
func verdictOf(e meter.Expectation, r *record.Reading) string {
	switch {
	case r.Shows.Quantity != e.Quantity:
		return "NOT COMPARABLE"
	case e.Holds(r.Shows.Figure()):
		return "within"
	}
	return "OUTSIDE"
}

// testSchedule is one row for each test that a door calls for.
func (w *Work) testSchedule() Schedule {
	s := Schedule{Name: "tests", Title: "Function tests", Columns: []Column{
		{Title: "door"},
		{Title: "step"},
		{Title: "bears on life"},
		{Title: "before"},
		{Title: "do"},
		{Title: "expect"},
		{Title: "write down"},
		{Title: "outcome"},
		{Title: "result"},
		{Title: "by"},
		{Title: "witness"},
		{Title: "on"},
		{Title: "source", Aside: true},
	}}
	for _, d := range w.Job.Doors {
		for _, step := range record.StepsOf(d) {
			var t record.Test
			if w.Record != nil {
				if got := w.Record.Test(d.ID, step.ID); got != nil {
					t = *got
				}
			}
			outcome := t.Outcome
			if outcome == "" {
				outcome = "not done"
			}
			s.add(words(d.ID), words(step.ID), words(yesNo(step.Life)), words(step.Before), words(step.Do),
				words(step.Expect),
				words(step.Evidence), words(outcome), words(t.Result), words(t.By), words(t.Witness), words(t.On.String()), words(step.Source))
		}
	}
	return s
}
