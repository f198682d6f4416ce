// Package repo holds the rules of the repository itself, as tests: who may import whom, what the engine must not touch,
// what ARCHITECTURE.md names, which words must not stand anywhere, how long a file may be, that no test runs over an
// empty set of files. Each rule is a function from a tree of files to what breaks it, and its test also shows it
// failing on a tiny tree.
package repo
