package cue

import (
	"fmt"
	"math"

	"helmcue/internal/boat"
)

// mindBoom: by the lee, or a gybe is under way: the boom may come across.
type mindBoom struct {
	side  float64 // +1 wind from starboard, the side she settled on downwind
	byLee spell
	told  boat.Time
}

const (
	byLeeDeg = 5.0 // beyond dead before the wind, on the wrong side
	// A sailor who has been warned keeps the head low for a while; the same word by
	// every wave is not heard any more. A boat that really swings through is told again.
	boomAgainS = 30.0
	swingDps   = 10.0
	swingS     = 8.0
	sternDeg   = 135.0 // from here a turn to leeward ends in a gybe
)

func (r *mindBoom) propose(v *view) (candidate, bool) {
	k := candidate{class: turning, life: 2, wait: 4, again: boomAgainS}
	if !v.angled() || v.Wind.SDDeg > 15 {
		r.byLee, r.side = spell{}, 0
		return k, false
	}
	if v.Turn.Phase == boat.Turning && v.Turn.Kind == "gybe" {
		if r.told == v.Turn.Start || math.Abs(v.TWADeg.Val) < sternDeg {
			return k, false
		}
		start := v.Turn.Start
		k.since = start
		if math.Abs(v.State.YawDps.Or(0)) >= swingDps {
			k.again = swingS
		}
		k.cue = boat.Cue{Key: boat.MindBoom, Conf: 0.9, WhyCode: "gybe", Why: fmt.Sprintf("turning through the wind by the stern, %.0f° to the wind", math.Abs(v.TWADeg.Val))}
		k.done = func() { r.told = start }
		return k, true
	}
	r.follow(v)
	if !r.byLee.lasted(v.Now, 1) {
		return k, false
	}
	k.class, k.since = danger, r.byLee.since
	k.cue = boat.Cue{Key: boat.MindBoom, Conf: v.angleConf(), WhyCode: "by_the_lee", Why: fmt.Sprintf("by the lee: the wind is on the boom's side by %.0f°", 180-math.Abs(v.twa.Val))}
	return k, true
}

// follow keeps the side she sails on before the wind: the sail is on the other.
// A side is changed by a turn, or by sailing well clear of dead downwind.
func (r *mindBoom) follow(v *view) {
	a := math.Abs(v.twa.Val)
	here := math.Copysign(1, v.twa.Val)
	if r.side == 0 || a < 160 || v.Turn.Phase == boat.PastEye || v.Turn.Phase == boat.JustSteady {
		r.side = here
	}
	r.byLee.see(v.Now, v.Mode == boat.Running && here != r.side && a < 180-byLeeDeg)
}
