package pairing

import (
	"bytes"
	"errors"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"helmcue/internal/phonemsg"
)

func openKeys(t *testing.T, dir string, c *testClock) *Keys {
	t.Helper()
	k, err := OpenKeys(KeysConfig{Dir: dir, DefaultBoat: "Otter", Now: c.now})
	if err != nil {
		t.Fatal(err)
	}
	return k
}

func redeem(k *Keys, code, from string) (phonemsg.PairReply, phonemsg.Code) {
	r, err := k.Redeem(phonemsg.PairRequest{Code: code}, from)
	var e *phonemsg.Error
	if errors.As(err, &e) {
		return r, e.Code
	}
	if err != nil {
		return r, phonemsg.Code(err.Error())
	}
	return r, ""
}

func TestCodeGivesATokenOnce(t *testing.T) {
	dir, c := t.TempDir(), newClock()
	k := openKeys(t, dir, c)
	code, err := k.NewCode(phonemsg.Sailor, "")
	if err != nil {
		t.Fatal(err)
	}
	typed := strings.ToLower(code.Text[:3] + "-" + code.Text[3:] + " ")
	r, fault := redeem(k, typed, "a")
	if fault != "" || r.Role != phonemsg.Sailor || r.Boat != "Otter" || len(r.Token) != 43 {
		t.Fatalf("%q gave %+v, %s", typed, r, fault)
	}
	if _, fault := redeem(k, code.Text, "a"); fault != phonemsg.BadCode {
		t.Errorf("the second time gave %q", fault)
	}
	for _, k := range []*Keys{k, openKeys(t, dir, c)} { // and after a restart
		role, boat, ok := k.Check(r.Token)
		if !ok || role != phonemsg.Sailor || boat != "Otter" {
			t.Errorf("the token allows %s %s %v", role, boat, ok)
		}
	}
	for _, bad := range []string{"", r.Token[:42], r.Token + "A", strings.ToLower(r.Token)} {
		if _, _, ok := k.Check(bad); ok {
			t.Errorf("token %q passes", bad)
		}
	}
	onDisk, _ := os.ReadFile(filepath.Join(dir, tokensFile))
	if bytes.Contains(onDisk, []byte(r.Token)) || !bytes.Contains(onDisk, []byte(hash(r.Token))) {
		t.Error("the token is on the disk in the clear, or its hash is not")
	}
	if st, _ := os.Stat(filepath.Join(dir, tokensFile)); st.Mode().Perm() != 0o600 {
		t.Errorf("mode %v", st.Mode())
	}
}

func TestCodesExpire(t *testing.T) {
	c := newClock()
	k := openKeys(t, t.TempDir(), c)
	code, _ := k.NewCode(phonemsg.Viewer, "Heron")
	c.t = c.t.Add(CodeLife - time.Second)
	if r, fault := redeem(k, code.Text, "a"); fault != "" || r.Boat != "Heron" {
		t.Errorf("a second before its end: %+v %s", r, fault)
	}
	code, _ = k.NewCode(phonemsg.Viewer, "")
	c.t = c.t.Add(CodeLife)
	if _, fault := redeem(k, code.Text, "a"); fault != phonemsg.BadCode {
		t.Errorf("at its end: %q", fault)
	}
}

func TestTriesAreLimited(t *testing.T) {
	c := newClock()
	k := openKeys(t, t.TempDir(), c)
	code, _ := k.NewCode(phonemsg.Sailor, "")
	for range 6 {
		if _, fault := redeem(k, "AAAAAA", "stranger"); fault != phonemsg.BadCode {
			t.Fatalf("a wrong code gave %q", fault)
		}
	}
	if _, fault := redeem(k, code.Text, "stranger"); fault != phonemsg.TooFast {
		t.Errorf("the seventh try in a row gave %q", fault)
	}
	if _, fault := redeem(k, code.Text, "sailor"); fault != "" {
		t.Errorf("another phone is held up by the stranger: %q", fault)
	}
	right := 0
	for i := range 2000 { // a stranger with many addresses
		if _, fault := redeem(k, "AAAAAA", string(rune('a'+i))); fault != phonemsg.TooFast {
			right++
		}
	}
	if right > 20 {
		t.Errorf("%d tries at once", right)
	}
	if len(k.guard.each) > guarded {
		t.Errorf("%d addresses remembered", len(k.guard.each))
	}
}

func TestRevoke(t *testing.T) {
	dir, c := t.TempDir(), newClock()
	k := openKeys(t, dir, c)
	code, _ := k.NewCode(phonemsg.Instructor, "")
	r, _ := redeem(k, code.Text, "a")
	if err := k.Revoke("nobody"); err == nil {
		t.Error("revoked a grant that is not there")
	}
	if err := k.Revoke(k.Grants()[0].ID); err != nil {
		t.Fatal(err)
	}
	if _, _, ok := openKeys(t, dir, c).Check(r.Token); ok {
		t.Error("the token is still good after a restart")
	}
}

func TestCurrentCode(t *testing.T) {
	c := newClock()
	k := openKeys(t, t.TempDir(), c)
	a, fresh, _ := k.Current(phonemsg.Sailor, "")
	b, again, _ := k.Current(phonemsg.Sailor, "")
	if !fresh || again || a != b {
		t.Errorf("%v %v, fresh %v %v", a, b, fresh, again)
	}
	redeem(k, a.Text, "a")
	if d, fresh, _ := k.Current(phonemsg.Sailor, ""); !fresh || d.Text == a.Text {
		t.Error("a used code is still shown")
	}
	if e, _, _ := k.Current(phonemsg.Instructor, ""); e.Role != phonemsg.Instructor {
		t.Errorf("asked for an instructor's code, got %s", e.Role)
	}
}

func TestRefusedRequests(t *testing.T) {
	c := newClock()
	k := openKeys(t, t.TempDir(), c)
	if _, err := k.NewCode("skipper", ""); err == nil {
		t.Error("a code for a role that does not exist")
	}
	if _, err := k.NewCode(phonemsg.Sailor, "a\nb"); err == nil {
		t.Error("a code for a name with a line end")
	}
	code, _ := k.NewCode(phonemsg.Sailor, "")
	if _, err := k.Redeem(phonemsg.PairRequest{Code: code.Text, Boat: "a\x00"}, "a"); err == nil {
		t.Error("a boat with a control character")
	}
	if _, fault := redeem(k, code.Text, "a"); fault != "" {
		t.Errorf("a refused name used the code up: %s", fault)
	}
	bad := t.TempDir()
	os.WriteFile(filepath.Join(bad, tokensFile), []byte("{"), 0o600)
	if _, err := OpenKeys(KeysConfig{Dir: bad}); err == nil || !strings.Contains(err.Error(), "pair every phone again") {
		t.Errorf("a torn token file gave %v", err)
	}
}

// TestDiskFull: a token that could not be kept is not given, and the code stays good.
func TestDiskFull(t *testing.T) {
	c := newClock()
	dir := filepath.Join(t.TempDir(), "gone")
	k := openKeys(t, dir, c)
	code, _ := k.NewCode(phonemsg.Sailor, "")
	if r, fault := redeem(k, code.Text, "a"); fault == "" || r.Token != "" {
		t.Errorf("gave %+v without keeping it", r)
	}
	os.Mkdir(dir, 0o700)
	if _, fault := redeem(k, code.Text, "a"); fault != "" {
		t.Errorf("afterwards: %s", fault)
	}
}

func TestCodeLetters(t *testing.T) {
	seen := map[rune]int{}
	for range 2000 {
		for _, r := range randomCode() {
			seen[r]++
		}
	}
	if len(seen) != len(codeLetters) {
		t.Errorf("%d letters in use, want %d", len(seen), len(codeLetters))
	}
	for _, r := range "01ILO" {
		if seen[r] > 0 {
			t.Errorf("%c is read for another", r)
		}
	}
}

func TestPageURLAndQR(t *testing.T) {
	u := PageURL("192.168.4.1", 8443, Code{Text: "ABC234", Role: phonemsg.Sailor})
	if u != "https://192.168.4.1:8443/sailor#ABC234" {
		t.Error(u)
	}
	if u := PageURL("fe80::1", 443, Code{Text: "ABC234", Role: phonemsg.Instructor}); u != "https://[fe80::1]:443/instructor#ABC234" {
		t.Error(u)
	}
	text, err := QRText(u)
	if err != nil || strings.Count(text, "\n") < 15 {
		t.Errorf("%d lines, %v", strings.Count(text, "\n"), err)
	}
	b, err := QRPNG(u, 300)
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(b))
	if err != nil || img.Bounds().Dx() != 300 {
		t.Errorf("%v, %v", img.Bounds(), err)
	}
	if _, err := QRText(strings.Repeat("x", 5000)); err == nil {
		t.Error("5000 letters fit no QR code")
	}
}
