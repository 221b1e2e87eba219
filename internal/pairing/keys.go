package pairing

import (
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"time"

	"helmcue/internal/phonemsg"
)

const tokensFile = "tokens.json"

// KeysConfig says where tokens are kept.
type KeysConfig struct {
	Dir         string           // existing folder; tokens.json is kept there
	DefaultBoat string           // for sailors who name none
	Now         func() time.Time // nil: time.Now
}

// Grant is what a token allows. The token itself is kept nowhere.
type Grant struct {
	ID   string        `json:"id"` // names the grant for Revoke; worthless as a token
	Hash string        `json:"hash"`
	Role phonemsg.Role `json:"role"`
	Boat string        `json:"boat"`
	Made time.Time     `json:"made"`
}

// Keys holds pairing codes, in memory, and grants, on disk. It is safe for
// concurrent use.
type Keys struct {
	cfg KeysConfig

	mu     sync.Mutex
	grants []Grant
	codes  []Code
	guard  guard
}

// OpenKeys reads the grants kept in cfg.Dir; none is a fresh start.
func OpenKeys(cfg KeysConfig) (*Keys, error) {
	if cfg.Now == nil {
		cfg.Now = time.Now
	}
	if cfg.DefaultBoat == "" {
		cfg.DefaultBoat = "boat"
	}
	k := &Keys{cfg: cfg}
	path := filepath.Join(cfg.Dir, tokensFile)
	b, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return k, nil
	}
	if err == nil {
		err = json.Unmarshal(b, &k.grants)
	}
	if err != nil {
		return nil, fmt.Errorf("reading %s: %w: restore it, or remove it and pair every phone again", path, err)
	}
	return k, nil
}

// Redeem exchanges a pairing code for a token; from is the caller's address,
// for the rate limit. The code is used up. Errors are *phonemsg.Error with code
// bad_code or too_fast, or a failure to write.
func (k *Keys) Redeem(req phonemsg.PairRequest, from string) (phonemsg.PairReply, error) {
	k.mu.Lock()
	defer k.mu.Unlock()
	now := k.cfg.Now()
	if !k.guard.allow(from, now) {
		return phonemsg.PairReply{}, phonemsg.Errorf(phonemsg.TooFast, "too many tries: wait a minute")
	}
	code, ok := k.take(req.Code, now)
	if !ok {
		return phonemsg.PairReply{}, phonemsg.Errorf(phonemsg.BadCode,
			"no such code, or it was used or is older than %d minutes: take a new one from the service's screen", int(CodeLife.Minutes()))
	}
	reply, err := k.grant(code, req.Boat, now)
	if err != nil {
		k.codes = append(k.codes, code) // not used up after all
	}
	return reply, err
}

func (k *Keys) grant(code Code, asked string, now time.Time) (phonemsg.PairReply, error) {
	name := code.Boat
	if name == "" {
		name = asked
	}
	if name == "" && code.Role == phonemsg.Sailor {
		name = k.cfg.DefaultBoat
	}
	if err := phonemsg.CheckName(name); err != nil {
		return phonemsg.PairReply{}, err
	}
	token := base64.RawURLEncoding.EncodeToString(random(32))
	g := Grant{ID: hex.EncodeToString(random(6)), Hash: hash(token), Role: code.Role, Boat: name, Made: now.UTC()}
	if err := k.save(append(slices.Clone(k.grants), g)); err != nil {
		return phonemsg.PairReply{}, err
	}
	return phonemsg.PairReply{Token: token, Role: g.Role, Boat: g.Boat}, nil
}

// Check returns what the token allows. Every grant is compared, in constant
// time, so that how long it takes tells nothing.
func (k *Keys) Check(token string) (role phonemsg.Role, boat string, ok bool) {
	h := []byte(hash(token))
	k.mu.Lock()
	defer k.mu.Unlock()
	for _, g := range k.grants {
		if subtle.ConstantTimeCompare(h, []byte(g.Hash)) == 1 {
			role, boat, ok = g.Role, g.Boat, true
		}
	}
	return role, boat, ok
}

// Grants returns every grant, oldest first.
func (k *Keys) Grants() []Grant {
	k.mu.Lock()
	defer k.mu.Unlock()
	return slices.Clone(k.grants)
}

// Revoke ends the grant with this ID; its token is worth nothing from then on.
func (k *Keys) Revoke(id string) error {
	k.mu.Lock()
	defer k.mu.Unlock()
	left := slices.DeleteFunc(slices.Clone(k.grants), func(g Grant) bool { return g.ID == id })
	if len(left) == len(k.grants) {
		return fmt.Errorf("no grant %q: list them to see the ids", id)
	}
	return k.save(left)
}

// save keeps the list on disk first and in memory only then.
func (k *Keys) save(grants []Grant) error {
	b, err := json.MarshalIndent(grants, "", "  ")
	if err != nil {
		return fmt.Errorf("writing tokens: %w", err)
	}
	if err := writeSecret(filepath.Join(k.cfg.Dir, tokensFile), b); err != nil {
		return err
	}
	k.grants = grants
	return nil
}

// hash needs no salt or slow function: tokens are 256 random bits.
func hash(token string) string {
	sum := sha256.Sum256([]byte(token))
	return hex.EncodeToString(sum[:])
}

func random(n int) []byte {
	b := make([]byte, n)
	rand.Read(b) // crypto/rand.Read never returns an error since Go 1.24
	return b
}
