package web_test

import (
	"context"
	"encoding/json"
	"net/http"
	"regexp"
	"strconv"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"helmcue/internal/ashore"
	"helmcue/internal/lake"
)

// plan answers as the service does, for the made-up lake.
func (d *double) plan(w http.ResponseWriter, r *http.Request) {
	num := func(name string) float64 {
		v, _ := strconv.ParseFloat(r.URL.Query().Get(name), 64)
		return v
	}
	if num("from") == 13 {
		http.Error(w, "there is no chart of the water", http.StatusNotFound)
		return
	}
	b, err := ashore.Look(ashore.Ask{Water: lake.Demo(), FromDeg: num("from"), Kn: num("kn"), ShiftDeg: num("shift"), LengthM: 4.2, LimitKn: 12, Practise: []string{"Stop and start", "Reach to and fro", "Tack from a reach", "How close will she go", "A mark to windward", "On your own"}, Now: 1_813_500_000_000})
	if err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	json.NewEncoder(w).Encode(b) //nolint:errcheck // the page tells
}

func TestLooksOfPlanning(t *testing.T) {
	t.Parallel()
	d := newDouble(t)
	b := open(t, d, "/before")
	b.awaitText("#says", "knots")
	b.looks("before")
}

func TestPlanningADay(t *testing.T) {
	t.Parallel()
	d := newDouble(t)
	b := open(t, d, "/before")
	b.awaitText("#says", "Room to practise")
	var shapes, checks int
	b.js("document.querySelectorAll('#now .lee').length", &shapes)
	b.js("document.querySelectorAll('#checks input').length", &checks)
	if shapes < 10 || checks < 5 {
		t.Errorf("%d stretches of lee and %d checks are shown", shapes, checks)
	}
	b.js("document.getElementById('kn').value = '16'; document.getElementById('shift').value = '40'; document.getElementById('wind').requestSubmit(); 0")
	b.awaitText("#says", "do not go")
	var later bool
	b.js("!document.getElementById('later').hidden && document.querySelectorAll('#then .lee').length > 10", &later)
	if !later {
		t.Error("the water after the shift is not drawn")
	}
	b.visit("/before")
	b.awaitText("#says", "do not go") // what was asked is kept
	b.js("document.getElementById('from').value = '13'; document.getElementById('wind').requestSubmit(); 0")
	b.awaitText("#fault", "no chart")
}

// With a map for the shift to come, too, all stands on one sheet of paper.
func TestThePlanPrintsOnOneSheet(t *testing.T) {
	t.Parallel()
	b := open(t, newDouble(t), "/before")
	b.awaitText("#says", "Room to practise")
	b.js("document.getElementById('shift').value = '40'; document.getElementById('who').value = 'the harbour office'; document.getElementById('wind').requestSubmit(); 0")
	b.awaitText("#says", "To practise")
	var pages int
	b.do(chromedp.WaitVisible("#then svg", chromedp.ByQuery), chromedp.ActionFunc(func(ctx context.Context) error {
		pdf, _, err := page.PrintToPDF().WithPreferCSSPageSize(true).WithPrintBackground(true).Do(ctx)
		pages = len(regexp.MustCompile(`/Type\s*/Page[^s]`).FindAll(pdf, -1))
		return err
	}))
	if pages != 1 {
		t.Errorf("the plan takes %d sheets, want 1", pages)
	}
}
