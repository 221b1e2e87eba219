package pairing

import (
	"crypto/subtle"
	"slices"
	"strings"
	"time"

	"golang.org/x/time/rate"

	"helmcue/internal/phonemsg"
)

// CodeLife is how long a pairing code may be used.
const CodeLife = 15 * time.Minute

// codeLetters leaves out 0, 1, I, L and O, which are read for one another.
// Six of 31 are 8.9e8 codes; the rate limit leaves a stranger about 900 tries
// in a code's life.
const (
	codeLetters = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"
	codeLength  = 6
)

// Code is one pairing code.
type Code struct {
	Text    string
	Role    phonemsg.Role
	Boat    string // empty: the phone names it
	Expires time.Time
}

// NewCode makes a one-time code for one phone of this role. boat may be empty.
func (k *Keys) NewCode(role phonemsg.Role, boat string) (Code, error) {
	if !slices.Contains(phonemsg.Roles(), role) {
		return Code{}, phonemsg.Errorf(phonemsg.OutOfRange, "role must be sailor, instructor or viewer, got %q", role)
	}
	if err := phonemsg.CheckName(boat); err != nil {
		return Code{}, err
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	return k.newCode(role, boat), nil
}

func (k *Keys) newCode(role phonemsg.Role, boat string) Code {
	now := k.cfg.Now()
	k.codes = slices.DeleteFunc(k.codes, func(c Code) bool { return !now.Before(c.Expires) })
	c := Code{Text: randomCode(), Role: role, Boat: boat, Expires: now.Add(CodeLife)}
	k.codes = append(k.codes, c)
	return c
}

// Current returns a code for this role and boat that still holds, making one
// where the last was used or has five minutes or less to go; fresh says it was made now.
func (k *Keys) Current(role phonemsg.Role, boat string) (c Code, fresh bool, err error) {
	k.mu.Lock()
	for _, c := range k.codes {
		if c.Role == role && c.Boat == boat && c.Expires.Sub(k.cfg.Now()) > CodeLife/3 {
			k.mu.Unlock()
			return c, false, nil
		}
	}
	k.mu.Unlock()
	c, err = k.NewCode(role, boat)
	return c, err == nil, err
}

// take finds and uses up the code. People type small letters, spaces and dashes.
func (k *Keys) take(typed string, now time.Time) (Code, bool) {
	typed = strings.ToUpper(strings.NewReplacer(" ", "", "-", "").Replace(typed))
	found := -1
	for i, c := range k.codes {
		if subtle.ConstantTimeCompare([]byte(typed), []byte(c.Text)) == 1 && now.Before(c.Expires) {
			found = i
		}
	}
	if found < 0 {
		return Code{}, false
	}
	c := k.codes[found]
	k.codes = slices.Delete(k.codes, found, found+1)
	return c, true
}

func randomCode() string {
	var b strings.Builder
	for b.Len() < codeLength {
		// 248 is the largest multiple of 31 in a byte: above it letters would not be equally likely.
		if r := random(1)[0]; r < 248 {
			b.WriteByte(codeLetters[int(r)%len(codeLetters)])
		}
	}
	return b.String()
}

// guard limits tries: 6 a minute for one address, 60 a minute for all.
type guard struct {
	all    *rate.Limiter
	each   map[string]*rate.Limiter
	oldest []string
}

// guarded is how many addresses are remembered; forgetting one costs little, since the limit for all stands.
const guarded = 256

func (g *guard) allow(from string, now time.Time) bool {
	if g.all == nil {
		g.all, g.each = rate.NewLimiter(rate.Every(time.Second), 20), map[string]*rate.Limiter{}
	}
	one := g.each[from]
	if one == nil {
		if len(g.oldest) == guarded {
			delete(g.each, g.oldest[0])
			g.oldest = g.oldest[1:]
		}
		one = rate.NewLimiter(rate.Every(10*time.Second), 6)
		g.each[from] = one
		g.oldest = append(g.oldest, from)
	}
	return one.AllowN(now, 1) && g.all.AllowN(now, 1)
}
