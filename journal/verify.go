package journal

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"maps"
	"slices"

	"golang.org/x/mod/sumdb/tlog"
)

// Report says what a check of a store found.
type Report struct {
	Heads  []Head
	Signed [][]byte // the signed heads, in the same order
	Keys   []string // the public keys of the logs
	Blobs  int
	Wrong  []string // in sentences; empty when all fits
}

// Verify reads everything in a store and checks each entry against its neighbours, each log against its signed head, and
// each blob against its hash. Held are signed heads that another party has kept: every log must still begin with what they
// were signed for.
func Verify(ctx context.Context, s Store, held ...[]byte) (*Report, error) {
	logs, err := s.Logs(ctx)
	if err != nil {
		return nil, err
	}
	r := &Report{}
	trees := map[string]*tree{}
	needed := map[string]bool{}
	var all []*Entry
	for _, k := range logs {
		t, entries, err := readLog(ctx, s, k)
		if err != nil {
			r.Wrong = append(r.Wrong, err.Error())
			continue
		}
		h, err := t.head(k.Log)
		if err != nil {
			return nil, err
		}
		trees[k.Log] = t
		r.Heads, r.Signed, r.Keys = append(r.Heads, h), append(r.Signed, k.Head), append(r.Keys, k.Verify)
		all = append(all, entries...)
		for _, e := range entries {
			if p, ok := e.Body.(Photographed); ok {
				needed[p.Blob] = true
			}
		}
	}
	if err := clockHolds(all); err != nil && len(r.Wrong) == 0 {
		r.Wrong = append(r.Wrong, err.Error())
	}
	for _, signed := range held {
		if err := extends(signed, logs, trees); err != nil {
			r.Wrong = append(r.Wrong, err.Error())
		}
	}
	return r, r.blobs(ctx, s, needed)
}

// SplitHeads takes a text of several signed heads apart, as doorwright journal heads prints them.
func SplitHeads(text []byte) [][]byte {
	var all [][]byte
	for line := range bytes.Lines(text) {
		if bytes.HasPrefix(line, []byte(origin)) {
			all = append(all, nil)
		}
		if len(all) > 0 {
			last := &all[len(all)-1]
			*last = append(*last, line...)
		}
	}
	for i, h := range all {
		all[i] = append(bytes.TrimRight(h, "\r\n"), '\n') // a line between two heads belongs to none
	}
	return all
}

// extends checks that a log still begins with what a head was signed for.
func extends(signed []byte, logs []Kept, trees map[string]*tree) error {
	for _, k := range logs {
		if !bytes.HasPrefix(signed, []byte(origin+k.Log+"\n")) {
			continue
		}
		h, err := ReadHead(signed, k.Verify)
		if err != nil {
			return err
		}
		t := trees[k.Log]
		if t == nil || t.size < h.Size {
			return fmt.Errorf("%s: the head that was held has %d entries, fewer are kept", k.Log, h.Size)
		}
		if root, err := tlog.TreeHash(h.Size, t); err != nil || root != h.Root {
			return fmt.Errorf("%s: its first %d entries are not those that the held head was signed for", k.Log, h.Size)
		}
		return nil
	}
	return fmt.Errorf("a head was given for a log that is not kept here")
}

func (r *Report) blobs(ctx context.Context, s Store, needed map[string]bool) error {
	hashes, err := s.Blobs(ctx)
	if err != nil {
		return err
	}
	for _, hash := range hashes {
		data, err := s.Blob(ctx, hash)
		if err != nil {
			return err
		}
		if sum := sha256.Sum256(data); hex.EncodeToString(sum[:]) != hash {
			r.Wrong = append(r.Wrong, fmt.Sprintf("the photo %s is not what it was", hash))
		}
		delete(needed, hash)
		r.Blobs++
	}
	for _, hash := range slices.Sorted(maps.Keys(needed)) {
		r.Wrong = append(r.Wrong, fmt.Sprintf("the photo %s is missing", hash))
	}
	return nil
}

// Verify checks everything that is kept.
func (j *Journal) Verify(ctx context.Context, held ...[]byte) (*Report, error) {
	return Verify(ctx, j.store, held...)
}
