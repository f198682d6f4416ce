package web

import (
	"context"
	"fmt"
	"net/http"
	"regexp"
	"strings"
	"testing"
	"time"

	"doorwright/demo"
	"doorwright/journal"
	"doorwright/proof"
)

// faultsOf waits for the part of a door's page about single faults until it says something.
func (d *desktop) faultsOf(door, says string) string {
	d.t.Helper()
	for {
		page := d.get("/j/BTO/d/"+door+"/faults", http.StatusOK)
		if strings.Contains(page, says) {
			return page
		}
		if !strings.Contains(page, "data-later") {
			d.t.Fatalf("nothing more will come, and it does not say %q:\n%s", says, page)
		}
		time.Sleep(20 * time.Millisecond)
	}
}

// The page of a door says what single faults come to, and the figures are those of the engine.
func TestDoorSaysWhatSingleFaultsComeTo(t *testing.T) {
	d := withDemo(t)
	d.has(d.get("/j/BTO/d/plant", http.StatusOK), "With every single fault", "The plan as it is now is being tried")
	page := d.faultsOf("plant", "Of the plan as it is now, revision A.")
	at := d.atJob()
	report := proof.TryFaults(at.desk.exam.Result, proof.SingleFaults, at.desk.door("plant"), nil)
	x := resultOf(report)
	says, class := x.words(errorsOf(at.desk.exam.Findings, "plant"))
	d.has(page, says, `class="found `+class+`"`)
	if len(x.findings) == 0 {
		t.Fatal("the door shows nothing with single faults: the test tries nothing")
	}
	for _, f := range x.findings {
		d.has(page, f.What)
	}
	d.has(says, "424 single faults", fmt.Sprintf("%d take one of the ways out; %d break a requirement.", x.lost, x.broken))
}

// A door with errors as it is has no tick for faults that break nothing more, and says how many take a way out.
func TestNoTickForFaultsAtADoorWithErrors(t *testing.T) {
	d := newDesktop(t)
	if _, err := d.journal.Write(context.Background(), "mw", journal.Imported{Job: "BTO", Document: string(demo.Flawed)}); err != nil {
		t.Fatal(err)
	}
	page := d.faultsOf("staff", "Of the plan as it is now")
	errors := errorsOf(d.atJob().desk.exam.Findings, "staff")
	if errors == 0 {
		t.Fatal("the door has no errors: the test tries nothing")
	}
	d.has(page, counted(errors, "error", "errors")+" by calculation as it is", "67 take one of the ways out.")
	row := regexp.MustCompile(`(?s)<a href="/j/BTO/d/staff">.*?</tr>`).FindString(d.get("/j/BTO", http.StatusOK))
	d.has(row, "nothing more; 67 take a way out")
	if strings.Contains(page, "found good") || strings.Contains(row, "found good") {
		t.Errorf("a door with errors is called good:\n%s\n%s", page, row)
	}
}

// After a change the last verdict is still shown, as one of an older plan, until the new plan is tried.
func TestVerdictOfAnOlderPlanSaysSo(t *testing.T) {
	d := withDemo(t)
	old := d.faultsOf("store", "Of the plan as it is now")
	d.has(old, "None breaks a requirement")
	if _, err := d.journal.Write(context.Background(), "mw", journal.Edited{Job: "BTO", Object: "doors/store", Field: "cable-length", Value: "18 m"}); err != nil {
		t.Fatal(err)
	}
	page := d.get("/j/BTO/d/store/faults", http.StatusOK)
	d.has(page, "of an older plan, revision A as it was before the last changes", "is being tried", "None breaks a requirement", "data-later")
	d.has(d.get("/j/BTO", http.StatusOK), "nothing, of an older plan", "being tried")
	d.faultsOf("store", "Of the plan as it is now")
}

// What single faults break is mended in place, as the other findings are.
func TestFaultIsMendedInPlace(t *testing.T) {
	d := newDesktop(t)
	d.post("/people", http.StatusSeeOther, "name", "Mara Wren", "initials", "mw")
	if _, err := d.journal.Write(context.Background(), "mw", journal.Imported{Job: "BTO", Document: string(demo.Flawed)}); err != nil {
		t.Fatal(err)
	}
	mended := ""
	for _, x := range d.atJob().desk.job.Doors {
		for page := d.faultsOf(x.ID, "Of the plan as it is now"); ; page = d.get("/j/BTO/d/"+x.ID+"/faults", http.StatusOK) {
			if !strings.Contains(page, "data-later") {
				if strings.Contains(page, "What mends it") {
					mended = page
				}
				break
			}
			time.Sleep(50 * time.Millisecond)
		}
		if mended != "" {
			form := mended[strings.Index(mended, "What mends it"):]
			form = form[:strings.Index(form, "</form>")]
			at := "/j/BTO/d/" + x.ID
			look := d.post(at+"/plan", http.StatusOK, hiddenFields(form)...).Body.String()
			d.has(look, "0 findings made worse")
			gone := regexp.MustCompile(`<article class="finding [a-z]+">\s*<p><b>[a-z]+</b> ([^<]*)`).FindAllStringSubmatch(mended[:strings.Index(mended, "What mends it")], -1)
			d.post("/j/BTO/keep", http.StatusSeeOther, hiddenFields(look)...)
			if page := d.faultsOf(x.ID, "Of the plan as it is now"); strings.Contains(page, gone[len(gone)-1][1]) {
				t.Errorf("%q is still there after it was mended", gone[len(gone)-1][1])
			}
			return
		}
	}
	t.Fatal("no finding about faults has a mend")
}

// Advice about faults is accepted with a reason, as other advice is.
func TestFaultIsAccepted(t *testing.T) {
	d := withDemo(t)
	page := d.faultsOf("plant", "Accept it")
	what := regexp.MustCompile(`name="finding" value="([^"]*)"`).FindStringSubmatch(page)
	if what == nil {
		t.Fatal("there is nothing to accept")
	}
	d.post("/j/BTO/d/plant/accept", http.StatusUnprocessableEntity, "finding", what[1])
	d.post("/j/BTO/d/plant/accept", http.StatusSeeOther, "finding", what[1], "reason", "guarded by day")
	d.has(d.get("/j/BTO/d/plant/faults", http.StatusOK), "Accepted by Mara Wren", "guarded by day")
}

// The register tries every door while nobody asks for anything, and the page of a door does not wait for it.
func TestRegisterFollowsWithSingleFaults(t *testing.T) {
	d := withDemo(t)
	d.has(d.get("/j/BTO", http.StatusOK), "with every single fault", "being tried")
	at := d.atJob()
	d.faultsOf("gauge", "Of the plan as it is now")
	page := d.get("/j/BTO", http.StatusOK)
	d.has(page, "of 8 doors, of the plan as it is now, revision A")
	if n := strings.Count(page, "being tried"); n == 0 || n >= len(at.desk.job.Doors) {
		t.Errorf("%d of %d doors are still being tried", n, len(at.desk.job.Doors))
	}
}

// A change begins the count with the doors that it leaves as they are known, on the first page that is shown after it.
func TestCountOfDoorsTriedBeginsWithThoseThatAreKnown(t *testing.T) {
	d := withDemo(t)
	for !strings.Contains(d.get("/j/BTO/faults", http.StatusOK), "is tried at 8 of 8 doors") {
		time.Sleep(20 * time.Millisecond)
	}
	if _, err := d.journal.Write(context.Background(), "mw", journal.Edited{Job: "BTO", Object: "doors/store", Field: "cable-length", Value: "18 m"}); err != nil {
		t.Fatal(err)
	}
	page := d.get("/j/BTO/faults", http.StatusOK)
	said := regexp.MustCompile(`tried at (\d) of 8 doors`).FindStringSubmatch(page)
	if said == nil || said[1] < "4" || said[1] == "8" {
		t.Fatalf("on the first page after a change of one door: %q", said)
	}
	if n := 8 - strings.Count(page, "being tried</td>"); fmt.Sprint(n) != said[1] {
		t.Errorf("figures stand at %d doors, it says %s", n, said[1])
	}
	d.has(page, `id="tried" data-later`)
}
