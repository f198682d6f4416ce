package serve

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"errors"
	"fmt"
	"io/fs"
	"math/big"
	"net"
	"os"
	"path/filepath"
	"regexp"
	"time"
)

// Authority is an authority of our own: a certificate that phones are told to trust, and that may speak for nothing but
// addresses of private networks and names that end in .local or .home.arpa.
type Authority struct {
	certificate *x509.Certificate
	key         *ecdsa.PrivateKey
	pem         []byte
}

// How long certificates are good for: phones refuse server certificates of more than 398 days, of private authorities of
// more than 825 days (their makers' published limits, from memory).
const (
	authorityLife = 5 * 365 * 24 * time.Hour
	serverLife    = 180 * 24 * time.Hour
)

// OpenAuthority reads the authority of a folder, and makes one where there is none. Its key is readable by its owner only.
func OpenAuthority(folder string, now time.Time) (*Authority, error) {
	certFile, keyFile := filepath.Join(folder, "authority.pem"), filepath.Join(folder, "authority.key")
	pair, err := tls.LoadX509KeyPair(certFile, keyFile)
	if errors.Is(err, fs.ErrNotExist) {
		if err = makeAuthority(certFile, keyFile, now); err == nil {
			pair, err = tls.LoadX509KeyPair(certFile, keyFile)
		}
	}
	if err != nil {
		return nil, fmt.Errorf("the authority in %s cannot be used: %w", folder, err)
	}
	key, ok := pair.PrivateKey.(*ecdsa.PrivateKey)
	if !ok {
		return nil, fmt.Errorf("the authority in %s has a key of another kind", folder)
	}
	if now.After(pair.Leaf.NotAfter) {
		return nil, fmt.Errorf("the authority in %s ended on %s: move its two files away, and a new one is made", folder, pair.Leaf.NotAfter.Format(time.DateOnly))
	}
	return &Authority{pair.Leaf, key, pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: pair.Leaf.Raw})}, nil
}

func makeAuthority(certFile, keyFile string, now time.Time) error {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return err
	}
	serial, err := newSerial()
	if err != nil {
		return err
	}
	t := &x509.Certificate{
		SerialNumber: serial, Subject: pkix.Name{CommonName: "Doorwright on " + hostName()}, NotBefore: now.Add(-time.Hour), NotAfter: now.Add(authorityLife),
		IsCA: true, BasicConstraintsValid: true, MaxPathLenZero: true, KeyUsage: x509.KeyUsageCertSign | x509.KeyUsageCRLSign,
		PermittedDNSDomainsCritical: true, PermittedDNSDomains: []string{"local", "home.arpa"}, PermittedIPRanges: private(),
	}
	der, err := x509.CreateCertificate(rand.Reader, t, t, &key.PublicKey, key)
	if err != nil {
		return err
	}
	secret, err := x509.MarshalECPrivateKey(key)
	if err != nil {
		return err
	}
	if err := os.WriteFile(keyFile, pem.EncodeToMemory(&pem.Block{Type: "EC PRIVATE KEY", Bytes: secret}), 0o600); err != nil {
		return err
	}
	return os.WriteFile(certFile, pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der}), 0o644) //nolint:gosec // it is public
}

// private are the address ranges of private networks (RFC 1918, RFC 4193, RFC 3927, RFC 4291) and of this machine.
func private() []*net.IPNet {
	var all []*net.IPNet
	for _, text := range []string{"10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16", "127.0.0.0/8", "fc00::/7", "fe80::/10", "::1/128"} {
		_, n, err := net.ParseCIDR(text)
		if err == nil {
			all = append(all, n)
		}
	}
	return all
}

func newSerial() (*big.Int, error) {
	return rand.Int(rand.Reader, new(big.Int).Lsh(big.NewInt(1), 127))
}

// hostForm is that of a name on the local network.
var hostForm = regexp.MustCompile(`^[A-Za-z0-9-]{1,63}\.local$`)

func hostName() string {
	name, err := os.Hostname()
	if err != nil || name == "" {
		return "this machine"
	}
	return name
}

// Certificate makes a certificate for the names and addresses of this machine.
func (a *Authority) Certificate(now time.Time, addresses []net.IP) (tls.Certificate, error) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return tls.Certificate{}, err
	}
	serial, err := newSerial()
	if err != nil {
		return tls.Certificate{}, err
	}
	t := &x509.Certificate{
		SerialNumber: serial, Subject: pkix.Name{CommonName: hostName()}, NotBefore: now.Add(-time.Hour), NotAfter: now.Add(serverLife),
		KeyUsage: x509.KeyUsageDigitalSignature, ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth},
		IPAddresses: addresses,
	}
	if name := hostName() + ".local"; hostForm.MatchString(name) {
		t.DNSNames = []string{name}
	}
	der, err := x509.CreateCertificate(rand.Reader, t, a.certificate, &key.PublicKey, a.key)
	if err != nil {
		return tls.Certificate{}, err
	}
	return tls.Certificate{Certificate: [][]byte{der, a.certificate.Raw}, PrivateKey: key}, nil
}
