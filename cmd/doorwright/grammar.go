package main

import "github.com/alecthomas/kong"

const description = `Proves the wiring of electrically controlled doors by calculation, and prints what a technician needs on ` +
	`site: schedules, expected readings, netlists.

FILE is a job document in YAML or JSON, - for the standard input, or a demo that is built in: demo:brackwater ` +
	`or demo:flawed.`

// grammar is the command line.
type grammar struct {
	Format string `enum:"text,csv,json,sarif" default:"text" help:"Form of the output: text, csv, json, or sarif for findings."`
	Colour string `enum:"auto,always,never" default:"auto" help:"When to colour text: auto, always or never."`

	Version kong.VersionFlag `help:"Print which build this is, in one line."`

	Serve   serveCmd   `cmd:"" default:"withargs" help:"Open the pages in the browser: plan at the desk, work at the door. The same without any word."`
	Welcome welcomeCmd `cmd:"" help:"Prove the demo and say what to do next."`
	Prove   proveCmd   `cmd:"" help:"Prove a job: findings, effects of every cause, rules, assumptions."`
	Show    showCmd    `cmd:"" help:"Show one document of a job: landings, cables, loads, matrix ..."`
	Meter   meterCmd   `cmd:"" help:"What a meter should show at a door: the few readings that matter, or all in a condition."`
	Find    findCmd    `cmd:"" help:"Find what is wrong at a door from readings, and what to read next."`
	Draw    drawCmd    `cmd:"" help:"Make a drawing: wiring, elevation, supply tree ..."`
	Paper   paperCmd   `cmd:"" help:"Write a paper as PDF, or the schedules as a workbook."`
	Netlist netlistCmd `cmd:"" help:"Write the network of a door as a plain SPICE netlist."`
	Models  modelsCmd  `cmd:"" help:"List the built-in models of devices, or show one in full."`
	Cables  cablesCmd  `cmd:"" help:"List the built-in cable types, or show one in full."`
	Causes  causesCmd  `cmd:"" help:"List the causes that a job is put through."`
	Card    cardCmd    `cmd:"" help:"Take a card number apart, or say what is wrong between an expected and a received one."`
	Frames  framesCmd  `cmd:"" help:"Take a capture of a serial reader line apart, and say what it means on the wire."`
	Journal journalCmd `cmd:"" help:"Look into a workspace or a pack, check it, pack it, take a pack in."`
	Schema  schemaCmd  `cmd:"" help:"Print the JSON Schema of job documents."`
}
