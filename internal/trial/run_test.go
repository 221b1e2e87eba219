package trial

import (
	"context"
	"errors"
	"strings"
	"testing"
)

func table(t *testing.T, rows []Row) string {
	t.Helper()
	var b strings.Builder
	if err := Table(&b, rows); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// The rows are the same whoever sailed which session first, and in their order.
func TestRunDoesNotDependOnWorkers(t *testing.T) {
	plan := Plan{Seeds: 2, Minutes: 3, Workers: 1, Names: []string{"first-lesson", "race-5s", "worn"}}
	one, err := Run(context.Background(), plan)
	if err != nil {
		t.Fatal(err)
	}
	calls := 0
	plan.Workers, plan.Done = 5, func(done, of int) {
		if calls++; done != calls || of != len(one)*2 {
			t.Errorf("session %d of %d, expected %d of %d", done, of, calls, len(one)*2)
		}
	}
	five, err := Run(context.Background(), plan)
	if err != nil {
		t.Fatal(err)
	}
	if a, b := table(t, one), table(t, five); a != b {
		t.Errorf("one worker:\n%s\nfive:\n%s", a, b)
	}
	if calls != len(one)*2 || len(one) != 4 {
		t.Errorf("%d sessions in %d rows", calls, len(one))
	}
}

func TestRunStops(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	plan := Plan{Seeds: 50, Minutes: 1, Done: func(int, int) { stop() }}
	if _, err := Run(ctx, plan); !errors.Is(err, context.Canceled) {
		t.Errorf("expected the context's error, got %v", err)
	}
}

func TestUnknownScenarioIsNamed(t *testing.T) {
	_, err := Sail(Session{Scenario: "nowhere", Minutes: 1})
	if err == nil || !strings.Contains(err.Error(), "nowhere") || !strings.Contains(err.Error(), Scenarios()[0]) {
		t.Errorf("got %v", err)
	}
}

// Writing a table and reading it gives its figures back.
func TestStoredTableReadsBack(t *testing.T) {
	s := &Score{Sessions: 1, After: 8, Known: 4, Inside: 2, Lock: []float64{7}, Shifts: 3}
	s.Err.Add(3)
	s.Err.Add(-4)
	var b strings.Builder
	if err := Store(&b, Plan{Seeds: 1, Minutes: 1}, []Row{{"here", "alone", s}}); err != nil {
		t.Fatal(err)
	}
	lines, err := ReadStored(strings.NewReader(b.String()))
	if err != nil || len(lines) != 1 || lines[0].Scenario != "here" || lines[0].Variant != "alone" {
		t.Fatalf("%+v, %v, of\n%s", lines, err, b.String())
	}
	for name, want := range map[string]float64{"known": 50, "rms": 3.5, "inside": 50, "lock": 7, "never": 0} {
		if v, ok := lines[0].Figure(name); !ok || v != want {
			t.Errorf("%s: %v %v, expected %v", name, v, ok, want)
		}
	}
	if v, ok := lines[0].Figure("wrong"); ok {
		t.Errorf("wrong sides are %v where none was claimed", v)
	}
	for _, bad := range []string{"a b 1\n", strings.Replace(b.String(), "0/3", "x/3", 1)} {
		if _, err := ReadStored(strings.NewReader(bad)); err == nil {
			t.Errorf("expected an error of %q", bad)
		}
	}
}
