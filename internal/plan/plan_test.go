package plan

import (
	"bytes"
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"helmcue/internal/exercise"
)

func compiled(t testing.TB) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(Schema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("plan.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("plan.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// fits says whether the schema takes the TOML text, read as JSON.
func fits(t testing.TB, s *jsonschema.Schema, text []byte) bool {
	t.Helper()
	var v map[string]any
	if toml.Unmarshal(text, &v) != nil {
		return false
	}
	b, err := json.Marshal(v)
	if err != nil { // TOML knows NaN, JSON does not
		return false
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	return s.Validate(doc) == nil
}

func TestBuiltInPlans(t *testing.T) {
	s := compiled(t)
	used := map[string]bool{}
	for _, name := range Names() {
		p, err := Find(name)
		if err != nil || p.Name != name || p.Title == "" {
			t.Errorf("%s: got %+v, %v", name, p, err)
		}
		if p.CallTurns {
			t.Errorf("%s answers for room on a water it does not know", name)
		}
		text, err := files.ReadFile("plans/" + name + ".toml")
		if err != nil || !fits(t, s, text) {
			t.Errorf("%s: the schema refuses it (%v)", name, err)
		}
		for _, st := range p.Steps {
			used[st.Exercise] = true
		}
		if last := p.Steps[len(p.Steps)-1].Exercise; last != exercise.OnYourOwn {
			t.Errorf("%s ends with %s, want the minutes without the voice", name, last)
		}
	}
	for _, e := range exercise.Names() {
		if !used[e] {
			t.Errorf("no built-in plan has %s", e)
		}
	}
	entries, err := files.ReadDir("plans")
	if err != nil || len(entries) != len(Names()) {
		t.Errorf("%d files for %d names (%v)", len(entries), len(Names()), err)
	}
	if _, err := Find("regatta"); err == nil || !strings.Contains(err.Error(), "first-steps") {
		t.Errorf("got %v, want an error that lists the plans", err)
	}
}

// The teaching order: stopping before anything, the gybe after all else (common
// practice, no source).
func TestTeachingOrder(t *testing.T) {
	p, err := Find("first-steps")
	if err != nil || p.Steps[0].Exercise != exercise.StopAndStart {
		t.Errorf("the first lesson begins with %+v (%v)", p.Steps, err)
	}
	p, err = Find("all-round")
	if n := len(p.Steps); err != nil || p.Steps[n-2].Exercise != exercise.GybeWell {
		t.Errorf("the gybe is not last: %+v (%v)", p.Steps, err)
	}
}

func TestSchemaNamesEveryExercise(t *testing.T) {
	var doc struct {
		Properties struct {
			Step struct {
				Items struct {
					Properties struct {
						Exercise struct{ Enum []string }
					}
				}
			}
		}
	}
	if err := json.Unmarshal(Schema(), &doc); err != nil {
		t.Fatal(err)
	}
	got, want := doc.Properties.Step.Items.Properties.Exercise.Enum, exercise.Names()
	slices.Sort(got)
	slices.Sort(want)
	if !slices.Equal(got, want) {
		t.Errorf("the schema knows %v, there are %v", got, want)
	}
}

func TestRefused(t *testing.T) {
	const head = "name = \"x\"\n[[step]]\nexercise = \"gybe\"\n"
	s := compiled(t)
	for text, says := range map[string]string{
		"":                          "expected a name",
		"name = \"x\"":              "expected 1 to 40 [[step]]",
		head + "tries = 4":          `line 4: there is no key "step.tries"`,
		"nmae = \"x\"":              `line 1: there is no key "nmae"`,
		"name = ":                   "line 1",
		head + "good = 3":           "3 of 0",
		head + "good = 5\nof = 4":   "5 of 4",
		head + "good = -1\nof = 4":  "-1 of 4",
		head + "minutes = nan":      "expected 1 to 240",
		head + "minutes = 0.2":      "expected 1 to 240",
		head + "lengths = 1e9":      "expected 0.5 to 500",
		head + "seconds = -3":       "expected 20 to 3600",
		head + "seconds = \"long\"": "line 4",
		"name = \"x\"\n[[step]]\nexercise = \"loop\"": "expected one of stop_and_start",
		"name = \" \"\n[[step]]\nexercise = \"gybe\"": "expected a name",
	} {
		_, err := Read(strings.NewReader(text))
		if err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: got error %v, want one with %q", text, err, says)
		}
		// The schema cannot compare two numbers; all else it refuses too.
		if says != "5 of 4" && fits(t, s, []byte(text)) {
			t.Errorf("%q: the schema takes what the reader refuses", text)
		}
	}
	if _, err := Read(strings.NewReader(strings.Repeat("#", maxSize+1))); err == nil {
		t.Error("a plan of any size was read")
	}
}

func FuzzRead(f *testing.F) {
	for _, name := range Names() {
		text, err := files.ReadFile("plans/" + name + ".toml")
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	f.Add([]byte("name = \"x\"\ncall_turns = true\n[[step]]\nexercise = \"gybe\"\ngood = 2\nof = 3\nlengths = inf\n"))
	s := compiled(f)
	f.Fuzz(func(t *testing.T, text []byte) {
		p, err := Read(bytes.NewReader(text))
		if err != nil {
			return
		}
		var out bytes.Buffer
		if err := Write(&out, p); err != nil {
			t.Fatalf("read %+v and cannot write it: %v", p, err)
		}
		if !fits(t, s, out.Bytes()) {
			t.Fatalf("the schema refuses what was written:\n%s", out.Bytes())
		}
		q, err := Read(&out)
		if err != nil || !p.Equal(&q) {
			t.Fatalf("wrote %+v, read back %+v, %v", p, q, err)
		}
	})
}
