package exercise

import (
	"fmt"

	"helmcue/internal/boat"
)

// The phases, as outputs name them. Result, void, opened and skipped are moments, the
// others last.
const (
	Waiting = "waiting" // for a state in which it can be introduced
	Intro   = "intro"   // the introduction is to be spoken
	Consent = "consent" // the sailor is to knock twice
	Trying  = "trying"
	Result  = "result"
	Void    = "void" // a try that does not count
	Opened  = "opened"
	Skipped = "skipped"
	Resting = "resting" // enough of it for a while
	Over    = "over"    // the plan is done
)

// Times of the runner, seconds. Common practice, no source.
const (
	fitS      = 3.0   // she is fit so long before an introduction
	promptS   = 25.0  // a prompt not spoken by then is dropped
	wishS     = 5.0   // a turn is wished for so long
	unfitS    = 6.0   // a try under way bears so much
	consentS  = 60.0  // for the two knocks
	restS     = 240.0 // of free sailing
	saidFail  = 2     // tries in a row that failed and are told; more would nag
	restFail  = 5     // and after so many it rests
	nextS     = 25.0  // after a result, two knocks mean next
	quietS    = 120.0
	stepMin   = 20.0 // minutes at one step
	untoldMin = 8.0  // minutes until an exercise that cannot be introduced is left out
	textS     = 3.0  // between two texts of one phase
)

// Runner leads through the exercises of a plan. Make it with New; it is for one goroutine.
type Runner struct {
	plan   *boat.Plan
	at     int
	aside  *boat.Plan    // an exercise that an instructor wants now
	doing  boat.PlanStep // what the plan has at its place
	what   Exercise
	busy   bool // there is something to do
	person bool // an instructor started what is under way: he sees that there is room

	phase string
	since boat.Time // of the phase
	text  string
	fit   boat.Time // since when she is fit
	unfit boat.Time // since when she is not
	told  bool      // the introduction was spoken
	yes   bool
	tries []bool
	try   try
	begun boat.Time
	from  boat.Time // of the step
	over  boat.Time // last result
	fails int       // tries that failed, in a row
	quiet boat.Time // asked for until

	prompt *boat.Prompt
	wish   boat.TurnWish
	wished boat.Time
	mute   boat.Mute
	id     int
	past   past
	said   []boat.Cue
	now    boat.Time
	out    []boat.Exercise
	shown  boat.Exercise
}

// New makes a Runner without a plan: it asks for nothing.
func New() *Runner { return &Runner{} }

// SetPlan gives the plan, nil for none. The plan that is being sailed goes on where
// it stands.
func (r *Runner) SetPlan(p *boat.Plan) {
	if r.plan.Equal(p) {
		return
	}
	r.plan, r.at, r.aside = p, 0, nil
	r.enter(r.now)
}

// current returns the plan that holds and the step in it, from 0.
func (r *Runner) current() (*boat.Plan, int) {
	if r.aside != nil {
		return r.aside, 0
	}
	return r.plan, r.at
}

// step returns the step under way.
func (r *Runner) step() (boat.PlanStep, Exercise, bool) { return r.doing, r.what, r.busy }

// lookUp finds what the plan has at its place, with what the step leaves open filled in.
func (r *Runner) lookUp() {
	p, at := r.current()
	r.doing, r.what, r.busy = boat.PlanStep{}, Exercise{}, p != nil && at < len(p.Steps)
	if !r.busy {
		return
	}
	r.doing = p.Steps[at]
	e, ok := Find(r.doing.Exercise)
	if !ok {
		e = Exercise{Name: r.doing.Exercise}
	}
	r.what = e
	if r.doing.Good <= 0 || r.doing.Of < r.doing.Good {
		r.doing.Good, r.doing.Of = e.GoodN, e.OfN
	}
	if r.doing.Minutes <= 0 {
		r.doing.Minutes = stepMin
	}
}

// enter begins the step anew.
func (r *Runner) enter(t boat.Time) {
	r.lookUp()
	r.told, r.yes, r.tries, r.try, r.begun, r.from, r.fails = false, false, nil, nil, 0, 0, 0
	r.turnTo(t, Waiting)
}

func (r *Runner) turnTo(t boat.Time, phase string) {
	r.phase, r.since, r.fit, r.unfit, r.mute = phase, t, 0, 0, boat.Mute{}
	r.text = opening(phase)
	if phase != Trying {
		r.wish = boat.TurnWish{}
	}
}

// opening is what stands for a phase until something better is known.
func opening(phase string) string {
	switch phase {
	case Intro:
		return "to be introduced"
	case Consent:
		return "waits for two knocks: is there room, and is the water free?"
	case Trying:
		return "begins by doing"
	}
	return "waits for a quiet moment"
}

// Step takes the boat at one moment, ascending, about ten times a second, and
// returns what the coach is asked for and what there is to put out.
func (r *Runner) Step(s Sight) (boat.Guide, []boat.Exercise) {
	r.now = s.Now
	s.past, s.said, s.open = &r.past, r.said, r.prompt != nil
	r.said = nil
	r.past.add(&s)
	st, e, ok := r.step()
	if !ok {
		return boat.Guide{Prompt: r.lapsed(s.Now)}, r.taken()
	}
	switch r.phase {
	case Waiting:
		r.wait(&s, e)
	case Intro:
		r.introduce(&s, e)
	case Consent:
		r.consent(&s)
	case Trying:
		r.attempt(&s, st, e)
	case Resting:
		r.rest(&s)
	}
	if _, now, ok := r.step(); ok {
		r.show(r.state(now, r.phase, r.text))
	}
	return r.guide(), r.taken()
}

// taken hands over what there is to put out, also of what people did since the last
// moment. Its times are those of now: outputs stay in order.
func (r *Runner) taken() []boat.Exercise {
	out := r.out
	r.out = nil
	for i := range out {
		out[i].T = r.now
	}
	return out
}

// guide is what stands to be asked of the coach.
func (r *Runner) guide() boat.Guide {
	if r.wish.Kind != "" && r.now.Seconds(r.wished) > wishS {
		r.wish = boat.TurnWish{}
	}
	_, e, ok := r.step()
	g := boat.Guide{Prompt: r.lapsed(r.now), Turn: r.wish, Mute: r.mute}
	if ok {
		g.Name = e.Name
	}
	return g
}

// lapsed returns the prompt that waits, once it has not waited too long.
func (r *Runner) lapsed(t boat.Time) *boat.Prompt {
	if r.prompt != nil && t.Seconds(r.prompt.Since) > promptS {
		r.prompt = nil
	}
	return r.prompt
}

func (r *Runner) ask(t boat.Time, p boat.Prompt) {
	r.id++
	p.ID, p.Since = r.id, t
	r.prompt = &p
}

// Heard takes a cue that was handed out to be spoken.
func (r *Runner) Heard(c boat.Cue) {
	r.said = append(r.said, c)
	if p := r.prompt; p != nil && p.Key == c.Key && (p.Variant == c.Variant || p.Variant == "") {
		r.prompt = nil
	}
}

// state is what is put out about an exercise.
func (r *Runner) state(e Exercise, phase, text string) boat.Exercise {
	p, at := r.current()
	x := boat.Exercise{T: r.now, Name: e.Name, Title: e.Title, Phase: phase, Text: text, Tries: len(r.tries)}
	if p != nil && p.Name != "" {
		x.Plan, x.Step, x.Steps = p.Name, at+1, len(p.Steps)
	}
	for _, good := range r.tries {
		if good {
			x.Good++
		}
	}
	return x
}

// show puts a state out when it says something new.
func (r *Runner) show(x boat.Exercise) {
	old := r.shown
	same := x.Score == nil && old.Name == x.Name && old.Phase == x.Phase && old.Step == x.Step && old.Tries == x.Tries
	if same && (old.Text == x.Text || x.T.Seconds(old.T) < textS) {
		return // a text that changes by the second is read by nobody
	}
	r.shown = x
	r.out = append(r.out, x)
}

// opened says whether enough of the last tries were good.
func (r *Runner) opened(st boat.PlanStep) bool {
	n := 0
	for _, good := range r.tries[max(0, len(r.tries)-st.Of):] {
		if good {
			n++
		}
	}
	return n >= st.Good
}

// advance goes on to the next step.
func (r *Runner) advance(t boat.Time) {
	r.person = false
	if r.aside != nil {
		r.aside = nil
	} else {
		r.at++
	}
	if r.plan != nil && r.at == len(r.plan.Steps) && r.at > 0 {
		last, _ := Find(r.plan.Steps[r.at-1].Exercise)
		r.at--
		x := r.state(last, Over, fmt.Sprintf("all %d steps of the plan are done", len(r.plan.Steps)))
		r.at++
		r.show(x)
	}
	r.enter(t)
}
