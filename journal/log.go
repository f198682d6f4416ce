package journal

import (
	"crypto/ed25519"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"golang.org/x/mod/sumdb/note"
	"golang.org/x/mod/sumdb/tlog"
)

// Device is a writing device: the name of its log, and its key.
type Device struct {
	Log    string
	Signer string // secret, in the text form of signed notes
	Verify string // public, in the same form
}

// NewDevice makes a device with a new key. Random is a source of secrets. The name of its log follows from its key, so
// that nobody with another key can take the name first.
func NewDevice(random io.Reader) (Device, error) {
	public, private, err := ed25519.GenerateKey(random)
	if err != nil {
		return Device{}, err
	}
	d := Device{Log: logName(public)}
	if d.Verify, err = note.NewEd25519VerifierKey(d.Log, public); err != nil {
		return Device{}, err
	}
	// The secret form has the same name and hash, and the seed behind the number of the algorithm (package note).
	hash := strings.SplitN(d.Verify, "+", 3)[1]
	d.Signer = "PRIVATE+KEY+" + d.Log + "+" + hash + "+" + base64.StdEncoding.EncodeToString(append([]byte{algorithm}, private.Seed()...))
	_, err = note.NewSigner(d.Signer)
	return d, err
}

// algorithm is the number of Ed25519 in the keys of signed notes (C2SP signed-note).
const algorithm = 1

// logName is the name of the log of a public key.
func logName(public []byte) string {
	sum := sha256.Sum256(public)
	return "log-" + hex.EncodeToString(sum[:8])
}

// checkKey checks that a log has the name that its key gives.
func checkKey(log, verify string) error {
	v, err := note.NewVerifier(verify)
	if err != nil {
		return fmt.Errorf("%q: the public key is none: %w", log, err)
	}
	// NewVerifier has read all three parts: the last is algorithm and key.
	key, err := base64.StdEncoding.DecodeString(strings.SplitN(verify, "+", 3)[2])
	if err != nil || v.Name() != log || logName(key[1:]) != log {
		return fmt.Errorf("%q is not the name that its key gives", log)
	}
	return nil
}

// tree is the Merkle tree of a log.
type tree struct {
	size   int64
	hashes []tlog.Hash
	last   string // hash of the last entry
	clock  int64
}

// ReadHashes makes the tree its own store of hashes.
func (t *tree) ReadHashes(at []int64) ([]tlog.Hash, error) {
	out := make([]tlog.Hash, len(at))
	for i, n := range at {
		if n < 0 || n >= int64(len(t.hashes)) {
			return nil, fmt.Errorf("no hash %d in a tree of %d", n, len(t.hashes))
		}
		out[i] = t.hashes[n]
	}
	return out, nil
}

// add appends a leaf.
func (t *tree) add(raw []byte) error {
	more, err := tlog.StoredHashes(t.size, raw, t)
	if err != nil {
		return err
	}
	t.hashes = append(t.hashes, more...)
	t.size++
	t.last = hashOf(raw)
	return nil
}

// copied is the tree for somebody who adds to it and may give up. One at a time does: they share what is behind the end.
func (t *tree) copied() *tree {
	c := *t
	return &c
}

// Head is the size and the root of a log at some time.
type Head struct {
	Log  string
	Size int64
	Root tlog.Hash
}

// origin is the first line of a head, so that it cannot be taken for another sort of note.
const origin = "doorwright journal "

func (t *tree) head(log string) (Head, error) {
	if t.size == 0 {
		return Head{Log: log}, nil
	}
	root, err := tlog.TreeHash(t.size, t)
	return Head{log, t.size, root}, err
}

// text is the head as it is signed: a checkpoint of a transparency log (C2SP tlog-checkpoint).
func (h Head) text() string {
	return fmt.Sprintf("%s%s\n%d\n%s\n", origin, h.Log, h.Size, base64.StdEncoding.EncodeToString(h.Root[:]))
}

// sign signs a head with a device's key.
func sign(h Head, d Device) ([]byte, error) {
	s, err := note.NewSigner(d.Signer)
	if err != nil {
		return nil, err
	}
	return note.Sign(&note.Note{Text: h.text()}, s)
}

// ReadHead reads a signed head and checks its signature with the public key of the log.
func ReadHead(signed []byte, verify string) (Head, error) {
	v, err := note.NewVerifier(verify)
	if err != nil {
		return Head{}, fmt.Errorf("the public key is none: %w", err)
	}
	n, err := note.Open(signed, note.VerifierList(v))
	if err != nil {
		return Head{}, fmt.Errorf("the signature of the head of %s does not fit: %w", v.Name(), err)
	}
	lines := strings.Split(n.Text, "\n")
	if len(lines) != 4 || lines[0] != origin+v.Name() {
		return Head{}, errors.New("the head is not of this log")
	}
	size, err := strconv.ParseInt(lines[1], 10, 64)
	root, err2 := base64.StdEncoding.DecodeString(lines[2])
	h := Head{Log: v.Name(), Size: size}
	if err != nil || err2 != nil || len(root) != len(h.Root) || size < 0 {
		return Head{}, errors.New("the head is damaged")
	}
	copy(h.Root[:], root)
	if h.text() != n.Text {
		return Head{}, errors.New("the head is not written as heads are")
	}
	return h, nil
}
