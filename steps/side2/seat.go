package side2

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/fit"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// frontEdge is where the part's side-1 front edge lies after the flip.
func frontEdge(p *fold.Plan) string {
	if p.Setup.Flip == "x" {
		return "away"
	}
	return "toward you"
}

var FlipWords = map[string]string{"x": "about X, front edge over to the back", "y": "about Y, left edge over to the right"}

// diagonal names the two ends of a diagonal of the part; the corners are in cornerName's order.
var diagonal = [2]struct {
	words string
	ends  [2]int
}{{"NEAR LEFT to FAR RIGHT", [2]int{0, 2}}, {"NEAR RIGHT to FAR LEFT", [2]int{1, 3}}}

// topZ are the touches on the part's top, as many as taken, with their places.
func topZ(p *fold.Plan, v fold.View) (ps []fit.Point3, corner []int) {
	for _, sp := range kit.Spots(p) {
		if sp.Axis != fit.AxisZ {
			continue
		}
		if z, ok := v.Num(sp.Field, unit.KLength); ok {
			ps = append(ps, fit.Point3{X: sp.At.X, Y: sp.At.Y, Z: z})
			corner = append(corner, int(sp.Field[1]-'1'))
		}
	}
	return
}

// seat puts the part into its pocket and makes sure that it lies on its floor and against its walls.
func seat(p *fold.Plan) *fold.Spec { return Seat(p, walled(p)) }

// walled is a part that walls hold.
func walled(p *fold.Plan) kit.Lies {
	return kit.Lies{
		Lay:  " and at " + walls(p),
		Drop: "Drop it in, press down over the supports, push it hard against " + walls(p) + ".", Onto: walls(p),
		Why: "A part on a chip is cut tilted; a part not against its walls stands anywhere in its clearance.",
		Act: "Seat the part, push it against " + walls(p) + ", rock it, touch its top at four places.",
		Asks: func(fold.View) []fold.Ask {
			return []fold.Ask{{Field: "walls", Label: "strips " + strip(p) + " thick that pull out at " + walls(p), Kind: fold.Count,
				What: fold.What{By: "feeler", Of: "part", Dir: "walls"}, Want: "0",
				WantWhy: "The part is not against its walls: the clearance is then not known.",
				Hint:    "Push it against the walls again, with thumb or wedge on the opposite sides."}}
		},
	}
}

// Seat puts the part on its fixture, to lie there as the kind of setup has it.
func Seat(p *fold.Plan, lies kit.Lies) *fold.Spec {
	pre := p.Setup.HoldDown == "S" // holes come from side 1, threads are in the fixture
	sp := &fold.Spec{
		Title: "seat part", Covers: true, Bare: fold.OnceSeated, Needs: fold.Needs(fold.AsRead(facts.AMounting), fold.Live("identity"),
			fold.AsRead("floor"), fold.IfThere(kit.ZDatum(p))), Makes: []fold.FactID{"seat"},
		Keys: []string{"setups." + p.Setup.Name + ".flip", "setups." + p.Setup.Name + ".against", "part.size"},
		Pause: &fold.Pause{Heading: "LAST LOOK AT THE BARE " + strings.ToUpper(kit.Bed(p).In),
			Lost: "With the part in, the floor can't be read or wiped.",
			Ask: func(fold.View) fold.Ask {
				a := kit.Counted("", "chips and shards seen "+kit.Bed(p).Gaps, "chips", "", "0", "A chip under the part tilts it or lifts it.",
					"Vacuum, wipe, look again from low down.")
				a.Do = []fold.Act{{Do: "wipe", Of: "pocket", Words: "Wipe " + kit.Bed(p).In +
					" and part. No burrs: drag a cotton bud along the edges, it " +
					"snags."}}
				return a
			}},
	}
	sp.Needs = fold.Needs(sp.Needs, fold.LiveIfThere("part/thickness", "part/width-x", "part/width-y", "part/seat", "part/edges",
		"part/holes", "part/air"),
		fold.IfThere("part/hours", "part/spring"),
		fold.AsRead(senseFacts(p)...), lies.Needs)
	sp.Makes = append(sp.Makes, lies.Makes...)
	if pre {
		sp.Makes = append(sp.Makes, "holes", "threads")
		sp.Needs = fold.Needs(sp.Needs, fold.AsRead("card"))
	}
	sp.Asks = func(v fold.View) []fold.Ask {
		lay := "Lay strips " + strip(p) + " thick at its four corners" + lies.Lay + ", ends out. "
		switch {
		case rockedAlone(p) && lies.Lay != "":
			lay = "Lay strips " + strip(p) + " thick" + strings.TrimPrefix(lies.Lay, " and") + ", ends out. "
		case rockedAlone(p):
			lay = ""
		case p.Short() && !p.Reads(fold.FirstUse):
			lay = "Lay strips " + strip(p) + " thick at its four corners, ends out. "
		}
		first := []fold.Act{{Do: "seat", Of: "part", Words: lay + "Turn the part " + FlipWords[p.Setup.Flip] + ". " + lies.Drop}}
		flip := fold.Ask{Field: "turned", Label: "how was the part turned over", Kind: fold.Choice,
			Options: []string{FlipWords["x"], FlipWords["y"]}, What: fold.What{By: "eye", Of: "part", Dir: "flip"}, Want: FlipWords[p.Setup.Flip],
			WantWhy: "The program was made for the other flip: side 2 would be cut mirrored end for end.", Hint: "Take it out and turn it over " +
				FlipWords[p.Setup.Flip] + "."}
		edge := fold.Ask{Field: "edge", Label: "side 1's front edge now lies", Kind: fold.Choice, Options: []string{"toward you", "away", "left",
			"right"}, What: fold.What{By: "eye", Of: "part", Dir: "edge"}, Want: frontEdge(p),
			WantWhy: "The part is turned end for end in its place.", Hint: "Take it out, turn it half round, seat it again."}
		up := fold.Ask{Field: "up", Label: "side 1's finished face lies", Kind: fold.Choice, Options: []string{"down on the floor", "up"},
			What: fold.What{By: "eye", Of: "part", Dir: "up"}, Want: "down on the floor", Do: first,
			WantWhy: "Side 1 would be cut away.", Hint: "Take it out and turn it over " + FlipWords[p.Setup.Flip] + "."}
		var asks []fold.Ask
		if warm, ok := WarmAsk(p, v); ok { // before it is dropped in
			if asks = append(asks, warm); WarmCheck(p, v, &fold.Outcome{}) {
				return asks
			}
		}
		asks = append(asks, kit.HumidityAsks(p, v)...)
		asks = append(asks, kit.WidthAsks(p, v)...)
		if kit.WidthWrong(p, v, &fold.Outcome{}) {
			return asks
		}
		for i, shows := range []string{"wrong-side-up", "flipped-wrong-axis", "part-rotated"} {
			a := []*fold.Ask{&up, &flip, &edge}[i]
			a.Shows, a.Cure = shows, []fold.Act{outAndTurn, {Do: "round"}}
		}
		asks = append(asks, kit.OneForm("lies", up, flip, edge)...)
		for i, d := range diagonal {
			a := fold.Ask{Field: fmt.Sprintf("rock%d", i+1), Label: "rocking " + d.words + ": dial moves", Kind: fold.Reading, Unit: unit.KLength,
				What: fold.What{By: "dial", Of: "part", Dir: fmt.Sprintf("rock-%d", i+1), Axis: "z"}, Window: kit.Around(0, 0.3, "a seated part")}
			a.Form = "rock"
			a.Do = []fold.Act{{Do: "press", Of: "part", Dir: fmt.Sprintf("rock-%d", i+1), Words: "Dial on the part's top. Press its corners " +
				d.words + " in turn; note how far the needle moves."}}
			asks = append(asks, a)
		}
		if rocks(p, v).Verdict == fold.Fail && v.Walks(3) { // nothing further is read of a part on a chip
			return asks
		}
		strips := kit.Mend(fold.Ask{Field: "strips", Label: "strips " + strip(p) + " thick that pull out, of 4 corners", Kind: fold.Count,
			What: fold.What{By: "feeler", Of: "part", Dir: "corners"}, Want: "0",
			WantWhy: "Where a strip pulls out the part does not touch.", Hint: "Lift out, wipe, seat again."}, "seated-on-chip")
		strips.Cure, strips.Form = seatAgain(p, lies), "strips"
		if !rockedAlone(p) {
			asks = append(asks, strips)
		}
		for _, a := range lies.Asks(v) {
			if a.Field == "walls" {
				a.Shows, a.Cure, a.Form = "clearance-not-pushed", seatAgain(p, lies), "strips"
			}
			asks = append(asks, a)
		}
		asks = append(asks, turnAsks(p, v)...)
		fl, ok1 := v.Fact("floor")
		l, ok2 := v.Fact(kit.ZDatum(p))
		for _, s := range kit.Spots(p) {
			if s.Axis != fit.AxisZ {
				continue
			}
			a := fold.Ask{Field: s.Field, Label: kit.WitnessAt(p, s, fold.Known{}, false), Kind: fold.Reading, Unit: unit.KLength,
				What: fold.What{By: kit.TouchBy(p), Of: s.Of, Dir: "z-", Axis: "z"}, Window: kit.TravelWindow(p, "z")}
			if ok1 && ok2 {
				a.Window = kit.Around(fl.Value[0]+l.Value[0]+BlockOf(fl)+thicknessNow(p, v), 2, "floor and the part's thickness")
			}
			if s.Field == "z1" {
				a.Do = []fold.Act{topAct(p)}
			} else if z, ok := v.Num("z1", unit.KLength); ok {
				a.Window = kit.Around(z, 0.3, "the first touch on the top")
			}
			asks = append(asks, a)
		}
		if pre {
			n := fmt.Sprint(len(p.Setup.Screws.At))
			asks = append(asks,
				kit.Counted("pins", "holes through which a screw-size pin drops into its thread", "holes", "pass", n,
					"Where the pin stops, hole and thread do not meet.", "Is the part the right way round? Is a hole full of chips?"),
				fold.Ask{Field: "turns", Label: "turns a test screw runs in by fingers", Kind: fold.Count, What: fold.What{By: "tap", Of: "threads",
					Dir: "turns"}})
		}
		return asks
	}
	sp.Judge = func(v fold.View) fold.Outcome {
		var o fold.Outcome
		if WarmCheck(p, v, &o) || kit.WidthWrong(p, v, &o) {
			return o
		}
		if ps, _ := topZ(p, v); len(ps) == 0 && !p.Reads(fold.Irreplaceable) {
			o := seatedUnread(p, v)
			if lies.Judge != nil {
				lies.Judge(v, &o)
			}
			holesOf(p, v, pre, &o)
			return o
		}
		rock := [2]float64{math.Abs(v.Len("rock1")), math.Abs(v.Len("rock2"))}
		c := rocks(p, v)
		ps, corners := topZ(p, v)
		if c.Verdict == fold.Fail && v.Walks(3) && len(ps) < 3 { // rocking read anew after the strips, too
			return rocking(p, v)
		}
		pl, err := fit.ToPlane(ps)
		if err != nil {
			o.Checks = append(o.Checks, fold.Check{Limit: fold.Limit{ID: "seat.top", Why: "top touches against a plane", Class: fold.Never},
				Count: true, Verdict: fold.Fail, Words: err.Error()})
			o.Next = append(o.Next, fold.Act{Do: "round", Words: "Touch the top again: " + err.Error() + "."})
			return o
		}
		fl, ok := v.Fact("floor")
		if !ok || len(fl.Value) < 3 {
			o.Checks = append(o.Checks, fold.Check{Limit: fold.Limit{ID: "seat.floor", Why: "part's top against the bare floor", Class: fold.Never},
				Count: true, Verdict: fold.Fail, Words: "The floor did not stand when the part was seated."})
			o.Next = append(o.Next, fold.Act{Do: "round", Words: "Part out; read the floor, then seat the part again."})
			return o
		}
		wx, wy := wedge(p, v) // as the part itself is thicker at one end
		tx, ty := pl.B-fl.Value[1]-wx, pl.C-fl.Value[2]-wy
		w, h := p.Job.Part.Size[0], p.Job.Part.Size[1]
		lean := math.Abs(tx)*w + math.Abs(ty)*h
		k := judge.Of(p.Limit("seat.parallel"), lean, 0)
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
		case c.Verdict == fold.Fail:
			still := 0
			if rock[1] < rock[0] {
				still = 1
			}
			at := highest(diagonal[still].ends[:]...)
			where = kit.CornerName[at]
			c.Words = fmt.Sprintf("It rocks by %s. The diagonal that stays still, %s, carries the chip, at its higher end %s.", p.Len(c.Got),
				diagonal[still].words, where)
			o.Named = "seated-on-chip"
		case k.Verdict == fold.Fail:
			where = kit.EdgeName(tx*w, ty*h)
			k.Words = fmt.Sprintf("It does not rock, yet the top leans by %s, high at %s: a chip under that edge, or the floor itself.", p.Len(lean),
				where)
			o.Named = "seated-on-chip"
		}
		o.Checks = append(o.Checks, c, k)
		if where != "" {
			o.Next = append(o.Next, fold.Act{Do: "wipe", Of: "pocket", Dir: where, Words: "Lift the part out. Wipe pocket and part at " + where +
				", seat it again and push it against its walls."},
				fold.Act{Do: "seat", Of: "part"}, fold.Act{Do: "round"})
			words := fmt.Sprintf(" Cut like this, the floor would come out %s thicker at one end than at the other.", p.Len(lean))
			for i := range o.Checks {
				if o.Checks[i].Words != "" {
					o.Checks[i].Words += words
				}
			}
		}
		seatSlips(p, v, &o)
		if lies.Judge != nil {
			lies.Judge(v, &o)
		}
		o.Notes = append(o.Notes, sinceSide1(p, v)...)
		dz := 0.0
		if l, ok := v.Fact(kit.ZDatum(p)); ok {
			dz = pl.At(w/2, h/2) - l.Value[0] - BlockOf(fl) - fl.Value[0]
			o.Lines = append(o.Lines, fold.Row{Label: "top over floor", Value: dz, Unit: unit.KLength, Big: true})
			if t, says := expected(p, v); v.Walks(3) {
				seatedHeight(p, v, dz, &o)
			} else if math.Abs(dz-t) > 0.5 {
				o.Notes = append(o.Notes, fmt.Sprintf("The top stands %s over the floor%s %s for the part as it goes in.", p.Len(dz), says, p.Len(t)))
			}
		}
		o.Lines = append(o.Lines, fold.Row{Label: "lean over the part", Value: lean, Unit: unit.KLength},
			fold.Row{Label: "rocks by", Value: c.Got, Unit: unit.KLength})
		o.Facts = append(o.Facts, kit.SeatWith(p, v, dz, tx, ty))
		holesOf(p, v, pre, &o)
		if o.Learned == "" {
			o.Learned = fmt.Sprintf("The part lies on its floor within %s and against %s.", p.Len(lean), lies.Onto)
		}
		return o
	}
	sp.Page = func(v fold.View) fold.Page {
		z, _ := kit.PartZero(p)
		var marks []fold.Shape
		for _, s := range kit.Spots(p) {
			if s.Axis == fit.AxisZ && !v.Has(s.Field) {
				marks = append(marks, fold.Shape{Role: fold.RoleNext, Points: []fold.XY{{X: z.X + s.At.X, Y: z.Y + s.At.Y}}})
				break
			}
		}
		if !v.Has("z1") {
			marks = append(marks, pushes(p)...)
		}
		pg := fold.Page{Why: lies.Why, Act: seatAct(p, lies),
			Read:    seatRead(p, v),
			Caution: "SPINDLE STOPPED while hands are in. Press with fingers over supports only." + lies.Caution,
			Scene:   kit.Scene(p, v, marks)}
		if a, ok := WarmAsk(p, v); ok && v.Has("pause") && !v.Has(a.Field) {
			pg.Why = "A part that is still warm is too large for its pocket and its program: it shrinks after it was cut."
			pg.Act = "Before it goes in: part and fixture side by side."
			pg.Read = "Within " + kit.Degrees(p, p.Limit("seat.warmth").Max) + " of the fixture is as warm. The thermometer wants a minute on it."
		}
		return pg
	}
	return sp
}

// holesOf adds holes and threads of a part whose holes come from side 1; pins that were not tried are taken
// for as many as there are screws, which the screws then show.
func holesOf(p *fold.Plan, v fold.View, pre bool, o *fold.Outcome) {
	if !pre {
		return
	}
	n := len(p.Setup.Screws.At)
	if v.Has("pins") {
		n = v.Int("pins")
	}
	o.Facts = append(o.Facts, fold.Known{ID: "holes", Value: []float64{float64(n)}})
	if t, ok := threadFact(p, v, o); ok {
		o.Facts = append(o.Facts, t)
	}
}

// rockedAlone says that rocking alone shows a chip under the part: strips at its corners show the same, coarser.
func rockedAlone(p *fold.Plan) bool { return p.Short() && p.Level() == fold.FirstUse }

// outAndTurn is the act after a part that lies the wrong way.
var outAndTurn = fold.Act{Do: "seat", Of: "part", Words: "Lift the part out, turn it as the program wants it, wipe, seat it again."}

// seatAgain is the cure of a part that does not lie on its floor or against its walls.
func seatAgain(p *fold.Plan, lies kit.Lies) []fold.Act {
	return []fold.Act{{Do: "wipe", Of: "pocket", Words: "Lift the part out, wipe, seat it again and push it against " + lies.Onto + "."},
		{Do: "seat", Of: "part"}, {Do: "round"}}
}

// rocks holds the rocking of both diagonals against its limit; it has no verdict before both were read.
func rocks(p *fold.Plan, v fold.View) fold.Check {
	if !v.Has("rock1") || !v.Has("rock2") {
		return fold.Check{}
	}
	return judge.Of(p.Limit("seat.rock"), math.Max(math.Abs(v.Len("rock1")), math.Abs(v.Len("rock2"))), 0)
}

// rocking is a part that rocks: the step ends there.
func rocking(p *fold.Plan, v fold.View) fold.Outcome {
	c, still := rocks(p, v), 0
	if math.Abs(v.Len("rock2")) < math.Abs(v.Len("rock1")) {
		still = 1
	}
	c.Words = fmt.Sprintf("It rocks by %s. The diagonal that stays still, %s, carries the chip.", p.Len(c.Got), diagonal[still].words)
	return fold.Outcome{Named: "seated-on-chip", Checks: []fold.Check{c},
		Lines: []fold.Row{{Label: "rocks by", Value: c.Got, Unit: c.Limit.Unit}},
		Next: []fold.Act{{Do: "wipe", Of: "pocket",
			Words: "Lift the part out. Wipe pocket and part along that diagonal, seat it again and push " +
				"it against its walls."},
			{Do: "seat", Of: "part"}, {Do: "round"}}}
}

// seatSlips names a part that lies the wrong way.
func seatSlips(p *fold.Plan, v fold.View, o *fold.Outcome) {
	out := outAndTurn
	if u := v.Text("up"); u != "" && !fold.SameAnswer(u, "down on the floor") {
		o.Named = "wrong-side-up"
		o.Next = append(o.Next, out, fold.Act{Do: "round"})
	} else if t := v.Text("turned"); t != "" && !fold.SameAnswer(t, FlipWords[p.Setup.Flip]) {
		o.Named = "flipped-wrong-axis"
		o.Next = append(o.Next, out, fold.Act{Do: "round"})
	} else if e := v.Text("edge"); e != "" && !fold.SameAnswer(e, frontEdge(p)) {
		o.Named = "part-rotated"
		o.Next = append(o.Next, out, fold.Act{Do: "round"})
	} else if v.Int("strips") > 0 || v.Int("walls") > 0 {
		if len(o.Next) == 0 {
			if o.Named = "seated-on-chip"; v.Int("walls") > 0 {
				o.Named = "clearance-not-pushed"
			}
			o.Next = append(o.Next, fold.Act{Do: "wipe", Of: "pocket", Words: "Lift the part out, wipe, seat it again and push it against " +
				walls(p) + "."}, fold.Act{Do: "seat", Of: "part"}, fold.Act{Do: "round"})
		}
	}
}

// walls names the datum walls for the person.
func walls(p *fold.Plan) string {
	word := map[string]string{"left": "LEFT", "right": "RIGHT", "away": "AWAY", "toward": "TOWARD YOU"}
	a := p.Setup.Against
	switch {
	case p.OnLocator():
		return "its " + kit.Locator(p) + "s"
	case p.Setup.Floating || len(a) == 0:
		return "its pocket"
	case len(a) == 1:
		return "the wall " + word[a[0]]
	}
	return "the walls " + word[a[0]] + " and " + word[a[1]]
}

// strip is the thickness of the paper or feeler strips, which is common to both.
func strip(p *fold.Plan) string { return p.Len(kit.Even(p, 0.02, 0.01, 0.001)) }

// topAct is what goes before the touches on the part's top.
func topAct(p *fold.Plan) fold.Act {
	if kit.TouchBy(p) == "probe" {
		return fold.Act{Do: "fit", Of: "probe", Words: "Dial stand off the part, hands out. Probe in, spindle mark to the front, its command " +
			"off. Was it out since the floor? Then declare that first."}
	}
	return fold.Act{Do: "look", Of: "tool", Words: "Dial stand off the part, hands out. The tool that touched the floor, over its block."}
}

// seatAct is the step in one sentence: what its level reads.
func seatAct(p *fold.Plan, lies kit.Lies) string {
	act, _, touched := strings.Cut(lies.Act, ", rock it, touch its top")
	switch {
	case !p.Short() || !touched || !posts(p):
		return lies.Act
	case rockedAlone(p):
		return act + ", rock it, pull at its strips."
	}
	return act + ", pull at its strips."
}

// seatRead says how what is asked now is read.
func seatRead(p *fold.Plan, v fold.View) string {
	switch {
	case p.Short() && !v.Has("width-y") && len(kit.WidthAsks(p, v)) > 0:
		return "A micrometer, at the places where side 1 was measured."
	case !v.Has("edge"):
		return "Say what you see."
	case p.Short() && !p.Reads(fold.FirstUse) && v.Has("strips"), p.Short() && posts(p) && v.Has("walls"):
		return "Machine Y at the trigger, no radius taken off."
	case p.Short() && !p.Reads(fold.FirstUse):
		return "Strips counted that pull out without force."
	case !v.Has("rock2"):
		return "How far the dial's needle moves at most."
	case !v.Has("walls"):
		return "Strips counted that pull out without force."
	case v.Has("z4"):
		return "Counts, as seen."
	case kit.TouchBy(p) == "tool":
		return "Z when the block just slides under the tool; neither length nor block taken off."
	}
	return "Machine Z at the trigger, no length taken off."
}

// pushes are arrows on the part: toward which walls it is pushed.
func pushes(p *fold.Plan) []fold.Shape {
	w, h := p.Job.Part.Size[0], p.Job.Part.Size[1]
	long := min(w, h) / 3
	var out []fold.Shape
	for _, wall := range p.Setup.Against {
		from := jobs.Point{X: w / 2, Y: h / 2}
		to := from
		switch wall {
		case "left":
			from.X, to.X = long*1.3, long*0.3
		case "right":
			from.X, to.X = w-long*1.3, w-long*0.3
		case "away":
			from.Y, to.Y = h-long*1.3, h-long*0.3
		case "toward":
			from.Y, to.Y = long*1.3, long*0.3
		}
		out = append(out, fold.Shape{Role: fold.RolePush, Points: []fold.XY{kit.FixturePlace(p, from), kit.FixturePlace(p, to)}})
	}
	return out
}
