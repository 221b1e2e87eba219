package cue

import (
	"cmp"
	"slices"

	"helmcue/internal/boat"
)

// arbitrate returns the candidate to speak now, if any: the first in the total
// order of class, age and place in the list that no gate holds back.
func arbitrate(v *view, candidates []candidate) (candidate, bool) {
	candidates = append(candidates, repetition(v, candidates)...)
	slices.SortStableFunc(candidates, func(a, b candidate) int {
		return cmp.Or(cmp.Compare(b.class, a.class), cmp.Compare(a.since, b.since))
	})
	for _, k := range candidates {
		if held(v, k) == "" {
			return k, true
		}
	}
	return candidate{}, false
}

// repetition returns the last cue once more where the sailor asked for it and it
// still holds: an order only while its rule still gives it, since an old order
// may be wrong by now; anything else for a minute.
func repetition(v *view, candidates []candidate) []candidate {
	m := v.mem
	if m.repeat == 0 || v.Now.Seconds(m.repeat) > 5 {
		m.repeat = 0
		return nil
	}
	old, ok := m.last()
	if !ok || m.now.Seconds(old.cue.T) > 60 {
		return nil
	}
	if ofWind(old.cue.Key) && !v.Wind.Known {
		return nil
	}
	again := candidate{cue: old.cue, class: confirming, since: m.repeat, life: 3, wait: 4, again: 0}
	if !lasting(old.cue.Key) {
		i := slices.IndexFunc(candidates, func(k candidate) bool { return k.cue.Key == old.cue.Key })
		if i < 0 {
			return nil
		}
		again = candidates[i]
		again.class = max(again.class, confirming)
		again.again = 0
	}
	done := again.done
	again.done = func() {
		m.repeat = 0
		if done != nil {
			done()
		}
	}
	return []candidate{again}
}

// ofWind says whether lasting words mean nothing without a known wind.
func ofWind(k boat.Key) bool {
	switch k {
	case boat.PrepareTack, boat.PrepareGybe, boat.Lifted, boat.Headed:
		return true
	}
	return false
}

// lasting says whether the words stay true for a minute: they tell and do not
// order anything about sheet or helm now.
func lasting(k boat.Key) bool {
	switch k {
	case boat.PrepareTack, boat.PrepareGybe, boat.Lifted, boat.Headed, boat.OverLimit, boat.WindLost,
		boat.System, boat.Rest, boat.Say, boat.Look, boat.Intro, boat.Result, boat.Bearing:
		return true
	}
	return false
}
