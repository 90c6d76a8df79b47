package register

import (
	"fmt"
	"math"
	"testing"

	"fliptrue/calc/budget"
	"fliptrue/calc/frame"
	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

func names(ls []budget.Line) string {
	out := ""
	for _, l := range ls {
		mark := ""
		if l.Assumed {
			mark = "?"
		}
		out += fmt.Sprintf("%s%s %.4g; ", l.Name, mark, l.Std()*math.Sqrt(3)*1e3)
	}
	return out
}

// Half-widths in µm by hand; a question mark where neither job nor card gave it.
func TestHeatLines(t *testing.T) {
	a := (70e-6 - 11.7e-6) * 1e3 // µm per mm and K
	for _, c := range []struct {
		name string
		h    Heat
		want string
	}{
		{"no expansion known", Heat{Asked: true}, ""},
		{"nobody asks", Heat{Alpha: 70e-6, Known: true, Warmer: 3}, fmt.Sprintf("heat? %.4g; ", a*100*5)},
		{"not measured yet", Heat{Alpha: 70e-6, Asked: true}, fmt.Sprintf("heat? %.4g; ", a*100)},
		{"felt", Heat{Alpha: 70e-6, Asked: true, Known: true, Warmer: -3}, fmt.Sprintf("heat? %.4g; growth by one bore %.4g; ", a*100, a*100*3/2*math.Sqrt(3))},
		{"measured", Heat{Alpha: 70e-6, Asked: true, Known: true, Measured: true, Warmer: 3}, fmt.Sprintf("heat %.4g; growth by one bore %.4g; ", a*100, a*100*3/2*math.Sqrt(3))},
		{"steel", Heat{Alpha: 11.7e-6, Asked: true, Known: true, Measured: true, Warmer: 3}, "heat 0; growth by one bore 0; "},
	} {
		for _, reach := range []float64{100, -100} {
			if got := names(c.h.lines(reach)); got != c.want {
				t.Errorf("%s: %q, want %q", c.name, got, c.want)
			}
		}
	}
	// From the bore to where the walls hold the part, each axis for itself, and only where one bore leaves it open.
	o := Offset{Fixture: frame.Fixture{V: frame.Vec{X: 45, Y: 20}, Held: frame.Vec{X: 5, Y: 54}, Q: 1, Cov: frame.Independent(1, 1, 0, 0)}}
	h := Heat{Alpha: 70e-6, Asked: true, Known: true, Measured: true}
	for axis, reach := range []float64{50, 74} {
		near(t, "reach", line(t, o.lines(Machine{}, h, frame.Vec{X: 1e3, Y: 1e3}, axis), "heat").Value*1e3, a*reach, 1e-9)
	}
}

func TestPartLines(t *testing.T) {
	m := Machine{LostMotion: 0.004, Squareness: 2e-4}
	edges := &[2][2]float64{{1e-6, 0}, {0, 4e-6}}
	s3 := math.Sqrt(3)
	for _, c := range []struct {
		name string
		p    Part
		axis int
		want string
	}{
		{"all assumed, floating", Part{Floating: true, Against: []frame.Wall{frame.Left, frame.Away}, Clearance: 0.03}, 0, "side-1 pickup? 5; machine, side 1 4; cutter? 6; clearance 30; "},
		{"one wall", Part{Against: []frame.Wall{frame.Left}, Clearance: 0.03}, 0, "side-1 pickup? 5; machine, side 1 4; cutter? 6; clearance 30; "},
		{"two walls", Part{Against: []frame.Wall{frame.Left, frame.Away}, Clearance: 0.03}, 1, "side-1 pickup? 5; machine, side 1 4; cutter? 6; wall contact? 5; "},
		{"pickup given", Part{Pickup: Pickup{Half: 0.002, Given: true, Source: "a card"}, Floating: true}, 0, "side-1 pickup 2; machine, side 1 4; cutter? 6; clearance 0; "},
		{"given without a number", Part{Pickup: Pickup{Given: true}, Floating: true}, 0, "side-1 pickup 5; machine, side 1 4; cutter? 6; clearance 0; "},
		{"pickup measured", Part{Pickup: Pickup{Half: 0.002, Given: true, Cov: edges}, Floating: true}, 1, fmt.Sprintf("side-1 pickup %.4g; machine, side 1 4; cutter? 6; clearance 0; ", 2*s3)},
		{"wood and width", Part{Size: [3]float64{84, 54, 14}, Against: []frame.Wall{frame.Left, frame.Away}, Alpha: 40e-6, Moves: WoodMoves(false), WidthU: [2]float64{0.002, 0.004}}, 0,
			fmt.Sprintf("side-1 pickup? 5; machine, side 1 4; cutter? 6; part heat? %.4g; moisture? %.4g; wall contact? 5; size of side 1 %.4g; ", 28.3e-3*30, 0.7*30, 1*s3)},
		{"from the far wall", Part{Size: [3]float64{84, 54, 14}, Against: []frame.Wall{frame.Left, frame.Away}, Alpha: 40e-6, Moves: WoodMoves(true), WidthU: [2]float64{0.002, 0.004}}, 1,
			fmt.Sprintf("side-1 pickup? 5; machine, side 1 4; cutter? 6; part heat? %.4g; moisture? %.4g; wall contact? 5; size of side 1 %.4g; ", 28.3e-3*44, 0.14*44, 2*s3)},
		{"floating keeps its width", Part{Size: [3]float64{84, 54, 14}, Floating: true, WidthU: [2]float64{0.002, 0.004}, Alpha: 5e-6}, 1,
			fmt.Sprintf("side-1 pickup? 5; machine, side 1 4; cutter? 6; part heat? %.4g; clearance 0; ", 6.7e-3*17)},
	} {
		if got := names(c.p.lines(m, frame.Vec{X: 30, Y: 10}, c.axis)); got != c.want {
			t.Errorf("%s:\n%q, want\n%q", c.name, got, c.want)
		}
	}
	if l := (Pickup{Half: 0.002, Given: true, Source: "a card"}).line(0); l.Source != "a card" {
		t.Errorf("source %q", l.Source)
	}
	near(t, "dof", Pickup{Cov: edges}.line(0).Dof, 50, 0)
}

// Squareness counts along X only, from the part's middle line, twice.
func TestSquareness(t *testing.T) {
	for _, y := range []float64{-10, 0, 27, 54} {
		s := Setup{Machine: Machine{Squareness: 2e-4}, Part: Part{Size: [3]float64{84, 54, 14}}, Offset: Offset{Fixture: frame.Fixture{Q: 1}}}
		l := line(t, s.lines(frame.Vec{X: 3, Y: y}, 0), "squareness")
		near(t, "half-width", l.Value, 2*2e-4*math.Abs(y-27), 1e-15)
		s.Machine.Squareness = -2e-4 // as a test square may say
		near(t, "of the other sign", line(t, s.lines(frame.Vec{X: 3, Y: y}, 0), "squareness").Std(), l.Std(), 0)
		if !l.Assumed {
			t.Error("not marked as assumed")
		}
		s.Machine.SquareMeasured = true
		if line(t, s.lines(frame.Vec{}, 0), "squareness").Assumed {
			t.Error("marked as assumed")
		}
		none(t, s.lines(frame.Vec{}, 1), "squareness")
	}
}

// The spindle's axis seen from the part before and after the flip, as rotation matrices.
func TestKinkByRotation(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tilt := [2]float64{rapid.Float64Range(-1e-3, 1e-3).Draw(t, "x"), rapid.Float64Range(-1e-3, 1e-3).Draw(t, "y")}
		h := rapid.Float64Range(1, 40).Draw(t, "h")
		for _, flipX := range []bool{true, false} {
			r := mat.NewDense(3, 3, []float64{1, 0, 0, 0, -1, 0, 0, 0, -1})
			if !flipX {
				r = mat.NewDense(3, 3, []float64{-1, 0, 0, 0, 1, 0, 0, 0, -1})
			}
			var after mat.VecDense
			after.MulVec(r, mat.NewVecDense(3, []float64{tilt[0], tilt[1], 1}))
			for axis := range 2 {
				want := math.Abs(tilt[axis]-after.AtVec(axis)/after.AtVec(2)) * h
				near(t, "kink", Lean{tilt, flipX}.Kink(h, axis), want, 1e-12)
			}
		}
	})
}

// At the limit the farthest feature is off by what the guard leaves of the share, never more.
func TestSkewLimit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		allowance, guard := rapid.Float64Range(0.01, 0.2).Draw(t, "T"), rapid.Float64Range(0, 0.1).Draw(t, "g")
		reach := rapid.Float64Range(0, 300).Draw(t, "reach")
		most := SkewCap(allowance, reach)
		l := SkewLimit(allowance, guard, reach, most)
		far := math.Max(reach, 1)
		near(t, "cap", most*far, 0.2*allowance, 1e-12)
		if l > math.Max(most, 1e-6) || l < 1e-6 {
			t.Fatalf("limit %g, cap %g", l, most)
		}
		if l > 1e-6 && l*far+guard > 0.5*allowance*(1+1e-12) {
			t.Fatalf("skew of %g and guard take %g of %g", l, l*far+guard, allowance)
		}
		if left := (allowance/2 - guard) / far; left < most && left > 1e-6 {
			near(t, "what is left", l, left, 1e-15)
		}
	})
}

// An outline larger than drawn on both of its sides, moved until it touches the wall that the drawn one touches.
func TestOutlineAgainstWalls(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := 84.0, 54.0
		b := [2]float64{rapid.Float64Range(-0.1, 0.1).Draw(t, "bx"), rapid.Float64Range(-0.1, 0.1).Draw(t, "by")}
		lo, hi := frame.Vec{X: -b[0] / 2, Y: -b[1] / 2}, frame.Vec{X: w + b[0]/2, Y: h + b[1]/2}
		for _, wx := range []frame.Wall{frame.Left, frame.Right} {
			for _, wy := range []frame.Wall{frame.Toward, frame.Away} {
				p := Part{Size: [3]float64{w, h, 10}, Against: []frame.Wall{wx, wy}, Beyond: b}
				want, held := frame.Vec{X: -lo.X, Y: -lo.Y}, frame.Vec{}
				if wx == frame.Right {
					want.X, held.X = w-hi.X, w
				}
				if wy == frame.Away {
					want.Y, held.Y = h-hi.Y, h
				}
				got := p.Outline()
				near(t, "x", got.X, want.X, 1e-12)
				near(t, "y", got.Y, want.Y, 1e-12)
				if p.Held() != held {
					t.Fatalf("held at %v, want %v", p.Held(), held)
				}
				p.Floating = true
				if p.Outline() != (frame.Vec{}) || p.Held() != (frame.Vec{X: w / 2, Y: h / 2}) {
					t.Fatal("a floating part is held")
				}
			}
		}
		p := Part{Size: [3]float64{w, h, 10}, Against: []frame.Wall{frame.Right}, Beyond: b}
		if p.Outline() != (frame.Vec{}) || p.Held() != (frame.Vec{X: w, Y: h / 2}) {
			t.Fatal("one wall")
		}
	})
}

func TestWorst(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := func(name string, lo float64) float64 { return rapid.Float64Range(lo, 1).Draw(t, name) }
		var ks []Known
		most, guards := math.Inf(-1), 0.0
		for range rapid.IntRange(1, 5).Draw(t, "n") {
			k := Known{Error: [2]float64{r("ex", -1), r("ey", -1)}, Kink: [2]float64{r("kx", 0), r("ky", 0)}, Guard: [2]float64{r("gx", 0), r("gy", 0)}}
			for a := range 2 {
				most = math.Max(most, math.Abs(k.Error[a])+k.Kink[a]+k.Guard[a])
				guards = math.Max(guards, k.Guard[a])
			}
			ks = append(ks, k)
		}
		i, a, v, g := Worst(ks)
		near(t, "sum", v+g, most, 1e-15)
		near(t, "value", v, math.Abs(ks[i].Error[a])+ks[i].Kink[a], 0)
		near(t, "guard", g, ks[i].Guard[a], 0)
		near(t, "largest guard", LargestGuard(ks), guards, 0)
	})
	if _, _, v, g := Worst(nil); v != 0 || g != 0 || LargestGuard(nil) != 0 {
		t.Error("without features")
	}
	near(t, "reach", Reach([]frame.Vec{{X: -30, Y: 40}, {X: 3}}, frame.Vec{X: 84, Y: 54}), 50, 1e-12)
	near(t, "reach of none", Reach(nil, frame.Vec{X: 30, Y: 40}), 50, 1e-12)
	area := 0.0 // the corners in order, counter-clockwise
	cs := Corners(frame.Vec{X: 84, Y: 54})
	for i, c := range cs {
		area += c.At.Cross(cs[(i+1)%4].At) / 2
	}
	near(t, "area", area, 84*54, 1e-9)
	if cs[0].At != (frame.Vec{}) || cs[2].At != (frame.Vec{X: 84, Y: 54}) || cs[2].Name != "far right corner" || cs[1].Name != "near right corner" {
		t.Errorf("corners %v", cs)
	}
}
