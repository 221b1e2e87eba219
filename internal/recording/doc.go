// Package recording writes and reads the log of a session: every input the
// engine was given and every output it gave, in engine order, in an MCAP
// container (an open format for time-stamped logs) with JSON messages.
//
// Create starts one, Input and Output append, Sync is called by the owner once
// a second, Close ends it. Each message reaches the file in one write as it
// comes, so a process killed at any moment leaves every whole message readable.
// Finish then rewrites a closed or torn file compressed. Open reads either form
// from any io.Reader.
//
// A recording that ends in the middle is torn (see Reader.Torn): every whole
// message before the cut is returned, then io.EOF. A recording with wrong bytes
// before its end is damaged: ErrDamaged. The package refuses containers made
// for other things and forms newer than it knows; channels it does not know
// are passed over. A Writer and a Reader each belong to one goroutine.
package recording
