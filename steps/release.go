package steps

import (
	"fmt"
	"strings"

	"fliptrue/calc/unit"
)

// release is the one decision: mismatch at the worst listed feature, all lines of both sides and the shift in.
func release(p *Plan) *Spec {
	live := append([]FactID{"offset", "echo"}, p.programFacts()...)
	live = append(live, "seat", "holes", "threads", "screws", "shift", "deck", "skimmed")
	if p.Setup.HoldDown != "S" {
		live = append(live, "lifted", "unstrapped")
	}
	live = append(live, p.cutterLengths()...)
	return &Spec{
		Title: "release", Live: live, Seen: append([]FactID{"tram", "drift", "identity", "bore"}, fromSide1...), Makes: []FactID{"release"}, Keys: []string{"allowance", "part"},
		Pause: &Pause{Heading: "FULL DEPTH: A PART THAT LEAVES ITS SEAT NOW IS THROWN", Lost: "Stop if the pitch changes, a screw head moves, or chips turn to powder or melt.",
			Ask: func(View) Ask {
				return Ask{Label: "paint lines unbroken, seen through the shut door", Kind: Count, What: What{By: "eye", Of: "paint-lines"}, Want: fmt.Sprint(len(p.Setup.Screws.At)),
					WantWhy: "A turned line is a screw that has let go.", Hint: "Stop, open, tighten in order."}
			}},
		Judge: func(v View) Outcome {
			var o Outcome
			fs := p.register(v.Fact, true)
			if len(fs) == 0 {
				o.Checks = append(o.Checks, Check{Limit: Limit{ID: "release.offset", Why: "there is an offset", Class: Never}, Count: true, Verdict: Fail, Words: "There is no offset to judge."})
				o.Next = append(o.Next, Act{Do: "reopen", Of: "offset", Words: "Compute the offset again."})
				return o
			}
			i, axis, value, guard := worstFeature(fs)
			c := Judged(p.Limit("release.register"), value, guard)
			c.Largest = fs[i].Largest[axis]
			c.Words = fmt.Sprintf("Worst at %s along %s; the largest line is %s with %.0f %% of the variance.", fs[i].Name, strings.ToUpper(axisName[axis]), c.Largest, 100*fs[i].Share[axis])
			o.Checks = append(o.Checks, c)
			if !c.Verdict.OK() {
				o.Next = append(o.Next, Act{Do: "reopen", Of: p.mends(c.Largest), Words: c.Words + " " + p.mendWords(c.Largest)})
			}
			o.Lines = append(o.Lines, Row{Label: "mismatch at the worst feature", Value: value, Guard: guard, Unit: unit.KLength, Big: true, Verdict: c.Verdict})
			for _, f := range fs {
				for a, name := range []string{"X", "Y"} {
					o.Lines = append(o.Lines, Row{Label: f.Name + " " + name, Value: f.Error[a], Guard: f.Guard[a], Unit: unit.KLength, Signed: true, Text: ""})
				}
			}
			var assumed []string
			seen := map[string]bool{}
			for _, l := range fs[i].Lines[axis] {
				if l.Assumed && !seen[l.Name] {
					seen[l.Name] = true
					assumed = append(assumed, l.Name)
				}
			}
			if len(assumed) > 0 {
				o.Notes = append(o.Notes, "Assumed, not measured: "+strings.Join(assumed, ", ")+".")
			}
			p.holdDown(p.screwsFound(v), &o, "hold.retention")
			o.Facts = []Fact{{ID: "release"}}
			o.Learned = fmt.Sprintf("Side 2 will stand within %s of side 1 at the worst feature, %s.", p.len(value+guard), fs[i].Name)
			return o
		},
		Page: func(v View) Page {
			pg := Page{Why: "One decision about the whole: is the mismatch to be expected within the allowance, its uncertainty included?",
				Act:     "Look through the door, count the paint lines, then decide.",
				Read:    "The value seen.",
				Caution: "Door shut, eye protection, extraction and mask for dust. This tool does not stop the machine.",
				Scene:   p.scene(v, nil)}
			for _, f := range p.register(v.Fact, true) {
				for a, name := range []string{"X", "Y"} {
					pg.Scene.Bars = append(pg.Scene.Bars, Row{Label: f.Name + " " + name, Value: f.Error[a], Guard: f.Guard[a], Unit: unit.KLength, Signed: true})
				}
			}
			return pg
		},
	}
}

// mends is the step that works on a line of the budget.
func (p *Plan) mends(line string) string {
	switch line {
	case "shift test":
		return "shift"
	case "clearance", "wall contact":
		return "seat"
	case "skew":
		return "square"
	case "bore", "bore, skew and scale", "scale", "probe":
		return "bore"
	}
	return "offset"
}

func (p *Plan) mendWords(line string) string {
	switch line {
	case "shift test":
		return "Read the witness set again with more repeats."
	case "clearance":
		return "Push the part against two walls, and say so in the job."
	case "bore":
		return "Take more hits in the bore."
	case "skew":
		return "Tap the fixture squarer: part out first."
	}
	return "Lower that line, or accept it by typing the number."
}
