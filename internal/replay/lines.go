package replay

import (
	"encoding/json"
	"fmt"
	"io"

	"helmcue/internal/boat"
)

// WriteLine writes an input as the page would send it, one JSON object and a line
// feed: the form that replay reads from a pipe. Inputs that no page sends (ticks,
// settings) give no line.
func WriteLine(w io.Writer, in boat.Input) error {
	var body any
	switch in.Kind {
	case boat.SampleIn:
		body = in.Sample
	case boat.WindFixIn:
		body = in.WindFix
	case boat.AnswerIn:
		body = in.Answer
	case boat.ActIn:
		body = in.Act
	case boat.SpokenIn:
		body = in.Spoken
	case boat.Hidden, boat.Shown:
		body = struct{}{}
	default:
		return nil
	}
	b, err := json.Marshal(body)
	if err != nil {
		return fmt.Errorf("cannot write the %s at %d as JSON: %w", in.Kind, in.T, err)
	}
	sep := ","
	if len(b) == 2 {
		sep = ""
	}
	_, err = fmt.Fprintf(w, `{"type":"%s","t":%d%s%s`+"\n", in.Kind, in.T, sep, b[1:])
	return err
}
