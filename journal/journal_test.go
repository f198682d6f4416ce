package journal

import (
	"bytes"
	"context"
	"crypto/rand"
	"reflect"
	"strings"
	"testing"

	"doorwright/internal/site"
	"doorwright/meter"
	"doorwright/record"
)

// samples has one body of every kind.
func samples() []Body {
	return []Body{
		brackwater(),
		Edited{Job: "BTO", Object: "doors/staff", Field: "title", Value: "Side door", Was: "Staff door\n"},
		Removed{Job: "BTO", Object: "doors/store", Was: "title: x"},
		Planned{Job: "BTO", Revision: "A", Cores: []Core{{ID: "W1/1", A: "PS1", ATo: "out.plus", B: "C1", BTo: "feed.plus", Colour: "BK", For: "feed"}}},
		Ticked{Job: "BTO", Door: "staff", Core: Core{ID: "W1/1", A: "PS1", ATo: "out.plus", B: "C1", BTo: "feed.plus", Colour: "BK", For: "feed"}, End: "C1.feed.plus", Act: act},
		Measured{Job: "BTO", Reading: record.Reading{
			Device: "PS1", Red: "out.plus", Black: "out.minus", Condition: "idle", Meter: "M1", Act: act,
			Shows: record.Value{Quantity: meter.Volts, Volts: 13.6},
		}},
		Tested{Job: "BTO", Test: record.Test{Door: "staff", Step: "T35", Outcome: "pass", Witness: "kf", Act: act}},
		Sighted{Job: "BTO", Sight: record.Sight{Door: "staff", What: "rust", Act: act}},
		Fitted{Job: "BTO", Fitting: record.Fitting{Device: "PS1.battery", Act: act}},
		Snagged{Job: "BTO", ID: "S1", Snag: record.Snag{Door: "staff", What: "loose", Class: "life", Act: act}},
		Accepted{Job: "BTO", Acceptance: record.Acceptance{Door: "staff", Finding: "x", Reason: "y", Act: act}},
		HandedOver{Job: "BTO", Handover: record.Handover{Door: "staff", To: "Ivo Strand", Role: "client", Revision: "A", Open: []string{"S2: scratch"}, Act: act}},
		Photographed{Job: "BTO", Door: "staff", Blob: "00", Type: "image/jpeg", Caption: "head", Act: act},
		Asked{Job: "BTO", Door: "staff", ID: "Q1", Question: "which side?", Act: act},
		Stopped{Job: "BTO", Door: "staff", Page: "land"},
		Named{Initials: "mw", Person: record.Person{Name: "Mara Wren", Role: "technician"}},
		Seated{Initials: "mw"},
		Owned{Meter: "M1", Instrument: record.Instrument{Title: "Multimeter", Number: "1", Calibrated: record.Date{Year: 2026, Month: 3, Day: 2}}},
		Withdrawn{Job: "BTO", Log: "log-0", Seq: 4, Why: "wrong door"},
	}
}

func TestEveryKindReadsBackAsItWasWritten(t *testing.T) {
	seen := map[string]bool{}
	for _, b := range samples() {
		kind, err := kindOf(b)
		if err != nil {
			t.Fatal(err)
		}
		seen[kind] = true
		raw, err := encode(b)
		if err != nil {
			t.Fatalf("%s: %v", kind, err)
		}
		again, err := decode(kind, raw)
		if err != nil {
			t.Fatalf("%s: %v", kind, err)
		}
		if !reflect.DeepEqual(again, b) {
			t.Errorf("%s: %+v reads back as %+v", kind, b, again)
		}
	}
	for _, k := range kinds() {
		if !seen[k.name] {
			t.Errorf("no sample of %s", k.name)
		}
	}
}

func TestEntriesOfLaterVersionsAreKept(t *testing.T) {
	s := NewMemory()
	j := opened(t, s)
	wrote(t, j, Unknown{"hologram", []byte(`{"x":[1,2]}`)}, brackwater())
	again := opened(t, s)
	if st := again.State(); st.Unknown != 1 || st.Entries != 2 || st.Job("BTO") == nil {
		t.Errorf("%d entries, %d not understood", st.Entries, st.Unknown)
	}
}

func TestStateIsTheDocumentWithItsEdits(t *testing.T) {
	s := NewMemory()
	j := opened(t, s)
	wrote(t, j, brackwater())
	wrote(t, j, Edited{Job: "BTO", Object: "doors/staff", Field: "title", Value: "Side door", Was: "Staff door\n"})
	before := j.State()
	wrote(t, j, Edited{Job: "BTO", Object: "doors/staff", Field: "sounder", Value: "", Was: "sounder-12\n"})
	for _, o := range []*Journal{j, opened(t, s)} {
		p := planOf(t, o.State().Job("BTO").Document)
		if d := p.Job.Doors[1]; d.Title != "Side door" || d.Sounder != nil {
			t.Errorf("the door is %q with sounder %v", d.Title, d.Sounder)
		}
	}
	if p := planOf(t, before.Job("BTO").Document); p.Job.Doors[1].Sounder == nil {
		t.Error("a state that was given out has changed")
	}
}

func TestUndoTakesEditsBackOneByOne(t *testing.T) {
	j := opened(t, NewMemory())
	wrote(t, j, brackwater())
	first := string(j.State().Job("BTO").Document)
	wrote(t, j, Edited{Job: "BTO", Object: "doors/staff", Field: "title", Value: "One\n", Was: "Staff door\n"})
	wrote(t, j, Edited{Job: "BTO", Object: "doors/staff", Field: "title", Value: "Two\n", Was: "One\n"})
	for _, want := range []string{"One", "Staff door"} {
		b, err := j.State().Job("BTO").Undo()
		if err != nil {
			t.Fatal(err)
		}
		wrote(t, j, b...)
		if got := planOf(t, j.State().Job("BTO").Document).Job.Doors[1].Title; got != want {
			t.Errorf("undone to %q, want %q", got, want)
		}
	}
	if _, err := j.State().Job("BTO").Undo(); err == nil {
		t.Error("more was undone than was done")
	}
	if got := string(j.State().Job("BTO").Document); len(got) < len(first)/2 {
		t.Errorf("the document has shrunk to %d bytes", len(got))
	}
}

func TestWhatWasChangedTogetherIsTakenBackTogether(t *testing.T) {
	j := opened(t, NewMemory())
	wrote(t, j, brackwater())
	wrote(t, j, Edited{Job: "BTO", Object: "doors/staff", Field: "title", Value: "Before\n", Was: "Staff door\n"})
	wrote(t, j, Edited{Job: "BTO", Object: "doors/staff", Field: "title", Value: "One\n", Was: "Before\n", Change: "x"},
		Edited{Job: "BTO", Object: "doors/store", Field: "title", Value: "Two\n", Was: "Instrument store\n", Change: "x"})
	b, err := j.State().Job("BTO").Undo()
	if err != nil {
		t.Fatal(err)
	}
	wrote(t, j, b...)
	p := planOf(t, j.State().Job("BTO").Document)
	if p.Job.Doors[1].Title != "Before" || p.Job.Doors[2].Title != "Instrument store" {
		t.Errorf("%q and %q", p.Job.Doors[1].Title, p.Job.Doors[2].Title)
	}
}

// A tick belongs to the core that was landed: when the plan changes, it is kept for the same core on the same terminals,
// and never counts for another.
func TestTicksStayWithTheirCore(t *testing.T) {
	j := opened(t, NewMemory())
	wrote(t, j, brackwater())
	plan := planOf(t, j.State().Job("BTO").Document)
	ticked := 0
	for _, c := range CoresOf(plan) {
		if strings.HasPrefix(c.B, "staff.") || strings.HasPrefix(c.A, "staff.") {
			wrote(t, j, Ticked{Job: "BTO", Door: "staff", Core: c, End: c.B + "." + c.BTo, Act: act})
			ticked++
		}
	}
	rec, stale := j.State().Record(j.State().Job("BTO"), plan)
	if len(rec.Landed) != ticked || len(stale) != 0 || ticked < 10 {
		t.Fatalf("%d landed of %d ticked, %d stale", len(rec.Landed), ticked, len(stale))
	}
	wrote(t, j, Edited{Job: "BTO", Object: "doors/staff", Field: "sounder", Was: "sounder-12\n"})
	changed := planOf(t, j.State().Job("BTO").Document)
	diff := Compare(CoresOf(plan), CoresOf(changed))
	rec, stale = j.State().Record(j.State().Job("BTO"), changed)
	if diff.None() || len(stale) == 0 || len(rec.Landed)+len(stale) != ticked {
		t.Errorf("%d landed, %d stale of %d; difference %+v", len(rec.Landed), len(stale), ticked, diff)
	}
	now := map[string]Core{}
	for _, c := range CoresOf(changed) {
		now[c.ID] = c
	}
	for _, x := range stale {
		if c, ok := now[x.Core.ID]; ok && c.same(x.Core) {
			t.Errorf("the tick of %v was lost although nothing changed there", x.Core)
		}
	}
}

func TestWithdrawnEntryCountsNoMore(t *testing.T) {
	j := opened(t, NewMemory())
	wrote(t, j, brackwater())
	e := wrote(t, j, Sighted{Job: "BTO", Sight: record.Sight{What: "rust", Act: act}})[0]
	wrote(t, j, Withdrawn{Job: "BTO", Log: e.Log, Seq: e.Seq, Why: "other door"})
	rec, _ := j.State().Record(j.State().Job("BTO"), planOf(t, j.State().Job("BTO").Document))
	if len(rec.Seen) != 0 || len(j.State().Job("BTO").History) != 3 {
		t.Errorf("seen %v, history of %d", rec.Seen, len(j.State().Job("BTO").History))
	}
}

func TestNobodyWritesWithoutAName(t *testing.T) {
	j := opened(t, NewMemory())
	if _, err := j.Write(context.Background(), "", brackwater()); err == nil {
		t.Error("written by nobody")
	}
}

func TestHeldHeadIsExtendedByWhatWasWrittenSince(t *testing.T) {
	s := NewMemory()
	j := opened(t, s)
	wrote(t, j, small(), Edited{Job: "BTO", Field: "title", Value: "x"})
	held := s.logs[j.device.Log].kept.Head
	wrote(t, j, Withdrawn{Job: "BTO", Log: j.device.Log, Seq: 1, Why: "wrong"})
	r, err := Verify(context.Background(), s, held)
	if err != nil || len(r.Wrong) > 0 || len(r.Heads) != 1 || r.Heads[0].Size != 3 {
		t.Fatalf("a sound store: %+v, %v", r, err)
	}
}

func sameContent(a, b *Memory) bool {
	for name, l := range a.logs {
		o := b.logs[name]
		if o == nil || !bytes.Equal(bytes.Join(l.raw, nil), bytes.Join(o.raw, nil)) || l.kept.Verify != o.kept.Verify {
			return false
		}
	}
	return len(a.logs) == len(b.logs) && reflect.DeepEqual(a.blobs, b.blobs)
}

func TestFlippedByteInAStoreIsFound(t *testing.T) {
	s := NewMemory()
	j := opened(t, s)
	wrote(t, j, small(), Edited{Job: "BTO", Field: "title", Value: "x"}, Edited{Job: "BTO", Field: "title", Value: "y"})
	tried := 0
	for _, raw := range s.logs[j.device.Log].raw {
		for i := range raw {
			raw[i] ^= 1
			if r, err := Verify(context.Background(), s); err == nil && len(r.Wrong) == 0 {
				t.Errorf("byte %d of %s: nothing is said", i, raw)
			}
			if _, err := Open(context.Background(), s, ticking(), rand.Reader); err == nil {
				t.Errorf("byte %d of %s: it opens", i, raw)
			}
			raw[i] ^= 1
			tried++
		}
	}
	if tried == 0 {
		t.Error("no byte tried")
	}
}

// Whoever rewrites a log with its key is found out only by a head that somebody else has kept.
func TestRewrittenLogDoesNotExtendAHeldHead(t *testing.T) {
	s := NewMemory()
	j := opened(t, s)
	wrote(t, j, small(), Edited{Job: "BTO", Field: "title", Value: "x"})
	held := s.logs[j.device.Log].kept.Head
	rewritten := NewMemory()
	if err := rewritten.SetDevice(context.Background(), j.device); err != nil {
		t.Fatal(err)
	}
	wrote(t, opened(t, rewritten), small(), Edited{Job: "BTO", Field: "title", Value: "z"}, Edited{Job: "BTO", Field: "title", Value: "y"})
	if r, err := Verify(context.Background(), rewritten); err != nil || len(r.Wrong) > 0 {
		t.Fatalf("the rewritten log is sound in itself: %+v, %v", r, err)
	}
	if r, err := Verify(context.Background(), rewritten, held); err != nil || len(r.Wrong) == 0 {
		t.Errorf("it extends the head that was held: %v", err)
	}
}

func TestPacksOfTwoDevicesMerge(t *testing.T) {
	ctx := context.Background()
	desk, phone := NewMemory(), NewMemory()
	d, p := opened(t, desk), opened(t, phone)
	wrote(t, d, brackwater())
	if m, err := p.Merge(ctx, desk); err != nil || m.Entries != 1 {
		t.Fatalf("%+v, %v", m, err)
	}
	wrote(t, d, Edited{Job: "BTO", Object: "doors/staff", Field: "title", Value: "Desk\n", Was: "Staff door\n"})
	wrote(t, p, Edited{Job: "BTO", Object: "doors/staff", Field: "title", Value: "Phone\n", Was: "Staff door\n"},
		Sighted{Job: "BTO", Sight: record.Sight{What: "rust", Act: act}})
	if _, err := d.Merge(ctx, phone); err != nil {
		t.Fatal(err)
	}
	if _, err := p.Merge(ctx, desk); err != nil {
		t.Fatal(err)
	}
	a, b := d.State().Job("BTO"), p.State().Job("BTO")
	if !bytes.Equal(a.Document, b.Document) || len(a.Clashes) != 1 || !reflect.DeepEqual(a.Clashes, b.Clashes) || len(a.done.Seen) != 1 {
		t.Errorf("the two do not agree: %+v and %+v", a.Clashes, b.Clashes)
	}
	if m, err := d.Merge(ctx, phone); err != nil || m.Entries != 0 {
		t.Errorf("merged again: %+v, %v", m, err)
	}
}

func TestForkIsRefused(t *testing.T) {
	ctx := context.Background()
	s := NewMemory()
	j := opened(t, s)
	wrote(t, j, brackwater())
	other := opened(t, NewMemory())
	if _, err := other.Merge(ctx, s); err != nil {
		t.Fatal(err)
	}
	before := other.State().Entries
	fork := NewMemory()
	if err := fork.SetDevice(ctx, j.device); err != nil {
		t.Fatal(err)
	}
	wrote(t, opened(t, fork), small(), Edited{Job: "BTO", Field: "title", Value: "forged"})
	if _, err := other.Merge(ctx, fork); err == nil || !strings.Contains(err.Error(), "altered") || other.State().Entries != before {
		t.Errorf("a fork: %v, %d entries", err, other.State().Entries)
	}
}

func FuzzReadEntry(f *testing.F) {
	for i, b := range samples() {
		e := &Entry{Log: "log-0", Seq: int64(i), Clock: 1, At: ticking()(), Who: "mw", Body: b}
		raw, err := e.bytes()
		if err != nil {
			f.Fatal(err)
		}
		f.Add(raw)
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		e, err := readEntry(raw)
		if err != nil {
			return
		}
		again, err := e.bytes()
		if err != nil || check(e.Body) != nil {
			return // refused when it is written, and told when it is read
		}
		if o, err := readEntry(again); err != nil || !reflect.DeepEqual(e, o) {
			t.Errorf("%s is written again as %s, %v", raw, again, err)
		}
	})
}

// What was landed for some doors of a site stays ticked when two more come to their supply, before them.
func TestTicksStayWhenDoorsAreAdded(t *testing.T) {
	doors := site.Doors(site.DoorsPerSupply)
	j := opened(t, NewMemory())
	wrote(t, j, Imported{Job: "SITE", File: "site.yaml", Document: string(site.Of(doors[2:]...))})
	plan := planOf(t, j.State().Job("SITE").Document)
	for _, c := range CoresOf(plan) {
		wrote(t, j, Ticked{Job: "SITE", Door: "D3", Core: c, End: c.A + "." + c.ATo, Act: act})
	}
	wrote(t, j, Imported{Job: "SITE", File: "site.yaml", Document: string(site.Of(doors...))})
	rec, stale := j.State().Record(j.State().Job("SITE"), planOf(t, j.State().Job("SITE").Document))
	if len(stale) > 0 || len(rec.Landed) != len(CoresOf(plan)) {
		t.Errorf("%d of %d ticks stay; stale: %v", len(rec.Landed), len(CoresOf(plan)), stale)
	}
}
