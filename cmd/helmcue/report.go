package main

import (
	"bufio"
	"context"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"helmcue/internal/debrief"
	"helmcue/internal/replay"
	"helmcue/web"
)

type reportCmd struct {
	File string `arg:"" help:"Log to report on."`
	boatFlags
	Wind       string `help:"Wind set by hand at the start, degrees true and knots." placeholder:"DIR,KN"`
	WindLog    string `help:"CSV of wind fixes over time." placeholder:"F"`
	IgnoreWind bool   `help:"As though the log held no wind readings."`
	HTML       string `name:"html" help:"The page to write; FILE.html when left out." placeholder:"F"`
}

// Run writes the page.
func (c *reportCmd) Run(ctx context.Context) error {
	r := replayCmd{File: c.File, boatFlags: c.boatFlags, Wind: c.Wind, WindLog: c.WindLog, IgnoreWind: c.IgnoreWind}
	job, err := r.job()
	if err != nil {
		return err
	}
	in, size, err := r.open()
	if err != nil {
		return err
	}
	defer in.Close()
	job.Log = r.watched(ctx, in, size)
	page, sum, err := replay.Debrief(job, sessionName(c.File), look())
	if err != nil {
		return hint(err, "the forms read are: helmcue recordings, NMEA 0183 lines, JSON lines, GPX, FIT, CSV")
	}
	name := c.HTML
	if name == "" {
		name = strings.TrimSuffix(c.File, filepath.Ext(c.File)) + ".html"
		if c.File == "-" {
			name = "debrief.html"
		}
	}
	f, err := os.Create(name)
	if err != nil {
		return hint(err, "name a file in a folder you may write to with --html")
	}
	w := bufio.NewWriter(f)
	if err := page(w); err != nil {
		f.Close()
		return err
	}
	if err := w.Flush(); err != nil {
		f.Close()
		return err
	}
	r.tell(sum)
	fmt.Fprintln(os.Stderr, "debrief written to", name)
	return f.Close()
}

// sessionName is what the page is headed with: the file's name without its
// folder and ending.
func sessionName(file string) string {
	if file == "-" {
		return ""
	}
	return strings.TrimSuffix(filepath.Base(file), filepath.Ext(file))
}

// look puts our typeface into the page, or leaves the reader's own where the
// file should be missing.
func look() debrief.Look {
	font, err := fs.ReadFile(web.Files(), "font/atkinson-hyperlegible-next-latin-wght-normal.woff2")
	if err != nil {
		return debrief.Look{}
	}
	return debrief.Look{Font: font}
}
