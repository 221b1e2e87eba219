package lesson

import (
	"context"
	"fmt"
	"io"
	"runtime"
	"sync"

	"helmcue/internal/boat"
	"helmcue/internal/sim"
)

// Class is a kind of learner in a kind of wind, sailed with several seeds.
type Class struct {
	Name  string
	Level boat.Level
	Make  func(seed uint64) (*sim.Sim, error)
}

// Row is what one class made of it under each teacher: Nobody, Ours, Knowing.
type Row struct {
	Name string
	By   [Knowing + 1]Result
}

// Plan is how long and how often each class is sailed.
type Plan struct {
	Seeds   int
	Minutes float64
	QuietS  float64
	Workers int // 0: one for each core
}

// Run sails every class with every seed under every teacher. Rows come in the order
// of the classes, the same whatever the number of workers.
func Run(ctx context.Context, classes []Class, p Plan) ([]Row, error) {
	type job struct{ class, seed, teacher int }
	var jobs []job
	for c := range classes {
		for s := range p.Seeds {
			for t := range int(Knowing) + 1 {
				jobs = append(jobs, job{c, s, t})
			}
		}
	}
	results, errs := make([]*Result, len(jobs)), make([]error, len(jobs))
	next := make(chan int)
	workers := p.Workers
	if workers <= 0 {
		workers = runtime.NumCPU()
	}
	var wait sync.WaitGroup
	for range workers {
		wait.Go(func() {
			for i := range next {
				j := jobs[i]
				class := classes[j.class]
				results[i], errs[i] = Sail(Setup{
					Make:  func() (*sim.Sim, error) { return class.Make(uint64(j.seed + 1)) },
					Level: class.Level, Teacher: Teacher(j.teacher), Minutes: p.Minutes, QuietS: p.QuietS,
				})
			}
		})
	}
	for i := range jobs {
		if ctx.Err() != nil {
			break
		}
		next <- i
	}
	close(next)
	wait.Wait()
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	rows := make([]Row, len(classes))
	for i, j := range jobs {
		if errs[i] != nil {
			return nil, fmt.Errorf("lesson %s: %w", classes[j.class].Name, errs[i])
		}
		rows[j.class].Name = classes[j.class].Name
		rows[j.class].By[j.teacher].Merge(results[i])
	}
	return rows, nil
}

// Gain is by how much the way made good to windward grew under a teacher, percent
// of that without one: while it was taught, and in the quiet after.
func (r Row) Gain(t Teacher) (taught, kept float64) {
	base := &r.By[Nobody]
	of := func(a, b Sailed) float64 { return 100 * (a.VMGKn()/b.VMGKn() - 1) }
	return of(r.By[t].Taught, base.Taught), of(r.By[t].Quiet, base.Quiet)
}

// Table writes the rows as plain columns under a line of names.
func Table(w io.Writer, rows []Row) error {
	if _, err := fmt.Fprintf(w, "%-22s %6s %6s %6s %6s %6s %6s %6s %6s %6s %7s\n", "learner and wind",
		"vmg", "ours", "kept", "know", "kept", "part", "irons", "ours", "cues", "corr"); err != nil {
		return err
	}
	for _, r := range rows {
		ours, kept := r.Gain(Ours)
		known, kkept := r.Gain(Knowing)
		n, o := r.By[Nobody], r.By[Ours]
		minutes := o.Taught.AllS / 60
		_, err := fmt.Fprintf(w, "%-22s %6.2f %+5.0f%% %+5.0f%% %+5.0f%% %+5.0f%% %5.0f%% %5.1f%% %5.1f%% %6.2f %7.2f\n", r.Name, n.Taught.VMGKn(),
			ours, kept, known, kkept, 100*ours/known, 100*n.Taught.IronsS/n.Taught.BeatS, 100*o.Taught.IronsS/o.Taught.BeatS,
			float64(o.Cues)/minutes, float64(o.Corrections)/minutes)
		if err != nil {
			return err
		}
	}
	return nil
}
