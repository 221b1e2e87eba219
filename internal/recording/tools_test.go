package recording

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"testing"

	"github.com/foxglove/mcap/go/mcap"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"pgregory.net/rapid"

	"helmcue/internal/boat"
)

// What general tools need is there: the library's own reader finds the
// messages by the index, and each fits the schema of its channel.
func TestGeneralToolsCanReadIt(t *testing.T) {
	recs := small()
	plain := write(t, Header{}, recs)
	var packed bytes.Buffer
	must(t, Compress(&packed, bytes.NewReader(plain)))
	for name, file := range map[string][]byte{"plain": plain, "compressed": packed.Bytes()} {
		r, err := mcap.NewReader(bytes.NewReader(file))
		must(t, err)
		info, err := r.Info()
		must(t, err)
		if info.Statistics.MessageCount != uint64(len(recs)) {
			t.Errorf("%s: the index counts %d messages, wrote %d", name, info.Statistics.MessageCount, len(recs))
		}
		r, err = mcap.NewReader(bytes.NewReader(file)) // Info moved the first one to the end
		must(t, err)
		it, err := r.Messages(mcap.UsingIndex(name == "compressed"))
		must(t, err)
		n := 0
		for {
			schema, _, m, err := it.NextInto(nil)
			if errors.Is(err, io.EOF) {
				break
			}
			must(t, err)
			must(t, fits(schema, m.Data))
			n++
		}
		if n != len(recs) {
			t.Errorf("%s: the library's reader found %d messages, wrote %d", name, n, len(recs))
		}
	}
}

// Every message that can be drawn fits its schema, and a wrong one does not.
func TestSchemasHold(t *testing.T) {
	in := &mcap.Schema{Data: []byte(inputSchema)}
	out := &mcap.Schema{Data: []byte(outputSchema)}
	rapid.Check(t, func(rt *rapid.T) {
		i, o := drawInput(rt), drawOutput(rt)
		if s := i.Sample; s != nil {
			s.LatDeg, s.LonDeg = boat.Some(1), boat.Some(2) // the schema states their range
		}
		if o.Cue != nil {
			o.Cue.Side = "port"
		}
		if o.Manoeuvre != nil {
			o.Manoeuvre.Kind = "tack"
		}
		bi, err := json.Marshal(i)
		must(t, err)
		bo, err := json.Marshal(o)
		must(t, err)
		if err := errors.Join(fits(in, bi), fits(out, bo)); err != nil {
			rt.Fatal(err)
		}
	})
	if fits(in, []byte(`{"t":"now","kind":"sample"}`)) == nil || fits(out, []byte(`{"type":"shout","t":1}`)) == nil {
		t.Error("a schema takes a wrong message")
	}
}

func fits(s *mcap.Schema, data []byte) error {
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(s.Data))
	if err != nil {
		return err
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("schema.json", doc); err != nil {
		return err
	}
	compiled, err := c.Compile("schema.json")
	if err != nil {
		return err
	}
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	if err != nil {
		return err
	}
	if err := compiled.Validate(v); err != nil {
		return fmt.Errorf("%s: %w", data, err)
	}
	return nil
}
