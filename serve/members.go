package serve

import (
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"math/big"
	"os"
	"regexp"
	"slices"
	"sync"
	"time"
)

// Members are the devices that have joined: each with a person and a secret of its own, kept as a hash.
type Members struct {
	file string // empty: kept nowhere
	now  func() time.Time

	mu    sync.Mutex
	all   []Member
	codes []code
}

// Member is one device that has joined.
type Member struct {
	Who    string    `json:"who"` // initials
	Device string    `json:"device"`
	Since  time.Time `json:"since"`
	Hash   string    `json:"hash"` // of its secret
}

// code lets one device join once.
type code struct {
	hash  [sha256.Size]byte
	who   string
	until time.Time
	wrong int
}

// A code is good for ten minutes and five mistakes: with eight digits nobody guesses it (OWASP ASVS 5.0, 6.6.3 asks 20 bits
// with few tries; from memory).
const (
	codeLife    = 10 * time.Minute
	codeTries   = 5
	codeDigits  = 8
	memberLife  = 90 * 24 * time.Hour
	mostMembers = 200
)

// OpenMembers reads the members of a file; an empty name keeps them nowhere.
func OpenMembers(file string, now func() time.Time) (*Members, error) {
	m := &Members{file: file, now: now}
	if file == "" {
		return m, nil
	}
	data, err := os.ReadFile(file)
	if errors.Is(err, fs.ErrNotExist) {
		return m, nil
	}
	if err == nil {
		err = json.Unmarshal(data, &m.all)
	}
	if err != nil {
		return nil, fmt.Errorf("the devices in %s cannot be read: %w", file, err)
	}
	return m, nil
}

// initials are those of a person.
var initials = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9_-]{0,7}$`)

// NewCode makes a code with which one device joins for a person.
func (m *Members) NewCode(who string) (string, error) {
	if !initials.MatchString(who) {
		return "", fmt.Errorf("%q are no initials", who)
	}
	n, err := rand.Int(rand.Reader, new(big.Int).Exp(big.NewInt(10), big.NewInt(codeDigits), nil))
	if err != nil {
		return "", err
	}
	text := fmt.Sprintf("%0*d", codeDigits, n)
	m.mu.Lock()
	defer m.mu.Unlock()
	m.expire()
	if len(m.codes) >= mostMembers {
		return "", errors.New("too many codes are waiting")
	}
	m.codes = append(m.codes, code{hash: sha256.Sum256([]byte(text)), who: who, until: m.now().Add(codeLife)})
	return text, nil
}

// errCode says nothing about how wrong a code is.
var errCode = errors.New("the code does not fit, was used, or is too old: ask for a new one")

// Join trades a code for the secret of a device.
func (m *Members) Join(text, device string) (secret string, err error) {
	hash := sha256.Sum256([]byte(text))
	m.mu.Lock()
	defer m.mu.Unlock()
	m.expire()
	for i := range m.codes {
		if subtle.ConstantTimeCompare(m.codes[i].hash[:], hash[:]) != 1 {
			continue
		}
		who := m.codes[i].who
		m.codes = slices.Delete(m.codes, i, i+1)
		return m.add(who, device)
	}
	for i := range m.codes {
		m.codes[i].wrong++
	}
	m.codes = slices.DeleteFunc(m.codes, func(c code) bool { return c.wrong >= codeTries })
	return "", errCode
}

func (m *Members) add(who, device string) (string, error) {
	raw := make([]byte, 32)
	if _, err := rand.Read(raw); err != nil {
		return "", err
	}
	secret := hex.EncodeToString(raw)
	if len(m.all) >= mostMembers {
		return "", errors.New("too many devices have joined: take some out")
	}
	m.all = append(m.all, Member{Who: who, Device: device, Since: m.now().UTC().Truncate(time.Second), Hash: hashed(secret)})
	return secret, m.save()
}

func hashed(secret string) string {
	sum := sha256.Sum256([]byte(secret))
	return hex.EncodeToString(sum[:])
}

// Of is the person of a secret; empty for one that is none.
func (m *Members) Of(secret string) string {
	hash := hashed(secret)
	m.mu.Lock()
	defer m.mu.Unlock()
	m.expire()
	for _, x := range m.all {
		if subtle.ConstantTimeCompare([]byte(x.Hash), []byte(hash)) == 1 {
			return x.Who
		}
	}
	return ""
}

// Remove takes a device out, by the hash of its secret.
func (m *Members) Remove(hash string) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.all = slices.DeleteFunc(m.all, func(x Member) bool { return x.Hash == hash })
	return m.save()
}

// All lists the devices that have joined.
func (m *Members) All() []Member {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.expire()
	return slices.Clone(m.all)
}

// expire drops what is too old.
func (m *Members) expire() {
	now := m.now()
	m.codes = slices.DeleteFunc(m.codes, func(c code) bool { return now.After(c.until) })
	m.all = slices.DeleteFunc(m.all, func(x Member) bool { return now.After(x.Since.Add(memberLife)) })
}

// save keeps the members; a crash leaves the old file or the new one.
func (m *Members) save() error {
	if m.file == "" {
		return nil
	}
	data, err := json.MarshalIndent(m.all, "", "  ")
	if err != nil {
		return err
	}
	next := m.file + ".new"
	if err := os.WriteFile(next, data, 0o600); err != nil {
		return err
	}
	return os.Rename(next, m.file)
}
