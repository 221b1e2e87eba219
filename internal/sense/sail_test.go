package sense_test

import (
	"math"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
	"helmcue/internal/sense"
	"helmcue/internal/sim"
)

// tally is how far the heading was from the truth while she was under way.
type tally struct {
	n             int
	raw2, mended2 float64 // squares, degrees
	inside        int     // within 1.64 standard deviations
}

func (s *tally) add(o tally) {
	s.n += o.n
	s.raw2 += o.raw2
	s.mended2 += o.mended2
	s.inside += o.inside
}

func rms(sum2 float64, n int) float64 { return math.Sqrt(sum2 / float64(max(n, 1))) }

// sail sails a scene for so many seconds and compares the filter's heading with
// the truth once a second.
func sail(t *testing.T, scene string, seed uint64, seconds int) tally {
	t.Helper()
	s, err := sim.New(scene, seed, 1_900_000_000_000)
	if err != nil {
		t.Fatal(err)
	}
	f := sense.New(boat.Fixed)
	var sum tally
	for i := range seconds * 10 {
		for _, in := range s.Step() {
			if in.Sample != nil {
				f.Add(in.T, *in.Sample)
			}
		}
		truth := s.Truth()
		st := f.State(s.Now())
		f.Lean(s.Now(), boat.Some(truth.TWADeg)) // as an engine that knows the wind would
		if i%10 != 0 || !st.HeadingDeg.OK || st.HeadingBy != "compass" || i < 600 {
			continue
		}
		off := geo.Diff(truth.HeadingDeg, st.HeadingDeg.Val)
		d := geo.Diff(truth.HeadingDeg, geo.Wrap360(st.HeadingDeg.Val-st.Deviation.At(st.HeadingDeg.Val)))
		sum.n++
		sum.raw2 += d * d
		sum.mended2 += off * off
		if math.Abs(off) < 1.645*st.HeadingSDDeg {
			sum.inside++
		}
	}
	return sum
}

func TestHeadingIsNoWorseThanTheCompass(t *testing.T) {
	for _, sc := range sim.Scenes() {
		var all tally
		for seed := uint64(1); seed <= 10; seed++ {
			one := sail(t, sc.Name, seed, 1500)
			all.add(one)
		}
		t.Logf("%-16s heading off by %.2f° as shown, %.2f° mended; inside 90 %%: %.0f %%", sc.Name,
			rms(all.raw2, all.n), rms(all.mended2, all.n), 100*float64(all.inside)/float64(all.n))
		if all.n == 0 || all.mended2 > all.raw2 {
			t.Errorf("%s: mending the heading made it worse", sc.Name)
		}
		if all.inside < all.n*8/10 {
			t.Errorf("%s: the heading lies in its 90 %% interval only %d times of %d", sc.Name, all.inside, all.n)
		}
	}
}
