package ncode

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fliptrue/calc/clearance"
)

// judged is one program with what is right to say of it, written down before it was first run.
type judged struct {
	name, setup, verdict string
	must                 []string // "severity id"
	text                 string
}

// readJudged reads programs one after another, each under a head line
// "=== name | setup | verdict | severity id, severity id".
func readJudged(t testing.TB, file string) (out []judged) {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(corpus, "judged", file))
	if err != nil {
		t.Fatal(err)
	}
	for i, s := range strings.Split(strings.ReplaceAll(string(b), "\r\n", "\n"), "=== ") {
		if i == 0 {
			continue // what is said of the file
		}
		head, text, _ := strings.Cut(s, "\n")
		f := strings.Split(head, "|")
		if len(f) < 3 {
			t.Fatalf("%s: %q", file, head)
		}
		j := judged{name: strings.TrimSpace(f[0]), setup: strings.TrimSpace(f[1]), verdict: strings.TrimSpace(f[2]), text: text}
		if len(f) > 3 {
			for _, m := range strings.Split(f[3], ",") {
				j.must = append(j.must, strings.TrimSpace(m))
			}
		}
		out = append(out, j)
	}
	return out
}

// setupOf is what a judged program is held against.
func setupOf(t testing.TB, name string) (Options, []clearance.Obstacle, map[int]clearance.Tool) {
	t.Helper()
	opts, _, obs, tools := lid(t)
	opts.Lenient = true
	e := &opts.Expect
	clear, floor := 17.5, 0.3
	e.Clearance, e.Floor, e.Floors = &clear, &floor, map[int]float64{5: -1}
	for n, d := range map[int]clearance.Dims{
		8: {Dia: 50, Flute: 8, Shank: 22, Stickout: 40, Holder: 50},
		9: {Dia: 10, Flute: 22, Shank: 10, Stickout: 40, Holder: 32},
	} {
		e.Tools[n] = Tool{Length: 60 + d.Stickout, Radius: d.Dia / 2}
		tool, err := clearance.NewTool(fmt.Sprintf("T%d", n), d)
		if err != nil {
			t.Fatal(err)
		}
		tools[n] = tool
	}
	e.Tools[20] = Tool{Length: 80}
	for n, x := range e.Tools {
		x.Body, x.Drill = body(tools[n]), n == 5
		x.Corner = map[int]float64{4: 3, 9: 1}[n]
		e.Tools[n] = x
	}
	// A force that grows with the square root of the share of the diameter in the cut.
	e.Carries = func(c Cut) float64 {
		d := 2 * e.Tools[c.Tool].Radius
		if d == 0 {
			return -1
		}
		h := 1.06 * 3.175 / d * math.Sqrt(d/min(c.Width, d))
		if c.Down {
			h /= 1.5
		}
		return h
	}
	e.Placed.Rotation = 0
	switch name {
	case "lid":
	case "lid-no-screws":
		obs = obs[:2]
	case "lid-strong":
		e.Carries = func(Cut) float64 { return 5 }
	case "lid-thick":
		e.Stock, *e.Clearance = 2, 19
	case "lid-deep":
		e.Part.Max[2], *e.Clearance = 30, 31.5
		e.Carries = func(Cut) float64 { return 9 }
		e.Z0.Thickness = 30
	case "drilling":
		obs = obs[:2]
		for _, at := range [][2]float64{{6, 6}, {90, 6}, {90, 58}, {6, 58}} {
			e.Open = append(e.Open, Open{At: at, Radius: 3.5, Bottom: 2.5})
		}
	case "touched":
		e.Lengths = LengthsTouched
	case "desk":
		e.Placed, e.Travel = nil, nil
		for n, x := range e.Tools {
			x.Length = 0
			e.Tools[n] = x
		}
	case "plate-inch":
		clear, floor := 2.54, -9.0
		e.Units, e.Clearance, e.Floor = Inch, &clear, &floor
		e.Part = &Cuboid{Min: [3]float64{0, 0, -6.35}, Max: [3]float64{76.2, 50.8, 0}}
		e.Z0, e.Stock = Z0{Kind: Z0Top, Thickness: 6.35}, 0
		obs = obs[:2]
	default:
		t.Fatalf("no setup %q", name)
	}
	return opts, obs, tools
}

// judge walks one of them.
func judge(t testing.TB, j judged) (verdict string, found []Finding) {
	t.Helper()
	opts, obs, tools := setupOf(t, j.setup)
	c, err := NewClearance(clearance.Usual, obs, tools, nil)
	if err != nil {
		t.Fatal(err)
	}
	s, err := Walk(context.Background(), bytes.NewReader([]byte(j.text)), opts, c)
	if err != nil {
		t.Fatal(err)
	}
	found = append(slices.Clone(s.Findings), c.Findings()...)
	v := Note
	for _, f := range found {
		v = max(v, f.Severity)
	}
	return map[Severity]string{Note: "pass", Warn: "pass", NotProven: "not proven", Fail: "fail", Refused: "fail"}[v], found
}

// What must fail fails for its own reason, what is ordinary passes.
func TestJudged(t *testing.T) {
	for _, file := range judgedFiles {
		dangerous, alarms := 0, 0
		js := readJudged(t, file)
		for _, j := range js {
			got, found := judge(t, j)
			why := ""
			if got != j.verdict {
				why = fmt.Sprintf("%s, want %s", got, j.verdict)
			}
			for _, m := range j.must {
				i := strings.LastIndexByte(m, ' ')
				if !slices.ContainsFunc(found, func(f Finding) bool { return f.ID == m[i+1:] && f.Severity.String() == m[:i] }) {
					why += "; lacks " + m
				}
			}
			if why == "" {
				continue
			}
			rank := map[string]int{"pass": 0, "not proven": 1, "fail": 2}
			switch {
			case rank[got] < rank[j.verdict]:
				dangerous++
			case rank[got] > rank[j.verdict]:
				alarms++
			}
			t.Errorf("%s: %s (%s): %s\n%v", file, j.name, j.setup, why, found)
		}
		t.Logf("%s: %d programs, %d too lenient, %d too strict", file, len(js), dangerous, alarms)
	}
}

// Where nothing is held at all, every cut is too much; where that is not known, none is judged.
func TestNothingHolds(t *testing.T) {
	for _, c := range []struct {
		holds float64
		fails bool
	}{{0, true}, {-1, false}, {0.001, true}, {5, false}} {
		opts, _, _ := setupOf(t, "lid")
		opts.Expect.Carries = func(Cut) float64 { return c.holds }
		s, _ := walkText(t, good, opts)
		if has(s.Findings, Fail, "z-step", -1) != c.fails {
			t.Errorf("carries %v: %v", c.holds, s.Findings)
		}
	}
}
