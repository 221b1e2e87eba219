package phonemsg

import "fmt"

// Code is why a message, or a link, was refused. It goes to the page in the
// code field of an error message, so pages may decide on it.
type Code string

// The codes Decode gives.
const (
	BadJSON     Code = "bad_json"     // not a JSON object
	BadType     Code = "bad_type"     // a field is of the wrong JSON type
	UnknownType Code = "unknown_type" // no message of that type
	OutOfRange  Code = "out_of_range" // a reading cannot be true
	Missing     Code = "missing"      // a field that must be there is not
)

// The codes the service itself gives.
const (
	BadVersion  Code = "bad_version"  // join.v is not Version
	BadToken    Code = "bad_token"    // unknown or revoked: pair again
	BadCode     Code = "bad_code"     // no such pairing code, used, or expired
	NotJoined   Code = "not_joined"   // join must come first
	Forbidden   Code = "forbidden"    // not for this role
	TooFast     Code = "too_fast"     // above the rate limit; slow down
	TooBig      Code = "too_big"      // above the size limit
	Binary      Code = "binary"       // frames must be text
	Replaced    Code = "replaced"     // a newer page speaks for this boat
	NotRecorded Code = "not_recorded" // the recording did not take it; send again
	BadRequest  Code = "bad_request"  // host, origin or method is wrong
)

// Error is one refused message. Text says what was expected, what came and
// what to do; Field is the JSON name, empty where no one field is at fault.
type Error struct {
	Code  Code
	Field string
	Text  string
}

func (e *Error) Error() string { return string(e.Code) + ": " + e.Text }

// Errorf makes an Error without a field.
func Errorf(c Code, format string, args ...any) *Error {
	return &Error{Code: c, Text: fmt.Sprintf(format, args...)}
}

func missing(field, what string) *Error {
	return &Error{Missing, field, fmt.Sprintf("expected %s, %s", field, what)}
}

func outOfRange(field, want string, got any) *Error {
	return &Error{OutOfRange, field, fmt.Sprintf("%s must be %s, got %.60v", field, want, got)}
}
