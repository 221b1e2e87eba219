// Package geo is angles, positions, distances and the earth's magnetic field.
//
// Wrap360, Wrap180 and Diff are the one place where angles are wrapped; Mean is
// the mean of directions. Distance, Bearing and Destination go along the
// ellipsoid, a Frame is the cheap flat map round a place, Declination turns
// magnetic into true.
//
// Directions are degrees true, 0 to 360, clockwise from north; differences are
// degrees, -180 to 180, clockwise positive; distances are metres; positions are
// degrees on the WGS84 ellipsoid. Nothing here knows about boats, and nothing
// makes up a direction where there is none: ok is false then.
package geo
