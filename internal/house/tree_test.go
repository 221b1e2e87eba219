package house

import (
	"bytes"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const top = "../.."

// file is one text file of the tree, its path relative to the top.
type file struct {
	path string
	text []byte
}

func (f file) lines() int { return bytes.Count(f.text, []byte("\n")) }

func (f file) generated() bool {
	return bytes.Contains(f.text, []byte("\n// Code generated ")) || bytes.HasPrefix(f.text, []byte("// Code generated "))
}

// source parses Go files: those of the program, or with them its tests.
func (f file) source(t *testing.T) (*token.FileSet, *ast.File) {
	t.Helper()
	set := token.NewFileSet()
	tree, err := parser.ParseFile(set, f.path, f.text, parser.ParseComments)
	if err != nil {
		t.Fatal(err)
	}
	return set, tree
}

// files returns every text file under root that is ours, skipping what is built,
// fetched, hidden by git or a bad example. It fails where it finds none.
func files(t *testing.T, root string) []file {
	t.Helper()
	var out []file
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name, _ := filepath.Rel(root, path)
		name = filepath.ToSlash(name)
		if d.IsDir() {
			switch name {
			case ".git", "bin", "data", "web/node_modules", "internal/house/testdata":
				return filepath.SkipDir
			}
			return nil
		}
		switch filepath.Ext(name) {
		case ".mp3", ".woff2", ".png", ".gz", ".mcap", ".nmea", ".svg":
			return nil // not text of ours, and many
		}
		text, err := os.ReadFile(path)
		if err != nil {
			if os.IsNotExist(err) {
				return nil // a test elsewhere took its own file away meanwhile
			}
			return err
		}
		if !bytes.ContainsRune(text, 0) {
			out = append(out, file{name, text})
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(out) == 0 {
		t.Fatalf("found no files under %s: expected the tree of the program", root)
	}
	return out
}

// programs returns the Go files that go into the program, without tests.
func programs(t *testing.T, root string) []file {
	t.Helper()
	var out []file
	for _, f := range files(t, root) {
		if strings.HasSuffix(f.path, ".go") && !strings.HasSuffix(f.path, "_test.go") && !strings.Contains(f.path, "testdata/") {
			out = append(out, f)
		}
	}
	if len(out) == 0 {
		t.Fatalf("found no Go files under %s", root)
	}
	return out
}

func report(t *testing.T, complaints []string) {
	t.Helper()
	for _, c := range complaints {
		t.Error(c)
	}
}

// mustComplain checks a check: on a bad example each of the wanted words must
// stand in one of its complaints, and there must be as many as wanted.
func mustComplain(t *testing.T, got []string, want ...string) {
	t.Helper()
	if len(got) != len(want) {
		t.Errorf("got %d complaints, want %d:\n%s", len(got), len(want), strings.Join(got, "\n"))
	}
	for _, w := range want {
		if !strings.Contains(strings.Join(got, "\n"), w) {
			t.Errorf("no complaint says %q:\n%s", w, strings.Join(got, "\n"))
		}
	}
}
