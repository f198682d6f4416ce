package main

import (
	"runtime/debug"
	"strings"
	"testing"
)

func TestVersionSaysWhatTheBuildTells(t *testing.T) {
	revision := debug.BuildSetting{Key: "vcs.revision", Value: "26f1fd1"}
	for _, c := range []struct {
		info *debug.BuildInfo
		want string
	}{
		{nil, "doorwright (the build does not tell its version)"},
		{&debug.BuildInfo{GoVersion: "go1.26.0"}, "doorwright, go1.26.0"},
		{
			&debug.BuildInfo{GoVersion: "go1.26.0", Main: debug.Module{Version: "v0.3.0"}, Settings: []debug.BuildSetting{
				{Key: "vcs", Value: "git"}, revision, {Key: "vcs.modified", Value: "false"},
			}},
			"doorwright v0.3.0, revision 26f1fd1, go1.26.0",
		},
		{
			&debug.BuildInfo{GoVersion: "go1.26.0", Main: debug.Module{Version: "(devel)"}, Settings: []debug.BuildSetting{
				revision, {Key: "vcs.modified", Value: "true"},
			}},
			"doorwright (devel), revision 26f1fd1, modified, go1.26.0",
		},
	} {
		if got := versionOf(c.info); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
	if got := printed(t, "--version"); !strings.HasPrefix(got, "doorwright") || strings.Count(got, "\n") != 1 {
		t.Errorf("%q is not one line about the version", got)
	}
}
