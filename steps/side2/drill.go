package side2

import (
	"fmt"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/checks"
	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// drill makes the holes through the part, strapped down.
func drill(p *fold.Plan) *fold.Spec {
	d := drillingOf(p)
	return &fold.Spec{
		Title: "drill", Needs: fold.Needs(fold.AsRead(drillNeeds(p)...), fold.IfThere("offset", "seat")), Makes: []fold.FactID{"holes"},
		Raises: []fold.MishapID{"probe-refitted"}, Keys: []string{"setups." + p.Setup.Name + ".screws.at"},
		Pause: &fold.Pause{Heading: "AFTER THIS THE PART HAS HOLES", Lost: "It can't be turned or moved to another place any more.",
			Again: &fold.Pause{Heading: "THE PART MAY HAVE A HOLE ALREADY", Lost: "Look how far each hole was drilled; run only those not through."},
			Ask:   func(fold.View) fold.Ask { return d.clampsOn() }},
		Asks: d.asks, Judge: d.judge, Page: d.page,
	}
}

// drillNeeds are what stands as read before a hole is drilled.
func drillNeeds(p *fold.Plan) []fold.FactID {
	asRead := []fold.FactID{"echo", "clamps", "baseline"}
	for _, f := range checks.ProgramFacts(p) {
		if f.Thing() == "drill" {
			asRead = append(asRead, f)
		}
	}
	for _, k := range desk.Drills(p) {
		asRead = append(asRead, fold.FactID(fmt.Sprintf("length/%d", k)))
	}
	return asRead
}

// asDrilledBefore says that the level reads no depth: fixture and programs have made good parts.
func asDrilledBefore(p *fold.Plan) bool {
	return p.Short() && !p.Reads(fold.FirstUse) && p.Job.Machine.Delivers != "readout"
}

// holeAsks are the first hole's depth, how many were drilled, and those that a pin does not pass.
func holeAsks(p *fold.Plan) (depth, made, tight fold.Ask) {
	n := fmt.Sprint(len(p.Setup.Screws.At))
	last := p.Len(kit.Even(p, 0.5, 0.5, 0.02))
	depth = fold.Ask{Field: "depth", Label: "first hole: how far the tip went below the seat", Kind: fold.Reading, Unit: unit.KLength,
		What: fold.What{By: "drill", Of: "hole/1", Dir: "depth"},
		Do: []fold.Act{{Do: "drill", Of: "hole/1", Words: "Run the drill program for the first hole only, pecking, half feed over the last " +
			last + ". Feed hold at the bottom: read W Z. Stop, vacuum, calliper its stick-out."}}}
	made = kit.Counted("holes", "holes drilled", "holes", "drilled", n, "The job has "+n+" screws.", "Run the program to its end.")
	made.Do = []fold.Act{{Do: "drill", Of: "holes", Words: "Now the rest. Vacuum between holes: chips can't be blown out from below."}}
	tight = fold.Ask{Field: "tight", Label: "holes a screw-size pin does not drop through", Kind: fold.Count,
		What: fold.What{By: "pin", Of: "holes", Dir: "tight"}, Want: "0",
		WantWhy: "A hole that is off, or full.", Hint: "Clear the chips, run the drill through once more, try again."}
	return depth, made, tight
}

// judgeDepth holds the first hole's depth against what was meant, and the point against the relief under it.
func judgeDepth(p *fold.Plan, tool jobs.Tool, d float64, o *fold.Outcome) {
	want := desk.TipBelowSeat(tool)
	c := judge.Off(p.Limit("drill.depth"), d, want, 0)
	if c.Verdict == fold.Fail {
		o.Named = "tool-pulled"
		c.Words = fmt.Sprintf("The hole is %s deeper than meant. The drill was pulled out of its collet, or its length is not what the control "+
			"has.", p.Len(d-want))
		if d < want {
			o.Named = "drill-short"
			c.Words = fmt.Sprintf("The hole is %s short. Chips under the point, or the drill's length is not what the control has.", p.Len(want-d))
		}
		o.Next = append(o.Next, fold.Act{Do: "declare", Of: "tool-pulled", Dir: desk.NumberOf(p, tool),
			Words: "Stop. Grip the drill again, take its length anew, then try the first hole's depth again."})
	}
	o.Checks = append(o.Checks, c)
	o.Lines = append(o.Lines, fold.Row{Label: "tip below seat", Value: d, Unit: unit.KLength, Big: true},
		fold.Row{Label: "meant", Value: want, Unit: unit.KLength})
	r := p.Job.Fixture.Threads.Relief
	if r <= 0 {
		return
	}
	left := judge.Most(fold.Limit{ID: "drill.relief", Why: "drill's point between thread and relief's end", Max: r, Class: fold.Soft,
		Unit: unit.KLength}, d, 0)
	if left.Verdict == fold.Fail {
		left.Words = fmt.Sprintf("The relief is %s deep: the point went into the thread.", p.Len(r))
		if len(o.Next) == 0 {
			o.Next = append(o.Next, fold.Act{Do: "round", Words: left.Words + " Look at the thread; go less deep at the others."})
		}
	}
	if p.Setup.HoldDown == "T" {
		o.Checks = append(o.Checks, left)
	}
}

// drillPage is the page while holes are drilled, with the path of the drill's program.
func drillPage(p *fold.Plan, v fold.View, path []fold.Shape) fold.Page {
	var marks []fold.Shape
	for _, q := range p.Setup.Screws.At {
		marks = append(marks, fold.Shape{Role: fold.RoleNext, Points: []fold.XY{kit.FixturePlace(p, q)}})
	}
	return fold.Page{Why: "At breakthrough the drill screws itself in and lifts the part: straps must hold it down.",
		Act: "Drill the first hole, stop, measure its depth. Then the rest.",
		Read: "Feed hold at the bottom: how far W Z stands below the seat, W Z" + kit.Signed(p, desk.SeatZ(p)) +
			". Add what the drill has slipped out of its collet: its stick-out by calliper, against before.",
		Caution: "Eye protection, door shut; extraction and mask for wood dust. Your hand on feed hold.",
		Hands:   "Hands away, expect 10 min.",
		Rows:    append(desk.DrillPlan(p).Rows, desk.PlaceRows(p, v.Fact)...),
		Scene:   kit.Scene(p, v, append(marks, path...))}
}

// drillIn asks which drill is in the spindle before the door is shut: of several the
// narrowest drills first.
func drillIn(p *fold.Plan) fold.Ask {
	n, _, ok := desk.CoreDrill(p)
	if ds := desk.Drills(p); !ok && len(ds) == 1 {
		n, ok = ds[0], true
	}
	a := fold.Ask{Field: "tool", Label: "tool number in the spindle", Kind: fold.Count, What: fold.What{By: "eye", Of: "spindle", Dir: "tool"}}
	name := "Drill"
	if ok {
		a.Want, name = fmt.Sprint(n), kit.ToolName(p, fmt.Sprint(n))
		a.WantWhy, a.Hint = "Another drill goes to another depth; "+kit.Thrown(p)+".", kit.FinderOut(p)+". Fit "+name+"."
	}
	if a.Want != "" {
		a = kit.Mend(a, "", fold.Act{Do: "remove", Of: "probe", Words: a.Hint})
	}
	a.Do = []fold.Act{{Do: "remove", Of: "probe", Words: kit.FinderOut(p) + " of the spindle. " + name + " in, its own length active."}}
	return a
}

// firstDrill is the drill that is in first, 0 when that is not known.
func firstDrill(p *fold.Plan) int {
	n := 0
	fmt.Sscan(drillIn(p).Want, &n)
	return n
}
