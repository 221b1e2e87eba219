package web_test

import (
	"testing"
	"time"
)

// squareTacks is where an exercise stands that goes well.
func squareTacks() message {
	return message{"t": now(), "name": "square_tacks", "title": "Square tacks by the compass", "phase": "waiting", "text": "waits for the next try",
		"plan": "to-windward", "step": 3, "steps": 7, "tries": 3, "good": 2}
}

// practised opens the line of a boat that practises.
func practised(t *testing.T) (*double, *tab) {
	t.Helper()
	d, b := following(t)
	d.tell(status("Plover", message{"exercise": squareTacks()}))
	b.awaitText("#boats li:nth-child(3) .practice", "Practising square tacks by the compass, two good of three; step 3 of 7.")
	b.tap("#boats li:nth-child(3) .open")
	return d, b
}

// actOf waits for the n-th act and holds it to what it should say.
func actOf(t *testing.T, d *double, n int, want message) {
	t.Helper()
	got := d.await(t, "act", want["act"].(string), func(m []message) bool { return len(m) == n })[n-1]
	for k, v := range want {
		if got[k] != v {
			t.Errorf("act %d says %v of %s, want %v: %v", n, got[k], k, v, got)
		}
	}
	if got["boat"] != "Plover" {
		t.Errorf("act %d is for %v", n, got["boat"])
	}
}

func TestInstructorLeadsAnExercise(t *testing.T) {
	t.Parallel()
	d, b := practised(t)
	b.tap(`#boats li:nth-child(3) [data-sheet="practice-sheet"]`)
	b.awaitText("#practice-title", "Plover")
	b.awaitText("#practice-now", "two good of three")
	b.tap("#skip")
	actOf(t, d, 1, message{"act": "exercise", "text": "skip"})
	for i, c := range []struct {
		sel  string
		want message
	}{
		{`[data-exercise="gybe"]`, message{"act": "exercise", "phrase": "gybe", "text": "start"}},
		{`[data-plan="first-steps"]`, message{"act": "plan", "phrase": "first-steps"}},
		{"#cease", message{"act": "exercise", "text": "stop"}},
	} {
		b.tap(`#boats li:nth-child(3) [data-sheet="practice-sheet"]`)
		b.tap(c.sel)
		actOf(t, d, i+2, c.want)
	}
	d.tell(message{"type": "error", "code": "out_of_range", "text": "expected a plan (first-steps, to-windward), got \"moon\""})
	b.awaitText("#sent", "Expected a plan")
	d.tell(message{"type": "note", "boat": "Plover", "t": now(), "code": "exercise_refused", "text": "there is no exercise to skip"})
	b.awaitText("#sent", "Plover: there is no exercise to skip")
}

func TestInstructorsActsOnOneBoat(t *testing.T) {
	t.Parallel()
	d, b := practised(t)
	line := "#boats li:nth-child(3) "
	b.tap(line + `[data-act="quiet"]`)
	actOf(t, d, 1, message{"act": "quiet"})
	b.tap(line + `[data-act="resume"]`)
	actOf(t, d, 2, message{"act": "resume"})
	b.tap(line + `[data-sheet="set-sheet"]`)
	b.awaitText("#limit-kn", "15 knots")
	b.tap(`[data-limit="-5"]`)
	b.tap(`[data-limit="1"]`)
	b.tap("#send-limit")
	actOf(t, d, 3, message{"act": "limit", "kn": 11.0})
	b.tap(line + `[data-sheet="set-sheet"]`)
	b.awaitText("#limit-kn", "11 knots")
	b.tap(`[data-level="beginner"]`)
	actOf(t, d, 4, message{"act": "level", "level": "beginner"})
}

// A turn takes a hold and a slide: a touch alone, or a wet sleeve, asks for none.
func TestInstructorAsksForATurn(t *testing.T) {
	t.Parallel()
	d, b := practised(t)
	b.tap(`#boats li:nth-child(3) [data-sheet="turn-sheet"]`)
	b.awaitText("#turn-title", "Plover")
	b.tap("#gybe")
	b.do(press("#gybe", 900*time.Millisecond, 0.1))
	b.do(press("#tack", 900*time.Millisecond, 0.8))
	actOf(t, d, 1, message{"act": "tack"})
	b.tap(`#boats li:nth-child(3) [data-sheet="turn-sheet"]`)
	b.do(press("#gybe", 900*time.Millisecond, 0.8))
	actOf(t, d, 2, message{"act": "gybe"})
}

func TestLooksOfTheInstructorsSheets(t *testing.T) {
	t.Parallel()
	_, b := practised(t)
	b.js(`document.querySelector('#boats li:nth-child(3) .acts').scrollIntoView({block: 'center'}); 0`)
	b.looks("instructor-acts")
	b.bothLooks("the acts on a boat")
	for _, sheet := range []string{"turn-sheet", "practice-sheet", "set-sheet"} {
		b.tap(`#boats li:nth-child(3) [data-sheet="` + sheet + `"]`)
		b.looks("instructor-" + sheet)
		b.bothLooks(sheet)
		b.tap("#" + sheet + " .close")
	}
}

func TestSailorReadsWhatIsPractised(t *testing.T) {
	t.Parallel()
	d, b := sailing(t, "fixed")
	b.tap("#go")
	d.set(func() { d.state = status("Wren", message{"exercise": squareTacks()}) })
	b.awaitText("#practice", "Square tacks by the compass: waits for the next try. Two good of three.")
	b.looks("sailor-practice")
	b.axe("practising")
	d.set(func() { d.state = status("Wren", nil) })
	b.awaitText("#practice", "")
	var gone bool
	for end := time.Now().Add(patience); !gone && time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		b.js("document.querySelector('#practice').hidden", &gone)
	}
	if !gone {
		t.Error("the line stays after the exercise")
	}
}
