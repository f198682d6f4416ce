// Package serve puts the pages on an address of this machine: it decides who may ask, compresses what is sent, and
// starts and ends with the program. It knows nothing of doors.
package serve

import (
	"context"
	"errors"
	"fmt"
	"log"
	"net"
	"net/http"
	"time"
)

// Options say where and what to serve.
type Options struct {
	Listen string       // host and port; only a loopback address
	Pages  http.Handler // is asked only by who may
	Ready  func(url string)
	Log    *log.Logger // what goes wrong with a connection; nil for nowhere
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

// Run serves until the context ends. It errs on an address that is taken, is none, or can be reached from elsewhere.
func Run(ctx context.Context, o Options) error {
	listener, err := listen(ctx, o.Listen)
	if err != nil {
		return err
	}
	host := listener.Addr().String()
	server := &http.Server{
		Handler:           onlyHere(host, http.NewCrossOriginProtection().Handler(compressed(o.Pages))),
		ReadHeaderTimeout: headerTime, ReadTimeout: readTime, IdleTimeout: idleTime, MaxHeaderBytes: maxHeader, ErrorLog: o.Log,
	}
	ended := make(chan error, 1)
	go func() { ended <- server.Serve(listener) }()
	if o.Ready != nil {
		o.Ready("http://" + host + "/")
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

// listen opens a loopback address.
func listen(ctx context.Context, address string) (net.Listener, error) {
	host, port, err := net.SplitHostPort(address)
	if err != nil {
		return nil, fmt.Errorf("--listen %q: write a host and a port, such as 127.0.0.1:8023", address)
	}
	if host == "localhost" {
		host = "127.0.0.1"
	}
	ip := net.ParseIP(host)
	if ip == nil || !ip.IsLoopback() {
		return nil, fmt.Errorf("--listen %q: only this machine can be served yet; write a loopback address such as 127.0.0.1:%s", address, port)
	}
	var c net.ListenConfig
	l, err := c.Listen(ctx, "tcp", net.JoinHostPort(host, port))
	if err != nil {
		return nil, fmt.Errorf("--listen %q cannot be opened: %w; another program may use it, write another port, or 0 for any", address, err)
	}
	return l, nil
}

// onlyHere answers only requests for the address that is served, so that a page of somebody else cannot reach it under a
// name of theirs that leads to this machine (DNS rebinding, OWASP ASVS).
func onlyHere(host string, next http.Handler) http.Handler {
	_, port, _ := net.SplitHostPort(host)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Host != host && r.Host != "localhost:"+port {
			http.Error(w, "this address is not served here", http.StatusMisdirectedRequest)
			return
		}
		next.ServeHTTP(w, r)
	})
}
