package boat

import "helmcue/internal/geo"

// State is the boat at one moment, cleaned of outliers, everything true. Each
// reading is absent when it was never seen, is stale or means nothing.
type State struct {
	T          Time
	Pos        geo.Position
	PosOK      bool
	PosAccM    Reading
	SOGKn      Reading // over the ground, smoothed over about a second
	COGDeg     Reading // over the ground; absent where she is too slow for it to mean anything
	HeadingDeg Reading // of the bow, from compass and yaw; from the course where there is no compass
	HeadingT   Time    // when the reading behind HeadingDeg came; 0: not told, taken as T
	HeadingBy  string  // compass, course, or empty where there is no heading

	HeadingSDDeg float64   // standard deviation of HeadingDeg, degrees; means nothing without it
	Deviation    Deviation // what was added to what the compass shows to get HeadingDeg
	OwnCompass   bool      // the heading comes from the boat's compass, which the sailor reads; not from a phone's
	LeewayDeg    float64   // believed leeway on a beat at her usual speed, a prior at first
	LeewaySDDeg  float64
	Current      Current // believed, from courses that steadily differ from headings
	GPSLagS      float64 // how late course and speed over the ground are behind the bow, a prior at first
	GPSLagSDS    float64

	CompassRef Ref     // what the boat's own compass shows, for cues that name a heading
	VarDeg     float64 // magnetic variation here and now, east positive
	VarOK      bool
	HeelDeg    Reading // starboard side down positive; absent for a worn phone
	PitchDeg   Reading
	YawDps     Reading // clockwise positive, smoothed over about half a second
	WaterKn    Reading // through the water, from a log
	SpeedKn    Reading // the best there is for speed through the water: WaterKn, else SOGKn
	AWADeg     Reading
	AWSKn      Reading
	TWADeg     Reading // as an instrument computed it
	TWSKn      Reading
	TWDDeg     Reading
	Batt       Reading
	Mount      Mount
}

// Wind is what is believed about the true wind over the water.
type Wind struct {
	DirDeg   Reading // from, true; the better solution where there are two
	SDDeg    float64 // of DirDeg, when present
	LoDeg    float64 // 90 % interval, clockwise from LoDeg to HiDeg
	HiDeg    float64
	Known    bool    // false while the side, or the wind at all, is not known
	OtherDeg Reading // the mirror solution, where there is one
	SpeedKn  Reading
	SpeedSD  float64 // knots
	Reckoned bool    // nobody told the speed: it is reckoned from how fast she sails
	AgeS     float64 // since the last fact about its direction
	By       string  // fix, instrument, motion, or empty where nothing is known
}

// Target is what the polar asks of her in this wind. Angles are off the wind,
// 0..180; which side is told by the sign of the boat's own TWA.
type Target struct {
	BeatDeg  float64 // best angle to windward
	BeatKn   float64 // speed there
	BeatVMG  float64 // knots to windward there
	RunDeg   float64 // best angle to leeward
	RunKn    float64
	RunVMG   float64 // knots to leeward there, positive
	HereKn   float64 // speed expected at the present angle (boat factor not applied)
	NoSailUp float64 // below this angle off the wind she does not sail
	OK       bool
}

// TurnPhase is where in a turn through the wind she is.
type TurnPhase int

// The phases, in their order.
const (
	NoTurn     TurnPhase = iota
	Turning              // the turn has begun, the eye of the wind is ahead
	PastEye              // bow or stern is through the wind, not yet settled
	JustSteady           // settled within the last seconds
)

// Turn is the turn under way, or the last one within its phase.
type Turn struct {
	Phase      TurnPhase
	Kind       string // tack or gybe, by where the turn is heading
	Start      Time
	Eye        Time // meaningful from PastEye on
	Settled    Time // meaningful from JustSteady on
	EntryKn    float64
	ToEyeS     Reading // predicted seconds to the eye at the present yaw, while Turning
	NewSide    string  // the new tack, port or starboard, named by the side the wind will come from
	NewDeg     float64 // expected new heading, true
	StuckSince Time    // since when she hardly turns near the wind at a crawl; 0 when not
}
