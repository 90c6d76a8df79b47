package checks

import (
	"math"
	"strconv"
	"strings"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	"fliptrue/calc/pickup"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
	"fmt"
)

// TramLimits are those of the spindle's lean (common practice, from memory; 0.025 over 300 is
// what is usually accepted of small mills).
var TramLimits = []fold.LimitRow{
	{ID: "tram.tilt", Why: "lean of the spindle to the table, each way", How: "{0.00008333333}", Class: fold.Soft, Unit: unit.KSlope, Max: judge.Always(0.025 / 300), Min: false},
	{ID: "tram.closing", Why: "dial back at its first place, off by", How: "1 graduation, or {0.002}", Class: fold.Soft, Unit: unit.KLength, Max: judge.ClosingLimit, Min: false},
	{ID: "tram.redundancy", Why: "opposite readings, their middles apart", How: "{0.010}, 2 graduations: the larger", Class: fold.Soft, Unit: unit.KLength,
		Max: func(p *fold.Plan) float64 { return math.Max(p.Sensible(0.010), 2*p.Job.Machine.Dial.Graduation) }, Min: false},
	{ID: "travel.lean", Why: "lean of the Z travel over the part's height, each way", How: "0.5 of the allowance", Class: fold.Soft, Unit: unit.KLength, Max: judge.Share(0.5), Min: false},
	{ID: "travel.square", Why: "mismatch of the sides at the part's ends by X out of square to Y", How: "0.5 of the allowance", Class: fold.Soft, Unit: unit.KLength, Max: judge.Share(0.5), Min: false},
}

// sweepRadius is the radius of the spindle sweep when none is measured, mm.
const sweepRadius = 100

// FourPlaces are how many a table is swept at where nobody says otherwise.
const FourPlaces = 4

// sweepAngles are where the dial is read, degrees counter-clockwise from X+.
func sweepAngles(n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = 360 * float64(i) / float64(n)
	}
	return out
}

var sweepWords = map[string]string{"0": "RIGHT", "90": "AWAY", "180": "LEFT", "270": "TOWARD YOU"}

// tramScale is the dial's, by the jog test of the round; ok is false before it was made.
func tramScale(p *fold.Plan, v fold.View) (sc fit.Scale, ok bool, err error) {
	a, ok1 := v.Num("jog0", unit.KLength)
	b, ok2 := v.Num("jog1", unit.KLength)
	if !ok1 || !ok2 {
		return sc, false, nil
	}
	if sc, err = fit.JogScale(-kit.Jog(p), a, b, p.Job.Machine.Dial.Graduation); err != nil {
		return sc, true, err
	}
	return sc, true, kit.Unexplained(p, v, sc, tramLever, kit.Jog(p))
}

// tramLever is the field of the stylus' angle.
const tramLever = "lever"

// sweep reduces the readings at n places; ok is false while some are missing.
func sweep(p *fold.Plan, v fold.View, n int) (t pickup.Tram, ok bool, err error) {
	sc, ok, err := tramScale(p, v)
	if !ok || err != nil {
		return t, ok, err
	}
	var angles, rs []float64
	for _, deg := range sweepAngles(n) {
		r, has := v.Num("r"+kit.Place(deg), unit.KLength)
		if !has {
			return t, false, nil
		}
		angles, rs = append(angles, deg*math.Pi/180), append(rs, r)
	}
	radius, has := v.Num("radius", unit.KLength)
	if !has {
		radius = sweepRadius
	}
	closing, has := v.Num("close", unit.KLength)
	if !has {
		closing = rs[0]
	}
	t, err = pickup.Sweep(angles, rs, closing, radius, sc, p.Job.Machine.Dial.Graduation)
	return t, true, err
}

// Tram finds the spindle's lean to the table by a sweep, or takes its two tilts as typed, before the
// fixture is mounted.
func Tram(p *fold.Plan) *fold.Spec { return TramBefore(p, "mount") }

// TramBefore is Tram before the first step of another line.
//
// A reading higher at X+ means that the top of the head leans toward X+. This is the lean of the
// spindle's axis alone. How Z travels is another lean, which no sweep shows; see columnLean.
//
// Fact "tram": see facts.TramFact.
func TramBefore(p *fold.Plan, first fold.StepID) *fold.Spec {
	return &fold.Spec{
		Title: "spindle tram", Recheck: &fold.Recheck{Before: first}, Makes: []fold.FactID{"tram"}, Keeps: kit.TramKeeps,
		Asks: func(v fold.View) []fold.Ask {
			if crashed(v) { // what was found before it says nothing
				return SweepAsks(p, v, FourPlaces)
			}
			return append([]fold.Ask{tramWay()}, tramAsks(p, v)...)
		},
		Judge: func(v fold.View) fold.Outcome {
			if !crashed(v) && fold.SameAnswer(v.Text("way"), tramWays[1]) {
				return tiltsTyped(p, v)
			}
			return JudgeSweep(p, v, FourPlaces)
		},
		Page: func(v fold.View) fold.Page { return TramPage(p, v, FourPlaces) },
	}
}

var tramWays = []string{"sweep the table now", "type the two tilts"}

func tramWay() fold.Ask {
	return fold.Ask{Field: "way", Label: "the tram is found by", Kind: fold.Choice, Options: tramWays,
		What: fold.What{By: "eye", Of: "tram", Dir: "way"}}
}

// tramAsks are what the way answered wants.
func tramAsks(p *fold.Plan, v fold.View) []fold.Ask {
	var asks []fold.Ask
	switch w := v.Text("way"); {
	case w == "":
	case fold.SameAnswer(w, tramWays[1]):
		for _, ax := range []string{"x", "y"} {
			asks = append(asks, fold.Ask{Field: "tilt." + ax, Label: "tilt along " + ax + ", higher at + is +, as 0.010/300", Kind: fold.Reading,
				Unit: unit.KSlope,
				What: fold.What{By: "dial", Of: "table", Dir: "tilt", Axis: ax}, Window: kit.Around(0, 0.001, "a trammed head"), Form: "tilts"})
		}
	default:
		return SweepAsks(p, v, FourPlaces)
	}
	return asks
}

func tiltsTyped(p *fold.Plan, v fold.View) fold.Outcome {
	var o fold.Outcome
	tx, _ := v.Num("tilt.x", unit.KSlope)
	ty, _ := v.Num("tilt.y", unit.KSlope)
	o.Facts = []fold.Known{facts.Tram.Is(facts.TramFact{X: unit.Angle(tx), Y: unit.Angle(ty)})}
	o.Notes = append(o.Notes, "The tilts are as typed; nothing is known of how well they were found.")
	leans(p, pickup.Tram{Sweep: fit.Sweep{TiltX: tx, TiltY: ty}}, &o)
	return o
}

// crashed says that the tram fell by a crash.
func crashed(v fold.View) bool {
	for _, h := range v.Lost {
		if h.ID == "spindle-crash" {
			return true
		}
	}
	return false
}

// sweepDial is one reading of the dial on the table.
func sweepDial(p *fold.Plan, v fold.View, field, label, dir string, w *fold.Window) fold.Ask {
	w.Slips = unit.SlipContext{Step: p.Job.Machine.Dial.Graduation}
	return fold.Ask{Field: field, Label: label, Kind: fold.Reading, Unit: unit.KLength,
		What: fold.What{By: "dial", Of: "table@" + kit.Place(sweepR(p, v)), Dir: dir, Axis: "z"}, Window: w}
}

// SweepAsks are the jog test and a sweep of the table at n places.
func SweepAsks(p *fold.Plan, v fold.View, n int) []fold.Ask {
	asks := tramJog(p, v)
	for i, deg := range sweepAngles(n) {
		d := kit.Place(deg)
		label := "dial at " + d + " deg"
		if w, ok := sweepWords[d]; ok {
			label = "dial at " + w
		}
		a := sweepDial(p, v, "r"+d, label, d, kit.Around(0, 0.5, "a trammed head"))
		if i == 0 {
			a.Do = []fold.Act{{Do: "sweep", Of: "table",
				Words: "Spindle in neutral. Turn it by hand, always one way, lifting the stylus over slots."}}
		}
		asks = append(asks, a)
	}
	w := kit.Around(0, 0.5, "a trammed head")
	if r, ok := v.Num("r0", unit.KLength); ok {
		w = kit.Around(r, 0.02, "the first reading")
	}
	c := sweepDial(p, v, "close", "back at RIGHT", "0", w)
	if _, ok := v.Num("r0", unit.KLength); ok {
		c.Window.Slips = unit.SlipContext{}
	}
	return append(asks, c)
}

// tramJog is the arm and the jog test; a needle that moved by more or less than the jog has its angle asked.
func tramJog(p *fold.Plan, v fold.View) []fold.Ask {
	j := kit.Jog(p)
	after := kit.Around(0, 1.2, "the dial's range")
	if at, ok := v.Num("jog0", unit.KLength); ok && v.Walks(3) {
		after = kit.JogWindow(p, at, j)
	}
	asks := []fold.Ask{
		{Field: "radius", Label: "from spindle axis to stylus", Kind: fold.Reading, Unit: unit.KLength, What: fold.What{By: "scale", Of: "arm", Dir: "radius"}, Window: kit.Around(sweepRadius, 75, "an arm in the spindle"),
			Do: []fold.Act{{Do: "fit", Of: "dial", Words: "Table in the middle, gibs and quill locked as for cutting. Dial in the spindle on an " +
				"arm, stylus on the stoned table or on blocks, not over a slot."}}},
		sweepDial(p, v, "jog0", "dial at RIGHT", "0", kit.Around(0, 1.2, "the dial's range")),
		sweepDial(p, v, "jog1", "after lowering the spindle by "+p.Len(j), kit.JogDir(p, -j), after),
	}
	asks[2].Do = []fold.Act{{Do: "jog", Of: "spindle/z", Dir: "-", Amount: j,
		Words: fmt.Sprintf("Jog test: lower Z by %s, read, go back.", p.Len(j))}}
	sc, _, _ := tramScale(p, v) // what it says is judged with the sweep
	return append(asks, kit.LeverAsks(v, sc, tramLever, "table")...)
}

// sweepR is the arm as measured, or its usual radius.
func sweepR(p *fold.Plan, v fold.View) float64 {
	if r, ok := v.Num("radius", unit.KLength); ok && r > 0 {
		return r
	}
	return sweepRadius
}

// JudgeSweep is what a sweep at n places says of the head, and what to do about it.
func JudgeSweep(p *fold.Plan, v fold.View, n int) fold.Outcome {
	var o fold.Outcome
	s, _, err := sweep(p, v, n)
	if err != nil {
		kit.Refuse(&o, "tram.sweep", "the readings make a sweep", err)
		return o
	}
	sweepHolds(p, s, &o)
	bad := len(o.Next) > 0
	for _, a := range []struct {
		name    string
		tilt, u float64
		id      string
	}{{"X", s.TiltX, s.UX, ".x"}, {"Y", s.TiltY, s.UY, ".y"}} {
		c := judge.Weighed(p.Limit("tram.tilt"), math.Abs(a.tilt), budget.Combine([]budget.Line{budget.N("sweep", a.u, s.Dof)}))
		c.Largest = ""
		c.Limit.ID += a.id
		c.Limit.Why = strings.Replace(c.Limit.Why, "each way", "along "+a.name, 1)
		if c.Verdict != fold.Pass {
			c.Words = fmt.Sprintf("Along %s the spindle leans by %s.", a.name, p.Slope(math.Abs(a.tilt)))
		}
		o.Checks = append(o.Checks, c)
	}
	if !bad {
		tramNext(p, s, &o)
		worse(p, v, s, n, &o)
	}
	o.Facts = []fold.Known{facts.Tram.Is(facts.TramFact{X: unit.Angle(s.TiltX), Y: unit.Angle(s.TiltY),
		Cov: fold.NewCov("x,y", [][]float64{{s.UX * s.UX, 0}, {0, s.UY * s.UY}}), Dof: s.Dof})}
	leans(p, s, &o)
	return o
}

// sweepHolds judges the sweep itself: did the dial come back, do the readings make a plane.
func sweepHolds(p *fold.Plan, s pickup.Tram, o *fold.Outcome) {
	again := func(words string) {
		if len(o.Next) == 0 {
			o.Next = append(o.Next, fold.Act{Do: "wipe", Of: "table", Words: words}, fold.Act{Do: "round"})
		}
	}
	k := judge.Most(p.Limit("tram.closing"), math.Abs(s.Closing), 0)
	if k.Verdict == fold.Fail {
		k.Words = "The dial did not come back to its first reading: arm or stand moved."
		again(k.Words + " Clamp it and sweep again.")
	}
	o.Checks = append(o.Checks, k)
	got, ok := s.Unflat()
	if !ok {
		o.Notes = append(o.Notes, "Three readings have no redundancy: nothing shows a chip.")
		return
	}
	c := judge.Most(p.Limit("tram.redundancy"), got, 0)
	if c.Verdict == fold.Fail {
		c.Words = "The readings do not make a plane. A nick or a chip under the stylus, or the arm gives."
		again(c.Words + " Wipe the table and sweep again.")
	}
	o.Checks = append(o.Checks, c)
}

// tramNext says which way the head is turned where a tilt is too large.
func tramNext(p *fold.Plan, s pickup.Tram, o *fold.Outcome) {
	for _, w := range tramAdvice(p, s.TiltX, s.TiltY) {
		for _, c := range o.Checks {
			if c.Verdict == fold.Fail && strings.HasSuffix(c.Limit.ID, w.Dir) {
				o.Next = append(o.Next, w)
			}
		}
	}
	if len(o.Next) > 0 {
		o.Next = append(o.Next, fold.Act{Do: "round", Words: "Tighten all, then sweep again."})
	} else if fold.Worst(o.Checks) == fold.NotProven {
		o.Next = append(o.Next, fold.Act{Do: "wipe", Of: "table", Words: "The dial can't decide: a longer arm, or a finer dial. Sweep again."},
			fold.Act{Do: "round"})
	}
}

// worse says what got worse since the sweep before, beyond what a sweep can't tell.
func worse(p *fold.Plan, v fold.View, s pickup.Tram, n int, o *fold.Outcome) {
	if len(v.Earlier) == 0 || !v.Walks(3) {
		return
	}
	was, ok, err := sweep(p, v.In(v.Earlier[len(v.Earlier)-1], nil), n)
	if !ok || err != nil {
		return
	}
	for _, a := range []struct {
		name   string
		was, v float64
		u      float64
	}{{"X", was.TiltX, s.TiltX, math.Hypot(was.UX, s.UX)}, {"Y", was.TiltY, s.TiltY, math.Hypot(was.UY, s.UY)}} {
		if math.Abs(a.v)-math.Abs(a.was) > budget.OneSided*a.u {
			o.Named = "tram-worse"
			o.Notes = append(o.Notes, fmt.Sprintf("Along %s it got worse, from %s to %s. "+
				"It was turned the wrong way, too far, or moved when tightened.", a.name, p.Slope(a.was), p.Slope(a.v)))
		}
	}
}

// TramPage is the page of a sweep at n places.
func TramPage(p *fold.Plan, v fold.View, n int) fold.Page {
	pg := fold.Page{Why: "A leaning spindle leaves a step between the sides that no offset takes away.",
		Act:     "Sweep the table with the dial, or type the two tilts as last found.",
		Read:    "The dial as it shows, clockwise is plus; from where you stand, not from behind.",
		Caution: "SPINDLE STOPPED, in neutral: turn it by hand. Never start it with a dial fitted."}
	if crashed(v) {
		pg.Why = "After a crash nothing that was found of the spindle before counts. A leaning one leaves a step between the sides that no " +
			"offset takes away."
		pg.Act = "Sweep the table with the dial."
	}
	if s, ok, err := sweep(p, v, n); ok && err == nil {
		t := &fold.TiltPlot{Residual: s.Residuals, TiltX: s.TiltX, TiltY: s.TiltY, Suspect: -1, Limit: p.Limit("tram.tilt").Max * 2 * s.Radius}
		for _, deg := range sweepAngles(n) {
			a := deg * math.Pi / 180
			t.Points = append(t.Points, fold.XY{X: s.Radius * math.Cos(a), Y: s.Radius * math.Sin(a)})
		}
		pg.Scene.Tilt = t
		return pg
	}
	pg.Scene.Shapes = sweepShapes(p, v, n)
	return pg
}

// sweepShapes are the way of the stylus about the spindle and the places at which the dial is read.
func sweepShapes(p *fold.Plan, v fold.View, n int) []fold.Shape {
	radius, ok := v.Num("radius", unit.KLength)
	if !ok {
		radius = sweepRadius
	}
	out := []fold.Shape{{Role: fold.RoleSweep, Points: []fold.XY{{}}, Radius: radius}}
	now := ""
	for _, a := range SweepAsks(p, v, n) {
		if !v.Has(a.Field) {
			now = a.Field
			break
		}
	}
	for i, deg := range sweepAngles(n) {
		f := "r" + kit.Place(deg)
		role := fold.RoleLater
		switch at := i == 0 && (now == "jog0" || now == "jog1" || now == "close"); {
		case now == f || at:
			role = fold.RoleNext
		case v.Has(f):
			role = fold.RoleHit
		}
		a := deg * math.Pi / 180
		out = append(
			out, fold.Shape{Role: role, Name: strconv.Itoa(i + 1), Points: []fold.XY{{X: radius * math.Cos(a), Y: radius * math.Sin(a)}}})
	}
	return out
}
