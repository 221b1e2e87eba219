package mode

import (
	"testing"

	"helmcue/internal/boat"
)

const t0 = boat.Time(1_900_000_000_000)

func target() boat.Target {
	return boat.Target{OK: true, BeatDeg: 46, BeatKn: 3.2, BeatVMG: 2.2, RunDeg: 155, RunKn: 3.1, RunVMG: 2.8, HereKn: 3.3, NoSailUp: 33}
}

// at is a boat at an angle off a known wind of 9 kn, at a speed.
func at(twa, kn float64) Sight {
	return Sight{
		State:  boat.State{SpeedKn: boat.Some(kn), SOGKn: boat.Some(kn), HeadingDeg: boat.Some(0), HeadingBy: "compass"},
		Wind:   boat.Wind{Known: true, DirDeg: boat.Some(twa), SDDeg: 5, SpeedKn: boat.Some(9), SpeedSD: 1.5},
		TWADeg: boat.Some(twa), Target: target(),
	}
}

// after holds each sight for so many seconds at 10 Hz and returns the last mode.
func after(steps ...any) boat.Mode {
	j, t, m := New(), t0, boat.Unknown
	for i := 0; i < len(steps); i += 2 {
		in := steps[i].(Sight)
		for end := t.After(steps[i+1].(float64)); t < end; t += 100 {
			in.State.T = t
			m, _ = j.Step(in)
		}
	}
	return m
}

func TestModes(t *testing.T) {
	heeled := at(90, 0.5)
	heeled.State.HeelDeg = boat.Some(80)
	righted := at(90, 0.5)
	righted.State.HeelDeg = boat.Some(5)
	nowind := at(50, 3)
	nowind.Wind, nowind.TWADeg = boat.Wind{}, boat.Reading{}
	stuck := at(5, 0.3)
	stuck.Turn.StuckSince = t0
	tack := at(10, 2)
	tack.Turn = boat.Turn{Phase: boat.Turning, Kind: "tack"}
	gybe := at(175, 2)
	gybe.Turn = boat.Turn{Phase: boat.Turning, Kind: "gybe"}
	astern := at(60, 0.8)
	astern.State.COGDeg = boat.Some(180)
	fast := at(70, 6.3)
	fast.Wind.SpeedKn, fast.Wind.SpeedSD = boat.Some(3), 1
	lee := at(50, 3)
	lee.State.HeelDeg = boat.Some(-12)
	leaning := at(5, 3.5)
	leaning.State.HeelDeg = boat.Some(-9)
	doubtful := at(5, 3.5)
	doubtful.Wind.SDDeg = (doubtful.Target.NoSailUp - 5) * 0.7 // within one deviation of what she could sail, not within two
	for _, c := range []struct {
		name  string
		steps []any
		want  boat.Mode
	}{
		{"beating", []any{at(46, 3), 10.0}, boat.CloseHauled},
		{"beating on port", []any{at(-46, 3), 10.0}, boat.CloseHauled},
		{"reaching", []any{at(90, 3), 10.0}, boat.Reaching},
		{"running", []any{at(160, 3), 10.0}, boat.Running},
		{"a little off the beat keeps the beat", []any{at(46, 3), 10.0, at(58, 3), 5.0}, boat.CloseHauled},
		{"the same angle from a reach is a reach", []any{at(90, 3), 10.0, at(58, 3), 5.0}, boat.Reaching},
		{"nothing known", []any{nowind, 30.0}, boat.Unknown},
		{"tied up", []any{at(60, 0.1), 20.0}, boat.Stopped},
		{"tied up a moment", []any{at(90, 3), 5.0, at(90, 0.1), 5.0}, boat.Reaching},
		{"luffing on purpose", []any{at(60, 0.8), 20.0}, boat.Waiting},
		{"waiting goes on until she has way", []any{at(60, 0.8), 20.0, at(60, 1.2), 10.0}, boat.Waiting},
		{"under way again", []any{at(60, 0.8), 20.0, at(60, 2.5), 5.0}, boat.Reaching},
		{"carried backwards", []any{astern, 20.0}, boat.Drifting},
		{"over", []any{heeled, 4.0}, boat.Capsized},
		{"over for a moment", []any{at(90, 3), 5.0, heeled, 1.0}, boat.Reaching},
		{"righted", []any{heeled, 4.0, righted, 2.0}, boat.Waiting},
		{"irons", []any{stuck, 4.0}, boat.Irons},
		{"tacking", []any{at(46, 3), 5.0, tack, 1.0}, boat.Tacking},
		{"gybing", []any{at(160, 3), 5.0, gybe, 1.0}, boat.Gybing},
		{"into the eye at speed", []any{at(5, 3.5), 40.0}, boat.Motoring},
		{"faster than the wind", []any{fast, 40.0}, boat.Motoring},
		{"motoring crosses an angle she could sail", []any{at(5, 3.5), 80.0, at(50, 3), 60.0}, boat.Motoring},
		{"the motor is off for long", []any{at(5, 3.5), 80.0, at(50, 3), 400.0}, boat.CloseHauled},
		{"heeling to leeward tells sooner", []any{at(5, 3.5), 80.0, lee, 70.0}, boat.CloseHauled},
		{"into the eye at speed, and heels as no engine makes her", []any{leaning, 200.0}, boat.CloseHauled},
		{"into a wind that may have gone round, not sure yet", []any{doubtful, 40.0}, boat.CloseHauled},
		{"into a wind that may have gone round, for long", []any{doubtful, 60.0}, boat.Motoring},
		{"shooting up for a moment", []any{at(46, 3), 20.0, at(10, 3), 8.0}, boat.CloseHauled},
	} {
		if got := after(c.steps...); got != c.want {
			t.Errorf("%s: got %v, want %v", c.name, got, c.want)
		}
	}
}

func TestMirror(t *testing.T) {
	for a := 0.0; a <= 180; a += 5 {
		for _, kn := range []float64{0.1, 0.8, 3} {
			if p, s := after(at(a, kn), 30.0), after(at(-a, kn), 30.0); p != s {
				t.Errorf("%g° at %g kn: %v on one side, %v on the other", a, kn, p, s)
			}
		}
	}
}
