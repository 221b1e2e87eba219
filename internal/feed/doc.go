// Package feed brings a boat's instruments in: NMEA 0183 lines from a TCP
// server, from instruments that connect here, from UDP datagrams, from a serial
// line or from a file played at its own pace.
//
// ParseSource reads what --nmea says, Open makes a Feed of it, Run reads until
// its context ends and hands over each input, and Status says how it is doing.
//
// A TCP source that is away or falls silent is dialled again, and a serial line
// that was pulled is opened again, with growing waits. UDP datagrams and connections
// are taken from whoever sends to the port: what listens beyond this machine trusts
// its network. Inputs carry the time of the
// service's clock in T and the instrument's own in Sent. A broken line is
// counted and never fatal; a line beyond a kilobyte is passed over.
//
// Run owns no goroutine beyond its call, but for the one that closes the socket
// when the context ends and, while it listens, one for each connection; it waits
// for all.
package feed
