package pairing

import (
	"crypto/tls"
	"fmt"
	"os"
	"time"
)

// LoadOwn reads people's own certificate and key (PEM, the chain after the
// certificate), for those with a real name. Its errors say which file is at
// fault and what to do.
func LoadOwn(certFile, keyFile string, now time.Time) (*tls.Certificate, error) {
	switch {
	case certFile == "":
		return nil, fmt.Errorf("a key without a certificate: give --tls-cert too")
	case keyFile == "":
		return nil, fmt.Errorf("a certificate without its key: give --tls-key too")
	}
	cert, err := os.ReadFile(certFile)
	if err != nil {
		return nil, fmt.Errorf("reading the certificate: %w: give --tls-cert a readable PEM file", err)
	}
	key, err := os.ReadFile(keyFile)
	if err != nil {
		return nil, fmt.Errorf("reading the key: %w: give --tls-key a readable PEM file", err)
	}
	pair, err := tls.X509KeyPair(cert, key)
	if err != nil {
		return nil, fmt.Errorf("%s and %s are no pair: %w: both must be PEM and belong together", certFile, keyFile, err)
	}
	if l := pair.Leaf; now.After(l.NotAfter) {
		return nil, fmt.Errorf("the certificate in %s ended on %s: renew it", certFile, l.NotAfter.Format(time.DateOnly))
	} else if now.Before(l.NotBefore) {
		return nil, fmt.Errorf("the certificate in %s holds only from %s: set this machine's clock, now at %s",
			certFile, l.NotBefore.Format(time.DateOnly), now.Format(time.DateOnly))
	}
	if pair.Leaf.DNSNames == nil && pair.Leaf.IPAddresses == nil {
		return nil, fmt.Errorf("the certificate in %s names no host: phones need a subject alternative name", certFile)
	}
	return &pair, nil
}

// NamesOf returns the hosts a certificate is for.
func NamesOf(c *tls.Certificate) []string {
	names := append([]string(nil), c.Leaf.DNSNames...)
	for _, ip := range c.Leaf.IPAddresses {
		names = append(names, ip.String())
	}
	return names
}
