package kit

import (
	"fmt"

	"fliptrue/calc/fit"
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
)

// Where a second bore is read, it proves the direction. The edge then serves the tap alone: the needle is
// followed by eye until both ends agree, and what it shows with the bolts tight is typed once.

// ByNeedle says that the fixture is brought true like that.
func ByNeedle(p *fold.Plan) bool {
	_, edge := EdgeOf(p)
	return edge && p.Short() && SecondSeen(p)
}

// pressed says that no jog gives the dial's sense: pressed in, its needle rises, or it is turned over. A tap that
// went the wrong way asks for the jog all the same.
func pressed(p *fold.Plan) bool { return ByNeedle(p) && !p.Reads(fold.Irreplaceable) }

// zeroed says that the dial is set to zero at the near end, so that the far end alone is typed.
func zeroed(p *fold.Plan) bool { return ByNeedle(p) && !p.Reads(fold.FirstUse) }

// levered is what a lever up to 30 degrees off makes of a scale of 1, as a share (computed here: 1 to cos 30°, rectangular
// about its middle, and that middle).
const levered = 0.08

// scalePressed is that of a dial whose needle rises as the edge presses its stylus in.
func (b EdgeBearing) scalePressed() fit.Scale {
	faces := map[string]fit.Direction{"front": fit.YMinus, "rear": fit.YPlus, "left": fit.XMinus, "right": fit.XPlus}[b.Edge.Side]
	s := fit.NeedleScale(faces, true, 0, 0)
	s.Rel = levered
	return s
}

// trueUp are the acts before the one run that is typed: after a tap that did not do, only the bolts.
func (b EdgeBearing) trueUp(v fold.View) []fold.Act {
	low, high := Ends(b.P)
	tight := fold.Act{Do: "tighten", Of: "fixture", Words: "Tighten all bolts, alternately. They twist it: run the dial once more."}
	if len(v.Earlier) > 0 {
		return []fold.Act{tight}
	}
	var acts []fold.Act
	if pressed(b.P) {
		acts = append(acts, fold.Act{Do: "fit", Of: "dial", Dir: "rising", Words: "Dial in the spindle, stylus on " + b.Words.Edge + " at the " +
			low + " end. Press it in: the needle must rise, else turn the dial over."})
	}
	st := Stations(b.P)
	sc := b.scalePressed()
	if jogged, ok, err := b.jogged(v); ok && err == nil {
		sc = jogged
	}
	to := b.made() / sc.V
	t := fold.Act{Do: "true", Of: "fixture@" + Place(st[0]) + "," + Place(st[len(st)-1]), Amount: to,
		Words: fmt.Sprintf("Zero it at the %s end, run to the %s end. Tap that end until the needle stands at %s there. Repeat until it does "+
			"untouched.", low, high, b.P.Len(Even(b.P, to, b.P.Job.Machine.Dial.Graduation, b.P.Job.Machine.Dial.Graduation/25.4)))}
	return append(acts, t, tight)
}

// once are the ends as typed, the bolts tight: of a dial that was zeroed at the near one the far one alone.
func (b EdgeBearing) once(v fold.View, asks []fold.Ask) []fold.Ask {
	low, high := Ends(b.P)
	last := &asks[len(asks)-1]
	asks[0].Label, last.Label = low+" end, the bolts tight", high+" end, the bolts tight"
	last.Window.Want, last.Window.Half, last.Window.Why = 0, Even(b.P, 0.2, 0.1, 0.004), "both ends as the needle had them"
	if zeroed(b.P) {
		last.Label = high + " end, zeroed at the " + low + " end, the bolts tight"
		last.What.Dir = "zeroed"
		asks = asks[len(asks)-1:]
	} else if x, ok := v.Num(stationField(0), unit.KLength); ok {
		last.Window.Want = x
	}
	if !v.Standing("seat") { // with the part in nothing is tapped
		asks[0].Do = b.trueUp(v)
	}
	return asks
}

// made is how much farther along + of the axis across the far end stands than the near one, as the edge was made.
func (b EdgeBearing) made() float64 {
	st := Stations(b.P)
	y := b.Edge.Zero * (st[len(st)-1] - st[0])
	if AlongY(b.P) {
		y = -y
	}
	return y
}
