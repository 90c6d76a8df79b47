package steps_test

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/checks"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// bare is a shop of points and rays: a fixture on the table, a dial and a tool. It is
// asked what the steps ask and does what they advise, and shares no formula with them.
type bare struct {
	p         *fold.Plan
	turn      float64    // of the fixture about its first bore
	at        [2]float64 // where that bore stands
	sense     float64    // +1: the needle goes clockwise when the stylus is pushed in the way it is pushed
	lever     float64    // angle of the stylus to the surface
	spindle   [2]float64
	backwards int // so many taps go the other way
}

// on is where a place of the fixture's card stands.
func (b *bare) on(x, y float64) (float64, float64) {
	s, c := math.Sin(b.turn), math.Cos(b.turn)
	return b.at[0] + c*x - s*y, b.at[1] + s*x + c*y
}

// push is how far the stylus is pushed in by something at that distance ahead of it.
func (b *bare) needle(push float64) float64 { return b.sense * push / math.Cos(b.lever) }

// edgeAt is the edge's place across its axis where the tool stands at a station along it.
func (b *bare) edgeAt(station float64) (across float64) {
	e := b.p.Job.Fixture.AsMade.Edge
	x0, y0 := b.on(e.From.X, e.From.Y)
	x1, y1 := b.on(e.From.X+e.Length, e.From.Y)
	if e.Side == "left" || e.Side == "right" {
		x1, y1 = b.on(e.From.X, e.From.Y+e.Length)
		y := b.at[1] + e.From.Y + station
		return x0 + (x1-x0)*(y-y0)/(y1-y0)
	}
	x := b.at[0] + e.From.X + station
	return y0 + (y1-y0)*(x-x0)/(x1-x0)
}

// centre is a bore or pin, and its radius.
func (b *bare) centre(of string) (x, y, r float64) {
	a := &b.p.Job.Fixture.AsMade
	if strings.HasSuffix(of, "2") {
		x, y = b.on(a.Bore2.At.X, a.Bore2.At.Y)
	} else {
		x, y = b.on(0, 0)
	}
	return x, y, a.Bore.Dia / 2
}

func (b *bare) read(a fold.Ask) string {
	of, at, _ := strings.Cut(a.What.Of, "@")
	num := func(s string) float64 { v, _ := strconv.ParseFloat(s, 64); return v }
	jogged := 0.0
	dir := a.What.Dir
	if i := strings.Index(dir, "jog"); i >= 0 {
		jogged = num(dir[i+3:])
	}
	var v float64
	switch {
	case a.What.Dir == "lever":
		return fmt.Sprintf("%.1f", b.lever*180/math.Pi)
	case a.What.By == "gauge":
		v = 7.99
	case a.Kind == fold.Count:
		return "4"
	case a.What.By == "dial" && of == "edge":
		side := b.p.Job.Fixture.AsMade.Edge.Side
		away := b.edgeAt(num(at)) - b.edgeAt(0) - jogged // of the edge from the tool, along +
		if side == "front" || side == "left" {
			away = -away
		}
		v = b.needle(away)
	case a.What.By == "dial":
		x, y, r := b.centre(of)
		sx, sy := b.spindle[0], b.spindle[1]
		switch {
		case strings.HasPrefix(dir, "yjog"):
			sy, dir = sy+jogged, "90"
		case jogged != 0:
			sx, dir = sx+jogged, "0"
		}
		t := num(dir) * math.Pi / 180
		// along the ray from the spindle to the wall: far in a bore, near on a pin seen from across
		dx, dy := math.Cos(t), math.Sin(t)
		along, off := (x-sx)*dx+(y-sy)*dy, (x-sx)*dy-(y-sy)*dx
		wall := along + math.Sqrt(r*r-off*off)
		// a near wall pushes the stylus in toward the axis inside a bore as round a pin it lets it go
		push := r - wall
		if kit.Locator(b.p) == "pin" {
			push = wall - r
		}
		v = b.needle(push)
	case a.What.By == "readout":
		v = b.spindle[0]
		if a.What.Axis == "y" {
			v = b.spindle[1]
		}
	default: // a contact from inside a bore or from outside a pin, or a pin that slides in
		x, y, r := b.centre(of)
		tip := map[string]float64{"probe": 0.991, "finder": 1.5, "paper": 3.175/2 + 0.1}[a.What.By]
		reach := r - tip
		if kit.Locator(b.p) == "pin" {
			reach = r + tip
		}
		if a.What.By == "pin" {
			reach = 0
		}
		t := num(dir) * math.Pi / 180
		v = x + reach*math.Cos(t)
		if a.What.Axis == "y" {
			v = y + reach*math.Sin(t)
		}
	}
	if b.p.Job.Unit == unit.Imperial {
		v /= 25.4
	}
	return strconv.FormatFloat(v, 'f', 9, 64)
}

// do performs an act by hand.
func (b *bare) do(a fold.Act) {
	if a.Do == "move" && a.Of == "spindle" {
		b.spindle[map[string]int{"x": 0, "y": 1}[a.Dir]] += a.Amount
		return
	}
	if a.Do == "go" { // by eye
		x, y, _ := b.centre(a.Of)
		b.spindle = [2]float64{x + 0.03, y - 0.02}
	}
	if a.Do != "tap" {
		return
	}
	d := map[string][2]float64{"left": {-1, 0}, "right": {1, 0}, "away": {0, 1}, "toward you": {0, -1}}[a.Dir]
	by := a.Amount
	if b.backwards > 0 {
		b.backwards--
		by = -by
	}
	// The line that is tapped, from its pivot bolt to where the dial stands, at the end that is named.
	as := &b.p.Job.Fixture.AsMade
	px, py, ex, ey := 0.0, 0.0, 0.0, 0.0
	if as.Edge != nil {
		st := kit.Stations(b.p)
		far := st[len(st)-1]
		px, py, ex, ey = as.Edge.From.X, as.Edge.From.Y, as.Edge.From.X+far, as.Edge.From.Y
		if as.Edge.Side == "left" || as.Edge.Side == "right" {
			ex, ey = as.Edge.From.X, as.Edge.From.Y+far
		}
	} else {
		ex, ey = as.Bore2.At.X, as.Bore2.At.Y
	}
	end := strings.TrimPrefix(a.Of, "fixture@")
	x0, y0 := b.on(px, py)
	x1, y1 := b.on(ex, ey)
	right := map[string]bool{"right": x1 > x0, "left": x1 < x0, "far": y1 > y0, "near": y1 < y0}
	if !right[end] {
		panic("the end " + end + " is not where the line ends")
	}
	// Turn about the pivot until the end has gone that far that way: by bisection.
	want := x1*d[0] + y1*d[1] + by
	was := b.turn
	lo, hi := was-0.1, was+0.1
	gone := func(turn float64) float64 {
		b.turn = turn
		nx, ny := b.on(px, py)
		b.at[0], b.at[1] = b.at[0]+x0-nx, b.at[1]+y0-ny
		x, y := b.on(ex, ey)
		return x*d[0] + y*d[1] - want
	}
	up := gone(hi) > 0
	for i := 0; i < 80; i++ {
		mid := (lo + hi) / 2
		if (gone(mid) > 0) == up {
			hi = mid
		} else {
			lo = mid
		}
	}
}

// squared walks mount, lengths and square; it returns the state and how many rounds were tapped.
func (b *bare) squared(t *testing.T) (st fold.State, rounds int, named []string) {
	t.Helper()
	w := newWalker(t, b.p)
	w.types("mount", "toward you", "FX-3", "1", "1", "20.5C")
	needle := math.NaN() // what the dial at the far end shall show after a tap as advised
	for i := 0; i < 200; i++ {
		st = w.l.State(b.p)
		if st.Cursor.Step == "lengths" {
			if st.Cursor.Field == "runby" {
				w.types("lengths", checks.NotMeasured)
			} else {
				w.types("lengths", "76.118mm")
			}
			continue
		}
		if st.Cursor.Step != "square" {
			return st, rounds, named
		}
		if st.Cursor.Decide {
			o := outcomeOf(t, st, "square")
			named = append(named, o.Named)
			if rounds++; rounds > 5 {
				return st, rounds, named
			}
			for _, a := range o.Next {
				if a.Do == "tap" && o.Named == "tapped-wrong-way" {
					t.Errorf("while the way is in doubt a tap is advised: %q", a.Words)
				}
				if a.Needle.By != 0 && b.backwards == 0 {
					needle = a.Needle.To
				}
				b.do(a)
			}
			es, err := st.Again()
			if err != nil {
				t.Fatal(err)
			}
			w.put(es...)
			continue
		}
		a, _ := st.Ask(st.Cursor.Field)
		for _, d := range a.Do {
			b.do(d)
		}
		read := b.read(a)
		if a.Field == "high" && !math.IsNaN(needle) {
			in, _ := unit.Parse(read, unit.KLength, b.p.Job.Unit)
			near(t, "needle after the tap", in.Value, needle, 5e-4)
			needle = math.NaN()
		}
		es, err := st.Take("keyed", [2]string{a.Field, read})
		if err != nil {
			t.Fatal(err)
		}
		w.put(es...)
	}
	t.Fatal("the step does not end")
	return
}

// Every facing, needle, tilt, lever and unit: one tap as advised and the fixture is true; a
// tap the other way is named.
func TestSquareSignsExhaustively(t *testing.T) {
	if testing.Short() {
		t.Skip("every combination, on one goroutine")
	}
	t.Parallel()
	n := 0
	plans := map[string]*fold.Plan{}
	for _, side := range []string{"front", "rear", "left", "right"} {
		for _, sense := range []float64{1, -1} {
			for _, tilt := range []float64{0.9e-3, -0.9e-3, 0.2e-3, -0.2e-3} {
				for _, lever := range []float64{0, 40 * deg} {
					for _, sys := range []unit.System{unit.Metric, unit.Imperial} {
						for _, backwards := range []int{0, 1} {
							n++
							p := plans[side+sys.String()]
							if p == nil {
								p = lidPlan(t, func(j *jobs.Job) { j.Fixture.AsMade.Edge.Side, j.Unit = side, sys })
								plans[side+sys.String()] = p
							}
							b := &bare{p: p, turn: tilt, at: [2]float64{-312, -158}, sense: sense, lever: lever, backwards: backwards}
							st, rounds, named := b.squared(t)
							what := fmt.Sprintf("%s sense %+.0f tilt %+.1e lever %.1f %v backwards %d", side, sense, tilt, lever, sys, backwards)
							f, ok := st.Fact("skew")
							if !ok {
								t.Errorf("%s: not square after %d rounds, named %v", what, rounds, named)
								continue
							}
							if math.Abs(b.turn) > checks.SkewLimit(p, 3) || math.Abs(f.Value[0]-b.turn) > 1e-6 {
								t.Errorf("%s: the fixture is turned by %.3e, measured %.3e, limit %.3e", what, b.turn, f.Value[0], checks.SkewLimit(p, 3))
							}
							// The pivot bolt stands at the edge's end, a little before its first station: each tap
							// leaves a twentieth, too much only after one the wrong way.
							if rounds > 1+3*backwards { // one of them without a tap
								t.Errorf("%s: %d rounds of tapping", what, rounds)
							}
							if backwards > 0 && named[1] != "tapped-wrong-way" || named[0] != "" {
								t.Errorf("%s: named %q", what, named)
							}
						}
					}
				}
			}
		}
	}
	if n != 4*2*4*2*2*2 {
		t.Fatal(n)
	}
}

// The same by two bores or pins in place of an edge, with each instrument.
func TestSquareByTwoBoresExhaustively(t *testing.T) {
	if testing.Short() {
		t.Skip("every combination, on one goroutine")
	}
	t.Parallel()
	for _, finds := range []string{"probe", "dial", "edge finder", "pin", "paper"} {
		for _, kind := range []string{"bore", "pin"} {
			for _, to := range []jobs.Point{{X: 120}, {X: -120}, {Y: 90}, {Y: -90}, {X: 110, Y: 20}} {
				p := lidPlan(t, func(j *jobs.Job) {
					j.Fixture.AsMade.Edge = nil
					j.Fixture.AsMade.Bore2 = &jobs.Bore2{At: to}
					j.Fixture.AsMade.Bore.Kind = kind
					j.Setups[0].Finds = finds
					// A touch through paper, or a pin with its play, proves no better.
					if a, ok := map[string]unit.Length{"paper": 0.3, "pin": 0.1}[finds]; ok {
						j.Allowance = a
					}
					j.Machine.Finder = &jobs.EdgeFinder{Dia: 3, Repeat: 0.002}
				})
				for _, tilt := range []float64{0.9e-3, -0.9e-3} {
					for _, sense := range []float64{1, -1} {
						for _, backwards := range []int{0, 1} {
							if kind == "pin" && finds == "pin" || sense < 0 && finds != "dial" {
								continue
							}
							what := fmt.Sprintf("%s %s to %v tilt %+.1e sense %+.0f backwards %d", finds, kind, to, tilt, sense, backwards)
							b := &bare{p: p, turn: tilt, at: [2]float64{-212, -108}, sense: sense, backwards: backwards, spindle: [2]float64{-212.03, -107.98}}
							st, rounds, named := b.squared(t)
							f, ok := st.Fact("skew")
							if !ok {
								t.Errorf("%s: not square after %d rounds, named %v", what, rounds, named)
								continue
							}
							if math.Abs(b.turn) > checks.SkewLimit(p, 3) || math.Abs(f.Value[0]-b.turn) > 2e-6 {
								t.Errorf("%s: the fixture is turned by %.3e, measured %.3e", what, b.turn, f.Value[0])
							}
							if rounds != 1+2*backwards || backwards > 0 && named[1] != "tapped-wrong-way" {
								t.Errorf("%s: %d rounds, named %v", what, rounds, named)
							}
						}
					}
				}
			}
		}
	}
}
