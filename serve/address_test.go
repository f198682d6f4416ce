package serve

import (
	"context"
	"net"
	"strings"
	"testing"
)

func TestWhatIsNoAddress(t *testing.T) {
	for text, says := range map[string]string{
		"8023":             "no address with a port; write both",
		"127.0.0.1":        "no address with a port; write both",
		"":                 "no address with a port; write both",
		"::1:8023":         "no address with a port; write both",
		"127.0.0.1:":       `"" is no port; write a number up to 65535, such as 127.0.0.1:8023`,
		"127.0.0.1:http":   `"http" is no port; write a number up to 65535, such as 127.0.0.1:8023`,
		"0.0.0.0:65536":    `"65536" is no port; write a number up to 65535, such as 0.0.0.0:8023`,
		"[::1]:-1":         `"-1" is no port; write a number up to 65535, such as [::1]:8023`,
		"office:8023":      `"office" is no address; write one of this machine, such as 127.0.0.1:8023, or 0.0.0.0:8023 for all`,
		"192.168.1.1234:1": `"192.168.1.1234" is no address`,
	} {
		if _, err := ParseAddress(text); err == nil || !strings.Contains(err.Error(), says) || !strings.HasPrefix(err.Error(), "--listen \""+text+"\": ") {
			t.Errorf("%q: %v", text, err)
		}
	}
}

func TestOnlyALoopbackAddressIsHere(t *testing.T) {
	for text, here := range map[string]bool{
		"127.0.0.1:0": true, "localhost:8023": true, "[::1]:8023": true, "127.8.9.1:1": true,
		"0.0.0.0:8023": false, ":8023": false, "192.168.1.5:65535": false, "[::]:0": false,
	} {
		if a, err := ParseAddress(text); err != nil || a.Here() != here {
			t.Errorf("%q: %v, %v", text, a.Here(), err)
		}
	}
}

// What the system refuses is said without its words. 192.0.2.1 is for documents and no machine has it (RFC 5737).
func TestWhatTheSystemRefuses(t *testing.T) {
	taken, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer taken.Close() //nolint:errcheck // nobody came
	for text, says := range map[string]string{
		taken.Addr().String(): "another program is at port",
		"192.0.2.1:8023":      "this machine has no address 192.0.2.1; write one that it has, such as ",
	} {
		a, err := ParseAddress(text)
		if err != nil {
			t.Fatal(err)
		}
		l, err := a.open(context.Background())
		if err == nil {
			l.Close() //nolint:errcheck // it should not be
			t.Errorf("%s: opened", text)
			continue
		}
		if !strings.Contains(err.Error(), says) || strings.Contains(err.Error(), "bind") || strings.Contains(err.Error(), "listen tcp") {
			t.Errorf("%s: %v", text, err)
		}
	}
}
