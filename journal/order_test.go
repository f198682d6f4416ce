package journal

import (
	"context"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"doorwright/record"

	"pgregory.net/rapid"
)

const orderJob = `# Head.
job: BTO
title: w
doors:
  a: {title: A, leaves: 1}
  b: {title: B}
  c: {title: C}
`

// drawBody is something that a device may write, whether it can be done or not.
func drawBody(t *rapid.T, j *Journal) []Body {
	object := "doors/" + rapid.SampledFrom([]string{"a", "b", "c"}).Draw(t, "object")
	word := rapid.SampledFrom([]string{"x", "y", "z"}).Draw(t, "word")
	id := fmt.Sprintf("S%d", rapid.IntRange(1, 2).Draw(t, "id"))
	dated := act
	dated.On.Minute = rapid.IntRange(0, 9).Draw(t, "minute")
	switch rapid.IntRange(0, 10).Draw(t, "kind") {
	case 0:
		return []Body{Removed{Job: "BTO", Object: object}}
	case 1:
		return []Body{Edited{Job: "BTO", Object: "doors", Field: strings.TrimPrefix(object, "doors/"), Value: "title: " + word}}
	case 2:
		if st := j.State().Job("BTO"); st != nil {
			if b, err := st.Undo(); err == nil {
				return b
			}
		}
		return []Body{Edited{Job: "BTO", Field: "title", Value: word}}
	case 3:
		return []Body{Snagged{Job: "BTO", ID: id, Snag: record.Snag{Door: "a", What: word, Class: "looks", Act: dated}}}
	case 4:
		return []Body{Asked{Job: "BTO", Door: "a", ID: id, Question: word, Act: dated}}
	case 5:
		core := Core{ID: "R1/" + id, A: "C1", ATo: word, B: "a.lock", BTo: "plus"}
		return []Body{Ticked{Job: "BTO", Core: core, End: "a.lock.plus", Off: word == "z", Act: dated}}
	case 6:
		if st := j.State().Job("BTO"); st != nil && len(st.History) > 0 {
			e := rapid.SampledFrom(st.History).Draw(t, "entry")
			return []Body{Withdrawn{Job: "BTO", Log: e.Log, Seq: e.Seq, Why: "wrong"}}
		}
		return []Body{Named{Initials: "mw", Person: record.Person{Name: word}}}
	case 7:
		return []Body{Imported{Job: "BTO", File: word + ".yaml", Document: orderJob}}
	}
	return []Body{Edited{Job: "BTO", Object: object, Field: "title", Value: word}}
}

// Whatever devices write, and in whatever order they meet: once each holds all, all agree, and so does one that opens what
// is kept.
func TestFoldDoesNotDependOnTheOrderOfMeetings(t *testing.T) {
	ctx := context.Background()
	clashes, ill := 0, 0
	rapid.Check(t, func(rt *rapid.T) {
		stores, all := []*Memory{}, []*Journal{}
		for range rapid.IntRange(2, 3).Draw(rt, "devices") {
			s := NewMemory()
			stores, all = append(stores, s), append(all, opened(t, s))
		}
		wrote(t, all[0], Imported{Job: "BTO", Document: orderJob})
		for range rapid.IntRange(1, 30).Draw(rt, "steps") {
			i := rapid.IntRange(0, len(all)-1).Draw(rt, "device")
			if k := rapid.IntRange(0, 3*len(all)-1).Draw(rt, "other"); k < len(all) && k != i {
				if _, err := all[i].Merge(ctx, stores[k]); err != nil {
					rt.Fatal(err)
				}
				continue
			}
			all[i].Write(ctx, "mw", drawBody(rt, all[i])...) //nolint:errcheck // what cannot be done is refused
			all[i].State()
		}
		for range 2 {
			for i := range all {
				for k := range stores {
					if _, err := all[i].Merge(ctx, stores[k]); i != k && err != nil {
						rt.Fatal(err)
					}
				}
			}
		}
		want := all[0].State()
		all = append(all, opened(t, stores[0]))
		for i, j := range all[1:] {
			got := j.State()
			if !reflect.DeepEqual(withoutSeats(got), withoutSeats(want)) {
				rt.Fatalf("device %d has\n%+v\nwhere the first has\n%+v\n%s\n%s", i+1, got.Jobs[0], want.Jobs[0], got.Jobs[0].Document, want.Jobs[0].Document)
			}
		}
		clashes += len(want.Job("BTO").Clashes)
		ill += len(want.Job("BTO").Ill)
	})
	if clashes == 0 {
		t.Error("no two edits ever clashed")
	}
	t.Logf("%d clashes, %d entries that fit nothing", clashes, ill)
}

func withoutSeats(s *State) State {
	c := *s
	c.Seats = nil
	return c
}
