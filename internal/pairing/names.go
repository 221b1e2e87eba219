package pairing

import (
	"net"
	"net/netip"
	"os"
	"slices"
	"strings"
)

// MachineNames returns what this machine may be called in an address: its
// private IP addresses, its host name under .local, and localhost. Sorted, so
// that two calls compare. Public addresses are left out: the root cannot vouch
// for them.
func MachineNames() ([]string, error) {
	addrs, err := net.InterfaceAddrs()
	if err != nil {
		return nil, err
	}
	names := []string{"localhost", "127.0.0.1", "::1"}
	for _, a := range addrs {
		p, err := netip.ParsePrefix(a.String())
		if err == nil && permitted(p.Addr()) {
			names = append(names, p.Addr().WithZone("").String())
		}
	}
	if host, err := os.Hostname(); err == nil {
		if n := localName(host); n != "" {
			names = append(names, n)
		}
	}
	slices.Sort(names)
	return slices.Compact(names), nil
}

func permitted(a netip.Addr) bool {
	ip := net.IP(a.Unmap().AsSlice())
	return slices.ContainsFunc(permittedRanges(), func(n *net.IPNet) bool { return n.Contains(ip) })
}

// localName returns the host's first label under .local, or "" where it is no
// DNS label.
func localName(host string) string {
	label, _, _ := strings.Cut(strings.ToLower(host), ".")
	odd := func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '-')
	}
	if label == "" || label == "localhost" || len(label) > 63 || strings.IndexFunc(label, odd) >= 0 {
		return ""
	}
	return label + ".local"
}
