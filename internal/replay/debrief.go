package replay

import (
	"io"

	"helmcue/internal/boat"
	"helmcue/internal/debrief"
)

// Debrief replays the job's log and returns what writes its debrief as a page.
// The cues judged are those the engine says now with the job's settings; for a
// recording replayed as it is, they are the ones that were said.
// name heads the page and look is how it is drawn.
func Debrief(j Job, name string, look debrief.Look) (page func(io.Writer) error, sum Summary, err error) {
	b := debrief.NewBuilder(debrief.Config{Name: name})
	j.Out = nil
	j.Seen = func(in boat.Input) { b.Input(in) }
	j.Heard = func(o boat.Output) { b.Output(o) }
	sum, err = Run(j)
	if err != nil {
		return nil, sum, err
	}
	r := b.Report()
	return func(w io.Writer) error { return look.WriteHTML(w, r) }, sum, nil
}
