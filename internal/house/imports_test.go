package house

import (
	"fmt"
	"path"
	"slices"
	"strconv"
	"strings"
	"testing"
)

func TestImportsFollowTheMap(t *testing.T) {
	report(t, wrongImports(t, programs(t, top)))
}

func TestImportsAreRefused(t *testing.T) {
	bad := []file{
		{"internal/boat/a.go", []byte("package boat\nimport \"helmcue/internal/engine\"")},
		{"internal/geo/a.go", []byte("package geo\nimport (\n\"os\"\n\"go.uber.org/zap\"\n)")},
		{"internal/server/a.go", []byte("package server\nimport \"helmcue/internal/speaker\"")},
		{"internal/wind/a.go", []byte("package wind\nimport \"gonum.org/v1/gonum/stat\"\nimport \"math\"\nimport \"helmcue/internal/geo\"")},
		{"internal/shed/a.go", []byte("package shed")},
	}
	mustComplain(t, wrongImports(t, bad), "imports helmcue/internal/engine", "imports os", "imports go.uber.org/zap",
		"imports helmcue/internal/speaker", "internal/shed is not on the map")
}

func wrongImports(t *testing.T, in []file) []string {
	var out []string
	for _, f := range in {
		dir := path.Dir(f.path)
		if slices.ContainsFunc(wirers(), func(w string) bool { return strings.HasPrefix(f.path, w) }) || dir == "internal/house" {
			continue
		}
		at := slices.IndexFunc(rooms(), func(r room) bool { return dir == r.name || strings.HasPrefix(dir, r.name+"/") })
		if at < 0 {
			out = append(out, fmt.Sprintf("%s: %s is not on the map: enter it in rooms_test.go with what it may import", f.path, dir))
			continue
		}
		_, tree := f.source(t)
		for _, spec := range tree.Imports {
			name, err := strconv.Unquote(spec.Path.Value)
			if err != nil {
				t.Fatal(err)
			}
			if !mayImport(rooms()[at], name) {
				out = append(out, fmt.Sprintf("%s imports %s, which the map does not allow", f.path, name))
			}
		}
	}
	return out
}

func mayImport(r room, name string) bool {
	if ours, found := strings.CutPrefix(name, "helmcue/"); found {
		ours = strings.TrimPrefix(ours, "internal/")
		own := strings.TrimPrefix(r.name, "internal/")
		return ours == own || strings.HasPrefix(ours, own+"/") || slices.Contains(r.imports, ours)
	}
	if !r.core {
		return true
	}
	if slices.Contains(pureStandard(), name) {
		return true
	}
	return slices.ContainsFunc(pureModules(), func(m string) bool { return strings.HasPrefix(name, m) })
}

// Every library asked for in go.mod by our own code has its reason written down.
func TestDependenciesHaveAReason(t *testing.T) {
	report(t, unexplained(t, files(t, top)))
}

func TestUnexplainedDependencyIsNamed(t *testing.T) {
	mustComplain(t, unexplained(t, []file{
		{"DEVELOPERS.md", []byte("zap (`go.uber.org/zap`): logs")},
		{"go.mod", []byte("module helmcue\nrequire (\n\tgo.uber.org/zap v1.27.0\n\tgonum.org/v1/gonum v0.16.0 // indirect\n)\n")},
		{"cmd/helmcue/main.go", []byte("package main\nimport _ \"gonum.org/v1/gonum/stat\"")},
	}), "gonum.org/v1/gonum is imported", "go.uber.org/zap is explained")
}

func unexplained(t *testing.T, in []file) []string {
	var modules, out []string
	var guide string
	for _, f := range in {
		switch f.path {
		case "go.mod":
			for line := range strings.Lines(string(f.text)) {
				if field := strings.Fields(strings.TrimPrefix(line, "require ")); len(field) >= 2 && strings.HasPrefix(field[1], "v") {
					modules = append(modules, field[0])
				}
			}
		case "DEVELOPERS.md":
			guide = string(f.text)
		}
	}
	if len(modules) == 0 {
		return []string{"go.mod names no module: expected the libraries of the program"}
	}
	used := map[string]bool{}
	for _, f := range in {
		if !strings.HasSuffix(f.path, ".go") || strings.Contains(f.path, "testdata/") {
			continue
		}
		_, tree := f.source(t)
		for _, spec := range tree.Imports {
			name := strings.Trim(spec.Path.Value, `"`)
			for _, m := range modules {
				if used[m] || name != m && !strings.HasPrefix(name, m+"/") {
					continue
				}
				used[m] = true
				if !strings.Contains(guide, "`"+m+"`") {
					out = append(out, fmt.Sprintf("%s is imported (%s) but DEVELOPERS.md gives no reason for it", m, f.path))
				}
			}
		}
	}
	for _, m := range modules {
		if !used[m] && strings.Contains(guide, "`"+m+"`") {
			out = append(out, m+" is explained in DEVELOPERS.md but nothing imports it")
		}
	}
	return out
}
