package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"doorwright/demo"
	"doorwright/job"
	"doorwright/proof"
	"doorwright/wiring"
)

// demoView is the demo with nothing left out.
func demoView(t *testing.T) *view {
	t.Helper()
	j, wrong := job.Read("demo", demo.Brackwater)
	if len(wrong) > 0 {
		t.Fatal(wrong)
	}
	return &view{loaded: &loaded{file: "demo", job: j, plan: wiring.Make(j)}}
}

// Whatever the order, the termination schedule holds both ends of every conductor once; the insulated end of a screen is
// no landing.
func TestLandingsHoldEveryEndOnce(t *testing.T) {
	for _, by := range []string{"door", "device"} {
		v := demoView(t)
		v.by = by
		s, err := landingSheet(v)
		if err != nil {
			t.Fatal(err)
		}
		seen := map[string]int{}
		for _, l := range s.(landings).Landings {
			seen[l.Conductor]++
		}
		if len(v.plan.Conductors) == 0 {
			t.Fatal("no conductors")
		}
		for _, c := range v.plan.Conductors {
			want := 2
			if c.B.Device == nil {
				want = 1
			}
			if seen[c.ID] != want {
				t.Errorf("by %s: %s is landed %d times, not %d", by, c.ID, seen[c.ID], want)
			}
		}
	}
}

// The landings of the doors one by one, and what they share, are the landings of the whole job.
func TestLandingsOfADoorArePartOfTheWhole(t *testing.T) {
	v := demoView(t)
	v.by = "door"
	whole, _ := landingSheet(v)
	count := 0
	for _, l := range whole.(landings).Landings {
		if l.Door == shared {
			count++
		}
	}
	for _, d := range v.job.Doors {
		v.door = d
		s, _ := landingSheet(v)
		if len(s.(landings).Landings) == 0 {
			t.Errorf("nothing lands at %s", d.ID)
		}
		count += len(s.(landings).Landings)
	}
	if count != len(whole.(landings).Landings) {
		t.Errorf("the doors have %d landings, the job %d", count, len(whole.(landings).Landings))
	}
}

// Where one door is asked for, a terminal of its devices is listed, taken by others, or empty: every one that something lands on is
// named, and none of those as empty.
func TestLandingsOfADoorNameWhatOthersLand(t *testing.T) {
	v := demoView(t)
	v.by = "door"
	ends := map[string]int{} // of each device
	for _, l := range v.plan.Landings() {
		ends[l.Device.ID]++
	}
	others := 0
	for _, d := range v.job.Doors {
		v.door = d
		s, _ := landingSheet(v)
		for _, dev := range s.(landings).devices {
			others += len(dev.others)
			if len(dev.landings)+len(dev.others) != ends[dev.device.ID] {
				t.Errorf("door %s, %s: %d landings of its own and %d of others, %d in all", d.ID, dev.device.ID, len(dev.landings),
					len(dev.others), ends[dev.device.ID])
			}
			for _, o := range dev.others {
				if o.Door == d.ID {
					t.Errorf("door %s, %s %s is its own", d.ID, dev.device.ID, o.Terminal)
				}
			}
		}
	}
	if others == 0 {
		t.Fatal("no device is shared")
	}
	text := printed(t, "show", "landings", "demo:brackwater", "--door", "visitor")
	for _, want := range []string{"taken by others: 1 (lead to PS1 +, shared)", "door laboratory)"} {
		if !strings.Contains(text, want) {
			t.Errorf("%s does not say %q", text, want)
		}
	}
}

// A link to earth that nobody stated is told as taken for granted: among the conductors, and where readings go by it.
func TestWhatIsTakenForGrantedIsSaid(t *testing.T) {
	stated, err := os.ReadFile("testdata/two-doors.yaml")
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "unstated.yaml")
	if err := os.WriteFile(file, []byte(strings.Replace(string(stated), "zero-volt: earthed", "zero-volt: unknown", 1)), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ call, say string }{
		{"show conductors", "link: 0 V to earth, not stated"},
		{"meter --door quay --condition off", "GRANTED Whether the 0 V of PS1 is tied to earth is not stated."},
	} {
		for _, x := range []struct {
			file string
			says bool
		}{{file, true}, {"testdata/two-doors.yaml", false}} {
			if text := printed(t, append(strings.Fields(c.call), x.file)...); strings.Contains(text, c.say) != x.says {
				t.Errorf("%s %s says %q: %v\n%s", c.call, x.file, c.say, !x.says, text)
			}
		}
	}
}

// By run, every core of every cable stands there once, used or spare, the end at the start of the run first.
func TestCoresHoldEveryCoreOnce(t *testing.T) {
	v := demoView(t)
	all := coreSheet(v).Cores
	at := 0
	for _, r := range v.job.Runs {
		for _, c := range r.Type.Cores() {
			if at >= len(all) || all[at].Run != r.ID || all[at].Core != c.Index {
				t.Fatalf("core %d of %s is missing", c.Index, r.ID)
			}
			if x := all[at]; !x.Spare && v.plan.Device(x.From.Device).Place != r.From {
				t.Errorf("core %d of %s starts at %s", c.Index, r.ID, x.From)
			}
			at++
		}
		for at < len(all) && all[at].Run == r.ID {
			at++ // screens
		}
	}
	if at == 0 || at != len(all) {
		t.Errorf("%d cores, of which %d belong to runs", len(all), at)
	}
}

// The materials are all devices of the plan and all runs.
func TestMaterialsCountEverything(t *testing.T) {
	v := demoView(t)
	s, _ := materialSheet(v)
	pieces, runs := 0.0, 0
	for _, m := range s.(materials).Materials {
		if m.Group == wiring.Cables {
			runs += len(m.Where)
			continue
		}
		pieces += float64(m.Quantity)
	}
	if int(pieces) != len(v.plan.Devices) || runs != len(v.job.Runs) || runs == 0 {
		t.Errorf("%v pieces of %d, %d runs of %d", pieces, len(v.plan.Devices), runs, len(v.job.Runs))
	}
}

// The two doors of testdata/two-doors.yaml, as printed. UPDATE=1 go test ./cmd/doorwright prints them anew; the difference
// is to be read like any other change.
func TestTwoDoorsAsPrinted(t *testing.T) {
	const file = "testdata/two-doors.yaml"
	for _, c := range []struct {
		golden string
		args   []string
	}{
		{"findings.txt", []string{"show", "findings", file, "--mends"}},
		{"landings.txt", []string{"show", "landings", file, "--door", "quay"}},
		{"reasons.txt", []string{"show", "landings", file, "--door", "yard", "--by", "device", "--reasons"}},
		{"cores.txt", []string{"show", "landings", file, "--by", "run"}},
		{"cables.txt", []string{"show", "cables", file}},
		{"materials.txt", []string{"show", "materials", file}},
		{"loads.txt", []string{"show", "loads", file}},
		{"matrix.txt", []string{"show", "matrix", file, "--door", "quay"}},
		{"landings.csv", []string{"show", "landings", file, "--door", "yard", "--format", "csv"}},
		{"findings.sarif", []string{"show", "findings", file, "--format", "sarif"}},
	} {
		got := printed(t, c.args...)
		path := filepath.Join("testdata", "golden", c.golden)
		if os.Getenv("UPDATE") != "" {
			if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if got != string(want) {
			t.Errorf("%s: %s", c.golden, firstDifference(string(want), got))
		}
	}
}

// firstDifference names the first line in which two texts differ.
func firstDifference(want, got string) string {
	w, g := strings.Split(want, "\n"), strings.Split(got, "\n")
	for i := range min(len(w), len(g)) {
		if w[i] != g[i] {
			return "kept:    " + w[i] + "\nprinted: " + g[i]
		}
	}
	return "one is longer than the other"
}

// Of the changes of a mend those are printed that last, each in one line that can be put into the document.
func TestChangesOfAMendArePrintedOnce(t *testing.T) {
	all := lasting([]proof.Change{
		{Path: "doors.a.releases", Value: "{model: release-2, side: unsecured}"},
		{Path: "doors.a.resistor", Value: "1 kohm"},
		{Path: "doors.a.settings.expects"},
		{Path: "doors.a.releases", Value: "- release-2\n- model: release-2\n  side: unsecured\n"},
		{Path: "doors.a.resistor", Value: "1000 ohm"},
		{Path: "doors.a.settings"},
		{Path: "doors.ab.settings.expects"},
	})
	var got []string
	for _, c := range all {
		got = append(got, c.Path+": "+orLeftOut(c.Value))
	}
	want := "doors.a.releases: [release-2, {model: release-2, side: unsecured}]\ndoors.a.resistor: 1000 ohm\n" +
		"doors.a.settings: (left out)\ndoors.ab.settings.expects: (left out)"
	if strings.Join(got, "\n") != want {
		t.Errorf("printed as\n%s\nnot\n%s", strings.Join(got, "\n"), want)
	}
}

// A list of findings never reads as if single faults had been tried when they were not.
func TestFindingsSayThatFaultsWereNotTried(t *testing.T) {
	without := printed(t, "show", "findings", "demo:brackwater", "--door", "staff", "--faults", "none")
	if !strings.Contains(without, "single faults not tried") {
		t.Errorf("without faults: %s", without)
	}
	with := printed(t, "show", "findings", "demo:brackwater", "--door", "staff")
	if strings.Contains(with, "not tried") {
		t.Errorf("with faults: %s", with)
	}
}

// A charger that gives less than 80 % in 24 h takes is said to be too little, and so is what the doors leave for it.
func TestAChargerThatGivesTooLittleIsSaidSo(t *testing.T) {
	for gives, want := range map[[2]number]string{
		{1, 3}: "The charger gives 1 A; 80 % in 24 h needs 1.49 A: TOO LITTLE.",
		{2, 3}: "The charger gives 2 A; 80 % in 24 h needs 1.49 A.",
		{2, 1}: "The charger gives 2 A, but the doors leave 1 A of what the supply gives; 80 % in 24 h needs 1.49 A: TOO LITTLE.",
		{0, 3}: "What the charger gives is not stated; 80 % in 24 h needs 1.49 A.",
	} {
		var b strings.Builder
		l := supplyLoad{Standby: &standbyHours{Charger: gives[0], Left: gives[1], Charging: 1.49}}
		l.hours(newPage(&b, false, paperWidth))
		if !strings.Contains(strings.Join(strings.Fields(b.String()), " "), want) {
			t.Errorf("a charger of %v A, %v A left: %s", gives[0], gives[1], b.String())
		}
	}
}
