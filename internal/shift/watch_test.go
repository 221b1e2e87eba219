package shift

import (
	"math"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// stepped is a wind that goes ten degrees at 300 s; change alters each sight.
func stepped(change func(*Sight)) boat.Shift {
	w := newWorld(2)
	w.skill, w.swingDeg, w.stepDeg, w.stepAt = 0.9, 0, 10, 300
	watch := New()
	var s boat.Shift
	for w.t < 380 {
		in := w.next()
		change(&in)
		s = watch.Step(in)
	}
	return s
}

func TestWhatTellsNothing(t *testing.T) {
	if s := stepped(func(*Sight) {}); s.Kind != boat.Persistent || s.By != "motion" {
		t.Fatalf("on a beat called %+v, want a lasting shift", s)
	}
	for name, change := range map[string]func(*Sight){
		"her headings were asked for": func(s *Sight) { s.Coached = true },
		"on a reach":                  func(s *Sight) { s.Mode = boat.Reaching },
		"no angle":                    func(s *Sight) { s.TWADeg = boat.Reading{} },
		"no heading":                  func(s *Sight) { s.State.HeadingDeg = boat.Reading{} },
		"in a turn":                   func(s *Sight) { s.Turn.Phase = boat.Turning },
	} {
		t.Run(name, func(t *testing.T) {
			if s := stepped(change); s.Kind != "" || s.ID != 0 || s.Unclear {
				t.Errorf("called %+v, want nothing", s)
			}
		})
	}
}

// An instrument shows the wind itself, on any course and whatever the helm does.
func TestInstrumentOnAReach(t *testing.T) {
	for _, step := range []float64{10, -10} {
		watch, now := New(), 0
		var s boat.Shift
		for now = range 330 {
			dir := 200 + float64(2*math.Sin(float64(now)))
			if now >= 300 {
				dir += step
			}
			in := Sight{Mode: boat.Reaching, TWADeg: boat.Some(-90)}
			in.State = boat.State{T: boat.Time(1_800_000_000_000 + int64(now)*1000), HeadingDeg: boat.Some(290), SpeedKn: boat.Some(4)}
			in.Wind = boat.Wind{DirDeg: boat.Some(dir), Known: true, By: "instrument"}
			s = watch.Step(in)
		}
		// On port tack a wind that veers heads her.
		if s.Kind != boat.Persistent || s.By != "instrument" || math.Abs(s.LiftDeg+step) > 3 {
			t.Errorf("called %+v, want a lasting shift of %v", s, -step)
		}
	}
}

// A closeness test: she comes up half a degree a second, and loses speed from
// where she is closer than 38° to the wind; the answer is that heading.
func TestCloseness(t *testing.T) {
	for _, side := range []float64{1, -1} {
		watch := New()
		var s boat.Shift
		kn := 3.5
		for now := range 100 {
			angle := 48.0
			if now > 40 {
				angle = math.Max(30, 48-float64(now-40)/2)
			}
			want := 3.5 * (1 - 0.05*math.Max(0, 38-angle))
			kn += (want - kn) / 4
			in := Sight{Mode: boat.CloseHauled, TWADeg: boat.Some(side * angle)}
			in.State = boat.State{T: boat.Time(1_800_000_000_000 + int64(now)*1000), HeadingDeg: boat.Some(geo.Wrap360(10 - side*angle)), SpeedKn: boat.Some(kn)}
			if now == 38 {
				watch.Asked(in.State.T)
			}
			s = watch.Step(in)
		}
		if off := geo.Diff(geo.Wrap360(10-side*38), s.Close.HeadingDeg); s.Close.T == 0 || math.Abs(off) > 2*s.Close.SDDeg/2 || s.Close.Starboard != (side > 0) {
			t.Errorf("side %v: found %+v, %.1f° off", side, s.Close, off)
		}
	}
}

// She who was asked and does not come up gives no answer.
func TestClosenessNotTried(t *testing.T) {
	w, watch := newWorld(1), New()
	w.skill = 0.9
	var s boat.Shift
	for w.t < 200 {
		in := w.next()
		if w.t == 60 {
			watch.Asked(in.State.T)
		}
		s = watch.Step(in)
	}
	if s.Close.T != 0 {
		t.Errorf("found %+v, want nothing", s.Close)
	}
}

func BenchmarkStep(b *testing.B) {
	w, watch := newWorld(1), New()
	sights := make([]Sight, 10000)
	for i := range sights {
		sights[i] = w.next()
	}
	for i := 0; b.Loop(); i++ {
		if i%len(sights) == 0 {
			watch = New()
		}
		watch.Step(sights[i%len(sights)])
	}
}
