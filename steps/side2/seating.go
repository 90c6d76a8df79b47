package side2

import (
	"fmt"
	"strings"

	"fliptrue/calc/fit"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// seating puts the part on its fixture, to lie there as the kind of setup has it.
type seating struct {
	p    *fold.Plan
	lies kit.Lies
	pre  bool // holes come from side 1, threads are in the fixture
}

// Seat is that as a step.
func Seat(p *fold.Plan, lies kit.Lies) *fold.Spec {
	s := seating{p, lies, p.Setup.HoldDown == "S"}
	sp := &fold.Spec{
		Title: "seat part", Covers: true, Bare: fold.OnceSeated, Needs: fold.Needs(fold.AsRead(facts.AMounting), fold.Live("identity"),
			fold.AsRead("floor"), fold.IfThere(kit.ZDatum(p), "bore")), Makes: []fold.FactID{"seat"},
		Keys: []string{"setups." + p.Setup.Name + ".flip", "setups." + p.Setup.Name + ".against", "part.size"},
		Pause: &fold.Pause{Heading: "LAST LOOK AT THE BARE " + strings.ToUpper(kit.Bed(p).In),
			Lost: "With the part in, the floor can't be read or wiped.",
			Ask:  func(fold.View) fold.Ask { return noChips(p) }},
		Asks: s.asks, Judge: s.judge, Page: s.page,
	}
	sp.Needs = fold.Needs(sp.Needs, fold.LiveIfThere("part/thickness", "part/width-x", "part/width-y", "part/seat", "part/edges",
		"part/holes", "part/air"),
		fold.IfThere("part/hours", "part/spring"),
		fold.AsRead(senseFacts(p)...), lies.Needs)
	sp.Makes = append(sp.Makes, lies.Makes...)
	if s.pre {
		sp.Makes = append(sp.Makes, "holes", "threads")
		sp.Needs = fold.Needs(sp.Needs, fold.AsRead("card"))
	}
	return sp
}

// noChips is the last look before the part hides the floor.
func noChips(p *fold.Plan) fold.Ask {
	a := kit.Counted("", "chips and shards seen "+kit.Bed(p).Gaps, "chips", "", "0", "A chip under the part tilts it or lifts it.",
		"Vacuum, wipe, look again from low down.")
	a.Do = []fold.Act{{Do: "wipe", Of: "pocket", Words: "Wipe " + kit.Bed(p).In +
		" and part. No burrs: drag a cotton bud along the edges, it " +
		"snags."}}
	return a
}

func (s seating) asks(v fold.View) []fold.Ask {
	var asks []fold.Ask
	if warm, ok := WarmAsk(s.p, v); ok { // before it is dropped in
		if asks = append(asks, warm); WarmCheck(s.p, v, &fold.Outcome{}) {
			return asks
		}
	}
	asks = append(asks, kit.HumidityAsks(s.p, v)...)
	asks = append(asks, kit.WidthAsks(s.p, v)...)
	if kit.WidthWrong(s.p, v, &fold.Outcome{}) {
		return asks
	}
	asks = append(asks, s.lieAsks()...)
	asks = append(asks, rockAsks(s.p)...)
	if rocks(s.p, v).Verdict == fold.Fail && v.Walks(3) { // nothing further is read of a part on a chip
		return asks
	}
	asks = append(asks, s.stripAsks(v)...)
	asks = append(asks, turnAsks(s.p, v)...)
	asks = append(asks, topAsks(s.p, v)...)
	if s.pre {
		n := fmt.Sprint(len(s.p.Setup.Screws.At))
		asks = append(asks,
			kit.Counted("pins", "holes through which a screw-size pin drops into its thread", "holes", "pass", n,
				"Where the pin stops, hole and thread do not meet.", "Is the part the right way round? Is a hole full of chips?"),
			fold.Ask{Field: "turns", Label: "turns a test screw runs in by fingers", Kind: fold.Count, What: fold.What{By: "tap", Of: "threads",
				Dir: "turns"}})
	}
	return asks
}

// layWords say where strips are laid before the part goes in, "" where rocking alone shows a chip.
func (s seating) layWords() string {
	lay := "Lay strips " + strip(s.p) + " thick at its four corners" + s.lies.Lay + ", ends out. "
	switch {
	case rockedAlone(s.p) && s.lies.Lay != "":
		lay = "Lay strips " + strip(s.p) + " thick" + strings.TrimPrefix(s.lies.Lay, " and") + ", ends out. "
	case rockedAlone(s.p):
		lay = ""
	}
	return lay
}

// faceUp is the answer of who looked for side 1's edge and saw its face.
const faceUp = "its finished face lies up"

// lieAsks are which face, flip and edge lie where. Turned over about the other axis is turned half round: the edge shows both.
func (s seating) lieAsks() []fold.Ask {
	first := []fold.Act{{Do: "seat", Of: "part", Words: s.layWords() + "Turn the part " + FlipWords[s.p.Setup.Flip] + ". " + s.lies.Drop}}
	flip := fold.Ask{Field: "turned", Label: "how was the part turned over", Kind: fold.Choice,
		Options: []string{FlipWords["x"], FlipWords["y"]}, What: fold.What{By: "eye", Of: "part", Dir: "flip"}, Want: FlipWords[s.p.Setup.Flip],
		WantWhy: "The program was made for the other flip: side 2 would be cut mirrored end for end.", Hint: "Take it out and turn it over " +
			FlipWords[s.p.Setup.Flip] + "."}
	edge := fold.Ask{Field: "edge", Label: "side 1's front edge now lies", Kind: fold.Choice, Options: []string{"toward you", "away", "left",
		"right"}, What: fold.What{By: "eye", Of: "part", Dir: "edge"}, Want: frontEdge(s.p),
		WantWhy: "The part is turned end for end in its place.", Hint: "Take it out, turn it half round, seat it again."}
	up := fold.Ask{Field: "up", Label: "side 1's finished face lies", Kind: fold.Choice, Options: []string{"down on the floor", "up"},
		What: fold.What{By: "eye", Of: "part", Dir: "up"}, Want: "down on the floor", Do: first,
		WantWhy: "Side 1 would be cut away.", Hint: "Take it out and turn it over " + FlipWords[s.p.Setup.Flip] + "."}
	if s.p.Short() {
		edge.Label, edge.Options, edge.Do = "of side 1 the front edge now lies", append(edge.Options, faceUp), first
		edge.WantWhy = "Side 2 would be cut end for end, or side 1 away."
		edge.Hint = "Take it out, turn it as the program wants it, seat it again."
		edge.Shows, edge.Cure = "part-rotated", []fold.Act{outAndTurn, {Do: "round"}}
		return []fold.Ask{edge}
	}
	for i, shows := range []string{"wrong-side-up", "flipped-wrong-axis", "part-rotated"} {
		a := []*fold.Ask{&up, &flip, &edge}[i]
		a.Shows, a.Cure = shows, []fold.Act{outAndTurn, {Do: "round"}}
	}
	return kit.OneForm("lies", up, flip, edge)
}

// rockAsks are how far the part rocks along its diagonals.
func rockAsks(p *fold.Plan) (asks []fold.Ask) {
	for i, d := range diagonal {
		a := fold.Ask{Field: fmt.Sprintf("rock%d", i+1), Label: "rocking " + d.words + ": dial moves", Kind: fold.Reading, Unit: unit.KLength,
			What: fold.What{By: "dial", Of: "part", Dir: fmt.Sprintf("rock-%d", i+1), Axis: "z"}, Window: kit.Around(0, 0.3, "a seated part")}
		a.Form = "rock"
		a.Do = []fold.Act{{Do: "press", Of: "part", Dir: fmt.Sprintf("rock-%d", i+1), Words: "Dial on the part's top. Press its corners " +
			d.words + " in turn; note how far the needle moves."}}
		asks = append(asks, a)
	}
	return asks
}

// stripAsks are the strips under it and those at what it lies against.
func (s seating) stripAsks(v fold.View) (asks []fold.Ask) {
	strips := kit.Mend(fold.Ask{Field: "strips", Label: "strips " + strip(s.p) + " thick that pull out, of 4 corners", Kind: fold.Count,
		What: fold.What{By: "feeler", Of: "part", Dir: "corners"}, Want: "0",
		WantWhy: "Where a strip pulls out the part does not touch.", Hint: "Lift out, wipe, seat again."}, "seated-on-chip")
	strips.Cure, strips.Form = seatAgain(s.p, s.lies), "strips"
	if !rockedAlone(s.p) {
		asks = append(asks, strips)
	}
	for _, a := range s.lies.Asks(v) {
		if a.Field == "walls" {
			a.Shows, a.Cure, a.Form = "clearance-not-pushed", seatAgain(s.p, s.lies), "strips"
		}
		asks = append(asks, a)
	}
	return asks
}

// topAsks are the touches on the part's top.
func topAsks(p *fold.Plan, v fold.View) (asks []fold.Ask) {
	fl, ok1 := facts.Floor.In(v)
	l, ok2 := facts.Length.Of(kit.ZDatum(p).Thing()).In(v)
	for _, sp := range kit.Spots(p) {
		if sp.Axis != fit.AxisZ {
			continue
		}
		a := fold.Ask{Field: sp.Field, Label: kit.WitnessAt(p, sp, fold.Known{}, false), Kind: fold.Reading, Unit: unit.KLength,
			What: fold.What{By: kit.TouchBy(p), Of: sp.Of, Dir: "z-", Axis: "z"}, Window: kit.TravelWindow(p, "z")}
		if ok1 && ok2 {
			half := 2.0
			if measured, ok := v.Fact("part/thickness"); ok && measured.By != "" {
				half = kit.OverFloor
			}
			a.Window = kit.Around(float64(fl.Z+l.L+fl.Block)+thicknessNow(p, v), half, "floor and the part's thickness")
		}
		if sp.Field == "z1" {
			a.Do = []fold.Act{topAct(p)}
		} else if z, ok := v.Num("z1", unit.KLength); ok {
			a.Window = kit.Around(z, 0.3, "the first touch on the top")
		}
		asks = append(asks, a)
	}
	return asks
}

func (s seating) page(v fold.View) fold.Page {
	z, _ := kit.PartZero(s.p)
	var marks []fold.Shape
	for _, sp := range kit.Spots(s.p) {
		if sp.Axis == fit.AxisZ && !v.Has(sp.Field) {
			marks = append(marks, fold.Shape{Role: fold.RoleNext, Points: []fold.XY{{X: z.X + sp.At.X, Y: z.Y + sp.At.Y}}})
			break
		}
	}
	if !v.Has("z1") {
		marks = append(marks, pushes(s.p)...)
	}
	pg := fold.Page{Why: s.lies.Why, Act: seatAct(s.p, s.lies),
		Read:    seatRead(s.p, v),
		Caution: "SPINDLE STOPPED while hands are in. Press with fingers over supports only." + s.lies.Caution,
		Scene:   kit.Scene(s.p, v, marks)}
	if a, ok := WarmAsk(s.p, v); ok && v.Has("pause") && !v.Has(a.Field) {
		pg.Why = "A part that is still warm is too large for its pocket and its program: it shrinks after it was cut."
		pg.Act, pg.Now = "Before it goes in: part and fixture side by side.", true
		pg.Read = "Within " + kit.Degrees(s.p, s.p.Limit("seat.warmth").Max) + " of the fixture is as warm. The thermometer wants a minute on it."
	}
	return pg
}
