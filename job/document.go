// Package job is the document that says what is fitted at the doors of a site, and its validated form.
//
// The document says what is fitted, never how it is wired: the wiring plan is made from it. YAML is for people, JSON
// for programs; both are read by the same rules, against one published JSON Schema made from the types here. What is
// left out gets a stated default, listed in Job.Assumed; what bears on life has no lenient default and is judged as
// the strictest case.
package job

import (
	"doorwright/cable"
	"doorwright/device"
	"doorwright/document"
	"doorwright/unit"
)

// Document is a job as it is written.
type Document struct {
	Job         string                  `yaml:"job" need:"the permanent id of the job, such as BTO" doc:"permanent id of the job"`
	Title       string                  `yaml:"title" need:"what the job is called" doc:"what the job is called"`
	Revision    string                  `yaml:"revision,omitempty" doc:"revision of this document"`
	Rules       []string                `yaml:"rules,omitempty" doc:"rule families that apply; left out, the strictest case is judged"`
	MakeUp      string                  `yaml:"make-up,omitempty" one:"iec|north-american" doc:"make-up of cables chosen by default; default iec"`
	Measures    string                  `yaml:"measures,omitempty" one:"metric|feet" doc:"how lengths are told, whatever they were written in; default feet with north-american cables, else metric"`
	Temperature unit.Band[unit.Celsius] `yaml:"temperature,omitempty" doc:"range of the surroundings of cables and devices; default 0 C to 40 C"`

	Places      document.Map[PlaceDoc]      `yaml:"places,omitempty" doc:"where things are, apart from the places each door brings along"`
	Supplies    document.Map[SupplyDoc]     `yaml:"supplies,omitempty" doc:"supplies with their batteries"`
	Controllers document.Map[ControllerDoc] `yaml:"controllers,omitempty" doc:"controllers that serve the doors"`
	Doors       document.Map[DoorDoc]       `yaml:"doors" need:"at least one door" doc:"the doors, by permanent id"`
	Runs        document.Map[RunDoc]        `yaml:"runs,omitempty" doc:"cables from place to place"`

	Models document.Map[device.Model] `yaml:"models,omitempty" doc:"units of this job that are not built in, from their data sheets"`
	Cables document.Map[cable.Type]   `yaml:"cables,omitempty" doc:"cable types of this job that are not built in"`
}

// PlaceDoc is a place as written.
type PlaceDoc struct {
	Title    string `yaml:"title,omitempty" doc:"what the place is called"`
	Building string `yaml:"building,omitempty" doc:"building it is in; default main"`
	Side     string `yaml:"side,omitempty" one:"secured|unsecured" doc:"who can stand there; default secured"`
}

// SupplyDoc is a supply as written.
type SupplyDoc struct {
	Title    string      `yaml:"title,omitempty" doc:"what it is called"`
	Model    string      `yaml:"model" need:"the model of the supply, such as supply-12-5" doc:"model of the supply"`
	Place    string      `yaml:"place" need:"the place it is mounted at" doc:"place it is mounted at"`
	Battery  string      `yaml:"battery,omitempty" doc:"model of the standby battery; none if left out"`
	Zero     string      `yaml:"zero-volt,omitempty" one:"earthed|floating|unknown" doc:"is its 0 V joined to earth; unknown tries both; default unknown"`
	Standby  unit.Second `yaml:"standby,omitempty" doc:"hours asked of the battery; default as the rules ask, else 4 h"`
	WorksTo  unit.Volt   `yaml:"works-to,omitempty" doc:"battery voltage down to which everything must work; default 1.75 V for each cell"`
	Board    string      `yaml:"board,omitempty" doc:"model of a distribution board at the supply, with fused outputs"`
	Fire     *FittedDoc  `yaml:"fire,omitempty" doc:"fire signal at the board's fire input"`
	Reset    *FittedDoc  `yaml:"reset,omitempty" doc:"key switch at the board's reset input"`
	Released []int       `yaml:"released,omitempty" doc:"board outputs that go off on the fire signal"`
	Latching []int       `yaml:"latching,omitempty" doc:"of those, the outputs that stay off until reset"`
	Tells    string      `yaml:"tells,omitempty" doc:"door whose controller learns that a fuse of the board has opened"`
}

// ControllerDoc is a controller as written.
type ControllerDoc struct {
	Title   string     `yaml:"title,omitempty" doc:"what it is called"`
	Model   string     `yaml:"model" need:"the model of the controller, such as controller-1-12" doc:"model of the controller"`
	Place   string     `yaml:"place" need:"the place it is mounted at, such as D1.box" doc:"place it is mounted at"`
	Feed    string     `yaml:"feed" need:"the supply that feeds it, such as PS1, or PS1/3 for output 3 of its board" doc:"what feeds it: supply, or supply/output"`
	Network NetworkDoc `yaml:"network,omitempty" doc:"network data, for the schedules"`
}

// NetworkDoc is the network data of a controller. It is only recorded.
type NetworkDoc struct {
	Address string `yaml:"address,omitempty" doc:"network address"`
	Mask    string `yaml:"mask,omitempty" doc:"network mask"`
	Gateway string `yaml:"gateway,omitempty" doc:"gateway"`
	Switch  string `yaml:"switch,omitempty" doc:"network switch and port"`
}

// DoorDoc is a door as written.
type DoorDoc struct {
	Title     string     `yaml:"title" need:"what people call the door" doc:"what people call the door"`
	Rules     []string   `yaml:"rules,omitempty" doc:"rule families for this door instead of the job's"`
	Secured   string     `yaml:"secured,omitempty" doc:"what lies on the secured side, in words"`
	Escape    string     `yaml:"escape,omitempty" one:"none|out|in|both" doc:"direction of escape: out is from the secured to the unsecured side; left out, judged as both"`
	FireRated *bool      `yaml:"fire-rated,omitempty" doc:"is the door a fire or smoke door; left out, judged as one"`
	Leaves    int        `yaml:"leaves,omitempty" doc:"number of leaves, 1 or 2; default 1"`
	Opening   OpeningDoc `yaml:"opening,omitempty" doc:"size, handing and swing"`

	Controller string       `yaml:"controller" need:"the controller, such as C1, or C1/2 for its second door" doc:"controller, or controller/channel"`
	Entry      *FittedDoc   `yaml:"entry,omitempty" doc:"reader on the unsecured side"`
	ExitReader *FittedDoc   `yaml:"exit-reader,omitempty" doc:"reader on the secured side"`
	Locks      []LockDoc    `yaml:"locks" need:"at least one lock" doc:"locks"`
	Exit       []FittedDoc  `yaml:"exit,omitempty" doc:"requests to exit: buttons and sensors"`
	Contacts   []FittedDoc  `yaml:"contacts,omitempty" doc:"door contacts, one for each leaf that is watched"`
	Releases   []ReleaseDoc `yaml:"releases,omitempty" doc:"manual releases"`
	Fire       *FittedDoc   `yaml:"fire,omitempty" doc:"fire signal in the lock feed of this door"`
	Sounder    *FittedDoc   `yaml:"sounder,omitempty" doc:"sounder for door alarms"`
	Watch      *FittedDoc   `yaml:"watch,omitempty" doc:"relay held in by the controller's supply, in the lock feed"`
	Interpose  *FittedDoc   `yaml:"interposing,omitempty" doc:"relay between the controller's output and the lock feed"`
	Aux        []AuxDoc     `yaml:"aux,omitempty" doc:"further supervised inputs"`
	Loop       *FittedDoc   `yaml:"loop,omitempty" doc:"door loop between frame and leaf"`

	Supervision string      `yaml:"supervision,omitempty" one:"none|single|double" doc:"scheme of the inputs; default none"`
	Resistor    unit.Ohm    `yaml:"resistor,omitempty" doc:"end-of-line resistors fitted; default 4.7 kohm"`
	Settings    SettingsDoc `yaml:"settings,omitempty" doc:"what the controller is set to for this door"`
	Length      unit.Metre  `yaml:"cable-length,omitempty" doc:"designed length of each cable from the controller to the door when no run is written; default 15 m"`
	Accepts     []AcceptDoc `yaml:"accepts,omitempty" doc:"faults of this door that are accepted, each with its reason; they stay in every table"`
}

// AcceptDoc is a fault that somebody accepts, as written.
type AcceptDoc struct {
	Fault  string `yaml:"fault" need:"the id of the fault, as show faults lists it" doc:"id of the fault, as show faults lists it"`
	Reason string `yaml:"reason" need:"why it is accepted, and by whom" doc:"why it is accepted, and by whom"`
}

// OpeningDoc is the opening as written.
type OpeningDoc struct {
	Width   unit.Metre `yaml:"width,omitempty" doc:"clear width"`
	Height  unit.Metre `yaml:"height,omitempty" doc:"clear height"`
	Handing string     `yaml:"handing,omitempty" one:"left|right" doc:"hinge side of the leaf, seen from the unsecured side"`
	Swing   string     `yaml:"swing,omitempty" one:"in|out" doc:"way the leaf swings; out is towards the unsecured side"`
}

// FittedDoc is one fitted device as written. It may be written as its model alone.
type FittedDoc struct {
	Model   string     `yaml:"model" need:"the model of the device" doc:"model"`
	Title   string     `yaml:"title,omitempty" doc:"what it is called"`
	Place   string     `yaml:"place,omitempty" doc:"where it is, if not at its usual place at the door"`
	Feed    string     `yaml:"feed,omitempty" doc:"what feeds it, if not the controller: supply, or supply/output"`
	Leaf    int        `yaml:"leaf,omitempty" doc:"leaf it is on, 1 or 2; default 1"`
	Breaks  bool       `yaml:"breaks-feed,omitempty" doc:"exit device: its second contact also stands in the lock feed"`
	Address *int       `yaml:"address,omitempty" doc:"bus device: address, 0 to 126; default the next free one on its line"`
	Speed   unit.Baud  `yaml:"speed,omitempty" doc:"serial or bus device: speed"`
	Ends    string     `yaml:"terminator,omitempty" one:"on|off" doc:"bus device: terminator switch; default on at the two ends of the line"`
	Height  unit.Metre `yaml:"height,omitempty" doc:"height of its middle above the floor, for the elevation"`
	Beside  unit.Metre `yaml:"beside,omitempty" doc:"distance of its middle from the clear opening, on the latch side, for the elevation"`
}

// LockDoc is a lock as written.
type LockDoc struct {
	Model      string     `yaml:"model" need:"the model of the lock, such as magnet-12" doc:"model"`
	Title      string     `yaml:"title,omitempty" doc:"what it is called"`
	Place      string     `yaml:"place,omitempty" doc:"where it is, if not at the head of the door"`
	Feed       string     `yaml:"feed,omitempty" doc:"controller (its lock-power output), a supply, or supply/output; default controller"`
	Leaf       int        `yaml:"leaf,omitempty" doc:"leaf it is on, 1 or 2; default 1"`
	Handle     string     `yaml:"handle,omitempty" one:"frees|fixed|none" doc:"does the inside handle free it in one action; left out, judged as not"`
	Suppressor string     `yaml:"suppressor,omitempty" one:"none|diode|clamp" doc:"suppressor fitted across it; default what its model needs"`
	OnBattery  string     `yaml:"on-battery,omitempty" one:"hold|work|let-go" doc:"what it must do while mains is lost; default hold for fail-safe, work for fail-secure"`
	Height     unit.Metre `yaml:"height,omitempty" doc:"height of its middle above the floor, for the elevation"`
	Beside     unit.Metre `yaml:"beside,omitempty" doc:"distance of its middle from the clear opening, on the latch side, for the elevation"`
}

// ReleaseDoc is a manual release as written.
type ReleaseDoc struct {
	Model  string     `yaml:"model" need:"the model of the release, such as release-2" doc:"model"`
	Title  string     `yaml:"title,omitempty" doc:"what it is called"`
	Place  string     `yaml:"place,omitempty" doc:"where it is, if not beside the door on the side people escape from"`
	Side   string     `yaml:"side,omitempty" one:"secured|unsecured" doc:"side it is on; default secured"`
	Into   string     `yaml:"into,omitempty" one:"feed|input" doc:"feed: its contacts stand in the lock feed; input: it only tells the controller; default feed"`
	Height unit.Metre `yaml:"height,omitempty" doc:"height of its middle above the floor, for the elevation"`
	Beside unit.Metre `yaml:"beside,omitempty" doc:"distance of its middle from the clear opening, on the latch side, for the elevation"`
}

// AuxDoc is a further supervised input as written.
type AuxDoc struct {
	Model       string   `yaml:"model" need:"the model of the contact" doc:"model"`
	Title       string   `yaml:"title,omitempty" doc:"what it tells"`
	Place       string   `yaml:"place,omitempty" doc:"where it is"`
	Supervision string   `yaml:"supervision,omitempty" one:"none|single|double" doc:"scheme of this input; default the door's"`
	Resistor    unit.Ohm `yaml:"resistor,omitempty" doc:"end-of-line resistors fitted; default the door's"`
}

// SettingsDoc is what the controller is set to for a door, as written.
type SettingsDoc struct {
	Sense      string      `yaml:"lock-output,omitempty" one:"energise-to-unlock|energise-to-lock" doc:"sense of the lock relay; default energise-to-unlock"`
	Contact    string      `yaml:"lock-contact,omitempty" one:"nc|no" doc:"relay contact in the lock feed; default what lock and sense need"`
	UnlockFor  unit.Second `yaml:"unlock-for,omitempty" doc:"time unlocked after a grant; default 5 s"`
	HeldAfter  unit.Second `yaml:"held-after,omitempty" doc:"open longer than this is an alarm; default 30 s"`
	ExitShunts bool        `yaml:"exit-only-shunts,omitempty" doc:"an exit request silences the forced-open alarm but moves no lock"`
	Expects    string      `yaml:"expects,omitempty" one:"none|single|double" doc:"scheme the inputs are set to; default what is fitted"`
	Resistor   unit.Ohm    `yaml:"expects-resistor,omitempty" doc:"end-of-line value the inputs are set to; default what is fitted"`
}

// RunDoc is a cable as written.
type RunDoc struct {
	From    string       `yaml:"from" need:"the place it starts at" doc:"place it starts at"`
	To      string       `yaml:"to" need:"the place it ends at" doc:"place it ends at"`
	Cable   string       `yaml:"cable" need:"the cable type, such as 4x0.75" doc:"cable type"`
	Length  unit.Metre   `yaml:"length,omitempty" doc:"designed length; 15 % is added until it is pulled"`
	Pulled  unit.Metre   `yaml:"pulled,omitempty" doc:"length as pulled"`
	Carries []string     `yaml:"carries,omitempty" one:"power|signal|data" doc:"power, signal or data; default whatever fits"`
	Passes  []StretchDoc `yaml:"passes,omitempty" doc:"stretches: the side each passes and how it can be reached"`
}

// StretchDoc is a stretch of a run as written.
type StretchDoc struct {
	Side   string     `yaml:"side" need:"secured or unsecured" one:"secured|unsecured" doc:"side it passes"`
	Reach  string     `yaml:"reach,omitempty" one:"concealed|ceiling|conduit|tray|surface|buried|aerial" doc:"how it can be reached; default concealed"`
	Length unit.Metre `yaml:"length,omitempty" doc:"length of the stretch"`
}
