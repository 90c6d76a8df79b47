package clearance

import (
	"math"
	"testing"
)

// desk is 20 clamps, 100 holes and 50 regions on a table of 600 x 400.
func desk(b testing.TB) (*Field, []Clamp, []Sweep, []Outline) {
	rect := func(x, y, w, h float64) Outline {
		o, err := Rectangle(x, y, x+w, y+h)
		if err != nil {
			b.Fatal(err)
		}
		return o
	}
	var clamps []Clamp
	var obs []Obstacle
	var support []Outline
	for i := range 20 {
		x, y := float64(i%10)*60, float64(i/10)*300
		o := Obstacle{"clamp", rect(x, y, 12, 58), 28}
		obs = append(obs, o)
		clamps = append(clamps, Clamp{Obstacle: o, Tip: Point{x + 6, y + 52}})
		support = append(support, rect(x-15, y-60, 30, 180))
	}
	tool, err := NewTool("d", Dims{Dia: 2.4, Flute: 24, Shank: 2.4, Stickout: 28, Holder: 24})
	if err != nil {
		b.Fatal(err)
	}
	var sweeps []Sweep
	add := func(over ...Point) {
		s, err := NewSweep("s", tool, -1, over...)
		if err != nil {
			b.Fatal(err)
		}
		sweeps = append(sweeps, s)
	}
	for i := range 100 {
		add(Point{float64(i%20) * 31, 75 + float64(i/20)*50})
	}
	for i := range 50 {
		x, y := float64(i%10)*58, 90+float64(i/10)*40
		add(Point{x, y}, Point{x + 20, y}, Point{x + 25, y + 10}, Point{x, y + 15})
	}
	f, err := NewField(Usual, obs...)
	if err != nil {
		b.Fatal(err)
	}
	return f, clamps, sweeps, support
}

func BenchmarkDesk(b *testing.B) {
	f, _, sweeps, _ := desk(b)
	b.ReportAllocs()
	for b.Loop() {
		for i := range sweeps {
			f.Sweep(&sweeps[i], Nothing())
		}
	}
}

func BenchmarkMove(b *testing.B) {
	f, clamps, sweeps, support := desk(b)
	others := f.obstacles
	table, err := Rectangle(-100, -100, 700, 500)
	if err != nil {
		b.Fatal(err)
	}
	crowd := append([]Sweep(nil), sweeps...)
	for y := 0.0; y < 400; y += 20 {
		for x := 0.0; x < 600; x += 20 {
			h := sweeps[0]
			h.Over = []Point{{x, y}}
			h.area = h.Over
			crowd = append(crowd, h)
		}
	}
	in := func(p Point) []Sweep {
		h := sweeps[0]
		h.Over = []Point{p}
		h.area = h.Over
		return append(append([]Sweep(nil), sweeps...), h)
	}
	rest := append(append([]Obstacle(nil), others[:7]...), others[8:]...)
	c := clamps[7]
	for _, v := range []struct {
		name   string
		sweeps []Sweep
	}{{"clear", sweeps}, {"end in the way", in(Point{c.Tip.X, c.Tip.Y + 16})}, {"side in the way", in(Point{c.Tip.X + 12, c.Tip.Y - 10})}, {"crowded", crowd}} {
		b.Run(v.name, func(b *testing.B) {
			var s Shift
			b.ReportAllocs()
			for b.Loop() {
				s, _ = c.Move(Usual, v.sweeps, rest, &table, support)
			}
			b.ReportMetric(s.Far, "mm")
		})
	}
}

func BenchmarkProgramLine(b *testing.B) {
	f, _, _, _ := desk(b)
	tool, _ := NewTool("t", Dims{Dia: 3.175, Flute: 10, Shank: 3.175, Stickout: 20, Holder: 24})
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		a := float64(i%1000) / 1000 * 2 * math.Pi
		f.Line(&tool, Point3{300 + 100*math.Cos(a), 200, -1}, Point3{300 + 100*math.Cos(a+0.01), 200.5, -1}, ConflictsOnly())
		i++
	}
}
