package config

import (
	"fmt"
	"math"
	"reflect"
	"strings"

	"helmcue/internal/boat"
)

// Check says the first thing that cannot be, or nil.
func (c Config) Check() error {
	var level boat.Level
	if err := level.UnmarshalText([]byte(c.Level)); err != nil {
		return fmt.Errorf("level: %w", err)
	}
	checks := []struct {
		bad  bool
		text string
	}{
		{c.Listen == "", "listen: expected an address such as :8443, got nothing"},
		{c.Data == "", "data: expected a folder, got nothing"},
		{!within(c.LengthM, 2, 30), fmt.Sprintf("length_m: expected 2 to 30 metres, got %g", c.LengthM)},
		{!within(c.LimitKn, 4, 40), fmt.Sprintf("limit_kn: expected 4 to 40 knots, got %g", c.LimitKn)},
		{!within(c.DelayS, 0, 3), fmt.Sprintf("delay_s: expected 0 to 3 seconds, got %g", c.DelayS)},
		{c.Mount != "fixed" && c.Mount != "worn", fmt.Sprintf("mount: expected fixed or worn, got %q", c.Mount)},
		{c.Sound != "auto" && c.Sound != "off", fmt.Sprintf("sound: expected auto or off, got %q", c.Sound)},
		{(c.TLSCert == "") != (c.TLSKey == ""), "tls_cert and tls_key: expected both or neither"},
		{c.Local != "" && !strings.HasSuffix(c.Local, ".local"), fmt.Sprintf("local_name: expected a name such as helmcue.local, or nothing, got %q", c.Local)},
		{strings.TrimSpace(c.Boat) == "", "boat: expected a name, got nothing"},
		{len(c.Boat) > 40, "boat: expected a name of at most 40 bytes"},
	}
	for _, k := range checks {
		if k.bad {
			return fmt.Errorf("%s", k.text)
		}
	}
	return nil
}

func within(v, lo, hi float64) bool { return !math.IsNaN(v) && v >= lo && v <= hi }

// Keys lists every key in the order of the documentation.
func Keys() []string {
	t := reflect.TypeFor[Config]()
	out := make([]string, t.NumField())
	for i := range out {
		out[i] = t.Field(i).Tag.Get("toml")
	}
	return out
}

func known(key string) bool {
	for _, k := range Keys() {
		if k == key {
			return true
		}
	}
	return false
}

func isList(key string) bool {
	t := reflect.TypeFor[Config]()
	for i := range t.NumField() {
		if t.Field(i).Tag.Get("toml") == key {
			return t.Field(i).Type.Kind() == reflect.Slice
		}
	}
	return false
}

// Settings returns the engine's part; the polar file is read by the caller.
func (c Config) Settings() boat.Settings {
	var level boat.Level
	_ = level.UnmarshalText([]byte(c.Level)) // Check has seen it
	return boat.Settings{
		Boat: c.Boat, LengthM: c.LengthM, Jib: c.Jib, Level: level,
		LimitKn: c.LimitKn, Mount: boat.Mount(c.Mount), DelayS: c.DelayS,
	}
}
