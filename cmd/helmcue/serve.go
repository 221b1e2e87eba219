package main

import (
	"bufio"
	"context"
	"os"

	"golang.org/x/term"

	"helmcue/internal/app"
	"helmcue/internal/lake"
)

type serveCmd struct {
	boatFlags
	Listen  string   `help:"Address of the pages and the phones' link (default :8443)." placeholder:"ADDR"`
	Plain   string   `help:"Address without TLS, for installing the root only (default :8080)." placeholder:"ADDR"`
	Data    string   `help:"Folder of recordings and keys (default data)." placeholder:"DIR"`
	NMEA    []string `name:"nmea" help:"NMEA 0183 source, repeatable: tcp:host:port, listen::port, udp::port, serial:device@rate, file:path." placeholder:"SOURCE" sep:"none"`
	Sim     string   `help:"Sail a simulated boat; helmcue sim lists the scenes." placeholder:"NAME"`
	Voice   string   `help:"Voice." placeholder:"NAME"`
	Quiet   bool     `help:"Leave this machine's loudspeaker silent."`
	TLSCert string   `name:"tls-cert" help:"Own certificate instead of the local authority's." placeholder:"F"`
	TLSKey  string   `name:"tls-key" help:"Its key." placeholder:"F"`
	Verbose bool     `help:"Log every detail."`
}

// Run serves until Ctrl-C.
func (c *serveCmd) Run(ctx context.Context) error {
	conf, err := c.load()
	if err != nil {
		return err
	}
	for to, v := range map[*string]string{&conf.Listen: c.Listen, &conf.Plain: c.Plain, &conf.Data: c.Data,
		&conf.Voice: c.Voice, &conf.TLSCert: c.TLSCert, &conf.TLSKey: c.TLSKey} {
		if v != "" {
			*to = v
		}
	}
	conf.NMEA = append(conf.NMEA, c.NMEA...)
	if c.Sim != "" && conf.Water == "" {
		conf.Water = lake.DemoName // where the simulated boats sail
	}
	if c.Quiet {
		conf.Sound = "off"
	}
	if err := conf.Check(); err != nil {
		return usageError{err}
	}
	s, err := settings(conf)
	if err != nil {
		return err
	}
	log, err := logger(c.Verbose)
	if err != nil {
		return err
	}
	defer log.Sync() //nolint:errcheck // a terminal cannot be synced and need not be
	a, err := app.New(app.Config{Config: conf, Settings: s, Sim: c.Sim, Log: log, Version: version(), Say: say})
	if err != nil {
		return err
	}
	go inviteOnEnter(a)
	return a.Run(ctx)
}

// inviteOnEnter prints fresh pairing codes whenever a person presses Enter. It
// ends with the program: a read of the terminal cannot be called off.
func inviteOnEnter(a *app.App) {
	if !term.IsTerminal(int(os.Stdin.Fd())) {
		return
	}
	for lines := bufio.NewScanner(os.Stdin); lines.Scan(); {
		a.Invite()
	}
}
