package sqlite

import (
	"context"
	"encoding/binary"
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// Backup writes the whole store to a new file while it is in use, without the secret key: whoever goes on from a backup
// writes a log of their own, so that no log is ever written in two places.
func (s *Store) Backup(ctx context.Context, file string) error {
	if _, err := os.Stat(file); err == nil {
		return fmt.Errorf("%s is there already", file)
	}
	part := file + ".part"
	if err := os.Remove(part); err != nil && !os.IsNotExist(err) {
		return err
	}
	if _, err := s.db.ExecContext(ctx, "vacuum into ?", part); err != nil {
		return explain(file, err)
	}
	defer os.Remove(part) //nolint:errcheck // it is gone when all went well
	if err := withoutKey(ctx, part); err != nil {
		return err
	}
	return settle(part, file)
}

// withoutKey takes the secret key out of a copy. Deleted bytes are overwritten: secure_delete is on.
func withoutKey(ctx context.Context, file string) error {
	s, err := open(ctx, file, "", "")
	if err != nil {
		return err
	}
	if _, err = s.db.ExecContext(ctx, "delete from device"); err != nil {
		s.Close() //nolint:errcheck // the error that matters is err
		return err
	}
	return s.Close()
}

// settle brings a file to disk under its name.
func settle(part, file string) error {
	if err := synced(part); err != nil {
		return err
	}
	if err := os.Rename(part, file); err != nil {
		return err
	}
	synced(filepath.Dir(file)) //nolint:errcheck // not every system can
	return nil
}

func synced(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close() //nolint:errcheck // it was only read
	return f.Sync()
}

// Check looks at every page of the file itself, also at those that nothing is kept in. It says what is damaged, in
// sentences.
func (s *Store) Check(ctx context.Context) ([]string, error) {
	if s.held != "" {
		if _, err := s.db.ExecContext(ctx, "pragma wal_checkpoint(truncate)"); err != nil {
			return nil, explain(s.file, err)
		}
	}
	f, err := os.Open(s.file)
	if err != nil {
		return nil, err
	}
	defer f.Close() //nolint:errcheck // it was only read
	return checkPages(f)
}

// checkPages reads pages up to the end and compares their checksums.
func checkPages(r io.Reader) ([]string, error) {
	var wrong []string
	page := make([]byte, pageSize)
	for n := 1; ; n++ {
		switch got, err := io.ReadFull(r, page); {
		case err == io.EOF:
			return wrong, nil
		case err == io.ErrUnexpectedEOF:
			return append(wrong, fmt.Sprintf("the file ends with %d bytes too many", got)), nil
		case err != nil:
			return nil, err
		}
		if !pageHolds(page) {
			wrong = append(wrong, fmt.Sprintf("page %d of the file is not as it was written", n))
		}
	}
}

// pageSize is that of all our files: the usual one of SQLite.
const pageSize = 4096

// pageHolds compares the last 8 bytes of a page with the checksum of all others, as SQLite's checksum layer
// (ext/misc/cksumvfs.c) makes it.
func pageHolds(page []byte) bool {
	var a, b uint32
	body, sum := page[:len(page)-8], page[len(page)-8:]
	for i := 0; i+8 <= len(body); i += 8 {
		a += binary.LittleEndian.Uint32(body[i:]) + b
		b += binary.LittleEndian.Uint32(body[i+4:]) + a
	}
	return binary.LittleEndian.Uint32(sum) == a && binary.LittleEndian.Uint32(sum[4:]) == b
}
