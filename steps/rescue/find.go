package rescue

import (
	"fmt"
	"math"

	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	calc "fliptrue/calc/rescue"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// Faces that were cut before it moved: their least and their most touches.
const leastTouches, mostTouches = 3, 8

// looks are the ways a face looks, as the person says them.
var looks = []struct {
	say string
	way fit.Direction
}{{"LEFT", fit.XMinus}, {"RIGHT", fit.XPlus}, {"TOWARD YOU", fit.YMinus}, {"AWAY", fit.YPlus}}

func lookOf(answer string) (fit.Direction, bool) {
	for _, l := range looks {
		if fold.SameAnswer(answer, l.say) {
			return l.way, true
		}
	}
	return 0, false
}

// Answers to which source rules, where two disagree.
const byFaces, bySet = "where this side left off", "register to side 1"

// u of a part that is only known to be back against its walls: contact, and its turn over the part (common practice).
const seatedU = 0.006

// find finds the part again: from the fixture, by its witness set, by the faces that were cut before it moved.
func find(p *fold.Plan, w Witness) *fold.Spec {
	f := finding{p, w}
	return &fold.Spec{
		Title: "find it again", Needs: fold.Needs(facts.Screws.Live(), fold.AsRead(facts.AMounting), fold.AsRead(kit.Finder(p).Stands()...),
			fold.IfThere("ball"), fold.AsLeft("bore", "floor", "offset", "baseline", "shift", "part/thickness")),
		Makes: []fold.FactID{facts.Shift.ID, moved.ID}, Asks: f.asks, Judge: f.judge,
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "Held where it lies: now where that is.",
				Act:     "Touch the fixture, then the part, then faces that this side has cut.",
				Read:    "Machine position at the fixture and its sides; W position, spindle axis, at faces that were cut.",
				Caution: "SPINDLE STOPPED, its command off, before the probe goes in.", Scene: kit.Scene(p, v, nil)}
		},
	}
}

// moved is how it moved since it was cut; the shift beside it is since its witness set.
var moved = facts.Shift.Of("moved")

type finding struct {
	p *fold.Plan
	w Witness
}

// base is the witness set as it was left, nil where it can't be read again.
func (f finding) base(v fold.View) *fold.Known {
	b, ok := v.Fact("baseline")
	if !ok || !f.w.Reads(f.p, b) {
		return nil
	}
	return &b
}

func touchField(i int, what string) string { return fmt.Sprintf("face%d.%s", i+1, what) }

func (f finding) asks(v fold.View) []fold.Ask {
	p := f.p
	base := f.base(v)
	asks := f.w.Asks(p, v, base)
	n := fold.Ask{Field: "faces", Label: "touches on faces that this side cut before it moved: 3 to 8, 0 for none", Kind: fold.Count,
		What: fold.What{By: "count", Of: "faces", Dir: "cut"}}
	asks = append(asks, n)
	count := v.Int("faces")
	if count == 0 && base == nil {
		asks = append(asks, f.lies(v))
	}
	for i := range min(max(count, 0), mostTouches) {
		asks = append(asks, f.touch(i)...)
	}
	if c, ok := f.compared(v); ok && !c.Agree {
		asks = append(asks, fold.Ask{Field: "rules", Label: "the cut goes on by", Kind: fold.Choice, Options: []string{byFaces, bySet},
			What: fold.What{By: "eye", Of: "part", Dir: "rules"}})
	}
	return asks
}

// lies asks for what is known of a part without a set and without faces that were cut.
func (f finding) lies(v fold.View) fold.Ask {
	if f.loose(v) {
		return wants("inside", "it lies down on its floor, inside its walls, nothing under it", "part", "inside",
			"On a chip or on a wall it lies outside its play.", "Loosen it, wipe, lay it down; hold it again.")
	}
	return wants("seated", "the part is back in its seat, no strip pulls out at the walls", "part", "seated", "Nothing says where it lies.",
		"Push it to its walls, hold it again; or touch faces that were cut.")
}

// loose says that the part bears on no wall: nothing can be pushed to where it was.
func (f finding) loose(v fold.View) bool {
	return f.p.Setup.Floating && f.p.Job.Fixture.Pocket.Clearance > 0 && v.Walks(4) && !v.Has("seated")
}

func (f finding) touch(i int) []fold.Ask {
	p := f.p
	of := fmt.Sprintf("cut-face/%d", i+1)
	face := fold.Ask{Field: touchField(i, "looks"), Label: fmt.Sprintf("touch %d: the face looks", i+1), Kind: fold.Choice,
		What: fold.What{By: "eye", Of: of, Dir: "looks"}}
	for _, l := range looks {
		face.Options = append(face.Options, l.say)
	}
	size := math.Max(p.Job.Part.Size[0], p.Job.Part.Size[1])
	form := touchField(i, "touch")
	win := kit.Around(size/2, size, "a face of the part")
	out := []fold.Ask{face, length(touchField(i, "at"), "its programmed place across, W", fold.What{By: "drawing", Of: of, Dir: "at"}, win),
		length(touchField(i, "along"), "where along it, W", fold.What{By: "control", Of: of, Dir: "along"}, win),
		length(touchField(i, "found"), "W of the spindle axis at the touch", fold.What{By: kit.FaceBy(p, fit.AxisX), Of: of, Dir: "found"}, win)}
	for k := 1; k < len(out); k++ {
		out[k].Form = form
	}
	return out
}

// touches are the faces as touched, the ball taken off.
func (f finding) touches(v fold.View) (out []calc.Touch, all bool) {
	n := v.Int("faces")
	r := kit.FaceRadius(f.p, v)
	for i := range max(min(n, mostTouches), 0) {
		way, ok := lookOf(v.Text(touchField(i, "looks")))
		if !ok || !v.Has(touchField(i, "found")) || !v.Has(touchField(i, "at")) || !v.Has(touchField(i, "along")) {
			return out, false
		}
		out = append(out, calc.Touch{Face: way, At: v.Len(touchField(i, "at")), Along: v.Len(touchField(i, "along")),
			Found: v.Len(touchField(i, "found")) - way.Sign()*r})
	}
	return out, n > 0
}

// byCut is how it lies by the faces that were cut.
func (f finding) byCut(v fold.View) (m calc.Moved, ok bool, err error) {
	ts, all := f.touches(v)
	if !all {
		return m, false, nil
	}
	m, err = calc.Find(ts, true)
	return m, err == nil, err
}

// bySet is how it lies by its witness set, against how it lay when it was cut.
func (f finding) bySet(v fold.View) (m calc.Moved, ok bool, err error) {
	base := f.base(v)
	if base == nil {
		return m, false, nil
	}
	g, err := f.w.Motion(f.p, v, *base)
	if err != nil || !g.Plan {
		return m, false, err
	}
	m = calc.Moved{Motion: frame.Motion{Shift: frame.Vec{X: g.Move.X, Y: g.Move.Y}, Turn: unit.Angle(g.Turn)}, Cov: g.PlanCov, Dof: g.Dof}
	if was, ok := f.before(v, base); ok {
		m.Motion.Shift, m.Motion.Turn = m.Motion.Shift.Sub(was.Shift), m.Motion.Turn-was.Turn
	}
	return m, true, nil
}

// before is how the part had moved since its set when it was released; none where the set was read after that.
func (f finding) before(v fold.View, base *fold.Known) (frame.Motion, bool) {
	k, ok := v.Fact("shift")
	s, read := facts.Shift.Read(k)
	if !ok || !read || base != nil && base.First > k.First {
		return frame.Motion{}, false
	}
	return frame.Motion{Shift: frame.Vec{X: float64(s.DX), Y: float64(s.DY)}, Turn: s.Rot}, true
}

func (f finding) places() (out []frame.Vec) {
	for _, q := range kit.Features(f.p) {
		out = append(out, kit.Vec(q.At))
	}
	return out
}

// compared are the two sources, where both are there.
func (f finding) compared(v fold.View) (c calc.Compared, ok bool) {
	a, ok1, _ := f.byCut(v)
	b, ok2, _ := f.bySet(v)
	if !ok1 || !ok2 {
		return c, false
	}
	c, err := calc.Compare(a, b, f.places())
	return c, err == nil
}

func (f finding) judge(v fold.View) fold.Outcome {
	p := f.p
	var o fold.Outcome
	if away, ok := f.w.Fixture(p, v); ok {
		c := judge.Most(p.Limit("rescue.fixture"), away, 0)
		if c.Verdict != fold.Pass {
			c.Words = fmt.Sprintf("The fixture itself stands %s from where it was. Its old offset is worth nothing.", p.Len(away))
			o.Named = "fixture-moved"
			o.Next = append(
				o.Next, fold.Act{Do: "look", Of: "fixture", Words: c.Words + " Wipe and touch once more; if it stays, go by faces that " +
					"were cut."}, fold.Act{Do: "round"})
		}
		o.Checks = append(o.Checks, c)
	}
	if n := v.Int("faces"); n != 0 && n < leastTouches || n > mostTouches {
		o.Checks = append(o.Checks, judge.So(fold.Limit{ID: "rescue.touches", Why: "touches enough for place and turn", Class: fold.Never}, false,
			fmt.Sprintf("%d touches: three to eight, two faces of one axis far apart, one of the other.", n)))
		o.Next = append(o.Next, fold.Act{Do: "again", Of: "faces"})
		return o
	}
	cut, hasCut, err := f.byCut(v)
	if err != nil {
		kit.Refuse(&o, "rescue.faces", "place and turn by the faces that were cut", err)
		return o
	}
	set, hasSet, err := f.bySet(v)
	if err != nil {
		kit.Refuse(&o, "rescue.set", "place and turn by the witness set", err)
		return o
	}
	var m calc.Moved
	var beyond *[3][3]float64
	switch {
	case hasCut && !(hasSet && fold.SameAnswer(v.Text("rules"), bySet)):
		m = cut
	case hasSet:
		m = set
	case f.loose(v):
		m, beyond = f.play(v, &o)
	default:
		m = f.seated(v, &o)
	}
	f.oddFace(v, cut, hasCut, &o)
	f.agree(v, cut, set, hasCut && hasSet, &o)
	f.made(v, m, beyond, &o)
	return o
}

// seated is a part that is back at its walls.
func (f finding) seated(v fold.View, o *fold.Outcome) (m calc.Moved) {
	s := f.p.Job.Part.Size
	turn := seatedU / math.Max(s[0], s[1])
	m = calc.Moved{Dof: math.Inf(1), Cov: [3][3]float64{{seatedU * seatedU, 0, 0}, {0, seatedU * seatedU, 0}, {0, 0, turn * turn}}}
	if fold.SameAnswer(v.Text("seated"), no) {
		o.Next = append(o.Next, fold.Act{Do: "push", Of: "part", Words: "Push it to its walls and hold it again; or touch faces that were cut."},
			fold.Act{Do: "round"})
	}
	o.Notes = append(o.Notes, "Taken as back in its seat: no witness set was read of it, and no face touched.")
	return m
}

// play is a part that lies somewhere in its pocket, as it did before.
func (f finding) play(v fold.View, o *fold.Outcome) (calc.Moved, *[3][3]float64) {
	room := f.p.Job.Fixture.Pocket.Clearance
	if fold.SameAnswer(v.Text("inside"), no) {
		o.Next = append(o.Next, fold.Act{Do: "wipe", Of: "pocket", Words: "Loosen it, wipe, lay it down in its pocket, hold it again."},
			fold.Act{Do: "round"})
	}
	o.Notes = append(o.Notes, fmt.Sprintf("It bears on no wall: taken as anywhere in its play, %s at each side.", f.p.Len(room)),
		"Faces that were cut tell it better.")
	m, beyond, _ := calc.Loose(f.p.Job.Part.Size[0], f.p.Job.Part.Size[1], room) // a part has a size, and what is loose has play
	return m, &beyond
}

// oddFace names a face that was cut while the part was already moving.
func (f finding) oddFace(v fold.View, m calc.Moved, has bool, o *fold.Outcome) {
	if !has || len(m.Odd) == 0 {
		return
	}
	i := m.Odd[0]
	c := judge.So(fold.Limit{ID: "rescue.odd", Why: "the faces fit one shift and turn", Class: fold.Soft}, false,
		fmt.Sprintf("Face %s at %s is %s off the others: cut too late, or a chip.", v.Text(touchField(i, "looks")),
			f.p.Len(v.Len(touchField(i, "at"))), f.p.Len(math.Abs(m.OddBy[0]))))
	o.Checks = append(o.Checks, c)
	if o.Named == "" {
		o.Named = "cut-too-late"
		o.Next = append(o.Next, fold.Act{Do: "wipe", Of: "part", Words: "Wipe it and touch it once more; else touch another face in its place."},
			fold.Act{Do: "again", Of: touchField(i, "looks")}, fold.Act{Do: "again", Of: touchField(i, "touch")})
	}
}

// agree says where the two sources part.
func (f finding) agree(v fold.View, cut, set calc.Moved, both bool, o *fold.Outcome) {
	c, ok := f.compared(v)
	if !both || !ok {
		return
	}
	if c.Agree {
		o.Notes = append(o.Notes, fmt.Sprintf("Faces and witness set agree within %s: no step in this side, register as released.",
			f.p.Len(c.Step)))
		return
	}
	words := "The faces were cut after it had moved. " + map[bool]string{true: "Register to side 1 is off by %s.",
		false: "A step of %s stands where the cut goes on."}[!fold.SameAnswer(v.Text("rules"), bySet)]
	l := judge.At(f.p.Limit("rescue.step"), f.p.Limit("rescue.step").Max)
	if !fold.SameAnswer(v.Text("rules"), bySet) {
		l = f.p.Limit("rescue.register")
	}
	k := judge.Most(l, c.Step, 0)
	k.Words = fmt.Sprintf(words, f.p.Len(c.Step))
	if k.Verdict != fold.Pass {
		o.Next = append(o.Next, fold.Act{Do: "look", Of: "part", Words: k.Words + " Put the seam at a corner or under the mate; accept it by " +
			"its number."})
	} else {
		o.Notes = append(o.Notes, k.Words)
	}
	o.Checks = append(o.Checks, k)
}

func covOf(of [3][3]float64) fold.Cov {
	var rows [][]float64
	for i := range of {
		rows = append(rows, append([]float64(nil), of[i][:]...))
	}
	return fold.NewCov("dx,dy,rot", rows)
}

// made is the fact, and what there is to show. beyond is what of the covariance the register does not count already, nil for all.
func (f finding) made(v fold.View, m calc.Moved, beyond *[3][3]float64, o *fold.Outcome) {
	p := f.p
	was, _ := f.before(v, f.base(v))
	s := facts.ShiftFact{DX: unit.Length(m.Motion.Shift.X + was.Shift.X), DY: unit.Length(m.Motion.Shift.Y + was.Shift.Y), Rot: m.Motion.Turn +
		was.Turn}
	if s.Cov = covOf(m.Cov); !math.IsInf(m.Dof, 1) {
		s.Dof = m.Dof
	}
	since := s
	if beyond != nil {
		s.Cov = covOf(*beyond)
	}
	since.DX, since.DY, since.Rot = unit.Length(m.Motion.Shift.X), unit.Length(m.Motion.Shift.Y), m.Motion.Turn
	o.Facts = []fold.Known{facts.Shift.Is(s), moved.Is(since)}
	d, u := m.At(frame.Vec{})
	row := func(label string, x, ux float64, kind unit.Kind) {
		o.Lines = append(o.Lines, fold.Row{Label: label, Value: x, Guard: m.Guard(ux), Unit: kind, Signed: true, Big: true})
	}
	row("moved at the part zero, X", d.X, u.X, unit.KLength)
	row("moved at the part zero, Y", d.Y, u.Y, unit.KLength)
	row("turned, counter-clockwise is +", float64(m.Motion.Turn), math.Sqrt(m.Cov[2][2]), unit.KSlope)
	for _, q := range kit.Features(p) {
		d, u := m.At(kit.Vec(q.At))
		o.Lines = append(o.Lines, fold.Row{Label: "moved at " + q.Name + ", X", Value: d.X, Guard: m.Guard(u.X), Unit: unit.KLength,
			Signed: true}, fold.Row{Label: "moved at " + q.Name + ", Y", Value: d.Y, Guard: m.Guard(u.Y), Unit: unit.KLength, Signed: true})
	}
	if m.Sized {
		o.Notes = append(o.Notes, fmt.Sprintf("The faces stand %s further out than programmed: the cutter's size.", kit.Signed(p, m.Size)))
	}
	o.Learned = fmt.Sprintf("It has moved by X %s, Y %s at the part zero since it was cut.", kit.Signed(p, d.X), kit.Signed(p, d.Y))
}
