package main

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"strings"
	"testing"
	"unicode/utf8"

	"golang.org/x/sys/unix"
)

// terminal opens a terminal of so many columns: what is read from the first file was written to the second (Linux, pts(4)).
func terminal(t *testing.T, columns uint16) (reads, writes *os.File) {
	t.Helper()
	reads, err := os.OpenFile("/dev/ptmx", os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { reads.Close() }) //nolint:errcheck // nothing is in it
	if err := unix.IoctlSetPointerInt(int(reads.Fd()), unix.TIOCSPTLCK, 0); err != nil {
		t.Fatal(err)
	}
	number, err := unix.IoctlGetInt(int(reads.Fd()), unix.TIOCGPTN)
	if err != nil {
		t.Fatal(err)
	}
	writes, err = os.OpenFile(fmt.Sprintf("/dev/pts/%d", number), os.O_RDWR|unix.O_NOCTTY, 0)
	if err != nil {
		t.Fatal(err)
	}
	if err := unix.IoctlSetWinsize(int(writes.Fd()), unix.TIOCSWINSZ, &unix.Winsize{Row: 50, Col: columns}); err != nil {
		t.Fatal(err)
	}
	return reads, writes
}

// onTerminal runs the command at a terminal and gives the length of the longest line it writes there.
func onTerminal(t *testing.T, columns uint16, args ...string) int {
	t.Helper()
	reads, writes := terminal(t, columns)
	longest := make(chan int)
	go func() {
		n := 0
		for lines := bufio.NewScanner(reads); lines.Scan(); {
			n = max(n, utf8.RuneCountInString(strings.TrimRight(lines.Text(), "\r")))
		}
		longest <- n
	}()
	if code := run(args, strings.NewReader(""), writes, io.Discard); code != exitFine {
		t.Errorf("%v: %d", args, code)
	}
	writes.Close() //nolint:errcheck // whoever reads comes to the end by it
	return <-longest
}

func TestTextTakesTheWidthOfTheTerminal(t *testing.T) {
	t.Setenv("TERM", "dumb")
	landings := []string{"show", "landings", "demo:brackwater", "--door", "staff", "--reasons"}
	matrix, help := []string{"show", "matrix", "demo:brackwater"}, []string{"show", "--help"}
	for _, c := range []struct {
		columns string
		has     uint16
		want    int
		of      [][]string
	}{
		{"", 80, 80, [][]string{landings, matrix, help}},
		{"", 100, 100, [][]string{landings, matrix, help}},
		{"", 70, 70, [][]string{landings, matrix}}, // examples in a help keep their lines
		{"", 300, mostWidth, [][]string{landings, matrix, help}},
		{"", 20, leastWidth, [][]string{landings}},
		{"", 0, paperWidth, [][]string{landings}},
		{"90", 300, 90, [][]string{landings, help}},
		{"500", 80, mostWidth, [][]string{landings, help}},
		{"5", 80, leastWidth, [][]string{landings}},
		{"wide", 100, 100, [][]string{landings}},
		{"0", 100, 100, [][]string{landings}},
	} {
		t.Setenv("COLUMNS", c.columns)
		for _, args := range c.of {
			if got := onTerminal(t, c.has, args...); got > c.want || got < c.want*3/4 {
				t.Errorf("%v with %d columns and COLUMNS=%q: %d wide, not %d", args, c.has, c.columns, got, c.want)
			}
		}
	}
}

// What goes to a file is the same with any COLUMNS.
func TestAFileHasOneWidth(t *testing.T) {
	t.Setenv("COLUMNS", "")
	before := printed(t, "show", "landings", "demo:brackwater", "--door", "staff") + printed(t, "--help")
	t.Setenv("COLUMNS", "110")
	if after := printed(t, "show", "landings", "demo:brackwater", "--door", "staff") + printed(t, "--help"); after != before {
		t.Error("COLUMNS changes what is no terminal")
	}
}
