package sim_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
	"helmcue/internal/sim"
)

const begin = boat.Time(1_800_000_000_000)

func mustNew(t *testing.T, scene string, seed uint64) *sim.Sim {
	t.Helper()
	s, err := sim.New(scene, seed, begin)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// prepared tries the boat of a scene once, for many seeds.
func prepared(t *testing.T, scene string) *sim.Prepared {
	t.Helper()
	c, err := sim.Named(scene)
	if err != nil {
		t.Fatal(err)
	}
	p, err := sim.Prepare(c)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func sailedScenes() []string {
	return []string{"first-lesson", "shifty-morning", "fresh-afternoon", "light-air"}
}

func TestUnknownSceneIsNamedWithTheKnown(t *testing.T) {
	t.Parallel()
	_, err := sim.New("storm", 1, begin)
	if err == nil {
		t.Fatal("an unknown scene is taken")
	}
	for _, sc := range sim.Scenes() {
		if !strings.Contains(err.Error(), sc.Name) {
			t.Errorf("the error %q does not name the scene %s", err, sc.Name)
		}
		if sc.About == "" {
			t.Errorf("the scene %s says nothing about itself", sc.Name)
		}
	}
	if !strings.Contains(err.Error(), `"storm"`) {
		t.Errorf("the error %q does not say what came", err)
	}
}

// log runs a scene, lets it hear a cue every 40 s, and returns all it sent.
func log(t *testing.T, s *sim.Sim, seconds int) []byte {
	t.Helper()
	var out bytes.Buffer
	w := json.NewEncoder(&out)
	keys := boat.Keys()
	for i := range seconds * 10 {
		for _, in := range s.Step() {
			if err := w.Encode(in); err != nil {
				t.Fatal(err)
			}
		}
		if i%400 == 399 {
			s.Hear(boat.Cue{Key: keys[(i/400)%len(keys)], Amount: boat.Some(10), Ref: boat.Magnetic})
		}
		if err := w.Encode(s.Truth()); err != nil {
			t.Fatal(err)
		}
	}
	return out.Bytes()
}

func TestSameSeedSameSession(t *testing.T) {
	t.Parallel()
	for _, sc := range sim.Scenes() {
		p := prepared(t, sc.Name)
		a, b := log(t, p.Make(7, begin), 130), log(t, mustNew(t, sc.Name, 7), 130)
		if !bytes.Equal(a, b) {
			t.Errorf("%s: two runs of one seed differ", sc.Name)
		}
		if bytes.Equal(a, log(t, p.Make(8, begin), 130)) {
			t.Errorf("%s: two seeds give one session", sc.Name)
		}
	}
}

// The samples say what is true, within what a phone can tell: compass error and
// first harmonic up to 6° and some waves; the receiver up to 2 s late.
func TestSamplesAgreeWithTheTruth(t *testing.T) {
	t.Parallel()
	for _, sc := range sim.Scenes() {
		s := mustNew(t, sc.Name, 3)
		var past []sim.Truth
		var hdg, heel, sog, far, n, fixes float64
		for i := range 300 * 10 {
			in := s.Step()[0].Sample
			now := s.Truth()
			past = append(past, now)
			n++
			hdg = math.Max(hdg, math.Abs(geo.Diff(in.HeadingDeg.Val+s.VarDeg(), now.HeadingDeg)))
			heel += math.Abs(in.HeelDeg.Val - now.HeelDeg)
			if in.SOGKn.OK && i > 40 {
				fixes++
				lo, hi := math.Inf(1), 0.0
				for _, p := range past[i-25:] {
					lo, hi = math.Min(lo, p.SOGKn), math.Max(hi, p.SOGKn)
				}
				if in.SOGKn.Val < lo-0.4 || in.SOGKn.Val > hi+0.4 {
					sog++
				}
				metres := math.Hypot((in.LatDeg.Val-now.Pos.LatDeg)*111_120,
					(in.LonDeg.Val-now.Pos.LonDeg)*111_120*math.Cos(geo.Rad(now.Pos.LatDeg)))
				far = math.Max(far, metres)
			}
		}
		switch {
		case hdg > 13:
			t.Errorf("%s: the compass is up to %.1f° off", sc.Name, hdg)
		case heel/n > 3.5:
			t.Errorf("%s: heel is %.1f° off on average", sc.Name, heel/n)
		case fixes < 290 || fixes > 300:
			t.Errorf("%s: %.0f fixes in 300 s, want one a second", sc.Name, fixes)
		case sog > 0.02*fixes:
			t.Errorf("%s: %.0f of %.0f speeds are not those of the last seconds", sc.Name, sog, fixes)
		case far > 20:
			t.Errorf("%s: a position is %.0f m off", sc.Name, far)
		}
	}
}

// Facts of the trade that the boat must show (common practice, no source): she heels
// to leeward, makes nothing straight upwind, and her course keeps to leeward of
// where she points.
func TestSheBehavesLikeABoat(t *testing.T) {
	t.Parallel()
	s := mustNew(t, "first-lesson", 2)
	leeward, windward, low, high := 0, 0, 0, 0
	fastestUp := 0.0
	for range 1800 * 10 {
		s.Step()
		now := s.Truth()
		if now.Mode != boat.CloseHauled || now.STWKn < 1.5 {
			continue
		}
		if now.HeelDeg*now.TWADeg < 0 {
			leeward++
		} else {
			windward++
		}
		if geo.Diff(now.HeadingDeg, now.COGDeg)*now.TWADeg < 0 {
			low++
		} else {
			high++
		}
		fastestUp = math.Max(fastestUp, now.STWKn*math.Cos(geo.Rad(now.TWADeg)))
	}
	if leeward < 20*windward || low < 20*high || leeward < 3000 {
		t.Errorf("heels to leeward %d times and to windward %d; slips to leeward %d and to windward %d", leeward, windward, low, high)
	}
	if fastestUp < 1.5 || fastestUp > 3.5 {
		t.Errorf("the best made good to windward in nine knots is %.1f kn, want about half her speed on a reach", fastestUp)
	}
}

// Forty minutes must never end in a boat that turns or lies for ever, and a first
// lesson must have tacks enough to learn from.
func TestSessionsGoOn(t *testing.T) {
	t.Parallel()
	for _, scene := range sailedScenes() {
		p := prepared(t, scene)
		for seed := uint64(1); seed <= 2; seed++ {
			s := p.Make(seed, begin)
			var mode boat.Mode
			var since, moved boat.Time = begin, begin
			tacks, legs := 0, map[boat.Mode]bool{}
			for range 2400 * 10 {
				s.Step()
				now := s.Truth()
				legs[now.Mode] = true
				if now.STWKn > 0.4 {
					moved = now.T
				}
				if now.T.Seconds(moved) > 120 {
					t.Fatalf("%s, seed %d: no way on for two minutes at %.0f s", scene, seed, now.T.Seconds(begin))
				}
				if now.Mode != mode {
					if now.Mode == boat.Tacking && now.T < begin.After(1200) {
						tacks++
					}
					mode, since = now.Mode, now.T
				}
				if (mode == boat.Tacking || mode == boat.Gybing || mode == boat.Irons) && now.T.Seconds(since) > 60 {
					t.Fatalf("%s, seed %d: %s for a minute at %.0f s", scene, seed, mode, now.T.Seconds(begin))
				}
			}
			if scene == "first-lesson" && tacks < 8 {
				t.Errorf("seed %d: %d tacks in the first twenty minutes of a first lesson", seed, tacks)
			}
			for _, want := range []boat.Mode{boat.CloseHauled, boat.Reaching, boat.Running} {
				if !legs[want] {
					t.Errorf("%s, seed %d: never %s", scene, seed, want)
				}
			}
			d := geo.Distance(s.Truth().Pos, geo.Position{LatDeg: 47.05, LonDeg: -30.4})
			if d > 2500 {
				t.Errorf("%s, seed %d: she ended %.0f m from the ramp", scene, seed, d)
			}
		}
	}
}

// A demonstration must find something to say within its first minute: the wind is
// told at once, she sails within twenty seconds, and is sailed well too low.
func TestSomethingToSayInTheFirstMinute(t *testing.T) {
	t.Parallel()
	for _, scene := range sailedScenes() {
		p := prepared(t, scene)
		for seed := uint64(1); seed <= 5; seed++ {
			s := p.Make(seed, begin)
			var fix, sails boat.Time
			low := 0
			for range 60 * 10 {
				ins := s.Step()
				for _, in := range ins {
					if in.Kind == boat.WindFixIn {
						fix = in.T
						if off := math.Abs(s.Truth().TWADeg); off > 12 {
							t.Errorf("%s, seed %d: head to wind is told %.0f° off it", scene, seed, off)
						}
					}
				}
				now := s.Truth()
				if sails == 0 && now.Mode == boat.CloseHauled || now.Mode == boat.Reaching {
					sails = now.T
				}
				if math.Abs(now.TWADeg) > now.AimDeg+6 && now.AimDeg > 0 {
					low++
				}
			}
			if fix == 0 || fix > begin.After(10) || sails == 0 {
				t.Errorf("%s, seed %d: the wind is told at %.0f s", scene, seed, fix.Seconds(begin))
			}
			if low < 150 {
				t.Errorf("%s, seed %d: only %.0f s of the first minute are sailed too low", scene, seed, float64(low)/10)
			}
		}
	}
}

func TestEngineAndDock(t *testing.T) {
	t.Parallel()
	s := mustNew(t, "motor-trip", 1)
	upwind := 0
	for i := range 1200 * 10 {
		s.Step()
		now := s.Truth()
		if i > 200 && now.Mode != boat.Motoring {
			t.Fatalf("under engine she is %s", now.Mode)
		}
		if math.Abs(now.TWADeg) < 15 && now.STWKn > 3 {
			upwind++
		}
	}
	if upwind < 300 {
		t.Errorf("only %d s straight into the wind under engine", upwind/10)
	}
	s = mustNew(t, "at-the-dock", 1)
	for range 600 * 10 {
		s.Step()
		if now := s.Truth(); now.STWKn != 0 || now.SOGKn != 0 || now.Mode != boat.Stopped {
			t.Fatalf("made fast she moves: %+v", now)
		}
	}
}

func TestReadingsAreInRange(t *testing.T) {
	t.Parallel()
	var boats []*sim.Prepared
	for _, sc := range sim.Scenes() {
		boats = append(boats, prepared(t, sc.Name))
	}
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom(boats).Draw(t, "scene").Make(rapid.Uint64().Draw(t, "seed"), boat.Time(rapid.Int64Range(0, 4e12).Draw(t, "start")))
		last := s.Now()
		keys := boat.Keys()
		for i := range 120 * 10 {
			ins := s.Step()
			if s.Now() != last+100 {
				t.Fatal("a step is not 100 ms")
			}
			last = s.Now()
			for _, in := range ins {
				if in.T != last || in.Source != "sim" {
					t.Fatalf("%+v does not say when or whence", in)
				}
			}
			check(t, *ins[0].Sample)
			if i%50 == 0 {
				s.Hear(boat.Cue{Key: rapid.SampledFrom(keys).Draw(t, "cue"), Ref: boat.Magnetic,
					Amount: boat.Some(rapid.Float64Range(0, 360).Draw(t, "amount"))})
			}
		}
	})
}

func check(t *rapid.T, in boat.Sample) {
	for _, c := range []struct {
		name   string
		r      boat.Reading
		lo, hi float64 // hi included
	}{
		{"lat", in.LatDeg, 46.9, 47.2}, {"lon", in.LonDeg, -30.6, -30.2}, {"acc", in.AccM, 1, 30},
		{"sog", in.SOGKn, 0, 12}, {"cog", in.COGDeg, 0, 359.95}, {"hdg", in.HeadingDeg, 0, 359.95},
		{"heel", in.HeelDeg, -60, 60}, {"pitch", in.PitchDeg, -15, 15}, {"yaw", in.YawDps, -60, 60}, {"batt", in.Batt, 0, 1},
	} {
		if c.r.OK && !(c.r.Val >= c.lo && c.r.Val <= c.hi) {
			t.Fatalf("%s is %v, want %v to %v", c.name, c.r.Val, c.lo, c.hi)
		}
	}
	if !in.HeadingDeg.OK || !in.YawDps.OK || in.HeadingRef != boat.Magnetic || in.Mount != boat.Fixed {
		t.Fatalf("a sample lacks what a fixed phone has: %+v", in)
	}
}

func TestTruthAsCSV(t *testing.T) {
	t.Parallel()
	s := mustNew(t, "first-lesson", 1)
	var out bytes.Buffer
	w := sim.NewTruthWriter(&out)
	for range 30 {
		s.Step()
		if err := w.Write(s.Truth()); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Flush(); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&out).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != 31 || rows[0][0] != "t" || rows[1][0] != "1800000000100" || rows[30][12] != "waiting" {
		t.Errorf("%d rows, first %v, last %v", len(rows), rows[0], rows[len(rows)-1])
	}
	if err := sim.NewTruthWriter(&full{}).Write(sim.Truth{}); err != nil {
		t.Fatal("the writer holds a line back until it is flushed")
	}
	broken := sim.NewTruthWriter(&full{})
	_ = broken.Write(sim.Truth{})
	if broken.Flush() == nil {
		t.Error("a full disk goes unnoticed")
	}
}

type full struct{}

func (*full) Write([]byte) (int, error) { return 0, errFull{} }

type errFull struct{}

func (errFull) Error() string { return "no space left" }
