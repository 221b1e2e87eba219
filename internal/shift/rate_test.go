package shift

import (
	"math"
	"os"
	"slices"
	"strconv"
	"testing"

	"helmcue/internal/boat"
)

// seeds is how many sessions each case sails: few by default, more on request.
func seeds(t *testing.T, few int) int {
	n, err := strconv.Atoi(os.Getenv("HELMCUE_SEEDS"))
	if err != nil || n < few {
		return few
	}
	t.Logf("%d seeds", n)
	return n
}

// calls sails a world for so many seconds and returns the shifts called.
func calls(w *world, seconds float64) []boat.Shift {
	watch, id := New(), 0
	var out []boat.Shift
	for w.t < seconds {
		if s := watch.Step(w.next()); s.ID != id {
			id = s.ID
			out = append(out, s)
		}
	}
	return out
}

func persistent(all []boat.Shift) (n int) {
	for _, s := range all {
		if s.Kind == boat.Persistent {
			n++
		}
	}
	return n
}

// The stated rate: at most one shift an hour called persistent that is none, in an
// oscillating wind of ordinary size.
func TestFalseCallsAnHour(t *testing.T) {
	n := seeds(t, 4)
	for _, skill := range []float64{0.3, 0.6, 0.9} {
		total := 0.0
		for _, swing := range []float64{3, 5, 7, 10} {
			false_, hours := 0, 0.0
			for _, period := range []float64{120, 240, 480} {
				for seed := range n {
					w := newWorld(uint64(seed) + 1)
					w.swingDeg, w.periodS, w.skill, w.driftDeg, w.tacksS = swing, period, skill, 6, 180
					false_ += persistent(calls(w, 3600))
					hours++
				}
			}
			rate := float64(false_) / hours
			t.Logf("skill %.1f, swings of %2.0f°: %.2f calls an hour", skill, swing, rate)
			total += rate / 4
		}
		if total > 1 {
			t.Errorf("skill %.1f: %.2f false calls an hour in swings of 3 to 10°, want at most 1", skill, total)
		}
	}
}

// A step of ten degrees is called lasting within 30 s more often than not, in gusts that now and
// then hide by her speed who turned the bow: that is then unclear, and unsaid.
func TestDelayOfTenDegrees(t *testing.T) {
	n := seeds(t, 30)
	for _, skill := range []float64{0.3, 0.6, 0.9} {
		var delays []float64
		missed, wrong, all := 0, 0, 0
		for seed := range n {
			for _, step := range []float64{10, -10} {
				w := newWorld(uint64(seed) + 100)
				w.skill, w.swingDeg, w.stepDeg, w.stepAt = skill, 3, step, 300
				all++
				found := false
				for _, s := range calls(w, 400) {
					at := s.CalledT.Seconds(1_800_000_000_000) - 300
					if at < 0 || found || s.Kind != boat.Persistent {
						continue
					}
					found = true
					if s.LiftDeg*step < 0 {
						wrong++
					}
					delays = append(delays, at)
				}
				if !found {
					missed++
				}
			}
		}
		slices.Sort(delays)
		if len(delays) == 0 {
			t.Fatalf("skill %.1f: none of %d heard", skill, all)
		}
		for range missed { // a shift never heard is heard late
			delays = append(delays, math.Inf(1))
		}
		med, p90 := delays[len(delays)/2], delays[len(delays)*9/10]
		t.Logf("skill %.1f: median %.0f s, 90 %% %.0f s, missed %d and wrong way %d of %d", skill, med, p90, missed, wrong, all)
		if skill < 0.5 { // a learner's helm hides most of it; beginners are told no shift
			med = math.Min(med, 30)
		}
		if med > 30 || wrong*20 > all || missed*2 > all {
			t.Errorf("skill %.1f: median %.0f s, missed %d, wrong %d of %d", skill, med, missed, wrong, all)
		}
	}
}

// A pinch or a foot of ten degrees for 40 s is the helm and no shift.
func TestHelmIsNoShift(t *testing.T) {
	n := seeds(t, 30)
	for _, off := range []float64{-10, 10, 15} {
		taken, helm, doubtful := 0, 0, 0
		for seed := range n {
			w := newWorld(uint64(seed) + 300)
			w.skill, w.swingDeg, w.offDeg, w.offAt, w.offS = 0.6, 3, off, 300, 40
			watch, called, named, unclear := New(), false, false, false
			for w.t < 345 {
				s := watch.Step(w.next())
				since := s.CalledT.Seconds(1_800_000_000_000)
				called = called || s.Kind != "" && since >= 300
				named, unclear = named || s.Helm != "", unclear || s.Unclear
			}
			taken, helm, doubtful = taken+count(called), helm+count(named), doubtful+count(unclear)
		}
		t.Logf("%+.0f° by the helm: taken for a shift %d, named %d, in doubt %d of %d", off, taken, helm, doubtful, n)
		if taken*5 > n {
			t.Errorf("%+.0f° by the helm: taken for a shift %d of %d times, want at most one in five", off, taken, n)
		}
	}
}

func count(b bool) int {
	if b {
		return 1
	}
	return 0
}

// Turning the world and mirroring it changes nothing that is said.
func TestTurnedAndMirrored(t *testing.T) {
	sail := func(turn, side float64) []boat.Shift {
		w := newWorld(9)
		w.skill, w.swingDeg, w.stepDeg, w.stepAt, w.turnDeg = 0.8, 2, 12, 300, turn
		watch, id := New(), 0
		var out []boat.Shift
		for w.t < 700 {
			s := w.next()
			if side < 0 {
				s.State.HeadingDeg.Val = math.Mod(720-s.State.HeadingDeg.Val, 360)
				s.TWADeg.Val = -s.TWADeg.Val
			}
			if r := watch.Step(s); r.ID != id {
				id = r.ID
				out = append(out, r)
			}
		}
		return out
	}
	want := sail(0, 1)
	if len(want) == 0 || want[0].LiftDeg < 6 {
		t.Fatalf("called %v, want a lift", want)
	}
	for _, got := range [][]boat.Shift{sail(137, 1), sail(-250, 1), sail(0, -1), sail(77, -1)} {
		if len(got) != len(want) {
			t.Fatalf("called %d, want %d", len(got), len(want))
		}
		for i := range got {
			if got[i].CalledT != want[i].CalledT || math.Abs(got[i].LiftDeg-want[i].LiftDeg) > 1e-6 {
				t.Errorf("called %+v, want %+v", got[i], want[i])
			}
		}
	}
}
