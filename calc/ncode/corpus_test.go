package ncode

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fliptrue/calc/clearance"
)

var update = flag.Bool("update", false, "write the expected findings of the corpus anew")

const corpus = "../../testdata/ncode"

// lid is what the corpus is held against: the lid of a ship's-compass box, 96 x 64 x 16,
// on its fixture, Z0 = floor, with a strap at either end and four screw heads.
func lid(t testing.TB) (Options, clearance.Margins, []clearance.Obstacle, map[int]clearance.Tool) {
	t.Helper()
	clear, floor := 17.0, -1.0
	ex := Expect{
		System: 1, Units: MM, Part: &Cuboid{Max: [3]float64{96, 64, 16}}, Stock: 0.5, Clearance: &clear,
		Z0: Z0{Kind: Z0Floor, Thickness: 16}, Floor: &floor, Ceiling: 1.06,
		Travel: &Cuboid{Min: [3]float64{-400, -250, -300}, Max: [3]float64{0, 0, 0}},
		Placed: &Placement{Offset: [3]float64{-267.468, -158.221, -229.690}, Rotation: 0.0002},
		Tools:  map[int]Tool{},
	}
	tools := map[int]clearance.Tool{}
	for n, d := range map[int]clearance.Dims{
		1: {Dia: 12, Flute: 26, Shank: 12, Stickout: 40, Holder: 40},
		2: {Dia: 6, Flute: 18, Shank: 6, Stickout: 30, Holder: 24},
		3: {Dia: 3.175, Flute: 10, Shank: 3.175, Stickout: 20, Holder: 24},
		4: {Dia: 6, Flute: 16, Shank: 6, Stickout: 34, Holder: 24},
		5: {Dia: 2.4, Flute: 24, Shank: 2.4, Stickout: 36, Holder: 24},
		6: {Dia: 0.4, Flute: 6, Shank: 3.175, Stickout: 25, Holder: 24},
		7: {Dia: 2, Flute: 8, Shank: 3.175, Stickout: 25, Holder: 24},
	} {
		ex.Tools[n] = Tool{Length: 60 + d.Stickout, Radius: d.Dia / 2, Drill: n == 4 || n == 5}
		tool, err := clearance.NewTool(fmt.Sprintf("T%d", n), d)
		if err != nil {
			t.Fatal(err)
		}
		tools[n] = tool
	}
	var obs []clearance.Obstacle
	add := func(name string, top float64, o clearance.Outline, err error) {
		if err != nil {
			t.Fatal(err)
		}
		obs = append(obs, clearance.Obstacle{Name: name, Outline: o, Top: top})
	}
	o, err := clearance.Rectangle(-90, 20, -32, 44)
	add("left stop", 20, o, err)
	o, err = clearance.Rectangle(140, 20, 190, 44)
	add("right stop", 20, o, err)
	for i, p := range []clearance.Point{{X: 6, Y: 6}, {X: 90, Y: 6}, {X: 90, Y: 58}, {X: 6, Y: 58}} {
		o, err := clearance.Disc(p, 1.9)
		add(fmt.Sprintf("screw %d", i+1), 4.8, o, err)
	}
	return Options{Expect: ex}, clearance.Usual, obs, tools
}

// report writes what was found in the form that is compared.
func report(s *Summary, c *Clearance) string {
	var b strings.Builder
	verdict := s.Verdict()
	extra := c.Findings()
	for _, f := range extra {
		verdict = max(verdict, f.Severity)
	}
	word := map[Severity]string{Note: "PASS", Warn: "PASS", NotProven: "NOT PROVEN", Fail: "FAIL", Refused: "FAIL"}[verdict]
	fmt.Fprintf(&b, "%s: %d lines, %d called, %d moves, %v, ends %q\n", word, s.Lines, s.Called, s.Moves, s.Units, s.Ended)
	box := func(name string, x *Box) {
		fmt.Fprintf(&b, "%s", name)
		for i := range 3 {
			if x.Seen(i) {
				fmt.Fprintf(&b, " %c %.3f (%d) to %.3f (%d)", 'X'+i, x.Min[i], x.MinLine[i], x.Max[i], x.MaxLine[i])
			}
		}
		b.WriteByte('\n')
	}
	box("W feed", &s.Feed)
	box("W rapid", &s.Rapid)
	if s.Machine != nil {
		box("M", s.Machine)
	}
	for _, u := range s.Systems {
		fmt.Fprintf(&b, "%s from line %d, %d moves\n", SystemName(u.System), u.Line, u.Moves)
	}
	for _, u := range s.Tools {
		fmt.Fprintf(&b, "T%d H%d from line %d, spindle %d, deepest %.3f (%d), step %.3f (%d)\n", u.Number, u.H, u.Line, u.Spindle, u.Feed.Min[2], u.Feed.MinLine[2], u.Step, u.StepLine)
	}
	if len(s.Dialect) > 0 {
		fmt.Fprintf(&b, "dialect %s\n", strings.Join(s.Dialect, ", "))
	}
	for _, n := range c.Nearest() {
		if n.Below {
			fmt.Fprintf(&b, "%s: gap %.3f of %.3f, %s of T%d, line %d\n", n.Obstacle, n.Gap, n.Needed, n.Part, n.Tool, n.Line)
		} else {
			fmt.Fprintf(&b, "%s: never below its top\n", n.Obstacle)
		}
	}
	for _, f := range append(s.Findings, extra...) {
		fmt.Fprintln(&b, f)
	}
	return b.String()
}

// Each program of the corpus gives the findings that stand beside it.
func TestCorpus(t *testing.T) {
	names, err := filepath.Glob(filepath.Join(corpus, "*.nc"))
	if err != nil || len(names) < 16 {
		t.Fatalf("%v, %d programs", err, len(names))
	}
	for _, name := range names {
		base := strings.TrimSuffix(filepath.Base(name), ".nc")
		t.Run(base, func(t *testing.T) {
			text, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			opts, m, obs, tools := lid(t)
			if base == "drilling" {
				obs = obs[:2]                                // the screws come after it
				opts.Expect.Ceilings = map[int]float64{3: 5} // on its straps
			}
			if base == "inch" {
				// A plate of its own: 3 x 2 x 1/4 in, Z0 = finished top.
				clear, floor := 2.54, -9.0
				opts.Expect.Units, opts.Expect.Clearance, opts.Expect.Floor = Inch, &clear, &floor
				opts.Expect.Part = &Cuboid{Min: [3]float64{0, 0, -6.35}, Max: [3]float64{76.2, 50.8, 0}}
				opts.Expect.Z0, opts.Expect.Stock = Z0{Kind: Z0Top, Thickness: 6.35}, 0
				obs = obs[:2]
				opts.Expect.Tools[2] = Tool{Length: 90, Radius: 3, Drill: true}
			}
			c, err := NewClearance(m, obs, tools, nil)
			if err != nil {
				t.Fatal(err)
			}
			s, err := Walk(context.Background(), bytes.NewReader(text), opts, c)
			if err != nil {
				t.Fatal(err)
			}
			got := report(s, c)
			file := filepath.Join(corpus, base+".txt")
			if *update {
				if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			want, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if w := strings.ReplaceAll(string(want), "\r\n", "\n"); got != w {
				t.Errorf("got\n%s\nwant\n%s", got, w)
			}
			if broken := strings.HasPrefix(base, "broken"); broken != !strings.HasPrefix(got, "PASS") {
				t.Errorf("%s", got)
			}
		})
	}
}
