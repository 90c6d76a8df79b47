package dowel

import (
	"math"
	"strings"

	calc "fliptrue/calc/dowel"
	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

const yes, no = "yes", "no"

// side is where the part is pushed to, "" where it is not.
func side(p *fold.Plan) string {
	if s := strings.ToUpper(p.Setup.Dowels.Push); s != "TOWARD" {
		return s
	}
	return "TOWARD YOU"
}

// lies is a part on its two pins.
func lies(p *fold.Plan) kit.Lies {
	l := kit.Lies{
		Drop: "Lower it level over both pins; let it fall on by its own weight.", Onto: "its pins",
		Why:     "On a chip it is cut tilted. Pressed onto its pins it is cut bowed.",
		Act:     "Lower the part onto its pins, rock it, touch its top at four places.",
		Caution: " A part held askew splits along its grain. Never knock it on or off.",
		Needs:   fold.Needs(facts.Pins.Live(), facts.Reamed.Live()), Makes: []fold.FactID{facts.Located.ID},
	}
	if side(p) != "" {
		l.Onto = "its pins, pushed " + side(p)
	}
	l.Asks = func(fold.View) []fold.Ask {
		asks := []fold.Ask{{Field: "falls", Label: "it fell onto both pins by its own weight", Kind: fold.Choice, Options: []string{yes, no},
			What: fold.What{By: "eye", Of: "part", Dir: "falls"}, Want: yes,
			WantWhy: "It jams: pressed down it lies bowed.",
			Hint:    "Lift it off evenly. Look for a chip in a hole; let it cool. Then seat it again."}}
		if side(p) == "" {
			return asks
		}
		return append(asks, fold.Ask{Field: "pushed", Label: "pushed " + side(p) + " until both pins bear", Kind: fold.Choice,
			Options: []string{yes, no}, What: fold.What{By: "eye", Of: "part", Dir: "pushed"}, Want: yes,
			WantWhy: "Not pushed, it lies anywhere in its play.", Hint: "Push it " + side(p) +
				" at both ends, by thumb or spring, and keep it there.",
			Do: []fold.Act{{Do: "push", Of: "part", Dir: p.Setup.Dowels.Push, Words: "Push the part " + side(p) +
				" at both ends, by thumb or spring; it stays pushed until it is held."}}})
	}
	l.Judge = func(v fold.View, o *fold.Outcome) {
		h, ok1 := facts.Reamed.In(v)
		n, ok2 := facts.Pins.In(v)
		if !ok1 || !ok2 {
			return
		}
		if fold.SameAnswer(v.Text("falls"), no) {
			o.Named = "part-jams"
			o.Next = append(o.Next, fold.Act{Do: "wait", Of: "part", Words: "Lift it off evenly; wipe holes and pins; let part and fixture become " +
				"equally warm."}, fold.Act{Do: "seat", Of: "part"}, fold.Act{Do: "round"})
		} else if fold.SameAnswer(v.Text("pushed"), no) && len(o.Next) == 0 {
			o.Named = "pins-not-pushed"
			o.Next = append(o.Next, fold.Act{Do: "push", Of: "part", Dir: p.Setup.Dowels.Push, Words: "Push it " + side(p) +
				" at both ends until both pins bear."}, fold.Act{Do: "again", Of: "pushed"})
		}
		if k, err := located(p, h, n); err != nil {
			kit.Refuse(o, "dowel.goes", goes, err)
		} else {
			o.Facts = append(o.Facts, k)
			o.Lines = append(o.Lines, rows(k)...)
		}
	}
	return l
}

// rows say how the part lies.
func rows(k fold.Known) []fold.Row {
	f, _ := facts.Located.Read(k)
	return []fold.Row{{Label: "pushed off, X", Value: float64(f.DX), Unit: unit.KLength, Signed: true},
		{Label: "pushed off, Y", Value: float64(f.DY), Unit: unit.KLength, Signed: true},
		{Label: "turned by that", Value: float64(f.Rot), Unit: unit.KSlope, Signed: true}}
}

// line is the direction from the first pin to the second, and which way the push goes across it: +1 to the left of it, -1 to the
// right, 0 where it is not pushed.
func line(p *fold.Plan) (dir frame.Vec, way float64) {
	_, second := kit.Targets(p)
	if second == nil {
		return frame.Vec{X: 1}, 0
	}
	dir = second.From
	to, pushed := map[string]frame.Vec{"left": {X: -1}, "right": {X: 1}, "away": {Y: 1}, "toward": {Y: -1}}[p.Setup.Dowels.Push]
	if n := dir.Left(); pushed {
		way = math.Copysign(1, n.X*to.X+n.Y*to.Y)
	}
	return dir, way
}

// located is how the part lies on its pins by what was measured of both.
func located(p *fold.Plan, h facts.ReamedFact, n facts.PinsFact) (fold.Known, error) {
	on := onPins(h, n)
	j, err := on.Play()
	if err != nil {
		return fold.Known{}, err
	}
	dir, way := line(p)
	l := j.Lies()
	if way != 0 {
		s, err := on.Fits(float64(h.Apart), 0, p.Setup.Dowels.Land)
		if err != nil {
			return fold.Known{}, err
		}
		half := func(d string) float64 { return math.Sqrt(h.Cov.Var(d)+n.Cov.Var(d)) / 2 }
		l = j.LiesPushed(way, j.J1/2, s.Pushes, half("d1"), half("d2"))
	}
	return fact(l.Turned(dir)), nil
}

func fact(l calc.Lying) fold.Known {
	f := facts.LocatedFact{DX: unit.Length(l.Motion.Shift.X), DY: unit.Length(l.Motion.Shift.Y), Rot: l.Motion.Turn}
	var c [][]float64
	for i := range l.Cov {
		c = append(c, l.Cov[i][:])
	}
	f.Cov = fold.NewCov("dx,dy,rot", c)
	return facts.Located.Is(f)
}

// play is the planned play of a hole on its pin, mm.
func play(p *fold.Plan) float64 {
	if d := p.Setup.Dowels.Play; d > 0 {
		return d
	}
	return kit.Even(p, 0.01, 0.01, 0.0001)
}

// planned are pins by the card, and holes as the job plans them.
func planned(p *fold.Plan) (facts.ReamedFact, facts.PinsFact) {
	d, apart := drawn(p)
	n := facts.PinsFact{D1: unit.Length(d[0]), D2: unit.Length(d[1]), Apart: unit.Length(apart)}
	return facts.ReamedFact{D1: n.D1 + unit.Length(play(p)), D2: n.D2 + unit.Length(play(p)), Apart: n.Apart}, n
}
