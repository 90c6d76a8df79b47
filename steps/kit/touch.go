package kit

import (
	"fmt"
	"math"

	"fliptrue/calc/pickup"
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
)

// MarkAsk asks how the spindle stands with the probe in: what the ball is off centre by has a direction.
func MarkAsk() fold.Ask {
	return fold.Ask{Field: "mark", Label: "the mark on the spindle points", Kind: fold.Choice, Options: []string{"toward you", "away", "left",
		"right"}, What: fold.What{By: "eye", Of: "spindle", Dir: "mark"}, Want: "toward you",
		WantWhy: "The ball's place is known only for one way of the spindle.", Hint: "Turn the spindle, mark to the front."}
}

// MarkWrong says that the mark was seen elsewhere, and what to do: nothing is probed like this.
func MarkWrong(v fold.View, o *fold.Outcome) bool {
	a := MarkAsk()
	if !v.Has(a.Field) || fold.SameAnswer(v.Text(a.Field), a.Want) {
		return false
	}
	o.Named = "spindle-unmarked"
	o.Next = append(o.Next, fold.Act{Do: "mark", Of: "spindle", Dir: "0", Words: "Turn the spindle by hand, mark to the front, and lock it. " +
		"Then look again."}, fold.Act{Do: "again", Of: a.Field})
	return true
}

// paperThickness is a strip of paper's, mm (common practice; asked where it counts).
const paperThickness = 0.1

// TouchBy is what touches heights: the probe, or the first tool over a block or paper.
func TouchBy(p *fold.Plan) string {
	if p.Job.Machine.Probe != nil {
		return "probe"
	}
	return "tool"
}

// Standard deviation of a touch of a tool over a gauge block, mm (estimate, common practice).
const blockRepeat = 0.003

// TouchS is the scatter of one touch of a height, with its degrees of freedom.
func TouchS(p *fold.Plan) (s, dof float64) {
	switch {
	case TouchBy(p) == "probe":
		return judge.ProbeS(p)
	case p.Setup.Finds == "paper":
		s = judge.PaperRepeat
	default:
		s = blockRepeat
	}
	return math.Max(s, pickup.StepU(p.Job.Machine.Readout)), judge.TypeB
}

// BlockAsk asks what lies under the tool at each touch.
func BlockAsk(p *fold.Plan) fold.Ask {
	a := fold.Ask{Field: "block", Label: "height of the gauge block under the tool", Kind: fold.Reading, Unit: unit.KLength,
		What:   fold.What{By: "gauge", Of: "block", Dir: "height"},
		Window: Around(Even(p, 10, 10, 0.5), Even(p, 40, 40, 1.5), "a gauge block")}
	if p.Setup.Finds == "paper" {
		a.Label, a.What.Of = "thickness of the paper under the tool", "paper"
		a.Window = Around(paperThickness, paperThickness, "paper")
	}
	return a
}

// Counted asks for a number that is seen; want is the only one that passes.
func Counted(field, label, of, dir, want, why, hint string) fold.Ask {
	return fold.Ask{Field: field, Label: label, Kind: fold.Count, What: fold.What{By: "count", Of: of, Dir: dir}, Want: want, WantWhy: why,
		Hint: hint}
}

// Mend is the ask with its cure: an act, after which it is looked at again; nothing further is asked before.
func Mend(a fold.Ask, shows string, acts ...fold.Act) fold.Ask {
	a.Shows, a.Cure = shows, append(acts, fold.Act{Do: "again", Of: a.Field})
	return a
}

// OneForm asks them on one page, answered together.
func OneForm(form string, asks ...fold.Ask) []fold.Ask {
	for i := range asks {
		asks[i].Form = form
	}
	return asks
}

// EdgeName names the high side of a tilt given as rises across the part.
func EdgeName(x, y float64) string {
	return sideWord(pickup.HighSide(x, y))
}

// RepeatField names the k-th reading of a witness, from 1.
func RepeatField(field string, k int) string {
	if k == 1 {
		return field
	}
	return fmt.Sprintf("%s.%d", field, k)
}

// Quarters are hits square to the axes.
var Quarters = [...]struct {
	Field, dir, axis string
	cos, sin         float64
}{{"f0", "0", "x", 1, 0}, {"f90", "90", "y", 0, 1}, {"f180", "180", "x", -1, 0}, {"f270", "270", "y", 0, -1}}
