package cue

import (
	"fmt"

	"helmcue/internal/boat"
)

// windLost: the wind was known while she sailed, and is not any more.
type windLost struct {
	had  bool
	gone spell
}

const goneS = 10.0

func (r *windLost) propose(v *view) (candidate, bool) {
	if v.Wind.Known && v.Mode.Sailing() {
		r.had = true
	}
	r.gone.see(v.Now, !v.Wind.Known)
	k := candidate{class: warning, since: r.gone.since, life: 10, wait: 6, again: 120}
	if !r.had || !r.gone.lasted(v.Now, goneS) || v.Mode == boat.Motoring || v.Mode == boat.Capsized || v.Mode == boat.Stopped {
		return k, false
	}
	k.cue = boat.Cue{Key: boat.WindLost, Conf: 0.9, WhyCode: "wind_not_known",
		Why: windDoubt(v.Wind.AgeS) + "; until it is known again only what needs no wind is said"}
	k.done = func() { r.had = false }
	return k, true
}

// system: what the coach has lost of its senses, once for each loss.
type system struct {
	position, compass, phone, battery loss
}

// loss is one thing that was had and is gone.
type loss struct {
	had  bool
	gone spell
	back spell
	told bool
}

const (
	lostS  = 10.0
	backS  = 10.0
	lowBat = 0.15
)

// see returns whether the thing has been gone long enough to say so.
func (l *loss) see(t boat.Time, have bool) bool {
	l.gone.see(t, !have)
	l.back.see(t, have)
	if l.back.lasted(t, backS) {
		l.had, l.told = true, false
	}
	return l.had && !l.told && l.gone.lasted(t, lostS)
}

func (r *system) propose(v *view) (candidate, bool) {
	// Unheard, the phone's other readings tell nothing about themselves.
	deaf := r.phone.see(v.Now, !v.Deaf)
	if deaf {
		return r.say(&r.phone, "phone", fmt.Sprintf("nothing was heard of the phone for %.0f s", v.Now.Seconds(r.phone.gone.since)))
	}
	if v.Deaf {
		return candidate{}, false
	}
	position := r.position.see(v.Now, v.State.PosOK)
	compass := r.compass.see(v.Now, v.State.HeadingBy == "compass")
	battery := r.battery.see(v.Now, !v.State.Batt.OK || v.State.Batt.Val >= lowBat)
	switch {
	case position:
		return r.say(&r.position, "position", fmt.Sprintf("no usable position for %.0f s", v.Now.Seconds(r.position.gone.since)))
	case compass:
		return r.say(&r.compass, "compass", fmt.Sprintf("no heading from the compass for %.0f s", v.Now.Seconds(r.compass.gone.since)))
	case battery:
		return r.say(&r.battery, "battery", fmt.Sprintf("the phone's battery is at %.0f %%", 100*v.State.Batt.Val))
	}
	return candidate{}, false
}

func (r *system) say(l *loss, variant, why string) (candidate, bool) {
	k := candidate{class: warning, since: l.gone.since, life: 10, wait: 4, again: 60, done: func() { l.told = true }}
	k.cue = boat.Cue{Key: boat.System, Variant: variant, WhyCode: variant, Conf: 0.95, Why: why}
	return k, true
}

// windDoubt is why the wind is no longer known: too old, or told two ways.
func windDoubt(ageS float64) string {
	if ageS < 120 {
		return "what is told of the wind does not agree"
	}
	return fmt.Sprintf("the last word on the wind is %.0f minutes old", ageS/60)
}

// rest: after a stretch of work, a break.
type rest struct{ told spell }

const workMaxS = 25 * 60.0

func (r *rest) propose(v *view) (candidate, bool) {
	k := candidate{class: teaching, life: 20, wait: 20, again: 480}
	r.told.see(v.Now, v.mem.workS >= workMaxS)
	k.since = r.told.since
	if !r.told.on || !v.straight() {
		return k, false
	}
	k.cue = boat.Cue{Key: boat.Rest, Conf: 0.9, WhyCode: "work", Why: fmt.Sprintf("%.0f minutes of sailing since the last break, or word of one", v.mem.workS/60)}
	k.done = func() { v.mem.workS = 0 }
	return k, true
}
