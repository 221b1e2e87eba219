package lesson

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/sim"
)

// knowing is the all-knowing coach: it sees the true angles and says what is most
// amiss, in the engine's own words and within its budget: four corrections a minute
// and twenty in ten, half as many for an expert, with time for hand and boat after
// each.
type knowing struct {
	level boat.Level
	said  []boat.Time
	wait  boat.Time
	turn  boat.Time // last in a turn
	word  boat.Time // of the turn under way, 0: none yet
	irons boat.Time
	step  int
	id    int
}

const (
	knowHelmDeg  = 4.0 // off the best angle to windward
	knowSheetDeg = 5.0
	knowHeelDeg  = 20.0
	knowWaitS    = 7.0
)

// see says what to say now, if anything.
func (k *knowing) see(t sim.Truth) (boat.Cue, bool) {
	switch t.Mode {
	case boat.Irons:
		return k.stuck(t)
	case boat.Tacking, boat.Gybing:
		k.turn = t.T
		return k.turning(t)
	case boat.CloseHauled, boat.Reaching, boat.Running:
	default:
		return boat.Cue{}, false
	}
	k.step, k.word = 0, 0
	if t.T < k.wait || t.T.Seconds(k.turn) < 5 || !k.may(t.T) {
		return boat.Cue{}, false
	}
	c, ok := k.worst(t)
	if ok {
		k.said = append(k.said, t.T)
		k.wait = t.T.After(knowWaitS)
	}
	return c, ok
}

// worst is the cue for what costs most: heel, then angle against sheet by what each
// is off over what counts.
func (k *knowing) worst(t sim.Truth) (boat.Cue, bool) {
	off := 0.0
	if t.Mode == boat.CloseHauled || math.Abs(t.TWADeg) < 75 && t.AimDeg < 60 {
		off = math.Abs(t.TWADeg) - t.BeatDeg
	}
	sheet := t.SheetErrDeg()
	switch {
	case math.Abs(t.HeelDeg) > knowHeelDeg:
		return k.cue(t, boat.SitOut), true
	case math.Abs(off) > knowHelmDeg && math.Abs(off)/knowHelmDeg >= math.Abs(sheet)/knowSheetDeg:
		key := boat.HeadUp
		if off < 0 {
			key = boat.BearAway
		}
		return k.helm(t, key, math.Abs(off)), true
	case math.Abs(sheet) > knowSheetDeg:
		key := boat.Ease
		if sheet < 0 {
			key = boat.Trim
		}
		return k.trim(t, key, math.Abs(sheet)), true
	}
	return boat.Cue{}, false
}

// helm is an order for the course, in the words of the level.
func (k *knowing) helm(t sim.Truth, key boat.Key, off float64) boat.Cue {
	c := k.cue(t, key)
	c.Amount, c.Variant = boat.Some(5), "little"
	switch {
	case k.level == boat.Beginner:
	case off > 8:
		c.Amount, c.Variant = boat.Some(10), "10"
	default:
		c.Variant = "5"
	}
	return c
}

// trim is an order for the sheet, likewise.
func (k *knowing) trim(t sim.Truth, key boat.Key, off float64) boat.Cue {
	c := k.cue(t, key)
	if k.level != boat.Beginner {
		c.Size = boat.Little
		if off > 9 {
			c.Size = boat.More
		}
		c.Variant = string(c.Size)
	}
	return c
}

// turning says the one word within a tack: in before the eye, out after it.
func (k *knowing) turning(t sim.Truth) (boat.Cue, bool) {
	if t.Mode != boat.Tacking || k.word != 0 || math.Abs(t.YawDps) < 4 {
		return boat.Cue{}, false
	}
	toEye := math.Abs(t.TWADeg / t.YawDps)
	if t.TWADeg*t.YawDps > 0 && toEye < 1.5 { // clockwise closes an angle to starboard
		k.word = t.T
		return k.cue(t, boat.EaseOut), true
	}
	return boat.Cue{}, false
}

// stuck leads out of irons, a step each five seconds.
func (k *knowing) stuck(t sim.Truth) (boat.Cue, bool) {
	if k.step > 2 || k.step > 0 && t.T.Seconds(k.irons) < 5 {
		return boat.Cue{}, false
	}
	step := []string{"stuck", "sheet_loose", "bow_turned"}[k.step]
	if step == "bow_turned" && math.Abs(t.TWADeg) < 30 {
		return boat.Cue{}, false
	}
	k.step, k.irons = k.step+1, t.T
	c := k.cue(t, boat.InIrons)
	c.Variant, c.WhyCode = step, step
	return c, true
}

// may says whether the budget of corrections allows one more.
func (k *knowing) may(t boat.Time) bool {
	minute, ten := 4, 20
	if k.level == boat.Expert {
		minute, ten = 2, 10
	}
	inMinute, inTen := 0, 0
	for _, at := range k.said {
		if ago := t.Seconds(at); ago < 600 {
			inTen++
			if ago < 60 {
				inMinute++
			}
		}
	}
	return inMinute < minute && inTen < ten
}

func (k *knowing) cue(t sim.Truth, key boat.Key) boat.Cue {
	k.id++
	return boat.Cue{T: t.T, ID: k.id, Key: key, Level: k.level, Urgency: boat.Steer, Conf: 1, WhyCode: "truth", Why: "the truth is known"}
}
