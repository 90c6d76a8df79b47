package register

import (
	"math"
	"testing"

	"fliptrue/calc/frame"
	"pgregory.net/rapid"
)

// Where the control turns the program every feature is cut where it stands but for the
// readout's step; where it does not, the worst error is as small as any offset makes it.
func TestPlace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := drawFixture(t)
		fs := []frame.Vec{drawVec(t, "a", 90), drawVec(t, "b", 90), drawVec(t, "c", 90)}
		const step = 1e-6
		o := Place(f, fs, true, -12.3456784, step, 7)
		near(t, "z", o.Z, -12.345678, 1e-12)
		near(t, "dof", o.Dof, 7, 0)
		for _, p := range fs {
			cut := at(chain(shift(o.Place.Offset), turn(float64(o.Place.Rotation))), p)
			near(t, "rotated x", cut.X, stands(f, p).X, step)
			near(t, "rotated y", cut.Y, stands(f, p).Y, step)
		}
		if o.About != (frame.Vec{}) {
			t.Fatalf("exact at %v", o.About)
		}
		o = Place(f, fs, false, 0, step, 7)
		if o.Place.Rotation != 0 {
			t.Fatal("turned")
		}
		worst := func(off frame.Vec) (w float64) { // over the box of the features, on the axis that is worse
			lo, hi := fs[0], fs[0]
			for _, p := range fs {
				lo, hi = frame.Vec{X: min(lo.X, p.X), Y: min(lo.Y, p.Y)}, frame.Vec{X: max(hi.X, p.X), Y: max(hi.Y, p.Y)}
			}
			for _, p := range []frame.Vec{lo, hi, {X: lo.X, Y: hi.Y}, {X: hi.X, Y: lo.Y}} {
				d := stands(f, p).Sub(p).Sub(off)
				w = max(w, math.Abs(d.X), math.Abs(d.Y))
			}
			return w
		}
		best := worst(o.Place.Offset)
		for _, v := range []float64{o.Place.Offset.X, o.Place.Offset.Y} {
			near(t, "rounded", v, math.Round(v*1e6)/1e6, 0)
		}
		if b := o.About.Sub(frame.Middle(fs)); b != (frame.Vec{}) {
			t.Fatalf("exact at %v", o.About)
		}
		for _, d := range []frame.Vec{{X: 1e-3}, {X: -1e-3}, {Y: 1e-3}, {Y: -1e-3}} {
			// moving the offset along the axis that is not the worse one changes nothing to the worse
			if w := worst(o.Place.Offset.Add(d)); w < best-2*step {
				t.Fatalf("worst %g, by %v away %g", best, d, w)
			}
		}
	})
}

// An edge gives the direction and breaks every tie of the skew to the bores; without it two bores give all.
func TestFoundFixture(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := Found{Bore: drawVec(t, "bore", 300), Cov: drawCov(t), Two: true, Scale: 1.0003, Skew: 2e-4}
		v, held := drawVec(t, "v", 50), drawVec(t, "held", 50)
		f := b.Fixture(v, held, nil, 1.5)
		if want := (frame.Fixture{Bore: b.Bore, V: v, Held: held, Skew: 2e-4, Q: 1.0003, Cov: b.Cov}); f != want {
			t.Fatalf("two bores: %+v", f)
		}
		f = b.Fixture(v, held, &Edge{Skew: -3e-4, Variance: 4e-10}, 1.5)
		want := frame.Fixture{Bore: b.Bore, V: v, Held: held, Skew: -3e-4, Q: 1.0003, Cov: b.Cov}
		for _, i := range []int{0, 1, 3} {
			want.Cov[i][2], want.Cov[2][i] = 0, 0
		}
		want.Cov[2][2] = 4e-10
		if f != want {
			t.Fatalf("edge and two bores: %+v, want %+v", f, want)
		}
		b.Two = false
		f = b.Fixture(v, held, &Edge{Skew: -3e-4, Variance: 4e-10}, 1.0001)
		want = frame.Fixture{Bore: b.Bore, V: v, Held: held, Skew: -3e-4, Q: 1.0001}
		want.Cov[0][0], want.Cov[0][1], want.Cov[1][0], want.Cov[1][1], want.Cov[2][2] = b.Cov[0][0], b.Cov[0][1], b.Cov[1][0], b.Cov[1][1], 4e-10
		if f != want {
			t.Fatalf("edge and one bore: %+v, want %+v", f, want)
		}
	})
}

// The spindle over the bore reads, after a preset, where the bore lies in the program.
func TestShown(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := Place(drawFixture(t), []frame.Vec{{X: 84, Y: 54}, {}}, false, -285.6904, 0.001, 5)
		page := o.Shown(false, 14, 0.001)
		near(t, "x", page[0], o.Place.Offset.X, 0)
		near(t, "y", page[1], o.Place.Offset.Y, 0)
		near(t, "z", page[2], -285.690, 1e-12)
		over := o.Shown(true, 14-10, 0.001) // finished top of 14, touched over a block of 10
		near(t, "x over the bore", over[0]+o.Place.Offset.X, o.Fixture.Bore.X, 0.00051)
		near(t, "y over the bore", over[1]+o.Place.Offset.Y, o.Fixture.Bore.Y, 0.00051)
		near(t, "z of the touch", over[2], -4, 1e-12)
		if z := o.Shown(true, 0, 0.001)[2]; math.Signbit(z) {
			t.Fatal("minus zero")
		}
	})
}

func TestRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		step := rapid.SampledFrom([]float64{0.001, 0.0005, 0.01, 0.005, 0.1, 0.00254, 0.0127, 0.0003}).Draw(t, "step")
		v := rapid.Float64Range(-500, 500).Draw(t, "v")
		r := Round(v, step)
		near(t, "away", r, v, step/2*(1+1e-6))
		near(t, "steps", r/step, math.Round(r/step), 1e-6)
		near(t, "again", Round(r, step), r, 0)
	})
	for in, want := range map[float64]float64{0.29999: 0.3, -0.14999: -0.15, 2.675: 2.675, 310.0004: 310} {
		if got := Round(in, 0.001); got != want {
			t.Errorf("%v rounds to %v", in, got)
		}
	}
}

// What a job can be proven to before anything is read.
func TestNominal(t *testing.T) {
	v, held := frame.Vec{X: 45, Y: 20}, frame.Vec{Y: 54}
	s := Setup{Offset: Nominal(v, held, 0.002, 1e-5, 9), In: true, Shift: NominalShift(0.001, 70, 9), Part: Part{Size: [3]float64{84, 54, 14}}, Heat: Heat{Alpha: 70e-6}}
	p := frame.Vec{X: 84, Y: 10}
	k := s.At(Feature{"far", p})
	near(t, "x", k.Error[0], 0, 1e-12)
	near(t, "y", k.Error[1], 0, 1e-12)
	for axis, lever := range []float64{20 + 10, 45 + 84} {
		near(t, "bore", line(t, k.Lines[axis], "bore").Std(), 0.002, 1e-15)
		near(t, "skew", line(t, k.Lines[axis], "skew").Std(), 1e-5*lever, 1e-12)
		line(t, k.Lines[axis], "heat")
		near(t, "dof", line(t, k.Lines[axis], "shift test").Dof, 9, 0)
	}
	// u² of one witness s²(1/2 + 1/2); two of them 70 apart turn by √2·u/70
	near(t, "shift x", line(t, k.Lines[0], "shift test").Std(), 0.001*math.Hypot(1, math.Sqrt2/70*10), 1e-12)
	near(t, "shift y", line(t, k.Lines[1], "shift test").Std(), 0.001*math.Hypot(1, math.Sqrt2/70*84), 1e-12)
	near(t, "of a point", NominalShift(0.001, 0, 9).Cov[2][2], 2e-6, 1e-18)
}
