// Package sqlite keeps a journal in one SQLite file.
//
// The file is in WAL mode with full synchronisation: what was acknowledged is on disk. One process has it open at a time.
// Each page carries a checksum (the form of SQLite's cksumvfs), so that damage shows wherever it is.
//
// Of the two SQLite libraries without cgo that are as fast as each other here, github.com/ncruces/go-sqlite3 is used: its
// layer of files is a Go interface, so that tests can cut the power and fill the disk, and it reads and writes checksums.
package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"strings"

	"doorwright/journal"

	"github.com/ncruces/go-sqlite3"
	"github.com/ncruces/go-sqlite3/driver" // also of database/sql
)

// Store is an open file.
type Store struct {
	db   *sql.DB
	file string // absolute
	held string // the file that says who has it open; empty when that was not written
}

var _ journal.Store = (*Store)(nil)

// application marks the file as ours ("DWRT"), so that another program's file is not written to.
const application = 0x44575254

// Open opens a file, and makes it where there is none. It errs when another process has it open, when it is no journal,
// or is one of a later version.
func Open(ctx context.Context, file string) (*Store, error) {
	if err := os.MkdirAll(filepath.Dir(file), 0o700); err != nil {
		return nil, err
	}
	s, err := open(ctx, file, "", "")
	if err != nil {
		return nil, err
	}
	s.hold()
	return s, nil
}

// Look opens a file that is there to be read, and changes nothing in it where that can be: not when its last writer was
// killed and left a part to be taken in.
func Look(ctx context.Context, file string) (*Store, error) {
	if _, err := os.Stat(file); err != nil {
		return nil, err
	}
	if _, err := os.Stat(file + "-wal"); err == nil {
		return Open(ctx, file)
	}
	return open(ctx, file, "", "&mode=ro&immutable=1")
}

// open opens a file by way of a layer of SQLite that reads and writes files; empty for the usual one.
func open(ctx context.Context, file, layer, more string) (*Store, error) {
	absolute, err := filepath.Abs(file)
	if err != nil {
		return nil, err
	}
	path := filepath.ToSlash(absolute)
	if !strings.HasPrefix(path, "/") {
		path = "/" + path // a drive letter
	}
	// The lock is taken for as long as the file is open: exclusive mode keeps it between transactions.
	dsn := (&url.URL{Scheme: "file", Path: path}).String() +
		"?_pragma=locking_mode(exclusive)&_pragma=synchronous(full)&_pragma=foreign_keys(on)&_pragma=secure_delete(on)&_txlock=immediate" + more
	if layer != "" {
		dsn += "&vfs=" + layer
	}
	db, err := sql.Open("sqlite3", dsn)
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(1)
	s := &Store{db: db, file: absolute}
	if err := s.begin(ctx, more != ""); err != nil {
		db.Close() //nolint:errcheck // the error that matters is err
		return nil, explain(file, err)
	}
	return s, nil
}

// begin looks at the file and brings it to the form of this version; one that is only read must be in it.
func (s *Store) begin(ctx context.Context, readOnly bool) error {
	version, fresh, err := s.version(ctx)
	switch {
	case err != nil:
		return err
	case fresh && readOnly:
		return fmt.Errorf("%s is no journal", s.file)
	case readOnly && version < len(steps()):
		return fmt.Errorf("%s was written by an earlier version of this program: open it once with this one", s.file)
	case readOnly:
		return nil
	}
	if fresh {
		if err := s.checksums(ctx); err != nil {
			return err
		}
	}
	if _, err := s.db.ExecContext(ctx, "pragma journal_mode = wal"); err != nil {
		return err
	}
	return s.migrate(ctx, version)
}

// version is the version of the file's form; fresh says that there is nothing in it.
func (s *Store) version(ctx context.Context) (version int, fresh bool, err error) {
	var app, tables int
	err = s.db.QueryRowContext(ctx, "select (select application_id from pragma_application_id), (select user_version from pragma_user_version), (select count(*) from sqlite_schema)").Scan(&app, &version, &tables)
	switch {
	case err != nil:
		return 0, false, err
	case app == 0 && version == 0 && tables == 0:
		return 0, true, nil
	case app != application:
		return 0, false, fmt.Errorf("%s is a file of another program", s.file)
	case version > len(steps()):
		return 0, false, fmt.Errorf("%s was written by a later version of this program (form %d, this one knows %d)", s.file, version, len(steps()))
	}
	return version, false, nil
}

// checksums gives each page of a new file a checksum, which is looked at whenever the page is read.
func (s *Store) checksums(ctx context.Context) error {
	c, err := s.db.Conn(ctx)
	if err != nil {
		return err
	}
	defer c.Close() //nolint:errcheck // it goes back to the pool
	return c.Raw(func(raw any) error { return raw.(driver.Conn).Raw().EnableChecksums("main") })
}

// hold writes down who has the file open, for whoever finds it locked. It is a help, and no lock: a failure does no harm.
func (s *Store) hold() {
	host, err := os.Hostname()
	if err != nil {
		host = "this machine"
	}
	s.held = s.file + heldSuffix
	if err := os.WriteFile(s.held, fmt.Appendf(nil, "process %d on %s", os.Getpid(), host), 0o600); err != nil {
		s.held = ""
	}
}

// heldSuffix is the end of the name of the file that says who has a store open.
const heldSuffix = "-held"

// holder is who has a file open, in words.
func holder(file string) string {
	text, err := os.ReadFile(file + heldSuffix)
	if err != nil || len(text) == 0 || len(text) > 300 {
		return "another process"
	}
	return "another process (" + strings.ToValidUTF8(string(text), "?") + ")"
}

// explain says what an error of SQLite means to whoever opens the file.
func explain(file string, err error) error {
	switch {
	case errors.Is(err, sqlite3.BUSY) || errors.Is(err, sqlite3.LOCKED):
		return fmt.Errorf("%s is open in %s: end that one, or choose another file", file, holder(file))
	case errors.Is(err, sqlite3.NOTADB):
		return fmt.Errorf("%s is no journal", file)
	case errors.Is(err, sqlite3.CORRUPT), errors.Is(err, sqlite3.IOERR_DATA):
		return fmt.Errorf("%s is damaged: take the last backup, and keep this one for whoever looks into it: %w", file, err)
	case errors.Is(err, sqlite3.FULL):
		return fmt.Errorf("the disk is full: %w", err)
	}
	return err
}

// steps bring a file from one version of the schema to the next. A step that was released is never changed.
func steps() []string {
	return []string{`
create table device (log text primary key, signer text not null, verify text not null);
create table log (log text primary key, verify text not null, size integer not null, head blob not null) without rowid;
create table entry (log text not null references log, seq integer not null, raw blob not null, primary key (log, seq)) without rowid;
create table blob (hash text primary key, data blob not null) without rowid;
`}
}

// migrate brings the file from a version to that of this program.
func (s *Store) migrate(ctx context.Context, version int) error {
	if version == len(steps()) {
		return nil
	}
	return s.in(ctx, func(tx *sql.Tx) error {
		for _, step := range steps()[version:] {
			if _, err := tx.ExecContext(ctx, step); err != nil {
				return err
			}
		}
		for _, set := range []string{fmt.Sprintf("pragma application_id = %d", application), fmt.Sprintf("pragma user_version = %d", len(steps()))} {
			if _, err := tx.ExecContext(ctx, set); err != nil {
				return err
			}
		}
		return nil
	})
}

// Close closes the file.
func (s *Store) Close() error {
	err := s.db.Close()
	if s.held != "" {
		os.Remove(s.held) //nolint:errcheck // it is a help, and no lock
	}
	return err
}

// Device is the device that writes here.
func (s *Store) Device(ctx context.Context) (journal.Device, bool, error) {
	var d journal.Device
	err := s.db.QueryRowContext(ctx, "select log, signer, verify from device").Scan(&d.Log, &d.Signer, &d.Verify)
	if errors.Is(err, sql.ErrNoRows) {
		return journal.Device{}, false, nil
	}
	return d, err == nil, err
}

// SetDevice keeps the device that writes here, with an empty log.
func (s *Store) SetDevice(ctx context.Context, d journal.Device) error {
	return s.in(ctx, func(tx *sql.Tx) error {
		var n int
		if err := tx.QueryRowContext(ctx, "select count(*) from device").Scan(&n); err != nil {
			return err
		}
		if n > 0 {
			return errors.New("the store has a device")
		}
		if _, err := tx.ExecContext(ctx, "insert into device values (?, ?, ?)", d.Log, d.Signer, d.Verify); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, "insert into log values (?, ?, 0, ?)", d.Log, d.Verify, []byte{})
		return err
	})
}

// Logs lists the logs.
func (s *Store) Logs(ctx context.Context) ([]journal.Kept, error) {
	rows, err := s.db.QueryContext(ctx, "select log, verify, size, head from log order by log")
	if err != nil {
		return nil, err
	}
	defer rows.Close() //nolint:errcheck // it was only read
	var all []journal.Kept
	for rows.Next() {
		var k journal.Kept
		if err := rows.Scan(&k.Log, &k.Verify, &k.Size, &k.Head); err != nil {
			return nil, err
		}
		all = append(all, k)
	}
	return all, rows.Err()
}

// Append adds entries, heads and blobs in one transaction.
func (s *Store) Append(ctx context.Context, batches ...journal.Batch) error {
	return explain(s.file, s.in(ctx, func(tx *sql.Tx) error {
		for i := range batches {
			if err := appendTo(ctx, tx, &batches[i]); err != nil {
				return err
			}
		}
		return nil
	}))
}

func appendTo(ctx context.Context, tx *sql.Tx, b *journal.Batch) error {
	var size int64
	err := tx.QueryRowContext(ctx, "select size from log where log = ?", b.Log).Scan(&size)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		_, err = tx.ExecContext(ctx, "insert into log values (?, ?, 0, ?)", b.Log, b.Verify, []byte{})
	case err == nil && size != b.From:
		err = fmt.Errorf("entries of %s from %d do not follow the %d that are kept", b.Log, b.From, size)
	}
	if err != nil {
		return err
	}
	for i, raw := range b.Raw {
		if _, err := tx.ExecContext(ctx, "insert into entry values (?, ?, ?)", b.Log, b.From+int64(i), raw); err != nil {
			return err
		}
	}
	for _, x := range b.Blobs {
		if _, err := tx.ExecContext(ctx, "insert or ignore into blob values (?, ?)", x.Hash, x.Data); err != nil {
			return err
		}
	}
	_, err = tx.ExecContext(ctx, "update log set size = ?, head = ? where log = ?", b.From+int64(len(b.Raw)), b.Head, b.Log)
	return err
}

// in runs a transaction; an error undoes all of it.
func (s *Store) in(ctx context.Context, do func(*sql.Tx) error) error {
	tx, err := s.db.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer tx.Rollback() //nolint:errcheck // it does nothing after a commit
	if err := do(tx); err != nil {
		return err
	}
	return tx.Commit()
}

// Read gives the entries of a log.
func (s *Store) Read(ctx context.Context, log string, from int64, each func(raw []byte) error) error {
	rows, err := s.db.QueryContext(ctx, "select seq, raw from entry where log = ? and seq >= ? order by seq", log, from)
	if err != nil {
		return err
	}
	defer rows.Close() //nolint:errcheck // it was only read
	for want := from; rows.Next(); want++ {
		var seq int64
		var raw []byte
		if err := rows.Scan(&seq, &raw); err != nil {
			return err
		}
		if seq != want {
			return fmt.Errorf("entry %d of %s is missing", want, log)
		}
		if err := each(raw); err != nil {
			return err
		}
	}
	return rows.Err()
}

// Blob is the bytes of a hash.
func (s *Store) Blob(ctx context.Context, hash string) ([]byte, error) {
	var data []byte
	err := s.db.QueryRowContext(ctx, "select data from blob where hash = ?", hash).Scan(&data)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, nil
	}
	return data, err
}

// Blobs lists the hashes of all blobs.
func (s *Store) Blobs(ctx context.Context) ([]string, error) {
	rows, err := s.db.QueryContext(ctx, "select hash from blob order by hash")
	if err != nil {
		return nil, err
	}
	defer rows.Close() //nolint:errcheck // it was only read
	var all []string
	for rows.Next() {
		var hash string
		if err := rows.Scan(&hash); err != nil {
			return nil, err
		}
		all = append(all, hash)
	}
	return all, rows.Err()
}
