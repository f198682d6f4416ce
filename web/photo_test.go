package web

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"net/http"
	"net/http/httptest"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// scene is a small picture whose corners differ.
func scene() image.Image {
	m := image.NewRGBA(image.Rect(0, 0, 40, 24))
	for y := range 24 {
		for x := range 40 {
			m.Set(x, y, color.RGBA{uint8(x * 6), uint8(y * 10), 90, 255})
		}
	}
	return m
}

func jpegOf(t testing.TB, m image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func pngOf(t testing.TB, m image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// secret is what no photo may keep.
const secret = "51.5007 N 0.1246 W"

// application is a segment of JPEG.
func application(mark byte, body string) []byte {
	return append(binary.BigEndian.AppendUint16([]byte{0xFF, mark}, uint16(len(body)+2)), body...)
}

// cameraTags are tags as a camera writes them, in either order of bytes: the maker, which way up, and the place.
func cameraTags(order binary.AppendByteOrder, upright int) string {
	mark := "MM"
	if order.AppendUint16(nil, 1)[0] == 1 {
		mark = "II"
	}
	b := []byte(mark)
	b = order.AppendUint16(b, 42)
	b = order.AppendUint32(b, 8)
	b = order.AppendUint16(b, 3)
	tag := func(id, kind uint16, count, value uint32) {
		b = order.AppendUint16(order.AppendUint16(b, id), kind)
		b = order.AppendUint32(b, count)
		if kind == 3 {
			b = order.AppendUint16(order.AppendUint16(b, uint16(value)), 0)
			return
		}
		b = order.AppendUint32(b, value)
	}
	tag(0x010F, 2, uint32(len(secret)), 8+2+3*12+4) // Make
	tag(0x0112, 3, 1, uint32(upright))
	tag(0x8825, 4, 1, 8+2+3*12+4) // GPS
	b = order.AppendUint32(b, 0)
	return string(b) + secret
}

// shot is a photo as a phone makes it: with everything beside the picture, and more after its end.
func shot(t testing.TB, order binary.AppendByteOrder, upright int) []byte {
	t.Helper()
	data := jpegOf(t, scene())
	beside := slices.Concat(
		application(0xE0, "JFIF\x00\x01\x02\x00\x00\x01\x00\x01\x00\x00"),
		application(0xE1, "Exif\x00\x00"+cameraTags(order, upright)),
		application(0xE1, "a second one "+secret), application(0xE2, "MPF\x00"+secret), application(0xE2, "ICC_PROFILE\x00\x01\x01"),
		application(0xED, secret), application(0xFE, secret), []byte{0xFF},
	)
	data = slices.Insert(data, 2, beside...)
	return slices.Concat(data, []byte(secret), jpegOf(t, scene()))
}

func TestPhotoLosesWhatTellsThePlaceAndKeepsThePicture(t *testing.T) {
	for _, order := range []binary.AppendByteOrder{binary.BigEndian, binary.LittleEndian} {
		for upright := range 9 {
			t.Run(fmt.Sprintf("%v %d", order, upright), func(t *testing.T) {
				given := shot(t, order, upright)
				got, kind, err := bared(given)
				if err != nil || kind != "jpeg" {
					t.Fatalf("%v, %s", err, kind)
				}
				if bytes.Contains(got, []byte(secret)) || bytes.Contains(got, []byte("MPF")) {
					t.Error("it keeps what it should lose")
				}
				if !bytes.Contains(got, []byte("ICC_PROFILE")) {
					t.Error("it loses its colours")
				}
				want := upright
				if upright < 2 {
					want = 0 // as it is without saying so
				}
				if says := uprightOf(t, got); says != want {
					t.Errorf("it says %d, the camera said %d", says, upright)
				}
				samePicture(t, got, given)
			})
		}
	}
}

// uprightOf is which way up a file says it is; it errs on anything else beside the picture.
func uprightOf(t *testing.T, data []byte) int {
	t.Helper()
	upright := 0
	for at := 2; ; {
		mark, body, next, err := segment(data, at)
		switch {
		case err != nil:
			t.Fatal(err)
		case mark == markEOI:
			if next != len(data) {
				t.Errorf("%d bytes follow the end", len(data)-next)
			}
			return upright
		case mark == markAPP1:
			upright = turned(body)
			if len(body) != 6+26 {
				t.Errorf("%d bytes of tags", len(body))
			}
		case !keeps(mark, body):
			t.Errorf("a segment %X was kept", mark)
		case mark == markSOS:
			next = coded(data, next)
		}
		at = next
	}
}

func samePicture(t *testing.T, a, b []byte) {
	t.Helper()
	one, _, err := image.Decode(bytes.NewReader(a))
	if err != nil {
		t.Fatal(err)
	}
	two, _, err := image.Decode(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	if one.Bounds() != two.Bounds() {
		t.Fatalf("%v, was %v", one.Bounds(), two.Bounds())
	}
	for y := range one.Bounds().Dy() {
		for x := range one.Bounds().Dx() {
			if one.At(x, y) != two.At(x, y) {
				t.Fatalf("the picture differs at %d, %d", x, y)
			}
		}
	}
}

func TestPNGLosesItsTexts(t *testing.T) {
	given := pngOf(t, scene())
	beside := slices.Concat(chunk("tEXt", []byte("Comment\x00"+secret)), chunk("eXIf", []byte(cameraTags(binary.LittleEndian, 6))),
		chunk("tIME", []byte{7, 234, 1, 2, 3, 4, 5}), chunk("gAMA", []byte{0, 0, 177, 143}))
	given = append(slices.Insert(given, len(pngHead)+25, beside...), secret...)
	got, kind, err := bared(given)
	if err != nil || kind != "png" {
		t.Fatalf("%v, %s", err, kind)
	}
	if bytes.Contains(got, []byte(secret)) || bytes.Contains(got, []byte("tIME")) || !bytes.Contains(got, []byte("gAMA")) {
		t.Error("it keeps what it should lose, or loses what it should keep")
	}
	if i := bytes.Index(got, []byte("eXIf")); i < 0 || turnedBy(got[i+4:]) != 6 {
		t.Error("it does not say which way up it is")
	}
	samePicture(t, got, given)
}

func TestWhatIsNoPhotoIsRefused(t *testing.T) {
	whole, plain := jpegOf(t, scene()), pngOf(t, scene())
	broken := bytes.Clone(plain)
	broken[len(broken)-20] ^= 1
	headless := slices.Concat(whole[:2], []byte{0xFF, markEOI})
	huge := bytes.Clone(plain)
	copy(huge[8:], chunk("IHDR", []byte{0, 1, 0, 0, 0, 1, 0, 0, 8, 2, 0, 0, 0}))
	for name, x := range map[string]struct {
		data []byte
		says string
	}{
		"nothing":         {nil, "no JPEG or PNG picture"},
		"a page":          {[]byte("<!doctype html><script>alert(1)</script>"), "no JPEG or PNG picture"},
		"a drawing":       {[]byte(`<svg xmlns="http://www.w3.org/2000/svg"/>`), "no JPEG or PNG picture"},
		"a cut JPEG":      {whole[:len(whole)-2], "cut off"},
		"half a JPEG":     {whole[:len(whole)/2], ""},
		"an empty JPEG":   {headless, ""},
		"a cut PNG":       {plain[:len(plain)-12], "cut off"},
		"a broken PNG":    {broken, "a checksum is wrong"},
		"a vast PNG":      {huge, "too large"},
		"a page as JPEG":  {slices.Concat([]byte{0xFF, 0xD8, 0xFF}, []byte("<script>")), "no JPEG or PNG picture"},
		"an animation":    {[]byte("GIF89a\x01\x00\x01\x00\x00\x00\x00;"), "no JPEG or PNG picture"},
		"a marker inside": {slices.Insert(bytes.Clone(whole), 2, 0xFF, 0xD8), ""},
	} {
		if _, _, err := bared(x.data); err == nil || !strings.Contains(err.Error(), x.says) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestPhotoIsKeptWithoutThePlace(t *testing.T) {
	d := withDemo(t)
	d.sendPhoto(shot(t, binary.LittleEndian, 6), http.StatusSeeOther)
	at := regexp.MustCompile(`/j/BTO/photo/[0-9a-f]{64}`).FindString(d.get("/j/BTO/d/staff/survey", http.StatusOK))
	for _, path := range []string{at, "/j/BTO/pack"} {
		got := d.answer(httptest.NewRequest(http.MethodGet, path, nil), http.StatusOK).Body.Bytes()
		if len(got) == 0 || bytes.Contains(got, []byte(secret)) {
			t.Errorf("%s: the place is kept", path)
		}
	}
}

// FuzzPhoto: whatever is taken for a photo is one, has nothing left to lose, and is no larger but for the tags of which
// way up it is.
func FuzzPhoto(f *testing.F) {
	f.Add(shot(f, binary.BigEndian, 8))
	f.Add(jpegOf(f, image.NewGray(image.Rect(0, 0, 3, 3))))
	f.Add(pngOf(f, scene()))
	f.Add([]byte("\xff\xd8\xff\xe1\x00\x02"))
	f.Fuzz(func(t *testing.T, data []byte) {
		got, kind, err := bared(data)
		if err != nil {
			return
		}
		const tags = 50
		if len(got) > len(data)+tags {
			t.Errorf("%d bytes of %d", len(got), len(data))
		}
		again, same, err := bared(got)
		if err != nil || same != kind || !bytes.Equal(again, got) {
			t.Errorf("once more gives %v, %s of %s, %d bytes of %d", err, same, kind, len(again), len(got))
		}
	})
}
