package app

import (
	"helmcue/internal/ashore"
	"helmcue/internal/exercise"
	"helmcue/internal/server"
)

// outing works out what to know before going, for the page that plans a day.
func (a *App) outing(o server.Outing) (any, error) {
	set := a.cfg.Settings
	var titles []string
	if set.Plan != nil {
		for _, s := range set.Plan.Steps {
			if e, ok := exercise.Find(s.Exercise); ok {
				titles = append(titles, e.Title)
			}
		}
	}
	return ashore.Look(ashore.Ask{
		Water: *set.Water, FromDeg: o.FromDeg, SDDeg: o.SDDeg, Kn: o.Kn, ShiftDeg: o.ShiftDeg,
		LengthM: set.LengthM, LimitKn: set.LimitKn, Lengths: o.Lengths, Practise: titles, Now: nowMS(),
	})
}
