package lesson

import (
	"cmp"
	"context"
	"fmt"
	"runtime"

	"golang.org/x/sync/errgroup"

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

// Gain is by how much the way made good to windward grew under a teacher, percent
// of that without one: while it was taught, and in the quiet after.
func (r Row) Gain(t Teacher) (taught, kept float64) {
	base := &r.By[Nobody]
	of := func(a, b Sailed) float64 { return 100 * (a.VMGKn()/b.VMGKn() - 1) }
	return of(r.By[t].Taught, base.Taught), of(r.By[t].Quiet, base.Quiet)
}

// Plan is how long and how often each class is sailed.
type Plan struct {
	Seeds   int
	Minutes float64
	QuietS  float64
	Workers int // 0: one for each core
}

// job is a lesson to be sailed.
type job struct {
	class   Class
	row     int
	seed    uint64
	teacher Teacher
}

// Run sails every class with every seed under every teacher. Rows come in the order
// of the classes, the same whatever the number of workers.
func Run(ctx context.Context, classes []Class, p Plan) ([]Row, error) {
	rows := make([]Row, len(classes))
	var jobs []job
	for i, c := range classes {
		rows[i].Name = c.Name
		for s := range p.Seeds {
			for t := range int(Knowing) + 1 {
				jobs = append(jobs, job{c, i, uint64(s + 1), Teacher(t)})
			}
		}
	}
	results := make([]*Result, len(jobs))
	group, ctx := errgroup.WithContext(ctx)
	group.SetLimit(cmp.Or(p.Workers, runtime.NumCPU()))
	for i, j := range jobs {
		group.Go(func() (err error) {
			if ctx.Err() != nil {
				return context.Cause(ctx)
			}
			if results[i], err = p.one(j); err != nil {
				return fmt.Errorf("lesson %s, seed %d: %w", j.class.Name, j.seed, err)
			}
			return nil
		})
	}
	if err := group.Wait(); err != nil {
		return nil, err
	}
	for i, j := range jobs { // in order, so that no sum depends on who was first
		rows[j.row].By[j.teacher].Merge(results[i])
	}
	return rows, nil
}

func (p Plan) one(j job) (*Result, error) {
	return Sail(Setup{
		Make:  func() (*sim.Sim, error) { return j.class.Make(j.seed) },
		Level: j.class.Level, Teacher: j.teacher, Minutes: p.Minutes, QuietS: p.QuietS,
	})
}
