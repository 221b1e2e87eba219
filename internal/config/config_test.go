package config

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestSetTakesEveryKindOfKey(t *testing.T) {
	for _, c := range []struct {
		pair string
		got  func(Config) any
		want any
	}{
		{"limit_kn=12", func(c Config) any { return c.LimitKn }, 12.0},
		{"limit_kn=12.5", func(c Config) any { return c.LimitKn }, 12.5},
		{"level=beginner", func(c Config) any { return c.Level }, "beginner"},
		{"jib=true", func(c Config) any { return c.Jib }, true},
		{"nmea=udp::10110,file:a.nmea", func(c Config) any { return strings.Join(c.NMEA, "|") }, "udp::10110|file:a.nmea"},
		{"boat=Little Wren", func(c Config) any { return c.Boat }, "Little Wren"},
	} {
		conf := Default()
		if err := conf.SetAll([]string{c.pair}); err != nil {
			t.Errorf("%s: %v", c.pair, err)
			continue
		}
		if got := c.got(conf); got != c.want {
			t.Errorf("%s: got %v, want %v", c.pair, got, c.want)
		}
	}
}

func TestSetRefusesAndKeepsWhatWas(t *testing.T) {
	for pair, says := range map[string]string{
		"limit_kn":       "expected key=value",
		"limit_kt=3":     `no key "limit_kt"`,
		"limit_kn=fast":  "does not fit",
		"limit_kn=nan":   "expected 4 to 40",
		"limit_kn=-3":    "expected 4 to 40",
		"level=admiral":  "expected a level",
		"mount=hat":      "expected fixed or worn",
		"tls_cert=a.pem": "both or neither",
		"length_m=300":   "expected 2 to 30",
	} {
		conf := Default()
		err := conf.SetAll([]string{pair})
		if err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: got error %v, want one with %q", pair, err, says)
		}
	}
}

func TestLoad(t *testing.T) {
	dir := t.TempDir()
	file := func(text string) string {
		p := filepath.Join(dir, "settings.toml")
		if err := os.WriteFile(p, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return p
	}
	c, err := Load(file("level = \"expert\"\nlimit_kn = 18\n"))
	if err != nil || c.Level != "expert" || c.LimitKn != 18 || c.Listen != ":8443" {
		t.Fatalf("got %+v, %v", c, err)
	}
	for text, says := range map[string]string{
		"levle = \"expert\"":  `line 1: there is no key "levle"`,
		"\nlimit_kn = \"x\"":  "line 2",
		"limit_kn = ":         "line 1",
		"limit_kn = 400":      "expected 4 to 40",
		"sound = \"loudest\"": "expected auto or off",
	} {
		if _, err := Load(file(text)); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: got error %v, want one with %q", text, err, says)
		}
	}
	if _, err := Load(filepath.Join(dir, "none.toml")); err == nil || !strings.Contains(err.Error(), "--config") {
		t.Errorf("a missing file: got %v", err)
	}
}
