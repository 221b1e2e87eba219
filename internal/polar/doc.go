// Package polar is what a boat can do: her speed by true wind speed and angle off
// the wind.
//
// Read takes a table from a file, Generic makes one for a boat without; New checks
// either and returns a Polar, which answers Speed, Target (best angles to windward
// and leeward) and Course (best angle towards a mark). It refuses tables that are
// unsorted, negative, ragged, empty or look like another unit, and never answers
// below the lowest angle a table holds with more than a fall to nothing.
//
// Speeds are knots, of the true wind and through the water; angles are degrees
// off the true wind, 0 to 180, the same on both tacks.
package polar
