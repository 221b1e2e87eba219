// Package server is the edge between the pages and the service: it serves the
// pages over HTTPS, exchanges pairing codes, and keeps one web socket for each
// page. What arrives is decoded, dated and handed to Config.OnInput; what the
// engine says is handed to Publish and reaches the boat's page, instructors and
// viewers.
//
// The calls needed: New, then Run in a goroutine of the caller, Handler behind
// TLS, Plain on the port without, and Publish.
//
// Concurrency: one goroutine (Run's) owns the hub, that is boats and links; it
// never blocks on a socket and calls out only to Config.Enrich and Keys.Check. Each link
// has one reader, the request's own goroutine, and one writer. A page that
// cannot keep up is cut. Everything ends with Run's context, and Run waits.
//
// It refuses: hosts and origins that are not this machine, frames above
// MaxFrame, binary frames, messages faster than the limit, anything before
// join, acts of anyone but an instructor. A refused message is answered with an
// error and the link stays; a page that goes on sending them is cut.
package server
