package paper

import (
	"doorwright/meter"
	"doorwright/record"
)

// loadSchedule is one row for each consumer of each supply, and one for the supply.
func (w *Work) loadSchedule() Schedule {
	s := Schedule{
		Title: "Load schedule (calculated from the solved network, all doors locked, nominal)",
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

// readingSchedule is one row for each reading of the short list of each door, and for each loop of each run, with what
// was measured.
func (w *Work) readingSchedule() Schedule {
	s := Schedule{Columns: []Column{
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
		{Title: "why", Aside: true},
	}}
	w.readAll()
	known := map[record.Spot]bool{} // a supply or a run that serves several doors stands at the first
	for _, d := range w.Job.Doors {
		for _, x := range w.firstFixOf(d) {
			if at := record.SpotOfRun(x); x.What == "loop" && !known[at] {
				known[at] = true
				s.reading(d.ID, at, x.Where, meter.Ohms, x.Band, x.Why, w.measuredRun(x))
			}
		}
		for _, x := range w.readingsOf(d) {
			if !known[x.spot] {
				known[x.spot] = true
				s.reading(d.ID, x.spot, x.where, x.Pair.Quantity, x.Band, x.Why, w.measured(x))
			}
		}
	}
	return s
}

// reading adds the row of a reading.
func (s *Schedule) reading(door string, at record.Spot, where string, q meter.Quantity, b meter.Band, why string, r *record.Reading) {
	got, verdict, by, on, instrument := Cell{}, "", "", "", ""
	if r != nil {
		got, verdict, by, on, instrument = number(r.Shows.Figure()), verdictOf(q, b, r), r.By, r.On.String(), r.Meter
		if !got.Is {
			got = words(r.Shows.String())
		}
	}
	high, nominal := number(b.High), number(b.Nominal)
	if b.Open {
		high, nominal = words(overRange), words(overRange)
	}
	symbol := map[meter.Quantity]string{meter.Volts: "V", meter.Diode: "V", meter.Ohms: "ohm"}[q]
	s.add(words(door), words(at.Device), words(at.Red), words(at.Black), words(where), words(at.Condition), words(symbol),
		nominal, number(b.Low), high, got, words(verdict), words(by), words(on), words(instrument), words(why))
}

// testSchedule is one row for each test that a door calls for.
func (w *Work) testSchedule() Schedule {
	s := Schedule{Columns: []Column{
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
