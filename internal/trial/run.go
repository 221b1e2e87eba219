package trial

import (
	"cmp"
	"context"
	"fmt"
	"runtime"
	"slices"
	"sync"

	"golang.org/x/sync/errgroup"
)

// Plan is an evaluation.
type Plan struct {
	Seeds   int      // each scenario is sailed with seeds 1 to this
	Minutes int      // and so long
	Workers int      // sessions at once; 0: one for each core
	Names   []string // the scenarios to sail; nil: all
	// Done is called after each session, by one goroutine at a time; may be nil.
	Done func(done, of int)
}

// Row is what came of one scenario in one variant.
type Row struct {
	Scenario, Variant string
	Score             *Score
}

// Run sails every scenario in every variant. Rows come in the order of the
// scenarios and variants, and are the same whatever the number of workers. It stops
// early with the context's error, or with the first error of a session.
func Run(ctx context.Context, p Plan) ([]Row, error) {
	rows, todo := p.list()
	scores := make([]*Score, len(todo))
	var told sync.Mutex // Done is told by one at a time
	done := 0
	group, ctx := errgroup.WithContext(ctx)
	group.SetLimit(cmp.Or(p.Workers, runtime.NumCPU()))
	for i, e := range todo {
		group.Go(func() error {
			if ctx.Err() != nil {
				return context.Cause(ctx)
			}
			m, err := e.make()
			if err != nil {
				return fmt.Errorf("scenario %s: %w", e.scenario.name, err)
			}
			scores[i] = newTrip(e.session, e.scenario, m).sailed()
			told.Lock()
			defer told.Unlock()
			done++
			if p.Done != nil {
				p.Done(done, len(todo))
			}
			return nil
		})
	}
	if err := group.Wait(); err != nil {
		return nil, err
	}
	for i, s := range scores { // in order, so that no sum depends on who was first
		rows[i/p.Seeds].Score.Merge(s)
	}
	return rows, nil
}

// errand is a session to be sailed. Those of one scenario share its maker.
type errand struct {
	session  Session
	scenario scenario
	make     func() (maker, error)
}

func (p Plan) list() (rows []Row, todo []errand) {
	for _, sc := range scenarios() {
		if p.Names != nil && !slices.Contains(p.Names, sc.name) {
			continue
		}
		make := sync.OnceValues(sc.prepare)
		for _, v := range sc.variants() {
			rows = append(rows, Row{sc.name, v.Name, &Score{}})
			for seed := range p.Seeds {
				todo = append(todo, errand{Session{Scenario: sc.name, Variant: v, Seed: uint64(seed + 1), Minutes: p.Minutes}, sc, make})
			}
		}
	}
	return rows, todo
}
