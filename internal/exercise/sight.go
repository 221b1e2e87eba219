package exercise

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// Sight is the boat at one moment, as the engine knows her.
type Sight struct {
	Now      boat.Time
	Settings boat.Settings // defaults filled in
	State    boat.State
	Wind     boat.Wind
	TWADeg   boat.Reading // -180..180, absent unless the wind is known
	Target   boat.Target
	Share    boat.Reading // speed over the speed expected
	Mode     boat.Mode
	Turn     boat.Turn
	Finished []boat.Manoeuvre // old enough for a word since the last call; the scores may yet be refined
	TauS     float64
	Deaf     bool
	Planned  bool // a turn that was asked for is still being prepared
	Water    Water

	past *past
	said []boat.Cue // spoken since the last call
	open bool       // a prompt still waits to be spoken
}

// Water is what is known of the water about her. The zero Water knows nothing.
type Water struct {
	Charted bool // her surroundings are charted: NearShore can be relied on
	Near    bool // land, a shallow or a tracked boat is too near for a turn or a mark to be asked for
	Ramp    geo.Position
	RampOK  bool
	Marks   []geo.Position // of the chart
	// ClearM returns how much clear water the chart shows about a place, metres, 0 where
	// it shows none or nothing; nil without a chart.
	ClearM func(geo.Position) float64
}

// Limits of what is asked for, common practice, no source.
const (
	lightKn   = 1.5  // a target slower than this: too little wind to practise in
	muchHeel  = 22.0 // degrees
	vagueDeg  = 30.0 // half of the wind's interval: beyond it no angle to it means anything
	nearWind  = 5.0  // clearance from the dead sector, degrees
	slowShare = 0.6
	calmPart  = 0.8 // of the limit: room for gusts
	rampM     = 150.0
)

// offDeg is her angle off the wind, 0..180, mean of the last three seconds.
func (s *Sight) offDeg() float64 { return math.Abs(s.past.twa(s.Now, 2.5).Or(s.TWADeg.Or(0))) }

// angled says whether the wind, its side and her angle to it are known beyond doubt.
func (s *Sight) angled() bool {
	if !s.Wind.Known || !s.TWADeg.OK || !s.Target.OK || !s.State.HeadingDeg.OK {
		return false
	}
	h := s.halfDeg()
	a := math.Abs(s.TWADeg.Val)
	return a-h > 0 && a+h < 180
}

// halfDeg is half the 90 % interval of the wind, the larger side.
func (s *Sight) halfDeg() float64 {
	if !s.Wind.DirDeg.OK {
		return 90
	}
	d := s.Wind.DirDeg.Val
	return math.Max(geo.Wrap360(d-s.Wind.LoDeg), geo.Wrap360(s.Wind.HiDeg-d))
}

// heelDeg is how far she heels, 0 or more; absent for a worn phone.
func (s *Sight) heelDeg() boat.Reading {
	if s.State.Mount == boat.Worn || !s.State.HeelDeg.OK {
		return boat.Reading{}
	}
	return boat.Some(math.Abs(s.State.HeelDeg.Val))
}

// inTurn says whether she is in a turn through the wind.
func (s *Sight) inTurn() bool {
	return s.Mode == boat.Tacking || s.Mode == boat.Gybing || s.Turn.Phase == boat.Turning || s.Turn.Phase == boat.PastEye
}

// straight says whether she sails a course.
func (s *Sight) straight() bool {
	return !s.inTurn() && (s.Mode == boat.CloseHauled || s.Mode == boat.Reaching || s.Mode == boat.Running)
}

// reaching says whether she sails across the wind.
func (s *Sight) reaching() bool {
	a := s.offDeg()
	return s.straight() && a >= 60 && a <= 125
}

// finished returns the tack or gybe that was finished just now.
func (s *Sight) finished(kind string) (boat.Manoeuvre, bool) {
	for _, m := range s.Finished {
		if m.Kind == kind {
			return m, true
		}
	}
	return boat.Manoeuvre{}, false
}

// lengths turns metres into boat lengths.
func (s *Sight) lengths(m float64) float64 { return m / s.Settings.LengthM }

// side is +1 with the wind from starboard, -1 from port.
func (s *Sight) side() float64 {
	if s.TWADeg.Val < 0 {
		return -1
	}
	return 1
}

// unfit returns why nothing may be asked of her now, in words for people, or "".
func (s *Sight) unfit() string {
	switch {
	case s.Deaf:
		return "the phone is not heard"
	case s.Mode == boat.Irons:
		return "she is in irons"
	case s.Mode == boat.Motoring:
		return "she is taken for motoring"
	case !s.Wind.Known:
		return "the wind is not known"
	case !s.Mode.Sailing():
		return "she is not sailing"
	case !s.angled():
		return "the side of the wind is in doubt"
	case s.halfDeg() > vagueDeg:
		return "the wind is not known well enough"
	case s.overLimit():
		return "there is more wind than her limit"
	case s.Water.Near:
		return "the shore or another boat is near"
	case math.Max(s.Target.HereKn, s.Target.BeatKn) < lightKn:
		return "there is too little wind"
	case s.heelDeg().Or(0) > muchHeel:
		return "she heels too much"
	case !s.inTurn() && s.pinched():
		return "she is too near the wind's eye"
	}
	return ""
}

// pinched says whether she may lie within the dead sector: by the believed wind, or by
// its interval where her speed does not show that she sails.
func (s *Sight) pinched() bool {
	a := s.offDeg()
	return a < s.Target.NoSailUp || a-s.halfDeg() < s.Target.NoSailUp && s.Share.Or(0) < slowShare
}

func (s *Sight) overLimit() bool {
	return s.Wind.SpeedKn.OK && !s.Wind.Reckoned && s.Wind.SpeedKn.Val > s.Settings.LimitKn
}

// calm says whether somebody told the wind's strength and it is well below the limit.
func (s *Sight) calm() bool {
	return s.Wind.SpeedKn.OK && !s.Wind.Reckoned && s.Wind.SpeedKn.Val <= calmPart*s.Settings.LimitKn
}

// lacks returns what the exercise needs and this session will hardly get, or "".
func (e Exercise) lacks(s *Sight) string {
	switch {
	case e.Needs.Numbers && s.Settings.Level == boat.Beginner:
		return "it needs headings in degrees, which beginners are not told"
	case e.Needs.Heel && s.State.Mount == boat.Worn:
		return "it needs a phone that is fixed in the boat"
	}
	return ""
}

// awaits returns what the exercise needs and may yet come, or "".
func (e Exercise) awaits(s *Sight) string {
	switch {
	case e.Needs.Place && !s.State.PosOK:
		return "the position is not known"
	case e.Needs.Heel && !s.heelDeg().OK:
		return "heel is not measured"
	case e.Needs.Sure && s.Settings.Level != boat.Beginner && s.Wind.SDDeg > squareSDDeg:
		return "the wind is not known well enough to name a heading"
	case e.Needs.Calm && (!s.Wind.SpeedKn.OK || s.Wind.Reckoned):
		return "nobody has told how strong the wind is"
	case e.Needs.Calm && !s.calm():
		return "it takes less wind than this"
	case e.Needs.Numbers && !s.State.VarOK && s.State.CompassRef != boat.True:
		return "what the compass shows cannot be told"
	}
	return ""
}
