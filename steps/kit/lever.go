package kit

import (
	"fmt"
	"math"

	"fliptrue/calc/fit"
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
)

// A jog test whose needle moves by more or less than the jog says that the lever stands at an
// angle, or that the jog was not whole, or on the wrong axis. The angle is asked, by eye; what it
// does not explain is no scale: skew and tap would be wrong in the same share, without a word.

// leverAsk asks the angle of a dial's stylus to what it touches.
func leverAsk(field, of string) fold.Ask {
	half := 40 * math.Pi / 180
	return fold.Ask{Field: field, Since: SinceLever, Label: "angle of the stylus to the surface, by eye", Kind: fold.Reading,
		Unit: unit.KAngle,
		What: fold.What{By: "eye", Of: "dial", Dir: "lever"}, Window: Around(half, half+1e-9, "a stylus that reads"),
		Do: []fold.Act{{Do: "look", Of: of,
			Words: "The needle moved by more or less than the jog. Look along the stylus: at what angle does it " +
				"lie to the surface?"}}}
}

// angleAt is what the person said of the stylus in a round.
func angleAt(v fold.View, field string) fit.Value {
	if a, ok := v.Num(field, unit.KAngle); ok {
		return fit.Known(a)
	}
	return fit.Value{}
}

// LeverAsks are the ask of the angle where the scale of a jog test wants one, none where it does not.
func LeverAsks(v fold.View, sc fit.Scale, field, of string) []fold.Ask {
	if !v.Walks(3) || sc.V == 0 || !sc.Questioned(fit.Value{}, 0) {
		return nil
	}
	return []fold.Ask{leverAsk(field, of)}
}

// Unexplained is an error while the angle said does not explain the scale; nil before it was said. Jog is the travel.
func Unexplained(p *fold.Plan, v fold.View, sc fit.Scale, field string, jog float64) error {
	if len(LeverAsks(v, sc, field, "")) == 0 {
		return nil
	}
	angle := angleAt(v, field)
	if !angle.Has || !sc.Questioned(angle, 0) {
		return nil
	}
	least, most := fit.NeedleMoves(jog, angle, 0)
	return fmt.Errorf("the needle moved by %s for a jog of %s, and a stylus at %.0f deg moves it by %s to %s; was the jog whole, on the "+
		"right axis, the stylus touching",
		p.Len(math.Abs(jog/sc.V)), p.Len(math.Abs(jog)), angle.V*180/math.Pi, p.Len(least), p.Len(math.Min(most, 9*math.Abs(jog))))
}
