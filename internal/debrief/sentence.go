package debrief

import (
	"fmt"
	"math"
	"slices"
)

// When a sentence may be said. Common practice, no source.
const (
	littleS    = 180.0 // less sailing than this is not judged
	fewTacks   = 3
	goodLength = 2.0 // lengths: a tack that cost less went well
	mostly     = 0.6
	fewAsked   = 4
	muchLost   = 5.0   // lengths in all on one thing: below this nothing cost much
	wideTurn   = 110.0 // degrees between the headings
	slowBackS  = 15.0
)

const askForWind = "Next time: give the wind before you sail off: let the sails flap, bow to the wind, and tap. Then more can be judged."

func (r *Report) sentences() {
	if r.SailedS < littleS {
		r.tooLittle()
		return
	}
	r.Well = r.well()
	r.MostCost = r.mostCost()
	r.Practise = r.practise()
}

func (r *Report) tooLittle() {
	r.MostCost = "Nothing is judged: a few minutes say more about the moment than about the sailing."
	r.Practise = "Next time: keep the recording running for at least ten minutes of sailing, with two or three tacks in it."
	switch {
	case len(r.rows) == 0:
		r.Well = "No readings were recorded, so there is nothing to look back on."
		r.Practise = "Next time: see on the page that position and heading arrive before you push off."
	case r.UnsureS >= littleS && r.UnsureS > r.MotoredS:
		r.Well = "She was under way for " + spell(r.UnsureS) + ", but how she was sailed cannot be told: the wind was not known."
		r.MostCost = "Nothing is judged: every number here hangs on the wind."
		r.Practise = askForWind
	case r.MotoredS > r.SailedS:
		r.Well = "She was under motor for " + spell(r.MotoredS) + " and sailed for " + spell(r.SailedS) + "."
	default:
		r.Well = "Only " + spell(r.SailedS) + " of sailing was recorded."
	}
}

// well takes the first of these that holds: the tacks got better, most were
// short, the angle held, the speed held, requests were answered, one good run.
func (r *Report) well() string {
	t := r.Target
	if s := r.wellTurned(); s != "" {
		return s
	}
	if t.UpwindS >= littleS && t.UpwindOnS >= mostly*t.UpwindS {
		return fmt.Sprintf("Close-hauled you kept within 5° of the best angle for %s of %s.", spell(t.UpwindOnS), spell(t.UpwindS))
	}
	if t.SpeedS >= littleS && t.SpeedOnS >= mostly*t.SpeedS {
		return fmt.Sprintf("She was at full speed for her angle, or nearly, for %s of %s.", spell(t.SpeedOnS), spell(t.SpeedS))
	}
	if yes, no, _ := r.Counted(); yes+no >= fewAsked && float64(yes) >= mostly*float64(yes+no) {
		return fmt.Sprintf("You answered %s that can be checked.", of(yes, yes+no, "request", "requests"))
	}
	if t.LongestFastS >= 30 {
		return fmt.Sprintf("Your longest good run was %s, from %s on.", spell(t.LongestFastS), clock(t.LongestFastT, r.Start))
	}
	return "You kept her sailing for " + spell(r.SailedS) + "."
}

func (r *Report) wellTurned() string {
	lost := r.tackLengths()
	if n := len(lost); n >= 2*fewTacks {
		a, b := median(lost[:n/3]), median(lost[n-n/3:])
		if b <= 0.8*a && a-b >= 0.5 {
			return fmt.Sprintf("The tacks got better: about %s each at first, %s at the end.", lengths(a), little(b))
		}
	}
	if len(lost) < fewTacks {
		return ""
	}
	short := 0
	for _, l := range lost {
		if l <= goodLength {
			short++
		}
	}
	if 2*short < len(lost) {
		return ""
	}
	return fmt.Sprintf("%s cost two lengths or less, the best %s.", of(short, len(lost), "tack", "tacks"), little(slices.Min(lost)))
}

// tackLengths returns what each scored tack lost, in their order.
func (r *Report) tackLengths() []float64 {
	var out []float64
	for _, t := range r.Turns {
		if t.Kind == "tack" && t.LostLengths.OK {
			out = append(out, t.LostLengths.Val)
		}
	}
	return out
}

func median(v []float64) float64 {
	s := slices.Clone(v)
	slices.Sort(s)
	if n := len(s); n > 0 {
		return (s[(n-1)/2] + s[n/2]) / 2
	}
	return 0
}

// worst is the largest cost, where it is worth a word.
func (r *Report) worst() (Cost, bool) {
	if len(r.Costs) == 0 || r.Costs[0].Metres < muchLost*r.LengthM {
		return Cost{}, false
	}
	return r.Costs[0], true
}

func (r *Report) mostCost() string {
	if r.KnownS == 0 {
		return "What cost most cannot be told: the wind was not known."
	}
	c, ok := r.worst()
	if !ok {
		if r.Target.SpeedS == 0 {
			return "What cost most cannot be told: the wind's speed was not known, and so not what she could do."
		}
		return "Nothing cost much: " + fmt.Sprintf("no single thing took more than %.0f lengths in all.", muchLost)
	}
	sum := 0.0
	for _, c := range r.Costs {
		sum += c.Metres
	}
	if r.Target.SpeedS == 0 { // no speed to compare with: the tacks alone have numbers
		return fmt.Sprintf("The tacks cost about %s (%s); what else cost cannot be told, the wind's speed was not known.", metres(sum), whole(sum/r.LengthM))
	}
	much := fmt.Sprintf("about %s (%s) of %s that can be counted", metres(c.Metres), whole(c.Metres/r.LengthM), metres(sum))
	switch c.What {
	case CostTacks:
		return "Most went in the tacks: " + much + "."
	case CostPinching:
		return fmt.Sprintf("Most went on pinching: %s, in %s closer to the wind than pays.", much, spell(c.Seconds))
	case CostLow:
		return fmt.Sprintf("Most went on sailing low: %s, in %s further off the wind than pays.", much, spell(c.Seconds))
	case CostIrons:
		return fmt.Sprintf("Most went in irons: %s, in %s head to wind.", much, spell(c.Seconds))
	}
	return fmt.Sprintf("Most went on speed: %s, in %s slower than she could go at that angle.", much, spell(c.Seconds))
}

// practise is chosen by what cost most; for tacks, by what was widest of the mark.
func (r *Report) practise() string {
	const next = "Next time: "
	if r.KnownS < r.SailedS/2 {
		return askForWind
	}
	c, ok := r.worst()
	if !ok && r.Target.SpeedS == 0 {
		return next + "say also how strong the wind is, from a meter or a guess by the water. Then speed and angle can be judged."
	}
	if !ok {
		return next + "the same again, the last ten minutes without the voice."
	}
	switch c.What {
	case CostTacks:
		return next + r.practiseTacks()
	case CostPinching:
		return next + "speed first, then up: bear away until she runs, then come up a little at a time; five minutes without slowing."
	case CostLow:
		return next + "come up by the luff, a little at a time, until it just goes soft, and steer there; once every minute."
	case CostIrons:
		return next + "tack only with way on, from a reach if need be; if she stops, let the sheet go and wait before you steer."
	}
	return next + "hold a course, ease until the luff shakes, trim until it just stops; once a minute for ten minutes."
}

func (r *Report) practiseTacks() string {
	var turn, back []float64
	for _, t := range r.Turns {
		if t.Kind != "tack" {
			continue
		}
		if t.TurnDeg.OK && t.TurnDeg.Val <= ranOnDeg {
			turn = append(turn, t.TurnDeg.Val)
		}
		if t.RecoveredS.OK {
			back = append(back, t.RecoveredS.Val)
		}
	}
	if median(turn) > wideTurn {
		return fmt.Sprintf("stop the turn sooner: %.0f° between headings was usual, about 100° is enough to gather speed.", median(turn))
	}
	if median(back) > slowBackS {
		return fmt.Sprintf("let her run after the tack, a little low, before you harden in; %.0f s back to speed was usual.", median(back))
	}
	goal := math.Max(goodLength, math.Floor(0.7*median(r.tackLengths())))
	return fmt.Sprintf("tack from a reach, three of four for %.0f lengths or less.", goal)
}

// Counted returns how many cues were answered, how many not, and for how many
// that were asked it cannot be told.
func (r *Report) Counted() (yes, no, unknown int) {
	for _, s := range r.Said {
		switch s.Answer {
		case Yes:
			yes++
		case No:
			no++
		case CannotTell:
			unknown++
		}
	}
	return yes, no, unknown
}

// missing says what the session did not hold and what that leaves unjudged.
func (r *Report) missing(saw seen, told, generic bool) {
	add := func(when bool, text string) {
		if when {
			r.Missing = append(r.Missing, text)
		}
	}
	add(len(r.rows) == 0, "There is no second with readings in it.")
	add(r.SailedS > 0 && r.KnownS == 0, "The wind was never known, so angles, speed on target and losses are not judged.")
	add(r.KnownS > 0 && r.SailedS-r.KnownS >= 30, "The wind was known for "+spell(r.KnownS)+" of "+spell(r.SailedS)+" of sailing; only those are judged.")
	add(r.KnownS > 0 && r.Target.SpeedS == 0, "The wind's speed was not known, so speed and best angle are not judged.")
	add(r.Target.SpeedS > 0 && generic, fmt.Sprintf("Speeds are compared with a generic hull of %.1f m; a table of her own would judge better.", r.LengthM))
	add(saw.samples && !saw.position, "No position was heard, so there is no track.")
	add(saw.worn, "The phone was worn for a part: its lean is the body's, so heel is left out there.")
	add(saw.samples && !saw.heel && !saw.worn, "Heel was not measured.")
	add(saw.samples && !saw.log && r.SailedS > 0, "Speed is over the ground: a current would read as good or bad sailing.")
	add(len(r.Said) > 0 && !told, "Nothing came back from a loudspeaker: the cues are taken as heard.")
	add(len(r.Turns) == 0 && r.SailedS >= littleS, "No tack or gybe was seen.")
	add(slices.ContainsFunc(r.Turns, func(t Turn) bool { return t.Kind == "tack" && !t.LostLengths.OK }), "For some tacks the loss could not be worked out, or they ran on into another course.")
}
