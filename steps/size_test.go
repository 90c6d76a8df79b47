package steps_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"
)

// What a person reads at a glance. These may only shrink.
const (
	mostLines   = 60
	mostColumns = 140
	longFuncs   = 0 // functions of more lines
	longLines   = 0 // lines of more columns
)

// TestSizes counts what is too long to be read in the program's own code, tests apart.
func TestSizes(t *testing.T) {
	var funcs, lines []string
	for _, room := range []string{"calc", "cmd", "jobs", "steps", "tui"} {
		err := filepath.WalkDir(filepath.Join("..", room), func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return err
			}
			f, l, err := tooLong(path)
			funcs, lines = append(funcs, f...), append(lines, l...)
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []struct {
		what string
		got  []string
		most int
	}{{"functions", funcs, longFuncs}, {"lines", lines, longLines}} {
		switch slices.Sort(c.got); {
		case len(c.got) > c.most:
			t.Errorf("%d %s are too long, %d were: make the new one shorter\n%s", len(c.got), c.what, c.most, strings.Join(c.got, "\n"))
		case len(c.got) < c.most:
			t.Logf("%d %s are too long, %d may be: write %d", len(c.got), c.what, c.most, len(c.got))
		}
	}
}

// table is a row of a table, or a field with its tag.
var table = regexp.MustCompile("^{|: {|`key:")

// tooLong are the functions and lines of a file that are too long: name or place. A plain switch or table may be.
func tooLong(path string) (funcs, lines []string, err error) {
	src, err := os.ReadFile(path)
	if err != nil {
		return nil, nil, err
	}
	for _, l := range strings.Split(string(src), "\n") {
		if s := strings.TrimSpace(l); utf8.RuneCountInString(l) > mostColumns && !table.MatchString(s) {
			lines = append(lines, filepath.ToSlash(path)+": "+s[:min(60, len(s))])
		}
	}
	set := token.NewFileSet()
	f, err := parser.ParseFile(set, path, src, parser.SkipObjectResolution)
	if err != nil {
		return nil, nil, err
	}
	for _, d := range f.Decls {
		fn, ok := d.(*ast.FuncDecl)
		if !ok || fn.Body == nil || plain(fn.Body) {
			continue
		}
		if set.Position(fn.End()).Line-set.Position(fn.Pos()).Line+1 > mostLines {
			funcs = append(funcs, filepath.ToSlash(path)+": "+fn.Name.Name)
		}
	}
	return funcs, lines, nil
}

// plain is one switch or one table, and a return: no function stands in it.
func plain(b *ast.BlockStmt) bool {
	is := len(b.List) <= 2
	ast.Inspect(b, func(n ast.Node) bool {
		if _, ok := n.(*ast.FuncLit); ok {
			is = false
		}
		return is
	})
	return is
}
