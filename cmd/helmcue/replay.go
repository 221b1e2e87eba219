package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"time"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"

	"helmcue/internal/boat"
	"helmcue/internal/replay"
)

type replayCmd struct {
	File string `arg:"" help:"Log to replay, or - for standard input."`
	boatFlags
	Out        string `help:"Where the output lines go; - is standard output." placeholder:"F|-"`
	Lockstep   bool   `help:"With -: answer every input line before the next is read."`
	Wind       string `help:"Wind set by hand at the start, degrees true and knots." placeholder:"DIR,KN"`
	WindLog    string `help:"CSV of wind fixes over time: t,dir_deg,sd_deg,kn,method." placeholder:"F"`
	IgnoreWind bool   `help:"As though the log held no wind readings."`
	Voice      string `help:"Voice for --speak." placeholder:"NAME"`
	Speak      string `help:"Write what the sailor would have heard, aligned in time." placeholder:"F.wav"`
}

// Run replays the file.
func (c *replayCmd) Run(ctx context.Context) error {
	if c.Lockstep && c.File != "-" {
		return usageError{hint(fmt.Errorf("--lockstep needs standard input"), "give - as the file")}
	}
	job, err := c.job()
	if err != nil {
		return err
	}
	in, size, err := c.open()
	if err != nil {
		return err
	}
	defer in.Close()
	job.Log = c.watched(ctx, in, size)
	out, closeOut, err := c.output(&job)
	if err != nil {
		return err
	}
	job.Out = out
	voice, err := c.speaking(&job)
	if err != nil {
		return err
	}
	sum, err := replay.Run(job)
	if cerr := closeOut(); err == nil {
		err = cerr
	}
	if err != nil {
		return hint(err, "the forms read are: helmcue recordings, NMEA 0183 lines, JSON lines, GPX, FIT, CSV")
	}
	c.tell(sum)
	return voice(sum)
}

func (c *replayCmd) job() (replay.Job, error) {
	conf, err := c.load()
	if err != nil {
		return replay.Job{}, err
	}
	s, err := settings(conf)
	if err != nil {
		return replay.Job{}, err
	}
	over := c.change(s)
	ignore := c.IgnoreWind
	job := replay.Job{Settings: s, Lockstep: c.Lockstep, Change: func(s boat.Settings) boat.Settings {
		s = over(s)
		s.IgnoreWind = s.IgnoreWind || ignore
		return s
	}}
	if c.Wind != "" {
		fix, err := replay.ParseWind(c.Wind)
		if err != nil {
			return job, usageError{err}
		}
		job.Wind = append(job.Wind, fix)
	}
	if c.WindLog != "" {
		f, err := os.Open(c.WindLog)
		if err != nil {
			return job, hint(err, "name a CSV with the header t,dir_deg,sd_deg,kn,method")
		}
		defer f.Close()
		fixes, err := replay.ReadWindLog(f)
		if err != nil {
			return job, hint(err, "one fix a row; leave a field empty where it is not known")
		}
		job.Wind = append(job.Wind, fixes...)
	}
	return job, nil
}

func (c *replayCmd) open() (io.ReadCloser, int64, error) {
	if c.File == "-" { // a pipe cannot seek, whatever os.Stdin promises
		return struct {
			io.Reader
			io.Closer
		}{os.Stdin, os.Stdin}, 0, nil
	}
	f, err := os.Open(c.File)
	if err != nil {
		return nil, 0, hint(err, "name a log that exists, or - for standard input")
	}
	info, err := f.Stat()
	if err != nil {
		return nil, 0, err
	}
	if info.IsDir() {
		return nil, 0, hint(fmt.Errorf("%s is a folder", c.File), "name one file in it")
	}
	return f, info.Size(), nil
}

// longLog is where a replay is long enough for a bar.
const longLog = 4 << 20

// watched adds a progress bar where a person is looking and the log is long.
func (c *replayCmd) watched(ctx context.Context, in io.Reader, size int64) io.Reader {
	if size >= longLog && term.IsTerminal(int(os.Stderr.Fd())) {
		bar := progressbar.NewOptions64(size, progressbar.OptionSetWriter(os.Stderr), progressbar.OptionShowBytes(true),
			progressbar.OptionSetDescription("replay"), progressbar.OptionClearOnFinish())
		tee := io.TeeReader(in, bar)
		if s, ok := in.(io.Seeker); ok {
			in = struct {
				io.Reader
				io.Seeker
			}{tee, s}
		} else {
			in = tee
		}
	}
	return stopped{ctx, in}.reader()
}

// stopped ends a read with the context's error, so that Ctrl-C ends a long replay.
type stopped struct {
	ctx context.Context
	r   io.Reader
}

func (s stopped) reader() io.Reader {
	if seek, ok := s.r.(io.Seeker); ok {
		return struct {
			io.Reader
			io.Seeker
		}{s, seek}
	}
	return s
}

func (s stopped) Read(p []byte) (int, error) {
	if err := s.ctx.Err(); err != nil {
		return 0, fmt.Errorf("stopped by you: %w", err)
	}
	return s.r.Read(p)
}

func (c *replayCmd) output(job *replay.Job) (io.Writer, func() error, error) {
	switch c.Out {
	case "":
		if c.Lockstep {
			return os.Stdout, func() error { return nil }, nil
		}
		job.Heard = telling(os.Stdout)
		return nil, func() error { return nil }, nil
	case "-":
		return os.Stdout, func() error { return nil }, nil
	}
	f, err := os.Create(c.Out)
	if err != nil {
		return nil, nil, hint(err, "name a file in a folder you may write to, or - for standard output")
	}
	return f, f.Close, nil
}

// tell says on standard error what the replay came to.
func (c *replayCmd) tell(s replay.Summary) {
	if s.Log != "" {
		fmt.Fprintln(os.Stderr, s.Log)
	}
	if s.Torn {
		fmt.Fprintln(os.Stderr, "the recording breaks off; everything up to the break was used")
	}
	fmt.Fprintf(os.Stderr, "%.0f minutes of sailing time, %d inputs, %d cues\n", s.Last.Seconds(s.First)/60, s.Inputs, s.Cues)
}

// telling writes what was said for a person to read beside the track: the time,
// the words, the reason.
func telling(w io.Writer) func(boat.Output) {
	return func(o boat.Output) {
		at := time.UnixMilli(int64(o.Time())).UTC().Format("15:04:05")
		switch {
		case o.Cue != nil:
			fmt.Fprintf(w, "%s  %q  %s\n", at, o.Cue.Words, o.Cue.Why)
		case o.Manoeuvre != nil:
			m := o.Manoeuvre
			fmt.Fprintf(w, "%s  — a %s to %s, %s\n", at, m.Kind, m.To, turned(m))
		case o.Exercise != nil && o.Exercise.Text != "" && o.Exercise.Phase != "trying":
			fmt.Fprintf(w, "%s  — %s, %s: %s\n", at, o.Exercise.Name, o.Exercise.Phase, o.Exercise.Text)
		case o.Note != nil:
			fmt.Fprintf(w, "%s  (%s)\n", at, o.Note.Text)
		}
	}
}

func turned(m *boat.Manoeuvre) string {
	text := "angle not known"
	if m.TurnDeg.OK {
		text = fmt.Sprintf("%.0f°", m.TurnDeg.Val)
	}
	switch lost := m.LostLen; {
	case lost.OK && lost.Val >= 0.05:
		text += fmt.Sprintf(", %.1f lengths lost", lost.Val)
	case lost.OK && lost.Val <= -0.05:
		text += fmt.Sprintf(", %.1f lengths gained", -lost.Val)
	case lost.OK:
		text += ", nothing lost"
	}
	return text
}
