package web_test

import (
	"fmt"
	"net"
	"strings"
	"testing"
	"time"
)

// The phone's clock is set back by an hour, and then on by two, while she sails: the
// samples go on by tenths of a second, and when the link goes the page speaks.
func TestThePhonesClockIsSetUnderWay(t *testing.T) {
	t.Parallel()
	d, b := sailing(t, "fixed")
	b.tap("#go")
	for i, jump := range []int{-3600_000, 3600_000} {
		b.js(fmt.Sprintf(`window.clock ??= Date.now.bind(Date); Date.now = () => window.clock() + %d; 0`, jump))
		d.forget()
		got := d.await(t, "sample", "twenty samples", func(m []message) bool { return len(m) >= 20 })
		for j := 1; j < len(got); j++ {
			x, _ := got[j-1].num("t")
			y, _ := got[j].num("t")
			if y < x || y-x > 3000 {
				t.Errorf("jump %d: a sample at %.0f follows one at %.0f", i, y, x)
			}
		}
		if at, _ := got[len(got)-1].num("t"); at < float64(now()-10_000) || at > float64(now()+10_000) {
			t.Errorf("jump %d: samples are of %.0f ms ago", i, float64(now())-at)
		}
	}
	b.awaitText("#how", "listening")
	d.set(func() { d.down = true })
	d.cut()
	b.awaitText("#missing", "Link lost")
}

// What instruments tell the service the page's own coach knows when the link goes: it
// goes on with that wind, though the phone itself was told of none.
func TestInstrumentsWindOutlivesTheLink(t *testing.T) {
	t.Parallel()
	at, err := net.ListenPacket("udp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	to := at.LocalAddr().String()
	at.Close()
	a := newAboard(t, coach(t), "udp:"+to)
	b := heeled(t, a)
	out, err := net.Dial("udp", to)
	if err != nil {
		t.Fatal(err)
	}
	defer out.Close()
	tell := func() {
		line := "WIMWD,285.0,T,,M,9.0,N,4.6,M"
		sum := byte(0)
		for _, c := range []byte(line) {
			sum ^= c // the checksum of NMEA 0183
		}
		fmt.Fprintf(out, "$%s*%02X\r\n", line, sum) //nolint:errcheck // told again
	}
	waitUntil(t, "the service to know the wind", func() bool { tell(); return strings.Contains(b.text("#wind-line"), "ind from 28") })
	for range 5 {
		tell()
		time.Sleep(time.Second)
	}
	a.cut()
	b.awaitText("#how", "alone")
	time.Sleep(3 * time.Second) // its own states, not the service's last
	if says := b.text("#wind-line"); !strings.Contains(says, "ind from 28") {
		t.Errorf("alone, the phone says %q of the wind", says)
	}
	a.mend()
	b.awaitText("#how", "listening")
}
