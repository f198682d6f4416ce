package journal

import (
	"archive/zip"
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/json"
	"hash/crc32"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// packed is a store with a job, an edit and a photo, its pack, and the files of that.
func packed(t testing.TB) (*Memory, []byte, []file) {
	t.Helper()
	s := NewMemory()
	j := opened(t, s)
	wrote(t, j, small(), Edited{Job: "BTO", Field: "title", Value: "x"})
	if _, err := j.WritePhoto(context.Background(), "mw", Photographed{Job: "BTO", Type: "image/png", Act: act}, []byte("a picture")); err != nil {
		t.Fatal(err)
	}
	var pack bytes.Buffer
	if err := Export(context.Background(), s, &pack); err != nil {
		t.Fatal(err)
	}
	z, err := zip.NewReader(bytes.NewReader(pack.Bytes()), int64(pack.Len()))
	if err != nil {
		t.Fatal(err)
	}
	var files []file
	for _, f := range z.File {
		data, err := unzipped(f, mostLog)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, file{f.Name, data})
	}
	return s, pack.Bytes(), files
}

type file struct {
	name string
	data []byte
}

// sealed makes a pack of files as somebody would who knows how a pack is sealed.
func sealed(t testing.TB, files []file) []byte {
	t.Helper()
	var b bytes.Buffer
	seal := &sealer{to: &b, sum: sha256.New()}
	z := zip.NewWriter(seal)
	for _, f := range files {
		if err := put(z, f.name, f.data); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.SetComment(strings.Repeat("0", sealSize)); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	if err := seal.close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestPackComesBackAsItWas(t *testing.T) {
	ctx := context.Background()
	s, pack, files := packed(t)
	m, err := OpenPack(ctx, pack)
	if err != nil || !sameContent(m, s) || len(m.blobs) != 1 {
		t.Fatalf("other content: %v", err)
	}
	var again bytes.Buffer
	if err := Export(ctx, m, &again); err != nil || !bytes.Equal(again.Bytes(), pack) {
		t.Errorf("packed again it is another pack: %v", err)
	}
	if !bytes.Equal(sealed(t, files), pack) {
		t.Error("a pack is not its files sealed")
	}
	if strings.Contains(string(pack), "PRIVATE") || slices.ContainsFunc(files, func(f file) bool { return bytes.Contains(f.data, []byte("PRIVATE")) }) {
		t.Error("the pack holds a secret key")
	}
}

// The pack of each release opens in every later one. KEEP_PACK=1 writes that of this one, once.
func TestPackOfEveryVersionOpens(t *testing.T) {
	ctx := context.Background()
	if os.Getenv("KEEP_PACK") != "" {
		keepPack(t, "testdata/pack-1.doorwright.zip")
	}
	kept, err := filepath.Glob("testdata/pack-*" + PackSuffix)
	if err != nil || len(kept) == 0 {
		t.Fatal("no pack is kept", err)
	}
	for _, name := range kept {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		m, err := OpenPack(ctx, data)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		j := opened(t, NewMemory())
		got, err := j.Merge(ctx, m)
		if st := j.State(); err != nil || got.Entries < len(samples()) || got.Photos != 1 || st.Unknown > 0 || len(st.Job("BTO").Ill) > 0 {
			t.Errorf("%s: %+v, %v, %+v", name, got, err, st)
		}
	}
}

// keepPack writes a pack with an entry of every kind.
func keepPack(t *testing.T, name string) {
	s := NewMemory()
	j := opened(t, s)
	wrote(t, j, brackwater())
	for _, b := range samples() {
		switch x := b.(type) {
		case Withdrawn:
			x.Log, x.Seq = j.device.Log, 1
			b = x
		case Removed:
			x.Object = "doors/gauge"
			b = x
		case Photographed:
			if _, err := j.WritePhoto(context.Background(), "mw", x, []byte("a picture")); err != nil {
				t.Fatal(err)
			}
			continue
		}
		wrote(t, j, b)
	}
	var b bytes.Buffer
	if err := Export(context.Background(), s, &b); err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll("testdata", 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

// Whatever byte of a pack is changed, and wherever it is cut: it is refused.
func TestDamageAnywhereInAPackIsFound(t *testing.T) {
	ctx := context.Background()
	_, pack, _ := packed(t)
	for i := range pack {
		for _, flip := range []byte{1, 0x20, 0xff} {
			data := bytes.Clone(pack)
			data[i] ^= flip
			if _, err := OpenPack(ctx, data); err == nil {
				t.Fatalf("byte %d changed by %x: nothing is said", i, flip)
			}
		}
		if _, err := OpenPack(ctx, pack[:i]); err == nil {
			t.Fatalf("cut at byte %d: nothing is said", i)
		}
	}
}

// Somebody who knows the form writes what is damaged or hostile, and seals it: it is refused, and says why.
func TestHostilePacksAreRefused(t *testing.T) {
	ctx := context.Background()
	s, _, files := packed(t)
	var log string
	for name := range s.logs {
		log = name
	}
	lines := "logs/" + log + ".jsonl"
	// with is the pack with another file in the place of one, or one more.
	with := func(name, data string) []file {
		var all []file
		for _, f := range files {
			if f.name != name {
				all = append(all, f)
			}
		}
		return append(all, file{name, []byte(data)})
	}
	text := func(name string) string {
		for _, f := range files {
			if f.name == name {
				return string(f.data)
			}
		}
		t.Fatalf("no file %s", name)
		return ""
	}
	renamed := func(to string) []file {
		return append(with("pack.json", strings.ReplaceAll(text("pack.json"), log, to)), file{"logs/" + to + ".jsonl", []byte(text(lines))})
	}
	for name, c := range map[string]struct {
		files []file
		says  string
	}{
		"one entry altered":        {with(lines, strings.Replace(text(lines), `"Value":"x"`, `"Value":"y"`, 1)), "does not follow"},
		"the last entry altered":   {with(lines, strings.Replace(text(lines), "image/png", "image/gif", 1)), "signed for"},
		"the last entry left out":  {with(lines, text(lines)[:strings.LastIndex(strings.TrimSpace(text(lines)), "\n")+1]), "pack.json says"},
		"no end of line":           {with(lines, strings.TrimSpace(text(lines))), "middle of an entry"},
		"an entry with more bytes": {with(lines, strings.Replace(text(lines), `"seq":0,`, `"seq":0, `, 1)), "not written as"},
		"a log without its file":   {files[:1], "missing"},
		"a file outside":           {with("../../evil", "x"), "none of its own"},
		"an absolute file":         {with("/etc/evil", "x"), "none of its own"},
		"a photo outside":          {with("photos/../../evil", "x"), "not what it was"},
		"a photo altered":          {with(files[len(files)-1].name, "another"), "not what it was"},
		"a photo left out":         {files[:len(files)-1], "missing"},
		"a file twice":             {append(slices.Clone(files), files[1]), "twice"},
		"a log that is a path":     {renamed("../../evil"), "public key"},
		"a log of another key":     {renamed("log-0123456789abcdef"), "public key"},
		"a later version":          {with("pack.json", strings.Replace(text("pack.json"), `"doorwright_pack": 1`, `"doorwright_pack": 2`, 1)), "version 2"},
		"more in pack.json":        {with("pack.json", text("pack.json")+" "), "not written as"},
		"pack.json is none":        {with("pack.json", "[1]"), "pack.json"},
		"no pack.json":             {files[1:], "missing"},
		"a head of another size":   {with("pack.json", strings.Replace(text("pack.json"), `\n3\n`, `\n4\n`, 1)), "signature"},
		"a bomb":                   {with("photos/"+strings.Repeat("0", 64), strings.Repeat("0", 40<<20)), "as large unpacked"},
	} {
		t.Run(name, func(t *testing.T) {
			m, err := OpenPack(ctx, sealed(t, c.files))
			if err == nil {
				j := opened(t, NewMemory())
				if _, err = j.Merge(ctx, m); err == nil || j.State().Entries > 0 {
					t.Fatalf("taken in: %v", err)
				}
			}
			if !strings.Contains(err.Error(), c.says) {
				t.Errorf("%v; it should say %q", err, c.says)
			}
		})
	}
}

// A file that says it is smaller than it is, or larger than any pack, is not unpacked beyond what it says.
func TestPackThatLiesAboutSizesIsRefused(t *testing.T) {
	ctx := context.Background()
	for name, c := range map[string]struct {
		says uint64
		want string
	}{"smaller": {10, ""}, "larger than all": {5 << 30, "as large unpacked"}, "overflowing": {1<<64 - 1, "as large unpacked"}} {
		var b bytes.Buffer
		seal := &sealer{to: &b, sum: sha256.New()}
		z := zip.NewWriter(seal)
		data := []byte(strings.Repeat("x", 1000))
		f, err := z.CreateRaw(&zip.FileHeader{Name: "pack.json", Method: zip.Store, CRC32: crc32.ChecksumIEEE(data), CompressedSize64: 1000, UncompressedSize64: c.says})
		if err != nil {
			t.Fatal(err)
		}
		f.Write(data)                               //nolint:errcheck // into memory
		z.SetComment(strings.Repeat("0", sealSize)) //nolint:errcheck // short enough
		z.Close()                                   //nolint:errcheck // into memory
		seal.close()                                //nolint:errcheck // into memory
		if _, err := OpenPack(ctx, b.Bytes()); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// A log whose clock is far ahead would leave no clock for anybody's next entry.
func TestClockAheadOfAllEntriesIsRefused(t *testing.T) {
	ctx := context.Background()
	s := NewMemory()
	j := opened(t, s)
	e := &Entry{Log: j.device.Log, Clock: 1<<63 - 1, At: ticking()(), Who: "mw", Body: Seated{Initials: "mw"}}
	raw, err := e.bytes()
	if err != nil {
		t.Fatal(err)
	}
	tr := &tree{}
	if err := tr.add(raw); err != nil {
		t.Fatal(err)
	}
	h, err := tr.head(e.Log)
	if err != nil {
		t.Fatal(err)
	}
	head, err := sign(h, j.device)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Append(ctx, Batch{Log: e.Log, Verify: j.device.Verify, Raw: [][]byte{raw}, Head: head}); err != nil {
		t.Fatal(err)
	}
	other := opened(t, NewMemory())
	if _, err := other.Merge(ctx, s); err == nil || !strings.Contains(err.Error(), "clock") {
		t.Errorf("taken in: %v", err)
	}
	wrote(t, other, small())
}

func FuzzOpenPack(f *testing.F) {
	_, pack, files := packed(f)
	f.Add(pack)
	f.Add(sealed(f, files[:1]))
	f.Fuzz(func(_ *testing.T, data []byte) {
		if m, err := OpenPack(context.Background(), data); err == nil {
			Verify(context.Background(), m) //nolint:errcheck // it must come back
		}
	})
}

// FuzzPackFiles seals what it makes, so that it gets behind the seal.
func FuzzPackFiles(f *testing.F) {
	_, _, files := packed(f)
	f.Add(files[0].data, files[1].data, files[1].name)
	f.Fuzz(func(t *testing.T, list, lines []byte, name string) {
		m, err := OpenPack(context.Background(), sealed(t, []file{{"pack.json", list}, {name, lines}}))
		if err != nil {
			return
		}
		r, err := Verify(context.Background(), m)
		if err != nil {
			t.Fatal(err)
		}
		for _, h := range r.Heads {
			if checkKey(h.Log, m.logs[h.Log].kept.Verify) != nil {
				t.Errorf("a log %q", h.Log)
			}
		}
		if _, err := json.Marshal(r); err != nil {
			t.Error(err)
		}
	})
}
