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
	"hash"
	"io"
	"maps"
	"slices"
	"strings"
)

// The bounds of a pack that is read: a site of a thousand doors with photos stays far below.
const (
	mostPack    = 2<<30 - 1
	mostFiles   = 100_000
	mostBlob    = 64 << 20
	mostLog     = 1 << 30
	mostWhole   = 3 << 30 // of all files unpacked
	mostRatio   = 200     // of a file's size to what it takes up packed, above mostSmall: logs come to 20
	mostSmall   = 4 << 20
	packVersion = 1
)

// PackSuffix is the end of the name of a pack's file.
const PackSuffix = ".doorwright.zip"

// sealSize is the length of the seal: the SHA-256 of all bytes before it, in hexadecimal digits. It stands where ZIP files
// have a comment, at the end.
const sealSize = 2 * sha256.Size

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

func (c *card) bytes() ([]byte, error) { return json.MarshalIndent(c, "", "  ") }

// Export writes everything in a store but its secret key as a pack: a ZIP file of the logs as JSON lines, their signed
// heads, and the photos. Its last bytes are the hash of all others, so that damage anywhere shows.
func Export(ctx context.Context, s Store, w io.Writer) error {
	seal := &sealer{to: w, sum: sha256.New()}
	z := zip.NewWriter(seal)
	if err := z.SetComment(strings.Repeat("0", sealSize)); err != nil {
		return err
	}
	for _, part := range []func(context.Context, Store, *zip.Writer) error{exportLogs, exportPhotos} {
		if err := part(ctx, s, z); err != nil {
			return err
		}
	}
	if err := z.Close(); err != nil {
		return err
	}
	return seal.close()
}

func exportLogs(ctx context.Context, s Store, z *zip.Writer) error {
	logs, err := s.Logs(ctx)
	if err != nil {
		return err
	}
	c := card{Pack: packVersion, Logs: []logCard{}}
	for _, k := range logs {
		c.Logs = append(c.Logs, logCard{k.Log, k.Verify, k.Size, string(k.Head)})
	}
	list, err := c.bytes()
	if err != nil {
		return err
	}
	if err := put(z, "pack.json", list); err != nil {
		return err
	}
	for _, k := range logs {
		var lines bytes.Buffer
		// Not more than the head is of, should somebody write meanwhile.
		left := k.Size
		err := s.Read(ctx, k.Log, 0, func(raw []byte) error {
			if left--; left < 0 {
				return nil
			}
			lines.Write(raw)
			return lines.WriteByte('\n')
		})
		if err == nil {
			err = put(z, "logs/"+k.Log+".jsonl", lines.Bytes())
		}
		if err != nil {
			return err
		}
	}
	return nil
}

func exportPhotos(ctx context.Context, s Store, z *zip.Writer) error {
	hashes, err := s.Blobs(ctx)
	if err != nil {
		return err
	}
	for _, name := range hashes {
		data, err := s.Blob(ctx, name)
		if err == nil {
			err = put(z, "photos/"+name, data)
		}
		if err != nil {
			return err
		}
	}
	return nil
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

// sealer passes bytes on but for the last ones, in whose place it puts the hash of all before.
type sealer struct {
	to   io.Writer
	sum  hash.Hash
	tail []byte
}

func (s *sealer) Write(p []byte) (int, error) {
	s.tail = append(s.tail, p...)
	over := len(s.tail) - sealSize
	if over <= 0 {
		return len(p), nil
	}
	s.sum.Write(s.tail[:over])
	if _, err := s.to.Write(s.tail[:over]); err != nil {
		return 0, err
	}
	s.tail = append(s.tail[:0], s.tail[over:]...)
	return len(p), nil
}

func (s *sealer) close() error {
	_, err := io.WriteString(s.to, hex.EncodeToString(s.sum.Sum(nil)))
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
	if sum := sha256.Sum256(data[:max(0, len(data)-sealSize)]); hex.EncodeToString(sum[:]) != z.Comment {
		return nil, errors.New("the pack is damaged, or was packed anew by another program: it is not as it was written")
	}
	files, err := listed(z)
	if err != nil {
		return nil, err
	}
	c, err := readCard(files)
	if err != nil {
		return nil, err
	}
	return c.read(ctx, files)
}

// listed are the files of a pack by name, when their number and sizes are within bounds.
func listed(z *zip.Reader) (map[string]*zip.File, error) {
	if len(z.File) > mostFiles {
		return nil, errors.New("the pack has too many files")
	}
	files := map[string]*zip.File{}
	whole := uint64(0)
	for _, f := range z.File {
		size := f.UncompressedSize64
		switch {
		case files[f.Name] != nil:
			return nil, fmt.Errorf("the pack has %q twice", f.Name)
		case size > mostSmall && size/mostRatio > f.CompressedSize64:
			return nil, fmt.Errorf("%q would be %d times as large unpacked: no pack of ours is", f.Name, size/max(1, f.CompressedSize64))
		case size > mostWhole || whole+size > mostWhole:
			return nil, fmt.Errorf("unpacked, the pack is larger than %d MiB", mostWhole>>20)
		}
		whole += size
		files[f.Name] = f
	}
	return files, nil
}

// readCard takes the list of contents from the files.
func readCard(files map[string]*zip.File) (*card, error) {
	list, err := unzipped(files["pack.json"], mostSmall)
	if err != nil {
		return nil, fmt.Errorf("pack.json: %w", err)
	}
	delete(files, "pack.json")
	c := &card{}
	if err := json.Unmarshal(list, c); err != nil {
		return nil, fmt.Errorf("pack.json: %w", err)
	}
	if c.Pack != packVersion {
		return nil, fmt.Errorf("a pack of version %d: this program reads version %d", c.Pack, packVersion)
	}
	if again, err := c.bytes(); err != nil || !bytes.Equal(again, list) {
		return nil, errors.New("pack.json is not written as in a pack")
	}
	return c, nil
}

func (c *card) read(ctx context.Context, files map[string]*zip.File) (*Memory, error) {
	m := NewMemory()
	for _, k := range c.Logs {
		b, err := k.read(files)
		if err != nil {
			return nil, err
		}
		if err := m.Append(ctx, *b); err != nil {
			return nil, err
		}
	}
	for _, name := range slices.Sorted(maps.Keys(files)) {
		data, err := photo(name, files[name])
		if err != nil {
			return nil, err
		}
		m.blobs[strings.TrimPrefix(name, "photos/")] = data
	}
	return m, nil
}

// read takes a log from the files.
func (k *logCard) read(files map[string]*zip.File) (*Batch, error) {
	// The name is checked before anything is done with it: it can be no path.
	if err := checkKey(k.Log, k.Verify); err != nil {
		return nil, err
	}
	name := "logs/" + k.Log + ".jsonl"
	lines, err := unzipped(files[name], mostLog)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	delete(files, name)
	b := &Batch{Log: k.Log, Verify: k.Verify, Head: []byte(k.Head)}
	if len(lines) > 0 {
		if lines[len(lines)-1] != '\n' {
			return nil, fmt.Errorf("%s ends in the middle of an entry", name)
		}
		b.Raw = bytes.Split(lines[:len(lines)-1], []byte("\n"))
	}
	if int64(len(b.Raw)) != k.Size {
		return nil, fmt.Errorf("%s has %d entries, pack.json says %d", name, len(b.Raw), k.Size)
	}
	return b, nil
}

// photo is the bytes of a photo of a pack. It errs on a file that is none.
func photo(name string, f *zip.File) ([]byte, error) {
	want, ok := strings.CutPrefix(name, "photos/")
	if !ok {
		return nil, fmt.Errorf("the pack has a file %q that is none of its own", name)
	}
	data, err := unzipped(f, mostBlob)
	if err != nil {
		return nil, fmt.Errorf("%q: %w", name, err)
	}
	if sum := sha256.Sum256(data); hex.EncodeToString(sum[:]) != want {
		return nil, fmt.Errorf("%q is not what it was", name)
	}
	return data, nil
}

// unzipped reads a file of a pack up to a bound, and never more than the pack says.
func unzipped(f *zip.File, most int64) ([]byte, error) {
	if f == nil {
		return nil, errors.New("it is missing")
	}
	most = min(most, int64(min(f.UncompressedSize64, mostWhole)))
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
