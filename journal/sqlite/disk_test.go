package sqlite

import (
	"io"
	mrand "math/rand/v2"
	"slices"
	"sync"

	"github.com/ncruces/go-sqlite3"
	"github.com/ncruces/go-sqlite3/vfs"
)

// disk is a disk in memory that can lose its power, fail, or be full. What was written and not brought to disk may be
// there in part after the power is cut, sector by sector, in any order.
type disk struct {
	mu    sync.Mutex
	files map[string]*diskFile
	ops   int // done so far
	cutAt int // the power is cut before this one; 0: never
	failA int // this one fails, once; 0: none
	room  int // bytes of all files together; 0: no bound
	full  int // how often there was no room
}

type diskFile struct {
	durable []byte
	data    []byte  // as whoever reads it sees it
	pending []write // since it was brought to disk last
}

// write is a write that may still be lost, or a truncation when data is nil.
type write struct {
	at   int64
	data []byte
}

// sector is what a disk writes whole or not at all.
const sector = 512

func newDisk() *disk { return &disk{files: map[string]*diskFile{}} }

// step counts an operation, and errs when it is not done.
func (d *disk) step() error {
	d.ops++
	if d.cutAt > 0 && d.ops >= d.cutAt || d.ops == d.failA {
		return sqlite3.IOERR
	}
	return nil
}

// afterCut is the disk when the power is back.
func (d *disk) afterCut(random *mrand.Rand) *disk {
	d.mu.Lock()
	defer d.mu.Unlock()
	n := newDisk()
	for name, f := range d.files {
		data := slices.Clone(f.durable)
		for _, w := range f.pending {
			data = w.survives(data, random)
		}
		n.files[name] = &diskFile{durable: data, data: slices.Clone(data)}
	}
	return n
}

// survives does as much of a write as chance will have it.
func (w write) survives(data []byte, random *mrand.Rand) []byte {
	if w.data == nil {
		if random.IntN(2) == 0 {
			return resized(data, w.at)
		}
		return data
	}
	for from := 0; from < len(w.data); {
		to := min(len(w.data), from+sector-int(w.at+int64(from))%sector)
		if random.IntN(2) == 0 {
			data = put(data, w.at+int64(from), w.data[from:to])
		}
		from = to
	}
	return data
}

func resized(data []byte, size int64) []byte {
	if int64(len(data)) >= size {
		return data[:size]
	}
	return append(data, make([]byte, size-int64(len(data)))...)
}

func put(data []byte, at int64, p []byte) []byte {
	if end := at + int64(len(p)); int64(len(data)) < end {
		data = resized(data, end)
	}
	copy(data[at:], p)
	return data
}

// The layer of files as SQLite asks for it.

func (d *disk) Open(name string, flags vfs.OpenFlag) (vfs.File, vfs.OpenFlag, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	f := d.files[name]
	if f == nil || name == "" {
		if flags&vfs.OPEN_CREATE == 0 {
			return nil, 0, sqlite3.CANTOPEN
		}
		if err := d.step(); err != nil {
			return nil, 0, sqlite3.CANTOPEN
		}
		f = &diskFile{}
		if name != "" {
			d.files[name] = f
		}
	}
	return &openFile{d, f}, flags, nil
}

func (d *disk) Delete(name string, _ bool) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	if err := d.step(); err != nil {
		return sqlite3.IOERR_DELETE
	}
	if d.files[name] == nil {
		return sqlite3.IOERR_DELETE_NOENT
	}
	delete(d.files, name)
	return nil
}

func (d *disk) Access(name string, _ vfs.AccessFlag) (bool, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.files[name] != nil, nil
}

func (d *disk) FullPathname(name string) (string, error) { return name, nil }

type openFile struct {
	disk *disk
	file *diskFile
}

func (o *openFile) Close() error { return nil }

func (o *openFile) ReadAt(p []byte, at int64) (int, error) {
	o.disk.mu.Lock()
	defer o.disk.mu.Unlock()
	if at >= int64(len(o.file.data)) {
		return 0, io.EOF
	}
	n := copy(p, o.file.data[at:])
	if n < len(p) {
		return n, io.EOF
	}
	return n, nil
}

func (o *openFile) WriteAt(p []byte, at int64) (int, error) {
	d := o.disk
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.step() != nil {
		return 0, sqlite3.IOERR_WRITE
	}
	if more := at + int64(len(p)) - int64(len(o.file.data)); d.room > 0 && more > 0 {
		used := 0
		for _, f := range d.files {
			used += len(f.data)
		}
		if used+int(more) > d.room {
			d.full++
			return 0, sqlite3.FULL
		}
	}
	o.file.data = put(o.file.data, at, p)
	o.file.pending = append(o.file.pending, write{at, slices.Clone(p)})
	return len(p), nil
}

func (o *openFile) Truncate(size int64) error {
	o.disk.mu.Lock()
	defer o.disk.mu.Unlock()
	if o.disk.step() != nil {
		return sqlite3.IOERR_TRUNCATE
	}
	o.file.data = resized(o.file.data, size)
	o.file.pending = append(o.file.pending, write{size, nil})
	return nil
}

func (o *openFile) Sync(vfs.SyncFlag) error {
	o.disk.mu.Lock()
	defer o.disk.mu.Unlock()
	if o.disk.step() != nil {
		return sqlite3.IOERR_FSYNC
	}
	o.file.durable, o.file.pending = slices.Clone(o.file.data), nil
	return nil
}

func (o *openFile) Size() (int64, error) {
	o.disk.mu.Lock()
	defer o.disk.mu.Unlock()
	return int64(len(o.file.data)), nil
}

func (o *openFile) Lock(vfs.LockLevel) error         { return nil }
func (o *openFile) Unlock(vfs.LockLevel) error       { return nil }
func (o *openFile) CheckReservedLock() (bool, error) { return false, nil }
func (o *openFile) SectorSize() int                  { return sector }

func (o *openFile) DeviceCharacteristics() vfs.DeviceCharacteristic {
	return vfs.IOCAP_POWERSAFE_OVERWRITE | vfs.IOCAP_SUBPAGE_READ
}
