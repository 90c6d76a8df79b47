package ncode

import (
	"bytes"
	"context"
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// lidTop is the program of a lid, stopped in its second facing pass (demonstration).
const lidTop = `%
(LID, SIDE 2: FACE THE TOP TO 16, PART ON ITS SCREWS)
(Z0 = POCKET FLOOR)
(T3 FLAT 3.175)
G17 G21 G40 G49 G80 G90 G94
G54
T3 M6
G43 H3
S12000 M3
G0 Z40
X-3 Y-1
Z18
G1 Z16.3 F200
M98 P100 L33
G0 Z18
X-3 Y-1
G1 Z16.1 F200
M98 P100 L33
G0 Z18
X-3 Y-1
G1 Z16 F200
M98 P100 L33
G0 Z60
M5
G49
M30
O100 (ONE PASS OUT AND ONE BACK, 1 MM APART)
G91
G1 X102 F480
Y1
X-102
Y1
G90
M99
%
`

func restartOf(t *testing.T, text string, opts Options, clear float64, stop Stop) (Restart, error) {
	t.Helper()
	return FindRestart(context.Background(), bytes.NewReader([]byte(text)), opts, clear, stop)
}

// The lid, stopped in repeat 12 of line 18: line 15, with the tool at X-3 Y65 Z16.3; 11 passes of 206 at
// 480 are cut in air, 4.72 min. Computed by hand.
func TestRestartOfTheLid(t *testing.T) {
	r, err := restartOf(t, lidTop, Options{}, 17.5, Stop{18, 12})
	if err != nil || r.Top || !r.Rises || r.Line != 15 {
		t.Fatalf("%+v %v", r, err)
	}
	if b := r.Before; b.At != [3]float64{-3, 65, 16.3} || b.Known != 7 {
		t.Errorf("%+v", b)
	}
	plunge := 1.9 / 200
	if got := r.Minutes - plunge; math.Abs(got-11*206.0/480) > 1e-9 || math.Abs(got-4.721) > 1e-3 {
		t.Errorf("%g min in air", got)
	}
	want := []string{"G17 G21 G90 G40 G49 G80 G94", "T3 M6", "G54", "G0 X-3 Y65", "G43 H3", "S12000 M3", "F480"}
	if got := r.Typed(""); strings.Join(got, "|") != strings.Join(append(want, "G1 X-3 Y65"), "|") {
		t.Errorf("%q", got)
	}
	if b := r.At; b.At != [3]float64{-3, -1, 16.1} {
		t.Errorf("before the stopped line %+v", b)
	}
}

// Before anything was at the clear height it is the top; a line that does not run is refused.
func TestRestartAtTheTop(t *testing.T) {
	for _, n := range []int{1, 5, 11, 12} {
		if r, err := restartOf(t, lidTop, Options{}, 17.5, Stop{Line: n}); err != nil || !r.Top || r.Line != 1 || r.Typed("") != nil {
			t.Errorf("line %d: %+v %v", n, r, err)
		}
	}
	for _, n := range []int{0, 27, 35, 36, -1} {
		if r, err := restartOf(t, lidTop, Options{}, 17.5, Stop{Line: n}); !errors.Is(err, ErrNoStop) {
			t.Errorf("line %d: %+v %v", n, r, err)
		}
	}
	// Never the stopped line itself, nor one within increments, compensation or a cycle.
	r, _ := restartOf(t, lidTop, Options{}, 17.5, Stop{Line: 15})
	if r.Line != 12 {
		t.Errorf("stopped at the restart line itself: %+v", r)
	}
	for name, text := range map[string]string{
		"increments":   "G17 G21 G40 G90 G94\nG54\nG0 Z40\nX1 Y1\nZ3\nS1 M3\nF100\nG91\nG0 Z30\nX5\nG1 Z-32\nX5\nM2\n",
		"compensation": "G17 G21 G40 G90 G94\nG54\nG0 Z40\nX1 Y1\nZ3\nS1 M3\nF100\nG41 D1\nG0 Z30\nX5\nG1 Z3\nX5\nG40\nM2\n",
		"zero shift":   "G17 G21 G40 G90 G94\nG54\nG0 Z40\nX1 Y1\nZ3\nS1 M3\nF100\nG52 X1\nG0 Z30\nX5\nG1 Z3\nX5\nG52 X0\nM2\n",
		"a parameter":  "G17 G21 G40 G90 G94\nG54\nG0 Z40\nX1 Y1\nZ3\nS1 M3\nF100\n#1=3\nG0 Z30\nX5\nG1 Z#1\nX5\nX6\nM2\n",
		"a cycle":      "G17 G21 G40 G90 G94\nG54\nG0 Z40\nX1 Y1\nZ3\nS1 M3\nF100\nG81 X1 Y1 R30 Z1\nX2\nX3\nX4\nX5\nG80\nM2\n",
	} {
		r, err := restartOf(t, text, Options{Lenient: true}, 17.5, Stop{Line: 12})
		if err != nil || r.Line > 5 {
			t.Errorf("%s: %+v %v", name, r, err)
		}
	}
}

// standing is what is compared of a place in a program.
func (s *Standing) modal() State {
	m := s.State
	m.PlaneSet, m.ModeSet = true, true // said or not: it is in force
	if !m.Length {
		m.H = -1
	}
	for i, v := range []*float64{&m.cycle.r, &m.cycle.z, &m.cycle.q} {
		if m.cycleSet&(1<<i) == 0 {
			*v = 0
		}
	}
	m.cycleInc &= m.cycleSet
	return m
}

// followed is all that a run did, line by line of the program itself.
type followed struct {
	at    []Standing
	moves map[int][]Move // by place in at
}

func (f *followed) Move(m *Move) {
	if m.Maybe { // another reading of what came before: the Z typed decides it
		return
	}
	k := len(f.at) - 1
	c := *m
	c.Line = 0
	f.moves[k] = append(f.moves[k], c)
}

func run(t *testing.T, text string, opts Options) *followed {
	t.Helper()
	f := &followed{moves: map[int][]Move{}}
	opts.PathOnly = true
	opts.Before = func(s *Standing) { f.at = append(f.at, *s) }
	if _, err := Walk(context.Background(), bytes.NewReader([]byte(text)), opts, f); err != nil {
		t.Fatal(err)
	}
	return f
}

func sameMove(a, b Move) bool {
	const near = 1e-6
	for i := range 3 {
		if math.Abs(a.From[i]-b.From[i]) > near || math.Abs(a.To[i]-b.To[i]) > near || math.Abs(a.Centre[i]-b.Centre[i]) > near {
			return false
		}
	}
	if math.Abs(a.Sweep-b.Sweep) > near || math.Abs(a.Radius-b.Radius) > near || math.Abs(a.Feed-b.Feed) > near {
		return false
	}
	a.From, a.To, a.Centre, a.Sweep, a.Radius, a.Feed = b.From, b.To, b.Centre, b.Sweep, b.Radius, b.Feed
	return a == b
}

// held runs a program from a restart line after the lines typed, and holds it against its run from the top.
func held(t *testing.T, whole string, lines []string, opts Options, r Restart, from *followed) {
	t.Helper()
	typed := append([]string{"G90 G0 G53 Z0"}, r.Typed("G68 X0 Y0 R0")...)
	text := strings.Join(append(append([]string{}, typed...), lines[r.Line-1:]...), "\n")
	again := run(t, text, opts)
	k0, k1 := r.Line-1, len(typed) // of the restart line, in both
	if len(from.at)-k0 != len(again.at)-k1 {
		t.Fatalf("line %d: %d lines from there, %d after a restart\n%s", r.Line, len(from.at)-k0, len(again.at)-k1, strings.Join(typed, "\n"))
	}
	for i := range len(from.at) - k0 {
		a, b := from.at[k0+i], again.at[k1+i]
		if i == 0 && r.Rises { // Z is all up, the line itself brings it
			a.At[2], b.At[2], a.Known, b.Known = 0, 0, a.Known&3, b.Known&3
		}
		if a.modal() != b.modal() {
			t.Fatalf("restart at %d, line %d:\n%+v\n%+v\n%s", r.Line, r.Line+i, a.modal(), b.modal(), strings.Join(typed, "\n"))
		}
		if a.Known != b.Known || math.Abs(a.At[0]-b.At[0]) > 1e-6 || math.Abs(a.At[1]-b.At[1]) > 1e-6 || math.Abs(a.At[2]-b.At[2]) > 1e-6 {
			t.Fatalf("restart at %d, line %d: at %v (%b), from the top at %v (%b)\n%s", r.Line, r.Line+i, b.At, b.Known, a.At, a.Known, strings.Join(typed, "\n"))
		}
		if i == 0 && r.Rises {
			continue
		}
		am, bm := from.moves[k0+i], again.moves[k1+i]
		if len(am) != len(bm) {
			t.Fatalf("restart at %d, line %d: %d moves, from the top %d", r.Line, r.Line+i, len(bm), len(am))
		}
		for n := range am {
			if !sameMove(am[n], bm[n]) {
				t.Fatalf("restart at %d, line %d:\n%+v\nfrom the top\n%+v", r.Line, r.Line+i, bm[n], am[n])
			}
		}
	}
}

// every holds all restarts of a program, one for each stop; how many lines, and how many of them are no top.
func every(t *testing.T, text string, opts Options, clear float64) (stops, found int) {
	text = strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(text)
	lines := strings.Split(text, "\n")
	from := run(t, text, opts)
	done := map[int]bool{}
	look := opts
	find := &finder{clear: clear, best: Restart{Line: 1, Top: true}}
	find.every = func(n int, r Restart) {
		if stops++; r.Top {
			return
		}
		if found++; r.Line >= n {
			t.Fatalf("stop in line %d: restart at %d", n, r.Line)
		}
		if b := r.Before; !r.Rises && !b.High && b.At[2] < clear-thousandth || b.State.Comp != 0 || b.State.Incremental || b.State.Motion > 800 {
			t.Fatalf("stop in line %d: restart at %d stands at %+v", n, r.Line, b)
		}
		if !done[r.Line] {
			done[r.Line] = true
			held(t, text, lines, opts, r, from)
		}
	}
	look.PathOnly, look.Before = true, find.before
	if _, err := Walk(context.Background(), bytes.NewReader([]byte(text)), look, find); err != nil {
		t.Fatal(err)
	}
	if one, err := restartOf(t, text, opts, clear, Stop{Line: len(from.at) - 1}); err != nil || len(from.at) > 1 && one.Line != find.best.Line && one.Line >= len(from.at) {
		t.Fatalf("stop in the last line: %+v, %v", one, err)
	}
	return stops, found
}

// For every program there is and every stop: state and place after the typed lines, and at every line from
// there on, are those of a run from the top; so is every move.
func TestRestartIsARunFromTheTop(t *testing.T) {
	programs := map[string]string{"the lid": lidTop}
	for _, glob := range []string{corpus + "/*.nc", "../../testdata/*/*.nc", "../../steps/bench/builtin/*.nc"} {
		names, err := filepath.Glob(glob)
		if err != nil || len(names) == 0 {
			t.Fatalf("%s: %v", glob, err)
		}
		for _, name := range names {
			b, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			programs[name] = string(b)
		}
	}
	for _, file := range []string{"ordinary.txt", "faulty.txt", "second-look.txt", "third-look.txt"} {
		for _, j := range readJudged(t, file) {
			programs[file+" "+j.name] = j.text
		}
	}
	stops, found := 0, 0
	for name, text := range programs {
		t.Run(name, func(t *testing.T) {
			s, f := every(t, text, Options{Lenient: true}, 5)
			stops, found = stops+s, found+f
		})
	}
	t.Logf("%d programs, %d stops, %d of them with a line to begin at", len(programs), stops, found)
	if found < 1000 {
		t.Errorf("only %d of %d stops have a line to begin at: the test looks at nothing", found, stops)
	}
}
