package main

import (
	"fmt"
	"os"
	"slices"
	"strings"

	"helmcue/internal/boat"
	"helmcue/internal/config"
	"helmcue/internal/lake"
	"helmcue/internal/plan"
	"helmcue/internal/polar"
)

// boatFlags are the options that say which boat and how much is said. What is
// given here wins over the settings file and over what a recording brought.
type boatFlags struct {
	Config string   `help:"Settings file (TOML)." placeholder:"F"`
	Set    []string `help:"Any settings key, repeatable: --set limit_kn=12." placeholder:"KEY=VALUE" sep:"none"`
	Polar  string   `help:"Table for this boat: tws_kn,twa_deg,speed_kn, or a matrix with wind speeds along the top." placeholder:"F"`
	Length float64  `help:"Length overall, metres: scales the generic polar." placeholder:"M"`
	Level  string   `help:"beginner, improver or expert." placeholder:"NAME"`
	Plan   string   `help:"Exercises: first-steps, to-windward, all-round, or a plan file (TOML)." placeholder:"F|NAME"`
	Water  string   `help:"Chart of the water as GeoJSON: shores with heights, marks, the ramp; demo is a made-up one." placeholder:"F"`
}

// load returns the settings with file, --set and the other options applied.
func (f boatFlags) load() (config.Config, error) {
	c := config.Default()
	if f.Config != "" {
		var err error
		if c, err = config.Load(f.Config); err != nil {
			return c, usageError{err}
		}
	}
	pairs := slices.Clone(f.Set)
	if f.Length != 0 {
		pairs = append(pairs, fmt.Sprintf("length_m=%g", f.Length))
	}
	if f.Level != "" {
		pairs = append(pairs, "level="+f.Level)
	}
	if f.Polar != "" {
		pairs = append(pairs, fmt.Sprintf("polar=%q", f.Polar))
	}
	if f.Water != "" {
		pairs = append(pairs, fmt.Sprintf("water=%q", f.Water))
	}
	if f.Plan != "" {
		pairs = append(pairs, fmt.Sprintf("plan=%q", f.Plan))
	}
	if err := c.SetAll(pairs); err != nil {
		return c, usageError{err}
	}
	return c, nil
}

// settings returns the engine's settings, the polar read.
func settings(c config.Config) (boat.Settings, error) {
	s := c.Settings()
	var err error
	if s.Water, err = charted(c.Water); err != nil {
		return s, err
	}
	if s.Plan, err = planned(c.Plan); err != nil {
		return s, err
	}
	if c.Polar == "" {
		return s, nil
	}
	f, err := os.Open(c.Polar)
	if err != nil {
		return s, hint(err, "name a table that exists, or leave --polar out for the generic hull")
	}
	defer f.Close()
	table, err := polar.Read(f, c.Polar)
	if err != nil {
		return s, hint(err, "a table has the header tws_kn,twa_deg,speed_kn, or wind speeds in knots along its top and angles down its side")
	}
	s.Polar = &table
	return s, nil
}

// charted returns the chart in a file, or the built-in one; nil for no name. What was
// mended in it is told on standard error.
func charted(name string) (*boat.Water, error) {
	switch name {
	case "":
		return nil, nil
	case lake.DemoName:
		w := lake.Demo()
		return &w, nil
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, hint(err, "name a chart that exists (GeoJSON), or "+lake.DemoName+" for the made-up lake")
	}
	defer f.Close()
	w, notes, err := lake.Read(f)
	if err != nil {
		return nil, hint(fmt.Errorf("%s: %w", name, err), "mend the chart, or leave --water out to sail without one")
	}
	for _, n := range notes {
		fmt.Fprintln(os.Stderr, name+": "+n)
	}
	return &w, nil
}

// planned returns the plan called so: a built-in one, or one in a file.
func planned(name string) (*boat.Plan, error) {
	if name == "" {
		return nil, nil
	}
	if slices.Contains(plan.Names(), name) {
		p, err := plan.Find(name)
		return &p, err
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, usageError{hint(err, "name a plan ("+strings.Join(plan.Names(), ", ")+") or a file that exists")}
	}
	defer f.Close()
	p, err := plan.Read(f)
	if err != nil {
		return nil, hint(fmt.Errorf("%s: %w", name, err), "a plan has a name and one [[step]] with an exercise for each")
	}
	return &p, nil
}

// change returns what overrides the settings that a recording brought: only what
// was really said on the command line or in the settings file.
func (f boatFlags) change(now boat.Settings) func(boat.Settings) boat.Settings {
	said := map[string]bool{}
	for _, p := range f.Set {
		key, _, _ := strings.Cut(p, "=")
		said[strings.TrimSpace(key)] = true
	}
	file := f.Config != ""
	return func(s boat.Settings) boat.Settings {
		if file || f.Length != 0 || said["length_m"] {
			s.LengthM = now.LengthM
		}
		if file || f.Level != "" || said["level"] {
			s.Level = now.Level
		}
		if f.Water != "" || said["water"] || (file && now.Water != nil) {
			s.Water = now.Water
		}
		if f.Polar != "" || said["polar"] || (file && now.Polar != nil) {
			s.Polar = now.Polar
		}
		if f.Plan != "" || said["plan"] || (file && now.Plan != nil) {
			s.Plan = now.Plan
		}
		if file || said["limit_kn"] {
			s.LimitKn = now.LimitKn
		}
		if file || said["jib"] {
			s.Jib = now.Jib
		}
		if file || said["mount"] {
			s.Mount = now.Mount
		}
		if said["delay_s"] {
			s.DelayS = now.DelayS
		}
		return s
	}
}
