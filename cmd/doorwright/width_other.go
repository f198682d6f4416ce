//go:build !unix

package main

import "os"

// columns is the width of a terminal. Only Unix is asked for it: elsewhere COLUMNS tells.
func columns(*os.File) int { return 0 }
