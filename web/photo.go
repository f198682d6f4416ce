package web

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"image"
	_ "image/jpeg" // photos
	_ "image/png"  // photos
	"slices"
)

// Photos are kept and shown without what a camera writes beside the picture: the place, the time, the device, a small
// picture of before it was cropped. Nothing of the picture itself is coded anew, so it loses nothing; which way up it is
// stays.

// The bounds of a photo: what phones make, and no picture that takes up a machine's memory when it is opened.
const (
	mostPhoto  = 16 << 20
	mostPixels = 100_000_000
)

// bared gives a JPEG or PNG picture without what stands beside the picture in its file, and its kind. It errs on what is no
// picture of these, on one that is not whole, and on one that is too large.
func bared(data []byte) (photo []byte, kind string, err error) {
	c, kind, err := image.DecodeConfig(bytes.NewReader(data))
	switch {
	case err != nil:
		return nil, "", fmt.Errorf("it is no JPEG or PNG picture: %w", err)
	case c.Width <= 0 || c.Height <= 0 || c.Width > mostPixels/c.Height:
		return nil, "", fmt.Errorf("a picture of %d by %d is too large", c.Width, c.Height)
	case kind == "jpeg":
		photo, err = bareJPEG(data)
	case kind == "png":
		photo, err = barePNG(data)
	default:
		err = fmt.Errorf("it is a %s, no JPEG or PNG picture", kind)
	}
	return photo, kind, err
}

// Markers of JPEG (ITU-T T.81, table B.1).
const (
	markSOF0 = 0xC0
	markDHT  = 0xC4
	markJPG  = 0xC8
	markDAC  = 0xCC
	markSOF  = 0xCF // the last
	markRST0 = 0xD0
	markRST7 = 0xD7
	markSOI  = 0xD8
	markEOI  = 0xD9
	markSOS  = 0xDA
	markDQT  = 0xDB
	markDRI  = 0xDD
	markAPP0 = 0xE0
	markAPP1 = 0xE1
	markAPP2 = 0xE2
	markAPPE = 0xEE
)

// bareJPEG keeps the segments that make the picture, the colour space it is in, and which way up it is. What follows its
// end, where some phones put more pictures or a film, is left out.
func bareJPEG(data []byte) ([]byte, error) {
	out := []byte{0xFF, markSOI}
	upright := 0
	frame, scan := false, false
	for at := 2; ; {
		mark, body, next, err := segment(data, at)
		if err != nil {
			return nil, err
		}
		switch {
		case mark == markEOI:
			if !frame || !scan {
				return nil, errors.New("the picture has no picture in it")
			}
			out = append(out, 0xFF, markEOI)
			if upright > 1 {
				out = slices.Insert(out, 2, orientation(upright)...)
			}
			return out, nil
		case mark == markAPP1 && upright == 0:
			upright = turned(body)
		case keeps(mark, body):
			frame = frame || mark >= markSOF0 && mark <= markSOF && mark != markDHT && mark != markJPG && mark != markDAC
			out = append(out, data[at:next]...)
		}
		if mark == markSOS {
			scan = true
			end := coded(data, next)
			out = append(out, data[next:end]...)
			next = end
		}
		at = next
	}
}

// segment reads the segment that begins at a place: its marker, what is in it, and where the next begins.
func segment(data []byte, at int) (mark byte, body []byte, next int, err error) {
	for at < len(data)-1 && data[at] == 0xFF && data[at+1] == 0xFF { // a marker may be filled up (B.1.1.2)
		at++
	}
	if at+2 > len(data) || data[at] != 0xFF || data[at+1] == 0 {
		return 0, nil, 0, errors.New("the picture is cut off or damaged")
	}
	mark = data[at+1]
	if mark == markEOI {
		return mark, nil, at + 2, nil
	}
	if mark == markSOI || mark >= markRST0 && mark <= markRST7 || mark <= 1 {
		return 0, nil, 0, errors.New("the picture is damaged: a marker stands where none may")
	}
	if at+4 > len(data) {
		return 0, nil, 0, errors.New("the picture is cut off")
	}
	next = at + 2 + int(binary.BigEndian.Uint16(data[at+2:]))
	if next < at+4 || next > len(data) {
		return 0, nil, 0, errors.New("the picture is cut off or damaged")
	}
	return mark, data[at+4 : next], next, nil
}

// keeps says that a segment belongs to the picture. Of the segments of applications these do: what JFIF says of the
// pixels (ITU-T T.871), the colour profile, and how the colours are coded (ITU-T T.872, 6.5.3; both from memory).
func keeps(mark byte, body []byte) bool {
	switch {
	case mark == markAPP0:
		return bytes.HasPrefix(body, []byte("JFIF\x00")) && len(body) == 14 // without a small picture
	case mark == markAPP2:
		return bytes.HasPrefix(body, []byte("ICC_PROFILE\x00"))
	case mark == markAPPE:
		return bytes.HasPrefix(body, []byte("Adobe")) && len(body) == 12
	}
	return mark >= markSOF0 && mark <= markSOF || mark >= markSOS && mark <= markDRI
}

// coded is the end of the coded data that begins at a place: where a marker stands that is none of a restart.
func coded(data []byte, at int) int {
	for ; at < len(data)-1; at++ {
		if m := data[at+1]; data[at] == 0xFF && m != 0 && m != 0xFF && (m < markRST0 || m > markRST7) {
			return at
		}
	}
	return len(data)
}

// tagOrientation is that of which way up a picture is (Exif 2.32, table 4).
const tagOrientation = 0x0112

// turned reads from a segment of Exif which way up the picture is, 1 to 8; 0 where it does not say.
func turned(body []byte) int {
	tiff, ok := bytes.CutPrefix(body, []byte("Exif\x00\x00"))
	if !ok {
		return 0
	}
	return turnedBy(tiff)
}

// turnedBy reads the same from the tags themselves (TIFF 6.0, section 2).
func turnedBy(tiff []byte) int {
	if len(tiff) < 8 {
		return 0
	}
	var order binary.ByteOrder = binary.BigEndian
	if bytes.HasPrefix(tiff, []byte("II")) {
		order = binary.LittleEndian
	}
	const head, entry, shorts = 2, 12, 3 // of a list of tags; of one tag; its type
	at := uint64(order.Uint32(tiff[4:]))
	if at+head > uint64(len(tiff)) {
		return 0
	}
	for i := range uint64(order.Uint16(tiff[at:])) {
		from := at + head + i*entry
		if from+entry > uint64(len(tiff)) {
			return 0
		}
		if e := tiff[from:]; order.Uint16(e) == tagOrientation && order.Uint16(e[2:]) == shorts {
			if v := int(order.Uint16(e[8:])); v >= 1 && v <= 8 {
				return v
			}
			return 0
		}
	}
	return 0
}

// orientationTags are tags that say which way up a picture is and nothing else.
func orientationTags(upright int) []byte {
	return []byte{
		'M', 'M', 0, 42, 0, 0, 0, 8, // where the list begins
		0, 1, // one tag
		tagOrientation >> 8, tagOrientation & 0xFF, 0, 3, 0, 0, 0, 1, 0, byte(upright), 0, 0,
		0, 0, 0, 0, // no further list
	}
}

// orientation is a segment of Exif with that and nothing else.
func orientation(upright int) []byte {
	body := append([]byte("Exif\x00\x00"), orientationTags(upright)...)
	return append([]byte{0xFF, markAPP1, 0, byte(len(body) + 2)}, body...)
}

// pngHead begins every PNG picture (PNG, third edition, section 5.2).
const pngHead = "\x89PNG\r\n\x1a\n"

// ofPicture are the chunks that make the picture and its colours (section 11). The others are texts, times and tags.
func ofPicture(kind string) bool {
	return slices.Contains([]string{"IHDR", "PLTE", "IDAT", "IEND", "tRNS", "cHRM", "gAMA", "iCCP", "sBIT", "sRGB", "bKGD", "pHYs"}, kind)
}

// barePNG keeps the chunks that make the picture, and which way up it is. What follows its end is left out.
func barePNG(data []byte) ([]byte, error) {
	if !bytes.HasPrefix(data, []byte(pngHead)) {
		return nil, errors.New("it is no PNG picture")
	}
	out := []byte(pngHead)
	drawn := false
	for at := len(pngHead); ; {
		if at+12 > len(data) {
			return nil, errors.New("the picture is cut off")
		}
		size := uint64(binary.BigEndian.Uint32(data[at:]))
		if uint64(at)+12+size > uint64(len(data)) {
			return nil, errors.New("the picture is cut off or damaged")
		}
		next := at + 12 + int(size)
		kind, body := string(data[at+4:at+8]), data[at+8:next-4]
		if crc32.ChecksumIEEE(data[at+4:next-4]) != binary.BigEndian.Uint32(data[next-4:]) {
			return nil, errors.New("the picture is damaged: a checksum is wrong")
		}
		switch {
		case kind == "eXIf" && !drawn:
			if upright := turnedBy(body); upright > 1 {
				out = append(out, chunk("eXIf", orientationTags(upright))...)
			}
		case ofPicture(kind):
			out = append(out, data[at:next]...)
		}
		drawn = drawn || kind == "IDAT"
		if kind == "IEND" {
			if !drawn {
				return nil, errors.New("the picture has no picture in it")
			}
			return out, nil
		}
		at = next
	}
}

// chunk writes a chunk of PNG.
func chunk(kind string, body []byte) []byte {
	out := binary.BigEndian.AppendUint32(nil, uint32(len(body)))
	out = append(append(out, kind...), body...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(out[4:]))
}
