package pairing

import (
	"crypto/x509"
	"encoding/pem"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// testClock is a clock that stands until it is moved.
type testClock struct{ t time.Time }

func (c *testClock) now() time.Time { return c.t }

func newClock() *testClock { return &testClock{time.Date(2026, 6, 1, 9, 0, 0, 0, time.UTC)} }

func open(t *testing.T, dir string, c *testClock, names ...string) *Authority {
	t.Helper()
	a, err := OpenAuthority(AuthorityConfig{Dir: dir, Now: c.now, Names: func() ([]string, error) { return names, nil }})
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// verify asks Go's own RFC 5280 verifier whether a phone trusting root would
// take the present certificate for host.
func verify(t *testing.T, a *Authority, host string, at time.Time) error {
	t.Helper()
	leaf, err := a.Certificate()
	if err != nil {
		t.Fatal(err)
	}
	pool := x509.NewCertPool()
	pool.AppendCertsFromPEM(a.RootPEM())
	_, err = leaf.Leaf.Verify(x509.VerifyOptions{DNSName: host, Roots: pool, CurrentTime: at})
	return err
}

func TestPhonesTakeTheCertificate(t *testing.T) {
	c := newClock()
	a := open(t, t.TempDir(), c, "localhost", "otter.local", "192.168.4.1", "fe80::1", "127.0.0.1")
	for _, host := range []string{"localhost", "otter.local", "192.168.4.1", "[fe80::1]", "127.0.0.1"} {
		if err := verify(t, a, host, c.t); err != nil {
			t.Errorf("%s: %v", host, err)
		}
	}
	if err := verify(t, a, "10.0.0.9", c.t); err == nil {
		t.Error("taken for an address it was not signed for")
	}
}

// TestRootVouchesForNothingElse: what the authority signs for a public name is
// worth nothing (RFC 5280, 4.2.1.10, name constraints).
func TestRootVouchesForNothingElse(t *testing.T) {
	c := newClock()
	for _, host := range []string{"example.org", "8.8.8.8", "2001:db8::1", "local.example.org", "172.32.0.1"} {
		a := open(t, t.TempDir(), c, host)
		err := verify(t, a, host, c.t)
		if err == nil || !strings.Contains(err.Error(), "not permitted") {
			t.Errorf("%s: %v, want a constraint violation", host, err)
		}
	}
}

// TestOpenSSLAgrees holds the chain and its constraints to a second verifier.
// Source: openssl verify, where it is installed.
func TestOpenSSLAgrees(t *testing.T) {
	tool, err := exec.LookPath("openssl")
	if err != nil {
		t.Skip("no openssl here: Go's verifier alone is checked")
	}
	c := &testClock{time.Now()}
	for host, want := range map[string]bool{"192.168.4.1": true, "otter.local": true, "8.8.8.8": false, "example.org": false} {
		dir := t.TempDir()
		a := open(t, dir, c, host)
		leaf, _ := a.Certificate()
		leafFile := filepath.Join(dir, "leaf.pem")
		os.WriteFile(leafFile, pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: leaf.Certificate[0]}), 0o600)
		out, err := exec.Command(tool, "verify", "-x509_strict", "-purpose", "sslserver", "-CAfile", filepath.Join(dir, rootCert), leafFile).CombinedOutput()
		if (err == nil) != want {
			t.Errorf("%s: openssl says %s", host, out)
		}
	}
}

func TestLivesOfCertificates(t *testing.T) {
	c := newClock()
	a := open(t, t.TempDir(), c, "localhost")
	leaf, _ := a.Certificate()
	if life := leaf.Leaf.NotAfter.Sub(leaf.Leaf.NotBefore); life > 825*day {
		t.Errorf("the certificate lives %v, phones take at most 825 days", life)
	}
	if years := a.cert.NotAfter.Sub(c.t).Hours() / 24 / 365.25; years < 9.9 || years > 10.1 {
		t.Errorf("the root lives %.1f years, want 10", years)
	}
	if !a.cert.MaxPathLenZero || !a.cert.PermittedDNSDomainsCritical {
		t.Error("the root may sign other authorities, or its constraints may be ignored")
	}
}

func TestSignsAnew(t *testing.T) {
	c := newClock()
	names := []string{"192.168.4.1", "localhost"}
	a, err := OpenAuthority(AuthorityConfig{Dir: t.TempDir(), Now: c.now, Names: func() ([]string, error) { return names, nil }})
	if err != nil {
		t.Fatal(err)
	}
	first, _ := a.Certificate()
	c.t = c.t.Add(2 * time.Minute)
	if again, _ := a.Certificate(); again != first {
		t.Error("signed anew without a reason")
	}
	names = []string{"192.168.4.7", "localhost"}
	c.t = c.t.Add(2 * time.Minute)
	if err := verify(t, a, "192.168.4.7", c.t); err != nil {
		t.Errorf("after the address changed: %v", err)
	}
	c.t = c.t.Add(75 * day)
	if err := verify(t, a, "localhost", c.t.Add(80*day)); err != nil {
		t.Errorf("with 15 days left it was not renewed: %v", err)
	}
}

func TestAuthorityIsMadeOnce(t *testing.T) {
	dir, c := t.TempDir(), newClock()
	a := open(t, dir, c, "localhost")
	b := open(t, dir, c, "localhost")
	if string(a.RootDER()) != string(b.RootDER()) || a.Words() != b.Words() {
		t.Error("the second start made another root")
	}
	for _, f := range []string{rootKey, rootCert} {
		st, err := os.Stat(filepath.Join(dir, f))
		if err != nil || st.Mode().Perm() != 0o600 {
			t.Errorf("%s: mode %v, %v", f, st.Mode(), err)
		}
	}
	if left, _ := filepath.Glob(filepath.Join(dir, "*.tmp")); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

// TestClockInThePast: a machine without a battery clock starts before its root was born.
func TestClockInThePast(t *testing.T) {
	dir, c := t.TempDir(), newClock()
	open(t, dir, c, "localhost")
	truth := c.t.Add(10 * day)
	a := open(t, dir, &testClock{c.t.AddDate(-3, 0, 0)}, "localhost")
	if err := verify(t, a, "localhost", truth); err != nil {
		t.Errorf("a phone with the right time refuses: %v", err)
	}
}

func TestDamagedAuthority(t *testing.T) {
	c := newClock()
	cases := map[string]func(dir string){
		"key gone":     func(dir string) { os.Remove(filepath.Join(dir, rootKey)) },
		"key cut":      func(dir string) { os.Truncate(filepath.Join(dir, rootKey), 20) },
		"cert garbage": func(dir string) { os.WriteFile(filepath.Join(dir, rootCert), []byte("hello"), 0o600) },
		"too old":      func(string) { c.t = c.t.AddDate(10, 0, 0) },
	}
	for name, damage := range cases {
		dir := t.TempDir()
		c.t = newClock().t
		open(t, dir, c, "localhost")
		damage(dir)
		_, err := OpenAuthority(AuthorityConfig{Dir: dir, Now: c.now})
		if err == nil || !strings.Contains(err.Error(), "install the new root") {
			t.Errorf("%s: %v, want what to do", name, err)
		}
	}
	dir := t.TempDir()
	os.WriteFile(filepath.Join(dir, rootKey), []byte("x"), 0o600)
	open(t, dir, newClock(), "localhost") // a first start cut short is begun again
}

// TestProquints: the paper's own examples, quoted from memory
// (arXiv:0901.4016, addresses written as two words).
func TestProquints(t *testing.T) {
	for ip, want := range map[[4]byte]string{
		{127, 0, 0, 1}: "lusab-babad", {63, 84, 220, 193}: "gutih-tugad", {63, 118, 7, 35}: "gutuk-bisog",
		{140, 98, 193, 141}: "mudof-sakat", {64, 255, 6, 200}: "haguz-biram",
	} {
		hi, lo := uint16(ip[0])<<8|uint16(ip[1]), uint16(ip[2])<<8|uint16(ip[3])
		if got := proquint(hi) + "-" + proquint(lo); got != want {
			t.Errorf("%v: %s, want %s", ip, got, want)
		}
	}
}

func TestMachineNames(t *testing.T) {
	names, err := MachineNames()
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"localhost", "127.0.0.1", "::1"} {
		if !slices.Contains(names, want) {
			t.Errorf("%v lacks %s", names, want)
		}
	}
	c := &testClock{time.Now()}
	a := open(t, t.TempDir(), c, names...)
	for _, n := range names {
		if strings.Contains(n, ":") {
			n = "[" + n + "]"
		}
		if err := verify(t, a, n, c.t); err != nil {
			t.Errorf("this machine's %s: %v", n, err)
		}
	}
}

func TestLocalName(t *testing.T) {
	for host, want := range map[string]string{"Otter": "otter.local", "otter.example.org": "otter.local", "": "",
		"localhost": "", "my boat": "", strings.Repeat("a", 64): ""} {
		if got := localName(host); got != want {
			t.Errorf("%q became %q, want %q", host, got, want)
		}
	}
}

func TestLoadOwn(t *testing.T) {
	dir, c := t.TempDir(), newClock()
	a := open(t, dir, c, "localhost", "192.168.4.1")
	leaf, _ := a.Certificate()
	key, _ := x509.MarshalPKCS8PrivateKey(leaf.PrivateKey)
	file := func(name, typ string, b []byte) string {
		p := filepath.Join(dir, name)
		os.WriteFile(p, pem.EncodeToMemory(&pem.Block{Type: typ, Bytes: b}), 0o600)
		return p
	}
	certFile, keyFile := file("my.crt", "CERTIFICATE", leaf.Certificate[0]), file("my.key", "PRIVATE KEY", key)
	pair, err := LoadOwn(certFile, keyFile, c.t)
	if err != nil {
		t.Fatal(err)
	}
	if got := NamesOf(pair); !slices.Equal(got, []string{"localhost", "192.168.4.1"}) {
		t.Errorf("names are %v", got)
	}
	cases := []struct {
		cert, key string
		now       time.Time
		want      string
	}{
		{"", keyFile, c.t, "--tls-cert"},
		{certFile, "", c.t, "--tls-key"},
		{filepath.Join(dir, "none"), keyFile, c.t, "no such file"},
		{certFile, filepath.Join(dir, "none"), c.t, "no such file"},
		{certFile, filepath.Join(dir, rootKey), c.t, "belong together"},
		{keyFile, keyFile, c.t, "no pair"},
		{certFile, keyFile, c.t.Add(200 * day), "renew it"},
		{certFile, keyFile, c.t.Add(-200 * day), "clock"},
	}
	for _, k := range cases {
		if _, err := LoadOwn(k.cert, k.key, k.now); err == nil || !strings.Contains(err.Error(), k.want) {
			t.Errorf("%s + %s at %s: %v, want %q", k.cert, k.key, k.now.Format(time.DateOnly), err, k.want)
		}
	}
}
