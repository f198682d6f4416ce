package main

import "runtime/debug"

// versionOf says in one line which build this is, as far as the build tells: its version, and where it was made from a
// working copy the revision and whether more was changed since.
func versionOf(info *debug.BuildInfo) string {
	says := "doorwright"
	if info == nil {
		return says + " (the build does not tell its version)"
	}
	if info.Main.Version != "" {
		says += " " + info.Main.Version
	}
	for _, s := range info.Settings {
		switch {
		case s.Key == "vcs.revision":
			says += ", revision " + s.Value
		case s.Key == "vcs.modified" && s.Value == "true":
			says += ", modified"
		}
	}
	return says + ", " + info.GoVersion
}

// thisVersion is that of the program that runs.
func thisVersion() string {
	info, _ := debug.ReadBuildInfo()
	return versionOf(info)
}
