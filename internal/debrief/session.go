package debrief

import "helmcue/internal/boat"

// Config says what the session is called. Both may be empty.
type Config struct {
	Name  string // of the session, for the heading
	Voice string // whose clips were heard
}

// Session is a whole session in memory. Inputs and Outputs are each in the order
// in which the engine took and made them.
type Session struct {
	Config
	Inputs  []boat.Input
	Outputs []boat.Output
}

// Build makes the report of a session in memory. An output is placed after the
// inputs up to its time.
func Build(s Session) Report {
	b := NewBuilder(s.Config)
	i := 0
	for _, o := range s.Outputs {
		for i < len(s.Inputs) && s.Inputs[i].T <= o.Time() {
			b.Input(s.Inputs[i])
			i++
		}
		b.Output(o)
	}
	for ; i < len(s.Inputs); i++ {
		b.Input(s.Inputs[i])
	}
	return b.Report()
}
