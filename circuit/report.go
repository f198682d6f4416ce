package circuit

import "doorwright/unit"

// Outcome says in one word how a Solve ended.
type Outcome uint8

const (
	// Converged is an operating point with all loads carried.
	Converged Outcome = iota
	// LoadCollapse is an operating point at which a load of constant power has ended below its knee: what feeds it
	// cannot carry it.
	LoadCollapse
	// Hiccup is no resting state: senses turn each other on and off for ever, as a load that keeps restarting does. The
	// voltages are those with the alternating senses held off.
	Hiccup
	// NotConverged is no answer; the voltages mean nothing.
	NotConverged
)

func (o Outcome) String() string {
	return [...]string{
		"converged",
		"a load cannot be carried and has collapsed",
		"no resting state: something keeps restarting",
		"not converged",
	}[o]
}

// Report tells how Solve came to its answer.
type Report struct {
	Outcome     Outcome
	Rung        Rung      // the furthest rung needed
	Steps       int       // linear solves
	Rounds      int       // times the senses were looked at
	Residual    unit.Volt // the largest move of any node in the last Newton step
	WorstNode   Node      // that node
	Alternating []Sense   // Hiccup: the senses that alternate; valid until the next Solve
	Collapsed   []Element // the loads below their knee; valid until the next Solve
}

// note keeps the last move.
func (r *Report) note(s *System, m move) {
	r.Residual = unit.Volt(m.node)
	r.WorstNode = Earth
	if m.step < s.a.n && s.a.n > 0 {
		r.WorstNode = Node(s.a.nodeAt[m.step])
	}
}
