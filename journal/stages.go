package journal

// Stage is a step of the work at a door, with the page on which it is done.
type Stage struct{ Title, Page string }

// Stages are the steps of the work, in the order of the trade.
func Stages() []Stage {
	return []Stage{
		{"First fix", "/do/first"},
		{"Land the cores", "/do/land"},
		{"Readings", "/do/read"},
		{"Function tests", "/do/test"},
		{"Snags", "/do/snags"},
		{"Hand over", "/do/hand"},
		{"Find a fault", "/find"},
	}
}

// stageTitle is the title of the step that is done on a page; the page itself where it is none of them.
func stageTitle(page string) string {
	for _, s := range Stages() {
		if s.Page == page {
			return s.Title
		}
	}
	return page
}
