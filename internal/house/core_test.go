package house

import (
	"fmt"
	"go/ast"
	"go/token"
	"go/types"
	"os"
	"slices"
	"strings"
	"testing"

	"golang.org/x/tools/go/packages"
)

// orderIsHarmless is what a line that ranges over a map must say, with the reason.
const orderIsHarmless = "order does not reach an output"

func TestCoreIsPure(t *testing.T) {
	var want []string
	for _, r := range rooms() {
		if _, err := os.Stat(top + "/" + r.name); r.core && err == nil {
			want = append(want, "helmcue/"+r.name+"/...")
		}
	}
	report(t, impure(t, want...))
}

func TestImpureCodeIsNamed(t *testing.T) {
	mustComplain(t, impure(t, "./testdata/core"),
		"package variable count", "init function", "go statement", "channel type", "receives from a channel",
		"sends on a channel", "select statement", "time.Now", "rand.IntN", "ranges over a map", "maps.Keys")
}

func impure(t *testing.T, patterns ...string) []string {
	t.Helper()
	loaded, err := packages.Load(&packages.Config{
		Mode: packages.NeedName | packages.NeedFiles | packages.NeedCompiledGoFiles | packages.NeedImports |
			packages.NeedTypes | packages.NeedTypesSizes | packages.NeedSyntax | packages.NeedTypesInfo,
	}, patterns...)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, p := range loaded {
		for _, e := range p.Errors {
			t.Errorf("%s: %v", p.PkgPath, e)
		}
		if len(p.Errors) > 0 {
			continue
		}
		for _, tree := range p.Syntax {
			c := &purity{p: p, tree: tree, out: &out}
			c.declarations()
			ast.Inspect(tree, c.visit)
		}
	}
	if len(loaded) == 0 {
		t.Fatal("loaded no package: expected the rooms of the core")
	}
	return out
}

// purity looks through one file of the core.
type purity struct {
	p      *packages.Package
	tree   *ast.File
	sorted []token.Pos // calls of maps.Keys and the like whose result is sorted at once
	out    *[]string
}

func (c *purity) complain(at ast.Node, format string, a ...any) {
	where := c.p.Fset.Position(at.Pos())
	*c.out = append(*c.out, fmt.Sprintf("%s:%d: ", where.Filename, where.Line)+fmt.Sprintf(format, a...))
}

func (c *purity) declarations() {
	for _, d := range c.tree.Decls {
		switch d := d.(type) {
		case *ast.FuncDecl:
			if d.Recv == nil && d.Name.Name == "init" {
				c.complain(d, "init function in the core: let New do it")
			}
		case *ast.GenDecl:
			if d.Tok != token.VAR {
				continue
			}
			for _, spec := range d.Specs {
				for _, name := range spec.(*ast.ValueSpec).Names {
					if name.Name != "_" {
						c.complain(d, "package variable %s in the core: make it a const or a function", name.Name)
					}
				}
			}
		}
	}
}

func (c *purity) visit(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.GoStmt:
		c.complain(n, "go statement in the core")
	case *ast.ChanType:
		c.complain(n, "channel type in the core")
	case *ast.SendStmt:
		c.complain(n, "sends on a channel in the core")
	case *ast.SelectStmt:
		c.complain(n, "select statement in the core")
	case *ast.UnaryExpr:
		if n.Op == token.ARROW {
			c.complain(n, "receives from a channel in the core")
		}
	case *ast.CallExpr:
		if pkg, name := c.selected(n.Fun); pkg == "slices" && strings.HasPrefix(name, "Sorted") && len(n.Args) > 0 {
			c.sorted = append(c.sorted, n.Args[0].Pos())
		}
	case *ast.SelectorExpr:
		c.selector(n)
	case *ast.RangeStmt:
		if _, isMap := c.p.TypesInfo.TypeOf(n.X).Underlying().(*types.Map); isMap && !c.excused(n) {
			c.complain(n, "ranges over a map: sort first, or say on the line `// %s: ` and why", orderIsHarmless)
		}
	}
	return true
}

func (c *purity) selector(n *ast.SelectorExpr) {
	pkg, name := c.selected(n)
	switch pkg {
	case "time":
		if slices.Contains([]string{"Now", "Since", "Until", "After", "AfterFunc", "Sleep", "Tick", "NewTimer", "NewTicker", "Local"}, name) {
			c.complain(n, "time.%s in the core: time enters with the inputs alone", name)
		}
	case "math/rand/v2":
		if !slices.Contains([]string{"New", "NewPCG", "NewChaCha8", "Rand", "PCG", "Source"}, name) {
			c.complain(n, "rand.%s in the core: use a source with a seed from the settings", name)
		}
	case "maps":
		if slices.Contains([]string{"Keys", "Values", "All"}, name) && !slices.Contains(c.sorted, n.Pos()) && !c.excused(n) {
			c.complain(n, "maps.%s without slices.Sorted around it", name)
		}
	}
}

// selected returns the import path and name where e is a name of another package.
func (c *purity) selected(e ast.Expr) (pkg, name string) {
	s, ok := e.(*ast.SelectorExpr)
	if !ok {
		return "", ""
	}
	id, ok := s.X.(*ast.Ident)
	if !ok {
		return "", ""
	}
	if p, ok := c.p.TypesInfo.Uses[id].(*types.PkgName); ok {
		return p.Imported().Path(), s.Sel.Name
	}
	return "", ""
}

// excused says whether the line of n, or the one above, carries the excuse.
func (c *purity) excused(n ast.Node) bool {
	line := c.p.Fset.Position(n.Pos()).Line
	for _, g := range c.tree.Comments {
		end := c.p.Fset.Position(g.End()).Line
		if (end == line || end == line-1) && strings.Contains(g.Text(), orderIsHarmless+": ") {
			return true
		}
	}
	return false
}
