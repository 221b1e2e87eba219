package pairing

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"time"
)

const (
	day       = 24 * time.Hour
	rootLife  = 3653 * day // ten years: installed once on a phone
	leafLife  = 90 * day   // phones refuse more than 825 days (platform rule, see README)
	renewLeft = 30 * day
	recheck   = time.Minute // how often a handshake looks at addresses anew
	rootCert  = "root.crt"
	rootKey   = "root.key"
)

// AuthorityConfig says where the authority lives and what it signs for.
type AuthorityConfig struct {
	Dir   string                   // existing folder; root.key and root.crt are kept there
	Names func() ([]string, error) // addresses and names to sign for; nil: this machine's
	Now   func() time.Time         // nil: time.Now
}

// Authority signs for this machine. It is safe for concurrent use.
type Authority struct {
	cfg  AuthorityConfig
	cert *x509.Certificate
	key  *ecdsa.PrivateKey

	mu      sync.Mutex
	leaf    *tls.Certificate
	names   []string
	checked time.Time
}

// OpenAuthority reads the authority kept in cfg.Dir, or makes it where there is
// none, and signs for the machine's present addresses.
func OpenAuthority(cfg AuthorityConfig) (*Authority, error) {
	if cfg.Now == nil {
		cfg.Now = time.Now
	}
	if cfg.Names == nil {
		cfg.Names = MachineNames
	}
	a := &Authority{cfg: cfg}
	err := a.load()
	if errors.Is(err, fs.ErrNotExist) {
		err = a.make()
	}
	if err != nil {
		return nil, err
	}
	_, err = a.Certificate()
	return a, err
}

// load gives fs.ErrNotExist where there is no certificate: a key alone is a
// first start cut short, and no phone can trust it yet. A certificate alone is
// a damaged folder, and making a new authority over it would hide that.
func (a *Authority) load() error {
	certPath, keyPath := filepath.Join(a.cfg.Dir, rootCert), filepath.Join(a.cfg.Dir, rootKey)
	certPEM, certErr := os.ReadFile(certPath)
	keyPEM, keyErr := os.ReadFile(keyPath)
	switch {
	case errors.Is(certErr, fs.ErrNotExist):
		return fs.ErrNotExist
	case certErr != nil || keyErr != nil:
		return fmt.Errorf("local authority: expected both %s and %s, %v: restore the missing one, or remove both and install the new root on every phone",
			certPath, keyPath, errors.Join(certErr, keyErr))
	}
	pair, err := tls.X509KeyPair(certPEM, keyPEM)
	if err != nil {
		return fmt.Errorf("local authority: %s and %s do not fit: %v: restore them, or remove both and install the new root on every phone", certPath, keyPath, err)
	}
	key, ok := pair.PrivateKey.(*ecdsa.PrivateKey)
	if !ok || !pair.Leaf.IsCA {
		return fmt.Errorf("local authority: %s is no authority this service made: remove %s and %s to have one made", certPath, certPath, keyPath)
	}
	if a.cfg.Now().Add(leafLife).After(pair.Leaf.NotAfter) {
		return fmt.Errorf("local authority: %s ends on %s: remove %s and %s and install the new root on every phone",
			certPath, pair.Leaf.NotAfter.Format(time.DateOnly), certPath, keyPath)
	}
	a.cert, a.key = pair.Leaf, key
	return nil
}

func (a *Authority) make() error {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return fmt.Errorf("making a local authority: %w", err)
	}
	der, err := x509.CreateCertificate(rand.Reader, rootTemplate(a.cfg.Now()), rootTemplate(a.cfg.Now()), &key.PublicKey, key)
	if err != nil {
		return fmt.Errorf("making a local authority: %w", err)
	}
	if a.cert, err = x509.ParseCertificate(der); err != nil {
		return fmt.Errorf("making a local authority: %w", err)
	}
	pkcs8, err := x509.MarshalPKCS8PrivateKey(key)
	if err != nil {
		return fmt.Errorf("making a local authority: %w", err)
	}
	a.key = key
	keyPEM := pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: pkcs8})
	if err := writeSecret(filepath.Join(a.cfg.Dir, rootKey), keyPEM); err != nil {
		return err
	}
	return writeSecret(filepath.Join(a.cfg.Dir, rootCert), a.RootPEM())
}

// RootDER returns the authority's certificate as phones install it.
func (a *Authority) RootDER() []byte { return a.cert.Raw }

// RootPEM returns the authority's certificate as text.
func (a *Authority) RootPEM() []byte {
	return pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: a.cert.Raw})
}

// Words returns the root's fingerprint as four words, to be compared between
// this machine's screen and the phone's before the root is trusted.
func (a *Authority) Words() string { return fingerprintWords(a.cert.Raw) }

// TLSConfig returns a configuration that always serves a valid certificate for
// the machine's present addresses.
func (a *Authority) TLSConfig() *tls.Config {
	return &tls.Config{
		MinVersion: tls.VersionTLS12,
		GetCertificate: func(*tls.ClientHelloInfo) (*tls.Certificate, error) {
			return a.Certificate()
		},
	}
}

// Names returns the addresses and names the present certificate is for.
func (a *Authority) Names() []string {
	a.mu.Lock()
	defer a.mu.Unlock()
	return append([]string(nil), a.names...)
}
