package exercise

import "helmcue/internal/boat"

// Answer takes the sailor's knocks and says whether they were meant for the
// exercise: two say yes where one is asked for, and next after a result. Three are
// everybody's: the exercise waits while it is quiet.
func (r *Runner) Answer(t boat.Time, a boat.Answer) bool {
	r.now = max(r.now, t)
	_, e, ok := r.step()
	switch {
	case a.Knocks == 3:
		r.quiet = r.now.After(quietS)
		return false
	case !ok || a.Knocks != 2:
		return false
	case r.phase == Consent:
		r.yes = true
		return true
	case len(r.tries) > 0 && r.begun == 0 && r.over != 0 && r.now.Seconds(r.over) <= nextS:
		r.skip(r.now, e, "the sailor goes on to the next")
		return true
	}
	return false
}

// Act takes what an instructor did: exercise with Text start (Phrase names which;
// empty: the step the plan stands at), skip, or stop (no exercises any more); resume
// ends the quiet. Other acts are no matter of the Runner. It says in words for
// people why an act was not followed, or "".
func (r *Runner) Act(t boat.Time, a boat.Act) string {
	r.now = max(r.now, t)
	switch a.Act {
	case "resume":
		r.quiet = 0
	case "quiet":
		r.quiet = r.now.After(quietS)
	case "exercise":
		return r.order(a)
	}
	return ""
}

func (r *Runner) order(a boat.Act) string {
	_, e, ok := r.step()
	switch a.Text {
	case "stop":
		r.plan, r.aside, r.prompt, r.at = nil, nil, nil, 0
		r.enter(r.now)
	case "skip":
		if !ok {
			return "there is no exercise to skip"
		}
		r.skip(r.now, e, "the instructor goes on to the next")
	case "start", "":
		return r.start(a.Phrase)
	default:
		return "an exercise can be started, skipped or stopped, not " + a.Text
	}
	return ""
}

func (r *Runner) start(name string) string {
	if name != "" {
		if _, ok := Find(name); !ok {
			return "there is no exercise called " + name
		}
		r.aside = &boat.Plan{Steps: []boat.PlanStep{{Exercise: name}}}
	} else if _, _, ok := r.step(); !ok {
		return "there is no plan to go on with"
	}
	r.enter(r.now)
	r.person = true
	return ""
}
