package ncode

import (
	"bytes"
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var usualNear = Near{1, 0.022}

func stoodOf(t *testing.T, text string, clear float64, stop int, at [3]float64) Stood {
	t.Helper()
	s, err := FindStood(context.Background(), bytes.NewReader([]byte(text)), Options{Lenient: true}, clear, Stop{Line: stop}, at, usualNear)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// The lid has three facing passes, at Z 16.3, 16.1 and 16, called in lines 14, 18 and 22; they begin at lines 12, 15 and 19.
// Whatever line is written down, the place read is of its own pass alone. Told by hand.
func TestThePassesOfTheLid(t *testing.T) {
	passes := []struct {
		line, begins int
		z            float64
	}{{14, 12, 16.3}, {18, 15, 16.1}, {22, 19, 16}}
	for _, is := range passes {
		for _, wrote := range passes {
			s := stoodOf(t, lidTop, 17.5, wrote.line, [3]float64{40, 20.4, is.z + 0.01})
			if s.Fits(usualNear) != (is == wrote) || s.Begins != wrote.begins || math.Abs(s.Off-0.4) > 1e-9 || math.Abs(s.Over-(is.z+0.01-wrote.z)) > 1e-9 {
				t.Errorf("at Z %g, line %d written: %+v", is.z, wrote.line, s)
			}
			if len(s.Held) != 1 || s.Held[0].Line != is.line || s.Held[0].Begins != is.begins || len(s.Under) != 3 {
				t.Errorf("at Z %g, line %d written: %+v", is.z, wrote.line, s)
			}
		}
	}
	// Raised by 3.2 over the second pass: none holds it, all three are under it.
	if s := stoodOf(t, lidTop, 17.5, 18, [3]float64{40, 20.4, 19.3}); s.Fits(usualNear) || len(s.Held) != 0 || len(s.Under) != 3 || math.Abs(s.Over-3.2) > 1e-9 {
		t.Errorf("%+v", s)
	}
	// Beside the part by 7 in X.
	if s := stoodOf(t, lidTop, 17.5, 18, [3]float64{106, 20.4, 16.1}); s.Fits(usualNear) || math.Abs(s.Off-7) > 1e-9 || len(s.Under) != 0 {
		t.Errorf("%+v", s)
	}
	// On a rapid between two passes: of the stopped line it counts, of others nothing is cut by it.
	back := [3]float64{-3, 30.5, 18}
	if s := stoodOf(t, lidTop, 17.5, 16, back); !s.Fits(usualNear) {
		t.Errorf("%+v", s)
	}
	if s := stoodOf(t, lidTop, 17.5, 18, back); s.Fits(usualNear) || len(s.Held) != 0 {
		t.Errorf("%+v", s)
	}
	// A line too early or too late of the same pass is the same pass.
	for _, line := range []int{16, 17, 18, 19} {
		if s := stoodOf(t, lidTop, 17.5, line, [3]float64{40, 20.4, 16.1}); !s.Fits(usualNear) {
			t.Errorf("line %d: %+v", line, s)
		}
	}
	_, err := FindStood(context.Background(), bytes.NewReader([]byte(lidTop)), Options{}, 17.5, Stop{Line: 35}, [3]float64{}, usualNear)
	if !errors.Is(err, ErrNoStop) {
		t.Error(err)
	}
}

// With G41 the axis stands beside the path by the cutter's radius.
func TestAPlaceBesideTheCompensatedPath(t *testing.T) {
	text := "G17 G21 G40 G90 G94\nG54\nT3 M6\nG43 H3\nS1 M3\nF100\nG0 Z40\nX0 Y0\nZ3\nG1 Z1\nG41 D3 X10\nX50\nG40 X60\nG0 Z40\nM2\n"
	look := func(comp float64) Stood {
		s, err := FindStood(context.Background(), bytes.NewReader([]byte(text)),
			Options{Lenient: true, Expect: Expect{Tools: map[int]Tool{3: {Radius: comp}}}}, 17.5, Stop{Line: 12}, [3]float64{30, 3, 1}, usualNear)
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	if a, b := look(1.5), look(3); a.Fits(usualNear) || math.Abs(a.Off-1.5) > 1e-9 || !b.Fits(usualNear) {
		t.Errorf("%+v\n%+v", a, b)
	}
	// On either side of it, and of one along Y.
	along := strings.NewReplacer("X10", "Y10", "X50", "Y50", "X60", "Y60").Replace(text)
	for _, c := range []struct {
		text string
		at   [3]float64
	}{{text, [3]float64{30, 4, 1}}, {text, [3]float64{30, -4, 1}}, {along, [3]float64{4, 30, 1}}, {along, [3]float64{-4, 30, 1}}} {
		s, err := FindStood(context.Background(), strings.NewReader(c.text),
			Options{Lenient: true, Expect: Expect{Tools: map[int]Tool{3: {Radius: 3}}}}, 17.5, Stop{Line: 12}, c.at, usualNear)
		if err != nil || math.Abs(s.Off-1) > 1e-9 {
			t.Errorf("%v lies 1 beyond a radius of 3: %+v %v", c.at, s, err)
		}
	}
}

// For every program there is: who reads where the tool stands in a cut, as well as it is read, and writes the right line down is
// never told otherwise; and the pass is among those that hold the place. The second look is the list of all motions of a plain run, with
// the restart of its line by FindRestart. A line that begins later than every pass with a motion near the place never fits.
func TestAPlaceFitsItsOwnPass(t *testing.T) {
	programs := map[string]string{"the lid": lidTop}
	for _, glob := range []string{corpus + "/*.nc", "../../testdata/*/*.nc", "../../steps/bench/builtin/*.nc"} {
		names, _ := filepath.Glob(glob)
		for _, name := range names {
			b, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			if len(b) < 1<<17 {
				programs[name] = strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(string(b))
			}
		}
	}
	looked, other := 0, 0
	for name, text := range programs {
		r := rand.New(rand.NewPCG(uint64(len(text)), 5))
		from := run(t, text, Options{Lenient: true})
		var cuts []Move
		var lines []int
		for k, ms := range from.moves {
			for _, m := range ms {
				if k >= 0 && m.Kind != Rapid && m.Known == 7 && m.Ends == 7 && !m.Away && m.Comp == 0 {
					cuts, lines = append(cuts, m), append(lines, from.at[k].Line)
				}
			}
		}
		for range min(25, len(cuts)) {
			i := r.IntN(len(cuts))
			at := cuts[i].At(r.Float64())
			for ax, n := range []float64{1, 1, 0.02} {
				at[ax] += 0.99 * n * (2*r.Float64() - 1)
			}
			s := stoodOf(t, text, 5, lines[i], at)
			is, err := restartOf(t, text, Options{Lenient: true}, 5, Stop{Line: lines[i]})
			if err != nil {
				t.Fatal(err)
			}
			mine := func(p Pass) bool { return p.Begins == is.Line }
			if !s.Fits(usualNear) || s.Begins != is.Line || !s.Blind && !anyPass(s.Held, mine) || !s.Blind && !anyPass(s.Under, mine) {
				t.Fatalf("%s, line %d at %v: %+v", name, lines[i], at, s)
			}
			looked++
			k := len(from.at)/2 + r.IntN((len(from.at)+1)/2)
			wrote, err := restartOf(t, text, Options{Lenient: true}, 5, Stop{Line: from.at[k].Line})
			if err != nil || wrote.Line <= s.Held[len(s.Held)-1].Begins {
				continue
			}
			if w := stoodOf(t, text, 5, from.at[k].Line, at); w.Fits(usualNear) && !w.Blind && !rapidAt(from.moves[k], at) {
				t.Fatalf("%s, line %d written for %d at %v: %+v", name, from.at[k].Line, lines[i], at, w)
			}
			other++
		}
	}
	t.Logf("%d programs, %d places, %d of them with a later pass written", len(programs), looked, other)
	if looked < 500 || other < 30 {
		t.Error("the test looks at nothing")
	}
}

func anyPass(ps []Pass, is func(Pass) bool) bool {
	for _, p := range ps {
		if is(p) {
			return true
		}
	}
	return false
}

// rapidAt says that a line's own rapid passes the place.
func rapidAt(ms []Move, at [3]float64) bool {
	for _, m := range ms {
		lo, hi := m.Bounds()
		if m.Kind == Rapid && at[0] > lo[0]-1 && at[0] < hi[0]+1 && at[1] > lo[1]-1 && at[1] < hi[1]+1 && at[2] > lo[2]-0.03 && at[2] < hi[2]+0.03 {
			return true
		}
	}
	return false
}
