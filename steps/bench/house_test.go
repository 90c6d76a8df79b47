package bench

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"fliptrue/steps/fold"
)

func sources(t *testing.T) (*token.FileSet, map[string]*ast.File) {
	t.Helper()
	names, err := filepath.Glob("*.go")
	if err != nil || len(names) == 0 {
		t.Fatal("no sources", err)
	}
	fset, out := token.NewFileSet(), map[string]*ast.File{}
	for _, n := range names {
		if strings.HasSuffix(n, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(fset, n, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		out[n] = f
	}
	return fset, out
}

// The bench may know what steps ask and how numbers are typed, and no formula of the calculations.
func TestImports(t *testing.T) {
	may := map[string]bool{"fliptrue/steps": true, "fliptrue/steps/fold": true, "fliptrue/jobs": true, "fliptrue/calc/unit": true,
		"fliptrue/steps/facts": true} // names and shapes of facts, no formula
	_, files := sources(t)
	for n, f := range files {
		for _, im := range f.Imports {
			path, _ := strconv.Unquote(im.Path.Value)
			first, _, _ := strings.Cut(path, "/")
			if path == "math/rand" || !may[path] && (first == "fliptrue" || strings.Contains(first, ".")) {
				t.Errorf("%s imports %s", n, path)
			}
		}
	}
}

// No step is known by its id. Words that the grammar of What and Act uses as well (a bore
// is a thing before it is a step) may stand, but nothing may be compared with a step's id.
func TestNoStepIDs(t *testing.T) {
	p := lid(t, nil)
	facts, err := os.ReadFile("../facts/doc.go")
	if err != nil {
		t.Fatal(err)
	}
	words := map[string]bool{}
	for _, w := range strings.FieldsFunc(string(facts), func(r rune) bool { return !(r >= 'a' && r <= 'z' || r == '-') }) {
		words[w] = true
	}
	ids := map[string]bool{}
	for _, s := range append(append([]*fold.Spec{}, p.Line...), p.Off...) {
		if !words[string(s.ID)] {
			ids[string(s.ID)] = true
		}
	}
	fset, files := sources(t)
	for _, f := range files {
		ast.Inspect(f, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.BasicLit:
				if s, err := strconv.Unquote(n.Value); err == nil && ids[s] {
					t.Errorf("%s: step id %q", fset.Position(n.Pos()), s)
				}
			case *ast.CallExpr:
				if sel, ok := n.Fun.(*ast.SelectorExpr); ok && sel.Sel.Name == "StepID" {
					if _, lit := n.Args[0].(*ast.BasicLit); lit {
						t.Errorf("%s: a step id made of a literal", fset.Position(n.Pos()))
					}
				}
			case *ast.BinaryExpr:
				for _, pair := range [][2]ast.Expr{{n.X, n.Y}, {n.Y, n.X}} {
					sel, ok := pair[0].(*ast.SelectorExpr)
					_, lit := pair[1].(*ast.BasicLit)
					if ok && lit && (sel.Sel.Name == "Step" || sel.Sel.Name == "ID") {
						t.Errorf("%s: a step compared with a literal", fset.Position(n.Pos()))
					}
				}
			}
			return true
		})
	}
}
