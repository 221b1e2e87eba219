package trial

import (
	"context"
	"fmt"
	"runtime"
	"slices"
	"sync"
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
	r := &runner{plan: p, scores: make([]*Score, len(todo)), todo: todo}
	ctx, r.stop = context.WithCancelCause(ctx)
	defer r.stop(nil)
	workers := p.Workers
	if workers <= 0 {
		workers = runtime.NumCPU()
	}
	var wait sync.WaitGroup
	for range workers {
		wait.Go(func() { r.work(ctx) })
	}
	wait.Wait()
	if err := context.Cause(ctx); err != nil {
		return nil, err
	}
	for i, s := range r.scores { // in order, so that no sum depends on who was first
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

// runner hands out the sessions. Its lock is held for the handing out alone.
type runner struct {
	plan   Plan
	todo   []errand
	scores []*Score // each written by the worker that took its session
	stop   context.CancelCauseFunc

	mu         sync.Mutex
	next, done int
}

func (r *runner) work(ctx context.Context) {
	for ctx.Err() == nil {
		i := r.take()
		if i < 0 {
			return
		}
		e := r.todo[i]
		m, err := e.make()
		if err != nil {
			r.stop(fmt.Errorf("scenario %s: %w", e.scenario.name, err))
			return
		}
		r.scores[i] = newTrip(e.session, e.scenario, m).sailed()
		r.finish()
	}
}

func (r *runner) take() int {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.next >= len(r.todo) {
		return -1
	}
	r.next++
	return r.next - 1
}

func (r *runner) finish() {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.done++
	if r.plan.Done != nil {
		r.plan.Done(r.done, len(r.todo))
	}
}
