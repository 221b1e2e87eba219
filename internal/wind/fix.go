package wind

import (
	"fmt"
	"math"
	"strings"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// What a fix may say.
const (
	leastSDDeg = 2.0
	mostSDDeg  = 90.0
	mostKn     = 80.0
	headWayKn  = 3.0 // faster than this no boat lies head to wind
	fixSysDeg  = 3.0 // a person who says it twice is no surer by half
)

// method is one way in which a fix comes about: how sure it is of direction and
// speed where the fix does not say, and by how much it makes us doubt what was
// believed. A person who taps now has a reason to; a forecast knows nothing of the
// lake. All common practice, no source.
type method struct {
	name  string
	sdDeg float64
	sdKn  float64 // at least; a quarter of the speed where that is more, save for a meter
	doubt float64
	wild  float64 // share of such fixes that are plainly wrong
}

func methods() []method {
	return []method{
		{"hand", 10, 2, 0.1, 0.002},
		{"pointed", 8, 2, 0.1, 0.002},
		{"head_to_wind", 5, 2, 0.1, 0.002},
		{"meter", 10, 1, 0.1, 0.002},
		{"chase", 12, 2, 0.1, 0.002},
		{"forecast", 30, 4, 0, 0.1},
	}
}

// Fix takes a statement about the wind made at time t by someone or something
// other than the boat's own sensors. A fix without a direction may tell the speed
// alone; head_to_wind without one means the bow's heading in s. A magnetic
// direction is turned true by s.VarDeg. It returns the empty string, or why the
// fix was refused and what to do, for the person who gave it; then nothing has
// changed.
func (e *Estimator) Fix(t boat.Time, f boat.WindFix, s boat.State) (refused string) {
	m, refused := findMethod(f.Method)
	if refused == "" {
		refused = outOfRange(f)
	}
	if refused != "" {
		return refused
	}
	dir, refused := fixDirection(f, s)
	if refused != "" {
		return refused
	}
	if dir.OK {
		sd := math.Max(leastSDDeg, f.SDDeg.Or(m.sdDeg))
		own := math.Sqrt(math.Max(leastSDDeg*leastSDDeg, float64(sd*sd)-fixSysDeg*fixSysDeg))
		e.learn(fact{t: t, by: byFix, sysDeg: math.Min(fixSysDeg, sd), doubt: m.doubt, likely: near(dir.Val, own, m.wild)})
	}
	if m.name == "head_to_wind" && s.HeelDeg.OK && math.Abs(s.HeelDeg.Val) <= mostTilt {
		e.motion.tilt = tilt{variance: uprightSD * uprightSD} // who filters the heel takes this for upright
	}
	if f.Kn.OK {
		sd := math.Max(m.sdKn, 0.25*f.Kn.Val)
		if m.name == "meter" {
			sd = math.Max(m.sdKn, 0.1*f.Kn.Val)
		}
		e.speed.take(t, f.Kn.Val, sd)
		e.might.told(t, f.Kn.Val, sd)
	}
	return ""
}

func findMethod(name string) (method, string) {
	var names []string
	for _, m := range methods() {
		if m.name == name {
			return m, ""
		}
		names = append(names, m.name)
	}
	return method{}, fmt.Sprintf("wind fix refused: expected a method (%s), got %.40q", strings.Join(names, ", "), name)
}

func outOfRange(f boat.WindFix) string {
	switch {
	case f.DirDeg.OK && !(f.DirDeg.Val >= 0 && f.DirDeg.Val <= 360):
		return fmt.Sprintf("wind fix refused: expected a direction of 0 to 360 degrees, got %v", f.DirDeg.Val)
	case f.SDDeg.OK && !(f.SDDeg.Val > 0 && f.SDDeg.Val <= mostSDDeg):
		return fmt.Sprintf("wind fix refused: expected a standard deviation above 0 and up to %v degrees, got %v", mostSDDeg, f.SDDeg.Val)
	case f.Kn.OK && !(f.Kn.Val >= 0 && f.Kn.Val <= mostKn):
		return fmt.Sprintf("wind fix refused: expected a speed of 0 to %v knots, got %v", mostKn, f.Kn.Val)
	}
	return ""
}

// fixDirection returns the direction of the fix, true, absent where it tells only
// the speed.
func fixDirection(f boat.WindFix, s boat.State) (boat.Reading, string) {
	switch {
	case f.DirDeg.OK && f.Ref == boat.Magnetic && !s.VarOK:
		return boat.Reading{}, "wind fix refused: it is magnetic and the variation here is not known yet: wait for a position, or give it true"
	case f.DirDeg.OK && f.Ref == boat.Magnetic:
		return boat.Some(geo.Wrap360(f.DirDeg.Val + s.VarDeg)), ""
	case f.DirDeg.OK && f.Ref != boat.True && f.Ref != "":
		return boat.Reading{}, fmt.Sprintf("wind fix refused: expected ref true or mag, got %.40q", f.Ref)
	case f.DirDeg.OK:
		return boat.Some(geo.Wrap360(f.DirDeg.Val)), ""
	case f.Method == "head_to_wind":
		return bow(s)
	case !f.Kn.OK:
		return boat.Reading{}, "wind fix refused: expected a direction, a speed or both, got neither"
	}
	return boat.Reading{}, ""
}

// bow is the heading of a boat that lies head to wind.
func bow(s boat.State) (boat.Reading, string) {
	if !s.HeadingDeg.OK || s.HeadingBy == "course" {
		return boat.Reading{}, "wind fix refused: without a compass the bow's heading is not known: give the direction by hand"
	}
	if s.SpeedKn.OK && s.SpeedKn.Val > headWayKn {
		return boat.Reading{}, fmt.Sprintf("wind fix refused: a boat making %.1f knots does not lie head to wind: let her stop with the sails flapping, then tap again", s.SpeedKn.Val)
	}
	return boat.Some(geo.Wrap360(s.HeadingDeg.Val)), ""
}
