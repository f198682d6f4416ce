package find

import (
	"strings"

	"doorwright/document"
	"doorwright/job"
	"doorwright/unit"
)

// AsFound is a door that somebody else wired, as far as it is known after a look round. What is left out is taken as is
// usual, and said so; lengths are guesses until a loop is measured. Models are the generic ones of the list of models.
//
//	title: Back door
//	lock: magnet-12
//	controller: controller-1-12
//	supply: supply-12-5
//	battery: battery-12-7
//	entry: reader-pulse
//	exit: [exit-button]
//	contact: contact-surface
//	release: release-2
//	lands: nc
type AsFound struct {
	Title       string     `yaml:"title,omitempty" doc:"what people call the door"`
	Lock        string     `yaml:"lock" need:"the model nearest to the lock, such as magnet-12 or strike-12-secure" doc:"model nearest to the lock"`
	Controller  string     `yaml:"controller,omitempty" doc:"model nearest to the controller; default controller-1-12, or -24 on 24 V: that of the supply, or of the lock when the supply is not given"`
	Supply      string     `yaml:"supply,omitempty" doc:"model nearest to the supply; default supply-12-5 or supply-24-5"`
	Battery     string     `yaml:"battery,omitempty" doc:"model nearest to the battery; none when left out"`
	Feed        string     `yaml:"feed,omitempty" one:"controller|supply" doc:"where the lock gets its power from; default supply"`
	Entry       string     `yaml:"entry,omitempty" doc:"model nearest to the reader"`
	ExitReader  string     `yaml:"exit-reader,omitempty" doc:"model nearest to the reader inside"`
	Exit        []string   `yaml:"exit,omitempty" doc:"models nearest to the exit devices"`
	Contact     string     `yaml:"contact,omitempty" doc:"model nearest to the door contact"`
	Release     string     `yaml:"release,omitempty" doc:"model nearest to the manual release"`
	Into        string     `yaml:"release-into,omitempty" one:"feed|input" doc:"what the release acts on; default feed"`
	Fire        string     `yaml:"fire,omitempty" doc:"model nearest to the fire interface"`
	Lands       string     `yaml:"lands,omitempty" one:"nc|no" doc:"relay contact the lock is landed on; default what the lock needs"`
	Supervision string     `yaml:"supervision,omitempty" one:"none|single|double" doc:"end-of-line resistors; default none"`
	Resistor    unit.Ohm   `yaml:"resistor,omitempty" doc:"their value; default 4.7 kohm"`
	Cable       unit.Metre `yaml:"cable-length,omitempty" doc:"length of the cables to the door, guessed; default 15 m"`
	ZeroVolt    string     `yaml:"zero-volt,omitempty" one:"earthed|floating|unknown" doc:"is 0 V joined to earth; default unknown"`
}

// FoundDoor is the id of a door as found.
const FoundDoor = "door"

// ReadAsFound reads a door as found and makes a job of it, with all problems at once. What was not known and is taken as
// usual stands in the assumptions of the job.
func ReadAsFound(file string, data []byte) (*job.Job, document.Problems) {
	var a AsFound
	src, problems := document.Read(file, data, &a)
	for _, p := range problems {
		if p.Where == "" { // the text as a whole could not be read
			return nil, problems
		}
	}
	j, more := job.Resolve(a.document(), nil)
	for _, p := range more {
		problems = append(problems, src.Problem(a.at(p.Where), p.Found, p.Want))
	}
	if len(problems) > 0 {
		return nil, problems.Sorted()
	}
	return j, nil
}

// document is the door as a job. The controller is taken to be for what the supply gives, and the supply for the lock: a lock
// for another voltage than its supply gives may be the very fault, and is kept as it was told.
func (a *AsFound) document() *job.Document {
	volts := "12"
	if strings.Contains(a.Supply, "-24") || a.Supply == "" && strings.Contains(a.Lock, "-24") {
		volts = "24"
	}
	usual := func(given, otherwise string) string {
		if given == "" {
			return otherwise
		}
		return given
	}
	no := false
	door := job.DoorDoc{
		Title: usual(a.Title, "Door as found"), Escape: "out", FireRated: &no, Controller: "C", Supervision: a.Supervision,
		Resistor: a.Resistor, Length: a.Cable, Settings: job.SettingsDoc{Contact: a.Lands},
		Locks: []job.LockDoc{{Model: a.Lock, Handle: "none", Feed: map[bool]string{true: "controller", false: "PS"}[a.Feed == "controller"]}},
	}
	fitted := func(model string) *job.FittedDoc {
		if model == "" {
			return nil
		}
		return &job.FittedDoc{Model: model}
	}
	door.Entry, door.ExitReader, door.Fire = fitted(a.Entry), fitted(a.ExitReader), fitted(a.Fire)
	for _, e := range a.Exit {
		door.Exit = append(door.Exit, job.FittedDoc{Model: e})
	}
	if a.Contact != "" {
		door.Contacts = []job.FittedDoc{{Model: a.Contact}}
	}
	if a.Release != "" {
		door.Releases = []job.ReleaseDoc{{Model: a.Release, Into: a.Into}}
	}
	place := FoundDoor + ".box"
	return &job.Document{
		Job: "FOUND", Title: "A door as found",
		Supplies: document.Map[job.SupplyDoc]{{Key: "PS", Value: job.SupplyDoc{
			Model: usual(a.Supply, "supply-"+volts+"-5"), Place: place, Battery: a.Battery, Zero: usual(a.ZeroVolt, "earthed"),
		}}},
		Controllers: document.Map[job.ControllerDoc]{{Key: "C", Value: job.ControllerDoc{
			Model: usual(a.Controller, "controller-1-"+volts), Place: place, Feed: "PS",
		}}},
		Doors: document.Map[job.DoorDoc]{{Key: FoundDoor, Value: door}},
	}
}

// at is the key of a door as found from which a value of its job came.
func (a *AsFound) at(path string) string {
	for _, x := range []struct{ part, key string }{
		{"supplies.PS.battery", "battery"},
		{"supplies.PS", "supply"},
		{"controllers.C", "controller"},
		{".locks", "lock"},
		{".exit-reader", "exit-reader"},
		{".exit", "exit"},
		{".entry", "entry"},
		{".contacts", "contact"},
		{".releases", "release"},
		{".fire", "fire"},
		{".resistor", "resistor"},
		{".cable-length", "cable-length"},
		{".settings", "lands"},
	} {
		if strings.Contains(path, x.part) {
			return x.key
		}
	}
	return path
}
