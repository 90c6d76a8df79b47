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

// ofTests are what stands in no test file and serves tests alone, because tests of several rooms share it: a whole package, or of one
// the names that only tests call. The program may use none of it.
var ofTests = map[string]struct {
	names []string // none for all
	why   string
}{
	"steps/trial":       {nil, "example jobs as plans, and a step judged by typed values, for the rooms of steps"},
	"steps/prove/paper": {[]string{"Numbers"}, "every number of a printed sheet, for what prints it and for the command that does"},
}

// What only tests use is named, with its reason, and used by tests of more than one room and by nothing else.
func TestWhatOnlyTestsUseIsNamed(t *testing.T) {
	imported, packages, rooms := map[string]bool{}, map[string]bool{}, map[string]map[string]bool{}
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") {
			return err
		}
		dir := filepath.ToSlash(strings.TrimPrefix(filepath.Dir(path), ".."+string(filepath.Separator)))
		f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		test := strings.HasSuffix(path, "_test.go")
		packages[dir] = packages[dir] || f.Name.Name != "main" && !test
		for _, im := range f.Imports {
			of, ours := strings.CutPrefix(strings.Trim(im.Path.Value, `"`), "fliptrue/")
			if !ours {
				continue
			}
			imported[of] = imported[of] || !test
			alone, named := ofTests[of]
			if named && (alone.names == nil || usesOf(f, im, alone.names)) {
				if !test {
					t.Errorf("%s uses %s, which is of tests alone", path, of)
				}
				if rooms[of] == nil {
					rooms[of] = map[string]bool{}
				}
				rooms[of][dir] = true
			}
		}
		return nil
	})
	if err != nil || len(packages) < 50 {
		t.Fatal(len(packages), err)
	}
	for p, is := range packages {
		if _, named := ofTests[p]; is && !imported[p] && !named {
			t.Errorf("%s is imported by tests alone: name it in ofTests with its reason, or delete it", p)
		}
	}
	for p, alone := range ofTests {
		if len(rooms[p]) < 2 || alone.why == "" {
			t.Errorf("%s %v: used by tests of %d rooms, for %q: what one room's tests use stands in a test file of it", p, alone.names, len(rooms[p]), alone.why)
		}
	}
}

// usesOf says that a file calls one of these names of a package that it imports.
func usesOf(f *ast.File, im *ast.ImportSpec, names []string) (is bool) {
	as := im.Path.Value[strings.LastIndexByte(im.Path.Value, '/')+1 : len(im.Path.Value)-1]
	if im.Name != nil {
		as = im.Name.Name
	}
	ast.Inspect(f, func(n ast.Node) bool {
		if s, ok := n.(*ast.SelectorExpr); ok {
			x, ok := s.X.(*ast.Ident)
			is = is || ok && x.Name == as && slices.Contains(names, s.Sel.Name)
		}
		return true
	})
	return is
}
