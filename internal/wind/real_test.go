package wind

import (
	"math"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// On real recordings the estimate is compared with the mean over a minute of the
// wind that an independent program computed from their instruments
// (testdata/real/README.md). It must be honest about it: inside the stated 90 %
// interval at least eight times out of ten. The second boat motors for half an hour
// into 3 to 6 knots of wind that swings by 30 degrees from minute to minute.
func TestEstimateFollowsRealWind(t *testing.T) {
	most := map[string]float64{"gulf_of_finland_truth": 5, "finland_motoring_truth": 9}
	for name, mostRMS := range most {
		rows := truth(t, name)
		e := New()
		var checked, within, known int
		var sum float64
		for i, r := range rows {
			now := start + boat.Time(math.Round(r.t*1000))
			e.Instruments(boat.State{T: now, HeadingDeg: boat.Some(r.hdg), HeadingBy: "compass",
				SpeedKn: boat.Some(r.stw), AWADeg: boat.Some(r.awa), AWSKn: boat.Some(r.aws)})
			want, ok := minuteMean(rows, i)
			if r.t-rows[0].t < 60 || !ok {
				continue
			}
			w := e.At(now)
			checked++
			if w.Known {
				known++
			}
			off := geo.Diff(w.DirDeg.Or(want+180), want)
			sum += off * off
			if geo.Wrap360(want-w.LoDeg) <= geo.Wrap360(w.HiDeg-w.LoDeg) {
				within++
			}
		}
		rms := math.Sqrt(sum / float64(checked))
		t.Logf("%s: %d moments, known %.3f, off by %.1f° rms, inside %.3f", name, checked, float64(known)/float64(checked), rms, float64(within)/float64(checked))
		if checked < 400 || float64(known) < 0.97*float64(checked) || rms > mostRMS || float64(within) < 0.8*float64(checked) {
			t.Errorf("%s: %d checked, %d known, %d within, %.2f rms", name, checked, known, within, rms)
		}
	}
}

// minuteMean is the circular mean of the wind within half a minute of row i.
func minuteMean(rows []row, i int) (float64, bool) {
	var deg []float64
	for j := i; j >= 0 && rows[i].t-rows[j].t <= 30; j-- {
		deg = append(deg, rows[j].twd)
	}
	for j := i + 1; j < len(rows) && rows[j].t-rows[i].t <= 30; j++ {
		deg = append(deg, rows[j].twd)
	}
	var have []float64
	for _, d := range deg {
		if !math.IsNaN(d) {
			have = append(have, d)
		}
	}
	mean, r, ok := geo.Mean(have)
	return mean, ok && r > 0.9 && len(have) > 10
}

// The river boat has no compass: her wind's speed is known, its direction is not
// claimed, and the angle is what her instruments show.
func TestNoHeadingNoDirection(t *testing.T) {
	e := New()
	angles := 0
	var now boat.Time
	for _, r := range truth(t, "neuse_river_truth") {
		now = start + boat.Time(math.Round(r.t*1000))
		s := boat.State{T: now, SpeedKn: boat.Some(r.stw), AWADeg: boat.Some(r.awa), AWSKn: boat.Some(r.aws)}
		e.Instruments(s)
		if a := Angle(s); a.OK {
			angles++
			if r.tws > 2 && math.Abs(geo.Diff(a.Val, r.twa)) > 5 {
				t.Fatalf("at %v: angle %v, the file says %v", r.t, a.Val, r.twa)
			}
		}
		if w := e.At(now); w.DirDeg.OK || w.Known {
			t.Fatalf("claims %+v", w)
		}
	}
	if angles < 500 || !e.At(now).SpeedKn.OK {
		t.Errorf("expected angles and a wind speed, got %d and %+v", angles, e.At(now))
	}
}

// The floor is the least a grid filter does: one pass over the grid each second.
func BenchmarkTenHertz(b *testing.B) {
	b.Run("estimator", func(b *testing.B) {
		e := New()
		now := start
		for b.Loop() {
			e.Instruments(aboard(now, 10, 330, 11))
			e.At(now)
			now += 100
		}
	})
	b.Run("floor", floorTenHertz)
}

func floorTenHertz(b *testing.B) {
	var g grid
	g.clear()
	n := 0
	for b.Loop() {
		if n++; n%10 == 0 {
			g.pass(0.01)
		}
	}
}
