package web

import (
	"context"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"

	"doorwright/journal"
	"doorwright/record"
)

// pass passes tests of a door, witnessed by Kari Fenn, and gives the last of them.
func (d *desktop) pass(door string, wanted func(record.Step) bool) (last string) {
	d.t.Helper()
	at := "/j/BTO/d/" + door + "/do/test"
	page := d.get(at, http.StatusOK)
	for _, s := range record.Steps() {
		if strings.Contains(page, `id="`+s.ID+`"`) && wanted(s) {
			d.post(at, http.StatusSeeOther, "step", s.ID, "outcome", "pass", "witness", "kf", "result", "as asked")
			last = s.ID
		}
	}
	if last == "" {
		d.t.Fatalf("%s: no test is made", door)
	}
	return last
}

func life(s record.Step) bool { return s.Life }

// sealIn is the seal of the list of open points that a page shows; empty when nothing can be handed over there.
func sealIn(page string) string {
	all := hiddenFields(page)
	if i := slices.Index(all, "seal"); i >= 0 {
		return all[i+1]
	}
	return ""
}

func TestDoorIsHandedOverWithWhatIsOpen(t *testing.T) {
	d := withDemo(t)
	at := "/j/BTO/d/store/do/hand"
	page := d.get(at, http.StatusOK)
	d.has(page, "function tests that bear on life are not passed and witnessed", "ends of cores are not landed", "measurements of first fix are not taken")
	if sealIn(page) != "" {
		t.Error("a door may be handed over before its tests")
	}
	d.post(at, http.StatusUnprocessableEntity, "to", "Ivo Strand")

	step := d.pass("store", life)
	d.post("/j/BTO/d/store/do/snags", http.StatusSeeOther, "keep", "what", "what", "release sticks", "class", "life", "retest", step)
	d.has(d.get(at, http.StatusOK), "snag S1: release sticks (touches getting out)")
	d.has(d.post("/j/BTO/d/store/do/snags", http.StatusUnprocessableEntity, "keep", "fix.S1", "fix.S1", "greased", "retest.S1", step).Body.String(), "it must pass after the snag was found")
	d.post("/j/BTO/d/store/do/test", http.StatusSeeOther, "step", step, "outcome", "pass", "result", "as asked")
	d.post("/j/BTO/d/store/do/snags", http.StatusUnprocessableEntity, "keep", "fix.S1", "fix.S1", "greased", "retest.S1", step)
	d.pass("store", life)
	d.post("/j/BTO/d/store/do/snags", http.StatusSeeOther, "keep", "fix.S1", "fix.S1", "greased", "retest.S1", step)
	d.post("/j/BTO/d/store/do/snags", http.StatusSeeOther, "keep", "what", "what", "scratch on the leaf", "class", "looks")

	page = d.get(at, http.StatusOK)
	d.has(page, "Nothing is in the way", "snag S2: scratch on the leaf")
	seal := sealIn(page)
	d.post(at, http.StatusUnprocessableEntity, "to", " ", "seal", seal)
	d.post("/j/BTO/d/store/do/snags", http.StatusSeeOther, "keep", "what", "what", "label missing", "class", "looks")
	d.post(at, http.StatusConflict, "to", "Ivo Strand", "seal", seal)
	d.post(at, http.StatusSeeOther, "to", "Ivo Strand", "role", "caretaker", "seal", sealIn(d.get(at, http.StatusOK)))
	d.has(d.get(at, http.StatusOK), "Handed over to Ivo Strand, caretaker, by Mara Wren, 2026-10-12 09:00, built to revision A", "Open then")
	d.has(d.get("/j/BTO?show=handed+over", http.StatusOK), "Instrument store", ", 1 handed over")
	d.has(d.get("/j/BTO/record", http.StatusOK), "store handed over to Ivo Strand")

	d.post("/j/BTO/d/store/do/test", http.StatusSeeOther, "step", step, "outcome", "fail")
	d.has(d.get("/j/BTO", http.StatusOK), ", 0 handed over")
	d.has(d.get("/j/BTO/d/store", http.StatusOK), "Failed at the door", "function test that bears on life has failed: "+step)
	d.has(d.get(at, http.StatusOK), "function test that bears on life has failed: "+step)
}

func TestJobIsHandedOver(t *testing.T) {
	d := withDemo(t)
	at := "/j/BTO/handover"
	d.has(d.get(at, http.StatusOK), "0 of 8 doors are handed over. At each of the others something must be put right first.")
	d.post(at, http.StatusUnprocessableEntity, "to", "Ivo Strand", "door", "store")
	for _, door := range []string{"staff", "store"} {
		d.pass(door, life)
	}
	page := d.get(at, http.StatusOK)
	d.has(page, "At 2 of the others nothing is in the way", "doorwright journal verify --held")
	seal := sealIn(page)
	d.post(at, http.StatusUnprocessableEntity, "to", "Ivo Strand", "seal", seal)
	d.post(at, http.StatusUnprocessableEntity, "to", "Ivo Strand", "seal", seal, "door", "store", "door", "visitor")
	d.post(at, http.StatusConflict, "to", "Ivo Strand", "seal", "x", "door", "store")
	d.post(at, http.StatusSeeOther, "to", "Ivo Strand", "seal", seal, "door", "store", "door", "staff")
	d.has(d.get(at, http.StatusOK), "2 of 8 doors are handed over", "Ivo Strand, 2026-10-12 09:00")
	if all := d.journal.State().Job("BTO").History; all[len(all)-1].Job() != "BTO" {
		t.Error("the last entry is not of the job")
	}

	held := []byte(d.get("/heads.txt", http.StatusOK))
	data := d.answer(httptest.NewRequest(http.MethodGet, "/j/BTO/pack", nil), http.StatusOK).Body.Bytes()
	pack, err := journal.OpenPack(context.Background(), data)
	if err != nil {
		t.Fatal(err)
	}
	heads := journal.SplitHeads(held)
	if r, err := journal.Verify(context.Background(), pack, heads...); err != nil || len(r.Wrong) > 0 || len(heads) != 1 {
		t.Errorf("%v, %v, %d heads", r, err, len(heads))
	}
}
