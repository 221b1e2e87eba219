package clock

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"helmcue/internal/boat"
)

const start boat.Time = 1750000000000

// phone sends once every 100 ms with a clock that is off by offset.
type phone struct {
	e      Estimator
	offset boat.Time // service minus phone
}

// hear is one message made at real time made, arriving delay later; it returns
// the error of the mapped time in milliseconds.
func (p *phone) hear(made, delay boat.Time) boat.Time {
	p.e.Observe(made-p.offset, made+delay)
	return p.e.Map(made-p.offset) - made
}

func TestOffsetIsTheLeastDelay(t *testing.T) {
	p := phone{offset: -7 * 3600 * 1000}
	var err boat.Time
	for i, delay := range []boat.Time{120, 40, 90, 15, 80, 90} {
		err = p.hear(start+boat.Time(i)*100, delay)
	}
	if err < 0 || err > 16 {
		t.Errorf("after a delay of 15 ms was seen times are %d ms late", err)
	}
}

// TestLateSamplesKeepTheirOwnTime: two minutes without link, then all at once.
func TestLateSamplesKeepTheirOwnTime(t *testing.T) {
	p := phone{offset: 5000}
	for i := range boat.Time(50) {
		p.hear(start+i*100, 20)
	}
	back := start + 125_000
	for i := boat.Time(50); i < 1250; i++ {
		made := start + i*100
		if err := p.hear(made, back-made); err < 0 || err > 40 {
			t.Fatalf("sample %d is %d ms off", i, err)
		}
	}
	if err := p.hear(back+100, 20); err < 0 || err > 40 {
		t.Errorf("after the gap live samples are %d ms off", err)
	}
	if p.e.Resets() != 0 {
		t.Error("a waiting batch was taken for a clock set anew")
	}
}

func TestOneTimeFromTheFutureMovesNothing(t *testing.T) {
	p := phone{}
	for i := range boat.Time(50) {
		p.hear(start+i*100, 20)
	}
	now := start + 5000
	p.e.Observe(now+3600_000, now+20)
	if at := p.e.Map(now + 3600_000); at != now+20 {
		t.Errorf("a time one hour ahead was mapped to %d ms after its arrival", at-now-20)
	}
	if err := p.hear(now+100, 20); err < 0 || err > 25 {
		t.Errorf("the next sample is %d ms off", err)
	}
}

// TestClockSetAnew: the phone's clock jumps by an hour either way while sailing.
func TestClockSetAnew(t *testing.T) {
	for _, jump := range []boat.Time{3600_000, -3600_000} {
		p := phone{}
		for i := range boat.Time(50) {
			p.hear(start+i*100, 20)
		}
		p.offset = -jump
		var err boat.Time
		for i := boat.Time(50); i < 110; i++ {
			made := start + i*100
			if err = p.hear(made, 20); err > 20 {
				t.Fatalf("jump %d: mapped %d ms into the future", jump, err)
			}
		}
		if err < 0 || err > 25 || p.e.Resets() != 1 {
			t.Errorf("jump %d: six seconds later %d ms off, %d resets", jump, err, p.e.Resets())
		}
	}
}

// TestServiceRestart: the first thing heard is a waiting batch.
func TestServiceRestart(t *testing.T) {
	p := phone{}
	now := start + 60_000
	for i := range boat.Time(600) {
		p.hear(start+i*100, now-start-i*100)
	}
	var err boat.Time
	for i := range boat.Time(60) {
		err = p.hear(now+i*100, 20)
	}
	if err < 0 || err > 25 {
		t.Errorf("six seconds after the start times are %d ms off", err)
	}
}

func TestComplaint(t *testing.T) {
	p := phone{offset: -12 * 60_000}
	if p.e.Complaint() != "" {
		t.Error("complains before anything was heard")
	}
	p.hear(start, 20)
	if c := p.e.Complaint(); !strings.Contains(c, "12 minutes ahead of") {
		t.Errorf("complaint is %q", c)
	}
	q := phone{offset: 60_000}
	q.hear(start, 20)
	if c := q.e.Complaint(); c != "" {
		t.Errorf("one minute off is no reason to complain, got %q", c)
	}
}

// TestProperties: any offset, drift of ordinary quartz, network delay and
// outages: a mapped time is never in the future, never falls, and is off by no
// more than the delays seen lately and what drift can hide.
func TestProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		offset := rapid.Int64Range(-1e12, 1e12).Draw(t, "offset")
		ppm := rapid.IntRange(-80, 80).Draw(t, "ppm")
		var e Estimator
		var last, arrived boat.Time
		worst := boat.Time(0)
		n := rapid.IntRange(20, 300).Draw(t, "n")
		down := rapid.IntRange(0, 300).Draw(t, "down")
		for i := range n {
			made := start + boat.Time(i)*100
			delay := boat.Time(rapid.IntRange(5, 400).Draw(t, "delay"))
			worst = max(worst, delay)
			if i >= down && i < down+100 {
				delay = max(delay, start+boat.Time(down+100)*100-made) // waits for the link
			}
			arrived = max(arrived, made+delay)
			sent := made - boat.Time(offset) + boat.Time(i*100*ppm/1_000_000)
			e.Observe(sent, arrived)
			at := e.Map(sent)
			if at > arrived {
				t.Fatalf("message %d is mapped %d ms into the future", i, at-arrived)
			}
			if at < last {
				t.Fatalf("message %d steps back by %d ms", i, last-at)
			}
			if down > 0 && (at-made > worst+20 || at-made < -20) {
				t.Fatalf("message %d is %d ms off, worst delay %d", i, at-made, worst)
			}
			last = at
		}
	})
}
