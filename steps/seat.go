package steps

import (
	"fmt"
	"math"

	"fliptrue/calc/fit"
	"fliptrue/calc/unit"
)

// counted asks for a number that is seen; want is the only one that passes.
func counted(field, label, of, dir, want, why, hint string) Ask {
	return Ask{Field: field, Label: label, Kind: Count, What: What{By: "count", Of: of, Dir: dir}, Want: want, WantWhy: why, Hint: hint}
}

// frontEdge is where the part's side-1 front edge lies after the flip.
func (p *Plan) frontEdge() string {
	if p.Setup.Flip == "x" {
		return "away"
	}
	return "toward you"
}

var flipWords = map[string]string{"x": "about X, front edge over to the back", "y": "about Y, left edge over to the right"}

// diagonal names the two ends of a diagonal of the part; the corners are in cornerName's order.
var diagonal = [2]struct {
	words string
	ends  [2]int
}{{"NEAR LEFT to FAR RIGHT", [2]int{0, 2}}, {"NEAR RIGHT to FAR LEFT", [2]int{1, 3}}}

// topZ are the touches on the part's top, as many as taken, with their places.
func (p *Plan) topZ(v View) (ps []fit.Point3, corner []int) {
	for _, sp := range p.spots() {
		if sp.axis != fit.AxisZ {
			continue
		}
		if z, ok := v.Num(sp.field, unit.KLength); ok {
			ps = append(ps, fit.Point3{X: sp.at.X, Y: sp.at.Y, Z: z})
			corner = append(corner, int(sp.field[1]-'1'))
		}
	}
	return
}

// seat puts the part into its pocket and makes sure that it lies on its floor and against its walls.
func seat(p *Plan) *Spec {
	pre := p.Setup.HoldDown == "S" // holes come from side 1, threads are in the fixture
	sp := &Spec{
		Title: "seat part", Covers: true, Bare: OnceSeated, Live: []FactID{"identity"}, AsRead: []FactID{"floor"}, Seen: []FactID{p.zDatum()}, Makes: []FactID{"seat"},
		Keys: []string{"setups." + p.Setup.Name + ".flip", "setups." + p.Setup.Name + ".against", "part.size"},
		Pause: &Pause{Heading: "LAST LOOK AT THE BARE POCKET", Lost: "With the part in, the floor can't be read or wiped.",
			Ask: func(View) Ask {
				a := counted("", "chips and shards seen in pocket and trench", "chips", "", "0", "A chip under the part tilts it or lifts it.", "Vacuum, wipe, look again from low down.")
				a.Do = []Act{{Do: "wipe", Of: "pocket", Words: "Wipe pocket, trench and part. No burrs: drag a cotton bud along the edges, it snags."}}
				return a
			}},
	}
	sp.Binds = []FactID{"part/thickness", "part/width-x", "part/width-y", "part/seat", "part/edges", "part/holes"}
	sp.Seen = append(sp.Seen, "part/hours", "part/spring")
	sp.AsRead = append(sp.AsRead, p.senseFacts()...)
	if pre {
		sp.Makes = append(sp.Makes, "holes", "threads")
		sp.AsRead = append(sp.AsRead, "card")
	}
	sp.Asks = func(v View) []Ask {
		first := []Act{{Do: "seat", Of: "part", Words: "Turn the part " + flipWords[p.Setup.Flip] + ". Drop it in, press down over the supports, push it hard against " + p.walls() + "."}}
		flip := Ask{Field: "turned", Label: "how was the part turned over", Kind: Choice, Options: []string{flipWords["x"], flipWords["y"]}, What: What{By: "eye", Of: "part", Dir: "flip"}, Want: flipWords[p.Setup.Flip],
			WantWhy: "The program was made for the other flip: side 2 would be cut mirrored end for end.", Hint: "Take it out and turn it over " + flipWords[p.Setup.Flip] + "."}
		edge := Ask{Field: "edge", Label: "side 1's front edge now lies", Kind: Choice, Options: []string{"toward you", "away", "left", "right"}, What: What{By: "eye", Of: "part", Dir: "edge"}, Want: p.frontEdge(),
			WantWhy: "The part is turned end for end in its pocket.", Hint: "Take it out, turn it half round, seat it again."}
		up := Ask{Field: "up", Label: "side 1's finished face lies", Kind: Choice, Options: []string{"down on the floor", "up"}, What: What{By: "eye", Of: "part", Dir: "up"}, Want: "down on the floor", Do: first,
			WantWhy: "Side 1 would be cut away.", Hint: "Take it out and turn it over " + flipWords[p.Setup.Flip] + "."}
		var asks []Ask
		if warm, ok := p.warmAsk(v); ok { // before it is dropped in
			if asks = append(asks, warm); p.warmCheck(v, &Outcome{}) {
				return asks
			}
		}
		asks = append(asks, up, flip, edge)
		for i, d := range diagonal {
			a := Ask{Field: fmt.Sprintf("rock%d", i+1), Label: "rocking " + d.words + ": dial moves", Kind: Reading, Unit: unit.KLength, What: What{By: "dial", Of: "part", Dir: fmt.Sprintf("rock-%d", i+1), Axis: "z"}, Window: around(0, 0.3, "a seated part")}
			a.Do = []Act{{Do: "press", Of: "part", Dir: fmt.Sprintf("rock-%d", i+1), Words: "Dial on the part's top. Press its corners " + d.words + " in turn; note how far the needle moves."}}
			asks = append(asks, a)
		}
		asks = append(asks,
			Ask{Field: "strips", Label: "strips " + p.strip() + " thick that pull out, of 4 under the corners", Kind: Count, What: What{By: "feeler", Of: "part", Dir: "corners"}, Want: "0",
				WantWhy: "Where a strip pulls out the part does not touch.", Hint: "Lift out, wipe, seat again."},
			Ask{Field: "walls", Label: "strips " + p.strip() + " thick that pull out at " + p.walls(), Kind: Count, What: What{By: "feeler", Of: "part", Dir: "walls"}, Want: "0",
				WantWhy: "The part is not against its walls: the clearance is then not known.", Hint: "Push it against the walls again, with thumb or wedge on the opposite sides."})
		fl, ok1 := v.Fact("floor")
		l, ok2 := v.Fact(p.zDatum())
		for _, s := range p.spots() {
			if s.axis != fit.AxisZ {
				continue
			}
			a := Ask{Field: s.field, Label: p.witnessAt(s, Fact{}, false), Kind: Reading, Unit: unit.KLength, What: What{By: p.touchBy(), Of: s.of, Dir: "z-", Axis: "z"}, Window: p.travelWindow("z")}
			if ok1 && ok2 {
				a.Window = around(fl.Value[0]+l.Value[0]+blockOf(fl)+p.thicknessNow(v), 2, "floor and the part's thickness")
			}
			if s.field == "z1" {
				a.Do = []Act{p.topAct()}
			} else if z, ok := v.Num("z1", unit.KLength); ok {
				a.Window = around(z, 0.3, "the first touch on the top")
			}
			asks = append(asks, a)
		}
		if pre {
			n := fmt.Sprint(len(p.Setup.Screws.At))
			asks = append(asks,
				counted("pins", "holes through which a screw-size pin drops into its thread", "holes", "pass", n, "Where the pin stops, hole and thread do not meet.", "Is the part the right way round? Is a hole full of chips?"),
				Ask{Field: "turns", Label: "turns a test screw runs in by fingers", Kind: Count, What: What{By: "tap", Of: "threads", Dir: "turns"}})
		}
		return asks
	}
	sp.Judge = func(v View) Outcome {
		var o Outcome
		if p.warmCheck(v, &o) {
			return o
		}
		rock := [2]float64{math.Abs(v.Len("rock1")), math.Abs(v.Len("rock2"))}
		c := Judged(p.Limit("seat.rock"), math.Max(rock[0], rock[1]), 0)
		ps, corners := p.topZ(v)
		pl, err := fit.ToPlane(ps)
		if err != nil {
			o.Checks = append(o.Checks, Check{Limit: Limit{ID: "seat.top", Why: "the touches on the top make a plane", Class: Never}, Count: true, Verdict: Fail, Words: err.Error()})
			o.Next = append(o.Next, Act{Do: "round", Words: "Touch the top again: " + err.Error() + "."})
			return o
		}
		fl, ok := v.Fact("floor")
		if !ok || len(fl.Value) < 3 {
			o.Checks = append(o.Checks, Check{Limit: Limit{ID: "seat.floor", Why: "the part's top is held against the bare floor", Class: Never}, Count: true, Verdict: Fail, Words: "The floor did not stand when the part was seated."})
			o.Next = append(o.Next, Act{Do: "round", Words: "Part out; read the floor, then seat the part again."})
			return o
		}
		wx, wy := p.wedge(v) // as the part itself is thicker at one end
		tx, ty := pl.B-fl.Value[1]-wx, pl.C-fl.Value[2]-wy
		w, h := p.Job.Part.Size[0], p.Job.Part.Size[1]
		lean := math.Abs(tx)*w + math.Abs(ty)*h
		k := Judged(p.Limit("seat.parallel"), lean, 0)
		highest := func(is ...int) int {
			best, at := math.Inf(-1), 0
			for _, i := range is {
				for j, cn := range corners {
					if z := ps[j].Z - fl.Value[1]*ps[j].X - fl.Value[2]*ps[j].Y; cn == i && z > best {
						best, at = z, i
					}
				}
			}
			return at
		}
		where := ""
		switch {
		case c.Verdict == Fail:
			still := 0
			if rock[1] < rock[0] {
				still = 1
			}
			at := highest(diagonal[still].ends[:]...)
			where = cornerName[at]
			c.Words = fmt.Sprintf("It rocks by %s. The diagonal that stays still, %s, carries the chip, at its higher end %s.", p.len(c.Got), diagonal[still].words, where)
			o.Named = "seated-on-chip"
		case k.Verdict == Fail:
			where = edgeName(tx*w, ty*h)
			k.Words = fmt.Sprintf("It does not rock, yet the top leans by %s, high at %s: a chip under that edge, or the floor itself.", p.len(lean), where)
			o.Named = "seated-on-chip"
		}
		o.Checks = append(o.Checks, c, k)
		if where != "" {
			o.Next = append(o.Next, Act{Do: "wipe", Of: "pocket", Dir: where, Words: "Lift the part out. Wipe pocket and part at " + where + ", seat it again and push it against its walls."},
				Act{Do: "seat", Of: "part"}, Act{Do: "round"})
			words := fmt.Sprintf(" Cut like this, the floor would come out %s thicker at one end than at the other.", p.len(lean))
			for i := range o.Checks {
				if o.Checks[i].Words != "" {
					o.Checks[i].Words += words
				}
			}
		}
		p.seatSlips(v, &o)
		o.Notes = append(o.Notes, p.sinceSide1(v)...)
		dz := 0.0
		if l, ok := v.Fact(p.zDatum()); ok {
			dz = pl.At(w/2, h/2) - l.Value[0] - blockOf(fl) - fl.Value[0]
			o.Lines = append(o.Lines, Row{Label: "top over floor", Value: dz, Unit: unit.KLength, Big: true})
			if t := p.thickness(); math.Abs(dz-t) > 0.5 {
				o.Notes = append(o.Notes, fmt.Sprintf("The top stands %s over the floor; the job says %s for the part as it goes in.", p.len(dz), p.len(t)))
			}
		}
		o.Lines = append(o.Lines, Row{Label: "lean over the part", Value: lean, Unit: unit.KLength}, Row{Label: "rocks by", Value: c.Got, Unit: unit.KLength})
		o.Facts = []Fact{{ID: "seat", Value: []float64{dz, tx, ty}}}
		if pre {
			o.Facts = append(o.Facts, Fact{ID: "holes", Value: []float64{float64(v.Int("pins"))}})
			if t, ok := p.threadFact(v, &o); ok {
				o.Facts = append(o.Facts, t)
			}
		}
		if o.Learned == "" {
			o.Learned = fmt.Sprintf("The part lies on its floor within %s and against %s.", p.len(lean), p.walls())
		}
		return o
	}
	sp.Page = func(v View) Page {
		z, _ := p.partZero()
		var marks []Shape
		for _, s := range p.spots() {
			if s.axis == fit.AxisZ && !v.Has(s.field) {
				marks = append(marks, Shape{Role: RoleNext, Points: []XY{{z.X + s.at.X, z.Y + s.at.Y}}})
				break
			}
		}
		pg := Page{Why: "A part on a chip is cut tilted; a part not against its walls stands anywhere in its clearance.",
			Act:     "Seat the part, push it against " + p.walls() + ", rock it, touch its top at four places.",
			Read:    p.seatRead(v),
			Caution: "SPINDLE STOPPED while hands are in. Press with fingers over supports only.",
			Scene:   p.scene(v, marks)}
		if a, ok := p.warmAsk(v); ok && v.Has("pause") && !v.Has(a.Field) {
			pg.Why = "A part that is still warm is too large for its pocket and its program: it shrinks after it was cut."
			pg.Act = "Before it goes in: part and fixture side by side."
			pg.Read = fmt.Sprintf("Within %.1f degrees of the fixture is as warm. The thermometer wants a minute on it.", p.Limit("seat.warmth").Max)
		}
		return pg
	}
	return sp
}

// seatSlips names a part that lies the wrong way.
func (p *Plan) seatSlips(v View, o *Outcome) {
	out := Act{Do: "seat", Of: "part", Words: "Lift the part out, turn it as the program wants it, wipe, seat it again."}
	if u := v.Text("up"); u != "" && !SameAnswer(u, "down on the floor") {
		o.Named = "wrong-side-up"
		o.Next = append(o.Next, out, Act{Do: "round"})
	} else if t := v.Text("turned"); t != "" && !SameAnswer(t, flipWords[p.Setup.Flip]) {
		o.Named = "flipped-wrong-axis"
		o.Next = append(o.Next, out, Act{Do: "round"})
	} else if e := v.Text("edge"); e != "" && !SameAnswer(e, p.frontEdge()) {
		o.Named = "part-rotated"
		o.Next = append(o.Next, out, Act{Do: "round"})
	} else if v.Int("strips") > 0 || v.Int("walls") > 0 {
		if len(o.Next) == 0 {
			if o.Named = "seated-on-chip"; v.Int("walls") > 0 {
				o.Named = "clearance-not-pushed"
			}
			o.Next = append(o.Next, Act{Do: "wipe", Of: "pocket", Words: "Lift the part out, wipe, seat it again and push it against " + p.walls() + "."}, Act{Do: "seat", Of: "part"}, Act{Do: "round"})
		}
	}
}

// walls names the datum walls for the person.
func (p *Plan) walls() string {
	word := map[string]string{"left": "LEFT", "right": "RIGHT", "away": "AWAY", "toward": "TOWARD YOU"}
	a := p.Setup.Against
	switch {
	case p.Setup.Floating || len(a) == 0:
		return "its pocket"
	case len(a) == 1:
		return "the wall " + word[a[0]]
	}
	return "the walls " + word[a[0]] + " and " + word[a[1]]
}

// thickness is the part's as it goes in: measured, or the finished one with side 2's skin.
func (p *Plan) thickness() float64 {
	return p.givenOr("thickness", p.Job.Part.Size[2]+p.Job.Part.Skin[1])
}

// strip is the thickness of the paper or feeler strips, which is common to both.
func (p *Plan) strip() string { return p.len(p.even(0.02, 0.01, 0.001)) }

// topAct is what goes before the touches on the part's top.
func (p *Plan) topAct() Act {
	if p.touchBy() == "probe" {
		return Act{Do: "fit", Of: "probe", Words: "Dial stand off the part, hands out. Probe in, spindle mark to the front, its command off. Was it out since the floor? Then declare that first."}
	}
	return Act{Do: "look", Of: "tool", Words: "Dial stand off the part, hands out. The tool that touched the floor, over its block."}
}

// edgeName names the high side of a tilt given as rises across the part.
func edgeName(x, y float64) string {
	switch {
	case math.Abs(x) >= math.Abs(y) && x > 0:
		return "RIGHT"
	case math.Abs(x) >= math.Abs(y):
		return "LEFT"
	case y > 0:
		return "AWAY"
	}
	return "TOWARD YOU"
}

// seatRead says how what is asked now is read.
func (p *Plan) seatRead(v View) string {
	switch {
	case !v.Has("edge"):
		return "Say what you see."
	case !v.Has("rock2"):
		return "How far the dial's needle moves at most."
	case !v.Has("walls"):
		return "Strips counted that pull out without force."
	case v.Has("z4"):
		return "Counts, as seen."
	case p.touchBy() == "tool":
		return "Z when the block just slides under the tool; neither length nor block taken off."
	}
	return "Machine Z at the trigger, no length taken off."
}
