package proof

import (
	"testing"

	"doorwright/unit"
)

// A foot is 0.3048 m exactly (international yard and pound agreement, 1959).
func TestFiguresInWords(t *testing.T) {
	for _, x := range []struct {
		f    Finding
		in   unit.Measures
		want string
	}{
		{Finding{Figure: 10.2, Limit: 10.8, Margin: -0.6, Unit: "V"}, unit.Metric, "10.2 V, limit 10.8 V, beyond it by 0.6 V"},
		{Finding{Figure: 1.5, Limit: 1.5, Margin: 0, Unit: "A"}, unit.Metric, "1.5 A, limit 1.5 A, within it by 0 A"},
		{Finding{Figure: 0.2999539, Limit: 0.3, Margin: -4.61e-5, Unit: "A"}, unit.Metric, "0.299954 A, limit 0.3 A, beyond it by 0.0461 mA"},
		{Finding{Figure: 3, Limit: 2, Margin: -1}, unit.Metric, "3, limit 2, beyond it by 1"},
		{Finding{Figure: 0, Limit: 1, Margin: -1}, unit.Metric, ""},
		{Finding{Figure: 1, Limit: 0, Margin: -1}, unit.Metric, ""},
		{Finding{Figure: 9000, Limit: 14400, Margin: -5400, Unit: "s"}, unit.Metric, "2.5 h, limit 4 h, beyond it by 1.5 h"},
		{Finding{Figure: 152.4, Limit: 121.92, Margin: -30.48, Unit: "m"}, unit.Feet, "500 ft, limit 400 ft, beyond it by 100 ft"},
	} {
		if got := x.f.Figures(x.in); got != x.want {
			t.Errorf("%q, want %q", got, x.want)
		}
	}
}

func TestWhenSaysWhetherItIsThereBefore(t *testing.T) {
	for _, x := range []struct {
		f    Finding
		want string
	}{
		{Finding{}, ""},
		{Finding{Cause: "fire signal", Case: "nominal"}, "fire signal"},
		{Finding{Cause: "fire signal", Case: "low", Idle: true}, "already while nothing happens; worst: fire signal (low)"},
		{Finding{Cause: "nothing happens", Case: "low", Idle: true}, "nothing happens (low)"},
	} {
		if got := x.f.When(); got != x.want {
			t.Errorf("%q, want %q", got, x.want)
		}
	}
}

// Of one thing that fails in several causes the worst is kept, and that it failed at rest is not forgotten, in whatever order
// they come.
func TestTheLedgerRemembersWhatFailedAtRest(t *testing.T) {
	rest := entry{where: "x", margin: -1, cause: "rest", idle: true}
	worse := entry{where: "x", margin: -2, cause: "worse", order: 1}
	for _, both := range [][]entry{{rest, worse}, {worse, rest}} {
		l := newLedger()
		for _, e := range both {
			l.note(e)
		}
		if got := l.list[0]; len(l.list) != 1 || got.cause != "worse" || !got.idle {
			t.Errorf("%d kept, %q, at rest %v", len(l.list), got.cause, got.idle)
		}
	}
	l := newLedger()
	l.note(worse)
	if l.list[0].idle {
		t.Error("it did not fail at rest")
	}
}
