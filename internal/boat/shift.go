package boat

// ShiftKind says what the wind's direction does about its mean.
type ShiftKind string

// The kinds. The zero ShiftKind says that nothing is known to have shifted.
const (
	Oscillating ShiftKind = "oscillating" // back and forth, as far as it has gone before
	Persistent  ShiftKind = "persistent"  // farther, or longer, than its swings explain
)

// Shift is how far the wind has gone from its mean on this tack.
type Shift struct {
	Kind    ShiftKind
	ID      int     // counts up with every shift called; the same shift keeps it
	LiftDeg float64 // lift positive, header negative; means nothing without a Kind
	SDDeg   float64 // standard deviation of LiftDeg
	Since   Time    // when it began, as far as the test can tell
	CalledT Time    // when the test was sure
	By      string  // motion or instrument: what showed it
	Why     string  // the numbers, for people

	PeriodS  Reading // of the swings, once several were seen, seconds
	SwingDeg Reading // how far they go to either side of the mean, degrees

	// Unclear says that her heading has left its mean and her speed does not tell
	// whether the wind or the helm did it.
	Unclear bool
	// Helm is pinch or foot while the helm explains the heading, else empty.
	Helm string
	// Close is the last closeness test that gave a result; its T is 0 before.
	Close Closeness
}

// Closeness is how close to the wind she was found to go: a measurement that was
// asked for, not something she happened to do.
type Closeness struct {
	T          Time
	HeadingDeg float64 // true, at which speed began to fall
	SDDeg      float64
	Starboard  bool // on starboard tack
}
