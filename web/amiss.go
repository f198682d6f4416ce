package web

// amiss says what keeps the door from working as it is planned, before readings are held against the plan; of a door as found, what may be the fault itself.
func (at *atDoor) amiss() []string {
	var all []string
	for _, what := range at.desk.exam.Amiss(at.door.ID) {
		all = append(all, "As it is planned or described, this door does not work, by calculation: "+what+". Mend that first: readings are held against the plan.")
	}
	return all
}
