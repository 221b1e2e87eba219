package lesson

import (
	"helmcue/internal/boat"
	"helmcue/internal/sim"
)

// measure is what came of the lesson.
func (l *Log) measure() *Result {
	r := &Result{Lessons: 1, ByKey: map[boat.Key]Count{}, Lost: l.losses()}
	before := boat.Waiting
	for i, t := range l.Truths {
		part := &r.Taught
		if i >= l.quietFrom() {
			part = &r.Quiet
		}
		part.see(t, before)
		if t.Mode == boat.Tacking && before != boat.Tacking && i < l.quietFrom() {
			if m, ok := l.lost(i); ok {
				r.TackLen += m / l.LengthM
				r.TackSeen++
			}
		}
		before = t.Mode
	}
	for i, c := range l.Cues {
		r.Said.see(l, i)
		if right, directed := l.Right(c); directed {
			n := r.ByKey[c.Key]
			n.add(right)
			r.ByKey[c.Key] = n
		}
	}
	return r
}

// A tack is measured against sailing on as she did in the entryS before it, until
// tackS after its beginning.
const (
	entryS = 10.0
	tackS  = 30.0
)

// lost is the metres to windward that the tack which begins at a step cost: what
// sailing on as before would have made good in half a minute, less what she made.
// Both are taken towards the mean wind of that time, so that a shift is no loss. ok is
// false off the beat, where she was not steady before, or where time runs out.
func (l *Log) lost(at int) (m float64, ok bool) {
	from, to := at-int(entryS*10), at+int(tackS*10)
	if from < 0 || to > len(l.Truths) || l.Truths[at].AimDeg > upwindDeg || l.Truths[to-1].AimDeg > upwindDeg {
		return 0, false
	}
	wind := meanDir(l.Truths[at:to])
	up := func(t sim.Truth) float64 { return upMS(t, wind) }
	for _, t := range l.Truths[from:at] {
		if t.Mode != boat.CloseHauled && t.Mode != boat.Reaching {
			return 0, false
		}
	}
	return tackS * (meanOf(l.Truths[from:at], up) - meanOf(l.Truths[at:to], up)), true
}

// see takes the cue with that number.
func (s *Said) see(l *Log, i int) {
	c := l.Cues[i]
	s.Cues++
	if Correction(c.Cue) {
		s.Corrections++
	}
	if !turnWord(c.Cue) {
		s.AirS += c.Seconds
	}
	if right, directed := l.Right(c); directed {
		s.Directed.add(right)
	}
	if l.Late(c) {
		s.Late++
	}
	if right, judged := l.Praised(c); judged && (c.Key == boat.Good || c.Key == boat.Hold) {
		s.Praise.add(right)
	}
	s.Contradictions += len(l.contradicts(i))
}

// Correction says whether the cue counts against the budget of corrections.
func Correction(c boat.Cue) bool { return c.Urgency == boat.Steer || c.Urgency == boat.Teach }

// turnWord says whether the cue belongs to a turn or to danger, which the budget of
// words does not hold back.
func turnWord(c boat.Cue) bool { return c.Urgency == boat.InTurn || c.Urgency == boat.Danger }

// Opposite orders within so long contradict each other.
const contraryS = 20.0

// contradicts lists the earlier cues that the one with that number contradicts.
func (l *Log) contradicts(i int) (out []Spoken) {
	c := l.Cues[i]
	on, dir := way(c.Key)
	for _, d := range l.Cues[:i] {
		onD, dirD := way(d.Key)
		if on == onD && dir*dirD < 0 && c.T.Seconds(d.T) < contraryS {
			out = append(out, d)
		}
	}
	return out
}

// way is what a cue works on and which way.
func way(k boat.Key) (on string, dir int) {
	switch k {
	case boat.Ease:
		return "sheet", -1
	case boat.Trim:
		return "sheet", 1
	case boat.HeadUp:
		return "helm", 1
	case boat.BearAway:
		return "helm", -1
	case boat.SitOut:
		return "weight", 1
	case boat.SitIn:
		return "weight", -1
	}
	return "", 0
}
