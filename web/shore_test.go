package web_test

import (
	"encoding/json"
	"fmt"
	"net/http"
	"testing"

	"helmcue/internal/lake"
)

// shore reads a chart as the service does.
func (d *double) shore(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("Content-Type", "application/json")
	if r.Header.Get("Authorization") != "Bearer token-XY45ZZ" {
		w.WriteHeader(http.StatusUnauthorized)
		json.NewEncoder(w).Encode(message{"type": "error", "code": "bad_token", "text": "this page is not paired"})
		return
	}
	chart, notes, err := lake.Read(r.Body)
	if err != nil {
		w.WriteHeader(http.StatusUnprocessableEntity)
		json.NewEncoder(w).Encode(message{"type": "error", "code": "bad_request", "text": err.Error()})
		return
	}
	json.NewEncoder(w).Encode(message{"says": fmt.Sprintf("read as %d areas", len(chart.Areas)), "notes": append([]string{}, notes...)})
}

// drawing opens the sheet on a device paired as instructor, its middle where it is.
func drawing(t *testing.T) *tab {
	t.Helper()
	b := open(t, newDouble(t), "/shore")
	b.js(`localStorage.setItem('helmcue.pass.instructor', JSON.stringify({token: 'token-XY45ZZ', role: 'instructor', boat: ''})); 0`)
	b.tap("#here")
	b.awaitText("#scale", "1000 m wide")
	return b
}

// corners taps the sheet at shares of its width.
const corners = `((list) => { const s = document.querySelector('#sheet'); for (const [x, y] of list) { const b = s.getBoundingClientRect();
	s.dispatchEvent(new MouseEvent('click', {bubbles: true, clientX: b.left + x * b.width, clientY: b.top + y * b.height})); } return 0; })`

func TestAShoreIsDrawnCheckedAndKept(t *testing.T) {
	t.Parallel()
	b := drawing(t)
	b.js(corners + `([[0.1, 0.1], [0.9, 0.9], [0.9, 0.1], [0.1, 0.9]])`)
	b.tap("#close")
	b.awaitText("#drawn", "Land, 4 corners, height not known")
	b.tap("#check")
	b.awaitText("#told", "not to cross itself")
	for range 4 { // the outline opens again, then three corners go
		b.tap("#undo")
	}
	b.js(corners + `([[0.9, 0.1], [0.9, 0.9]])`)
	b.js(`document.querySelector('[name=height]').value = '8'; 0`)
	b.tap("#close")
	b.awaitText("#drawn", "8 m high")
	b.tap(`[data-kind="ramp"]`)
	b.js(corners + `([[0.5, 0.5]])`)
	b.awaitText("#drawn", "Ramp.")
	b.tap("#check")
	b.awaitText("#checked", "Good: read as")
	b.visit("/shore")
	b.awaitText("#drawn", "8 m high")
}

func TestLooksOfDrawing(t *testing.T) {
	t.Parallel()
	b := drawing(t)
	b.js(corners + `([[0.1, 0.1], [0.9, 0.2], [0.6, 0.5]])`)
	b.tap("#close")
	b.js(corners + `([[0.2, 0.7], [0.4, 0.9]])`)
	b.js(`document.querySelector('#sheet').scrollIntoView({block: 'center'}); 0`)
	b.looks("shore")
	b.axe("drawing")
}

// What was sailed lies under the pen, and is in the chart that is saved.
func TestAChartFromAFileLiesUnderThePen(t *testing.T) {
	t.Parallel()
	b := drawing(t)
	b.js(`(() => { const pass = new DataTransfer();
		pass.items.add(new File([JSON.stringify({type: 'FeatureCollection', draft: true, features: [
			{type: 'Feature', properties: {kind: 'water'}, geometry: {type: 'Polygon', coordinates: [[[8, 47], [8.01, 47], [8.01, 47.01], [8, 47]]]}},
			{type: 'Feature', properties: {kind: 'sailed'}, geometry: {type: 'MultiPoint', coordinates: [[8.001, 47.001], [8.003, 47.002]]}}]})], 'draft.geojson'));
		const input = document.querySelector('#file'); input.files = pass.files; input.dispatchEvent(new Event('change')); return 0; })()`)
	b.awaitText("#scale", "m wide")
	b.awaitText("#drawn", "Nothing yet")
	b.js(corners + `([[0.2, 0.2], [0.8, 0.2], [0.8, 0.8]])`)
	b.tap("#close")
	b.awaitText("#drawn", "Land, 3 corners")
	var shapes int
	if b.js(`document.querySelectorAll('#sheet .sailed').length`, &shapes); shapes != 1 {
		t.Errorf("%d shapes of places sailed on the sheet, want 1", shapes)
	}
	b.looks("shore-draft")
	b.axe("drawing over a draft")
}

// The boats an instructor follows are on the drawing, each with her name.
func TestBoatsAreOnTheDrawing(t *testing.T) {
	t.Parallel()
	d := newDouble(t)
	d.set(func() { d.state = status("Wren", message{"at": []float64{8.2, 47.1}}) })
	b := open(t, d, "/shore")
	b.js(`localStorage.setItem('helmcue.pass.instructor', JSON.stringify({token: 'token-XY45ZZ', role: 'instructor', boat: ''})); 0`)
	b.visit("/shore")
	b.js(`document.querySelector('[name=lat]').value = '47.1'; document.querySelector('[name=lon]').value = '8.2'; document.querySelector('#middle').requestSubmit(); 0`)
	b.awaitText("#sheet", "Wren")
}
