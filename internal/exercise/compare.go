package exercise

import (
	"fmt"
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// compareTry is low against close: low, close, close, low, each for as long, on one
// tack. The order takes a steady drift of the wind out of the difference. The gain
// is the difference of the mean speeds made good to windward over their mean. Its
// standard deviation comes from means of ten seconds within the legs, as if these
// were independent, and from the doubt of the wind's direction: an error of e
// radians in it makes a difference of e times (tan low - tan close) by itself. The
// interval is 90 % (1.72, Student's t for 20 degrees of freedom). It is no gain and
// no loss while it holds zero.
type compareTry struct {
	legS   float64
	at     int // leg, 0..3
	asked  bool
	askedT boat.Time
	byLuff bool      // she could not be asked up by degrees
	legT   boat.Time // measured from
	legs   [4]vmgLeg
}

// vmgLeg is what one leg gave.
type vmgLeg struct {
	kn     float64 // mean made good to windward
	varKn  float64 // of that mean
	offDeg float64
}

const (
	compareLegS  = 60.0
	compareSetS  = 12.0 // after the change of course
	compareByDeg = 10.0
	compareLuffS = 6.0 // she is asked up by degrees for so long, then by the luff
	apartDeg     = 4.0
	blockS       = 10.0
	student90    = 1.72
)

func newCompare(st boat.PlanStep) try {
	t := &compareTry{legS: st.Seconds}
	if t.legS < 2*blockS {
		t.legS = compareLegS
	}
	return t
}

func (t *compareTry) step(s *Sight) move {
	mute := boat.Mute{Helm: true, Sheet: true}
	if t.legT == 0 && t.at == 0 && !t.asked {
		return t.ready(s)
	}
	if !s.straight() || !s.State.SpeedKn.OK {
		return void("she turned or stopped in the middle of it").muted(mute)
	}
	m := move{begun: true, mute: mute, text: fmt.Sprintf("leg %d of 4, %s", t.at+1, t.name())}
	if t.asked {
		return t.settle(s, m)
	}
	if s.Now.Seconds(t.legT) < t.legS {
		return m
	}
	t.legs[t.at] = t.measure(s)
	if t.at == 3 {
		m.end = t.result(s)
		return m
	}
	t.at++
	if t.at == 2 { // close again: straight on
		t.legT = s.Now
		return m
	}
	t.asked, t.askedT, t.legT = true, s.Now, 0
	m.prompt = t.order(s)
	return m
}

func (t *compareTry) name() string {
	if t.at == 1 || t.at == 2 {
		return "close"
	}
	return "low"
}

func (t *compareTry) ready(s *Sight) move {
	near := s.offDeg() >= s.Target.BeatDeg-5 && s.offDeg() <= s.Target.BeatDeg+8
	if s.Mode != boat.CloseHauled || !near || !s.past.steady(s.Now, 15, 6) {
		return waiting("waits for a steady course close-hauled")
	}
	t.asked = true
	return move{text: "leg 1 of 4, low", prompt: t.order(s), mute: boat.Mute{Helm: true, Sheet: true}}
}

// order asks for the change of course that begins the leg.
func (t *compareTry) order(s *Sight) *boat.Prompt {
	p := &boat.Prompt{Key: boat.BearAway, Amount: boat.Some(compareByDeg), Variant: "10", WhyCode: "exercise",
		Why: fmt.Sprintf("low against close, leg %d of 4: %.0f s low", t.at+1, t.legS)}
	if t.at == 1 {
		p.Key, p.Why = boat.HeadUp, fmt.Sprintf("low against close, legs 2 and 3 of 4: %.0f s close", 2*t.legS)
	}
	if s.Settings.Level == boat.Beginner {
		p.Variant, p.Amount = "little", boat.Some(5)
	}
	return p
}

// settle waits until the order was spoken and she is on the new course.
func (t *compareTry) settle(s *Sight, m move) move {
	for _, k := range []boat.Key{boat.BearAway, boat.HeadUp} {
		if _, ok := s.spoke(k); ok {
			t.legT = s.Now.After(compareSetS)
		}
	}
	if _, ok := s.spoke(boat.Intro); ok && t.byLuff {
		t.legT, t.byLuff = s.Now.After(compareSetS), false
	}
	if t.at == 1 && t.legT == 0 && !t.byLuff && s.Now.Seconds(t.askedT) > compareLuffS {
		// The wind is known too little for an order in degrees; by the luff she can
		// come up on any wind.
		t.byLuff = true
		m.prompt = &boat.Prompt{Key: boat.Intro, Variant: "low_or_close_up", WhyCode: "exercise", Why: fmt.Sprintf("low against close, legs 2 and 3 of 4: %.0f s close, by the luff", 2*t.legS)}
		return m
	}
	switch {
	case t.legT != 0 && s.Now >= t.legT:
		t.asked = false
	case t.legT == 0 && !s.open && t.at > 0:
		return void("the change of course could not be asked for").muted(m.mute)
	case t.legT == 0 && !s.open:
		*t = compareTry{legS: t.legS}
	}
	return m
}

// measure takes the leg that ends now.
func (t *compareTry) measure(s *Sight) vmgLeg {
	var means []float64
	points := s.past.between(t.legT, s.Now)
	for len(points) >= int(blockS) {
		if v := boat.Mean(points[:int(blockS)], madeKn); v.OK {
			means = append(means, v.Val)
		}
		points = points[int(blockS):]
	}
	l := vmgLeg{offDeg: math.Abs(angleMean(s.past.between(t.legT, s.Now), func(p point) boat.Reading { return p.twa }).Or(0))}
	n := float64(len(means))
	for _, v := range means {
		l.kn += v / n
	}
	for _, v := range means {
		l.varKn += float64((v-l.kn)*(v-l.kn)) / math.Max(1, n-1) / n
	}
	return l
}

// madeKn is the speed made good to windward.
func madeKn(p point) boat.Reading {
	if !p.kn.OK || !p.twa.OK {
		return boat.Reading{}
	}
	return boat.Some(float64(p.kn.Val * math.Cos(geo.Rad(p.twa.Val))))
}

func (t *compareTry) result(s *Sight) *end {
	low, high := (t.legs[0].kn+t.legs[3].kn)/2, (t.legs[1].kn+t.legs[2].kn)/2
	lowDeg, highDeg := (t.legs[0].offDeg+t.legs[3].offDeg)/2, (t.legs[1].offDeg+t.legs[2].offDeg)/2
	if lowDeg-highDeg < apartDeg || !(high+low > 0.4) {
		return &end{void: true, why: fmt.Sprintf("the angles were %.0f° and %.0f°: too near each other to compare", lowDeg, highDeg)}
	}
	base := (low + high) / 2
	sum := 0.0
	for _, l := range t.legs {
		sum += l.varKn
	}
	own := math.Sqrt(sum) / 2 / base
	byWind := geo.Rad(s.Wind.SDDeg) * (math.Tan(geo.Rad(lowDeg)) - math.Tan(geo.Rad(highDeg)))
	gain, sd := 100*(low-high)/base, 100*math.Hypot(own, byWind)
	lo, hi := gain-float64(student90*sd), gain+float64(student90*sd)
	x := &end{good: true, result: "no_difference",
		why: fmt.Sprintf("%.0f° against %.0f°: %+.0f %% made good to windward, between %+.0f and %+.0f %% (90 %%)", lowDeg, highDeg, gain, lo, hi),
		score: map[string]float64{"gain_pct": gain, "gain_sd_pct": sd, "gain_lo_pct": lo, "gain_hi_pct": hi,
			"low_deg": lowDeg, "close_deg": highDeg}}
	switch {
	case lo > 0:
		x.result = "low_pays"
	case hi < 0:
		x.result = "close_pays"
	}
	return x
}
