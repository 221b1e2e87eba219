package polar

import (
	"fmt"
	"math"

	"helmcue/internal/boat"
)

// What a table may hold. No boat that is coached goes 40 knots; beyond that the
// unit is wrong.
const (
	mostBoatKn = 40.0
	mostWindKn = 80.0
	mostCells  = 200 // winds, and angles
)

// check says what is wrong with a table.
func check(t boat.PolarTable) error {
	if len(t.TWSKn) == 0 || len(t.TWADeg) == 0 {
		return fmt.Errorf("polar is empty: expected at least one wind speed and one angle, got %d and %d", len(t.TWSKn), len(t.TWADeg))
	}
	if len(t.TWSKn) > mostCells || len(t.TWADeg) > mostCells {
		return fmt.Errorf("polar is too large: expected at most %d wind speeds and angles, got %d and %d", mostCells, len(t.TWSKn), len(t.TWADeg))
	}
	if err := ascending("wind speed", "knots", t.TWSKn, mostWindKn); err != nil {
		return err
	}
	if err := ascending("angle", "degrees off the wind", t.TWADeg, 180); err != nil {
		return err
	}
	if len(t.SpeedKn) != len(t.TWSKn) {
		return fmt.Errorf("polar is not rectangular: expected %d rows of boat speeds, one a wind speed, got %d", len(t.TWSKn), len(t.SpeedKn))
	}
	if err := speeds(t); err != nil {
		return err
	}
	return units(t)
}

func ascending(what, unit string, xs []float64, most float64) error {
	for i, x := range xs {
		if !(x >= 0 && x <= most) {
			return fmt.Errorf("%s %v: expected 0 to %v %s", what, x, most, unit)
		}
		if i > 0 && x == xs[i-1] {
			return fmt.Errorf("%s %v stands twice: keep one", what, x)
		}
		if i > 0 && x < xs[i-1] {
			return fmt.Errorf("%s %v comes after %v: sort them ascending", what, x, xs[i-1])
		}
	}
	return nil
}

func speeds(t boat.PolarTable) error {
	most := 0.0
	for i, row := range t.SpeedKn {
		if len(row) != len(t.TWADeg) {
			return fmt.Errorf("polar is not rectangular: expected %d boat speeds in %v kn of wind, one an angle, got %d", len(t.TWADeg), t.TWSKn[i], len(row))
		}
		for j, v := range row {
			at := fmt.Sprintf("boat speed %v in %v kn of wind at %v°", v, t.TWSKn[i], t.TWADeg[j])
			switch {
			case !(v >= 0) || math.IsInf(v, 0):
				return fmt.Errorf("%s: expected a number from 0 up", at)
			case v > mostBoatKn:
				return fmt.Errorf("%s: expected at most %v knots, is the table in another unit", at, mostBoatKn)
			case v > 0 && (t.TWADeg[j] == 0 || t.TWSKn[i] == 0):
				return fmt.Errorf("%s: expected 0 straight into the wind and without wind", at)
			}
			most = math.Max(most, v)
		}
	}
	if most == 0 {
		return fmt.Errorf("polar holds no boat speed above 0: expected knots")
	}
	return nil
}

// units finds tables whose numbers are plainly not knots and degrees.
func units(t boat.PolarTable) error {
	if last := t.TWADeg[len(t.TWADeg)-1]; len(t.TWADeg) > 1 && last < 4 {
		return fmt.Errorf("angles end at %v: expected degrees off the wind up to 180, these look like radians", last)
	}
	if looksMetric(t.TWSKn) {
		return fmt.Errorf("wind speeds %v look like whole knots written in m/s: give knots (1 m/s is 1.944 kn)", t.TWSKn)
	}
	if fast, seen := fasterThanWind(t); seen && fast {
		return fmt.Errorf("the boat is faster than 1.5 times the wind in every wind: expected both in knots, is the wind in m/s or the boat in km/h")
	}
	return nil
}

// looksMetric says whether at least three winds, none of them a multiple of a
// half, all turn into whole knots when taken as m/s.
func looksMetric(windKn []float64) bool {
	const knots = 3600.0 / 1852
	n := 0
	for _, w := range windKn {
		if w == 0 {
			continue
		}
		k := float64(w * knots)
		if math.Abs(k-math.Round(k)) > 0.03 || math.Abs(float64(2*w)-math.Round(2*w)) < 0.02 {
			return false
		}
		n++
	}
	return n >= 3
}

// fasterThanWind looks at the best speed in each wind.
func fasterThanWind(t boat.PolarTable) (fast, seen bool) {
	for i, row := range t.SpeedKn {
		best := 0.0
		for _, v := range row {
			best = math.Max(best, v)
		}
		if t.TWSKn[i] == 0 || best == 0 {
			continue
		}
		seen = true
		if best < 1.5*t.TWSKn[i] {
			return false, true
		}
	}
	return true, seen
}
