package web

import (
	"bytes"
	"context"
	"crypto/rand"
	"encoding/binary"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"
	"time"

	"doorwright/journal"
	"doorwright/record"
)

// sendPack sends a pack to be looked at.
func (d *desktop) sendPack(data []byte, code int) string {
	d.t.Helper()
	var b bytes.Buffer
	m := multipart.NewWriter(&b)
	part, err := m.CreateFormFile("pack", "../pack.doorwright.zip")
	if err != nil {
		d.t.Fatal(err)
	}
	part.Write(data) //nolint:errcheck // into memory
	m.Close()        //nolint:errcheck // into memory
	r := httptest.NewRequest(http.MethodPost, "/workspace/look", &b)
	r.Header.Set("Content-Type", m.FormDataContentType())
	return d.answer(r, code).Body.String()
}

func (d *desktop) backup() []byte {
	d.t.Helper()
	w := d.answer(httptest.NewRequest(http.MethodGet, "/workspace/pack", nil), http.StatusOK)
	if got := w.Header().Get("Content-Disposition"); !strings.Contains(got, `"workspace-2026-10-12.doorwright.zip"`) {
		d.t.Errorf("%q", got)
	}
	return w.Body.Bytes()
}

// A backup brings everything to a machine that has nothing, after a look.
func TestBackupIsTakenInElsewhere(t *testing.T) {
	d, empty := withDemo(t), newDesktop(t)
	d.pass("store", life)
	pack := d.backup()
	d.has(d.get("/workspace", http.StatusOK), "1 job, ", "in 1 log, 0 photos", "was read just now and fits")

	look := empty.sendPack(pack, http.StatusOK)
	empty.has(look, "of 1 log, and 0 photos", "BTO", "a new job here", "people, meters and devices", "Kari Fenn", "Take it in")
	if n := empty.journal.State().Entries; n != 0 {
		t.Fatalf("looking has taken in %d entries", n)
	}
	kept := hiddenFields(look)
	empty.post("/workspace/keep", http.StatusUnprocessableEntity, "seal", "x")
	empty.has(empty.get(empty.post("/workspace/keep", http.StatusSeeOther, kept...).Header().Get("Location"), http.StatusOK), "entries were taken in", "1 job")
	if got, want := empty.journal.State(), d.journal.State(); got.Entries != want.Entries || !bytes.Equal(got.Jobs[0].Document, want.Jobs[0].Document) {
		t.Errorf("%d entries, of %d", got.Entries, want.Entries)
	}
	empty.has(empty.post("/workspace/keep", http.StatusUnprocessableEntity, kept...).Body.String(), "Choose the file again")
	empty.has(empty.sendPack(pack, http.StatusOK), "nothing that is not here already")
}

// What clashes is told before a pack is taken in.
func TestClashIsToldBeforeAPackIsTakenIn(t *testing.T) {
	d := withDemo(t)
	other := newDesktop(t)
	other.post("/workspace/keep", http.StatusSeeOther, hiddenFields(other.sendPack(d.backup(), http.StatusOK))...)
	other.post("/people/seat", http.StatusSeeOther, "initials", "mw") // its clock is ahead, so its change counts
	for i, x := range []*desktop{d, other} {
		if _, err := x.journal.Write(context.Background(), "mw", journal.Edited{Job: "BTO", Object: "doors/staff", Field: "title", Value: []string{"North", "South"}[i]}); err != nil {
			t.Fatal(err)
		}
	}
	d.has(d.sendPack(other.backup(), http.StatusOK), "two devices changed doors/staff title without knowing of each other", "It brings 2 entries of 1 log",
		"1 field of its document changes", `doors.staff.title: now "North", then "South"`)
}

func TestWhatIsNoPackIsRefused(t *testing.T) {
	d := withDemo(t)
	broken := d.backup()
	broken[len(broken)/2] ^= 1
	before := d.journal.State().Entries
	for _, x := range []struct {
		data []byte
		says string
	}{
		{nil, "no pack"},
		{[]byte("PK"), "no pack"},
		{broken, "the pack"},
	} {
		d.has(d.sendPack(x.data, http.StatusUnprocessableEntity), x.says, "Take a pack in")
	}
	d.post("/workspace/look", http.StatusUnprocessableEntity)
	if d.journal.State().Entries != before {
		t.Error("something was taken in")
	}
}

// A device that has joined takes in nothing in the names of others.
func TestPackIsTakenInAtTheMachineOnly(t *testing.T) {
	d := withDemo(t)
	pack := d.backup()
	j, err := journal.Open(context.Background(), journal.NewMemory(), time.Now, rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	far := &desktop{t, j, New(Options{Journal: j, Now: func() record.Date { return record.Date{Year: 2026, Month: 10, Day: 12} }, Who: func(*http.Request) string { return "kf" }})}
	far.sendPack(pack, http.StatusForbidden)
	far.post("/workspace/keep", http.StatusForbidden, "seal", "x")
	far.has(far.get("/workspace", http.StatusOK), "Only at the machine itself")
}

func TestEntryIsWithdrawnAndStaysInSight(t *testing.T) {
	d := withDemo(t)
	at := "/j/BTO/d/store/do/test"
	step := d.pass("store", life)
	d.post(at, http.StatusSeeOther, "step", step, "outcome", "fail", "note", "meant for the next door")
	record := d.get("/j/BTO/record", http.StatusOK)
	all := links(record, "/j/BTO/entry/")
	if len(all) < 3 {
		t.Fatalf("only %d entries can be opened", len(all))
	}
	last, first := all[0], all[len(all)-1]
	d.has(d.get(last, http.StatusOK), "test "+step+" at store: failed", "Withdraw it in my name")
	d.post(last, http.StatusUnprocessableEntity, "why", " ")
	d.post(last, http.StatusSeeOther, "why", "wrong door")
	d.has(d.get(last, http.StatusOK), "withdrawn by Mara Wren", ": wrong door")
	d.post(last, http.StatusConflict, "why", "again")
	d.has(d.get("/j/BTO/record", http.StatusOK), "withdrawn by Mara Wren", "entry "+strings.ReplaceAll(strings.TrimPrefix(last, "/j/BTO/entry/"), "%2F", "/")+" withdrawn: wrong door")
	if page := d.get(at, http.StatusOK); strings.Contains(page, "meant for the next door") {
		t.Error("what was withdrawn still counts")
	}
	d.has(d.get(at, http.StatusOK), "witnessed by Kari Fenn")

	d.has(d.get(first, http.StatusOK), "job document brought in", "taken back by another change")
	d.post(first, http.StatusUnprocessableEntity, "why", "no")
	d.get("/j/BTO/entry/log-0/0", http.StatusNotFound)
	if words := (&handler{Options: Options{Journal: d.journal}}).withdrawnWords(d.atJob()); len(words) != 1 || !strings.Contains(words[0], "test "+step+" at store: failed, meant for the next door; withdrawn by Mara Wren") {
		t.Errorf("the paper says %q", words)
	}
}

// atJob is the demo job as requests have it.
func (d *desktop) atJob() *atJob {
	j := d.journal.State().Job("BTO")
	at := &atJob{shelf{Job: j}, newEngine().on("BTO", j.Document), "/j/BTO", &faultRuns{}}
	at.shelf.Record, at.shelf.stale = d.journal.State().Record(j, at.desk.plan)
	return at
}

// A reading that was withdrawn is told to the search no more.
func TestWithdrawnReadingIsNotSearchedWith(t *testing.T) {
	d := withDemo(t)
	all := links(d.get("/j/BTO/d/staff/do/read", http.StatusOK), "/read/one?")
	i := slices.IndexFunc(all, func(l string) bool { return strings.Contains(l, "of=volts") })
	d.post(all[i], http.StatusSeeOther, "value", "0.02", "unit", "V")
	d.has(d.get("/j/BTO/d/staff/find", http.StatusOK), ": 20 mV")
	entry := links(d.get("/j/BTO/record", http.StatusOK), "/j/BTO/entry/")[0]
	d.post(entry, http.StatusSeeOther, "why", "the leads were swapped")
	if strings.Contains(d.get("/j/BTO/d/staff/find", http.StatusOK), ": 20 mV") {
		t.Error("it is still searched with")
	}
}

// Another program may have signed photos as the camera made them: the signed bytes stay, what is shown has the picture only.
func TestPhotosOfAPackAreShownBare(t *testing.T) {
	d, other := withDemo(t), newDesktop(t)
	other.post("/workspace/keep", http.StatusSeeOther, hiddenFields(other.sendPack(d.backup(), http.StatusOK))...)
	other.post("/people/seat", http.StatusSeeOther, "initials", "mw")
	asMade := shot(t, binary.LittleEndian, 6)
	act := record.Act{By: "mw", On: record.Date{Year: 2026, Month: 10, Day: 12}}
	for caption, data := range map[string][]byte{"box": asMade, "page": []byte("<script>alert(1)</script>")} {
		p := journal.Photographed{Job: "BTO", Door: "staff", Type: "text/html", Caption: caption, Act: act}
		if _, err := other.journal.WritePhoto(context.Background(), "mw", p, data); err != nil {
			t.Fatal(err)
		}
	}
	look := d.sendPack(other.backup(), http.StatusOK)
	d.has(look, "2 photos", "1 photo has more in the file than the picture", `The photo "page" is kept, but cannot be shown: it is no JPEG or PNG picture`)
	d.post("/workspace/keep", http.StatusSeeOther, hiddenFields(look)...)

	for _, p := range d.journal.State().Job("BTO").Photos {
		kept, err := d.journal.Blob(context.Background(), p.Blob)
		if err != nil {
			t.Fatal(err)
		}
		code := http.StatusOK
		if p.Caption == "page" {
			code = http.StatusUnprocessableEntity
		} else if !bytes.Equal(kept, asMade) {
			t.Error("the signed bytes are not kept")
		}
		w := d.answer(httptest.NewRequest(http.MethodGet, "/j/BTO/photo/"+p.Blob, nil), code)
		if bytes.Contains(w.Body.Bytes(), []byte("alert(1)")) {
			t.Error("what is no picture is shown")
		}
		if code != http.StatusOK {
			continue
		}
		shown := w.Body.Bytes()
		if want, _, err := bared(asMade); err != nil || !bytes.Equal(shown, want) || bytes.Equal(shown, asMade) || w.Header().Get("Content-Type") != "image/jpeg" {
			t.Errorf("%d bytes of %d are shown as %s; %v", len(shown), len(asMade), w.Header().Get("Content-Type"), err)
		}
		samePicture(t, shown, asMade)
	}
	d.has(d.get("/workspace", http.StatusOK), "was read just now and fits")
}
