package jobs

import (
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"fliptrue/calc/unit"
)

var update = flag.Bool("update", false, "rewrite the golden files")

func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s differs; look, then run with -update:\n%s", name, got)
	}
}

func readGood(t *testing.T, path string) *Job {
	t.Helper()
	j, fs := ReadJob(OS(), path)
	if len(fs) > 0 {
		t.Fatalf("%s:\n%v", path, fs)
	}
	return j
}

func near(a, b float64) bool { return math.Abs(a-b) < 1e-12 }

func TestReadJobMetric(t *testing.T) {
	j := readGood(t, "testdata/lid.job.yaml")
	s, ok := j.Setup("side2")
	if !ok {
		t.Fatal("no side2")
	}
	for _, c := range []struct{ got, want any }{
		{j.Name, "compass-box lid"}, {j.Allowance, unit.Length(0.05)}, {j.Pace, "first time"}, {j.Posted, "turned"},
		{j.Part.Size, [3]float64{96, 64, 16}}, {j.Part.Skin, [2]float64{0.5, 0.5}},
		{j.Part.Features, []Feature{{"hinge bore", Point{12, 52}}, {"far corner", Point{96, 64}}}},
		{j.Part.Given["thickness"], Given{16.02, 0.01, "calliper"}},
		{j.Tools[5].Point, 118.0}, {j.Tools[3].Holder, Holder{24, 30}},
		{s.Against, []string{"left", "away"}}, {s.Hits, 6}, {s.Stations, 7}, {s.Screws.WasherT, 0.3}, {s.Screws.At[2], Point{90, 58}},
		{s.Clamps[0].Name + s.Clamps[1].Name, "leftright"}, {s.Clamps[1].Torque, unit.Torque(1000)},
		{s.Programs, []Program{{"drill", "holes.nc"}, {"top", "top.nc"}}}, {math.IsNaN(s.Cut.Lowest), true},
		{j.Machine.Name, "bench mill"}, {j.Machine.Travel["y"], [2]float64{-250, 0}}, {j.Machine.SquareMeasured, true},
		{j.Machine.Dialect, "lenient"}, {j.Machine.Homed, true}, {j.Machine.Straightness, 0.003}, {j.Machine.Probe.Dof, 30.0}, {j.Machine.Finder == nil, true},
		{float64(j.Machine.Squareness), 0.0001}, {j.Machine.Tram.ZX == nil, true}, {near(float64(j.Machine.Tram.X), 0.01/300), true},
		{j.Fixture.ID, "FX-3"}, {*j.Fixture.AsMade.Temperature, unit.Temperature(20.5)}, {j.Fixture.AsMade.Bore2.At, Point{120, 0}},
		{len(j.Fixture.Support), 4}, {j.Fixture.Threads.Retire, 10}, {len(j.Hash), 16}, {len(j.Notes), 0},
	} {
		if !reflect.DeepEqual(c.got, c.want) {
			t.Errorf("got %v, want %v", c.got, c.want)
		}
	}
}

func TestReadJobInch(t *testing.T) {
	j := readGood(t, "testdata/inch.job.yaml")
	s1, _ := j.Setup("side1")
	s2, _ := j.Setup("side2")
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"allowance 0.002in", float64(j.Allowance), 0.0508},
		{"length 3.78", j.Part.Size[0], 96.012}, {"5/8", j.Part.Size[2], 15.875},
		{"12mm in an inch job", j.Part.Features[0].At.X, 12}, {"2.05", j.Part.Features[0].At.Y, 52.07},
		{"washer thickness", s2.Screws.WasherT, 0.3}, {"skin", j.Part.Skin[0], 0.5}, {"jaw top", s1.Vise.JawTop, -8.89},
		{"moisture", j.Part.Given["moisture"].Value, 8.5}, {"hours", j.Part.Given["hours"].Value, 18},
		{"readout", j.Machine.Readout, 0.00508}, {"68F", float64(*j.Fixture.AsMade.Temperature), 20},
		{"bore 5/16", j.Fixture.AsMade.Bore.Dia, 7.9375}, {"80lbf", float64(j.Fixture.Threads.Pullout), 80 * 4.4482216152605},
	} {
		if math.Abs(c.got-c.want) > 1e-9 {
			t.Errorf("%s: got %v, want %v", c.what, c.got, c.want)
		}
	}
	if j.Machine.Homed || j.Machine.Probe != nil || j.Machine.SquareMeasured || j.Machine.Finder == nil {
		t.Errorf("machine %+v", j.Machine)
	}
}

// A card means the same whatever the unit of the job that names it.
func TestCardKeepsItsOwnUnit(t *testing.T) {
	d := diskOf(t, "testdata/inch.job.yaml", "testdata/bench.machine.yaml", "testdata/inch.fixture.yaml")
	d.Put("testdata/inch.job.yaml", strings.NewReplacer("inch.machine", "bench.machine", "edge finder", "probe").Replace(d.Text("testdata/inch.job.yaml")))
	j, fs := ReadJob(d, "testdata/inch.job.yaml")
	if len(fs) > 0 || j.Machine.Probe.Ball != 2 {
		t.Errorf("metric card in an inch job: %+v, %v", j.Machine.Probe, fs)
	}
}

func diskOf(t *testing.T, paths ...string) *MemDisk {
	t.Helper()
	files := map[string]string{}
	for _, p := range paths {
		b, err := os.ReadFile(p)
		if err != nil {
			t.Fatal(err)
		}
		files[p] = string(b)
	}
	return Mem(files)
}

// Every fault of a badly broken job, at once.
func TestBrokenJob(t *testing.T) {
	_, fs := ReadJob(OS(), "testdata/broken.job.yaml")
	golden(t, "broken.job.txt", strings.ReplaceAll(fs.Error(), `testdata\`, "testdata/")+"\n")
	if strings.Contains(fs.Error(), "\x1b") {
		t.Error("an escape sequence reached the fault list")
	}
	for _, f := range fs {
		if f.Line == 0 || f.Column == 0 || f.What == "" || f.Hint == "" {
			t.Errorf("fault without place or hint: %+v", f)
		}
	}
}

const goodMachine = "format: 1\nmachine: mill\nreadout: 0.001\nbacklash: 0.005\n"

func TestBadInput(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"empty", "", "file is empty"},
		{"only a comment", "# nothing\n", "file is empty"},
		{"a list", "- a\n- b\n", "not a list of keys and values"},
		{"a word", "hello", "not a list of keys and values"},
		{"NaN", "readout: NaN", `readout: "NaN"`},
		{"YAML NaN", "readout: .nan", `readout: ".nan"`},
		{"Inf", "readout: Inf", `readout: "Inf"`},
		{"1e308", "readout: 1e308", `readout: "1e308"`},
		{"huge", "backlash: " + "99999999", "beyond"},
		{"grouping", "readout: 1_000", `readout: "1_000"`},
		{"hexadecimal", "readout: 0x10", `readout: "0x10"`},
		{"clock", "readout: 12:30", `readout: "12:30"`},
		{"YAML boolean", "readout: no", `readout: "no"`},
		{"dialect", "dialect: loose", `dialect: "loose" is not one of the words; one of: lenient, strict`},
		{"boolean word", "homed: yes", `homed: "yes" is not one of the words`},
		{"null", "readout: ~", "readout: nothing is given"},
		{"empty text", "machine: \"\"", "machine: nothing is given"},
		{"wrong quantity", "readout: 3N", "readout: \"3N\""},
		{"list for a value", "readout: [1]", "one value is expected here, not a list"},
		{"value for a group", "probe: 2", "keys and values are expected here, not \"2\""},
		{"three for two", "travel: {x: [1, 2, 3]}", "a list of 2 numbers is expected here, not 3"},
		{"travel backwards", "travel: {x: [0, -400]}", "the first number is not below the second"},
		{"unknown axis", "travel: {a: [0, 1]}", "key \"a\" is not known"},
		{"negative", "backlash: -0.01", "must be at least 0;"},
		{"zero", "readout: 0", "must be above 0;"},
		{"too big", "readout: 5", "must be at most 1 mm"},
		{"radius as diameter", "probe: {ball: 2, radius: 1.98, repeat: 0.001, dof: 3, source: ring}", `"1.98" does not go with a ball of "2"`},
		{"unknown key", "backlsh: 1", `did you mean "backlash"?`},
		{"key in other case", "Backlash: 1", `did you mean "backlash"?`},
		{"underscore in a key", "edge_finder: {dia: 5, repeat: 0.005}", `did you mean "edge-finder"?`},
		{"duplicate key", "readout: 0.002", `key "readout" stands twice; keep one; the first is in line 3`},
		{"key with no word", "[a]: 1", "a key must be a single word"},
		{"empty key", "\"\": 1", "is empty or has spaces"},
		{"anchor", "tram: &a {x: 0, y: 0}", `anchor "&a"`},
		{"alias", "dial: &a {graduation: 0.01}\ntram: *a", `alias "*a"`},
		{"alias to nothing", "tram: *a", "alias used"},
		{"merge key", "dial: &a {graduation: 0.01}\ntram: {<<: *a}", `key "<<" is not known`},
		{"tag", "readout: !!float 0.001", `tag "!!float"`},
		{"own tag", "machine: !x mill", `tag "!x"`},
		{"two documents", "---\nformat: 1", "a second document begins here"},
		{"deep nesting", "dial: " + strings.Repeat("[", 40) + strings.Repeat("]", 40), "nested deeper than 12"},
		{"very deep nesting", "dial: " + strings.Repeat("[", 20000), "nested too deep"},
		{"open bracket", "dial: {graduation: 0.01", "not closed"},
		{"open quote", "rotation: \"abc", "a quote is not closed"},
		{"endless list", "travel: {x: [" + strings.Repeat("1,\n ", 3000) + "1]}", "a list of 2 numbers is expected here, not 3001"},
		{"tab", "dial:\n\tgraduation: 0.01", "tab used for indentation"},
		{"second colon", "machine: a: b", "a second ': ' in one value"},
		{"long line", "machine: " + strings.Repeat("x", 70<<10), "line is longer than 65536"},
		{"10 MB line", "machine: " + strings.Repeat("x", 10<<20), "file is too long"},
		{"long text", "delivers: " + strings.Repeat("x", 300), "a text of 300 bytes"},
		{"long key", strings.Repeat("x", 150) + ": 1", "is too long"},
		{"NUL", "machine: a\x00b", "not UTF-8 text"},
		{"binary", "\x7fELF\xff\xfe\x01", "not UTF-8 text"},
		{"UTF-16", "\xff\xfef\x00o\x00", "UTF-16"},
		{"latin 1", "machine: fr\xe4se", "not UTF-8 text"},
		{"escape character", "machine: \"\x1b[2J\"", "control character U+001B"},
		{"escape sequence", `rotation: "\e[2J"`, "control character U+001B"},
		{"escape in a key", `"\e[2J": 1`, "control character U+001B"},
		{"C1 control", "machine: \"\u009b2J\"", "control character U+009B"},
		{"text direction", "machine: \"\u202eabc\"", "control character U+202E"},
		{"invisible", "machine: \"a\u200bb\"", "control character U+200B"},
		{"BOM inside", "machine: \"a\ufeffb\"", "control character U+FEFF"},
		{"several lines", "rotation: |\n  a\n  b\n", "control character U+000A"},
	} {
		text := goodMachine + c.text
		switch c.name {
		case "empty", "only a comment", "a list", "a word", "binary", "UTF-16":
			text = c.text
		default:
			for line := range strings.SplitSeq(goodMachine, "\n") { // the key asked for stands once, but for "duplicate key"
				if key, _, _ := strings.Cut(line, ":"); key != "format" && key != "" && strings.HasPrefix(c.text, key+":") && c.name != "duplicate key" {
					text = strings.Replace(text, line+"\n", "", 1)
				}
			}
		}
		m, fs := ReadMachine(Mem(map[string]string{"m.yaml": text}), "m.yaml")
		if !slices.ContainsFunc(fs, func(f Fault) bool { return strings.Contains(f.Error(), c.want) }) {
			t.Errorf("%s: want %q, got %v (%+v)", c.name, c.want, fs, m)
		}
		if strings.ContainsFunc(strings.ReplaceAll(fs.Error(), "\n", ""), func(r rune) bool { return !printable(r) }) {
			t.Errorf("%s: control characters in %q", c.name, fs.Error())
		}
		for _, f := range fs {
			if len(f.Error()) > 400 {
				t.Errorf("%s: fault of %d bytes", c.name, len(f.Error()))
			}
		}
	}
}

// Line ends and a byte order mark do not matter.
func TestLineEnds(t *testing.T) {
	want, fs := readMachine("m", []byte(goodMachine))
	if len(fs) > 0 {
		t.Fatal(fs)
	}
	for name, text := range map[string]string{
		"CRLF": strings.ReplaceAll(goodMachine, "\n", "\r\n"), "CR": strings.ReplaceAll(goodMachine, "\n", "\r"),
		"BOM": "\xef\xbb\xbf" + goodMachine, "no last newline": strings.TrimSpace(goodMachine), "document mark": "---\n" + goodMachine,
	} {
		got, fs := readMachine("m", []byte(text))
		got.Hash, want.Hash = "", ""
		if len(fs) > 0 || !reflect.DeepEqual(got, want) {
			t.Errorf("%s: %v, %+v", name, fs, got)
		}
	}
	for name, text := range map[string]string{"CRLF": "format: 1\r\nmachine: m\r\nreadout: x\r\n", "CR": "format: 1\rmachine: m\rreadout: x\r", "BOM": "\xef\xbb\xbfformat: 1\nmachine: m\nreadout: x\n"} {
		_, fs := readMachine("m", []byte(text))
		if len(fs) != 1 || fs[0].Line != 3 || fs[0].Column != 10 {
			t.Errorf("%s: fault at %+v", name, fs)
		}
	}
}

func TestFormat(t *testing.T) {
	for text, want := range map[string]string{
		"format: 2\nmachine: m\nzap: 1\nreadout: x\n": `m:1:9: format "2" is newer than this program; read it with a newer fliptrue; this one reads format 1`,
		"machine: m\nreadout: 0.001\n":                `m:1:1: format is missing; begin the file with format: 1`,
		"format: one\nmachine: m\nreadout: 0.001\n":   `m:1:9: format "one" is not known; write format: 1`,
		"format: 0\nmachine: m\nreadout: 0.001\n":     `m:1:9: format "0" is not known; write format: 1`,
	} {
		if _, fs := readMachine("m", []byte(text)); fs.Error() != want {
			t.Errorf("%q: %v", text, fs)
		}
	}
}

// A file that is named must be a plain name in the job's folder.
func TestPathsThatLeaveTheFolder(t *testing.T) {
	for _, name := range []string{"../m.yaml", "/etc/passwd", "a/../../m.yaml", `..\m.yaml`, `C:\m.yaml`, "C:m.yaml", "./m.yaml", "a//b.yaml", "..", "a/../m.yaml"} {
		for _, key := range []string{"machine: ", "setups: {side2: {fixture: ", "setups: {side2: {programs: {top: "} {
			text := "format: 1\n" + key + fmt.Sprintf("%q", name) + strings.Repeat("}", strings.Count(key, "{")) + "\n"
			_, _, fs := readJob("j", []byte(text))
			if !strings.Contains(fs.Error(), "is not a plain name inside the job's folder") {
				t.Errorf("%s%q taken: %v", key, name, fs)
			}
		}
	}
	if _, _, fs := readJob("j", []byte("format: 1\nmachine: cards/m.yaml\n")); strings.Contains(fs.Error(), "plain name") {
		t.Errorf("a folder below is refused: %v", fs)
	}
}

func TestMissingFiles(t *testing.T) {
	d := diskOf(t, "testdata/lid.job.yaml", "testdata/lid.fixture.yaml")
	_, fs := ReadJob(d, "testdata/lid.job.yaml")
	if len(fs) != 1 || fs[0].Line != 6 || !strings.Contains(fs[0].Error(), `machine: file is not there: "bench.machine.yaml"`) {
		t.Errorf("no machine card: %v", fs)
	}
	_, fs = ReadJob(d, "nowhere.job.yaml")
	if len(fs) != 1 || !strings.Contains(fs[0].What, "file is not there") {
		t.Errorf("no job: %v", fs)
	}
	if _, fs := ReadJob(OS(), t.TempDir()); len(fs) != 1 || !strings.Contains(fs[0].What, "not a regular file") {
		t.Errorf("a folder: %v", fs)
	}
}

// Faults of the three files come at once.
func TestFaultsOfAllFiles(t *testing.T) {
	d := diskOf(t, "testdata/lid.job.yaml", "testdata/bench.machine.yaml", "testdata/lid.fixture.yaml")
	for _, p := range []string{"testdata/lid.job.yaml", "testdata/bench.machine.yaml", "testdata/lid.fixture.yaml"} {
		d.Put(p, d.Text(p)+"zap: 1\n")
	}
	_, fs := ReadJob(d, "testdata/lid.job.yaml")
	var files []string
	for _, f := range fs {
		files = append(files, filepath.Base(f.File))
	}
	if !slices.Equal(files, []string{"lid.job.yaml", "bench.machine.yaml", "lid.fixture.yaml"}) {
		t.Errorf("%v", fs)
	}
}

// edited reads the good job with one text replaced.
func edited(t *testing.T, file, old, new string) (*Job, Faults) {
	t.Helper()
	d := diskOf(t, "testdata/lid.job.yaml", "testdata/bench.machine.yaml", "testdata/lid.fixture.yaml")
	text := d.Text("testdata/" + file)
	if !strings.Contains(text, old) {
		t.Fatalf("%s has no %q", file, old)
	}
	d.Put("testdata/"+file, strings.Replace(text, old, new, 1))
	return ReadJob(d, "testdata/lid.job.yaml")
}

func TestMeaning(t *testing.T) {
	for _, c := range []struct{ file, old, new, want string }{
		{"lid.job.yaml", "cut: {tool: 3", "cut: {tool: 4", "setups.side2.cut.tool: tool 4 is not in the tool list"},
		{"lid.job.yaml", "ae: 1,", "ae: 4,", `setups.side2.cut.ae: "4" is wider than the tool's diameter "3.175"`},
		{"lid.job.yaml", "through: 2.5", "through: 25", `"25" is more than the part's thickness "16"`},
		{"lid.job.yaml", "[90, 6], ", "[6, 6], ", "setups.side2.screws.at #2: the place of screw 1 again"},
		{"lid.job.yaml", "z0: floor", "z0: top skin", "is a first side's Z0"},
		{"lid.job.yaml", "against: [left, away]", "against: [left]", "two datum walls are needed"},
		{"lid.job.yaml", "against: [left, away]", "against: [left, left]", "do not cross"},
		{"lid.job.yaml", "against: [left, away]", "rock: false", `key "against" is missing`},
		{"lid.job.yaml", "against: [left, away]", "against: [left, away], floating: true", "is floating"},
		{"lid.job.yaml", "hold-down: T, ", "", `key "hold-down" is missing, needed with kind: second-side; add hold-down: T or M or S`},
		{"lid.job.yaml", "offset: G54", "offset: G60", `"G60" is not one of the words`},
		{"lid.job.yaml", "flip: x", "flip: x, zero: corner", "has no place with kind: second-side"},
		{"lid.job.yaml", "top: top.nc", "top: holes.nc", `file "holes.nc" is already "drill"`},
		{"lid.job.yaml", "value: 16.02", "value: 160.2", "does not go with the part's thickness"},
		{"lid.job.yaml", "finds: probe", "finds: edge finder", "the machine card has none"},
		{"lid.job.yaml", "[8, 38], [-50, 38]]", "[-50, 38], [8, 38]]", "crosses itself"},
		{"lid.job.yaml", "[-50, 38]]", "[-50, 38], [-50, 26]]", "the last point repeats the first"},
		{"lid.job.yaml", "[8, 26], [8, 38], [-50, 38]]", "[8, 26]]", "an outline of 2 points"},
		{"lid.job.yaml", "[8, 26], [8, 38], [-50, 38]]", "[8, 26], [20, 26]]", "enclose no area"},
		{"lid.job.yaml", "[[6, 6], [90, 6]", "[" + strings.Repeat("[1, 1],\n ", 1001) + "[6, 6], [90, 6]", "a list of 1005"},
		{"lid.job.yaml", "flute: 10", "flute: 100", "is longer than the stick-out"},
		{"lid.job.yaml", "part: {", "pert: {", `key "part" is missing, needed by setup "side2"`},
		{"lid.fixture.yaml", "kind: tapped", "kind: insert", `key "pullout" is missing, needed with kind: insert`},
		{"lid.fixture.yaml", "at: [120, 0]", "at: [0, 0]", "the second bore stands on the first"},
		{"bench.machine.yaml", "probe: {", "# probe: {", "a probe is asked for, and the machine card has none"},
	} {
		_, fs := edited(t, c.file, c.old, c.new)
		if len(fs) == 0 || !strings.Contains(fs.Error(), c.want) {
			t.Errorf("%s → %s: want %q, got %v", c.old, c.new, c.want, fs)
		}
	}
	j, fs := edited(t, "lid.job.yaml", "far corner: [96, 64]", "far corner: [96, 64.1]")
	if len(fs) > 0 || len(j.Notes) != 1 || j.Notes[0].Line != 7 || !strings.Contains(j.Notes[0].What, "part.features.far corner: stands outside the part") {
		t.Errorf("notes %v, faults %v", j.Notes, fs)
	}
}

// Every declared rule is understood and every default reads: both are checked by use.
func TestDeclarations(t *testing.T) {
	seen := map[reflect.Type]bool{}
	var walk func(reflect.Type)
	walk = func(rt reflect.Type) {
		switch rt.Kind() {
		case reflect.Pointer, reflect.Slice, reflect.Array, reflect.Map:
			walk(rt.Elem())
		case reflect.Struct:
			if seen[rt] || rt.PkgPath() != reflect.TypeFor[Job]().PkgPath() {
				return
			}
			seen[rt] = true
			keys := map[string]bool{}
			for _, f := range planOf(rt) {
				if keys[f.key] && f.key != "" {
					t.Errorf("%v: key %q twice", rt, f.key)
				}
				keys[f.key] = true
				walk(rt.Field(f.index).Type)
			}
			(&reader{}).absent(reflect.New(rt).Elem(), rules{})
			(&reader{sys: unit.Imperial}).absent(reflect.New(rt).Elem(), rules{})
		}
	}
	for _, v := range []any{Job{}, Machine{}, Fixture{}} {
		walk(reflect.TypeOf(v))
	}
	if len(seen) < 20 {
		t.Errorf("only %d types walked", len(seen))
	}
}

func BenchmarkReadJob(b *testing.B) {
	for b.Loop() {
		if _, fs := ReadJob(OS(), "testdata/lid.job.yaml"); len(fs) > 0 {
			b.Fatal(fs)
		}
	}
}
