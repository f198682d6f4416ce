package journal

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"sync"
)

// Memory is a store that is gone with the process: for tests, and for a look at the demo.
type Memory struct {
	mu     sync.Mutex
	device *Device
	logs   map[string]*memoryLog
	blobs  map[string][]byte
}

type memoryLog struct {
	kept Kept
	raw  [][]byte
}

// NewMemory is an empty store.
func NewMemory() *Memory { return &Memory{logs: map[string]*memoryLog{}, blobs: map[string][]byte{}} }

// Device is the device that writes here.
func (m *Memory) Device(context.Context) (Device, bool, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.device == nil {
		return Device{}, false, nil
	}
	return *m.device, true, nil
}

// SetDevice keeps the device that writes here.
func (m *Memory) SetDevice(_ context.Context, d Device) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.device != nil {
		return errors.New("the store has a device")
	}
	m.device = &d
	m.logs[d.Log] = &memoryLog{kept: Kept{Log: d.Log, Verify: d.Verify}}
	return nil
}

// Logs lists the logs.
func (m *Memory) Logs(context.Context) ([]Kept, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	var all []Kept
	for _, name := range slices.Sorted(maps.Keys(m.logs)) {
		all = append(all, m.logs[name].kept)
	}
	return all, nil
}

// Append adds entries.
func (m *Memory) Append(_ context.Context, batches ...Batch) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	for _, b := range batches {
		if l := m.logs[b.Log]; l != nil && l.kept.Size != b.From || l == nil && b.From != 0 {
			return fmt.Errorf("entries of %s from %d do not follow what is kept", b.Log, b.From)
		}
	}
	for _, b := range batches {
		l := m.logs[b.Log]
		if l == nil {
			l = &memoryLog{kept: Kept{Log: b.Log, Verify: b.Verify}}
			m.logs[b.Log] = l
		}
		for _, raw := range b.Raw {
			l.raw = append(l.raw, bytes.Clone(raw))
		}
		l.kept.Size, l.kept.Head = int64(len(l.raw)), b.Head
		for _, x := range b.Blobs {
			m.blobs[x.Hash] = bytes.Clone(x.Data)
		}
	}
	return nil
}

// Read gives the entries of a log.
func (m *Memory) Read(_ context.Context, log string, from int64, each func(raw []byte) error) error {
	m.mu.Lock()
	var raw [][]byte
	if l := m.logs[log]; l != nil && from < int64(len(l.raw)) {
		raw = l.raw[from:]
	}
	m.mu.Unlock()
	for _, r := range raw {
		if err := each(r); err != nil {
			return err
		}
	}
	return nil
}

// Blob is the bytes of a hash.
func (m *Memory) Blob(_ context.Context, hash string) ([]byte, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	return bytes.Clone(m.blobs[hash]), nil
}

// Blobs lists the hashes of all blobs.
func (m *Memory) Blobs(context.Context) ([]string, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	return slices.Sorted(maps.Keys(m.blobs)), nil
}
