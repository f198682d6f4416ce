package journal

import (
	"archive/zip"
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
)

// The bounds of a pack that is read: a site of a thousand doors with photos stays far below.
const (
	mostPack    = 2 << 30
	mostFiles   = 100_000
	mostBlob    = 64 << 20
	mostLog     = 1 << 30
	packVersion = 1
)

// PackSuffix is the end of the name of a pack's file.
const PackSuffix = ".doorwright.zip"

// card is the list of contents of a pack.
type card struct {
	Pack int       `json:"doorwright_pack"`
	Logs []logCard `json:"logs"`
}

type logCard struct {
	Log    string `json:"log"`
	Verify string `json:"verify"`
	Size   int64  `json:"size"`
	Head   string `json:"head"`
}

// Export writes everything in a store but its secret key as a pack: a ZIP file of the logs as JSON lines, their signed
// heads, and the photos.
func Export(ctx context.Context, s Store, w io.Writer) error {
	logs, err := s.Logs(ctx)
	if err != nil {
		return err
	}
	z := zip.NewWriter(w)
	c := card{Pack: packVersion}
	for _, k := range logs {
		c.Logs = append(c.Logs, logCard{k.Log, k.Verify, k.Size, string(k.Head)})
	}
	list, err := json.MarshalIndent(c, "", "  ")
	if err != nil {
		return err
	}
	if err := put(z, "pack.json", list); err != nil {
		return err
	}
	for _, k := range logs {
		var lines bytes.Buffer
		err := s.Read(ctx, k.Log, 0, func(raw []byte) error {
			lines.Write(raw)
			return lines.WriteByte('\n')
		})
		if err != nil {
			return err
		}
		if err := put(z, "logs/"+k.Log+".jsonl", lines.Bytes()); err != nil {
			return err
		}
	}
	hashes, err := s.Blobs(ctx)
	if err != nil {
		return err
	}
	for _, hash := range hashes {
		data, err := s.Blob(ctx, hash)
		if err != nil {
			return err
		}
		if err := put(z, "photos/"+hash, data); err != nil {
			return err
		}
	}
	return z.Close()
}

// put adds a file without a time, so that the same store gives the same bytes.
func put(z *zip.Writer, name string, data []byte) error {
	f, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate})
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	return err
}

// OpenPack reads a pack into a store in memory and checks that it is whole and holds nothing else. Whether its logs are
// sound, Verify says.
func OpenPack(ctx context.Context, data []byte) (*Memory, error) {
	if len(data) > mostPack {
		return nil, errors.New("the pack is too large")
	}
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, fmt.Errorf("this is no pack: %w", err)
	}
	if len(z.File) > mostFiles {
		return nil, errors.New("the pack has too many files")
	}
	files := map[string]*zip.File{}
	for _, f := range z.File {
		if files[f.Name] != nil {
			return nil, fmt.Errorf("the pack has %q twice", f.Name)
		}
		files[f.Name] = f
	}
	list, err := unzipped(files["pack.json"], 1<<20)
	if err != nil {
		return nil, fmt.Errorf("pack.json: %w", err)
	}
	delete(files, "pack.json")
	var c card
	d := json.NewDecoder(bytes.NewReader(list))
	d.DisallowUnknownFields()
	if err := d.Decode(&c); err != nil {
		return nil, fmt.Errorf("pack.json: %w", err)
	}
	if c.Pack != packVersion {
		return nil, fmt.Errorf("a pack of version %d: this program reads version %d", c.Pack, packVersion)
	}
	return c.read(ctx, files)
}

func (c *card) read(ctx context.Context, files map[string]*zip.File) (*Memory, error) {
	m := NewMemory()
	for i, k := range c.Logs {
		name := "logs/" + k.Log + ".jsonl"
		lines, err := unzipped(files[name], mostLog)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		delete(files, name)
		b := Batch{Log: k.Log, Verify: k.Verify, Head: []byte(k.Head)}
		if len(lines) > 0 {
			if lines[len(lines)-1] != '\n' {
				return nil, fmt.Errorf("%s ends in the middle of an entry", name)
			}
			b.Raw = bytes.Split(lines[:len(lines)-1], []byte("\n"))
		}
		if int64(len(b.Raw)) != k.Size {
			return nil, fmt.Errorf("%s has %d entries, pack.json says %d", name, len(b.Raw), k.Size)
		}
		if i == 0 {
			err = c.photos(&b, files)
		}
		if err == nil {
			err = m.Append(ctx, b)
		}
		if err != nil {
			return nil, err
		}
	}
	for name := range files {
		return nil, fmt.Errorf("the pack has a file %q that is none of its own", name)
	}
	return m, nil
}

func (c *card) photos(b *Batch, files map[string]*zip.File) error {
	for name, f := range files {
		hash, ok := strings.CutPrefix(name, "photos/")
		if !ok {
			continue
		}
		data, err := unzipped(f, mostBlob)
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		if sum := sha256.Sum256(data); hex.EncodeToString(sum[:]) != hash {
			return fmt.Errorf("%s is not what it was", name)
		}
		b.Blobs = append(b.Blobs, Blob{hash, data})
		delete(files, name)
	}
	slices.SortFunc(b.Blobs, func(a, b Blob) int { return strings.Compare(a.Hash, b.Hash) })
	return nil
}

// unzipped reads a file of a pack up to a bound, whatever the pack says of its size.
func unzipped(f *zip.File, most int64) ([]byte, error) {
	if f == nil {
		return nil, errors.New("it is missing")
	}
	r, err := f.Open()
	if err != nil {
		return nil, err
	}
	defer r.Close() //nolint:errcheck // it was only read
	data, err := io.ReadAll(io.LimitReader(r, most+1))
	if err != nil {
		return nil, err
	}
	if int64(len(data)) > most {
		return nil, fmt.Errorf("it is larger than %d bytes", most)
	}
	return data, nil
}
