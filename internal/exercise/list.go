package exercise

import (
	"fmt"

	"helmcue/internal/boat"
)

// Exercise is one thing to practise.
type Exercise struct {
	Name   string
	Title  string // for a page or a debrief
	About  string // one sentence: what is done
	Good   string // when a try counts as good
	Score  string // what the numbers are, with their units
	GoodN  int    // so many good tries
	OfN    int    // among so many open the next step
	LimitS float64
	Needs  Needs

	begin func(boat.PlanStep) try
}

// Needs is what an exercise cannot do without, beside a known wind.
type Needs struct {
	Heel    bool // a phone fixed in the boat
	Place   bool // a position
	Numbers bool // headings in degrees, which beginners are not told
	Yes     bool // the sailor's two knocks before it begins, unless an instructor started it
	Sure    bool // a wind known well enough to name headings to those who are told them
	Calm    bool // a wind well below the limit, its strength told by somebody
}

// The exercises' names.
const (
	StopAndStart  = "stop_and_start"
	ReachToAndFro = "reach_to_and_fro"
	TackFromReach = "tack_from_reach"
	Closeness     = "closeness_test"
	SquareTacks   = "square_tacks"
	ShortTacks    = "tack_within"
	LowOrClose    = "low_or_close"
	HoldCourse    = "hold_course"
	FigureOfEight = "figure_of_eight"
	LegToMark     = "leg_to_mark"
	LullAndGust   = "lull_and_gust"
	GybeWell      = "gybe"
	OnYourOwn     = "on_your_own"
)

// All returns every exercise, in teaching order (common practice, no source).
func All() []Exercise { return append(first(), further()...) }

// first are the exercises of the first lessons, up to tacks close-hauled.
func first() []Exercise {
	return []Exercise{
		{
			Name: StopAndStart, Title: "Stop and start", GoodN: 3, OfN: 4, LimitS: 90, begin: newStop,
			About: "Let the sheet go, wait until she lies still, trim in and sail off.",
			Good:  "still within 20 s, sailing again within 30 s, not head to wind meanwhile",
			Score: "stop_s from full speed to still, start_s from the first way to two thirds of the speed before",
		},
		{
			Name: ReachToAndFro, Title: "Reach to and fro", GoodN: 3, OfN: 4, LimitS: 240, begin: newReach,
			About: "A straight leg across the wind, a turn through the wind, a straight leg back.",
			Good:  "both legs straight within 8°, the turn done without stopping",
			Score: "steady_deg standard deviation of the heading on the two legs, share of her speed on them",
		},
		{
			Name: TackFromReach, Title: "Tack from a reach", GoodN: 3, OfN: 4, LimitS: 60, begin: newReachTack,
			About: "From a reach with way on through the wind in one turn, out low, and let her run.",
			Good:  "never stuck, half of her speed kept or back to speed within five time constants",
			Score: "lost_lengths, recovered_s, least_share least over entry speed",
		},
		{
			Name: Closeness, Title: "How close will she go", GoodN: 2, OfN: 3, LimitS: 90, begin: newCloseness,
			About: "Come up slowly until the luff goes soft, then fall back to where she pulls again.",
			Good:  "came up by 4° or more, back at nine tenths of her speed, never near stopping",
			Score: "closest_deg to the wind with her speed held, gained_deg against before",
		},
		{
			Name: ShortTacks, Title: "Tacks within few lengths", GoodN: 3, OfN: 4, LimitS: 90, begin: newShortTack,
			About: "Tacks close-hauled that cost no more than so many boat lengths.",
			Good:  "lost no more than the plan's lengths, four where it names none",
			Score: "lost_lengths, recovered_s, turn_deg",
		},
		{
			Name: SquareTacks, Title: "Square tacks by the compass", GoodN: 3, OfN: 4, LimitS: 120, begin: newSquare, Needs: Needs{Sure: true},
			About: "The new heading is read before the turn; come out of it there.",
			Good:  "within 10° of the heading that was named",
			Score: "off_deg from the heading named, low positive; turn_deg",
		},
	}
}

func further() []Exercise {
	return []Exercise{
		{
			Name: LowOrClose, Title: "Low against close", GoodN: 1, OfN: 2, LimitS: 600, begin: newCompare,
			About: "A minute each low, close, close and low, to see which gains more to windward now.",
			Good:  "all four legs held, at least 4° apart",
			Score: "gain_pct of low over close in speed made good to windward, with gain_sd_pct and the 90 % interval gain_lo_pct to gain_hi_pct",
		},
		{
			Name: HoldCourse, Title: "Hold a course and trim", GoodN: 3, OfN: 4, LimitS: 300, begin: newHold, Needs: Needs{Place: true},
			About: "One course, to the ramp where it is known: leave the helm and sheet for speed.",
			Good:  "heading within 6° and nine tenths of her speed, or a twentieth faster at the end",
			Score: "steady_deg standard deviation of the heading, share at the end, gain_share against the start",
		},
		{
			Name: LullAndGust, Title: "Feel the lull and the gust", GoodN: 2, OfN: 3, LimitS: 300, begin: newGusts, Needs: Needs{Heel: true},
			About: "Three minutes of steady heel: out in the gust, in again in the lull, before the boat shows it.",
			Good:  "three of four gusts met within four seconds, or heel steady within 4° where none came",
			Score: "heel_sd_deg, gusts seen, met of them, share",
		},
		{
			Name: FigureOfEight, Title: "Figure of eight", GoodN: 2, OfN: 3, LimitS: 420, begin: newEight,
			Needs: Needs{Place: true, Numbers: true, Yes: true},
			About: "Across the wind past a mark in the water, round through the wind, and past it again.",
			Good:  "both passes within five lengths of the mark, or within twice what the position is good for",
			Score: "miss_lengths mean of the two passes, miss_m",
		},
		{
			Name: LegToMark, Title: "Upwind leg to a mark", GoodN: 2, OfN: 3, LimitS: 900, begin: newLeg,
			Needs: Needs{Place: true, Numbers: true, Yes: true},
			About: "To windward to a mark that lies straight upwind.",
			Good:  "there in four thirds of the time that her best speed to windward would take",
			Score: "seconds, best_s by her polar, tacks, time_share best over sailed",
		},
		{
			Name: GybeWell, Title: "Gybe", GoodN: 3, OfN: 4, LimitS: 120, begin: newGybe, Needs: Needs{Yes: true, Calm: true},
			About: "From a broad reach, sheet in, mind the boom, and through; only when it is said.",
			Good:  "settled, heel below 25°, no more than 100° turned",
			Score: "turn_deg, most_heel_deg, least_share",
		},
		{
			Name: OnYourOwn, Title: "On your own", GoodN: 1, OfN: 1, LimitS: 3600, begin: newAlone,
			About: "Ten minutes without the voice but for danger.",
			Good:  "four fifths of her speed in the mean, never in irons",
			Score: "share of her speed, kept_share against the ten minutes before, tacks, lost_lengths a tack, irons_s",
		},
	}
}

// Find returns the exercise called name.
func Find(name string) (Exercise, bool) {
	for _, e := range All() {
		if e.Name == name {
			return e, true
		}
	}
	return Exercise{}, false
}

// Names returns the names of all, in teaching order.
func Names() []string {
	var out []string
	for _, e := range All() {
		out = append(out, e.Name)
	}
	return out
}

// Spoken lists what the exercises have said beside the words of the coach: the
// variants of the key intro and of the key result.
func Spoken() (intros, results []string) {
	intros = append(Names(), "low_or_close_up")
	results = []string{"counts", "once_more", "opened", "plan_over", "stuck", "closer", "as_close",
		"low_pays", "close_pays", "no_difference", "alone_over", "lost_more"}
	for n := range 6 {
		results = append(results, fmt.Sprintf("lost_%d", n))
	}
	return intros, results
}
