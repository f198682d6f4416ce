package browser

import (
	"encoding/base64"
	"os"
	"testing"
)

// gives puts a file into a field for files.
func (b *tab) gives(field string, name string, data []byte) {
	b.t.Helper()
	ask[bool](b, `(() => {
		const bytes = Uint8Array.from(atob("`+base64.StdEncoding.EncodeToString(data)+`"), c => c.charCodeAt(0));
		const all = new DataTransfer();
		all.items.add(new File([bytes], `+quoted(name)+`));
		document.querySelector(`+quoted(field)+`).files = all.files;
		return true;
	})()`)
}

// What was backed up on one machine is looked at and taken in on another, and goes on there.
func TestWorkspaceMovesToAnotherMachine(t *testing.T) {
	for _, d := range devices() {
		t.Run(d.name, func(t *testing.T) {
			from := d.tab(t, open(t, brackwater()))
			from.goTo("/")
			from.pressText("Back everything up")
			from.sees("was read just now and fits")
			data, err := os.ReadFile(from.file(ask[string](from, "document.querySelector('a.main').href"), t.TempDir(), "pack.zip"))
			if err != nil {
				t.Fatal(err)
			}

			b := d.tab(t, open(t, nil))
			b.goTo("/workspace")
			b.gives("[name=pack]", "pack.zip", data)
			b.pressText("Look at it")
			b.sees("a new job here")
			b.sees("job document brought in")
			b.pressText("Take it in")
			b.sees("entries were taken in")
			b.goTo("/")
			b.pressText("Brackwater Tidal Observatory")
			b.arrives("/j/BTO")
			b.sees("Visitor entrance")
		})
	}
}

// An entry that was wrong is withdrawn with a reason; it counts no more and stays in sight.
func TestEntryIsWithdrawn(t *testing.T) {
	for _, d := range devices() {
		t.Run(d.name, func(t *testing.T) {
			b := d.tab(t, open(t, brackwater()))
			step := b.lifeSteps()[0]
			b.passes(step)
			b.goTo("/j/BTO/record")
			b.press("a[href*='/entry/']")
			b.until("!!document.querySelector('[name=why]')") // the list says the same of the test
			b.sees("test " + step + " at store: passed, witnessed by kf")
			b.press("[name=why]")
			b.keys("it was the next door")
			b.pressText("Withdraw it in my name")
			b.sees("withdrawn by Mara Wren")
			b.goTo(store + "/do/test")
			b.sees("0 of ")
			b.goTo("/j/BTO/record")
			b.sees("it was the next door")
		})
	}
}
