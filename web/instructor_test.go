package web_test

import (
	"strings"
	"testing"
)

// following opens the instructor's page with three boats out.
func following(t *testing.T) (*double, *tab) {
	t.Helper()
	d := newDouble(t)
	d.set(func() { d.role = "instructor" })
	b := open(t, d, "/instructor#XY45ZZ")
	d.await(t, "join", "a join", func(m []message) bool { return len(m) == 1 })
	for _, s := range fleet() {
		d.tell(s)
	}
	b.awaitText("#title", "Three boats out")
	return d, b
}

// fleet is a made-up afternoon: one well, one in irons, one nearly out of battery.
func fleet() []message {
	return []message{
		status("Wren", message{"told": message{"words": "bear away five degrees", "why": "", "t": now() - 8000, "id": 3}}),
		status("Tern", message{"mode": "irons", "sog": 0.2, "twa": 4, "share": nil, "target_kn": nil, "told": message{"words": "let the sheet go", "why": "", "t": now() - 6000, "id": 9},
			"turns": message{"tacks": 2, "gybes": 0}}),
		status("Plover", message{"mode": "reaching", "twa": -95, "sog": 3, "share": 0.99,
			"health": message{"link": "ok", "deaf": false, "sound": "phone", "compass": false, "acc": 25, "batt": 0.2}, "turns": message{"tacks": 4, "gybes": 1}}),
	}
}

func TestInstructorSeesSentencesInAStableOrder(t *testing.T) {
	t.Parallel()
	d, b := following(t)
	b.awaitText("#boats li:nth-child(1)", "Close-hauled on starboard, two of three knots.")
	b.awaitText("#boats li:nth-child(1)", "Told “bear away five degrees”")
	b.awaitText("#boats li:nth-child(2).help", "in irons")
	b.awaitText("#boats li:nth-child(3)", "Position only to 25 m, no compass, battery 20 %.")
	all := fleet()
	d.tell(all[2])
	d.tell(all[0])
	var names []string
	b.js("[...document.querySelectorAll('#boats .called')].map((e) => e.textContent)", &names)
	if strings.Join(names, " ") != "Wren Tern Plover" {
		t.Errorf("the order changed: %v", names)
	}
}

func TestInstructorsActs(t *testing.T) {
	t.Parallel()
	d, b := following(t)
	b.tap(`#to [data-to="Tern"]`)
	b.tap("#say")
	b.tap(`#phrases [data-phrase="well_done"]`)
	got := d.await(t, "act", "say", func(m []message) bool { return len(m) == 1 })
	if got[0]["act"] != "say" || got[0]["phrase"] != "well_done" || got[0]["boat"] != "Tern" {
		t.Errorf("got %v", got[0])
	}
	b.awaitText("#sent", "Sent “well done, carry on” · Tern")

	b.tap("#set-wind")
	b.awaitText("#wind-dir", "From 240° true")
	b.tap(`[data-turn="30"]`)
	b.tap(`[data-turn="-5"]`)
	b.tap(`[data-blow="5"]`)
	b.tap("#send-wind")
	got = d.await(t, "act", "wind", func(m []message) bool { return len(m) == 2 })
	if got[1]["act"] != "wind" || got[1]["dir"] != 265.0 || got[1]["ref"] != "true" || got[1]["kn"] != 14.0 || got[1]["boat"] != "Tern" {
		t.Errorf("got %v", got[1])
	}

	b.tap(`#to [data-to=""]`)
	b.tap("#mark")
	got = d.await(t, "act", "a mark for each boat", func(m []message) bool { return len(m) == 5 })
	var boats []string
	for _, m := range got[2:] {
		if m["act"] != "mark" {
			t.Errorf("got %v", m)
		}
		boats = append(boats, m["boat"].(string))
	}
	if strings.Join(boats, " ") != "Wren Tern Plover" {
		t.Errorf("marked %v", boats)
	}
}

func TestInstructorsOpenedLine(t *testing.T) {
	t.Parallel()
	d, b := following(t)
	b.tap("#boats li:nth-child(3) .open")
	b.awaitText("#boats li:nth-child(3) .angle", "95° on port")
	b.tap(`#boats li:nth-child(3) [data-phrase="look_around"]`)
	got := d.await(t, "act", "say", func(m []message) bool { return len(m) == 1 })
	if got[0]["boat"] != "Plover" || got[0]["phrase"] != "look_around" {
		t.Errorf("got %v", got[0])
	}
}

func TestInstructorAimsTheWind(t *testing.T) {
	t.Parallel()
	d, b := following(t)
	b.orient("deviceorientation", 5, 0, 0, "webkitCompassHeading: 123, webkitCompassAccuracy: 5")
	b.tap("#set-wind")
	b.tap("#aim")
	b.awaitText("#aim-hint", "tap once more")
	b.js("new Promise((done) => setTimeout(done, 300))")
	b.tap("#aim")
	b.awaitText("#wind-dir", "From 125° by compass")
	b.tap("#send-wind")
	got := d.await(t, "act", "wind for all", func(m []message) bool { return len(m) == 3 })
	if got[0]["dir"] != 125.0 || got[0]["ref"] != "mag" {
		t.Errorf("got %v", got[0])
	}
}

func TestInstructorIsToldWhenAnActCannotLeave(t *testing.T) {
	t.Parallel()
	d, b := following(t)
	d.set(func() { d.down = true })
	d.cut()
	b.awaitText("#link", "No link to the service")
	var off bool
	b.js("document.querySelector('#mark').disabled", &off)
	if !off {
		t.Error("mark may be tapped without a link")
	}
	d.set(func() { d.down = false })
	d.await(t, "join", "a second join", func(m []message) bool { return len(m) == 2 })
}
