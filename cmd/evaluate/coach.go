package main

import (
	"context"
	"fmt"
	"io"
	"os"

	"helmcue/internal/lesson"
)

// How the coach is measured: so many lessons of each class, the end of each in silence.
const (
	lessonSeeds   = 8
	lessonMinutes = 30.0
	lessonQuietS  = 480.0
	lessonFile    = "testdata/eval/coach.txt"
)

// coach measures what the coaching is worth, and keeps it where every seed was sailed.
func coach(ctx context.Context) error {
	seeds, err := seeds()
	if err != nil {
		return err
	}
	full := seeds == fullSeeds
	if full {
		seeds = lessonSeeds
	}
	classes, err := lesson.Classes()
	if err != nil {
		return err
	}
	rows, err := lesson.Run(ctx, classes, lesson.Plan{Seeds: seeds, Minutes: lessonMinutes, QuietS: lessonQuietS})
	if err != nil {
		return fmt.Errorf("sailing the lessons: %w", err)
	}
	if err := writeCoach(os.Stdout, rows, seeds); err != nil || !full {
		return err
	}
	f, err := os.Create(lessonFile)
	if err != nil {
		return fmt.Errorf("writing %s: %w", lessonFile, err)
	}
	err = writeCoach(f, rows, seeds)
	if cerr := f.Close(); err == nil {
		err = cerr
	}
	return err
}

func writeCoach(w io.Writer, rows []lesson.Row, seeds int) error {
	pool := lesson.Pool(rows)
	if err := lesson.Table(w, append(rows, pool)); err != nil {
		return err
	}
	if _, err := fmt.Fprintf(w, "# %d lessons of %.0f minutes each, %.0f of them in silence, under each teacher: nobody, ours, the all-knowing one\n",
		seeds, lessonMinutes, lessonQuietS/60); err != nil {
		return err
	}
	if err := lesson.Legend(w); err != nil {
		return err
	}
	if err := lesson.Keys(w, pool); err != nil {
		return err
	}
	return lesson.LossTable(w, pool)
}
