// Package geo is angles, positions, distances and the earth's magnetic field.
//
// Directions are degrees true, 0 to 360, clockwise from north; differences are
// degrees, -180 to 180, clockwise positive; distances are metres; positions are
// degrees on the WGS84 ellipsoid. Nothing here knows about boats.
package geo
