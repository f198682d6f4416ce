package journal

import (
	"context"
	"slices"
	"strings"
	"testing"

	"doorwright/record"
)

// What a pack would bring is told before it is taken in, and is what the merge then brings.
func TestOfferIsWhatTheMergeBrings(t *testing.T) {
	ctx := context.Background()
	here, there := NewMemory(), NewMemory()
	j, other := opened(t, here), opened(t, there)
	wrote(t, j, Named{Initials: "mw", Person: record.Person{Name: "Mara Wren"}}, small())
	if _, err := other.Merge(ctx, here); err != nil {
		t.Fatal(err)
	}
	wrote(t, other, Named{Initials: "mw", Person: record.Person{Name: "Mads Wood"}}, Edited{Job: "BTO", Field: "title", Value: "there"})
	wrote(t, j, Edited{Job: "BTO", Field: "title", Value: "here"})

	before := j.State()
	o, err := j.Offered(ctx, there)
	if err != nil {
		t.Fatal(err)
	}
	if o.Brings != (Merged{Logs: 1, Entries: 2}) || len(o.Entries) != 2 || o.Entries[0].Seq != 0 {
		t.Errorf("%+v", o)
	}
	if told := strings.Join(o.Told, "\n"); !strings.Contains(told, "The initials mw stand for") || !strings.Contains(told, "BTO: two devices changed title") {
		t.Errorf("it tells %q", o.Told)
	}
	if j.State().Entries != before.Entries {
		t.Fatal("looking has changed the workspace")
	}
	m, err := j.Merge(ctx, there)
	if err != nil || m != o.Brings {
		t.Fatalf("%+v, %v", m, err)
	}
	if told := j.State().told(); !slices.Equal(told, o.Told) {
		t.Errorf("it told %q, and now tells %q", o.Told, told)
	}
	if o, err = j.Offered(ctx, there); err != nil || o.Brings != (Merged{}) || len(o.Entries)+len(o.Told) != 0 {
		t.Errorf("once more it brings %+v, %v", o, err)
	}
	older := opened(t, NewMemory())
	older.device = j.device
	if _, err := older.Offered(ctx, here); err == nil {
		t.Error("more of the log that is written here is offered")
	}
}

func TestFirstWithdrawalIsTheOneThatIsTold(t *testing.T) {
	j := opened(t, NewMemory())
	wrote(t, j, small())
	e := wrote(t, j, samples()[7])[0]
	for _, why := range []string{"wrong door", "again"} {
		wrote(t, j, Withdrawn{Job: "BTO", Log: e.Log, Seq: e.Seq, Why: why})
	}
	job := j.State().Job("BTO")
	w := job.Withdrawals()[e.Ref()]
	if w == nil || w.Body.(Withdrawn).Why != "wrong door" || job.Counts(e) || !e.Withdrawable() || w.Withdrawable() {
		t.Errorf("%+v", w)
	}
}
