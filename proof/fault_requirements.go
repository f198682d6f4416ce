package proof

import "doorwright/rules"

// The requirements that faults are held against.
var (
	reqFaultNoWay = &Requirement{
		ID: "out-with-fault", Title: "A way out is left with any one fault", Rule: "R-04",
		Why:    "One nail or one loose strand must not shut people in.",
		Source: rules.Source{Text: "plain sense: one fault leaves at least one way out that needs no program", Mark: rules.CommonPractice},
	}
	reqFaultOut = &Requirement{
		ID: "ways-out-with-fault", Title: "No fault outside a way out takes it away", Rule: "R-04",
		Why:  "A way out that something else can switch off is not there when it is needed.",
		Asks: func(f rules.Family) rules.Source { return f.SingleFault.Source },
	}
	reqFaultShort = &Requirement{
		ID: "ways-out-with-short", Title: "A short does not take away a way out", Rule: "R-04", Advice: true,
		Why: "A nail or a crushed cable can bridge the release contact, and nobody notices until it is needed.",
	}
	reqShortStays = &Requirement{
		ID: "short-stays-at-door", Title: "A short at one door leaves the others working", Rule: "R-22", Advice: true,
		Why:    "Where all doors hang on one supply without fuses of their own, one crushed cable puts all of them out.",
		Source: practice,
	}
	reqReach = &Requirement{
		ID: "keeps-out-at-hand", Title: "Nothing within reach outside opens the door", Rule: "R-25",
		Why: "Whoever opens a housing outside and cuts or joins two wires is in.",
	}
	reqAccepted = &Requirement{
		ID: "accepted-fault-known", Title: "What is accepted is a fault of the door", Advice: true,
		Why:    "The wiring has changed since, or the id is misspelt: nothing is accepted by it.",
		Source: practice,
	}
	reqSecond = &Requirement{
		ID: "out-with-second-fault", Title: "A silent fault and a second one leave a way out", Advice: true,
		Why:    "A fault that nobody sees stays until the second comes.",
		Source: practice,
	}
)

// FaultRequirements lists the requirements that TryFaults judges.
func FaultRequirements() []*Requirement {
	return []*Requirement{reqFaultNoWay, reqFaultOut, reqFaultShort, reqShortStays, reqReach, reqSecond, reqAccepted}
}

func faultsLeftOut() []string {
	return []string{
		"Faults are tried in the nominal case and in every cause alone, not in every cause with fire or release besides.",
		"Two faults at once are tried only within one reach of the unsecured side, unless pairs are asked for.",
		"A fault comes while everything is at rest and stays; what comes and goes is not followed.",
		"Tampering is tried with bare hands: wires cut, joined, fed from 5 V to 24 V; not with magnets, force or radio.",
		"A fuse opens at twice its rating, the one first that carries most for its size; less than that it stands for ever.",
		"A short is held against the other doors while nothing happens, in the nominal case.",
	}
}
