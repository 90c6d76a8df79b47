package inspect

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	calc "fliptrue/calc/inspect"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// face is an outer face of the part: its name in fields, for the person and in What, and its two ends.
type face struct {
	field, name, of string
	looks           fit.Direction
	ends            [2]struct{ field, name string }
}

var faces = []face{
	{"right", "RIGHT", "part-right", fit.XPlus, alongY}, {"left", "LEFT", "part-left", fit.XMinus, alongY},
	{"away", "AWAY", "part-rear", fit.YPlus, alongX}, {"toward", "TOWARD YOU", "part-front", fit.YMinus, alongX},
}

var (
	alongY = [2]struct{ field, name string }{{"near", "TOWARD YOU"}, {"far", "AWAY"}}
	alongX = [2]struct{ field, name string }{{"low", "LEFT"}, {"high", "RIGHT"}}
)

func (f face) alongY() bool { return f.looks == fit.XPlus || f.looks == fit.XMinus }

// place is where a step is read: its field, in words, and along its face from the middle.
type place struct {
	face
	id, words string
	along     float64
}

// middle is the part's, program coordinates.
func middle(p *fold.Plan) frame.Vec {
	return frame.Vec{X: p.Job.Part.Size[0] / 2, Y: p.Job.Part.Size[1] / 2}
}

// at is the place along the face in program coordinates.
func (s place) at(p *fold.Plan) string {
	m := middle(p)
	if s.alongY() {
		return s.of + "@" + kit.Place(m.Y+s.along)
	}
	return s.of + "@" + kit.Place(m.X+s.along)
}

// places are where the steps are read: two on a face, or one in its middle.
func places(p *fold.Plan) []place {
	m, in := middle(p), p.Setup.Inspect
	var out []place
	for _, f := range faces {
		if in.Short {
			out = append(out, place{f, f.field, f.name + " face, middle", 0})
			continue
		}
		half, given := m.X, in.At[1]
		if f.alongY() {
			half, given = m.Y, in.At[0]
		}
		if given == 0 {
			given = kit.Even(p, 0.7*half, 1, 0.05)
		}
		for i, e := range f.ends {
			out = append(out, place{f, f.field + "." + e.field, f.name + " face, end " + e.name, [2]float64{-given, given}[i]})
		}
	}
	return out
}

// feeler is the strip that proves sign and scale of the dial, mm.
func feeler(p *fold.Plan) float64 { return p.Sensible(0.1) }

func scaleLimit(p *fold.Plan) float64 {
	return math.Max(0.1*feeler(p), p.Job.Machine.Dial.Graduation)
}

// steps reads the step across the parting line, and tells place, turn, size and squareness apart.
func steps(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "steps", Needs: facts.Benched.Live(), Makes: []fold.FactID{facts.Mismatch.ID},
		Keys:  []string{"setups." + p.Setup.Name + ".inspect"},
		Asks:  func(fold.View) []fold.Ask { return stepAsks(p) },
		Judge: func(v fold.View) fold.Outcome { return judgeSteps(p, v) },
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "The steps say where side 2 lies: shifted, turned, larger, or a machine out of square.",
				Act: "Stylus on side 1, needle to 0, slide across the parting line, read on side 2.", Read: "Side 2 further out is +. Stay " +
					p.Len(p.Sensible(1)) + " from a rounded edge.",
				Caution: "Hold the part by hand alone; a vise bends a thin wall.", Scene: drawn(p, nil)}
		},
	}
}

func stepAsks(p *fold.Plan) []fold.Ask {
	sign := fold.Ask{Field: "feeler", Label: "dial over a feeler of " + p.Len(feeler(p)) + " laid on side 2", Kind: fold.Reading,
		Unit: unit.KLength, What: fold.What{By: "dial", Of: "feeler", Dir: "sign"},
		Window: kit.Around(feeler(p), 0.5*feeler(p), "the feeler"),
		Do: []fold.Act{{Do: "fit", Of: "dial", Words: "Dial on a stand on a flat plate. Stylus on side 2, needle to 0; then slip the feeler " +
			"under."}}}
	asks := []fold.Ask{sign}
	for _, s := range places(p) {
		asks = append(asks, fold.Ask{Field: s.id, Label: s.words + ": side 2 less side 1", Kind: fold.Reading, Unit: unit.KLength,
			What: fold.What{By: "dial", Of: s.at(p), Dir: "step"}, Window: kit.Around(0, math.Max(0.2, 4*float64(p.Job.Allowance)),
				"two sides that meet")})
	}
	return asks
}

func judgeSteps(p *fold.Plan, v fold.View) fold.Outcome {
	var o fold.Outcome
	c := judge.Off(p.Limit("inspect.scale"), v.Len("feeler"), feeler(p), 0)
	if c.Verdict != fold.Pass {
		c.Words = fmt.Sprintf("The dial shows %s for a feeler of %s. It reads the other way, or its stylus stands steep.",
			kit.Signed(p, v.Len("feeler")), p.Len(feeler(p)))
		o.Named = "dial-backwards"
		o.Next = append(
			o.Next, fold.Act{Do: "fit", Of: "dial", Words: "Set the stylus flat to the face and take its sign again; then all steps."},
			fold.Act{Do: "round"})
	}
	o.Checks = append(o.Checks, c)
	scale := leverOf(p, v)
	u := calc.StepUOf(p.Job.Machine.Dial.Graduation) / scale.K
	var read []calc.Step
	where := places(p)
	for _, s := range where {
		read = append(read, calc.Step{Face: s.looks, Along: s.along, Height: v.Len(s.id) / scale.K, U: u})
	}
	m, err := calc.ToMismatch(read, nil)
	if err != nil {
		kit.Refuse(&o, "inspect.steps", reckoned, err)
		return o
	}
	o.Checks = append(o.Checks, oddSteps(p, m, where, &o))
	m = m.Levered(scale.U)
	o.Facts = []fold.Known{facts.Mismatch.Is(known(m))}
	if off := math.Round(100 * (scale.K - 1)); off != 0 {
		o.Notes = append(o.Notes, fmt.Sprintf("The dial shows %+.0f %% over the feeler: each step is divided by it.", off))
	}
	k, real := m.U(), m.Real()
	g := budget.TQuantile(0.95, m.Dof)
	row := func(label string, i int, value float64, kind unit.Kind) {
		if k[i] > 0 {
			o.Lines = append(o.Lines, fold.Row{Label: label, Value: value, Guard: g * k[i], Unit: kind, Signed: true, Big: real[i]})
		}
	}
	row("side 2 along X, to the RIGHT is +", 0, m.DX, unit.KLength)
	row("side 2 along Y, AWAY is +", 1, m.DY, unit.KLength)
	row("side 2 turned, counter-clockwise is +", 2, float64(m.Turn), unit.KSlope)
	row("side 2 larger on each face", 3, m.Size, unit.KLength)
	row("out of square, X per Y", 4, float64(m.Square), unit.KSlope)
	o.Notes = append(o.Notes, told(p, m, real)...)
	o.Learned = fmt.Sprintf("Side 2 lies %s along X and %s along Y of side 1.", kit.Signed(p, m.DX), kit.Signed(p, m.DY))
	return o
}

// leverOf is the dial's scale over the feeler; one that is told apart from no dial at all is left as it is, and does not pass.
// Earlier walks took each step as it was read.
func leverOf(p *fold.Plan, v fold.View) calc.Lever {
	if l, err := calc.ToLever(v.Len("feeler"), feeler(p), p.Job.Machine.Dial.Graduation); err == nil && v.Walks(4) {
		return l
	}
	return calc.Lever{K: 1}
}

// oddSteps holds the readings against one shift, turn, size and squareness.
func oddSteps(p *fold.Plan, m calc.Mismatch, where []place, o *fold.Outcome) fold.Check {
	l := fold.Limit{ID: "inspect.odd", Why: "the steps fit one shift and turn", Class: fold.Soft}
	if len(m.Odd) == 0 {
		return judge.So(l, true, "")
	}
	s := where[m.Odd[0]]
	c := judge.So(l, false, fmt.Sprintf("%s does not fit the others, by %s. A burr, a chip, or the stylus on the rounded edge.", s.words,
		p.Len(math.Abs(m.OddBy[0]))))
	if len(o.Next) == 0 {
		o.Named = "odd-step"
		o.Next = append(o.Next, fold.Act{Do: "wipe", Of: "part", Words: "Wipe and stone the parting line there; then read once more."})
		for _, i := range m.Odd {
			o.Next = append(o.Next, fold.Act{Do: "again", Of: where[i].id})
		}
	}
	return c
}

// told says what the readings tell apart, and whose each of it is.
func told(p *fold.Plan, m calc.Mismatch, real [5]bool) (out []string) {
	if m.Told == calc.NotAsked {
		out = append(out, "The turn is not asked: one step a face tells place and size alone.")
	}
	if real[3] {
		way := "smaller"
		if m.Size < 0 {
			way = "larger"
		}
		out = append(out, fmt.Sprintf("The size is the cutter's, not the fixture's: enter its radius %s by %s for the outline.", way,
			p.Len(math.Abs(m.Size))))
	}
	if real[4] {
		e, _ := m.MachineSquare()
		out = append(out, fmt.Sprintf("The machine is out of square by %s. That goes on its card, not on the fixture's.", p.Slope(float64(e))))
	}
	return out
}

// known and mismatch are one thing as a fact and as calc has it.
func known(m calc.Mismatch) facts.MismatchFact {
	f := facts.MismatchFact{DX: unit.Length(m.DX), DY: unit.Length(m.DY), Turn: m.Turn, Size: unit.Length(m.Size),
		Square: unit.Angle(m.Square), Told: float64(m.Told)}
	var c [][]float64
	for i := range m.Cov {
		c = append(c, m.Cov[i][:])
	}
	if f.Cov = fold.NewCov("dx,dy,turn,size,square", c); !math.IsInf(m.Dof, 1) {
		f.Dof = m.Dof
	}
	return f
}

func mismatch(f facts.MismatchFact) calc.Mismatch {
	m := calc.Mismatch{DX: float64(f.DX), DY: float64(f.DY), Turn: f.Turn, Size: float64(f.Size), Square: unit.Slope(f.Square),
		Told: calc.Told(f.Told), Sized: true, Scale: 1, Dof: math.Inf(1)}
	for i, row := range f.Cov.Matrix("dx", "dy", "turn", "size", "square") {
		m.Cov[i] = [5]float64(row)
	}
	if f.Dof > 0 {
		m.Dof = f.Dof
	}
	return m
}

// reckoned is why readings are refused that make nothing.
const reckoned = "the readings can be reckoned with"

// drawn is the part alone with its features and what else there is to show.
func drawn(p *fold.Plan, extra []fold.Shape) fold.Scene {
	z, _ := kit.PartZero(p)
	w, h := p.Job.Part.Size[0], p.Job.Part.Size[1]
	at := func(x, y float64) fold.XY { return fold.XY{X: z.X + x, Y: z.Y + y} }
	s := fold.Scene{Shapes: []fold.Shape{{Role: fold.RolePart, Name: "part", Closed: true,
		Points: []fold.XY{at(0, 0), at(w, 0), at(w, h), at(0, h)}}}}
	for _, f := range p.Job.Part.Features {
		s.Shapes = append(s.Shapes, fold.Shape{Role: fold.RoleFeature, Name: f.Name, Points: []fold.XY{at(f.At.X, f.At.Y)}})
	}
	s.Shapes = append(s.Shapes, extra...)
	return s
}
