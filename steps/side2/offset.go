package side2

import (
	"fmt"
	"strings"

	"fliptrue/calc/frame"
	"fliptrue/calc/register"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/checks"
	"fliptrue/steps/desk"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// ComputeOffset is the offset from the facts that the step stands on.
func ComputeOffset(p *fold.Plan, get func(fold.FactID) (fold.Known, bool), walk int) (fold.Known, []string, bool) {
	b, ok1 := get("bore")
	fl, ok2 := facts.Floor.By(get)
	if !ok1 || !ok2 {
		return fold.Known{}, nil, false
	}
	v, note := kit.PartZero(p)
	f := fixtureFound(p, get, b, v, walk)
	z := float64(fl.Z)
	if p.Setup.Z0 == "finished top" {
		z += p.Job.Part.Size[2]
	}
	var at []frame.Vec
	for _, ft := range kit.FeaturesOf(p) {
		at = append(at, ft.At)
	}
	return kit.OffsetFact(register.Place(f, at, checks.Rotates(p), z, kit.Keyed(p), b.Dof), float64(fl.Block)), []string{note}, true
}

// fixtureFound puts bore, second bore and edge together. From the third walk on the direction is the weighted mean
// of edge and bores where they agree, so that the better one counts; before it was always the edge's.
func fixtureFound(p *fold.Plan, get func(fold.FactID) (fold.Known, bool), k fold.Known, v frame.Vec, walk int) frame.Fixture {
	b, _ := facts.Bore.Read(k)
	found := register.Found{Bore: frame.Vec{X: float64(b.X), Y: float64(b.Y)}, Two: len(k.Value) >= 5, Scale: b.Scale, Skew: b.Theta}
	for i := range k.Cov {
		copy(found.Cov[i][:], k.Cov[i])
	}
	grown := 1.0
	if id, ok := facts.Identity.By(get); ok && kit.Warm(p) {
		grown = frame.Growth(kit.FixtureAlpha(p), register.MachineAlpha, id.T-float64(*p.Job.Fixture.AsMade.Temperature))
	}
	var edge *register.Edge
	if s, ok := edgeSkew(p, get); ok {
		edge = &register.Edge{Skew: s.Theta, Variance: s.Cov.Var("theta")}
	}
	if edge != nil && found.Two && walk >= 3 {
		if f, ok := found.Weighed(v, kit.Held(p), *edge); ok {
			return f
		}
	}
	return found.Fixture(v, kit.Held(p), edge, grown)
}

// oldAsks take down what stands in the only work offset before it is overwritten.
func oldAsks(p *fold.Plan) []fold.Ask {
	if p.Job.Machine.Offsets != 1 {
		return nil
	}
	var asks []fold.Ask
	for _, ax := range []string{"x", "y", "z"} {
		asks = append(asks, fold.Ask{Field: "old." + ax, Label: "side 1's " + strings.ToUpper(ax) + ", which will be overwritten",
			Kind: fold.Reading, Unit: unit.KLength, Form: "old",
			What: fold.What{By: "control", Of: "offset", Dir: "old", Axis: ax}, Window: kit.TravelWindow(p, ax)})
	}
	asks[0].Do = []fold.Act{{Do: "look", Of: "offset",
		Words: "This control has one work offset. Read what stands in it now: the record keeps it."}}
	return asks
}

// offset computes the work offset, has it keyed in and read back blind.
func offset(p *fold.Plan) *fold.Spec {
	live := []fold.FactID{"bore", "floor"}
	if kit.Indicated(p) {
		live = append([]fold.FactID{"skew"}, live...)
	}
	needs := fold.Needs(fold.Live(live...), fold.AsRead("identity"))
	if p.Walks(4) {
		needs = append(needs, fold.IfThere(centredBy...)...)
	}
	return &fold.Spec{
		Title: "work offset", Needs: needs, Makes: []fold.FactID{"offset", "echo"},
		Former: []string{"part.features", "allowance", "setups." + p.Setup.Name + ".against", "setups." + p.Setup.Name + ".z0",
			"setups." + p.Setup.Name + ".offset"},
		Pause: checks.OffsetPause(p),
		Asks: func(v fold.View) []fold.Ask {
			f, _, ok := toKey(p, v)
			if !ok || checks.OffsetWrong(p, v) {
				return nil
			}
			return append(oldAsks(p), checks.EchoAsks(p, v, f)...)
		},
		Judge: func(v fold.View) fold.Outcome { return judgeOffset(p, v) },
		Page:  func(v fold.View) fold.Page { return offsetPage(p, v) },
	}
}

// judgeOffset holds the offset against skew and register, and what was read back against it.
func judgeOffset(p *fold.Plan, v fold.View) fold.Outcome {
	var o fold.Outcome
	f, notes, ok := toKey(p, v)
	if !ok {
		return o
	}
	if checks.OffsetWrong(p, v) {
		o.Next = append(o.Next, fold.Act{Do: "again", Of: "pause"})
		return o
	}
	o.Notes = notes
	found, _, _ := ComputeOffset(p, v.Fact, kit.WalkOf(v))
	get := func(id fold.FactID) (fold.Known, bool) {
		if id == "offset" { // what it carries of the part is judged at the release
			return found, true
		}
		return v.Perhaps(id)
	}
	if err := kit.ReadOffset(f).Fixture.CheckSkew(); err != nil {
		o.Checks = append(o.Checks, fold.Check{Limit: fold.Limit{ID: "offset.skew", Why: "skew, to be squared first", Class: fold.Never},
			Count: true, Verdict: fold.Fail, Words: err.Error() + "."})
		o.Next = append(o.Next, fold.Act{Do: "declare", Of: "fixture-tapped", Words: "Tap the fixture square first; part out. Then bore and " +
			"floor anew."})
	}
	fs := kit.RegisterAs(p, get, false, kit.WalkOf(v))
	i, ax, val, g := kit.WorstFeature(fs)
	c := judge.Of(p.Limit("offset.register"), val, g)
	if len(fs) > 0 {
		c.Largest = fs[i].Largest[ax]
		c.Words = fmt.Sprintf("Worst at %s along %s. %.0f %% of the doubt is %s.", fs[i].Name, strings.ToUpper([]string{"x", "y"}[ax]),
			100*fs[i].Share[ax], c.Largest)
	}
	if c.Verdict == fold.Fail {
		o.Next = append(o.Next, fold.Act{Do: "declare", Of: "fixture-tapped", Words: "Tap the fixture squarer: the skew is what costs most " +
			"here. Then bore and floor anew."})
	} else if c.Verdict == fold.NotProven {
		o.Next = append(o.Next, unproven(p, v, "offset", c))
	}
	checks.EchoChecks(p, v, f, &o)
	o.Checks = append(o.Checks, c)
	offsetRows(p, v, f, fs, &o)
	o.Facts = []fold.Known{f, {ID: "echo"}}
	o.Learned = fmt.Sprintf("The control holds the offset. At the worst feature side 2 stands off by %s, within %s.", p.Len(val),
		p.Len(val+g))
	return o
}

// offsetRows show the offset, what stood in its place, and where each feature then lies.
func offsetRows(p *fold.Plan, v fold.View, f fold.Known, fs []kit.FeatureError, o *fold.Outcome) {
	op := kit.ReadOffset(f)
	o.Lines = append(o.Lines,
		fold.Row{Label: p.Setup.Offset + " X", Value: op.Place.Offset.X, Unit: unit.KLength, Signed: true, Big: true},
		fold.Row{Label: p.Setup.Offset + " Y", Value: op.Place.Offset.Y, Unit: unit.KLength, Signed: true, Big: true},
		fold.Row{Label: p.Setup.Offset + " Z", Value: op.Z, Unit: unit.KLength, Signed: true, Big: true})
	for _, a := range oldAsks(p) {
		o.Lines = append(o.Lines, fold.Row{Label: a.Label, Value: v.Len(a.Field), Unit: unit.KLength, Signed: true})
	}
	for _, fe := range fs {
		for a, name := range []string{"X", "Y"} {
			o.Lines = append(o.Lines, fold.Row{Label: fe.Name + " " + name, Value: fe.Error[a], Guard: fe.Guard[a],
				Unit: unit.KLength, Signed: true})
		}
	}
}

func offsetPage(p *fold.Plan, v fold.View) fold.Page {
	pg := fold.Page{Why: "Here the measured fixture becomes numbers in the control; a slip of a key is a crash.",
		Act:   "Key the offset into the control, then read it back from the control.",
		Read:  checks.PageRead(p),
		After: desk.JogOver(p, v, "part zero")}
	if checks.Presets(p) {
		pg.Act = "Preset what is shown over the " + kit.Locator(p) + " and on the floor, then read it back."
		pg.Read = "All in one form, as it is shown. This screen hides the numbers until then."
	}
	zero := fold.Shape{Role: fold.RoleNext, Name: "X0 Y0", Points: []fold.XY{kit.FixturePlace(p, jobs.Point{})}}
	pg.Scene = kit.Scene(p, v, []fold.Shape{zero})
	return pg
}

// edgeSkew is the direction of the fixture's edge, where it has one.
func edgeSkew(p *fold.Plan, get func(fold.FactID) (fold.Known, bool)) (s facts.SkewFact, ok bool) {
	if !kit.Indicated(p) {
		return s, false
	}
	return facts.Skew.By(get)
}
