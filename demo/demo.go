// Package demo carries the demo job: the first eight doors of the Brackwater Tidal Observatory, an invented place.
package demo

import _ "embed"

// Brackwater is the job as it should be.
//
//go:embed brackwater.yaml
var Brackwater []byte

// Flawed is the same job with a dozen realistic mistakes in it, one door or supply each.
//
//go:embed brackwater-flawed.yaml
var Flawed []byte

// Record is what was done at the job up to now: part of the work, some readings, two snags.
//
//go:embed brackwater-record.yaml
var Record []byte
