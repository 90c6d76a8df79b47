package side2

import (
	"fmt"
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// screwing is the step that puts the screws in, in rounds, with a dial on the part.
type screwing struct {
	p     *fold.Plan
	alone bool     // no straps: the dial stands for the shift test
	axes  []string // that the dial is read along
}

func screws(p *fold.Plan) *fold.Spec {
	s := screwing{p: p, alone: p.Setup.HoldDown == "S", axes: []string{"z"}}
	if s.alone {
		s.axes = []string{"x", "y"}
	}
	sp := &fold.Spec{
		Title: "screws in", Needs: fold.Needs(fold.Live("seat"), fold.AsRead("holes", "threads")), Makes: []fold.FactID{"screws"},
		Keys: []string{"setups." + p.Setup.Name + ".screws"},
		Pause: &fold.Pause{Heading: "A STRIPPED THREAD IS A LOST THREAD", Lost: "Screw length, washer and torque are settled now.",
			Ask: func(fold.View) fold.Ask {
				a := fold.Ask{Label: "length of the screw in your hand, under its head", Kind: fold.Reading, Unit: unit.KLength,
					What: fold.What{By: "eye", Of: "screws", Dir: "length"}}
				a.Window = kit.Around(p.Setup.Screws.Length, 0.6, "the job")
				return a
			}},
		Asks: s.asks, Judge: s.judge, Page: s.page,
	}
	if s.alone {
		sp.Makes = append(sp.Makes, "shift")
	} else {
		sp.Needs = fold.Needs(sp.Needs, fold.AsRead("clamps", "baseline"))
	}
	return sp
}

func (s screwing) page(v fold.View) fold.Page {
	p := s.p
	var marks []fold.Shape
	for i, q := range p.Setup.Screws.At {
		marks = append(marks, fold.Shape{Role: fold.RoleScrew, Name: fmt.Sprint(i + 1), Points: []fold.XY{kit.FixturePlace(p, q)}})
	}
	pg := fold.Page{Why: "Screws pull a part sideways, most of all the first one.",
		Act:     "Screw the part down in three rounds, dial on it. " + tighteningWords(p),
		Read:    "The dial against its zero after each round.",
		Caution: "Eye protection: plastic threads let go without warning. Pull level and square on the key, slowly.",
		Scene:   kit.Scene(p, v, marks)}
	if h := desk.Hold(p, desk.Found(v)); h.Why == "" {
		pg.Rows = h.PreloadRows(p)
		pg.Scene.Clocks = s.clocks(v, h)
	}
	if undialledScrews(p) {
		pg.Act = "Screw the part down in three rounds. " + tighteningWords(p)
	} else if s.alone {
		pg.Read = "Dial zeroed at the end farthest from the first screw: X there and Y there, after each round."
		if p.Short() {
			pg.Read = "Dials zeroed at the end farthest from the first screw: what they show after the last round."
		}
	}
	pg.Read = s.toRead(v, pg.Read)
	return pg
}

// toRead are the words for what is read next: those of the dial only while a dial is read.
func (s screwing) toRead(v fold.View, dial string) string {
	switch {
	case v.Has("torque"):
		return ""
	case howSet(v) == byDriver:
		return "One torque for all."
	case v.Has("set") || undialledScrews(s.p) || s.p.Reads(fold.FirstUse) && !v.Has("pause"):
		return ""
	}
	return dial
}

// clocks are the rounds of tightening: how far each goes past snug where the angle is known, else its share of
// the torque.
func (s screwing) clocks(v fold.View, h desk.Holding) []fold.Clock {
	var out []fold.Clock
	read := -1 // the last round whose dial was read: one before it is done, whether it was read or not
	for i := range stages {
		if v.Has(fmt.Sprintf("round%d.%s", i+1, s.axes[0])) {
			read = i
		}
	}
	for i, share := range stages {
		t, turned := h.Round(s.p, share)
		c := fold.Clock{Name: fmt.Sprintf("%.0f %%", 100*share), Text: t, Share: share, Role: fold.RoleLater}
		if turned > 0 {
			c.Share = turned
		}
		switch {
		case i <= read:
			c.Role = fold.RoleHit
		case i == read+1:
			c.Role = fold.RoleNext
		}
		out = append(out, c)
	}
	return out
}

func tighteningWords(p *fold.Plan) string {
	var s []string
	for _, i := range tightening(p) {
		s = append(s, fmt.Sprint(i))
	}
	return "Order " + strings.Join(s, "-") + "."
}

// roundWords is the act of one round of tightening.
func roundWords(p *fold.Plan, v fold.View, h desk.Holding, i int) string {
	switch i {
	case 0:
		w := "Washers on. "
		if p.Setup.Screws.Washer == 0 {
			w = ""
		}
		if !undialledScrews(p) {
			w += dialStands(p, v.Walks(3) && (!p.Short() || p.Reads(fold.Irreplaceable))) + " "
		}
		return w + "All screws snug. Then to 40 %" + stageWords(p, h, i) + " " + tighteningWords(p)
	case 1:
		return "As before, all to 70 %" + stageWords(p, h, i)
	}
	return "All to 100 %" + stageWords(p, h, i) + " Once round again: the early ones have relaxed. Paint a line across head and part."
}

// stageWords are torque and level pull of a round, and its angle where one is known.
func stageWords(p *fold.Plan, h desk.Holding, i int) string {
	if h.Why != "" {
		return "."
	}
	return ": " + h.ByHand(p, stages[i])
}

// undialledScrews says that the level reads no dial as the screws go in.
func undialledScrews(p *fold.Plan) bool {
	from := fold.Irreplaceable
	if p.Setup.HoldDown == "S" {
		from = fold.FirstUse
	}
	return p.Short() && !p.Reads(from)
}

// dialStands says where the dial that watches the screws is set, before the first of them turns.
func dialStands(p *fold.Plan, height bool) string {
	order := tightening(p)
	if len(order) == 0 {
		return "Zero the dial."
	}
	end := farEnd(p, order[0])
	if p.Setup.HoldDown == "S" {
		s := fmt.Sprintf("Dials in X and in Y at the part's %s end, farthest from screw %d: zero both.", end, order[0])
		if height {
			s += " One more down on its top."
		}
		return s + " One dial alone: note each zero where it stands."
	}
	return fmt.Sprintf("Dial down on the part's top at its %s end, farthest from screw %d, clear of the straps. Zero it.", end, order[0])
}

// farEnd names the part's end, along its longer side, that is farthest from the n-th screw, from 1.
func farEnd(p *fold.Plan, n int) string {
	q, size := p.Setup.Screws.At[n-1], p.Job.Part.Size
	switch {
	case size[0] >= size[1] && q.X < size[0]/2:
		return "RIGHT"
	case size[0] >= size[1]:
		return "LEFT"
	case q.Y < size[1]/2:
		return "FAR"
	}
	return "NEAR"
}

// screwSlips names a soft thread and a screw on the bottom of its hole.
func screwSlips(p *fold.Plan, v fold.View, o *fold.Outcome) {
	if v.Int("soft") > 0 || (screwing{p: p}).firm() && v.Has("in") && v.Int("in") < len(p.Setup.Screws.At) {
		o.Named = "soft-thread"
		o.Next = append(o.Next, softScrew...)
	} else if v.Int("loose") > 0 {
		o.Named = "screw-bottomed"
		o.Next = append(o.Next, bottomed...)
	}
}

// What is done about a screw that holds nothing.
var (
	softScrew = []fold.Act{{Do: "thread", Of: "holes",
		Words: "That screw counts 0. Take it out, fit an insert or move to a spare thread, put it in again."}, {Do: "round"}}
	bottomed = []fold.Act{{Do: "screw", Of: "screws", Dir: "shorter",
		Words: "It stands on the bottom of its hole. Take a shorter screw or one more washer, tighten all again."}, {Do: "round"}}
)
