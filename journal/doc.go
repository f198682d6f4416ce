// Package journal keeps what was changed, done, measured, tested and accepted: by whom, on which device, when. It is only
// ever added to.
//
// Each writing device has one log with a key of its own. The entries of a log are the leaves of a Merkle tree (RFC 6962,
// by golang.org/x/mod/sumdb/tlog) whose head the device signs (Ed25519, by golang.org/x/mod/sumdb/note), and each entry
// names the one before it. A workspace is a set of logs; the present state of its jobs is a fold over them, in an order
// that does not depend on how the logs came together. A correction is a new entry.
//
// A signed head shows that a log was not altered since another party has held that head. Whoever holds the store and its
// key can write another log: evidence begins when somebody else holds the head.
package journal
