package exercise

import (
	"fmt"

	"helmcue/internal/boat"
)

// wait looks for a moment in which the exercise can be introduced, or gone on with.
func (r *Runner) wait(s *Sight, e Exercise) {
	if e.begin == nil {
		r.skip(s.Now, e, fmt.Sprintf("there is no exercise called %q", e.Name))
		return
	}
	if why := e.lacks(s); why != "" {
		r.skip(s.Now, e, "left out: "+why)
		return
	}
	if r.from == 0 && s.unfit() == "" {
		r.from = s.Now
	}
	if r.barren(s) {
		r.skip(s.Now, e, "left out: there was no chance for it")
		return
	}
	why := r.hindered(s, e)
	if why != "" {
		r.fit, r.text = 0, "waits: "+why
		return
	}
	if r.fit == 0 {
		r.fit = s.Now
	}
	r.text = "waits for a quiet moment"
	if s.Now.Seconds(r.fit) < fitS || r.prompt != nil {
		return
	}
	if r.told {
		r.admit(s, e)
		return
	}
	r.turnTo(s.Now, Intro)
	r.ask(s.Now, boat.Prompt{Key: boat.Intro, Variant: e.Name, WhyCode: "exercise", Why: "next to practise: " + e.About})
}

// barren says whether the step's time went by without a single try.
func (r *Runner) barren(s *Sight) bool {
	patience := r.doing.Minutes
	if !r.told { // what cannot be introduced must not hold up the plan for long
		patience = min(patience, untoldMin)
	}
	return r.from != 0 && len(r.tries) == 0 && s.Now.Seconds(r.from) > 60*patience
}

// hindered returns why the exercise cannot be introduced or begun now, or "".
func (r *Runner) hindered(s *Sight, e Exercise) string {
	if s.Now < r.quiet {
		return "quiet was asked for"
	}
	if why := s.unfit(); why != "" {
		return why
	}
	if why := e.awaits(s); why != "" {
		return why
	}
	if s.inTurn() || s.Planned {
		return "she is turning"
	}
	return ""
}

func (r *Runner) introduce(s *Sight, e Exercise) {
	if _, ok := s.spoke(boat.Intro); ok {
		r.told = true
		r.admit(s, e)
		return
	}
	if !s.open || r.hindered(s, e) != "" {
		r.prompt = nil
		r.turnTo(s.Now, Waiting)
	}
}

// admit lets the tries begin, after the sailor's yes where one is needed.
func (r *Runner) admit(s *Sight, e Exercise) {
	if e.Needs.Yes && !r.yes && !r.person {
		r.turnTo(s.Now, Consent)
		return
	}
	r.try, r.begun = nil, 0
	r.turnTo(s.Now, Trying)
}

// mayCall says whether the moment of a turn may be said: the water is charted, or a
// person answers for the room.
func (r *Runner) mayCall(s *Sight) bool {
	p, _ := r.current()
	return s.Water.Charted || r.yes || r.person || p != nil && p.CallTurns
}

func (r *Runner) consent(s *Sight) {
	_, e, _ := r.step()
	switch {
	case r.yes:
		r.admit(s, e)
	case s.Now.Seconds(r.since) > consentS:
		r.pause(s.Now, "no yes came: sail freely for a while")
	}
}

// pause lets her sail freely for a while; the introduction comes again after it.
func (r *Runner) pause(t boat.Time, why string) {
	r.told, r.yes, r.try, r.from, r.fails = false, false, nil, 0, 0
	r.turnTo(t, Resting)
	r.text = why
}

func (r *Runner) rest(s *Sight) {
	if s.Now.Seconds(r.since) > restS {
		r.turnTo(s.Now, Waiting)
	}
}

// attempt drives the try under way.
func (r *Runner) attempt(s *Sight, st boat.PlanStep, e Exercise) {
	if why := r.lost(s); why != "" {
		if r.unfit == 0 {
			r.unfit = s.Now
		}
		if s.Now.Seconds(r.unfit) >= unfitS {
			r.try, r.wish, r.prompt = nil, boat.TurnWish{}, nil
			r.turnTo(s.Now, Waiting)
			r.text = "waits: " + why
		}
		return
	}
	r.unfit = 0
	if r.try == nil {
		r.try, r.begun = e.begin(st), 0
	}
	m := r.try.step(s)
	r.mute = m.mute
	if m.text != "" {
		r.text = m.text
	}
	if m.begun && r.begun == 0 {
		r.begun = s.Now
	}
	r.wishes(s, m)
	switch {
	case m.end != nil:
		r.finish(s, st, e, *m.end)
	case r.begun != 0 && s.Now.Seconds(r.begun) > max(e.LimitS, 5*st.Seconds):
		r.finish(s, st, e, end{why: "not finished in time"})
	case r.begun == 0 && r.barren(s):
		r.skip(s.Now, e, "left out: there was no chance for it")
	case r.begun == 0 && s.Now.Seconds(r.from) > 60*st.Minutes:
		r.pause(s.Now, "enough of it for now: sail freely for a while")
	}
}

// lost returns why a try under way cannot go on, or "". What the exercise itself is
// about (stopping, irons after a tack) is left to the try.
func (r *Runner) lost(s *Sight) string {
	switch {
	case s.Now < r.quiet:
		return "quiet was asked for"
	case s.Deaf:
		return "the phone is not heard"
	case s.Mode == boat.Motoring || s.Mode == boat.Drifting || s.Mode == boat.Capsized:
		return "she is not sailing"
	case !s.Wind.Known:
		return "the wind is not known"
	case s.overLimit():
		return "there is more wind than her limit"
	case s.Water.Near:
		return "the shore or another boat is near"
	}
	return ""
}

// wishes hands on what the try asks for, where she is fit for it.
func (r *Runner) wishes(s *Sight, m move) {
	if m.prompt != nil && (s.unfit() == "" || m.prompt.Key == boat.Result) {
		r.ask(s.Now, *m.prompt)
	}
	if m.turn.Kind != "" && s.unfit() == "" {
		r.id++
		r.wish, r.wished = m.turn, s.Now
		r.wish.ID, r.wish.Call = r.id, r.mayCall(s)
	}
}

// finish counts a try, says what came of it and opens the next step when it is earned.
func (r *Runner) finish(s *Sight, st boat.PlanStep, e Exercise, x end) {
	r.try, r.begun, r.wish, r.mute = nil, 0, boat.TurnWish{}, boat.Mute{}
	if x.void {
		r.show(r.state(e, Void, "does not count: "+x.why))
		r.turnTo(s.Now, Waiting)
		return
	}
	r.tries = append(r.tries, x.good)
	r.over = s.Now
	o := r.state(e, Result, x.why)
	o.Score = map[string]float64{"good": 0}
	if x.good {
		o.Score["good"] = 1
	}
	for k, v := range x.score { // order does not reach an output: a map is filled from a map
		o.Score[k] = round2(v)
	}
	r.show(o)
	r.fails++
	if x.good {
		r.fails = 0
	}
	open := r.opened(st)
	if r.fails <= saidFail {
		r.ask(s.Now, boat.Prompt{Key: boat.Result, Variant: r.verdict(x, open), WhyCode: "exercise", Why: e.Title + ": " + x.why})
	}
	if open {
		r.show(r.state(e, Opened, fmt.Sprintf("%d good of %d: the next is open", o.Good, o.Tries)))
		r.advance(s.Now)
		return
	}
	if r.fails >= restFail {
		r.pause(s.Now, "enough of it for now: sail freely for a while")
		return
	}
	r.turnTo(s.Now, Waiting)
	r.text = "waits for the next try"
}

// verdict names the spoken result. What a test found is worth more than that the
// next step is open.
func (r *Runner) verdict(x end, open bool) string {
	p, at := r.current()
	switch {
	case x.result != "":
		return x.result
	case open && r.aside == nil && p != nil && at+1 == len(p.Steps):
		return "plan_over"
	case open:
		return "opened"
	case x.good:
		return "counts"
	}
	return "once_more"
}

func (r *Runner) skip(t boat.Time, e Exercise, why string) {
	r.show(r.state(e, Skipped, why))
	r.advance(t)
}
