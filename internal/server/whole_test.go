package server

import (
	"bytes"
	"crypto/tls"
	"crypto/x509"
	"encoding/json"
	"net"
	"net/http"
	"strings"
	"testing"

	"github.com/gorilla/websocket"

	"helmcue/internal/pairing"
	"helmcue/internal/phonemsg"
)

var _ Keys = (*pairing.Keys)(nil)

// TestFromCodeToCue goes a phone's whole way with the real authority and keys:
// trust the root and nothing else, pair, join over wss, be acknowledged.
func TestFromCodeToCue(t *testing.T) {
	dir := t.TempDir()
	authority, err := pairing.OpenAuthority(pairing.AuthorityConfig{Dir: dir})
	if err != nil {
		t.Fatal(err)
	}
	keys, err := pairing.OpenKeys(pairing.KeysConfig{Dir: dir})
	if err != nil {
		t.Fatal(err)
	}
	r := start(t, func(c *Config) { c.Keys, c.Hosts, c.RootDER = keys, authority.Names, authority.RootDER() })
	ln, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	srv := HTTPServer(r.srv.Handler(), nil)
	srv.TLSConfig = authority.TLSConfig()
	go srv.ServeTLS(ln, "", "")
	defer srv.Close()

	_, port, _ := net.SplitHostPort(ln.Addr().String())
	host := net.JoinHostPort("localhost", port)
	if _, err := http.Get("https://" + host + "/"); err == nil {
		t.Error("a phone without the root trusts the service")
	}
	root, err := x509.ParseCertificate(authority.RootDER())
	if err != nil {
		t.Fatal(err)
	}
	trust := &tls.Config{RootCAs: x509.NewCertPool()}
	trust.RootCAs.AddCert(root)
	client := &http.Client{Transport: &http.Transport{TLSClientConfig: trust}}
	code, _ := keys.NewCode(phonemsg.Sailor, "Otter")
	body, _ := json.Marshal(phonemsg.PairRequest{Code: code.Text})
	resp, err := client.Post("https://"+host+"/pair", "application/json", bytes.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	defer resp.Body.Close()
	var pair phonemsg.PairReply
	if err := json.NewDecoder(resp.Body).Decode(&pair); err != nil || pair.Token == "" {
		t.Fatalf("paired as %+v, %v", pair, err)
	}
	d := websocket.Dialer{TLSClientConfig: trust}
	conn, _, err := d.Dial("wss://"+host+"/link", http.Header{"Origin": {"https://" + host}})
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	p := &page{t, conn}
	p.send(`{"type":"join","v":1,"role":"sailor","token":"` + pair.Token + `"}`)
	if j := p.next("joined", "error"); j["boat"] != "Otter" {
		t.Fatalf("joining gave %v", j)
	}
	p.sample(1)
	p.next("ack")
	for _, g := range keys.Grants() {
		if err := keys.Revoke(g.ID); err != nil {
			t.Fatal(err)
		}
	}
	if code, reason, _ := p.closed(); code != websocket.ClosePolicyViolation || !strings.Contains(reason, "bad_token") {
		t.Errorf("after revoking: %d %s", code, reason)
	}
}
