package journal

import "context"

// Store keeps logs. What Append has acknowledged is there for good, whatever happens to the process; a batch is there
// whole or not at all. One process at a time has a store open.
type Store interface {
	// Device is the device that writes here; false before there is one.
	Device(ctx context.Context) (Device, bool, error)
	// SetDevice keeps the device that writes here, with an empty log.
	SetDevice(ctx context.Context, d Device) error
	// Logs lists the logs that are kept, in the order of their names.
	Logs(ctx context.Context) ([]Kept, error)
	// Append adds entries to the end of logs, sets their heads, and keeps blobs, all in one.
	Append(ctx context.Context, batches ...Batch) error
	// Read gives the entries of a log from a place on, in order.
	Read(ctx context.Context, log string, from int64, each func(raw []byte) error) error
	// Blob is the bytes of a hash; nil when there are none.
	Blob(ctx context.Context, hash string) ([]byte, error)
	// Blobs lists the hashes of all blobs, in order.
	Blobs(ctx context.Context) ([]string, error)
}

// Kept is a log in a store.
type Kept struct {
	Log    string
	Verify string // public key
	Size   int64
	Head   []byte // signed; empty while the log is
}

// Batch is what is added to one log at once.
type Batch struct {
	Log    string
	Verify string
	From   int64 // place of the first entry: the size of the log before
	Raw    [][]byte
	Head   []byte
	Blobs  []Blob
}

// Blob is bytes by their SHA-256.
type Blob struct {
	Hash string
	Data []byte
}
