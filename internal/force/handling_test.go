package force

import (
	"math"
	"testing"
)

// tack puts the helm over from close-hauled on starboard tack with a share of her
// full speed, and says when the bow passed the wind (negative: never) and the least
// speed in the 20 seconds, m/s.
func tack(b Boat, kn, share float64) (eyeS, least, entry float64) {
	w := Wind{From: 0, MS: kn * knot}
	sheet, at := b.Trim(48*deg, w.MS, Settled{})
	entry = at.MS * share
	s := State{Heading: -48 * deg, U: entry, Boom: sheet, Heel: -at.Heel * share}
	eyeS, least = -1, s.U
	hike := at.Hike * share
	for i := range 400 {
		rudder := 0.45
		if s.Heading > 35*deg {
			rudder = clamp(2*(48*deg-s.Heading)-1.2*s.R, -0.6, 0.6)
		}
		to := math.Copysign(1, -s.Heading)
		hike = crew(hike, -to*s.Heel, 0.05)
		b.Step(&s, Controls{Sheet: sheet, Rudder: rudder, Hike: to * hike}, w, 0.05)
		least = math.Min(least, s.U)
		if eyeS < 0 && s.Heading > 0 {
			eyeS = float64(i) * 0.05
		}
	}
	return eyeS, least, entry
}

// A tack with way on passes the wind in a few seconds and costs speed; one without
// way dies in it (common practice, no source).
func TestTackNeedsWay(t *testing.T) {
	b := dinghy()
	for _, kn := range []float64{6, 9, 13} {
		eye, least, entry := tack(b, kn, 1)
		if eye < 1 || eye > 8 || least > 0.85*entry || least < 0 {
			t.Errorf("%.0f knots: with way on the bow passed the wind after %.1f s, %.2f of %.2f m/s left", kn, eye, least, entry)
		}
	}
	if eye, _, _ := tack(b, 9, 0.12); eye >= 0 && eye < 8 {
		t.Errorf("with hardly any way she tacked in %.1f s", eye)
	}
}

// Out of irons: with the jib to windward the bow falls off; with nothing done she
// does not sail away head to wind.
func TestBackingTurnsHerOffTheWind(t *testing.T) {
	b := dinghy()
	s := State{Heading: 3 * deg}
	for range 20 * 20 {
		b.Step(&s, Controls{Sheet: 1.5, Back: 0.7}, Wind{MS: 9 * knot}, 0.05)
	}
	if math.Abs(wrap(s.Heading)) < 40*deg {
		t.Errorf("after 20 s with the jib held to windward she lies %.0f° off the wind", s.Heading/deg)
	}
	if at := b.Settle(8*deg, 9*knot, LeastSheet, Settled{}); at.MS > 0.05 {
		t.Errorf("eight degrees off the wind she makes %.2f m/s to windward", at.MS)
	}
}

// Easing in a gust takes the heel off her, while the crew still sits in the middle.
func TestEasingTakesTheHeelOff(t *testing.T) {
	b := dinghy()
	heel := func(sheet float64) float64 {
		s := State{U: 2}
		for range 20 * 4 {
			c := Controls{Sheet: sheet, Rudder: clamp(-2*s.Heading-1.2*s.R, -0.6, 0.6)}
			b.Step(&s, c, Wind{From: 55 * deg, MS: 16 * knot}, 0.05)
		}
		return -s.Heel
	}
	if in, out := heel(0.25), heel(0.75); in < 10*deg || out > 0.8*in {
		t.Errorf("four seconds into a gust she heels %.0f° sheeted in and %.0f° eased", in/deg, out/deg)
	}
}

// On a reach a sail made fast far in is stalled and one let out flaps: both slow her.
func TestTrimMatters(t *testing.T) {
	b := dinghy()
	sheet, best := b.Trim(90*deg, 9*knot, Settled{})
	tight, slack := b.Settle(90*deg, 9*knot, 0.12, Settled{}), b.Settle(90*deg, 9*knot, 1.45, Settled{})
	if tight.MS > 0.85*best.MS || slack.MS > 0.8*best.MS {
		t.Errorf("best %.2f m/s at %.0f°; hauled in %.2f, let out %.2f", best.MS, sheet/deg, tight.MS, slack.MS)
	}
	if sheet < 20*deg || sheet > 65*deg {
		t.Errorf("across the wind the boom stands best at %.0f°", sheet/deg)
	}
}

// Nobody on the rail and the sheet fast in a great wind: over she goes, and lies.
func TestCapsizes(t *testing.T) {
	b := dinghy()
	s := State{U: 2}
	for range 20 * 15 {
		b.Step(&s, Controls{Sheet: 0.2, Rudder: clamp(-1.5*s.Heading-s.R, -0.6, 0.6)}, Wind{From: 80 * deg, MS: 26 * knot}, 0.05)
	}
	if math.Abs(s.Heel) < 70*deg {
		t.Errorf("with the sheet fast in 26 knots and nobody out she heels %.0f°", s.Heel/deg)
	}
}

// With the helm hard over and way on she turns in a few of her lengths (common
// practice, no source).
func TestTurningCircle(t *testing.T) {
	b := dinghy()
	s := State{U: 2}
	lo, hi := 0.0, 0.0
	for range 20 * 30 {
		s.U = math.Max(s.U, 1.5) // an engine that keeps way on
		b.Step(&s, Controls{Sheet: 1.5, Rudder: 0.45}, Wind{}, 0.05)
		lo, hi = math.Min(lo, s.EastM), math.Max(hi, s.EastM)
	}
	if wide := (hi - lo) / b.LengthM; wide < 1 || wide > 5 || s.Heading < 2*math.Pi {
		t.Errorf("she turns in %.1f lengths and by %.0f° in half a minute", wide, s.Heading/deg)
	}
}

// Foils at worked numbers: a thin foil of aspect ratio 4 lifts 2 pi/(1+2/4) a radian
// (lifting-line theory, any textbook; from memory), a plate across the flow lifts
// nothing and has a drag near 1.2 (Hoerner, from memory).
func TestFoils(t *testing.T) {
	f := foil{aspect: 4, stall: 0.3, drag0: 0.01, plate: 1.2}
	if lift, _ := f.at(0.05); math.Abs(lift/0.05-4.18) > 0.03 {
		t.Errorf("lift slope %.3f a radian, want 4.18", lift/0.05)
	}
	if lift, drag := f.at(math.Pi / 2); math.Abs(lift) > 1e-9 || math.Abs(drag-1.21) > 1e-9 {
		t.Errorf("across the flow it lifts %.3f with a drag of %.3f", lift, drag)
	}
	best, _ := f.at(0.2)
	if past, _ := f.at(0.6); past > 0.8*best {
		t.Errorf("past the stall it still lifts %.2f of %.2f", past, best)
	}
}

// Friction by the ITTC 1957 line, 0.075/(log10 Re - 2)^2, worked for two knots; and the
// wall of waves near hull speed: drag over speed squared grows by half and more from
// Froude number 0.3 to 0.45 (shape from memory after the Delft series).
func TestResistance(t *testing.T) {
	b := dinghy()
	u := 0.55 // m/s: Froude number below 0.1, hardly a wave
	re := u * b.WaterM * 0.7 / 1.14e-6
	cf := 0.075 / math.Pow(math.Log10(re)-2, 2)
	want := 0.5 * 1000 * u * u * b.WettedM2 * 1.15 * cf
	if got := b.resistance(u, 0); math.Abs(got/want-1) > 0.2 {
		t.Errorf("at %.2f m/s she drags %.2f N, want %.2f and a little for waves", u, got, want)
	}
	at := func(fn float64) float64 {
		v := fn * math.Sqrt(9.81*b.WaterM)
		return b.resistance(v, 0) / (v * v)
	}
	if r := at(0.45) / at(0.3); r < 1.5 {
		t.Errorf("from Froude number 0.3 to 0.45 drag over speed squared grows %.1f times", r)
	}
	if r := at(0.9) / at(0.5); r > 1 {
		t.Errorf("past the hump it still grows, %.1f times", r)
	}
}
