// Package config is the service's one settings file: TOML, every key with a
// default and a check. Load reads a file, SetAll takes keys from the command
// line, Check says what cannot be. Nothing else reads settings.
package config

import (
	"errors"
	"fmt"
	"os"
	"strings"

	"github.com/pelletier/go-toml/v2"
)

// Config is every key there is. The toml names are the keys of the file and of
// --set.
type Config struct {
	Listen  string   `toml:"listen"`   // address of the HTTPS pages and the phones' link
	Plain   string   `toml:"plain"`    // address without TLS, for installing the root only; empty: none
	Data    string   `toml:"data"`     // folder of recordings, keys and tokens
	TLSCert string   `toml:"tls_cert"` // own certificate (PEM) instead of the local authority's
	TLSKey  string   `toml:"tls_key"`
	NMEA    []string `toml:"nmea"`       // sources: tcp:host:port, listen::port, udp::port, serial:device@rate, file:path
	Names   []string `toml:"names"`      // further host names the pages may be reached by
	Local   string   `toml:"local_name"` // answered for on the local network (multicast DNS); empty: no name

	Voice string `toml:"voice"` // one of the built-in voices
	Sound string `toml:"sound"` // auto: this machine's loudspeaker where there is one; off: none

	Boat    string  `toml:"boat"`     // name of the boat this machine sails in
	LengthM float64 `toml:"length_m"` // overall, metres
	Jib     bool    `toml:"jib"`
	Polar   string  `toml:"polar"` // file with her table; empty: the generic hull
	Level   string  `toml:"level"` // beginner, improver, expert
	LimitKn float64 `toml:"limit_kn"`
	Plan    string  `toml:"plan"`    // exercises: a built-in plan's name or a file; empty: free sailing
	Water   string  `toml:"water"`   // chart of the water (GeoJSON); demo: the made-up lake; empty: none
	Mount   string  `toml:"mount"`   // fixed or worn, where the phone does not say
	DelayS  float64 `toml:"delay_s"` // from cue to ear, seconds, where measured
}

// Default returns the settings that hold where nothing is said.
func Default() Config {
	return Config{
		Listen: ":8443", Plain: ":8080", Data: "data", Local: "helmcue.local", Voice: "", Sound: "auto",
		Boat: "boat", LengthM: 4.2, Level: "improver", LimitKn: 15, Mount: "fixed",
	}
}

// Load reads a file over the defaults. Unknown keys and wrong types are errors
// that name the key and its line.
func Load(path string) (Config, error) {
	c := Default()
	f, err := os.Open(path)
	if err != nil {
		return c, fmt.Errorf("cannot read the settings file: %w; name an existing file with --config or leave the option out", err)
	}
	defer f.Close()
	if err := toml.NewDecoder(f).DisallowUnknownFields().Decode(&c); err != nil {
		return c, fmt.Errorf("settings file %s: %s; the keys are: %s", path, explain(err), strings.Join(Keys(), " "))
	}
	return c, c.Check()
}

// SetAll changes keys as --set key=value gives them, and checks the whole. Lists
// take commas.
func (c *Config) SetAll(pairs []string) error {
	for _, p := range pairs {
		if err := c.set(p); err != nil {
			return err
		}
	}
	return c.Check()
}

func (c *Config) set(pair string) error {
	key, value, ok := strings.Cut(pair, "=")
	if !ok {
		return fmt.Errorf("expected key=value, got %q", pair)
	}
	key = strings.TrimSpace(key)
	if !known(key) {
		return fmt.Errorf("there is no key %q; the keys are: %s", key, strings.Join(Keys(), " "))
	}
	line := key + " = " + value
	err := strictly(line, c)
	if err != nil { // a bare word is a string
		err = strictly(fmt.Sprintf("%s = %q", key, value), c)
	}
	if err != nil && isList(key) {
		err = strictly(key+" = "+quoteList(value), c)
	}
	if err != nil {
		return fmt.Errorf("key %s: %q does not fit: %s", key, value, explain(err))
	}
	return nil
}

func strictly(text string, c *Config) error {
	try := *c
	if err := toml.NewDecoder(strings.NewReader(text)).DisallowUnknownFields().Decode(&try); err != nil {
		return err
	}
	*c = try
	return nil
}

func quoteList(value string) string {
	parts := strings.Split(value, ",")
	for i, p := range parts {
		parts[i] = fmt.Sprintf("%q", strings.TrimSpace(p))
	}
	return "[" + strings.Join(parts, ", ") + "]"
}

// explain turns the decoder's error into one line with the place in the file.
func explain(err error) string {
	var strict *toml.StrictMissingError
	if errors.As(err, &strict) {
		var all []string
		for _, e := range strict.Errors {
			row, _ := e.Position()
			all = append(all, fmt.Sprintf("line %d: there is no key %q", row, strings.Join(e.Key(), ".")))
		}
		return strings.Join(all, "; ")
	}
	var d *toml.DecodeError
	if errors.As(err, &d) {
		row, _ := d.Position()
		return fmt.Sprintf("line %d: %s", row, d.Error())
	}
	return err.Error()
}
