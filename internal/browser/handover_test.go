package browser

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

const store = "/j/BTO/d/store"

// chooses picks an option of a list by its value, as somebody does who types its words, or fills in a field.
func (b *tab) chooses(list, value string) {
	b.t.Helper()
	ask[bool](b, "(e => { e.value = "+quoted(value)+"; e.dispatchEvent(new Event('change', { bubbles: true })); return e.value === "+quoted(value)+"; })("+list+")")
}

// asAsked is a result that holds what any test which bears on life asks to be measured.
const asAsked = "as asked: 0.5 ohm, 0 V"

// passes passes a test at the store, witnessed by Kari Fenn.
func (b *tab) passes(step string) {
	b.t.Helper()
	b.goTo(store + "/do/test/one?step=" + step)
	b.writes("result", asAsked)
	b.chooses("document.querySelector('[name=witness]')", "kf")
	b.press("[value=pass]")
	b.until("document.querySelector('.verdict.good')")
	b.sees("passed, Mara Wren")
	b.sees("witnessed by Kari Fenn, " + asAsked)
}

// writes fills in a field.
func (b *tab) writes(name, text string) {
	b.t.Helper()
	b.press("[name=" + name + "]")
	b.keys(text)
}

// lifeSteps are the tests at the store that bear on life.
func (b *tab) lifeSteps() []string {
	b.t.Helper()
	b.goTo(store + "/do/test")
	return ask[[]string](b, "[...document.querySelectorAll('tr.life')].map(e => e.id)")
}

// refused takes it as right that the page at hand is a refusal, of which the browser tells as an error.
func (b *tab) refused(code string) {
	b.t.Helper()
	if all := b.heard(); len(all) != 1 || !strings.Contains(all[0], code) {
		b.t.Errorf("heard %q, not only of a %s", all, code)
	}
	b.forget()
}

// file fetches a file as the browser would keep it, and writes it to a folder.
func (b *tab) file(path, folder, name string) string {
	b.t.Helper()
	bytes := ask[[]int](b, "fetch("+quoted(path)+").then(a => a.arrayBuffer()).then(b => [...new Uint8Array(b)])")
	data := make([]byte, len(bytes))
	for i, v := range bytes {
		data[i] = byte(v)
	}
	at := filepath.Join(folder, name)
	if err := os.WriteFile(at, data, 0o600); err != nil {
		b.t.Fatal(err)
	}
	return at
}

// doorwright builds the command and gives the way to run it.
func doorwright(t *testing.T, folder string) func(args ...string) (said string, code int) {
	t.Helper()
	program := filepath.Join(folder, "doorwright")
	if said, err := exec.Command("go", "build", "-o", program, "doorwright/cmd/doorwright").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, said)
	}
	return func(args ...string) (string, int) {
		c := exec.Command(program, args...)
		said, err := c.CombinedOutput()
		if c.ProcessState == nil {
			t.Fatal(err)
		}
		return string(said), c.ProcessState.ExitCode()
	}
}

// A door goes from its tests to the one who takes it over, and what is handed over with it is checked by the command.
func TestDoorIsTestedAndHandedOver(t *testing.T) {
	for _, d := range devices() {
		t.Run(d.name, func(t *testing.T) {
			b := d.tab(t, open(t, brackwater()))
			b.goTo(store + "/do/hand")
			b.sees("function tests that bear on life are not passed and witnessed")
			if ask[bool](b, "Boolean(document.querySelector('[name=to]'))") {
				t.Error("a door can be handed over before its tests")
			}
			steps := b.lifeSteps()
			b.pressText(steps[0])
			b.arrives("/test/one")
			b.writes("result", asAsked)
			b.press("[value=pass]")
			b.sees("not witnessed: it does not count")
			b.writes("note", "half typed")
			b.press(".outcome summary")
			b.writes("name", "Odhran Pell")
			b.writes("initials", "op")
			b.pressText("Add to the list")
			b.until("document.querySelector('[name=witness]').value === 'op'")
			if is := ask[string](b, "document.querySelector('[name=note]').value"); is != "half typed" {
				t.Errorf("what was half typed is %q after somebody was added", is)
			}
			for _, s := range steps {
				b.passes(s)
			}

			b.pressText("All tests")
			b.until("location.pathname.endsWith('/do/test')")
			b.pressText("Snags")
			b.arrives("/do/snags")
			b.press("[name=what]")
			b.keys("release sticks")
			b.chooses("document.querySelector('[name=class]')", "life")
			b.chooses("document.querySelector('[name=retest]')", steps[0])
			b.pressText("Write it down")
			b.sees("S1: release sticks")
			b.press("[name='fix.S1']")
			b.keys("greased")
			b.pressText("Put right and retested")
			b.sees("again first: it must pass after the snag was found")
			b.refused("422")
			b.goTo(store + "/do/test/one?step=" + steps[0])
			b.chooses("document.querySelector('[name=witness]')", "kf")
			b.writes("result", "again")
			b.press("[value=pass]")
			b.sees("witnessed by Kari Fenn, again")
			b.goTo(store + "/do/snags")
			b.press("[name='fix.S1']")
			b.keys("greased")
			b.pressText("Put right and retested")
			b.sees("0 open snags")

			b.pressText("Hand over")
			b.sees("Nothing is in the way")
			b.press("[name=to]")
			b.keys("Ivo Strand")
			b.pressAt("[...document.querySelectorAll('button')].find(e => e.innerText === 'Handed over')")
			b.sees("Handed over to Ivo Strand, by Mara Wren")
			b.pressText("The whole job, the pack and the signed heads")
			b.sees("1 of 8 doors are handed over")

			folder := t.TempDir()
			run := doorwright(t, folder)
			pack, held := b.file("/j/BTO/pack", folder, "job.doorwright.zip"), b.file("/heads.txt", folder, "heads.txt")
			if said, code := run("journal", "verify", pack, "--held", held); code != 0 {
				t.Errorf("code %d\n%s", code, said)
			}
			sheet := b.file("/j/BTO/paper?what=handover&size=A4", folder, "handover.pdf")
			text, err := exec.Command("pdftotext", "-layout", sheet, "-").Output()
			if err != nil {
				t.Fatal(err)
			}
			root := ask[string](b, "document.querySelector('.heads').innerText.split('\\n')[2]")
			for _, want := range []string{"Ivo Strand", "Kari Fenn", "evidence begins when another party", root} {
				if !strings.Contains(strings.Join(strings.Fields(string(text)), " "), want) {
					t.Errorf("the pack on paper does not say %q", want)
				}
			}
			// One byte of the pack is another: the command says so.
			data, err := os.ReadFile(pack)
			if err != nil {
				t.Fatal(err)
			}
			data[len(data)/2] ^= 1
			if err := os.WriteFile(pack, data, 0o600); err != nil {
				t.Fatal(err)
			}
			if said, code := run("journal", "verify", pack); code == 0 {
				t.Errorf("a byte was changed, and the command says\n%s", said)
			}
		})
	}
}

// The same from the first test to the one who takes the door over, without a mouse.
func TestDoorIsHandedOverByKeyboardAlone(t *testing.T) {
	b := open(t, brackwater()).tab(t)
	for _, s := range b.lifeSteps() {
		b.tabToText(s)
		b.keys("\r")
		b.arrives("/test/one")
		b.tabTo("e.matches('[name=result]')")
		b.keys(asAsked + "\r") // Enter in a field writes nothing down
		b.tabTo("e.matches('[name=witness]')")
		b.keys("K") // the letter that Kari Fenn begins with
		b.tabTo("e.matches('[value=pass]')")
		if ask[bool](b, "Boolean(document.querySelector('.verdict'))") {
			t.Fatalf("%s was written down by Enter in its result", s)
		}
		b.keys("\r")
		b.sees("witnessed by Kari Fenn")
		b.tabToText("All tests")
		b.keys("\r")
		b.until("location.pathname.endsWith('/do/test')")
	}
	b.tabToText("Hand over")
	b.keys("\r")
	b.sees("Nothing is in the way")
	b.tabTo("e.name === 'to'")
	b.keys("Ivo Strand")
	b.tabToText("Handed over")
	b.keys("\r")
	b.sees("Handed over to Ivo Strand, by Mara Wren")
	b.tabToText("The whole job, the pack and the signed heads")
	b.keys("\r")
	b.sees("1 of 8 doors are handed over")
}
