package serve

import (
	"context"
	"errors"
	"fmt"
	"net"
	"strconv"
	"strings"
	"syscall"
)

// Address is where to serve: an address of this machine and a port.
type Address struct {
	written string
	ip      net.IP // nil for all addresses
	port    int    // 0 for any that is free
}

// maxPort is the highest port there is: a port has 16 bits (RFC 9293, 3.1).
const maxPort = 1<<16 - 1

// ParseAddress reads an address as it is written for --listen. It errs on what can be none, wherever it is.
func ParseAddress(text string) (Address, error) {
	a := Address{written: text}
	host, port, err := net.SplitHostPort(text)
	if err != nil {
		return a, a.refused("that is no address with a port; write both, such as 127.0.0.1:8023")
	}
	if a.port, err = strconv.Atoi(port); err != nil || a.port < 0 || a.port > maxPort {
		return a, a.refused(fmt.Sprintf("%q is no port; write a number up to %d, such as %s, or 0 for any that is free",
			port, maxPort, net.JoinHostPort(host, "8023")))
	}
	if host == "localhost" {
		host = "127.0.0.1"
	}
	if a.ip = net.ParseIP(host); a.ip == nil && host != "" {
		return a, a.refused(fmt.Sprintf("%q is no address; write one of this machine, such as 127.0.0.1:%s, or 0.0.0.0:%s for all", host, port, port))
	}
	return a, nil
}

// Here says that only this machine can reach the address.
func (a Address) Here() bool { return a.ip.IsLoopback() }

// open listens at the address. What the system refuses is said in the words of whoever wrote it.
func (a Address) open(ctx context.Context) (net.Listener, error) {
	host := ""
	if a.ip != nil {
		host = a.ip.String()
	}
	var c net.ListenConfig
	l, err := c.Listen(ctx, "tcp", net.JoinHostPort(host, strconv.Itoa(a.port)))
	other := net.JoinHostPort(host, "0")
	switch {
	case err == nil:
		return l, nil
	case errors.Is(err, syscall.EADDRINUSE):
		return nil, a.refused(fmt.Sprintf("another program is at port %d, perhaps these pages already; write another port, or %s for any that is free", a.port, other))
	case errors.Is(err, syscall.EADDRNOTAVAIL):
		return nil, a.refused(fmt.Sprintf("this machine has no address %s; write one that it has, such as %s, or 0.0.0.0:%d for all", host, addressesInWords(), a.port))
	case errors.Is(err, syscall.EACCES):
		return nil, a.refused(fmt.Sprintf("this user may not open port %d; write one above 1023, or %s for any that is free", a.port, other))
	}
	return nil, fmt.Errorf("%w (%w)", a.refused("it cannot be opened; write another address of this machine, such as 127.0.0.1:8023"), err)
}

func (a Address) refused(why string) error { return fmt.Errorf("--listen %q: %s", a.written, why) }

// addressesInWords are the private addresses of this machine, one after another.
func addressesInWords() string {
	var all []string
	for _, ip := range ownAddresses() {
		all = append(all, ip.String())
	}
	return strings.Join(all, " or ")
}
