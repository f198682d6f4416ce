package device

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"doorwright/unit"
)

// worst is the lowest and highest voltage of one state of a supervised line, by the formulas of ratiometric
// measurement: code = N R/(R + Ru), with Ru at its high end for the low corner and at its low end for the high corner. The line has
// resistors of tolerance t, 0 to 100 ohm of wire, 0 to 10 ohm of contact, a leak of 100 kohm or more at its far end, a
// pull-up of 1 % and a converter of 12 bits that errs by 2 codes.
func worst(p Port, st state, t float64) (low, high unit.Volt) {
	const wire, contact, leak, pullUpTolerance, errorVolts = 100, 10, 100e3, 0.01, 2.0 / 4096
	divide := func(r, ru float64) float64 {
		if math.IsInf(r, 1) {
			return 1
		}
		return r / (r + ru)
	}
	least, most := st.ohms*(1-t), st.ohms*(1+t)+wire
	if st.level == Closed {
		most += contact
	}
	if math.IsInf(st.ohms, 1) {
		least, most = leak, st.ohms
	} else if st.ohms > 0 {
		least = least * leak / (least + leak)
	}
	ru := float64(p.PullUp)
	lowShare := divide(least, ru*(1+pullUpTolerance)) - errorVolts
	highShare := divide(most, ru*(1-pullUpTolerance)) + errorVolts
	return unit.Volt(lowShare) * p.Reference, unit.Volt(highShare) * p.Reference
}

func supervised(pullUp unit.Ohm) Port {
	return Port{Is: Input, Reference: 5, PullUp: pullUp, Low: 1, High: 3.5, Supervise: true}
}

// Every worst case of the usual double-resistor lines reads its own state.
func TestLevelsInTheWorstCase(t *testing.T) {
	cases := []struct {
		r                unit.Ohm
		tolerance        float64
		wantGap, wantCut int // codes of 4096 between closed and open, and least code of a cut line: printed worked results
	}{
		{1000, 0.01, 516, 4053},
		{1000, 0.05, 443, 4053},
		{2200, 0.01, 551, 4005},
		{4700, 0.01, 534, 3908},
		{4700, 0.05, 459, 3908},
		{5600, 0.01, 522, 3875},
		{10000, 0.01, 459, 3718},
		{10000, 0.05, 386, 3718},
	}
	for _, c := range cases {
		p := supervised(c.r)
		s := InputSettings{Used: true, Rest: RestClosed, Scheme: SchemeDouble, Series: c.r, Parallel: c.r}
		edge := map[Level][2]unit.Volt{}
		for _, st := range lineStates(p, s) {
			low, high := worst(p, st, c.tolerance)
			edge[st.level] = [2]unit.Volt{low, high}
			for _, v := range []unit.Volt{low, high} {
				if got := Read(p, s, v); got.Level != st.level || got.Margin <= 0 {
					t.Errorf("%v, %g: %v reads %v with margin %v, want %v", c.r, c.tolerance, v, got.Level, got.Margin, st.level)
				}
			}
		}
		code := func(v unit.Volt) float64 { return float64(v) / 5 * 4096 }
		if gap := code(edge[Open][0]) - code(edge[Closed][1]); math.Abs(gap-float64(c.wantGap)) > 3 {
			t.Errorf("%v, %g: gap %g codes, want %d", c.r, c.tolerance, gap, c.wantGap)
		}
		if cut := code(edge[Cut][0]); math.Abs(cut-float64(c.wantCut)) > 3 {
			t.Errorf("%v, %g: cut line reads %g codes, want %d", c.r, c.tolerance, cut, c.wantCut)
		}
	}
}

func TestReadByScheme(t *testing.T) {
	p := supervised(1000)
	double := InputSettings{Used: true, Scheme: SchemeDouble, Series: 1000, Parallel: 1000}
	closedRest := InputSettings{Used: true, Rest: RestClosed, Scheme: SchemeSingle, Series: 1000}
	openRest := InputSettings{Used: true, Rest: RestOpen, Scheme: SchemeSingle, Parallel: 1000}
	none := InputSettings{Used: true, Scheme: SchemeNone}
	cases := []struct {
		name string
		s    InputSettings
		v    unit.Volt
		want Level
	}{
		{"double, 0 ohm", double, 0, ShortCircuit},
		{"double, R", double, 2.5, Closed},
		{"double, 2R", double, 10.0 / 3, Open},
		{"double, cut", double, 5, Cut},
		{"double, midway between closed and open", double, (2.5 + 10.0/3) / 2, Between},
		{"single in series, 0 ohm", closedRest, 0, ShortCircuit},
		{"single in series, R", closedRest, 2.5, Closed},
		{"single in series, open or cut", closedRest, 5, Open},
		{"single across, closed or shorted", openRest, 0, Closed},
		{"single across, R", openRest, 2.5, Open},
		{"single across, cut", openRest, 5, Cut},
		{"none, low", none, 1, Closed},
		{"none, high", none, 3.5, Open},
		{"none, in the gap", none, 2, Between},
		{"none, a foreign 12 V", none, 12, Between},
		{"double, a foreign 12 V", double, 12, Between},
		{"double, a negative voltage", double, -6, Between},
		{"double, a drop on the common", double, -0.1, ShortCircuit},
		{"no number", double, unit.Volt(math.NaN()), Between},
	}
	for _, c := range cases {
		if got := Read(p, c.s, c.v); got.Level != c.want {
			t.Errorf("%s: %v reads %v, want %v", c.name, c.v, got.Level, c.want)
		}
	}
	if got := Read(p, none, 2); got.Margin != -1 {
		t.Errorf("2 V between 1 V and 3.5 V: margin %v, want -1 V", got.Margin)
	}
	if got := Read(p, none, 0.4); math.Abs(float64(got.Margin)-0.6) > 1e-12 {
		t.Errorf("0.4 V under 1 V: margin %v, want 600 mV", got.Margin)
	}
}

func TestActiveAndFaulty(t *testing.T) {
	open, closed := InputSettings{Used: true, Rest: RestOpen}, InputSettings{Used: true, Rest: RestClosed}
	for _, l := range []Level{Between, ShortCircuit, Closed, Open, Cut} {
		if Active(open, l) != (l == Closed) || Active(closed, l) != (l == Open) || Active(InputSettings{Rest: RestOpen}, l) {
			t.Errorf("%v: active %v %v", l, Active(open, l), Active(closed, l))
		}
		double := InputSettings{Used: true, Scheme: SchemeDouble}
		if Faulty(double, l) != (l != Closed && l != Open) || Faulty(open, l) {
			t.Errorf("%v: faulty %v %v", l, Faulty(double, l), Faulty(open, l))
		}
	}
}

// Laws of the bands: they rise, never meet, and each state's nominal voltage lies in its own band with a margin.
func TestLevelsLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ohms := rapid.Float64Range(500, 22000)
		p := supervised(unit.Ohm(rapid.Float64Range(500, 22000).Draw(t, "pull-up")))
		s := InputSettings{
			Used: true, Rest: rapid.SampledFrom([]string{RestOpen, RestClosed}).Draw(t, "rest"),
			Scheme:   rapid.SampledFrom([]Scheme{SchemeNone, SchemeSingle, SchemeDouble}).Draw(t, "scheme"),
			Series:   unit.Ohm(ohms.Draw(t, "series")),
			Parallel: unit.Ohm(ohms.Draw(t, "parallel")),
		}
		bands := Levels(p, s)
		if len(bands) < 2 {
			t.Fatalf("%d bands", len(bands))
		}
		for i := 1; i < len(bands); i++ {
			// two states closer than twice the gap cannot be told apart, and then their bands are empty
			if bands[i].Volts.Low <= bands[i-1].Volts.High {
				t.Fatalf("bands %v and %v meet", bands[i-1], bands[i])
			}
		}
		for _, st := range lineStates(p, s) {
			v := NominalVolts(p, unit.Ohm(st.ohms))
			if r := Read(p, s, v); r.Level != st.level && r.Level != Between {
				t.Fatalf("nominal %v of %v reads %v", v, st.level, r.Level)
			}
		}
	})
}
