// Package app is where the edges meet: it runs the service. New opens what must
// be open before anything is promised (listeners, data folder, keys, voice), Run
// serves until its context ends and closes every recording on the way out.
//
// Each boat has a seat: one goroutine that owns her engine and her recording.
// Pages, instruments and the simulated boat hand it inputs; it writes each to the
// recording, steps the engine, writes what came out, and hands that to the pages
// and the loudspeaker over bounded queues. What the loudspeaker did comes back as
// an input.
package app
