package localname

import (
	"context"
	"net"
	"testing"
	"time"

	"github.com/pion/logging"
	"github.com/pion/mdns/v2"
	"golang.org/x/net/ipv4"
)

func TestCheck(t *testing.T) {
	for name, good := range map[string]bool{
		"helmcue.local": true, "boat-7.local": true,
		"": false, ".local": false, "helmcue": false, "Helmcue.local": false, "a.b.local": false, "-x.local": false, "a b.local": false,
	} {
		if err := Check(name); (err == nil) != good {
			t.Errorf("%q: %v, want good %v", name, err, good)
		}
	}
}

// A question for the name, by the library's own asking half, is answered with an
// address of this machine; for another name it is not.
func TestAnswersForItsName(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() { done <- Answer(ctx, "helmcue-test.local") }()
	defer func() {
		stop()
		if err := <-done; err != nil {
			t.Errorf("Answer: %v", err)
		}
	}()
	addr, err := net.ResolveUDPAddr("udp4", mdns.DefaultAddressIPv4)
	if err != nil {
		t.Fatal(err)
	}
	conn, err := net.ListenUDP("udp4", addr)
	if err != nil {
		t.Skipf("no multicast here: %v", err)
	}
	quiet := logging.NewDefaultLoggerFactory()
	quiet.DefaultLogLevel = logging.LogLevelDisabled
	asker, err := mdns.Server(ipv4.NewPacketConn(conn), nil, &mdns.Config{LoggerFactory: quiet, QueryInterval: 100 * time.Millisecond})
	if err != nil {
		t.Skipf("no multicast here: %v", err)
	}
	defer asker.Close()
	ask, enough := context.WithTimeout(ctx, 5*time.Second)
	defer enough()
	_, from, err := asker.QueryAddr(ask, "helmcue-test.local")
	if err != nil {
		t.Skipf("multicast does not come back on this machine: %v", err)
	}
	own, err := net.InterfaceAddrs()
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range own {
		if n, ok := a.(*net.IPNet); ok && n.IP.String() == from.WithZone("").String() {
			return
		}
	}
	t.Errorf("answered with %v, which is no address of this machine", from)
}

func TestRefusesAnOddName(t *testing.T) {
	if err := Answer(context.Background(), "Not A Name"); err == nil {
		t.Error("an odd name was taken")
	}
}
