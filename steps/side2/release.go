package side2

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"fliptrue/calc/budget"
	"fliptrue/calc/unit"
	"fliptrue/steps/checks"
	"fliptrue/steps/desk"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// release is the one decision: mismatch at the worst listed feature, all lines of both sides and the shift in.
func release(p *fold.Plan) *fold.Spec {
	l := screwed(p)
	if judge.WitnessCuts(p) {
		l.Holds = append(l.Holds, "witnessed")
	}
	return Release(p, l)
}

// Release is that decision for a part by what holds it.
func Release(p *fold.Plan, load kit.Load) *fold.Spec {
	live := append([]fold.FactID{"offset", "echo"}, checks.ProgramFacts(p)...)
	live = append(append(append(live, "seat"), load.Holds...), "shift", "deck", "skimmed")
	live = append(live, load.Freed...)
	live = append(live, checks.CutterLengths(p)...)
	return &fold.Spec{
		Title: "release",
		Needs: fold.Needs(fold.Live(live...), fold.IfThere(append([]fold.FactID{"tram", "drift", "identity", "bore", "baseline", "part/hours"},
			fromSide1...)...)), Makes: []fold.FactID{"release"}, Former: []string{"allowance", "part"},
		Pause: &fold.Pause{Heading: "FULL DEPTH: A PART THAT LEAVES ITS SEAT NOW IS THROWN",
			Lost: "Stop if the pitch changes, a screw head moves, or chips turn to powder or melt.",
			Ask: func(fold.View) fold.Ask {
				a := load.Through
				a.Do = append(a.Do[:len(a.Do):len(a.Do)], raiseOut(p)...)
				return a
			}},
		Judge: func(v fold.View) fold.Outcome { return decide(p, v) },
		Page: func(v fold.View) fold.Page {
			pg := fold.Page{Why: "One decision about the whole: is the mismatch to be expected within the allowance, its uncertainty included?",
				Act:     "Look through the door, count the paint lines, then decide.",
				Read:    "The value seen.",
				Caution: "Door shut, eye protection, extraction and mask for dust. This tool does not stop the machine.",
				Scene:   kit.Scene(p, v, nil)}
			if load.Through.What.Of == "door" {
				pg.Act = "Shut the door, look through it, then decide."
			}
			pg.Scene.Bars = featureRows(kit.RegisterAs(p, v.Fact, true, kit.WalkOf(v)))
			return pg
		},
	}
}

// decide holds the mismatch at the worst feature against the allowance, and the part once more in its seat.
func decide(p *fold.Plan, v fold.View) fold.Outcome {
	var o fold.Outcome
	fs := kit.RegisterAs(p, v.Fact, true, kit.WalkOf(v))
	if len(fs) == 0 {
		o.Checks = append(o.Checks, judge.So(fold.Limit{ID: "release.offset", Why: "work offset", Class: fold.Never}, false,
			"There is no offset to judge."))
		o.Next = append(o.Next, fold.Act{Do: "reopen", Of: "offset", Words: "Compute the offset again."})
		return o
	}
	i, axis, value, guard := kit.WorstFeature(fs)
	c := judge.Of(p.Limit("release.register"), value, guard)
	c.Largest = fs[i].Largest[axis]
	c.Words = fmt.Sprintf("Worst at %s along %s. %.0f %% of the doubt is %s.", fs[i].Name, strings.ToUpper(kit.AxisName[axis]),
		100*fs[i].Share[axis], c.Largest)
	o.Checks = append(o.Checks, c)
	if !c.Verdict.OK() {
		next, ok := recentred(p, v, fs)
		if !ok {
			next = unproven(p, v, "release", c)
		}
		o.Next = append(o.Next, next)
	}
	o.Lines = append(o.Lines, fold.Row{Label: "mismatch at the worst feature", Value: value, Guard: guard, Unit: unit.KLength, Big: true,
		Verdict: c.Verdict})
	o.Lines = append(o.Lines, featureRows(fs)...)
	o.Notes = append(o.Notes, assumedIn(fs[i].Lines[axis])...)
	desk.HoldDown(p, desk.ScrewsFound(p, v), &o, "hold.retention")
	o.Facts = []fold.Known{facts.Release.Is(facts.Done{})}
	o.Learned = fmt.Sprintf("Side 2 will stand within %s of side 1 at the worst feature, %s.", p.Len(value+guard), fs[i].Name)
	return o
}

// featureRows are the error of every feature along X and Y.
func featureRows(fs []kit.FeatureError) (rows []fold.Row) {
	for _, f := range fs {
		for a, name := range []string{"X", "Y"} {
			rows = append(rows, fold.Row{Label: f.Name + " " + name, Value: f.Error[a], Guard: f.Guard[a], Unit: unit.KLength, Signed: true})
		}
	}
	return rows
}

// unproven is the way back to the reading that works on what costs most, else what to do without one. Before the part
// is in, its lines wait for the steps that read them.
func unproven(p *fold.Plan, v fold.View, here fold.StepID, c fold.Check) fold.Act {
	if at, ok := waivedBefore(p, v, here, c); ok && v.Walks(4) {
		sp, _ := p.Spec(at)
		return fold.Act{Do: "reopen", Of: string(at), Words: fmt.Sprintf("%s A limit was waived at %q, and that is in it: "+
			"read that again first. %s", c.Words, sp.Title, mendWords(p, c.Largest))}
	}
	act := fold.Act{Do: "look", Of: string(here), Words: c.Words + " " + mendWords(p, c.Largest)}
	if at := mends(p, c.Largest); at != "" && at != string(here) && !(here == "offset" && (at == "seat" || at == "shift" || at == "screws")) {
		act.Do, act.Of = "reopen", at
	}
	return act
}

// waivedBefore is the step whose waived limit is in what is not proven: the one that works on its largest line; where
// none does, the first of the walk that was passed over.
func waivedBefore(p *fold.Plan, v fold.View, here fold.StepID, c fold.Check) (fold.StepID, bool) {
	from := []fold.StepID{"square", "bore", "floor", "seat", "screws", "shift"}
	if at := fold.StepID(mends(p, c.Largest)); at != "" {
		from = []fold.StepID{at}
	}
	for _, at := range from {
		if _, is := p.Spec(at); is && at != here && v.WaivedAt(at) && !(here == "offset" && (at == "seat" || at == "screws" || at == "shift")) {
			return at, true
		}
	}
	return "", false
}

// mends is the step that works on a line of the budget, "" where no step of this setup does.
func mends(p *fold.Plan, line string) string {
	switch line {
	case "shift test", "lean at the swap":
		if makers := p.Makers("shift"); len(makers) > 0 { // without straps the dial while screwing
			return string(makers[0].ID)
		}
	case "clearance", "wall contact", "place on its locator", "turn at the stops", "width measured again", "squareness and turn at the walls",
		"turn at the walls":
		return "seat"
	case "skew":
		return "square"
	case "bore", "bore, skew and scale", "scale", "probe":
		return "bore"
	case "squareness", "growth by one bore", "heat", kit.DampLine, kit.DampLine + ", hygrometers", "lead", "lead of side 1",
		"lead of the screws":
		return ""
	}
	return "offset"
}

// mendWords say what makes the line smaller.
func mendWords(p *fold.Plan, line string) string {
	switch line {
	case "shift test", "lean at the swap":
		if p.Setup.HoldDown == "S" {
			return "Loosen the screws and tighten them again, a dial on the part."
		}
		return "Read the witness set again with more repeats."
	case "place on its locator":
		return "Push the part to one side across its pins, and say so in the job."
	case "clearance":
		return "Push the part against two walls, and say so in the job."
	case "bore":
		return "Take more hits in the bore."
	case "skew":
		return "Tap the fixture squarer: part out first."
	case "squareness":
		return "Measure the machine's squareness, or accept it by typing the number."
	case "growth by one bore", "heat":
		return "Read a thermometer or a second bore, or accept it by typing the number."
	case kit.DampLine, kit.DampLine + ", hygrometers":
		return "Read a second bore, or accept it by typing the number."
	case "lead", "lead of side 1", "lead of the screws":
		return "Put the lead of the screws on the machine's card, or accept it by typing the number."
	}
	return "Lower that line, or accept it by typing the number."
}

// assumedIn names what nobody measured of the lines of a budget, the largest first.
func assumedIn(lines []budget.Line) []string {
	lines = slices.SortedStableFunc(slices.Values(lines), func(a, b budget.Line) int { return cmp.Compare(b.Std(), a.Std()) })
	var names []string
	for _, l := range lines {
		if l.Assumed && !slices.Contains(names, l.Name) {
			names = append(names, l.Name)
		}
	}
	const most = 4 // more are not read
	switch n := len(names); {
	case n == 0:
		return nil
	case n > most:
		return []string{fmt.Sprintf("Assumed, not measured: %s and %d smaller.", strings.Join(names[:most], ", "), n-most)}
	}
	return []string{"Assumed, not measured: " + strings.Join(names, ", ") + "."}
}
