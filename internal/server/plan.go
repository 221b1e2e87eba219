package server

import (
	"encoding/json"
	"net/http"
	"strconv"

	"go.uber.org/zap"
)

// Outing is what the page for planning asks: the wind as it is told, and what is to
// come of it. Directions are true, 0 to 360.
type Outing struct {
	FromDeg, SDDeg, Kn, ShiftDeg float64
	Lengths                      float64 // radius of room wanted, boat lengths; 0: as usual
}

// servePlan answers with what Config.Plan makes of the wind in the address. The chart
// is no secret of anybody's, so no token is asked for.
func (s *Server) servePlan(w http.ResponseWriter, r *http.Request) {
	if s.cfg.Plan == nil {
		http.Error(w, "there is no chart of the water: name one with the key water in the settings file", http.StatusNotFound)
		return
	}
	var o Outing
	for _, f := range []struct {
		name   string
		to     *float64
		lo, hi float64
		must   bool
	}{
		{"from", &o.FromDeg, 0, 360, true}, {"sd", &o.SDDeg, 1, 90, false}, {"kn", &o.Kn, 0, 60, false},
		{"shift", &o.ShiftDeg, -180, 180, false}, {"lengths", &o.Lengths, 2, 500, false},
	} {
		text := r.URL.Query().Get(f.name)
		if text == "" && !f.must {
			continue
		}
		v, err := strconv.ParseFloat(text, 64)
		if err != nil || !(v >= f.lo && v <= f.hi) {
			http.Error(w, "expected "+f.name+" as a number from "+strconv.FormatFloat(f.lo, 'f', -1, 64)+" to "+strconv.FormatFloat(f.hi, 'f', -1, 64), http.StatusBadRequest)
			return
		}
		*f.to = v
	}
	plan, err := s.cfg.Plan(o)
	if err != nil {
		s.cfg.Log.Warn("a plan could not be made", zap.Error(err))
		http.Error(w, "the chart cannot be used: "+err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("Cache-Control", "no-store")
	json.NewEncoder(w).Encode(plan) //nolint:errcheck // a page that left needs no answer
}
