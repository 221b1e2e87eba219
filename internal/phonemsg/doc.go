// Package phonemsg is the wire format between the pages and the service: JSON
// text frames, one message each, versioned by join.v (see Version). It is the
// one place that documents them; schema.json beside it says the same to other
// programs, and a test holds the two together.
//
// Units: degrees; knots for sog, stw, aws, tws and kn; metres;
// milliseconds since the Unix epoch for t. Any reading may be absent; absent is
// never zero. Unknown fields are ignored.
//
// Page to service (Decode):
//
//	join     {v, role, token, boat?, mount?, caps?, t?}   first on every link
//	sample   {t, seq?, lat, lon, acc, sog, cog, hdg, hdgRef, heel, pitch, yaw, mount, batt}
//	samples  {batch: [sample, …], t?}                     after a gap, at most MaxBatch; t: when they left
//	wind_fix {t, dir, ref, sd, kn, method, lat, lon}
//	answer   {t, knocks?, done?}                          knocks on the case, or "I did it"
//	hidden {t}, shown {t}                                 page left, page back
//	spoken   {id, t, where?, what?, note?, own?}          what became of a cue; own: the cue itself, where the page's own engine gave it
//	sound_delay {t, s}                                    measured from the page to the ear, seconds
//	act      {t, act, boat?, phrase?, text?, dir?, ref?, sd?, kn?, level?}   instructor only
//	bye      {}
//
// Every message of a page may carry seq, its count of what it sent; what came twice
// by it is taken once, and ack answers it.
//
// Service to page (Encode): joined, ack, state, cue, note, input, error.
//
// The calls needed are Decode, ToInputs and Encode. The package refuses, with
// an *Error that names the field, what was expected and what came: malformed
// JSON, wrong types, unknown types, missing fields and readings out of range.
// It keeps no state, looks at no clock and knows nothing about links.
package phonemsg
