package browser

import (
	"bytes"
	"image/png"
	"testing"

	"github.com/chromedp/chromedp"
)

// mostPicture bounds a picture of the documentation, in bytes.
const mostPicture = 200 * kilobyte

// pictures are the pictures of the documentation, each with the way to what it shows.
func pictures() []struct {
	name  string
	phone bool
	way   func(*tab)
} {
	return []struct {
		name  string
		phone bool
		way   func(*tab)
	}{
		{"register.png", false, func(b *tab) {
			// Doors are tried with single faults while nobody asks for anything.
			for b.goTo("/j/BTO"); !ask[bool](b, "document.body.innerText.includes('tried at 8 of 8 doors')"); b.goTo("/j/BTO") {
				ask[bool](b, "new Promise(done => setTimeout(() => done(true), 3000))")
			}
		}},
		{"plan.png", false, func(b *tab) {
			b.goTo(visitor + "/plan")
			ask[bool](b, "(document.querySelector('[name=\"cable-length\"]').select(), true)")
			b.keys("250 m")
			b.until("document.querySelectorAll('#looked .found').length > 0")
		}},
		{"try-out.png", false, func(b *tab) {
			b.goTo(visitor + "/try?wrong=cut+W9%2F1&pick=W9%2F1")
			ask[bool](b, "(document.getElementById('drawing').scrollIntoView({ behavior: 'instant' }), true)")
		}},
		{"landing-phone.png", true, func(b *tab) {
			b.goTo(staff + "/do/land")
			for i := range 3 {
				b.pressAt("document.querySelectorAll('.tickbox')[" + string(rune('0'+i)) + "]")
				b.until("document.querySelectorAll('.ticked').length === " + string(rune('1'+i)))
			}
			ask[bool](b, "(document.querySelector('.ticks').previousElementSibling.scrollIntoView({ behavior: 'instant' }), document.activeElement.blur(), true)")
		}},
		{"reading-phone.png", true, func(b *tab) {
			b.goTo(staff + "/do/read")
			b.press("a.button[href*='of=volts']")
			b.arrives("/read/one")
			b.press("[name=value]")
			b.keys("0.02")
			ask[bool](b, "(scrollTo({ top: 0, behavior: 'instant' }), document.activeElement.blur(), true)")
		}},
		{"find.png", false, func(b *tab) {
			b.goTo(staff + "/do/read")
			b.press("a.button[href*='of=volts']")
			b.arrives("/read/one")
			b.typeReading("0.02")
			b.press(".units [value='V']")
			b.sees("is not as it should be")
			b.goTo(staff + "/find")
		}},
	}
}

func TestPicturesCanBeTaken(t *testing.T) {
	for _, x := range pictures() {
		t.Run(x.name, func(t *testing.T) {
			b := open(t, brackwater()).tab(t)
			if x.phone {
				b.phone()
			}
			x.way(b)
			data, err := chromedp.Run(b.ctx, chromedp.CaptureScreenshot())
			if err != nil {
				t.Fatal(err)
			}
			if len(data) > mostPicture {
				t.Errorf("%d bytes", len(data))
			}
			head, err := png.DecodeConfig(bytes.NewReader(data))
			if err != nil {
				t.Fatal(err)
			}
			if want := ask[[]int](b, "[innerWidth, innerHeight]"); head.Width != want[0] || head.Height != want[1] {
				t.Errorf("%d by %d, the window is %v", head.Width, head.Height, want)
			}
			if *update {
				keep(t, x.name, data)
			}
		})
	}
}
