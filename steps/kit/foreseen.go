package kit

import (
	"fliptrue/calc/frame"
	"fliptrue/calc/pickup"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
)

// Where a reading is expected by what is known by then. All of it looks at facts by Perhaps: a step that wants a prediction
// lists them as IfThere, and one that does not has none.

// Half-widths of predictions, mm (estimates; a step of one on the keypad is outside each).
const (
	FoundAgain = 0.5 // a thing that was found before, the fixture not let go since
	Across     = 0.5 // the other side of a thing of known size: an eyeballed middle shortens its chord by as much
	OverFloor  = 0.5 // a face whose height over the floor is known
	Refitted   = 3   // the same by a probe that was taken out and put back since
	UnderOne   = 0.9 // what is met by eye: a digit typed wrong makes a whole millimetre
)

// unsquared is how far a fixture may lie turned that is not squared yet, rad: about a degree (estimate).
const unsquared = 0.02

// Closer is the prediction that says more.
func Closer(a, b *fold.Window) *fold.Window {
	if a == nil || b != nil && b.Half < a.Half {
		return b
	}
	return a
}

// Touched is the prediction of a touch, the ball's radius among its slips.
func Touched(p *fold.Plan, v fold.View, want, half float64, why string) *fold.Window {
	w := Around(want, half, why)
	w.Slips = unit.SlipContext{TipRadius: FaceRadius(p, v)}
	return w
}

// FloorOf is a floor as calc has it.
func FloorOf(f facts.FloorFact) pickup.Floor {
	return pickup.Floor{Z: float64(f.Z), TiltX: float64(f.TiltX), TiltY: float64(f.TiltY), Rim: float64(f.Rim), Block: float64(f.Block)}
}

// RimWas is the rim's height at one of its points, as an offset, by the floor fact, with the block that lies under the
// tool at each touch.
func RimWas(p *fold.Plan, f facts.FloorFact, q jobs.Point) float64 {
	r := Rim(p)
	return FloorOf(f).RimAt(frame.Vec{X: q.X, Y: q.Y}, frame.Vec{X: (r[0].X + r[1].X) / 2, Y: (r[0].Y + r[1].Y) / 2})
}

// RimNow is where a touch of the rim is expected, machine Z: where it was when the floor was read; else where the axis can be.
func RimNow(p *fold.Plan, v fold.View, q jobs.Point, half float64) *fold.Window {
	f, ok1 := facts.Floor.Perhaps(v)
	l, ok2 := facts.Length.Of(ZDatum(p).Thing()).Perhaps(v)
	if !ok1 || !ok2 || f.Rim == 0 {
		return TravelWindow(p, "z")
	}
	return Touched(p, v, RimWas(p, f, q)+float64(l.L), half, "the rim as before")
}

// TopNow is where a touch of the seated part's top is expected, machine Z.
func TopNow(p *fold.Plan, v fold.View) (z float64, ok bool) {
	f, ok1 := facts.Floor.Perhaps(v)
	l, ok2 := facts.Length.Of(ZDatum(p).Thing()).Perhaps(v)
	s, _ := facts.Seat.Perhaps(v)
	z = float64(f.Z) + float64(f.Block) + float64(l.L)
	if s.DZ != 0 {
		return z + float64(s.DZ), ok1 && ok2
	}
	return z + ThicknessNow(p, v), ok1 && ok2
}

// ZeroNow is where the part's zero is expected, machine X and Y: as the offset has it, else by the bore and the card.
func ZeroNow(p *fold.Plan, v fold.View) (at frame.Vec, ok bool) {
	if f, ok := facts.Offset.Perhaps(v); ok {
		return frame.Vec{X: float64(f.X), Y: float64(f.Y)}, true
	}
	b, ok := facts.Bore.Perhaps(v)
	z, _ := PartZero(p)
	if s, has := facts.Skew.Perhaps(v); has {
		z = z.Turned(float64(s.Theta))
	}
	return frame.Vec{X: float64(b.X), Y: float64(b.Y)}.Add(z), ok
}
