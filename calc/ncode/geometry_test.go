package ncode

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"fliptrue/calc/clearance"
)

func dist(a, b [3]float64) float64 {
	return math.Sqrt((a[0]-b[0])*(a[0]-b[0]) + (a[1]-b[1])*(a[1]-b[1]) + (a[2]-b[2])*(a[2]-b[2]))
}

// randomArc is a line of G-code for an arc in a plane, in both forms, with its true geometry.
func randomArc(rng *rand.Rand) (plane Plane, start, end, centre [3]float64, cw bool, sweep, radius float64) {
	plane = Plane(rng.IntN(3))
	a, b, n := plane.Axes()
	for i := range centre {
		centre[i] = rng.Float64()*100 - 50
	}
	radius = 0.5 + rng.Float64()*40
	cw = rng.IntN(2) == 0
	sweep = 0.05 + rng.Float64()*(2*math.Pi-0.1)
	if cw {
		sweep = -sweep
	}
	at := rng.Float64() * 2 * math.Pi
	start, end = centre, centre
	start[a], start[b] = centre[a]+radius*math.Cos(at), centre[b]+radius*math.Sin(at)
	end[a], end[b] = centre[a]+radius*math.Cos(at+sweep), centre[b]+radius*math.Sin(at+sweep)
	end[n] = rng.Float64()*20 - 10
	centre[n] = start[n]
	return
}

// An arc must come out with the centre, sweep and box it was made from, whichever form
// it is written in; the box is held against points along it.
func TestArcs(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	for round := range 800 {
		plane, start, end, centre, cw, sweep, radius := randomArc(rng)
		a, b, n := plane.Axes()
		g := 3
		if cw {
			g = 2
		}
		text := head + fmt.Sprintf("%v G0 Z%.9f\nX%.9f Y%.9f\nG%d X%.9f Y%.9f Z%.9f", plane, start[2], start[0], start[1], g, end[0], end[1], end[2])
		byR := round%2 == 0
		if byR {
			r := radius
			if math.Abs(sweep) > math.Pi {
				r = -r
			}
			text += fmt.Sprintf(" R%.9f", r)
		} else {
			text += fmt.Sprintf(" %c%.9f %c%.9f", 'I'+a, centre[a]-start[a], 'I'+b, centre[b]-start[b])
		}
		s, ms := walkText(t, text+"\nM2\n", Options{})
		if s.Verdict() >= Refused {
			t.Fatalf("round %d: %v\n%s", round, s.Findings, text)
		}
		m := ms[len(ms)-1]
		tol := 1e-6
		if byR {
			// Near a half turn the radius says little about the centre: an error e of the
			// radius moves it by about sqrt(2 r e), here with nine decimals.
			tol = 2 * math.Sqrt(2*radius*1e-8)
		}
		if dist(m.Centre, centre) > tol || math.Abs(m.Sweep-sweep) > 2*tol/radius || math.Abs(m.Radius-radius) > tol {
			t.Fatalf("round %d: centre %v sweep %v radius %v, want %v %v %v\n%s", round, m.Centre, m.Sweep, m.Radius, centre, sweep, radius, text)
		}
		lo, hi := m.Bounds()
		slo, shi := m.From, m.From
		const steps = 500
		for i := range steps + 1 {
			p := m.At(float64(i) / steps)
			if math.Abs(math.Hypot(p[a]-m.Centre[a], p[b]-m.Centre[b])-m.Radius) > 1e-8 {
				t.Fatalf("round %d: not on the arc at %d", round, i)
			}
			for k := range 3 {
				slo[k], shi[k] = min(slo[k], p[k]), max(shi[k], p[k])
			}
		}
		// Between two points an extreme lies at most r (step/2)^2/2 beyond them.
		slop := radius*math.Pow(2*math.Pi/steps, 2)/8 + 1e-8
		for k := range 3 {
			if lo[k] > slo[k]+1e-9 || hi[k] < shi[k]-1e-9 || lo[k] < slo[k]-slop || hi[k] > shi[k]+slop {
				t.Fatalf("round %d, axis %d: box %v %v, sampled %v %v", round, k, lo, hi, slo, shi)
			}
		}
		if p := m.At(0.5); math.Abs(p[n]-(start[n]+end[n])/2) > 1e-8 {
			t.Fatalf("round %d: helix at half way %v", round, p)
		}
	}
}

// The tolerance of 3.5.3.2 (verified copy): 0.002 mm, 0.0002 in.
func TestArcTolerance(t *testing.T) {
	for _, c := range []struct {
		line string
		ok   bool
	}{
		{"G2 X10.002 Y0 I5 J0", true}, {"G2 X10.0021 Y0 I5 J0", false},
		{"G20 G2 X1.0002 Y0 I.5 J0", true}, {"G20 G2 X1.00021 Y0 I.5 J0", false},
	} {
		s, _ := walkText(t, head+c.line+"\nM2\n", Options{})
		if (s.Verdict() < Refused) != c.ok {
			t.Errorf("%q: %v", c.line, s.Findings)
		}
	}
}

// The box in M, through offset and rotation, against points along the moves.
func TestMachineBox(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	for round := range 100 {
		text := head
		for range 12 {
			x, y, z := rng.Float64()*100-50, rng.Float64()*100-50, rng.Float64()*20-10
			switch rng.IntN(3) {
			case 0:
				text += fmt.Sprintf("G0 X%.4f Y%.4f Z%.4f\n", x, y, z)
			case 1:
				text += fmt.Sprintf("G1 X%.4f Y%.4f Z%.4f\n", x, y, z)
			default:
				text += fmt.Sprintf("G%d X%.4f Y%.4f R%.4f\n", 2+rng.IntN(2), x, y, 200.0*float64(1-2*rng.IntN(2)))
			}
		}
		pl := &Placement{Offset: [3]float64{-200, -100, -250}, Rotation: rng.Float64()*0.6 - 0.3}
		if round%5 == 0 {
			pl.Rotation = 0
		}
		ex := Expect{System: 1, Placed: pl, Tools: map[int]Tool{1: {Length: 70}}}
		s, ms := walkText(t, text+"M2\n", Options{Expect: ex})
		if s.Verdict() >= Refused {
			t.Fatal(s.Findings)
		}
		lo := [3]float64{math.Inf(1), math.Inf(1), math.Inf(1)}
		hi := [3]float64{math.Inf(-1), math.Inf(-1), math.Inf(-1)}
		for i := range ms {
			if ms[i].Known != 7 {
				continue
			}
			for k := range 801 {
				p := ms[i].At(float64(k) / 800)
				c, sn := math.Cos(pl.Rotation), math.Sin(pl.Rotation)
				q := [3]float64{pl.Offset[0] + c*p[0] - sn*p[1], pl.Offset[1] + sn*p[0] + c*p[1], pl.Offset[2] + p[2]}
				for j := range 3 {
					lo[j], hi[j] = min(lo[j], q[j]), max(hi[j], q[j])
				}
			}
		}
		slop := 200*math.Pow(2*math.Pi/800, 2)/8 + 1e-6
		for j := range 3 {
			// No G43: the length is not in force, so Z is the offset's alone.
			if b := s.Machine; b.Min[j] > lo[j]+1e-9 || b.Max[j] < hi[j]-1e-9 || b.Min[j] < lo[j]-slop || b.Max[j] > hi[j]+slop {
				t.Fatalf("round %d axis %d: %v to %v, sampled %v to %v", round, j, b.Min[j], b.Max[j], lo[j], hi[j])
			}
		}
	}
}

// The nearest approach to each obstacle against points along every move: no sampled
// point may be nearer, and the nearest sampled one must be close to what is reported.
func TestClearanceSampled(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	tool, err := clearance.NewTool("stepped", clearance.Dims{Dia: 3, Flute: 8, Shank: 6, Stickout: 20, Holder: 24})
	if err != nil {
		t.Fatal(err)
	}
	m := clearance.Margins{XY: 2, Z: 1.5}
	for round := range 12 {
		var obs []clearance.Obstacle
		for i := range 5 {
			c, r, turn := clearance.Point{X: rng.Float64()*160 - 80, Y: rng.Float64()*160 - 80}, 4+rng.Float64()*10, rng.Float64()*7
			var pts []clearance.Point
			for k := range 3 + rng.IntN(4) {
				pts = append(pts, clearance.Point{X: c.X + r*math.Cos(turn+float64(k)), Y: c.Y + r*math.Sin(turn+float64(k))})
			}
			o, err := clearance.NewOutline(pts)
			if err != nil {
				t.Fatal(err)
			}
			obs = append(obs, clearance.Obstacle{Name: fmt.Sprint(i), Outline: o, Top: rng.Float64()*30 - 10})
		}
		text := "G21 G17 G90 G54 T1 M6\nS1 M3 F100\nG0 Z60\nX0 Y0\nG1 Z0\n"
		for range 60 {
			x, y, z := rng.Float64()*160-80, rng.Float64()*160-80, rng.Float64()*30-10
			switch rng.IntN(12) {
			case 0:
				text += fmt.Sprintf("G0 X%.4f Y%.4f Z%.4f\n", x, y, z)
			case 1:
				text += fmt.Sprintf("G3 X%.4f Y%.4f Z%.4f R%.4f\n", x, y, z, 300.0*float64(1-2*rng.IntN(2)))
			case 2:
				text += fmt.Sprintf("G18 G2 X%.4f Z%.4f R300\nG17\n", x, z)
			default:
				text += fmt.Sprintf("G1 X%.4f Y%.4f Z%.4f\n", x, y, z)
			}
		}
		var rec recorder
		sink, err := NewClearance(m, obs, map[int]clearance.Tool{1: tool}, &rec)
		if err != nil {
			t.Fatal(err)
		}
		s := walkTo(t, text+"M2\n", Options{}, sink)
		if s.Verdict() >= Refused {
			t.Fatal(s.Findings)
		}
		if len(rec.moves) < 60 {
			t.Fatalf("%d moves handed on", len(rec.moves))
		}
		for i, n := range sink.Nearest() {
			want, slop := math.Inf(1), 0.0
			for k := range rec.moves {
				mv := &rec.moves[k]
				if mv.Known != 7 {
					continue
				}
				w, sl := sampledSlack(mv, &obs[i], &tool, m)
				if w < want {
					want, slop = w, sl
				}
			}
			if !n.Below {
				if want < math.Inf(1) {
					t.Errorf("round %d, obstacle %d: never below, sampled slack %v", round, i, want)
				}
				continue
			}
			got := n.Gap - n.Needed
			if got > want+1e-9 || got < want-slop-2*sagitta {
				t.Errorf("round %d, obstacle %d: slack %.5f, sampled %.5f (steps %.4f), line %d", round, i, got, want, slop, n.Line)
			}
			if (n.First != 0) != (got < -1e-6) {
				t.Errorf("round %d, obstacle %d: slack %v, first line %d", round, i, got, n.First)
			}
		}
	}
}

// sampledSlack is the least gap beyond what is needed at points along the move, and how
// much lower it may be between them.
func sampledSlack(mv *Move, o *clearance.Obstacle, tool *clearance.Tool, m clearance.Margins) (least, slop float64) {
	least = math.Inf(1)
	slack := func(p [3]float64) {
		d := o.Outline.Distance(clearance.Point{X: p[0], Y: p[1]})
		for _, c := range tool.Parts() {
			if p[2]+c.From < o.Top+m.Z {
				least = min(least, d-c.R-m.XY)
			}
		}
	}
	if mv.Kind == Rapid {
		// Anywhere in the box it spans, at its lowest.
		lo, hi := mv.Bounds()
		for i := range 31 {
			for k := range 31 {
				slack([3]float64{lo[0] + (hi[0]-lo[0])*float64(i)/30, lo[1] + (hi[1]-lo[1])*float64(k)/30, lo[2]})
			}
		}
		return least, max(hi[0]-lo[0], hi[1]-lo[1])/30 + 1e-9
	}
	const steps = 1000
	for i := range steps + 1 {
		slack(mv.At(float64(i) / steps))
	}
	length := dist(mv.From, mv.To)
	if mv.Arc() {
		length = math.Abs(mv.Sweep)*mv.Radius + 40
	}
	// A cylinder may come below the top between two points.
	return least, 2*length/steps + 1e-9
}

// Numbers of the strap example: clamp x 95-115, y 20-40, top 12; tool 3.175 at z -1 from
// (60, 30) to (92, 30); margins 2 and 2. Computed here: the gap is 95 - 92 - 1.5875.
func TestClampExample(t *testing.T) {
	o, err := clearance.Rectangle(95, 20, 115, 40)
	if err != nil {
		t.Fatal(err)
	}
	text := "G21 G17 G90 G54 T3 M6\nS1 M3 F100\nG0 Z40\nX60 Y30\nG1 Z-1\nX92\nG0 Z40\nM2\n"
	for _, c := range []struct {
		stickout   float64
		part       string
		gap, short float64
	}{
		{20, "tool", 1.4125, 0.5875}, // the holder's bottom at 19 passes over 12 + 2
		{12, "holder", 3 - 12, 11},   // at 11 it does not
	} {
		tool, err := clearance.NewTool("flat", clearance.Dims{Dia: 3.175, Flute: 10, Shank: 3.175, Stickout: c.stickout, Holder: 24})
		if err != nil {
			t.Fatal(err)
		}
		sink, err := NewClearance(clearance.Usual, []clearance.Obstacle{{Name: "right clamp", Outline: o, Top: 12}}, map[int]clearance.Tool{3: tool}, nil)
		if err != nil {
			t.Fatal(err)
		}
		walkTo(t, text, Options{}, sink)
		n := sink.Nearest()[0]
		if n.Part != c.part || math.Abs(n.Gap-c.gap) > 1e-9 || math.Abs(n.Needed-n.Gap-c.short) > 1e-9 || n.Line != 6 || n.First == 0 {
			t.Errorf("stick-out %v: %+v", c.stickout, n)
		}
		if f := sink.Findings(); len(f) != 1 || f[0].Severity != Fail || f[0].Line != 6 {
			t.Errorf("stick-out %v: %v", c.stickout, f)
		}
	}
}

// What stands clear is reported too, and what is not known is not proven.
func TestClearanceSays(t *testing.T) {
	o, err := clearance.Rectangle(95, 20, 115, 40)
	if err != nil {
		t.Fatal(err)
	}
	tool, err := clearance.NewTool("flat", clearance.Dims{Dia: 4, Flute: 10, Shank: 4, Stickout: 30})
	if err != nil {
		t.Fatal(err)
	}
	up := strings.Replace(head, "Z10", "Z40", 1)
	for _, c := range []struct {
		name, text, id string
		gap            float64
	}{
		{"clear", up + "G1 X60 Y30\nZ0\nX80\nG0 Z40\nM2\n", "", 13},
		{"no such tool", up + "T9 M6\nS1 M3\nG1 X60 Y30 Z0\nM2\n", "clearance-tool", 0},
		{"height not known", "G21 G90 G17 G54 T1 M6\nG0 X0 Y30\nG0 Z5\nX80\nM2\n", "clearance-start", 13},
		{"with compensation", up + "G1 X60 Y30 Z0\nG41 D1 X80\nG40 G0 Z40\nM2\n", "", 13},
		{"compensated into it", up + "G1 X60 Y30 Z0\nG41 D1 X89.5\nG40 G0 Z40\nM2\n", "clearance", 3.5},
		{"the rapid's box", "G21 G90 G17 G54 T1 M6\nG0 Z5\nX90 Y0\nX119 Y19 Z20\nM2\n", "clearance-start", -1},
	} {
		sink, err := NewClearance(clearance.Usual, []clearance.Obstacle{{Name: "right clamp", Outline: o, Top: 12}}, map[int]clearance.Tool{1: tool}, nil)
		if err != nil {
			t.Fatal(err)
		}
		walkTo(t, c.text, Options{}, sink)
		n, fs := sink.Nearest()[0], sink.Findings()
		if n.Below != (c.gap != 0) || math.Abs(n.Gap-c.gap) > 1e-9 {
			t.Errorf("%s: %+v", c.name, n)
		}
		if c.id == "" && len(fs) > 0 || c.id != "" && (len(fs) == 0 || fs[0].ID != c.id) {
			t.Errorf("%s: %v", c.name, fs)
		}
	}
}
