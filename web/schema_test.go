package web_test

import (
	"encoding/json"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// holdToSchema checks every frame of the test, both ways, against the schema
// that stands beside the service's own decoder.
func (d *double) holdToSchema(t *testing.T) {
	t.Helper()
	d.mu.Lock()
	defer d.mu.Unlock()
	for name, frames := range map[string][]message{"to_service": d.frames, "to_page": d.told} {
		schema, err := jsonschema.NewCompiler().Compile("../internal/phonemsg/schema.json#/$defs/" + name)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range frames {
			var plain any
			b, err := json.Marshal(m)
			if err == nil {
				err = json.Unmarshal(b, &plain)
			}
			if err == nil {
				err = schema.Validate(plain)
			}
			if err != nil {
				t.Errorf("a message %s breaks the schema: %s: %v", name, b, err)
				break
			}
		}
	}
}
