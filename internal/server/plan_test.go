package server

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"go.uber.org/zap"
)

func TestPlanIsAskedWithTheWind(t *testing.T) {
	var got Outing
	s := &Server{cfg: Config{Log: zap.NewNop(), Plan: func(o Outing) (any, error) { got = o; return map[string]int{"rooms": 2}, nil }}}
	ask := func(query string) (int, string) {
		w := httptest.NewRecorder()
		s.servePlan(w, httptest.NewRequest(http.MethodGet, "/plan.json?"+query, nil))
		return w.Code, w.Body.String()
	}
	if code, body := ask("from=225&kn=9&shift=-20"); code != http.StatusOK || !strings.Contains(body, `"rooms":2`) {
		t.Errorf("got %d %s", code, body)
	}
	if got != (Outing{FromDeg: 225, Kn: 9, ShiftDeg: -20}) {
		t.Errorf("asked with %+v", got)
	}
	for _, query := range []string{"", "kn=9", "from=north", "from=400", "from=NaN", "from=225&kn=-1", "from=225&sd=0", "from=225&shift=200"} {
		if code, body := ask(query); code != http.StatusBadRequest || !strings.Contains(body, "expected") {
			t.Errorf("%q: got %d %s", query, code, body)
		}
	}
	s.cfg.Plan = nil
	if code, body := ask("from=1"); code != http.StatusNotFound || !strings.Contains(body, "water") {
		t.Errorf("without a chart: %d %s", code, body)
	}
}
