package boat

import "fmt"

// Mode is the way of sailing the engine believes in.
type Mode int

// The modes, as the output lines name them.
const (
	Unknown Mode = iota
	CloseHauled
	Reaching
	Running
	Tacking
	Gybing
	Irons
	Waiting
	Stopped
	Capsized
	Motoring
	Drifting
)

func modeNames() []string {
	return []string{"unknown", "close_hauled", "reaching", "running", "tacking", "gybing",
		"irons", "waiting", "stopped", "capsized", "motoring", "drifting"}
}

// Modes returns every mode, in the order of their numbers.
func Modes() []Mode { return all[Mode](len(modeNames())) }

func (m Mode) String() string { return name(modeNames(), int(m)) }

// MarshalText writes the name used in output lines.
func (m Mode) MarshalText() ([]byte, error) { return []byte(m.String()), nil }

// UnmarshalText reads the name used in output lines.
func (m *Mode) UnmarshalText(b []byte) error { return set(m, "mode", modeNames(), b) }

// Sailing says whether she is under way by sail, in a turn or out of it.
func (m Mode) Sailing() bool {
	switch m {
	case CloseHauled, Reaching, Running, Tacking, Gybing:
		return true
	}
	return false
}

// Level is how much the sailor is told, and in which words.
type Level int

// The three levels.
const (
	Improver Level = iota // the default
	Beginner
	Expert
)

func levelNames() []string { return []string{"improver", "beginner", "expert"} }

// Levels returns every level.
func Levels() []Level { return all[Level](len(levelNames())) }

func (l Level) String() string { return name(levelNames(), int(l)) }

// MarshalText writes beginner, improver or expert.
func (l Level) MarshalText() ([]byte, error) { return []byte(l.String()), nil }

// UnmarshalText reads beginner, improver or expert.
func (l *Level) UnmarshalText(b []byte) error { return set(l, "level", levelNames(), b) }

// Urgency orders cues: a larger one is more urgent.
type Urgency int

// The urgencies, least first.
const (
	Praise Urgency = iota
	Teach
	Steer
	Warning
	InTurn // written "manoeuvre"
	Danger
)

func urgencyNames() []string {
	return []string{"praise", "teach", "steer", "warning", "manoeuvre", "danger"}
}

func (u Urgency) String() string { return name(urgencyNames(), int(u)) }

// MarshalText writes the name used in output lines.
func (u Urgency) MarshalText() ([]byte, error) { return []byte(u.String()), nil }

// UnmarshalText reads the name used in output lines.
func (u *Urgency) UnmarshalText(b []byte) error { return set(u, "urgency", urgencyNames(), b) }

// Ref says what a heading or bearing is measured from. Absent readings have no ref.
type Ref string

// The two references.
const (
	True     Ref = "true"
	Magnetic Ref = "mag"
)

// Mount is how the phone is carried.
type Mount string

// The two mounts; the zero Mount means not said, and is read as fixed.
const (
	Fixed Mount = "fixed"
	Worn  Mount = "worn"
)

func all[T ~int](n int) []T {
	out := make([]T, n)
	for i := range out {
		out[i] = T(i)
	}
	return out
}

func name(names []string, i int) string {
	if i < 0 || i >= len(names) {
		return fmt.Sprintf("(%d)", i)
	}
	return names[i]
}

func set[T ~int](to *T, what string, names []string, b []byte) error {
	for i, n := range names {
		if n == string(b) {
			*to = T(i)
			return nil
		}
	}
	return fmt.Errorf("expected a %s (one of %v), got %q", what, names, b)
}
