package device

import (
	"maps"
	"testing"

	"doorwright/document"
	"doorwright/unit"
)

// seat is a unit in a test: signals and readings are what the case says, Set is written down.
type seat struct {
	model    *Model
	settings Settings
	signals  map[string]bool
	reads    map[string]Level
	heard    map[string]bool // by side, on channel 1
	elapsed  unit.Second
	memory   Memory
	set      map[string]bool
}

var _ Unit = (*seat)(nil)

func (s *seat) Model() *Model               { return s.model }
func (s *seat) Settings() *Settings         { return &s.settings }
func (s *seat) Signal(name string) bool     { return s.signals[name] }
func (s *seat) Reading(port string) Reading { return Reading{Level: s.reads[port]} }
func (s *seat) Heard(channel int, side string) bool {
	return channel == 1 && s.heard[side]
}
func (s *seat) Elapsed() unit.Second       { return s.elapsed }
func (s *seat) Memory() *Memory            { return &s.memory }
func (s *seat) Set(signal string, on bool) { s.set[signal] = on }

// act settles one instant the way a situation does: the time counts once, then until nothing changes. It checks that
// acting again with no time gone changes nothing any more.
func (s *seat) act(t *testing.T, gone unit.Second) {
	t.Helper()
	act := KindOf(s.model.Kind).Act
	s.elapsed = gone
	for range 4 {
		memory, set := s.memory, maps.Clone(s.set)
		act(s)
		if s.elapsed == 0 && s.memory == memory && maps.Equal(set, s.set) {
			return
		}
		s.elapsed = 0
	}
	t.Fatalf("%s does not come to rest: %v", s.model.Title, s.set)
}

func newSeat(t *testing.T, id string) *seat {
	t.Helper()
	m, ok := Builtin().Get(id)
	if !ok {
		t.Fatalf("no model %s", id)
	}
	s := &seat{
		model: m, signals: map[string]bool{}, reads: map[string]Level{}, heard: map[string]bool{}, set: map[string]bool{},
	}
	if r := m.Running(); r != "" {
		s.signals[r] = true
	}
	return s
}

// one is a model of one port, for tests of port types.
func one(name string, p Port) *Model {
	return &Model{Kind: "controller", Ports: document.Map[Port]{{Key: name, Value: p}}}
}
