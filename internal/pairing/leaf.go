package pairing

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"fmt"
	"math/big"
	"net"
	"slices"
	"time"
)

// permittedRanges are the only addresses the root can ever vouch for, so that
// a stolen root is worth nothing on the internet. Sources: RFC 1918 (10/8,
// 172.16/12, 192.168/16), RFC 3927 (169.254/16), RFC 1122 (127/8), RFC 4193
// (fc00::/7), RFC 4291 (fe80::/10, ::1).
func permittedRanges() []*net.IPNet {
	var out []*net.IPNet
	for _, s := range []string{"10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16",
		"127.0.0.0/8", "fc00::/7", "fe80::/10", "::1/128"} {
		_, n, err := net.ParseCIDR(s)
		if err != nil {
			panic(err) // the list above is wrong
		}
		out = append(out, n)
	}
	return out
}

func rootTemplate(now time.Time) *x509.Certificate {
	return &x509.Certificate{
		SerialNumber:                serial(),
		Subject:                     pkix.Name{CommonName: "helmcue on this boat, " + now.Format("January 2006")},
		NotBefore:                   now.Add(-day),
		NotAfter:                    now.Add(rootLife),
		KeyUsage:                    x509.KeyUsageCertSign | x509.KeyUsageCRLSign,
		BasicConstraintsValid:       true,
		IsCA:                        true,
		MaxPathLenZero:              true,
		PermittedDNSDomainsCritical: true,
		PermittedDNSDomains:         []string{"local", "localhost"},
		PermittedIPRanges:           permittedRanges(),
	}
}

// serial returns 127 random bits: unguessable and positive, as RFC 5280 asks.
func serial() *big.Int {
	n, err := rand.Int(rand.Reader, new(big.Int).Lsh(big.NewInt(1), 127))
	if err != nil {
		panic(err) // crypto/rand does not fail on supported systems
	}
	return n
}

// Certificate returns a certificate for this machine, signed anew when its
// addresses changed or fewer than 30 days are left.
func (a *Authority) Certificate() (*tls.Certificate, error) {
	a.mu.Lock()
	defer a.mu.Unlock()
	now := a.cfg.Now()
	if a.leaf != nil && now.Sub(a.checked).Abs() < recheck {
		return a.leaf, nil
	}
	names, err := a.cfg.Names()
	if err != nil {
		if a.leaf != nil {
			return a.leaf, nil // better the old addresses than no page
		}
		return nil, fmt.Errorf("finding this machine's addresses: %w", err)
	}
	a.checked = now
	if a.leaf != nil && slices.Equal(names, a.names) && a.leaf.Leaf.NotAfter.Sub(now) > renewLeft {
		return a.leaf, nil
	}
	leaf, err := a.sign(names, now)
	if err != nil {
		return nil, err
	}
	a.leaf, a.names = leaf, names
	return leaf, nil
}

// sign makes a certificate for names. A machine without a battery clock may
// start years in the past; the root's own birth is the earliest it can be.
func (a *Authority) sign(names []string, now time.Time) (*tls.Certificate, error) {
	if born := a.cert.NotBefore.Add(day); now.Before(born) {
		now = born
	}
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return nil, fmt.Errorf("signing a certificate: %w", err)
	}
	t := &x509.Certificate{
		SerialNumber:          serial(),
		Subject:               pkix.Name{CommonName: "helmcue"},
		NotBefore:             now.Add(-day),
		NotAfter:              now.Add(leafLife),
		KeyUsage:              x509.KeyUsageDigitalSignature,
		ExtKeyUsage:           []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth},
		BasicConstraintsValid: true,
	}
	for _, n := range names {
		if ip := net.ParseIP(n); ip != nil {
			t.IPAddresses = append(t.IPAddresses, ip)
		} else {
			t.DNSNames = append(t.DNSNames, n)
		}
	}
	der, err := x509.CreateCertificate(rand.Reader, t, a.cert, &key.PublicKey, a.key)
	if err != nil {
		return nil, fmt.Errorf("signing a certificate: %w", err)
	}
	leaf, err := x509.ParseCertificate(der)
	if err != nil {
		return nil, fmt.Errorf("signing a certificate: %w", err)
	}
	return &tls.Certificate{Certificate: [][]byte{der, a.cert.Raw}, PrivateKey: key, Leaf: leaf}, nil
}
