package main

import (
	"bytes"
	"os"
	"strings"
	"testing"
)

// A PDF does not spill over a screen. A device of characters stands for the screen: whatever is written to it is gone.
func TestPapersDoNotSpillOverATerminal(t *testing.T) {
	screen, err := os.OpenFile("/dev/zero", os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer screen.Close() //nolint:errcheck // nothing is in it
	nowhere, err := os.OpenFile(os.DevNull, os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer nowhere.Close() //nolint:errcheck // nothing is in it
	for _, c := range []struct {
		args string
		out  *os.File
		code int
		says string
	}{
		{"paper labels demo:brackwater --door staff", screen, exitUnusable, "-o labels.pdf"},
		{"paper schedules demo:brackwater", screen, exitUnusable, "-o schedules.xlsx"},
		{"paper labels demo:brackwater --door staff --page 1", screen, exitFine, ""},
		{"paper schedules demo:brackwater --schedule cables", screen, exitFine, ""},
		{"paper labels demo:brackwater --door staff", nowhere, exitFine, ""},
	} {
		var stderr bytes.Buffer
		if code := run(strings.Fields(c.args), strings.NewReader(""), c.out, &stderr); code != c.code || !strings.Contains(strings.Join(strings.Fields(stderr.String()), " "), c.says) {
			t.Errorf("%s to %s: %d, %q", c.args, c.out.Name(), code, stderr.String())
		}
	}
}

func TestMistakesNameTheCommandToAskForHelp(t *testing.T) {
	for args, says := range map[string]string{
		"prove":                               "see doorwright prove --help",
		"show landings":                       "see doorwright show --help",
		"journal verify":                      "see doorwright journal verify --help",
		"journal":                             `doorwright journal wants to know what to do: "verify", "heads"`,
		"show":                                "<what> <file> are missing in doorwright show <what> <file>",
		"models magnets":                      `did you mean "magnet"?`,
		"prov demo:brackwater":                `did you mean "prove"?`,
		"prove demo:brackwater --format=wood": "see doorwright prove --help",
		"--wood":                              "see doorwright",
	} {
		var stdout, stderr bytes.Buffer
		if code := run(strings.Fields(args), strings.NewReader(""), &stdout, &stderr); code != exitUnusable || !strings.Contains(strings.Join(strings.Fields(stderr.String()), " "), says) {
			t.Errorf("%s: %d, %q", args, code, stderr.String())
		}
	}
}
