package find

import (
	"strings"
	"testing"

	"doorwright/meter"
)

// What may be mains stops the search; a release that does not free the door comes before it.
func TestWhatBearsOnLifeComesFirst(t *testing.T) {
	f := ownFinder(t, "plant", meter.Default())
	if all := f.Alarms(); len(all) != 0 {
		t.Fatal("alarms though nothing was told:", all)
	}
	p := f.Book().Pairs[0]
	for i := range f.Book().Pairs {
		if q := f.Book().Pairs[i]; q.Quantity == meter.Volts && !q.In.Dead() {
			p = q
			break
		}
	}
	read := meter.Reading{At: p.At, To: p.To, In: p.In, Quantity: p.Quantity, Value: 57}
	if says := Danger(read); says != "" {
		t.Error("57 V may come over a network lead, and is said to be", says)
	}
	for value, says := range map[float64]string{13.5: SaysFed, -0.6: SaysFed, 0.02: "", 230: SaysMains} {
		dead := meter.Reading{At: p.At, To: p.To, In: meter.Condition{Power: meter.Off}, Quantity: meter.Volts, Value: value}
		if got := Danger(dead); got != says {
			t.Errorf("%v V with everything off: %q", value, got)
		}
	}
	read.Value = -230
	if err := f.Add(read); err != nil {
		t.Fatal(err)
	}
	if err := f.See(meter.Observation{What: meter.LockHolds, Is: "yes", In: meter.Condition{Power: meter.On, Act: meter.Release}}); err != nil {
		t.Fatal(err)
	}
	all := f.Alarms()
	if len(all) != 2 || !all[0].Stop || !strings.Contains(all[0].Says, "-230.00 V") || all[1].Stop || all[1].Says != SaysShutIn {
		t.Errorf("%+v", all)
	}
	read.Value = 13.5
	if err := f.Add(read); err != nil {
		t.Fatal(err)
	}
	if all = f.Alarms(); len(all) != 1 || all[0].Stop {
		t.Errorf("after the pair was read again: %+v", all)
	}
}
