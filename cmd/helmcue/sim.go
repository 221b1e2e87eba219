package main

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"helmcue/internal/boat"
	"helmcue/internal/engine"
	"helmcue/internal/polar"
	"helmcue/internal/replay"
	"helmcue/internal/sim"
)

type simCmd struct {
	Name    string  `arg:"" optional:"" help:"Scene; without one the scenes are listed."`
	Out     string  `help:"Where the session goes, as JSON lines; - is standard output." placeholder:"F|-"`
	Truth   string  `help:"Where the truth goes, as CSV." placeholder:"F"`
	Polar   string  `help:"Where the table of what this boat can do goes, as CSV that --polar of replay takes." placeholder:"F"`
	Seed    uint64  `help:"Another seed, another session." default:"1"`
	Minutes float64 `help:"How long." default:"30"`
	Coached bool    `help:"Let the coach speak to the simulated learner."`
	Start   string  `help:"When it begins." default:"2030-06-01T10:00:00Z"`
}

// Help tells what stands in the truth.
func (c *simCmd) Help() string {
	return `The truth has a line each tenth of a second, under a line of names. Angles are degrees,
speeds knots. t: milliseconds since the epoch. twd, tws: the wind over the water, from. twa: off
the bow, starboard positive. heading, cog: true. yaw: a second, clockwise positive. stw: through
the water, ahead. heel: starboard side down positive. mode: as in a session's states. sheet,
best_sheet: how far the boom may go out, and how far it drives best. sheet_error: in too far
positive. aim: the wind angle the learner means to sail. leeway: to leeward positive. beat, run:
the angles that make most to windward and to leeward now. best_kn: her speed on this course at her
best trim. lee: whether she lies in dead air, where less than half the wind reaches her.`
}

// list prints the scenes and the scenarios of the evaluation.
func list(w io.Writer) {
	for _, s := range sim.Scenes() {
		fmt.Fprintf(w, "%-20s %s\n", s.Name, s.About)
	}
	fmt.Fprintln(w)
	for _, c := range append(sim.Catalogue(), sim.Further()...) {
		fmt.Fprintf(w, "%-20s %s\n", c.Name, c.About)
	}
}

// Run writes the session.
func (c *simCmd) Run(ctx context.Context) error {
	if c.Name == "" {
		list(os.Stdout)
		return nil
	}
	start, err := time.Parse(time.RFC3339, c.Start)
	if err != nil {
		return usageError{fmt.Errorf("--start: expected a time such as 2030-06-01T10:00:00Z, got %q", c.Start)}
	}
	if !(c.Minutes > 0 && c.Minutes <= 24*60) {
		return usageError{fmt.Errorf("--minutes: expected more than 0 and at most 1440, got %g", c.Minutes)}
	}
	s, err := sim.New(c.Name, c.Seed, boat.Time(start.UnixMilli()))
	if err != nil {
		return usageError{hint(err, "helmcue sim lists the scenes")}
	}
	if err := c.polar(s); err != nil {
		return err
	}
	out, closeOut, err := create(c.Out)
	if err != nil {
		return err
	}
	truth, closeTruth, err := create(c.Truth)
	if err != nil {
		closeOut()
		return err
	}
	err = c.sail(ctx, s, out, truth)
	for _, done := range []func() error{closeOut, closeTruth} {
		if cerr := done(); err == nil {
			err = cerr
		}
	}
	return err
}

// polar writes what the boat can do, where that was asked for.
func (c *simCmd) polar(s *sim.Sim) error {
	w, done, err := create(c.Polar)
	if err != nil {
		return err
	}
	err = polar.Write(w, s.Polar())
	if cerr := done(); err == nil {
		err = cerr
	}
	return err
}

func (c *simCmd) sail(ctx context.Context, s *sim.Sim, out, truth io.Writer) error {
	tw := sim.NewTruthWriter(truth)
	eng := engine.New()
	set := s.Settings()
	eng.Step(boat.Input{T: s.Now(), Kind: boat.SettingsIn, Settings: &set})
	for range int(c.Minutes * 600) {
		if ctx.Err() != nil {
			return fmt.Errorf("stopped by you")
		}
		for _, in := range s.Step() {
			if err := replay.WriteLine(out, in); err != nil {
				return err
			}
			if c.Coached {
				hear(s, eng.Step(in))
			}
		}
		if err := tw.Write(s.Truth()); err != nil {
			return err
		}
	}
	return tw.Flush()
}

func hear(s *sim.Sim, outs []boat.Output) {
	for _, o := range outs {
		if o.Cue != nil {
			s.Hear(*o.Cue)
		}
	}
}

// create opens a file for writing; no name discards, - is standard output.
func create(name string) (io.Writer, func() error, error) {
	var f *os.File
	switch strings.TrimSpace(name) {
	case "":
		return io.Discard, func() error { return nil }, nil
	case "-":
		f = os.Stdout
	default:
		var err error
		if f, err = os.Create(name); err != nil {
			return nil, nil, hint(err, "name a file in a folder you may write to, or - for standard output")
		}
	}
	w := bufio.NewWriter(f)
	return w, func() error {
		if err := w.Flush(); err != nil {
			return err
		}
		if f == os.Stdout {
			return nil
		}
		return f.Close()
	}, nil
}
