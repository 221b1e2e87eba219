// Command evaluate measures how well the wind is found and what the coaching is worth.
//
//	evaluate                  the whole catalogue of the simulator, and the real recordings of testdata
//	evaluate coach            simulated learners with the coach, without, and with one who knows all
//	evaluate LOG TRUTH.csv    one recording whose wind is known from elsewhere, its own wind left out
//
// The first prints a table and writes it to testdata/eval/wind.txt, so that what a
// change did shows beside the change. HELMCUE_SEEDS=2 sails so many seeds of each
// scenario for a quick look and writes nothing. The second writes testdata/eval/coach.txt likewise. LOG is anything helmcue replay
// takes. TRUTH is a CSV, plain or gzipped, with t (milliseconds since the epoch) or
// t_utc_s (seconds of the day), and twd, or twa and cog; helmcue sim --truth writes
// such a file.
package main

import (
	"context"
	"fmt"
	"os"
	"os/signal"
	"strconv"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"

	"helmcue/internal/trial"
)

const (
	fullSeeds = 20
	minutes   = 25
	stored    = "testdata/eval/wind.txt"
	recorded  = "testdata/real"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if err := run(ctx, os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(ctx context.Context, args []string) error {
	switch len(args) {
	case 0:
		return catalogue(ctx)
	case 1:
		if args[0] == "coach" {
			return coach(ctx)
		}
	case 2:
		return one(args[0], args[1])
	}
	return fmt.Errorf("expected no arguments, coach, or LOG TRUTH.csv, got %d", len(args))
}

func catalogue(ctx context.Context) error {
	seeds, err := seeds()
	if err != nil {
		return err
	}
	real, err := trial.Recordings(recorded) // first: it fails at once where this is not the top of the tree
	if err != nil {
		return fmt.Errorf("run it from the top of the tree: %w", err)
	}
	plan := trial.Plan{Seeds: seeds, Minutes: minutes, Done: progress()}
	rows, err := trial.Run(ctx, plan)
	if err != nil {
		return fmt.Errorf("sailing the catalogue: %w", err)
	}
	rows = append(append(rows, trial.Totals(rows)...), real...)
	if err := trial.Table(os.Stdout, rows); err != nil {
		return err
	}
	if err := trial.Legend(os.Stdout); err != nil {
		return err
	}
	if seeds != fullSeeds {
		fmt.Fprintf(os.Stderr, "%d seeds are a quick look: %s is as it was\n", seeds, stored)
		return nil
	}
	return store(plan, rows)
}

// seeds is how many of each scenario are sailed.
func seeds() (int, error) {
	v := os.Getenv("HELMCUE_SEEDS")
	if v == "" {
		return fullSeeds, nil
	}
	n, err := strconv.Atoi(v)
	if err != nil || n < 1 || n > 1000 {
		return 0, fmt.Errorf("HELMCUE_SEEDS: expected a number from 1 to 1000, got %q", v)
	}
	return n, nil
}

// progress shows a bar where a person is looking.
func progress() func(done, of int) {
	if !term.IsTerminal(int(os.Stderr.Fd())) {
		return nil
	}
	var bar *progressbar.ProgressBar
	return func(done, of int) {
		if bar == nil {
			bar = progressbar.NewOptions(of, progressbar.OptionSetWriter(os.Stderr), progressbar.OptionSetDescription("sailing"),
				progressbar.OptionShowCount(), progressbar.OptionSetPredictTime(true), progressbar.OptionClearOnFinish())
		}
		bar.Set(done) //nolint:errcheck // a bar that cannot be drawn is no loss
	}
}

// store writes the table aside and then in place, so that one cut off leaves the old.
func store(p trial.Plan, rows []trial.Row) error {
	aside := stored + ".new"
	f, err := os.Create(aside)
	if err != nil {
		return fmt.Errorf("writing %s: %w", stored, err)
	}
	err = trial.Store(f, p, rows)
	if cerr := f.Close(); err == nil {
		err = cerr
	}
	if err == nil {
		err = os.Rename(aside, stored)
	}
	if err != nil {
		return fmt.Errorf("writing %s: %w", stored, err)
	}
	return nil
}

func one(log, truth string) error {
	row, err := trial.Recorded(log, truth)
	if err != nil {
		return err
	}
	if err := trial.Table(os.Stdout, []trial.Row{row}); err != nil {
		return err
	}
	return trial.Legend(os.Stdout)
}
