package steps

import (
	"fmt"
	"math"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
)

// drills are the numbers of the job's drills, in order.
func (p *Plan) drills() []int {
	var out []int
	for _, n := range p.toolNumbers() {
		if p.Job.Tools[n].Point > 0 {
			out = append(out, n)
		}
	}
	return out
}

// openingDrill is the drill that opens the part: of the drills the widest below the washer.
func (p *Plan) openingDrill() (jobs.Tool, bool) {
	var best jobs.Tool
	for _, n := range p.drills() {
		if t := p.Job.Tools[n]; t.Dia > best.Dia {
			best = t
		}
	}
	return best, best.Dia > 0
}

// tipBelowSeat is how far the drill's tip goes below the seat plane so that its full
// diameter passes by 0.2 mm (common practice, from memory).
func tipBelowSeat(t jobs.Tool) float64 {
	return 0.2 + t.Dia/2/math.Tan(t.Point*math.Pi/360)
}

// drill makes the holes through the part, strapped down.
func drill(p *Plan) *Spec {
	n := len(p.Setup.Screws.At)
	asRead := []FactID{"echo", "clamps", "baseline"}
	for _, f := range p.programFacts() {
		if f.Thing() == "drill" {
			asRead = append(asRead, f)
		}
	}
	for _, k := range p.drills() {
		asRead = append(asRead, FactID(fmt.Sprintf("length/%d", k)))
	}
	tool, drilled := p.openingDrill()
	want := 0.0
	if drilled {
		want = tipBelowSeat(tool)
	}
	gap, gapped := p.tipGap(p.firstDrill(), true, func(f FactID) bool { return f != "screws" })
	return &Spec{
		Title: "drill", AsRead: asRead, Seen: []FactID{"offset", "seat"}, Makes: []FactID{"holes"}, Raises: []MishapID{"probe-refitted"}, Keys: []string{"setups." + p.Setup.Name + ".screws.at"},
		Pause: &Pause{Heading: "AFTER THIS THE PART HAS HOLES", Lost: "It can't be turned or moved to another place any more.",
			Again: &Pause{Heading: "THE PART MAY HAVE A HOLE ALREADY", Lost: "Look how far each hole was drilled; run only those not through."},
			Ask: func(View) Ask {
				return counted("", "clamps on the part, counted now", "clamps", "on", fmt.Sprint(len(p.Setup.Clamps)), "A drill at breakthrough pulls the part up.", "Fit the missing clamp.")
			}},
		Asks: func(v View) []Ask {
			depth := Ask{Field: "depth", Label: "first hole: how far the tip went below the seat", Kind: Reading, Unit: unit.KLength, What: What{By: "drill", Of: "hole/1", Dir: "depth"},
				Do: []Act{{Do: "drill", Of: "hole/1", Words: "Run the drill program for the first hole only, pecking, half feed over the last " + p.len(p.even(0.5, 0.5, 0.02)) + ". Feed hold at the bottom: read W Z. Stop, vacuum, calliper its stick-out."}}}
			if drilled {
				depth.Window = around(want, 0.5, "full diameter 0.2 below the seat, and the point")
			}
			made := counted("holes", "holes drilled", "holes", "drilled", fmt.Sprint(n), "The job has "+fmt.Sprint(n)+" screws.", "Run the program to its end.")
			made.Do = []Act{{Do: "drill", Of: "holes", Words: "Now the rest. Vacuum between holes: chips can't be blown out from below."}}
			tight := Ask{Field: "tight", Label: "holes a screw-size pin does not drop through", Kind: Count, What: What{By: "pin", Of: "holes", Dir: "tight"}, Want: "0", WantWhy: "A hole that is off, or full.", Hint: "Clear the chips, run the drill through once more, try again."}
			places, in := p.placeAsks(v.Fact), p.drillIn()
			if gapped {
				if _, wrong := gap.off(v); wrong {
					return []Ask{in, gap.ask()} // before anything is cut
				}
				depth.Do[0].Words = "Hands out, door shut. " + depth.Do[0].Words
				return []Ask{in, gap.ask(), depth, made, tight}
			}
			if len(places) == 0 {
				return []Ask{in, depth, made, tight}
			}
			depth.Do[0].Words = "Stop, vacuum, measure the first hole."
			made.Do[0].Words = "Vacuum every hole: chips can't be blown out from below."
			return append(append([]Ask{in}, append(places[:2:2], depth)...), append(places[2:], made, tight)...)
		},
		Judge: func(v View) Outcome {
			var o Outcome
			if gapped && gap.check(v, &o) {
				return o
			}
			d := v.Len("depth")
			if drilled {
				c := Judged(p.Limit("drill.depth"), math.Abs(d-want), 0)
				if c.Verdict == Fail {
					o.Named = "tool-pulled"
					c.Words = fmt.Sprintf("The hole is %s deeper than meant: the drill was pulled out of its collet, or its length is not what the control has.", p.len(d-want))
					if d < want {
						o.Named = "drill-short"
						c.Words = fmt.Sprintf("The hole is %s short: chips under the point, or the drill's length is not what the control has.", p.len(want-d))
					}
					o.Next = append(o.Next, Act{Do: "declare", Of: "tool-pulled", Dir: p.numberOf(tool), Words: "Stop. Grip the drill again, take its length anew, then try the first hole's depth again."})
				}
				o.Checks = append(o.Checks, c)
				o.Lines = append(o.Lines, Row{Label: "tip below seat", Value: d, Unit: unit.KLength, Big: true}, Row{Label: "meant", Value: want, Unit: unit.KLength})
				if r := p.Job.Fixture.Threads.Relief; r > 0 {
					left := Judged(Limit{ID: "drill.relief", Why: "the point stays in the relief and does not reach the thread", Max: r, Class: Soft, Unit: unit.KLength}, d, 0)
					if left.Verdict == Fail {
						left.Words = fmt.Sprintf("The relief is %s deep: the point went into the thread.", p.len(r))
						if len(o.Next) == 0 {
							o.Next = append(o.Next, Act{Do: "round", Words: left.Words + " Look at the thread; go less deep at the others."})
						}
					}
					if p.Setup.HoldDown == "T" {
						o.Checks = append(o.Checks, left)
					}
				}
			}
			if in := p.drillIn(); in.Want != "" && !SameAnswer(v.Text("tool"), in.Want) && len(o.Next) == 0 {
				o.Next = append(o.Next, Act{Do: "remove", Of: "probe", Words: in.Hint}, Act{Do: "again", Of: "tool"})
			}
			if v.Int("tight") > 0 && len(o.Next) == 0 {
				o.Next = append(o.Next, Act{Do: "drill", Of: "holes", Words: "Clear the chips, run the drill through those holes once more, try the pin again."}, Act{Do: "again", Of: "tight"})
			}
			p.placeChecks(v, &o)
			plan := p.drillPlan()
			o.Lines = append(append(o.Lines, plan.rows...), p.placeRows(v.Fact)...)
			o.Notes = append(o.Notes, plan.notes...)
			p.programsPass(v, whileHeld, &o)
			o.Facts = []Fact{{ID: "holes", Value: []float64{float64(v.Int("holes"))}}}
			o.Learned = fmt.Sprintf("%d holes; a pin drops through all. The first went %s below the seat.", v.Int("holes"), p.len(d))
			return o
		},
		Page: func(v View) Page {
			var marks []Shape
			for _, q := range p.Setup.Screws.At {
				marks = append(marks, Shape{Role: RoleNext, Points: []XY{p.fixturePlace(q)}})
			}
			path, warn := p.passingShapes(v, whileHeld)
			pg := Page{Why: "At breakthrough the drill screws itself in and lifts the part: straps must hold it down.",
				Act:     "Drill the first hole, stop, measure its depth. Then the rest.",
				Read:    "Feed hold at the bottom: how far W Z stands below the seat, W Z" + p.signed(p.seatZ()) + ". Add what the drill has slipped out of its collet: its stick-out by calliper, against before.",
				Caution: "Eye protection, door shut; extraction and mask for wood dust. Your hand on feed hold.",
				Hands:   "Hands away, expect 10 min.",
				Rows:    append(p.drillPlan().rows, p.placeRows(v.Fact)...),
				Scene:   p.scene(v, append(marks, path...))}
			if gapped && v.Has("tool") && !v.Has("gap") {
				gap.page(v, &pg)
			}
			if warn != "" {
				pg.Caution = warn
			}
			return pg
		},
	}
}

// drillIn asks which drill is in the spindle before the door is shut: of several the
// narrowest drills first.
func (p *Plan) drillIn() Ask {
	n, _, ok := p.coreDrill()
	if ds := p.drills(); !ok && len(ds) == 1 {
		n, ok = ds[0], true
	}
	a := Ask{Field: "tool", Label: "tool number in the spindle", Kind: Count, What: What{By: "eye", Of: "spindle", Dir: "tool"}}
	name := "Drill"
	if ok {
		a.Want, name = fmt.Sprint(n), p.toolName(fmt.Sprint(n))
		a.WantWhy, a.Hint = "Another drill goes to another depth; a probe is thrown.", "Probe out. Fit "+name+"."
	}
	a.Do = []Act{{Do: "remove", Of: "probe", Words: "Probe OUT of the spindle. " + name + " in, its own length active."}}
	return a
}

// firstDrill is the drill that is in first, 0 when that is not known.
func (p *Plan) firstDrill() int {
	n := 0
	fmt.Sscan(p.drillIn().Want, &n)
	return n
}

// numberOf is a tool's number as typed, "" when it is not the job's.
func (p *Plan) numberOf(t jobs.Tool) string {
	for _, n := range p.toolNumbers() {
		if p.Job.Tools[n] == t {
			return fmt.Sprint(n)
		}
	}
	return ""
}
