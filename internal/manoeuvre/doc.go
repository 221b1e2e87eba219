// Package manoeuvre tells tacks and gybes from everything that only looks like
// one, follows a turn while it is under way, scores it when it is over, and
// notices a boat that is stuck head to wind.
//
// New makes a Watch; Step gives it one Sight after another in order of time and
// returns the turn under way and the manoeuvres that are finished. The eye of a
// turn is the moment the bow (tack) or the stern (gybe) crosses the true wind.
//
// It claims nothing where neither the wind's direction nor an angle from an
// instrument is known, nothing for a boat without way on, and nothing for one that
// an engine drives. A boat that luffs and falls back, rounds up and returns, or
// runs by the lee has made no manoeuvre.
package manoeuvre
