package trial

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// believes is a second of a boat that heads north with the wind from twd, in which
// a direction is believed with an interval of 10 degrees on either side.
func believes(twd, believed float64) moment {
	return moment{
		st: boat.Status{TWDKnown: true, TWDDeg: boat.Some(believed),
			TWDLoDeg: boat.Some(geo.Wrap360(believed - 10)), TWDHiDeg: boat.Some(geo.Wrap360(believed + 10))},
		twd: twd, slow: twd, twa: geo.Wrap180(twd), mode: boat.CloseHauled, after: true,
	}
}

func TestTake(t *testing.T) {
	unknown := believes(45, 45)
	unknown.st.TWDKnown = false
	early := believes(45, 95)
	early.after = false
	for _, c := range []struct {
		name                                  string
		m                                     moment
		after, known, inside, claimed, wrongs int
		errDeg                                float64
	}{
		{"right", believes(45, 45), 1, 1, 1, 1, 0, 0},
		{"a little off", believes(45, 52), 1, 1, 1, 1, 0, 7},
		{"outside", believes(45, 65), 1, 1, 0, 1, 0, 20},
		{"across north", believes(359, 7), 1, 1, 1, 0, 0, 8},
		{"at the end of the interval", believes(45, 35), 1, 1, 1, 1, 0, 10},
		{"the mirror", believes(45, 315), 1, 1, 0, 1, 1, 90},
		{"nearly astern, no side", believes(170, 190), 1, 1, 0, 0, 0, 20},
		{"not known", unknown, 1, 0, 0, 0, 0, 0},
		{"before the second tack", early, 0, 0, 0, 1, 0, 0},
	} {
		var s Score
		s.take(c.m)
		if s.After != c.after || s.Known != c.known || s.Inside != c.inside || s.Claimed != c.claimed || s.Wrong != c.wrongs || s.Err.N() != c.known {
			t.Errorf("%s: %d after, %d known, %d inside, %d claimed, %d wrong, %d errors", c.name, s.After, s.Known, s.Inside, s.Claimed, s.Wrong, s.Err.N())
		}
		if c.known == 1 && math.Abs(s.Err.RMS()-c.errDeg) > 1e-9 {
			t.Errorf("%s: error %v, expected %v", c.name, s.Err.RMS(), c.errDeg)
		}
	}
}

// Quantiles of counted errors against those of the sorted errors themselves.
func TestQuantiles(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	var e, half Errors
	var all []float64
	for i := range 5000 {
		v := math.Min(180, math.Abs(20*r.NormFloat64()))
		all = append(all, v)
		if i%2 == 0 {
			e.Add(v)
		} else {
			half.Add(-v)
		}
	}
	e.Merge(&half)
	slices.SortFunc(all, cmp.Compare[float64])
	square := 0.0
	for _, v := range all {
		square += v * v
	}
	if got, want := e.RMS(), math.Sqrt(square/5000); math.Abs(got-want) > 1e-9 {
		t.Errorf("rms %v, expected %v", got, want)
	}
	for _, q := range []float64{0.01, 0.5, 0.9, 1} {
		if got, want := e.Quantile(q), all[int(q*5000)-1]; math.Abs(got-want) > 0.06 {
			t.Errorf("quantile %v: %v, the sorted errors have %v", q, got, want)
		}
	}
	if v := new(Errors).Quantile(0.5); !math.IsNaN(v) {
		t.Errorf("the median of nothing is %v", v)
	}
}

// sailing is a trip on a beat on starboard tack whose wind goes clockwise by 12
// degrees at 1000 s.
func sailing(calls ...call) *trip {
	t := &trip{calls: calls}
	for i := range 1500 {
		twd := 200.0
		if i >= 1000 {
			twd = 212
		}
		t.ms = append(t.ms, moment{st: boat.Status{T: start + boat.Time(i)*1000}, twd: twd, twa: geo.Diff(155, twd), mode: boat.CloseHauled, aim: 45})
	}
	return t
}

func TestShiftsAreJudged(t *testing.T) {
	for _, c := range []struct {
		name              string
		calls             []call
		falses, delays, n int
	}{
		{"never called", nil, 0, 0, 1},
		{"called in 25 s", []call{{1025, 10}}, 0, 1, 1},
		{"the wrong way", []call{{1025, -10}}, 1, 0, 1},
		{"called before", []call{{900, 10}}, 1, 0, 1},
		{"too late, but true", []call{{1200, 10}}, 0, 0, 1},
		{"called twice", []call{{1025, 10}, {1060, 10}}, 0, 1, 1},
	} {
		var s Score
		sailing(c.calls...).shifts(&s, []jump{{1000, 12}})
		if s.False != c.falses || len(s.Delays) != c.delays || s.Shifts != c.n {
			t.Errorf("%s: %d false, %v heard of %d", c.name, s.False, s.Delays, s.Shifts)
		}
		if len(s.Delays) == 1 && s.Delays[0] != 25 {
			t.Errorf("%s: heard after %v s, expected 25", c.name, s.Delays[0])
		}
		if math.Abs(s.Hours-1500.0/3600) > 1e-9 {
			t.Errorf("%s: %v hours", c.name, s.Hours)
		}
	}
}

// A shift that she was not on a beat to meet, or tacked away from, is no miss.
func TestShiftsOffTheBeatDoNotCount(t *testing.T) {
	for name, change := range map[string]func(m *moment){
		"running": func(m *moment) { m.mode = boat.Running },
		"tacked":  func(m *moment) { m.twa = -m.twa },
	} {
		tr := sailing()
		for i := 1050; i < 1060; i++ {
			change(&tr.ms[i])
		}
		var s Score
		tr.shifts(&s, []jump{{1000, 12}})
		if s.Shifts != 0 {
			t.Errorf("%s: %d shifts to be called, expected none", name, s.Shifts)
		}
	}
}
