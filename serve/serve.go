// Package serve puts the pages on an address of this machine: it decides who may ask, compresses what is sent, and
// starts and ends with the program. It knows nothing of doors.
package serve

import (
	"context"
	"crypto/sha256"
	"crypto/tls"
	"errors"
	"fmt"
	"log"
	"net"
	"net/http"
	"slices"
	"strings"
	"time"
)

// Options say where and what to serve.
type Options struct {
	Listen string       // host and port
	Pages  http.Handler // is asked only by who may; see Who
	// On any address but a loopback one TLS is a must: with a certificate that was given, or one of an authority of our own.
	CertFile, KeyFile string
	Authority         *Authority
	Members           *Members              // devices that have joined
	Known             func(who string) bool // says that somebody has these initials
	Ready             func(url, note string)
	Log               *log.Logger // what goes wrong with a connection; nil for nowhere
}

// The limits of one request: enough for a photo over a slow line, too little to hold the program up (common practice,
// no source).
const (
	headerTime = 10 * time.Second
	readTime   = 5 * time.Minute
	idleTime   = 2 * time.Minute
	endTime    = 5 * time.Second
	maxHeader  = 64 << 10
)

// Run serves until the context ends. It errs on an address that is taken or is none, and on one that others can reach
// without TLS.
func Run(ctx context.Context, o Options) error {
	at, err := ParseAddress(o.Listen)
	if err != nil {
		return err
	}
	listener, err := at.open(ctx)
	if err != nil {
		return err
	}
	names, secure, note, err := o.secured(listener)
	if err != nil {
		listener.Close() //nolint:errcheck // the error that matters is err
		return err
	}
	scheme := "http"
	server := &http.Server{
		Handler: Handler(o, names), ReadHeaderTimeout: headerTime, ReadTimeout: readTime, IdleTimeout: idleTime,
		MaxHeaderBytes: maxHeader, ErrorLog: o.Log,
	}
	if secure != nil {
		scheme, listener = "https", tls.NewListener(listener, secure)
	}
	ended := make(chan error, 1)
	go func() { ended <- server.Serve(listener) }()
	if o.Ready != nil {
		o.Ready(scheme+"://"+names[0]+"/", note)
	}
	select {
	case err := <-ended:
		return fmt.Errorf("the pages ended: %w", err)
	case <-ctx.Done():
	}
	within, cancel := context.WithTimeout(context.Background(), endTime)
	defer cancel()
	if err := server.Shutdown(within); err != nil && !errors.Is(err, context.DeadlineExceeded) {
		return fmt.Errorf("the pages did not end well: %w", err)
	}
	return nil
}

// Handler is everything between the network and the pages, for requests to hosts of these names.
func Handler(o Options, names []string) http.Handler {
	var authority []byte
	if o.Authority != nil {
		authority = o.Authority.pem
	}
	return onlyNamed(names, http.NewCrossOriginProtection().Handler(compressed(gate(o.Members, authority, o.Known, o.Pages))))
}

// secured finds under which names the address is served, and its TLS, nil for a loopback address. Note is what the person
// who starts it must know.
func (o Options) secured(l net.Listener) (names []string, secure *tls.Config, note string, err error) {
	host, port, err := net.SplitHostPort(l.Addr().String())
	if err != nil {
		return nil, nil, "", err
	}
	ip := net.ParseIP(host)
	if ip.IsLoopback() && o.CertFile == "" {
		return []string{l.Addr().String(), "localhost:" + port}, nil, "", nil
	}
	addresses := []net.IP{ip}
	if ip.IsUnspecified() {
		addresses = ownAddresses()
	}
	for _, a := range addresses {
		names = append(names, net.JoinHostPort(a.String(), port))
	}
	names = append(names, hostName()+".local:"+port, "localhost:"+port)
	var pair tls.Certificate
	switch {
	case o.CertFile != "":
		if pair, err = tls.LoadX509KeyPair(o.CertFile, o.KeyFile); err != nil {
			return nil, nil, "", fmt.Errorf("the certificate cannot be used: %w", err)
		}
		names = append(namesOf(pair, ip, port), names...)
		note = joinNote
	case o.Authority != nil && !ip.IsUnspecified() && !ip.IsPrivate():
		return nil, nil, "", fmt.Errorf("--listen %q is no address of a private network: give a certificate with --cert and --key", o.Listen)
	case o.Authority != nil:
		if pair, err = o.Authority.Certificate(time.Now(), append(addresses, net.IPv4(127, 0, 0, 1), net.IPv6loopback)); err != nil {
			return nil, nil, "", err
		}
		note = fmt.Sprintf("%s The fingerprint of the authority they may trust: %s.", joinNote, o.Authority.Fingerprint())
	default:
		return nil, nil, "", fmt.Errorf("--listen %q can be reached from elsewhere: it needs TLS", o.Listen)
	}
	return names, &tls.Config{Certificates: []tls.Certificate{pair}, MinVersion: tls.VersionTLS12, NextProtos: []string{"http/1.1"}}, note, nil
}

// joinNote is what everybody must know who serves to others.
const joinNote = "Other devices join at /join, with a code that this machine gives at /devices."

// namesOf are the names and addresses a certificate is for. One that leads back to whoever asks is left out where only
// another address is served.
func namesOf(pair tls.Certificate, served net.IP, port string) []string {
	var all []string
	add := func(name string, own bool) {
		if !own || served.IsLoopback() || served.IsUnspecified() {
			all = append(all, net.JoinHostPort(name, port), strings.TrimSuffix(net.JoinHostPort(name, ""), ":")) // browsers leave 443 out
		}
	}
	if pair.Leaf == nil {
		return nil
	}
	for _, n := range pair.Leaf.DNSNames {
		add(n, n == "localhost")
	}
	for _, a := range pair.Leaf.IPAddresses {
		add(a.String(), a.IsLoopback())
	}
	return all
}

// ownAddresses are the private ones of this machine: our own authority may speak for no others.
func ownAddresses() []net.IP {
	var all []net.IP
	addresses, err := net.InterfaceAddrs()
	if err == nil {
		for _, a := range addresses {
			if n, ok := a.(*net.IPNet); ok && n.IP.IsPrivate() {
				all = append(all, n.IP)
			}
		}
	}
	return append(all, net.IPv4(127, 0, 0, 1))
}

// Fingerprint is the SHA-256 of the authority's certificate, in the form phones show it.
func (a *Authority) Fingerprint() string {
	sum := sha256.Sum256(a.certificate.Raw)
	parts := make([]string, len(sum))
	for i, b := range sum {
		parts[i] = fmt.Sprintf("%02X", b)
	}
	return strings.Join(parts, ":")
}

// onlyNamed answers only requests for the names that are served, so that a page of somebody else cannot reach it under a
// name of theirs that leads to this machine (DNS rebinding).
func onlyNamed(names []string, next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !slices.Contains(names, r.Host) {
			http.Error(w, "this address is not served here", http.StatusMisdirectedRequest)
			return
		}
		next.ServeHTTP(w, r)
	})
}
