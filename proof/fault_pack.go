package proof

import "doorwright/fault"

// pack keeps of the faults of a door only what is told of them, so that thousands of doors fit into memory: not their
// edits, and of what was tried from outside only what opens the door.
func (d *DoorFaults) pack() {
	own := 0
	for i := range d.Seen {
		if d.Seen[i].Fault.Door != "" {
			own++
		}
	}
	kept := make([]fault.Fault, 0, own)
	seen := make([]FaultSeen, len(d.Seen))
	copy(seen, d.Seen)
	for i := range seen {
		if f := seen[i].Fault; f.Door != "" { // the others are shared by all doors
			kept = append(kept, told(f))
			seen[i].Fault = &kept[len(kept)-1]
		}
	}
	d.Seen = seen
	for i := range d.Attacks {
		all := make([]*fault.Fault, len(d.Attacks[i].Faults))
		for k, f := range d.Attacks[i].Faults {
			one := told(f)
			all[k] = &one
		}
		d.Attacks[i].Faults = all
	}
}

// told is a fault without its edits.
func told(f *fault.Fault) fault.Fault {
	t := *f
	t.Edits = nil
	return t
}
