package bench_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// leastWords is from how many words on a literal counts as something that is said.
const leastWords = 3

// literals are the string literals of leastWords words in the sources under a folder, each once, wherever it
// stands. What a panic says is for the makers, and a pattern is no sentence.
func literals(t *testing.T, root string) []string {
	t.Helper()
	out := map[string]bool{}
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && (d.Name() == "bench" || d.Name() == "prove" || d.Name() == "testdata"):
			return filepath.SkipDir
		case d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go"):
			return nil
		case strings.HasSuffix(filepath.ToSlash(path), "fold/strict.go"):
			return nil // says what only a mistake of the program says: none that is known can be walked to
		}
		f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		ast.Inspect(f, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.ImportSpec:
				return false
			case *ast.Field: // without its tag
				n.Tag = nil
			case *ast.CallExpr:
				if id, ok := n.Fun.(*ast.Ident); ok && id.Name == "panic" {
					return false
				}
				if sel, ok := n.Fun.(*ast.SelectorExpr); ok && sel.Sel.Name == "MustCompile" {
					return false
				}
			case *ast.BinaryExpr:
				if n.Op == token.ADD {
					joined(n)
				}
			case *ast.BasicLit:
				if s, err := strconv.Unquote(n.Value); err == nil && n.Kind == token.STRING && len(plainWords(s)) >= leastWords {
					out[s] = true
				}
			}
			return true
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return slices.Sorted(maps.Keys(out))
}

// joined makes one of the literals that go on in the next line: a + "b " + "c" is a + "b c".
func joined(e *ast.BinaryExpr) {
	var last *ast.BasicLit
	var walk func(ast.Expr)
	walk = func(e ast.Expr) {
		switch e := e.(type) {
		case *ast.BinaryExpr:
			if e.Op == token.ADD {
				walk(e.X)
				walk(e.Y)
				return
			}
		case *ast.BasicLit:
			s, err := strconv.Unquote(e.Value)
			if err != nil || e.Kind != token.STRING {
				break
			}
			if last == nil {
				last = e
				return
			}
			t, _ := strconv.Unquote(last.Value)
			last.Value, e.Value = strconv.Quote(t+s), `""`
			return
		}
		last = nil
	}
	walk(e)
}

// verb is where a literal holds something else: a verb of printing, or a number to be shown in the job's unit.
var verb = regexp.MustCompile(`%[-+# 0]*[0-9.*]*(\[[0-9]+\])?[a-zA-Z%]|\{[0-9.]+\}`)

// letters are what makes a word: the cells of a table have one.
var letters = regexp.MustCompile(`[A-Za-z]{2}`)

// plainWords are the words of a literal with letters, what is printed into it left out.
func plainWords(literal string) (out []string) {
	for _, w := range strings.Fields(verb.ReplaceAllString(literal, " ")) {
		if letters.MatchString(w) {
			out = append(out, w)
		}
	}
	return out
}

// unreached are the literals that stand in nothing that was said: one does whose pieces between what is
// printed into it stand there in their order.
func (s *said) unreached(literals []string) (out []string) {
	all := strings.ToLower(strings.Join(slices.Sorted(maps.Keys(s.texts)), "\n"))
	for _, l := range literals {
		var pieces []string
		longest := ""
		for _, p := range verb.Split(l, -1) {
			if p = strings.ToLower(numbersOut(p)); p != "" {
				pieces = append(pieces, p)
			}
			if len(p) > len(longest) {
				longest = p
			}
		}
		if !holds(all, longest, pieces) {
			out = append(out, strconv.Quote(l))
		}
	}
	return out
}

// holds says that a line of all has the pieces in their order.
func holds(all, longest string, pieces []string) bool {
	for from := 0; ; {
		i := strings.Index(all[from:], longest)
		if i < 0 {
			return false
		}
		i += from
		start := strings.LastIndexByte(all[:i], '\n') + 1
		end := len(all)
		if n := strings.IndexByte(all[i:], '\n'); n >= 0 {
			end = i + n
		}
		line, ok := all[start:end], true
		for _, p := range pieces {
			var found bool
			if _, line, found = strings.Cut(line, p); !found {
				ok = false
				break
			}
		}
		if ok {
			return true
		}
		if from = end + 1; from >= len(all) {
			return false
		}
	}
}
