// Package localname answers on the local network for the name that people type on
// a phone, such as helmcue.local, by multicast DNS (RFC 6762), so that nobody has to
// find and type a number.
//
// Answer runs until its context ends. It only answers questions and tells nobody
// anything unasked. It refuses names that are not one label under .local. Where the
// port cannot be had or there is no network it says so, and the addresses in numbers
// work all the same.
package localname

import (
	"context"
	"fmt"
	"net"
	"strings"

	"github.com/pion/logging"
	"github.com/pion/mdns/v2"
	"golang.org/x/net/ipv4"
)

// Check says why name is not one that can be answered for, or nil. Lower-case
// letters, digits and hyphens, at most 63, then .local.
func Check(name string) error {
	label, ok := strings.CutSuffix(name, ".local")
	odd := func(r rune) bool { return !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '-') }
	if !ok || label == "" || len(label) > 63 || strings.IndexFunc(label, odd) >= 0 || strings.HasPrefix(label, "-") {
		return fmt.Errorf("expected a name such as helmcue.local (lower-case letters, digits, hyphens), got %q", name)
	}
	return nil
}

// Answer answers for name with this machine's addresses until ctx ends.
func Answer(ctx context.Context, name string) error {
	if err := Check(name); err != nil {
		return err
	}
	addr, err := net.ResolveUDPAddr("udp4", mdns.DefaultAddressIPv4)
	if err != nil {
		return fmt.Errorf("the address of multicast DNS: %w", err)
	}
	conn, err := net.ListenUDP("udp4", addr)
	if err != nil {
		return fmt.Errorf("cannot answer for %s: %w; use the address in numbers", name, err)
	}
	quiet := logging.NewDefaultLoggerFactory()
	quiet.DefaultLogLevel = logging.LogLevelDisabled
	answers, err := mdns.Server(ipv4.NewPacketConn(conn), nil, &mdns.Config{LocalNames: []string{name}, LoggerFactory: quiet})
	if err != nil {
		conn.Close()
		return fmt.Errorf("cannot answer for %s: %w; use the address in numbers", name, err)
	}
	<-ctx.Done()
	return answers.Close()
}
