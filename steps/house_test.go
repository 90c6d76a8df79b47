package steps_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// mayImport is the house: what each room may import of this module, beside itself. What is not
// named here is wrong, so a new room needs its line.
var mayImport = map[string][]string{
	"steps":         {"steps/fold", "steps/facts", "steps/judge", "steps/kit", "steps/desk", "steps/checks", "steps/side2", "steps/vise", "steps/machine", "steps/dowel", "steps/stick", "steps/jaws", "steps/inspect", "steps/fixture", "steps/reuse", "steps/rescue", "jobs", "calc"},
	"steps/fold":    {"jobs", "calc/unit"},
	"steps/facts":   {"steps/fold", "calc/unit"},
	"steps/judge":   {"steps/fold", "steps/facts", "jobs", "calc"},
	"steps/kit":     {"steps/fold", "steps/facts", "steps/judge", "jobs", "calc"},
	"steps/desk":    {"steps/fold", "steps/facts", "steps/judge", "steps/kit", "jobs", "calc"},
	"steps/checks":  {"steps/fold", "steps/facts", "steps/judge", "steps/kit", "steps/desk", "jobs", "calc"},
	"steps/side2":   {"steps/fold", "steps/facts", "steps/judge", "steps/kit", "steps/desk", "steps/checks", "jobs", "calc"},
	"steps/vise":    {"steps/fold", "steps/facts", "steps/judge", "steps/kit", "steps/desk", "steps/checks", "jobs", "calc"},
	"steps/machine": {"steps/fold", "steps/facts", "steps/judge", "steps/kit", "steps/desk", "steps/checks", "jobs", "calc"},
	"steps/dowel":   {"steps/fold", "steps/facts", "steps/judge", "steps/kit", "steps/desk", "steps/checks", "jobs", "calc"},
	"steps/stick":   {"steps/fold", "steps/facts", "steps/judge", "steps/kit", "steps/desk", "steps/checks", "jobs", "calc"},
	"steps/fixture": {"steps/fold", "steps/facts", "steps/judge", "steps/kit", "steps/desk", "steps/checks", "jobs", "calc"},
	"steps/reuse":   {"steps/fold", "steps/facts", "steps/judge", "steps/kit", "steps/desk", "steps/checks", "jobs", "calc"},
	"steps/jaws":    {"steps/fold", "steps/facts", "steps/judge", "steps/kit", "steps/desk", "steps/checks", "jobs", "calc"},
	"steps/inspect": {"steps/fold", "steps/facts", "steps/judge", "steps/kit", "steps/desk", "steps/checks", "jobs", "calc"},
	"steps/rescue":  {"steps/fold", "steps/facts", "steps/judge", "steps/kit", "steps/desk", "steps/checks", "jobs", "calc"},
	"steps/bench":   {"steps", "steps/fold", "steps/facts", "jobs", "calc/unit"},
	"steps/report":  {"steps", "steps/fold", "steps/facts", "steps/judge", "steps/kit", "steps/desk", "jobs", "calc"},
	"steps/prove":   {"steps", "jobs", "calc"},
	"steps/trial":   {"steps", "steps/fold", "steps/kit", "jobs"}, // of tests alone
	"jobs":          {"calc"},
	"calc":          {"calc"},
	"tui":           {"steps", "jobs", "calc"},
	"cmd":           {"steps", "jobs", "calc", "tui"},
}

func isInit(d ast.Decl) bool {
	fn, ok := d.(*ast.FuncDecl)
	return ok && fn.Recv == nil && fn.Name.Name == "init"
}

// Imports run downwards only, no kind of setup knows another, and no package widens a table as it is loaded.
func TestImportsRunDown(t *testing.T) {
	n := 0
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		dir := filepath.ToSlash(strings.TrimPrefix(filepath.Dir(path), ".."+string(filepath.Separator)))
		room := dir
		for mayImport[room] == nil && strings.Contains(room, "/") {
			room = room[:strings.LastIndexByte(room, '/')]
		}
		if room == "steps" && dir != room {
			t.Errorf("%s lies in a room that has no line here", path)
		}
		if dir == "steps/bench/builtin" {
			return nil // the files of the built-in job
		}
		f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		n++
		if room != "tui" && slices.ContainsFunc(f.Decls, isInit) { // it sets what other modules measure with
			t.Errorf("%s has an init: what a table holds stands in the table", path)
		}
		for _, im := range f.Imports {
			p, _ := strconv.Unquote(im.Path.Value)
			of, ours := strings.CutPrefix(p, "fliptrue/")
			if !ours || of == dir || strings.HasPrefix(of, dir+"/") {
				continue
			}
			if !slices.ContainsFunc(mayImport[room], func(may string) bool {
				return of == may || !strings.HasPrefix(may, "steps/") && may != "steps" && strings.HasPrefix(of, may+"/") || (may == "steps" && !strings.HasPrefix(room, "steps/") || room == "steps/prove") && strings.HasPrefix(of, "steps/")
			}) {
				t.Errorf("%s imports %s, which %s may not", path, p, room)
			}
		}
		return nil
	})
	if err != nil || n < 100 {
		t.Fatal(n, err)
	}
}

// Every room is described on the page that a newcomer reads first.
func TestRoomsAreDescribed(t *testing.T) {
	page, err := os.ReadFile(filepath.Join("..", "DEVELOPERS.md"))
	if err != nil {
		t.Fatal(err)
	}
	for _, room := range []string{"calc", "cmd", "jobs", "steps", "tui"} {
		err := filepath.WalkDir(filepath.Join("..", room), func(path string, d fs.DirEntry, err error) error {
			if err != nil || !d.IsDir() {
				return err
			}
			if files, _ := filepath.Glob(filepath.Join(path, "*.go")); len(files) == 0 {
				return nil
			}
			if dir := filepath.ToSlash(path[3:]); !strings.Contains(string(page), "`"+dir+"`") {
				t.Errorf("DEVELOPERS.md does not say what %s is for", dir)
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
}
