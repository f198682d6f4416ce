package job

import (
	"doorwright/cable"
	"doorwright/device"
	"doorwright/document"
	"doorwright/rules"
	"doorwright/unit"
)

// Job is a validated job: every name resolved, every default filled in, everything assumed listed.
type Job struct {
	ID, Title, Revision string
	Families            []rules.Family // that apply where a door names none
	FamiliesStated      bool
	NorthAmerican       bool // make-up of cables chosen by default
	Measures            unit.Measures
	Temperature         unit.Band[unit.Celsius]
	Places              []*Place
	Supplies            []*Supply
	Controllers         []*Controller
	Doors               []*Door
	Runs                []*Run
	Assumed             []Assumption
	Document            *Document // as written, for changes and for printing
}

// Assumption is something the document left out and what it was taken as.
type Assumption struct {
	Where string `json:"where"` // "doors.D1.escape"
	Text  string `json:"text"`  // "not stated, judged as both directions"
	Life  bool   `json:"life"`  // bears on life: judged as the strictest case
}

// Place is somewhere devices and cable ends are.
type Place struct {
	ID, Title, Building string
	Unsecured           bool   // the public can stand there
	Door                string // the door it belongs to, or empty
}

// Role is what a device does at a door or a supply. Wiring goes by roles.
type Role string

// The roles.
const (
	RoleController Role = "controller"
	RoleSupply     Role = "supply"
	RoleBattery    Role = "battery"
	RoleBoard      Role = "board"
	RoleEntry      Role = "entry"
	RoleExitReader Role = "exit-reader"
	RoleLock       Role = "lock"
	RoleExit       Role = "exit"
	RoleContact    Role = "contact"
	RoleRelease    Role = "release"
	RoleFire       Role = "fire"
	RoleReset      Role = "reset"
	RoleSounder    Role = "sounder"
	RoleWatch      Role = "watch"
	RoleInterpose  Role = "interposing"
	RoleAux        Role = "aux"
	RoleLoop       Role = "loop"
)

// Fitted is one fitted device. Its id is permanent: the door's (or supply's) id, a dot, its role and, where there are
// several, a number.
type Fitted struct {
	ID       string
	Role     Role
	Title    string
	ModelID  string
	Model    *device.Model
	Place    *Place
	Settings device.Settings
	Leaf     int        // 1 or 2, for what is on a leaf
	Height   unit.Metre // of its middle above the floor; 0 when not stated
	Beside   unit.Metre // of its middle from the clear opening; 0 when not stated
	Where    string     // path in the document, items counted from 1: "doors.D1.locks.1"
}

// Feed is where power comes from: the lock-power output of the door's controller, or a supply, or one output of its
// board.
type Feed struct {
	Controller bool
	Supply     *Supply
	Output     int // 1.. of the board; 0 is the supply itself
}

// Supply is a supply with its battery and board.
type Supply struct {
	Fitted
	Battery       *Fitted   // nil: none
	Board         *Fitted   // nil: none
	Fire          *Fitted   // at the board's fire input; nil: none
	Reset         *Fitted   // at the board's reset input; nil: none
	Tells         *Door     // whose controller learns that a fuse of the board has opened; nil: nobody does
	WorksTo       unit.Volt // battery voltage down to which everything must work; 0 without a battery
	Earthed       bool
	ZeroStated    bool // false: both earthed and floating are tried
	Standby       unit.Second
	StandbyStated bool
}

// Controller is a controller and what feeds it.
type Controller struct {
	Fitted
	Feed    Feed
	Network NetworkDoc
}

// Direction is the direction of escape.
type Direction string

// The directions. Out is from the secured to the unsecured side.
const (
	EscapeNone Direction = "none"
	EscapeOut  Direction = "out"
	EscapeIn   Direction = "in"
	EscapeBoth Direction = "both"
)

// Door is one opening and all that is fitted to it.
type Door struct {
	ID, Title       string
	Families        []rules.Family
	FamiliesStated  bool
	Secured         string
	Escape          Direction
	EscapeStated    bool
	FireRated       bool
	FireRatedStated bool
	Leaves          int
	Opening         OpeningDoc
	Controller      *Controller
	Channel         int
	Locks           []*Lock
	Entry           *Reader
	ExitReader      *Reader
	Exits           []*Exit
	Contacts        []*Fitted
	Releases        []*Release
	Fire            *Fitted
	Sounder         *Fitted
	Watch           *Fitted
	Interpose       *Fitted
	Aux             []*Aux
	Loop            *Fitted
	Told            *Supply // of whose board's fuses its auxiliary input tells; nil: none
	Supervision     device.Scheme
	Resistor        unit.Ohm
	Accepts         []AcceptDoc
	RelayContact    string // "nc" or "no" when the document insists; empty: as lock and sense need
}

// Lock is a lock of a door.
type Lock struct {
	Fitted
	Feed         Feed
	HandleFrees  bool
	HandleStated bool
	Suppressor   string // "", "none", "diode", "clamp": fitted beside what the model has
	OnBattery    string // "hold", "work", "let-go"
}

// Reader is a reader of a door. Feed with neither controller nor supply is the controller's reader port.
type Reader struct {
	Fitted
	Feed *Feed  // nil: the controller's reader port
	Ends string // terminator switch as written: "on", "off" or "" (on at the ends of the line)
}

// Exit is a request to exit.
type Exit struct {
	Fitted
	Feed   *Feed // nil: the controller's supply
	Breaks bool  // a second contact stands in the lock feed
}

// Release is a manual release.
type Release struct {
	Fitted
	Unsecured bool // on the unsecured side
	InFeed    bool // contacts in the lock feed; false: only tells the controller
}

// Aux is a further supervised input.
type Aux struct {
	Fitted
	Supervision device.Scheme
	Resistor    unit.Ohm
}

// Carries says what a run may carry.
type Carries struct{ Power, Signal, Data bool }

// Run is a cable from place to place.
type Run struct {
	ID       string
	From, To *Place
	TypeID   string
	Type     *cable.Type
	Designed unit.Metre
	Pulled   unit.Metre // 0: not pulled yet
	Carries  Carries
	Passes   []StretchDoc
	Assumed  bool // not written in the document: made from the door's cable length
}

// DesignAllowance is added to a designed length until the cable is pulled: slack at the ends and detours
// (common practice: about 10 % and 1 m to 3 m at each end).
const DesignAllowance = 0.15

// Length is the length to compute with: as pulled, else as designed plus the allowance.
func (r *Run) Length() unit.Metre {
	if r.Pulled > 0 {
		return r.Pulled
	}
	return unit.Metre(float64(r.Designed) * (1 + DesignAllowance))
}

// Problems of a document are document.Problems; the alias keeps callers from importing both.
type Problems = document.Problems
