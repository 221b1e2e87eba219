package app

import (
	"net"
	"net/netip"
)

func portOf(l net.Listener) int { return l.Addr().(*net.TCPAddr).Port }

// isLANv4 says whether text is an IPv4 address that others on the network reach.
func isLANv4(text string) bool {
	ip, err := netip.ParseAddr(text)
	return err == nil && ip.Is4() && !ip.IsLoopback() && !ip.IsLinkLocalUnicast()
}
