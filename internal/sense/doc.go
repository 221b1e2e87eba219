// Package sense turns raw samples into the state of the boat.
//
// New makes a Filter; Add gives it each sample in the order it came; State reads
// what is believed at a time. Jumps are refused until they prove lasting, late
// readings never overwrite newer ones, and a reading that has gone stale is
// absent again. Everything that comes out is true, not magnetic, and less the
// compass's own error as far as package compass proved it; Lean tells it the side
// of the wind for that, where somebody knows it. The package knows nothing of wind
// or polars, and it does not guess: where a course means nothing because she hardly
// moves, there is no course.
package sense
