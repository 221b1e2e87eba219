package phrase

import "helmcue/internal/boat"

// Entry is a row of the book: what is said for a key and variant at each level.
// An empty text is not spoken at that level.
type Entry struct {
	Key      boat.Key
	Variant  string // empty where the key has but one phrase
	Beginner string
	Improver string
	Expert   string
	Heading  bool // followed by a heading of three digits
	Twice    bool // worth saying twice where the silence allows: danger and turns
}

// at returns the row's text at a level; empty means not spoken.
func (e Entry) at(l boat.Level) string {
	switch l {
	case boat.Beginner:
		return e.Beginner
	case boat.Expert:
		return e.Expert
	}
	return e.Improver
}

func same(k boat.Key, variant, text string) Entry {
	return Entry{Key: k, Variant: variant, Beginner: text, Improver: text, Expert: text}
}

// grown is said to improvers and experts, not to beginners.
func grown(k boat.Key, variant, text string) Entry {
	return Entry{Key: k, Variant: variant, Improver: text, Expert: text}
}

// own has a beginner's form and another for the rest.
func own(k boat.Key, variant, beginner, rest string) Entry {
	return Entry{Key: k, Variant: variant, Beginner: beginner, Improver: rest, Expert: rest}
}

func (e Entry) heading() Entry { e.Heading = true; return e }
func (e Entry) twice() Entry   { e.Twice = true; return e }

// Book returns the phrase book. The words were chosen by measurement: which
// phrase is heard right through wind, flapping sails and talk, and which are
// never taken for their opposite. A new one is measured in its level's whole
// set before it comes in.
func Book() []Entry {
	return []Entry{
		same(boat.LetGo, "", "let the sheet go").twice(),
		own(boat.HeadUp, "little", "push the tiller a little", "head her up a touch"),
		grown(boat.HeadUp, "5", "head her up by five"),
		grown(boat.HeadUp, "10", "head her up by ten"),
		own(boat.BearAway, "little", "tiller to you, slightly", "bear away slightly"),
		grown(boat.BearAway, "5", "bear away five degrees"),
		grown(boat.BearAway, "10", "bear away ten degrees"),
		grown(boat.SteerTo, "heading", "steer").heading(),
		same(boat.Straighten, "", "straight now"),
		same(boat.LuffTest, "", "ease until it shakes, trim until it stops"),
		{Key: boat.Ease, Beginner: "ease it out"},
		grown(boat.Ease, "hair", "ease it out just a hair"),
		same(boat.Ease, "little", "ease it out slightly"),
		grown(boat.Ease, "more", "ease it out some more"),
		{Key: boat.Trim, Beginner: "trim the sail in"},
		grown(boat.Trim, "hair", "trim it in just a hair"),
		same(boat.Trim, "little", "trim it in slightly"),
		grown(boat.Trim, "more", "trim it in some more"),
		same(boat.Back, "", "back a little"),
		same(boat.Hold, "", "leave it there"),
		own(boat.SitOut, "", "lean out", "hike out"),
		same(boat.SitIn, "", "sit in"),
		same(boat.Look, "luff", "look at your luff"),
		same(boat.Look, "flat_water", "look for flat water"),
		same(boat.Look, "under_sail", "look under the sail"),
		same(boat.Look, "windward_shoulder", "look over your windward shoulder"),
		same(boat.BuildSpeed, "", "not yet, speed first"),
		same(boat.TooSlow, "", "too slow, not yet"),
		own(boat.PrepareTack, "", "prepare to tack, look to windward", "prepare to tack"),
		grown(boat.PrepareTack, "heading", "prepare to tack").heading(),
		same(boat.TurnNow, "", "when clear, tack now").twice(),
		same(boat.TurnNow, "gybe", "when clear, gybe").twice(),
		same(boat.SheetIn, "", "trim right in"),
		same(boat.EaseOut, "", "ease it out"),
		same(boat.LetRun, "", "wait for speed"),
		same(boat.Good, "", "that is good"),
		grown(boat.Good, "once_more", "good, once more"),
		{Key: boat.InIrons, Variant: "stuck", Beginner: "in irons, let the sheet go", Improver: "in irons, let the sheet go", Expert: "let the sheet go"},
		same(boat.InIrons, "sheet_loose", "push boom and tiller away"),
		same(boat.InIrons, "bow_turned", "now bring them both in"),
		same(boat.InIrons, "jib", "jib to windward"),
		own(boat.PrepareGybe, "", "gybe next, sheet in, mind the boom", "gybe next, mind the boom"),
		grown(boat.PrepareGybe, "heading", "gybe next, mind the boom").heading(),
		same(boat.MindBoom, "", "mind the boom").twice(),
		grown(boat.Lifted, "5", "you are lifted five"),
		grown(boat.Lifted, "10", "you are lifted ten"),
		grown(boat.Lifted, "15", "you are lifted fifteen"),
		grown(boat.Headed, "5", "you are knocked five"),
		grown(boat.Headed, "10", "you are knocked ten"),
		grown(boat.Headed, "15", "you are knocked fifteen"),
		same(boat.DeadAir, "", "no wind ahead, tack before the flat water"),
		same(boat.Shore, "", "look out, shore ahead").twice(),
		same(boat.OtherBoat, "", "look out, boat ahead").twice(),
		own(boat.OverLimit, "", "lean out, ease, go in when you can", "hike out, ease, go in when you can"),
		same(boat.Bearing, "mark", "the mark bears").heading(),
		same(boat.Bearing, "ramp", "the ramp bears").heading(),
		same(boat.Dark, "", "time to head back"),
		same(boat.Rest, "", "let it flap, drink"),
		same(boat.WindLost, "", "I have lost the wind"),
		same(boat.System, "position", "lost position"),
		same(boat.System, "compass", "lost compass"),
		same(boat.System, "phone", "lost phone link"),
		same(boat.System, "battery", "battery low"),
	}
}

// Prepared is a phrase that an instructor can have said with one tap.
type Prepared struct {
	Key   string // Act.Phrase and the cue's variant
	Words string
}

// Instructor returns the prepared phrases, in the order of the page. They were
// not measured in noise; each is short, says one thing and hides no order that
// another cue could contradict.
func Instructor() []Prepared {
	return []Prepared{
		{"look_around", "look around you"},
		{"well_done", "well done, carry on"},
		{"stop", "stop, let the sheet go"},
		{"follow_me", "follow me"},
		{"come_alongside", "come alongside"},
		{"hold_course", "hold this course"},
		{"tack_when_ready", "tack when you are ready"},
		{"once_again", "once again, please"},
		{"keep_clear", "keep clear of the others"},
		{"to_the_ramp", "head for the ramp"},
		{"take_a_break", "take a break"},
		{"sit_forward", "sit further forward"},
		{"loosen_grip", "hold the tiller lightly"},
		{"wait_for_me", "stop there and wait"},
		{"sound_check", "sound check, knock twice"},
		{"lookout", "you keep the lookout"},
	}
}
