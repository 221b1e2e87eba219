// Package nmea turns NMEA 0183 lines into samples, with each reading present
// only where its field is.
//
// NewDecoder makes a Decoder for one source; Line takes one line and returns the
// inputs it gave; Flush returns what was still held back at the end; Count says
// how many lines were kept and why the others were not.
//
// Understood, from any talker: RMC, VTG, GGA, GLL (position and course), HDG,
// HDT, HDM, THS (heading), VHW (heading and speed through the water), MWV, VWR,
// VWT, MWD (wind), XDR (roll or heel, pitch or trim) and ZDA (time). A line is
// refused as a whole when its checksum is wrong, its status says that it is not
// valid, or one of its fields is not what the sentence has there; a field out of
// range or empty is absent. A line holding several whole sentences, or one after
// line noise, gives the whole ones.
//
// Time. A source that states no date within its first lines gets 1 January 1970,
// so that its times are milliseconds of day, counted on over midnight. T never
// goes back. See Decoder.Line for the two ways of telling it.
package nmea
