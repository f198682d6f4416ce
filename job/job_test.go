package job

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"doorwright/device"
	"doorwright/rules"
	"doorwright/unit"
)

// changed makes a job of the plain example after a change of its document.
func changed(t testing.TB, change func(d *Document)) *Job {
	t.Helper()
	d := mustRead(t, "testdata/plain.yaml").Document.Clone()
	change(d)
	j, problems := Resolve(d, nil)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return j
}

func (j *Job) assumed(where string) *Assumption {
	for i, a := range j.Assumed {
		if a.Where == where {
			return &j.Assumed[i]
		}
	}
	return nil
}

func TestWhatBearsOnLifeIsJudgedAsTheStrictestCase(t *testing.T) {
	j := mustRead(t, "testdata/plain.yaml")
	d := j.Doors[0]
	if d.Escape != EscapeBoth || d.EscapeStated || !d.FireRated || d.FireRatedStated {
		t.Errorf("escape %v (stated %v), fire door %v (stated %v)", d.Escape, d.EscapeStated, d.FireRated, d.FireRatedStated)
	}
	if d.Locks[0].HandleFrees || d.Locks[0].HandleStated {
		t.Error("a handle that nobody mentioned frees the lock")
	}
	if want := []rules.Family{rules.Strictest()}; !reflect.DeepEqual(d.Families, want) || d.FamiliesStated {
		t.Errorf("families %v", d.Families)
	}
	if s := j.Supplies[0]; s.ZeroStated {
		t.Error("0 V counts as known")
	}
	for _, where := range []string{
		"rules", "supplies.PS1.zero-volt", "doors.D1.escape", "doors.D1.fire-rated", "doors.D1.locks.1.handle",
	} {
		if a := j.assumed(where); a == nil || !a.Life {
			t.Errorf("%s is not listed as bearing on life: %v", where, a)
		}
	}
}

func TestWhatIsStatedIsNotListedAsAssumed(t *testing.T) {
	no := false
	j := changed(t, func(d *Document) {
		d.Rules = []string{"uk-a"}
		d.Supplies[0].Value.Zero = "floating"
		door := &d.Doors[0].Value
		door.Escape, door.FireRated, door.Locks[0].Handle = "none", &no, "none"
	})
	for _, a := range j.Assumed {
		if a.Life {
			t.Errorf("listed though stated: %v", a)
		}
	}
	if d := j.Doors[0]; d.Escape != EscapeNone || d.FireRated || d.Families[0].ID != "uk-a" || j.Supplies[0].Earthed {
		t.Errorf("not as stated: %+v", d)
	}
}

func TestDevicesStandAtTheirUsualPlaces(t *testing.T) {
	j := changed(t, func(d *Document) {
		door := &d.Doors[0].Value
		door.ExitReader, door.Sounder = &FittedDoc{Model: "reader-pulse"}, &FittedDoc{Model: "sounder-12"}
		door.Watch, door.Interpose = &FittedDoc{Model: "relay-12"}, &FittedDoc{Model: "relay-12"}
		door.Loop = &FittedDoc{Model: "door-loop"}
		door.Releases = append(door.Releases, ReleaseDoc{Model: "release-1", Side: "unsecured"})
	})
	want := map[string]string{
		"D1.entry": "D1.out", "D1.exit-reader": "D1.in", "D1.lock1": "D1.head", "D1.exit1": "D1.in", "D1.contact1": "D1.head",
		"D1.release1": "D1.in", "D1.release2": "D1.out", "D1.fire": "D1.box", "D1.sounder": "D1.in", "D1.watch": "D1.box",
		"D1.interposing": "D1.box", "D1.loop": "D1.head",
	}
	for _, f := range j.Doors[0].Fitted() {
		if f.Place.ID != want[f.ID] {
			t.Errorf("%s stands at %s, want %s", f.ID, f.Place.ID, want[f.ID])
		}
		delete(want, f.ID)
	}
	if len(want) > 0 {
		t.Errorf("not fitted: %v", want)
	}
	for _, p := range j.Places {
		if unsecured := p.ID == "D1.out"; p.Unsecured != unsecured || p.Door != "D1" {
			t.Errorf("place %+v", p)
		}
	}
}

func runIDs(j *Job) []string {
	var ids []string
	for _, r := range j.Runs {
		ids = append(ids, r.ID)
	}
	return ids
}

func TestRunsTakenByDefault(t *testing.T) {
	run := func(id, from, to string) func(*Document) {
		return func(d *Document) {
			r := RunDoc{From: from, To: to, Cable: "4x0.75", Length: 5}
			d.Runs = append(d.Runs, struct {
				Key   string
				Value RunDoc
			}{id, r})
		}
	}
	place := func(d *Document, id string) {
		d.Places = append(d.Places, struct {
			Key   string
			Value PlaceDoc
		}{id, PlaceDoc{}})
	}
	for _, c := range []struct {
		name   string
		change func(*Document)
		want   string
	}{
		{"controller above the door", func(*Document) {}, "D1.out.s D1.head.p D1.head.s D1.in.p D1.in.s"},
		{
			"a written run to the head replaces both there", run("R1", "D1.box", "D1.head"),
			"R1 D1.out.s D1.in.p D1.in.s",
		},
		{
			"cabinet elsewhere: the box above the door has the fire signal",
			func(d *Document) {
				place(d, "CAB1")
				d.Controllers[0].Value.Place, d.Supplies[0].Value.Place = "CAB1", "CAB1"
			},
			"D1.out.s D1.head.p D1.head.s D1.in.p D1.in.s D1.box.p",
		},
		{
			"supply elsewhere",
			func(d *Document) {
				place(d, "CAB1")
				d.Supplies[0].Value.Place = "CAB1"
			},
			"D1.out.s D1.head.p D1.head.s D1.in.p D1.in.s PS1.C1.p",
		},
		{
			"a device at a place of its own",
			func(d *Document) {
				place(d, "DESK")
				d.Doors[0].Value.Exit[0].Place = "DESK"
			},
			"D1.out.s D1.head.p D1.head.s D1.to-DESK.s D1.in.p D1.in.s",
		},
		{
			"a bus reader",
			func(d *Document) { d.Doors[0].Value.Entry.Model = "reader-485" },
			"D1.out.p D1.out.d D1.head.p D1.head.s D1.in.p D1.in.s",
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			j := changed(t, c.change)
			if got := strings.Join(runIDs(j), " "); got != c.want {
				t.Errorf("got  %s\nwant %s", got, c.want)
			}
			for _, r := range j.Runs {
				written := r.ID == "R1"
				if a := j.assumed("runs." + r.ID); r.Assumed == written || (a == nil) != written {
					t.Errorf("%s: assumed %v, listed %v", r.ID, r.Assumed, a)
				}
				if !written && r.Designed != 15 {
					t.Errorf("%s is %v long", r.ID, r.Designed)
				}
			}
		})
	}
}

func TestNorthAmericanMakeUpTakesGaugeCables(t *testing.T) {
	j := changed(t, func(d *Document) { d.MakeUp = "north-american" })
	if len(j.Runs) == 0 {
		t.Fatal("no runs")
	}
	for _, r := range j.Runs {
		if r.Type.MakeUp != "north-american" {
			t.Errorf("%s is %s", r.ID, r.TypeID)
		}
	}
}

func TestMeasuresGoWithTheCablesUnlessTheyAreStated(t *testing.T) {
	for _, x := range []struct {
		makeUp, stated string
		want           unit.Measures
	}{
		{"", "", unit.Metric},
		{"iec", "", unit.Metric},
		{"north-american", "", unit.Feet},
		{"north-american", "metric", unit.Metric},
		{"iec", "feet", unit.Feet},
	} {
		j := changed(t, func(d *Document) { d.MakeUp, d.Measures = x.makeUp, x.stated })
		if j.Measures != x.want {
			t.Errorf("make-up %q, measures %q: %s", x.makeUp, x.stated, j.Measures)
		}
	}
}

func TestReaderDataLiesInAScreen(t *testing.T) {
	for _, makeUp := range []string{"iec", "north-american"} {
		for _, model := range []string{"reader-pulse", "reader-serial", "reader-485"} {
			j := changed(t, func(d *Document) { d.MakeUp, d.Doors[0].Value.Entry.Model = makeUp, model })
			screened := slices.ContainsFunc(j.Runs, func(r *Run) bool {
				return r.To.ID == "D1.out" && r.Carries.Data && len(r.Type.Screens()) > 0
			})
			if !screened {
				t.Errorf("%s, %s: no screened cable to the reader", makeUp, model)
			}
		}
	}
}

func TestControllerIsSetAsTheDoorSays(t *testing.T) {
	c := mustRead(t, "testdata/rich.yaml").Controllers[0]
	if len(c.Settings.Channels) != 2 {
		t.Fatalf("%d channels", len(c.Settings.Channels))
	}
	closed := device.InputSettings{Used: true, Rest: "closed", Scheme: device.SchemeDouble, Series: 4700, Parallel: 4700}
	got := c.Settings.Channels[0]
	if !got.EnergiseToLock || got.UnlockFor != 8 || got.HeldAfter != 45 || got.ExitUnlocks || got.Contact != closed {
		t.Errorf("channel 1: %+v", got)
	}
	got = c.Settings.Channels[1]
	if got.EnergiseToLock || got.UnlockFor != usualUnlock || got.HeldAfter != usualHeld || !got.ExitUnlocks {
		t.Errorf("channel 2: %+v", got)
	}
	// The handle contact of the lock asks to leave; it is open until the handle is turned.
	if want := (device.InputSettings{Used: true, Rest: "open", Scheme: device.SchemeNone}); got.Exit != want {
		t.Errorf("exit input of channel 2: %+v", got.Exit)
	}
	closed.Series, closed.Parallel = 1000, 1000
	if got.Aux != closed {
		t.Errorf("auxiliary input of channel 2: %+v", got.Aux)
	}
}

// Where the resistors of a supervised line sit is common practice without a source: a single one in series with a
// contact that is closed at rest, across one that is open at rest; of two, one in series and one across.
func TestResistorsThatAnInputExpects(t *testing.T) {
	for _, c := range []struct {
		scheme           device.Scheme
		rest             string
		series, parallel unit.Ohm
	}{
		{device.SchemeNone, "closed", 0, 0},
		{device.SchemeNone, "open", 0, 0},
		{device.SchemeSingle, "closed", 2200, 0},
		{device.SchemeSingle, "open", 0, 2200},
		{device.SchemeDouble, "closed", 2200, 2200},
		{device.SchemeDouble, "open", 2200, 2200},
	} {
		got := supervised(device.InputSettings{Used: true, Rest: c.rest}, c.scheme, 2200)
		if got.Series != c.series || got.Parallel != c.parallel || got.Scheme != c.scheme {
			t.Errorf("%s, %s at rest: %+v", c.scheme, c.rest, got)
		}
	}
}

func TestBoardOutputsAreSetAsTheSupplySays(t *testing.T) {
	s := mustRead(t, "testdata/rich.yaml").Supplies[0]
	want := make([]device.OutputSettings, 8)
	want[0].Releases, want[1].Releases, want[2] = true, true, device.OutputSettings{Releases: true, Latches: true}
	if !reflect.DeepEqual(s.Board.Settings.Outputs, want) {
		t.Errorf("outputs %+v", s.Board.Settings.Outputs)
	}
}

func TestReadersOnOneLineShareASpeedAndDifferInAddress(t *testing.T) {
	zero := 0
	j := changed(t, func(d *Document) {
		door := &d.Doors[0].Value
		door.Entry = &FittedDoc{Model: "reader-485"}
		door.ExitReader = &FittedDoc{Model: "reader-485", Address: &zero, Speed: 38400, Ends: "on"}
	})
	entry, exit := j.Doors[0].Entry, j.Doors[0].ExitReader
	if entry.Settings.Speed != 38400 || exit.Settings.Speed != 38400 || j.Controllers[0].Settings.Speed != 38400 {
		t.Errorf("speeds %v, %v, %v", entry.Settings.Speed, exit.Settings.Speed, j.Controllers[0].Settings.Speed)
	}
	if entry.Settings.Address != 1 || exit.Settings.Address != 0 ||
		!exit.Settings.Terminator || entry.Settings.Terminator {
		t.Errorf("settings %+v, %+v", entry.Settings, exit.Settings)
	}
}

// IEC 60839-11-5: addresses 00 to 7E hex, 7F is the broadcast.
func TestAddressesOfABus(t *testing.T) {
	for address, good := range map[int]bool{-1: false, 0: true, 126: true, 127: false, 255: false} {
		d := mustRead(t, "testdata/plain.yaml").Document.Clone()
		d.Doors[0].Value.Entry = &FittedDoc{Model: "reader-485", Address: &address}
		if _, problems := Resolve(d, nil); (len(problems) == 0) != good {
			t.Errorf("address %d: %v", address, problems)
		}
	}
}

func TestIDsAreUniqueOverTheJob(t *testing.T) {
	for _, file := range files(t, "testdata/*.yaml") {
		j := mustRead(t, file)
		seen := map[string]bool{}
		note := func(id string) {
			if id == "" || seen[id] {
				t.Errorf("%s: %q is empty or stands twice", file, id)
			}
			seen[id] = true
		}
		for _, p := range j.Places {
			note(p.ID)
		}
		for _, s := range j.Supplies {
			for _, f := range []*Fitted{&s.Fitted, s.Battery, s.Board, s.Fire} {
				if f != nil {
					note(f.ID)
				}
			}
		}
		for _, c := range j.Controllers {
			note(c.ID)
		}
		for _, d := range j.Doors {
			note(d.ID)
			for _, f := range d.Fitted() {
				note(f.ID)
				if f.Model == nil || f.Place == nil || f.Title == "" || !strings.HasPrefix(f.Where, "doors."+d.ID+".") {
					t.Errorf("%s: incomplete: %+v", file, f)
				}
			}
		}
		for _, r := range j.Runs {
			note(r.ID)
			if r.Type == nil || r.From == nil || r.To == nil || r.Length() <= 0 {
				t.Errorf("%s: incomplete: %+v", file, r)
			}
		}
	}
}

func TestResolvingWithoutASourceMakesTheSameJob(t *testing.T) {
	for _, file := range files(t, "testdata/*.yaml") {
		j := mustRead(t, file)
		again, problems := Resolve(j.Document.Clone(), nil)
		if len(problems) > 0 || !reflect.DeepEqual(j, again) {
			t.Errorf("%s: another job, %v", file, problems)
		}
	}
}

func TestResolvingAnEmptyDocumentNamesWhatIsMissing(t *testing.T) {
	j, problems := Resolve(&Document{}, nil)
	var where []string
	for _, p := range problems {
		where = append(where, p.Where)
	}
	if j != nil || !slices.Equal(where, []string{"doors", "job", "title"}) {
		t.Errorf("job %v, problems %v", j, problems)
	}
}

func TestTooLargeAJobIsRefusedAtOnce(t *testing.T) {
	d := many(t, maxEntries+1)
	_, problems := Resolve(d, nil)
	if len(problems) != 2 {
		t.Errorf("problems %v", problems)
	}
}

func TestManyProblemsAreCut(t *testing.T) {
	d := many(t, maxEntries)
	for i := range d.Doors {
		d.Doors[i].Value.Controller = "NOWHERE"
	}
	if _, problems := Resolve(d, nil); len(problems) != maxProblems {
		t.Errorf("%d problems", len(problems))
	}
}

// many is a job of n doors like that of the plain example, each with a controller of its own.
func many(t testing.TB, n int) *Document {
	t.Helper()
	plain := mustRead(t, "testdata/plain.yaml").Document
	d := plain.Clone()
	d.Doors, d.Controllers = nil, nil
	for i := range n {
		one := plain.Clone()
		c, door := one.Controllers[0], one.Doors[0]
		c.Key, door.Key = fmt.Sprintf("C%d", i+1), fmt.Sprintf("D%d", i+1)
		c.Value.Place, door.Value.Controller = door.Key+".box", c.Key
		d.Controllers, d.Doors = append(d.Controllers, c), append(d.Doors, door)
	}
	return d
}

func BenchmarkResolve8Doors(b *testing.B) {
	d := many(b, 8)
	for b.Loop() {
		if _, problems := Resolve(d, nil); len(problems) > 0 {
			b.Fatal(problems)
		}
	}
}

func BenchmarkCloneAndResolve8Doors(b *testing.B) {
	d := many(b, 8)
	for b.Loop() {
		if _, problems := Resolve(d.Clone(), nil); len(problems) > 0 {
			b.Fatal(problems)
		}
	}
}

func BenchmarkRead8Doors(b *testing.B) {
	text, err := Print(many(b, 8))
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, problems := Read("job.yaml", text); len(problems) > 0 {
			b.Fatal(problems)
		}
	}
}
