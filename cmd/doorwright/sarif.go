package main

import (
	"doorwright/mend"
	"doorwright/proof"
	"doorwright/rules"
)

// The Static Analysis Results Interchange Format, version 2.1.0 (OASIS standard), as far as findings need it.
type sarifLog struct {
	Schema  string     `json:"$schema"`
	Version string     `json:"version"`
	Runs    []sarifRun `json:"runs"`
}

type sarifRun struct {
	Tool    sarifTool     `json:"tool"`
	Results []sarifResult `json:"results"`
}

type sarifTool struct {
	Driver sarifDriver `json:"driver"`
}

type sarifDriver struct {
	Name  string      `json:"name"`
	Rules []sarifRule `json:"rules"`
}

type sarifRule struct {
	ID               string       `json:"id"`
	ShortDescription sarifMessage `json:"shortDescription"`
	FullDescription  sarifMessage `json:"fullDescription"`
}

type sarifMessage struct {
	Text string `json:"text"`
}

type sarifResult struct {
	RuleID    string          `json:"ruleId"`
	Level     string          `json:"level"` // error or note
	Message   sarifMessage    `json:"message"`
	Locations []sarifLocation `json:"locations"`
}

type sarifLocation struct {
	Physical sarifPhysical  `json:"physicalLocation"`
	Logical  []sarifLogical `json:"logicalLocations,omitempty"`
}

type sarifPhysical struct {
	Artifact sarifArtifact `json:"artifactLocation"`
	Region   sarifRegion   `json:"region"`
}

type sarifArtifact struct {
	URI string `json:"uri"`
}

type sarifRegion struct {
	StartLine   int `json:"startLine"`
	StartColumn int `json:"startColumn,omitempty"`
}

type sarifLogical struct {
	Name string `json:"fullyQualifiedName"`
}

// sarifSchema is where OASIS publishes the schema of the format, with the errata of 2023.
const sarifSchema = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"

func newSarif(rules []sarifRule, results []sarifResult) sarifLog {
	return sarifLog{
		sarifSchema, "2.1.0",
		[]sarifRun{{sarifTool{sarifDriver{"doorwright", rules}}, results}},
	}
}

// sarif gives the findings, each at the place of its door or supply in the document.
func (f findings) sarif() any {
	declared := []sarifRule{}
	results := []sarifResult{}
	known := map[string]bool{}
	for _, x := range f.Findings {
		if !known[x.Requirement] {
			known[x.Requirement] = true
			declared = append(declared, sarifRule{x.Requirement, sarifMessage{mend.TitleOf(x.Requirement)}, sarifMessage{x.Why}})
		}
		level := "error"
		if x.Severity == rules.Advice {
			level = "note"
		}
		text := sentence(x.What)
		if more := x.Figures(f.source.job.Measures); more != "" {
			text += " Calculated " + more + "."
		}
		results = append(results, sarifResult{
			x.Requirement, level, sarifMessage{text}, []sarifLocation{f.location(x.Finding)},
		})
	}
	return newSarif(declared, results)
}

func (f findings) location(x proof.Finding) sarifLocation {
	path := ""
	switch {
	case x.Door != "":
		path = "doors." + x.Door
	case x.Subject.Supply != "":
		path = "supplies." + x.Subject.Supply
	case x.Subject.Run != "":
		path = "runs." + x.Subject.Run
	}
	line, column := f.source.source.At(path)
	return sarifLocation{
		sarifPhysical{sarifArtifact{f.source.file}, sarifRegion{max(line, 1), column}},
		[]sarifLogical{{x.Where}},
	}
}

// sarif gives the problems of a document that could not be used.
func (p problems) sarif() any {
	results := []sarifResult{}
	for _, x := range p.list() {
		results = append(results, sarifResult{"document", "error", sarifMessage{x.sentence()}, []sarifLocation{{
			sarifPhysical{sarifArtifact{x.File}, sarifRegion{max(x.Line, 1), x.Column}}, nil,
		}}})
	}
	return newSarif([]sarifRule{{
		"document", sarifMessage{"The document can be used"}, sarifMessage{"What is wrong in it is named."},
	}}, results)
}
