package main

import (
	"context"
	"fmt"
	"io"
	"os"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
	"helmcue/internal/lake"
	"helmcue/internal/replay"
	"helmcue/internal/water"
)

type draftCmd struct {
	Files  []string `arg:"" help:"Logs of sailing on one water."`
	Onto   string   `help:"Chart that keeps its shores and is given the places sailed, instead of a draft." placeholder:"CHART"`
	Buffer float64  `help:"How far to either side of a track counts as sailed, metres (5 to 50)." default:"15"`
	Out    string   `help:"Where the chart goes; - is standard output." default:"-" placeholder:"F|-"`
}

// Help tells what the chart is good for.
func (c *draftCmd) Help() string {
	return `A draft shows the water that was sailed, not where the shore is, and no height. It is marked so, and
the coach goes by none of its shores until somebody has moved them to where they are, given heights, and
taken "draft" out. Places at which she lay still are left out; carrying the phone about ashore is not told
from sailing, so look at what came of it. With --onto a chart that exists is given the places sailed: where it
is silent they count as water, and never as more than that. Nothing is kept but in the file written.`
}

// Run writes the chart.
func (c *draftCmd) Run(ctx context.Context) error {
	d, err := lake.NewDraft(c.Buffer)
	if err != nil {
		return usageError{err}
	}
	var onto *boat.Water
	if c.Onto != "" {
		if onto, err = charted(c.Onto); err != nil {
			return err
		}
	}
	for _, name := range c.Files {
		if err := trace(ctx, d, name); err != nil {
			return err
		}
	}
	w, err := d.Water()
	if err != nil {
		return hint(err, "name logs with positions of a boat under way")
	}
	says := fmt.Sprintf("a draft of %d pieces of water, %d places sailed: move its shores to where they are, give heights, and take \"draft\" out", len(w.Areas), len(w.Sailed))
	if onto != nil {
		before := len(onto.Sailed)
		onto.Sailed = water.Merge(onto.Sailed, w.Sailed)
		w, says = *onto, fmt.Sprintf("%d places sailed, %d of them new", len(onto.Sailed), len(onto.Sailed)-before)
	}
	out, done, err := create(c.Out)
	if err != nil {
		return err
	}
	err = lake.Write(out, w)
	if cerr := done(); err == nil {
		err = cerr
	}
	if err == nil {
		fmt.Fprintln(os.Stderr, says)
	}
	return err
}

// underWayKn is from when on a boat is taken to be under way: slower, she may lie on
// a trolley ashore.
const underWayKn = 1.0

// trace gives the draft where one log went while she was under way.
func trace(ctx context.Context, d *lake.Draft, name string) error {
	r := replayCmd{File: name}
	in, size, err := r.open()
	if err != nil {
		return err
	}
	defer in.Close()
	d.Break()
	way := track{draft: d}
	_, err = replay.Run(replay.Job{Log: r.watched(ctx, in, size), Out: io.Discard, Seen: way.seen, Heard: way.heard})
	if err != nil {
		return hint(fmt.Errorf("%s: %w", name, err), "the forms read are: helmcue recordings, NMEA 0183 lines, JSON lines, GPX, FIT, CSV")
	}
	return nil
}

// track is the way of one boat through a log, a place a second.
type track struct {
	draft *lake.Draft
	at    boat.Time
	pos   geo.Position
	accM  boat.Reading
}

func (w *track) seen(in boat.Input) {
	if s := in.Sample; s != nil && s.LatDeg.OK && s.LonDeg.OK && in.T >= w.at {
		w.at, w.pos, w.accM = in.T, geo.Position{LatDeg: s.LatDeg.Val, LonDeg: s.LonDeg.Val}, s.AccM
	}
}

func (w *track) heard(o boat.Output) {
	s := o.Status
	if s == nil || w.at == 0 {
		return
	}
	switch s.Mode {
	case boat.Stopped, boat.Drifting, boat.Waiting, boat.Capsized, boat.Irons:
	default:
		if s.SOGKn.Or(0) >= underWayKn {
			w.draft.Add(w.at, w.pos, w.accM)
		}
	}
}
