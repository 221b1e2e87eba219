package app

import (
	"fmt"
	"io"
	"strings"

	"go.uber.org/zap"

	"helmcue/internal/boat"
	"helmcue/internal/exercise"
	"helmcue/internal/lake"
	"helmcue/internal/phonemsg"
	"helmcue/internal/plan"
	"helmcue/internal/server"
)

// unknown refuses an act that names a plan or an exercise that there is not, so that
// the page hears of it at once.
func unknown(ins []boat.Input) error {
	for _, in := range ins {
		switch a := in.Act; {
		case a == nil || a.Phrase == "":
		case a.Act == "plan":
			if _, err := plan.Find(a.Phrase); err != nil {
				return phonemsg.Errorf(phonemsg.OutOfRange, "%v", err)
			}
		case a.Act == "exercise":
			if _, ok := exercise.Find(a.Phrase); !ok {
				return phonemsg.Errorf(phonemsg.OutOfRange, "expected an exercise (%s), got %.60q", strings.Join(exercise.Names(), ", "), a.Phrase)
			}
		}
	}
	return nil
}

// toChoose returns the built-in plans and the exercises, by name and title.
func toChoose() (plans, exercises []phonemsg.Phrase) {
	for _, name := range plan.Names() {
		if p, err := plan.Find(name); err == nil {
			plans = append(plans, phonemsg.Phrase{Key: name, Words: p.Title})
		}
	}
	for _, e := range exercise.All() {
		exercises = append(exercises, phonemsg.Phrase{Key: e.Name, Words: e.Title})
	}
	return plans, exercises
}

// drawn checks a chart that was drawn on a page.
func drawn(chart io.Reader) (server.ShoreReply, error) {
	w, notes, err := lake.Read(chart)
	if err != nil {
		return server.ShoreReply{}, err
	}
	return server.ShoreReply{Says: fmt.Sprintf("read as %d areas, %d marks and ramps, %d bridges", len(w.Areas), len(w.Marks), len(w.Bridges)), Notes: notes}, nil
}

// planned returns the settings after an act that chooses a plan of exercises; its
// Phrase names a built-in one, or none for free sailing. A name that there is not
// changes nothing.
func (s *seat) planned(a boat.Act) (boat.Settings, bool) {
	next := s.settings
	if a.Act != "plan" {
		return next, false
	}
	next.Plan = nil
	if a.Phrase == "" {
		return next, true
	}
	p, err := plan.Find(a.Phrase)
	if err != nil {
		s.log.Warn("a plan was asked for that there is not", zap.String("boat", s.name), zap.Error(err))
		return next, false
	}
	next.Plan = &p
	return next, true
}
