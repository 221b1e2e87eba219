// Package water reads a chart for a boat: how far the shore is on a course, where
// land takes the wind, where there is room, how a mark or the ramp is reached, when
// the sun sets, and which water was sailed already.
//
// New makes a Chart of a boat.Water; ShoreM, ClearM and Lee answer for one place,
// Ahead for the next minutes on a course, NewMap for a whole lake in a wind. Reach
// works out the way to a mark, SunOn the day's light.
//
// It knows only what the chart says. A chart without a shallow is no promise of
// depth, a height left out is not a height of nothing, and the distances behind an
// obstacle at which the wind comes back are bands, not numbers to be spoken.
package water
