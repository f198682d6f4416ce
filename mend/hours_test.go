package mend_test

import (
	"slices"
	"testing"

	"doorwright/mend"
)

// Every requirement that a job is examined by has an id of its own and a title, so that what falls short of it can be accepted.
func TestRequirementsHaveIDsAndTitles(t *testing.T) {
	ids := mend.RequirementIDs()
	if !slices.Contains(ids, mend.RequirementStandby) || !slices.Contains(ids, mend.RequirementRecharge) {
		t.Errorf("a requirement of batteries is not among %q", ids)
	}
	for _, id := range ids {
		if mend.TitleOf(id) == "" {
			t.Errorf("%s has no title", id)
		}
	}
	slices.Sort(ids)
	if len(slices.Compact(slices.Clone(ids))) != len(ids) {
		t.Errorf("an id stands twice: %q", ids)
	}
	if mend.TitleOf("no-such") != "" {
		t.Error("what is no requirement has a title")
	}
}
