package engine

import (
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// Session scripts: above the dashes what happens to the boat, below them all
// that the engine said. `go test ./internal/engine -update` writes the lower half
// anew; read the difference and understand it before you keep it.
//
//	level NAME                     beginner, improver or expert
//	wind DIR KN [METHOD]           a wind fix, degrees true
//	head_to_wind                   the sailor taps with the sails flapping
//	hold SECONDS hdg=.. sog=..     sail so for so long (also heel=.. pitch=.. awa=.. aws=..)
//	turn SECONDS hdg=.. sog=..     change to these, evenly, over so long; the shorter way round
//	knocks N, done                 the sailor's answers
//	act NAME [PHRASE]              the instructor's
//	exercise NAME [good=N of=N lengths=.. seconds=.. minutes=..]   one more step of the plan
//	hidden, shown, silence SECONDS
//	worn, fixed
//
// Everything unsaid stays as it was; a reading never given is absent.
var update = flag.Bool("update", false, "write the expected half of the scripts anew")

func TestScripts(t *testing.T) {
	files, err := filepath.Glob("../../testdata/scripts/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatalf("no scripts found: %v", err)
	}
	for _, path := range files {
		t.Run(strings.TrimSuffix(filepath.Base(path), ".txt"), func(t *testing.T) { runScript(t, path) })
	}
}

func runScript(t *testing.T, path string) {
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	script, want, ok := strings.Cut(string(text), "----\n")
	if !ok && !*update {
		t.Fatal("expected a line of four dashes between the script and what is said")
	}
	got := play(t, script)
	if *update {
		if err := os.WriteFile(path, []byte(strings.TrimRight(script, "\n")+"\n----\n"+got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if got != want {
		t.Errorf("said:\n%s\nexpected:\n%s", got, want)
	}
}

// player sails a script.
type player struct {
	t    *testing.T
	eng  *Engine
	at   boat.Time
	set  boat.Settings
	vals map[string]float64
	pos  geo.Position
	out  strings.Builder
	seq  int64
}

const scriptStart = boat.Time(1_900_000_000_000)

func play(t *testing.T, script string) string {
	p := &player{t: t, eng: New(), at: scriptStart, vals: map[string]float64{}, pos: geo.Position{LatDeg: 48, LonDeg: 12}}
	for i, line := range strings.Split(script, "\n") {
		line, _, _ = strings.Cut(line, "#")
		if f := strings.Fields(line); len(f) > 0 {
			if err := p.do(f); err != nil {
				t.Fatalf("line %d: %v", i+1, err)
			}
		}
	}
	return p.out.String()
}

func (p *player) do(f []string) error {
	switch f[0] {
	case "level":
		if err := p.set.Level.UnmarshalText([]byte(f[1])); err != nil {
			return err
		}
		p.settings()
	case "worn", "fixed":
		p.set.Mount = boat.Mount(f[0])
		p.settings()
	case "limit":
		p.set.LimitKn = num(f[1])
		p.settings()
	case "wind":
		method := "hand"
		if len(f) > 3 {
			method = f[3]
		}
		p.step(boat.Input{Kind: boat.WindFixIn, WindFix: &boat.WindFix{DirDeg: boat.Some(num(f[1])), Kn: boat.Some(num(f[2])), Method: method}})
	case "head_to_wind":
		p.step(boat.Input{Kind: boat.WindFixIn, WindFix: &boat.WindFix{Method: f[0]}})
	case "hold", "turn":
		return p.sail(f[0] == "turn", num(f[1]), f[2:])
	case "knocks":
		p.step(boat.Input{Kind: boat.AnswerIn, Answer: &boat.Answer{Knocks: int(num(f[1]))}})
	case "done":
		p.step(boat.Input{Kind: boat.AnswerIn, Answer: &boat.Answer{Done: true}})
	case "act":
		a := boat.Act{Act: f[1]}
		if len(f) > 2 {
			a.Phrase = f[2]
		}
		p.step(boat.Input{Kind: boat.ActIn, Act: &a})
	case "exercise":
		return p.planStep(f[1:])
	case "hidden":
		p.step(boat.Input{Kind: boat.Hidden})
	case "shown":
		p.step(boat.Input{Kind: boat.Shown})
	case "silence":
		p.at = p.at.After(num(f[1]))
		p.step(boat.Input{Kind: boat.Tick})
	default:
		return fmt.Errorf("there is no script word %q", f[0])
	}
	return nil
}

// planStep adds a step to the plan.
func (p *player) planStep(f []string) error {
	st := boat.PlanStep{Exercise: f[0]}
	for _, pair := range f[1:] {
		k, v, _ := strings.Cut(pair, "=")
		switch k {
		case "good":
			st.Good = int(num(v))
		case "of":
			st.Of = int(num(v))
		case "lengths":
			st.Lengths = num(v)
		case "seconds":
			st.Seconds = num(v)
		case "minutes":
			st.Minutes = num(v)
		default:
			return fmt.Errorf("there is no key %q in a step", k)
		}
	}
	next := boat.Plan{Name: "script"}
	if p.set.Plan != nil {
		next.Steps = slices.Clone(p.set.Plan.Steps)
	}
	next.Steps = append(next.Steps, st)
	p.set.Plan = &next
	p.settings()
	return nil
}

func (p *player) settings() {
	s := p.set
	p.step(boat.Input{Kind: boat.SettingsIn, Settings: &s})
}

// sail holds or turns: ten samples a second.
func (p *player) sail(turn bool, sec float64, pairs []string) error {
	from, to := map[string]float64{}, map[string]float64{}
	for k, v := range p.vals {
		from[k], to[k] = v, v
	}
	for _, pair := range pairs {
		k, v, ok := strings.Cut(pair, "=")
		if !ok {
			return fmt.Errorf("expected name=value, got %q", pair)
		}
		to[k] = num(v)
		if _, seen := from[k]; !seen || !turn {
			from[k] = to[k]
		}
	}
	n := int(math.Round(sec * 10))
	for i := 1; i <= n; i++ {
		now := map[string]float64{}
		for k := range to {
			step := to[k] - from[k]
			if k == "hdg" {
				step = geo.Diff(from[k], to[k])
			}
			now[k] = from[k] + step*float64(i)/float64(n)
		}
		p.sample(now, geo.Diff(from["hdg"], to["hdg"])/sec)
	}
	p.vals = to
	return nil
}

func (p *player) sample(v map[string]float64, yaw float64) {
	get := func(k string) boat.Reading {
		x, ok := v[k]
		return boat.Reading{Val: x, OK: ok}
	}
	p.at += 100
	p.seq++
	hdg := geo.Wrap360(v["hdg"])
	move := v["sog"] * geo.KnotMS / 10
	p.pos.LatDeg += move * math.Cos(geo.Rad(hdg)) / 111320
	p.pos.LonDeg += move * math.Sin(geo.Rad(hdg)) / 111320 / math.Cos(geo.Rad(p.pos.LatDeg))
	p.step(boat.Input{Kind: boat.SampleIn, Source: "phone", Sample: &boat.Sample{
		Seq: p.seq, LatDeg: boat.Some(p.pos.LatDeg), LonDeg: boat.Some(p.pos.LonDeg), AccM: boat.Some(4),
		SOGKn: get("sog"), COGDeg: boat.Some(hdg), HeadingDeg: boat.Some(hdg), HeadingRef: boat.True, YawDps: boat.Some(yaw),
		HeelDeg: get("heel"), PitchDeg: get("pitch"), AWADeg: get("awa"), AWSKn: get("aws"), Batt: get("batt"),
	}})
}

func (p *player) step(in boat.Input) {
	in.T = p.at
	for _, o := range p.eng.Step(in) {
		p.print(o)
	}
}

func (p *player) print(o boat.Output) {
	at := o.Time().Seconds(scriptStart)
	switch {
	case o.Cue != nil:
		c := o.Cue
		fmt.Fprintf(&p.out, "%6.1f  %s: %q, %s (%s)\n", at, c.Key, c.Words, c.Why, c.Urgency)
	case o.Manoeuvre != nil:
		m := o.Manoeuvre
		fmt.Fprintf(&p.out, "%6.1f  %s to %s: turned %.0f°, entry %.1f kn, least %.1f kn, lost %.1f lengths\n",
			at, m.Kind, m.To, m.TurnDeg.Val, m.EntryKn.Val, m.LeastKn.Val, m.LostLen.Val)
	case o.Exercise != nil:
		x := o.Exercise
		fmt.Fprintf(&p.out, "%6.1f  exercise %s, %s: %s\n", at, x.Name, x.Phase, x.Text)
	case o.Note != nil:
		fmt.Fprintf(&p.out, "%6.1f  note %s: %s\n", at, o.Note.Code, o.Note.Text)
	case o.Status != nil:
		if m := o.Status.Mode.String(); m != p.modeSaid() {
			fmt.Fprintf(&p.out, "%6.1f  mode %s\n", at, m)
		}
	}
}

// modeSaid is the last mode printed.
func (p *player) modeSaid() string {
	text := p.out.String()
	i := strings.LastIndex(text, "  mode ")
	if i < 0 {
		return ""
	}
	line, _, _ := strings.Cut(text[i+7:], "\n")
	return line
}

func num(s string) float64 {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		panic("script: expected a number, got " + s)
	}
	return v
}
