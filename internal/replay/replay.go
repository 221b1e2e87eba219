package replay

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"helmcue/internal/boat"
	"helmcue/internal/engine"
	"helmcue/internal/logfile"
)

// Job is one replay.
type Job struct {
	Log      io.Reader
	Settings boat.Settings                     // for logs that carry none
	Change   func(boat.Settings) boat.Settings // what the command line overrides; nil: nothing
	Wind     []boat.Input                      // wind fixes from the command line, ascending in time; T 0 means at the start
	Out      io.Writer                         // output lines; nil: none
	Lockstep bool                              // answer every input line and flush before the next is read
	Seen     func(boat.Input)                  // told of every input the engine takes; may be nil
	Heard    func(boat.Output)                 // told of every output; may be nil
}

// Summary is what a replay came to.
type Summary struct {
	Inputs  int
	Cues    int
	First   boat.Time
	Last    boat.Time
	Log     string // lines kept, skipped and why
	Torn    bool   // the log breaks off; all before the break was used
	Session string
}

// Run replays the job's log.
func Run(j Job) (Summary, error) {
	log, err := logfile.Open(j.Log, logfile.Options{})
	if err != nil {
		return Summary{}, err
	}
	r := &runner{job: j, eng: engine.New(), log: log}
	if j.Out != nil {
		r.out = bufio.NewWriterSize(j.Out, 1<<16)
	}
	err = r.all()
	if r.out != nil {
		if ferr := r.out.Flush(); err == nil && ferr != nil {
			err = fmt.Errorf("cannot write the output lines: %w", ferr)
		}
	}
	r.sum.Log = log.Report()
	r.sum.Torn = log.Torn()
	return r.sum, err
}

type runner struct {
	job   Job
	eng   *engine.Engine
	log   *logfile.Log
	out   *bufio.Writer
	sum   Summary
	begun bool
	lines int
	err   error
}

func (r *runner) all() error {
	for {
		ins, err := r.log.NextLine()
		if errors.Is(err, io.EOF) {
			return r.err
		}
		if err != nil {
			return err
		}
		for _, in := range ins {
			r.input(in)
		}
		r.lines++
		if r.job.Lockstep {
			r.ready()
		}
		if r.err != nil {
			return r.err
		}
	}
}

// input steps the engine, after whatever belongs before it.
func (r *runner) input(in boat.Input) {
	if !r.begun {
		r.begin(in)
	}
	for len(r.job.Wind) > 0 && r.job.Wind[0].T <= in.T {
		fix := r.job.Wind[0]
		r.job.Wind = r.job.Wind[1:]
		if fix.T == 0 {
			fix.T = in.T
		}
		r.step(fix)
	}
	if in.Kind == boat.SettingsIn && in.Settings != nil && r.job.Change != nil {
		s := r.job.Change(*in.Settings)
		in.Settings = &s
	}
	r.step(in)
}

// begin gives the engine its settings where the log does not bring its own.
func (r *runner) begin(in boat.Input) {
	r.begun = true
	r.sum.First = in.T
	if r.log.HasSettings() {
		return
	}
	s := r.job.Settings
	if r.job.Change != nil {
		s = r.job.Change(s)
	}
	r.step(boat.Input{T: in.T, Kind: boat.SettingsIn, Source: boat.FromCommand, Settings: &s})
}

func (r *runner) step(in boat.Input) {
	r.sum.Inputs++
	r.sum.Last = max(r.sum.Last, in.T)
	if r.job.Seen != nil {
		r.job.Seen(in)
	}
	for _, o := range r.eng.Step(in) {
		if o.Cue != nil {
			r.sum.Cues++
		}
		if r.job.Heard != nil {
			r.job.Heard(o)
		}
		r.write(o)
	}
}

func (r *runner) write(v any) {
	if r.out == nil || r.err != nil {
		return
	}
	line, err := json.Marshal(v)
	if err == nil {
		r.out.Write(line)
		err = r.out.WriteByte('\n')
	}
	if err != nil {
		r.err = fmt.Errorf("cannot write the output lines: %w", err)
	}
}

func (r *runner) ready() {
	r.write(struct {
		Type string `json:"type"`
		N    int    `json:"n"`
	}{"ready", r.lines})
	if r.out == nil || r.err != nil {
		return
	}
	if err := r.out.Flush(); err != nil {
		r.err = fmt.Errorf("cannot write the output lines: %w", err)
	}
}
