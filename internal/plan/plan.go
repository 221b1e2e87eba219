package plan

import (
	"bytes"
	"embed"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/pelletier/go-toml/v2"

	"helmcue/internal/boat"
	"helmcue/internal/exercise"
)

//go:embed plans/*.toml
var files embed.FS

//go:embed plan.schema.json
var schema []byte

// Schema returns the JSON Schema (2020-12) of a plan file, for editors and tests.
func Schema() []byte { return bytes.Clone(schema) }

// The most a plan may hold.
const (
	maxSize  = 64 << 10 // bytes
	maxSteps = 40
	maxName  = 40
	maxTitle = 120
)

// file is a plan as the file has it.
type file struct {
	Name      string `toml:"name"`
	Title     string `toml:"title,omitempty"`
	CallTurns bool   `toml:"call_turns,omitempty"`
	Steps     []step `toml:"step"`
}

type step struct {
	Exercise string  `toml:"exercise"`
	Good     int     `toml:"good,omitempty"`
	Of       int     `toml:"of,omitempty"`
	Minutes  float64 `toml:"minutes,omitempty"`
	Lengths  float64 `toml:"lengths,omitempty"`
	Seconds  float64 `toml:"seconds,omitempty"`
}

// Read reads and checks one plan. The errors name the line where there is one, what
// was expected and what came.
func Read(r io.Reader) (boat.Plan, error) {
	text, err := io.ReadAll(io.LimitReader(r, maxSize+1))
	switch {
	case err != nil:
		return boat.Plan{}, fmt.Errorf("cannot read the plan: %w", err)
	case len(text) > maxSize:
		return boat.Plan{}, fmt.Errorf("expected a plan of at most %d kB, this is more", maxSize>>10)
	}
	var f file
	if err := toml.NewDecoder(bytes.NewReader(text)).DisallowUnknownFields().Decode(&f); err != nil {
		return boat.Plan{}, fmt.Errorf("the plan does not fit: %s", explain(err))
	}
	p := boat.Plan{Name: f.Name, Title: f.Title, CallTurns: f.CallTurns}
	for _, s := range f.Steps {
		p.Steps = append(p.Steps, boat.PlanStep(s))
	}
	return p, Check(p)
}

// Check says the first thing that cannot be in a plan, or nil.
func Check(p boat.Plan) error {
	switch {
	case strings.TrimSpace(p.Name) == "":
		return errors.New("name: expected a name for the plan, got nothing")
	case len(p.Name) > maxName || len(p.Title) > maxTitle:
		return fmt.Errorf("expected a name of at most %d bytes and a title of at most %d", maxName, maxTitle)
	case len(p.Steps) == 0 || len(p.Steps) > maxSteps:
		return fmt.Errorf("expected 1 to %d [[step]] tables, got %d", maxSteps, len(p.Steps))
	}
	for i, s := range p.Steps {
		if err := checkStep(s); err != nil {
			return fmt.Errorf("step %d: %w", i+1, err)
		}
	}
	return nil
}

func checkStep(s boat.PlanStep) error {
	if _, ok := exercise.Find(s.Exercise); !ok {
		return fmt.Errorf("exercise: expected one of %s, got %q", strings.Join(exercise.Names(), ", "), s.Exercise)
	}
	if s.Good < 0 || s.Of < 0 || s.Of > 20 || s.Good > s.Of || (s.Good == 0) != (s.Of == 0) {
		return fmt.Errorf("good, of: expected so many good of the last so many tries, such as 3 of 4, at most 20, got %d of %d", s.Good, s.Of)
	}
	for _, k := range []struct {
		name   string
		v      float64
		lo, hi float64
	}{{"minutes", s.Minutes, 1, 240}, {"lengths", s.Lengths, 0.5, 500}, {"seconds", s.Seconds, 20, 3600}} {
		if math.IsNaN(k.v) || k.v != 0 && (k.v < k.lo || k.v > k.hi) {
			return fmt.Errorf("%s: expected %g to %g, got %g", k.name, k.lo, k.hi, k.v)
		}
	}
	return nil
}

// Write writes a plan as a file that Read reads back as the same. It refuses what
// Read would.
func Write(w io.Writer, p boat.Plan) error {
	if err := Check(p); err != nil {
		return err
	}
	f := file{Name: p.Name, Title: p.Title, CallTurns: p.CallTurns}
	for _, s := range p.Steps {
		f.Steps = append(f.Steps, step(s))
	}
	if err := toml.NewEncoder(w).Encode(f); err != nil {
		return fmt.Errorf("cannot write the plan: %w", err)
	}
	return nil
}

// Names returns the built-in plans' names, in teaching order.
func Names() []string { return []string{"first-steps", "to-windward", "all-round"} }

// Find returns a built-in plan. The error lists them.
func Find(name string) (boat.Plan, error) {
	for _, n := range Names() {
		if n != name {
			continue
		}
		f, err := files.Open("plans/" + n + ".toml")
		if err != nil {
			return boat.Plan{}, fmt.Errorf("the built-in plan %s is missing: %w", n, err)
		}
		defer f.Close()
		return Read(f)
	}
	return boat.Plan{}, fmt.Errorf("expected a plan (%s), got %q", strings.Join(Names(), ", "), name)
}

// explain turns the decoder's error into one line with the place in the file.
func explain(err error) string {
	var strict *toml.StrictMissingError
	if errors.As(err, &strict) {
		var all []string
		for _, e := range strict.Errors {
			row, _ := e.Position()
			all = append(all, fmt.Sprintf("line %d: there is no key %q", row, strings.Join(e.Key(), ".")))
		}
		return strings.Join(all, "; ")
	}
	var d *toml.DecodeError
	if errors.As(err, &d) {
		row, _ := d.Position()
		return fmt.Sprintf("line %d: %s", row, d.Error())
	}
	return err.Error()
}
