package main

import (
	"context"
	"fmt"
	"net"
	"os"
	"path/filepath"

	"helmcue/internal/config"
	"helmcue/internal/pairing"
	"helmcue/internal/phrase"
	"helmcue/internal/speaker"
	"helmcue/voices"
)

type checkCmd struct {
	boatFlags
	Data   string `help:"Folder of recordings and keys." placeholder:"DIR"`
	Listen string `help:"Address of the pages." placeholder:"ADDR"`
}

// finding is one thing looked at: what was found, and what to do where it is not
// well. Grave ones keep the service from doing its job.
type finding struct {
	what  string
	do    string
	grave bool
}

// Run looks at everything the service needs and says it line by line.
func (c *checkCmd) Run(ctx context.Context) error {
	conf, err := c.load()
	if err != nil {
		return err
	}
	if c.Data != "" {
		conf.Data = c.Data
	}
	if c.Listen != "" {
		conf.Listen = c.Listen
	}
	grave := 0
	for _, look := range []func(config.Config) finding{checkBoat, checkData, checkPort, checkAddress, checkVoices, checkSound} {
		f := look(conf)
		switch {
		case f.do == "":
			fmt.Println("well     ", f.what)
		case f.grave:
			grave++
			fmt.Printf("missing   %s\n            %s\n", f.what, f.do)
		default:
			fmt.Printf("lacking   %s\n            %s\n", f.what, f.do)
		}
	}
	if grave > 0 {
		return fmt.Errorf("%d of the things above keep this machine from going sailing", grave)
	}
	return nil
}

func checkBoat(c config.Config) finding {
	s, err := settings(c)
	if err != nil {
		return finding{err.Error(), "mend the table, or leave it out for the generic hull", true}
	}
	table := "the generic hull"
	if s.Polar != nil {
		table = "her own table"
	}
	return finding{what: fmt.Sprintf("boat %s, %.1f m, %s, words for %s, wind limit %.0f knots", s.Boat, s.LengthM, table, s.Level, s.LimitKn)}
}

func checkData(c config.Config) finding {
	if err := os.MkdirAll(c.Data, 0o700); err != nil {
		return finding{err.Error(), "name a folder you may write to with --data", true}
	}
	f, err := os.CreateTemp(c.Data, "check-*")
	if err != nil {
		return finding{err.Error(), "name a folder you may write to with --data", true}
	}
	f.Close()
	if err := os.Remove(f.Name()); err != nil {
		return finding{err.Error(), "the folder should let files be removed", false}
	}
	path, _ := filepath.Abs(c.Data)
	return finding{what: "recordings go to " + path}
}

func checkPort(c config.Config) finding {
	l, err := net.Listen("tcp", c.Listen)
	if err != nil {
		return finding{err.Error(), "stop what uses the port, or choose another with --listen :PORT", true}
	}
	l.Close()
	return finding{what: "the pages can be served on " + c.Listen}
}

func checkAddress(config.Config) finding {
	names, err := pairing.MachineNames()
	if err != nil {
		return finding{err.Error(), "phones need an address of this machine", true}
	}
	for _, n := range names {
		if ip := net.ParseIP(n); ip != nil && ip.To4() != nil && !ip.IsLoopback() {
			return finding{what: "phones on the same network reach it at " + n}
		}
	}
	return finding{"this machine is on no network that a phone could share", "join the phone's hotspot, or open an access point", false}
}

func checkVoices(config.Config) finding {
	for _, name := range voices.Names() {
		v, err := voices.Load(name)
		if err != nil {
			return finding{err.Error(), "run make voices and build again", true}
		}
		if m := phrase.Missing(v.Manifest.Names()); len(m) > 0 {
			return finding{fmt.Sprintf("voice %s lacks %d phrases, %q first", name, len(m), m[0]), "run make voices and build again", true}
		}
	}
	return finding{what: fmt.Sprintf("the voices %v have every phrase", voices.Names())}
}

func checkSound(c config.Config) finding {
	if c.Sound == "off" {
		return finding{"the loudspeaker is switched off in the settings", "cues are spoken by the phone's page", false}
	}
	if why := speaker.Open(speaker.Config{}).Silent(); why != "" {
		return finding{why + " (" + speaker.Describe() + ")", "connect a loudspeaker; without one the phone's page speaks", false}
	}
	return finding{what: "this machine's loudspeaker answers"}
}
