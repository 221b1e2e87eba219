package app

import (
	"go.uber.org/zap"

	"helmcue/internal/boat"
	"helmcue/internal/plan"
)

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
