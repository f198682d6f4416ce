package meter

import (
	"fmt"
	"slices"
	"strings"
)

// Power is what feeds a door while something is read.
type Power string

// The powers.
const (
	On      Power = "on"      // mains, battery as it stands
	Battery Power = "battery" // mains off
	Off     Power = "off"     // mains, battery, any second supply and network power off
)

// Act is what somebody does at the door and keeps up while something is read.
type Act string

// The acts.
const (
	Idle     Act = "idle"      // nothing: door closed, nobody there
	Button   Act = "button"    // the exit device is operated
	Card     Act = "card"      // a valid card was shown just now
	Release  Act = "release"   // the manual release is operated
	DoorOpen Act = "door-open" // the door stands open
	Fire     Act = "fire"      // the fire signal is there
)

// Acts lists the acts in the order of the work.
func Acts() []Act { return []Act{Idle, Button, Card, Release, DoorOpen, Fire} }

// Condition is the state of a door in which something is read. Written in words, with commas between:
//
//	idle                       powered, nothing happens
//	button, release, ...       powered, with that act
//	battery                    mains off, nothing happens
//	off                        no power, all plugs in, nothing operated
//	off, release               no power, the manual release operated
//	off, C1/P3 pulled          no power, plug P3 of C1 pulled: what is read is the plug, so the wires and not C1
//	off, visitor.lock1 pulled  no power, the cores of the lock off: what is read is the cores
//	off, visitor.lock1 alone   the same, but what is read is the terminals of the lock alone
//
// It is a plain value and may be compared.
type Condition struct {
	Power  Power
	Act    Act
	Pulled string // with power off: a plug "C1/P3" or a device that is off its wires; several joined by "+"
	Alone  string // with power off: a device off its wires, read at its own terminals
}

// Undisturbed is the condition of a door with power at which nothing happens.
func Undisturbed() Condition { return Condition{Power: On, Act: Idle} }

// Dead says that nothing has power.
func (c Condition) Dead() bool { return c.Power == Off }

// Plugs are what is pulled, one by one.
func (c Condition) Plugs() []string {
	if c.Pulled == "" {
		return nil
	}
	return strings.Split(c.Pulled, "+")
}

// String writes the condition as ParseCondition reads it.
func (c Condition) String() string {
	var words []string
	if c.Power != On {
		words = append(words, string(c.Power))
	}
	if c.Act != Idle {
		words = append(words, string(c.Act))
	}
	for _, p := range c.Plugs() {
		words = append(words, p+" pulled")
	}
	if c.Alone != "" {
		words = append(words, c.Alone+" alone")
	}
	if len(words) == 0 {
		return string(Idle)
	}
	return strings.Join(words, ", ")
}

// Say is the condition for people.
func (c Condition) Say() string {
	words := []string{map[Power]string{On: "powered", Battery: "on battery, mains off", Off: "everything off"}[c.Power]}
	words = append(words, map[Act]string{
		Idle: "nothing operated", Button: "exit device held operated", Card: "within seconds of showing a valid card",
		Release: "manual release operated", DoorOpen: "door open", Fire: "fire signal present",
	}[c.Act])
	for _, p := range c.Plugs() {
		words = append(words, p+" pulled, leads into the plug or on the loose cores")
	}
	if c.Alone != "" {
		words = append(words, c.Alone+" with its cores off, leads on its own terminals")
	}
	return strings.Join(words, ", ")
}

// ParseCondition reads a condition as String writes it. "idle" and "on" may be said or left out.
func ParseCondition(text string) (Condition, error) {
	c := Undisturbed()
	for word := range strings.SplitSeq(text, ",") {
		if err := c.enter(strings.TrimSpace(word)); err != nil {
			return Condition{}, err
		}
	}
	if !c.Dead() && (c.Pulled != "" || c.Alone != "") {
		return Condition{}, fmt.Errorf("%q pulls a plug with the power on; write \"off\" first: plugs are pulled dead", text)
	}
	return c, nil
}

func (c *Condition) enter(word string) error {
	if what, ok := strings.CutSuffix(word, " pulled"); ok && what != "" {
		if c.Pulled != "" {
			what = c.Pulled + "+" + what
		}
		c.Pulled = what
		return nil
	}
	if what, ok := strings.CutSuffix(word, " alone"); ok && what != "" {
		c.Alone = what
		return nil
	}
	switch {
	case word == string(On) || word == string(Battery) || word == string(Off):
		c.Power = Power(word)
	case slices.Contains(Acts(), Act(word)):
		c.Act = Act(word)
	default:
		return fmt.Errorf("%q is not a condition; write it like \"idle\", \"button\", \"card\", \"release\", \"door-open\", "+
			"\"fire\", \"battery\", \"off\", \"off, release\", \"off, C1/P3 pulled\" or \"off, C1 alone\"", word)
	}
	return nil
}

// UnmarshalText reads as ParseCondition does.
func (c *Condition) UnmarshalText(text []byte) error {
	x, err := ParseCondition(string(text))
	if err == nil {
		*c = x
	}
	return err
}

// MarshalText writes as String does.
func (c Condition) MarshalText() ([]byte, error) { return []byte(c.String()), nil }
