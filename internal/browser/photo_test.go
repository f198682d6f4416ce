package browser

import (
	"bytes"
	"image"
	"image/jpeg"
	"slices"
	"testing"
)

// A photo taken on end stands on end on the page, though nothing else of what the camera wrote is kept.
func TestPhotoStandsTheWayItWasTaken(t *testing.T) {
	var data bytes.Buffer
	if err := jpeg.Encode(&data, image.NewGray(image.Rect(0, 0, 64, 32)), nil); err != nil {
		t.Fatal(err)
	}
	// A list of two tags: the maker of the camera, and that the right side of the picture is up (Exif 2.32, 4.6.4).
	tags := "Exif\x00\x00MM\x00\x2a\x00\x00\x00\x08\x00\x02" +
		"\x01\x0f\x00\x02\x00\x00\x00\x04COW\x00" + "\x01\x12\x00\x03\x00\x00\x00\x01\x00\x06\x00\x00" + "\x00\x00\x00\x00"
	photo := slices.Insert(data.Bytes(), 2, append([]byte{0xFF, 0xE1, 0, byte(len(tags) + 2)}, tags...)...)

	b := open(t, brackwater()).tab(t).phone()
	b.goTo(staff + "/survey")
	b.gives("[type=file]", "box.jpg", photo)
	b.press("[name=caption]")
	b.keys("box above the door")
	b.press("[name=question]")
	b.keys("half typed")
	b.press("[formenctype]")
	b.sees("box above the door (Mara Wren")
	if is := ask[string](b, "document.querySelector('[name=question]').value"); is != "half typed" {
		t.Errorf("what was half typed is %q after a photo was kept", is)
	}
	b.until("document.querySelector('.photos img')")
	size := ask[[]int](b, `(async () => {
		const picture = document.querySelector(".photos img");
		picture.scrollIntoView({ behavior: "instant" });
		await picture.decode();
		return [picture.naturalWidth, picture.naturalHeight];
	})()`)
	if !slices.Equal(size, []int{32, 64}) {
		t.Errorf("the picture is %v", size)
	}
	if ask[bool](b, `fetch(document.querySelector(".photos img").src).then(a => a.text()).then(s => s.includes("COW"))`) {
		t.Error("the maker of the camera is kept")
	}
}
