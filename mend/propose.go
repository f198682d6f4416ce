package mend

import (
	"fmt"

	"doorwright/job"
	"doorwright/proof"
	"doorwright/wiring"
)

// context is one finding in its job.
type context struct {
	job     *job.Job
	plan    *wiring.Plan
	finding proof.Finding
}

// maker proposes changes for a finding.
type maker func(*context) []*candidate

// makers is the one list of what may mend what, by requirement. What is not listed has no mend that the job document
// can express.
func makers(requirement string) []maker {
	switch requirement {
	case "lock-voltage", "unit-voltage":
		return []maker{letGoOnBattery, thickerCable, otherVoltage, otherFeed, otherSupply, otherUnit}
	case "keeps-out", "lets-through":
		return []maker{ownRelayContact, letGoOnBattery, thickerCable, otherVoltage, otherFeed, otherSupply}
	case "out-by-release", "release-fitted":
		return []maker{releaseIntoFeed, addRelease}
	case "release-each-way":
		return []maker{addRelease}
	case "release-both-poles", "release-both-poles-advised":
		return []maker{twoPoles}
	case "out-by-fire", "fire-signal-fitted", "stays-open-in-fire":
		return []maker{addFire}
	case "out-by-controller-loss":
		return []maker{addWatch}
	case "out-by-power-loss", "opens-without-power":
		return []maker{failSafeLock, handleLock}
	case "fire-door-latched":
		return []maker{handleLock}
	case "out-by-exit", "exit-told", "no-false-alarm":
		return []maker{exitUnlocks, addExit}
	case "input-reads":
		return []maker{expectsWhatIsFitted, fitsWhatIsExpected}
	case "data-understood", "data-length":
		return []maker{otherReader, thickerCable}
	case "contact-rating":
		return []maker{addInterposing, otherVoltage}
	case "output-rating", "supply-reserve":
		return []maker{feedFromSupply, biggerSupply}
	case "cable-current":
		return []maker{thickerCable}
	case "duty":
		return []maker{continuousLock}
	case "suppressor", "release-time":
		return []maker{ownSuppressor}
	case "line-ends":
		return []maker{ownTerminators}
	case "out-with-fault", "ways-out-with-fault", "ways-out-with-short":
		return []maker{releaseIntoFeed, twoPoles, addRelease, addFire}
	case "short-stays-at-door":
		return []maker{freeOutput, fusedBoard, boardForDoors}
	case "keeps-out-at-hand":
		return []maker{controllerInside, superviseInputs}
	case RequirementStandby:
		return []maker{letGoOnBattery, biggerBattery}
	case RequirementRecharge:
		return []maker{smallerBattery, strongerCharger}
	}
	return nil
}

func candidates(c *context) []*candidate {
	var all []*candidate
	for _, m := range makers(c.finding.Requirement) {
		all = append(all, m(c)...)
	}
	return all
}

// door is the door of the finding as resolved, nil when it is about none.
func (c *context) door() *job.Door { return doorOf(c.job, c.finding.Door) }

// doorOf finds a door of a job; nil for one that it does not have.
func doorOf(j *job.Job, id string) *job.Door {
	for _, d := range j.Doors {
		if d.ID == id {
			return d
		}
	}
	return nil
}

// onDoor edits the document of the finding's door.
func (c *context) onDoor(field, value string, change func(*job.DoorDoc)) edit {
	id := c.finding.Door
	return edit{"doors." + id + "." + field, value, func(doc *job.Document) {
		if d, ok := doc.Doors.Get(id); ok {
			change(d)
		}
	}}
}

func one(text string, cost int, edits ...edit) []*candidate {
	return []*candidate{{text: text, cost: cost, edits: edits}}
}

// item is the path of a field of one item of a list. Items count from 1 in the paths that people read.
func item(list string, i int, field string) string { return fmt.Sprintf("%s.%d.%s", list, i+1, field) }
