// Package lake reads and writes charts of a lake as GeoJSON (RFC 7946): polygons of
// land, of shallows or of the water itself, points for marks and the ramp, lines for
// bridges, several points in one for the places sailed before. Read checks a chart and
// says what it made of it, Write writes one, NewDraft makes a first one from the tracks
// of boats, Demo gives the made-up lake of the demonstration.
//
// The members it reads of a feature's properties are kind (land, shallow, water, mark,
// ramp, bridge, sailed), name, height_m and porosity of what stands at a shore,
// clearance_m of a bridge; of the collection's, name and draft. It refuses rings that
// are open or cross themselves, holes outside their ring, places that are no longitude
// and latitude, heights that are no metres, and charts too large for one lake. It opens
// no file by itself.
package lake
