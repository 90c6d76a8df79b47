package checks

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// TramLimits are those of the spindle's lean (common practice, from memory; 0.025 over 300 is
// what is usually accepted of small mills).
var TramLimits = []fold.LimitRow{
	{ID: "tram.tilt", Why: "lean of the spindle to the table, each way", How: "{0.00008333333}", Class: fold.Soft, Unit: unit.KSlope, Max: judge.Always(0.025 / 300), Min: false},
	{ID: "tram.closing", Why: "the dial comes back to its first reading", How: "1 graduation, or {0.002}", Class: fold.Soft, Unit: unit.KLength, Max: judge.ClosingLimit, Min: false},
	{ID: "tram.redundancy", Why: "opposite readings have the same middle", How: "{0.010}, 2 graduations: the larger", Class: fold.Soft, Unit: unit.KLength, Max: func(p *fold.Plan) float64 { return math.Max(p.Sensible(0.010), 2*p.Job.Machine.Dial.Graduation) }, Min: false},
}

// sweepRadius is the radius of the spindle sweep when none is measured, mm.
const sweepRadius = 100

// sweepAngles are where the dial is read, degrees counter-clockwise from X+: 4, or as many as the setup's stations.
func sweepAngles(p *fold.Plan) []float64 {
	n := 4
	if s := p.Setup.Stations; p.Setup.Kind == kit.TramKind && s >= 3 && s != 7 { // 7 is the default of an edge run
		n = s
	}
	out := make([]float64, n)
	for i := range out {
		out[i] = 360 * float64(i) / float64(n)
	}
	return out
}

var sweepWords = map[string]string{"0": "RIGHT", "90": "AWAY", "180": "LEFT", "270": "TOWARD YOU"}

// swept is the sweep that a round's readings make, heights by the dial's own scale.
type swept struct {
	fit.Sweep
	ux, uy  float64 // of the tilts
	dof     float64
	closing float64 // dial mm
}

// sweep reduces the readings; ok is false while some are missing.
func sweep(p *fold.Plan, v fold.View) (s swept, ok bool, err error) {
	grad := p.Job.Machine.Dial.Graduation
	a, ok1 := v.Num("jog0", unit.KLength)
	b, ok2 := v.Num("jog1", unit.KLength)
	if !ok1 || !ok2 {
		return s, false, nil
	}
	sc, err := fit.JogScale(-kit.Jog(p), a, b, grad)
	if err != nil {
		return s, true, err
	}
	var angles, rs []float64
	for _, deg := range sweepAngles(p) {
		r, has := v.Num("r"+kit.Place(deg), unit.KLength)
		if !has {
			return s, false, nil
		}
		angles, rs = append(angles, deg*math.Pi/180), append(rs, sc.V*r)
	}
	radius, has := v.Num("radius", unit.KLength)
	if !has {
		radius = sweepRadius
	}
	if s.Sweep, err = fit.ToSweep(angles, rs, radius); err != nil {
		return s, true, err
	}
	res := budget.Spread{S: math.Abs(sc.V) * grad / math.Sqrt(12), Dof: judge.TypeB}
	used := res
	if s.S.Has {
		used, _ = budget.Repeat(budget.Spread{S: s.S.V, Dof: float64(s.DOF)}, res)
	}
	if c, has := v.Num("close", unit.KLength); has {
		s.closing = c - v.Len("r0")
	}
	drift := math.Abs(s.closing*sc.V) / math.Sqrt(3) / radius
	s.dof = used.Dof
	s.ux = math.Hypot(math.Hypot(used.S*math.Sqrt(s.Cofactor[0][0]), drift), s.TiltX*sc.Rel)
	s.uy = math.Hypot(math.Hypot(used.S*math.Sqrt(s.Cofactor[1][1]), drift), s.TiltY*sc.Rel)
	return s, true, nil
}

// Tram finds the spindle's lean to the table by a sweep, or takes its two tilts as typed.
// A reading higher at X+ means that the top of the head leans toward X+.
//
// This is the lean of the spindle's axis alone. How Z travels is another lean, which no
// sweep shows; see columnLean.
//
// Fact "tram": [tx ty], cov 2.
func Tram(p *fold.Plan) *fold.Spec {
	ways := []string{"sweep the table now", "type the two tilts"}
	return &fold.Spec{
		Title: "spindle tram", Recheck: &fold.Recheck{Before: first(p)}, Makes: []fold.FactID{"tram"}, Keeps: kit.TramKeeps,
		Asks: func(v fold.View) []fold.Ask {
			if crashed(v) { // what was found before it says nothing
				return SweepAsks(p, v)
			}
			asks := []fold.Ask{{Field: "way", Label: "the tram is found by", Kind: fold.Choice, Options: ways, What: fold.What{By: "eye", Of: "tram", Dir: "way"}}}
			if w := v.Text("way"); w == "" {
				return asks
			} else if fold.SameAnswer(w, ways[1]) {
				for _, ax := range []string{"x", "y"} {
					asks = append(asks, fold.Ask{Field: "tilt." + ax, Label: "tilt along " + ax + ", higher at + is +, as 0.010/300", Kind: fold.Reading, Unit: unit.KSlope,
						What: fold.What{By: "dial", Of: "table", Dir: "tilt", Axis: ax}, Window: kit.Around(0, 0.001, "a trammed head"), Form: "tilts"})
				}
				return asks
			}
			return append(asks, SweepAsks(p, v)...)
		},
		Judge: func(v fold.View) fold.Outcome {
			if !crashed(v) && fold.SameAnswer(v.Text("way"), ways[1]) {
				var o fold.Outcome
				tx, _ := v.Num("tilt.x", unit.KSlope)
				ty, _ := v.Num("tilt.y", unit.KSlope)
				o.Facts = []fold.Known{{ID: "tram", Value: []float64{tx, ty}}}
				o.Notes = append(o.Notes, "The tilts are as typed; nothing is known of how well they were found.")
				leans(p, tx, ty, 0, 0, &o)
				return o
			}
			return JudgeSweep(p, v)
		},
		Page: func(v fold.View) fold.Page { return tramPage(p, v) },
	}
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

// first is the first step of the line, before which a calibration is done.
func first(p *fold.Plan) fold.StepID {
	if p.Setup.Kind == kit.FirstSide {
		return "vise"
	}
	return "mount"
}

func SweepAsks(p *fold.Plan, v fold.View) []fold.Ask {
	radius := kit.Around(sweepRadius, 75, "an arm in the spindle")
	dial := func(field, label, dir string, w *fold.Window) fold.Ask {
		if w == nil {
			w = kit.Around(0, 0.5, "a trammed head")
		}
		w.Slips = unit.SlipContext{Step: p.Job.Machine.Dial.Graduation}
		return fold.Ask{Field: field, Label: label, Kind: fold.Reading, Unit: unit.KLength, What: fold.What{By: "dial", Of: "table@" + kit.Place(sweepR(p, v)), Dir: dir, Axis: "z"}, Window: w}
	}
	j := kit.Jog(p)
	asks := []fold.Ask{
		{Field: "radius", Label: "from spindle axis to stylus", Kind: fold.Reading, Unit: unit.KLength, What: fold.What{By: "scale", Of: "arm", Dir: "radius"}, Window: radius,
			Do: []fold.Act{{Do: "fit", Of: "dial", Words: "Table in the middle, gibs and quill locked as for cutting. Dial in the spindle on an arm, stylus on the stoned table or on blocks, not over a slot."}}},
		dial("jog0", "dial at RIGHT", "0", kit.Around(0, 1.2, "the dial's range")), dial("jog1", "after lowering the spindle by "+p.Len(j), kit.JogDir(p, -j), kit.Around(0, 1.2, "the dial's range")),
	}
	asks[0].Window.Slips = unit.SlipContext{}
	asks[2].Do = []fold.Act{{Do: "jog", Of: "spindle/z", Dir: "-", Amount: j, Words: fmt.Sprintf("Jog test: lower Z by %s, read, go back.", p.Len(j))}}
	for i, deg := range sweepAngles(p) {
		d := kit.Place(deg)
		label := "dial at " + d + " deg"
		if w, ok := sweepWords[d]; ok {
			label = "dial at " + w
		}
		a := dial("r"+d, label, d, nil)
		if i == 0 {
			a.Do = []fold.Act{{Do: "sweep", Of: "table", Words: "Spindle in neutral. Turn it by hand, always one way, lifting the stylus over slots."}}
		}
		asks = append(asks, a)
	}
	c := dial("close", "back at RIGHT", "0", nil)
	if r, ok := v.Num("r0", unit.KLength); ok {
		c.Window = kit.Around(r, 0.02, "the first reading")
	}
	return append(asks, c)
}

// sweepR is the arm as measured, or its usual radius.
func sweepR(p *fold.Plan, v fold.View) float64 {
	if r, ok := v.Num("radius", unit.KLength); ok && r > 0 {
		return r
	}
	return sweepRadius
}

func JudgeSweep(p *fold.Plan, v fold.View) fold.Outcome {
	var o fold.Outcome
	s, _, err := sweep(p, v)
	if err != nil {
		kit.Refuse(&o, "tram.sweep", "the readings make a sweep", err)
		return o
	}
	again := func(words string) {
		if len(o.Next) == 0 {
			o.Next = append(o.Next, fold.Act{Do: "wipe", Of: "table", Words: words}, fold.Act{Do: "round"})
		}
	}
	k := judge.Judged(p.Limit("tram.closing"), math.Abs(s.closing), 0)
	if k.Verdict == fold.Fail {
		k.Words = "The dial did not come back to its first reading: arm or stand moved."
		again(k.Words + " Clamp it and sweep again.")
	}
	o.Checks = append(o.Checks, k)
	l := p.Limit("tram.redundancy")
	got := math.Abs(s.Redundancy.V)
	if !s.Redundancy.Has && s.S.Has {
		got = 4 * s.S.V // of the same size as the difference of two sums of two
	}
	if s.Redundancy.Has || s.S.Has {
		c := judge.Judged(l, got, 0)
		if c.Verdict == fold.Fail {
			c.Words = "The readings do not make a plane: a nick or a chip under the stylus, or the arm gives."
			again(c.Words + " Wipe the table and sweep again.")
		}
		o.Checks = append(o.Checks, c)
	} else {
		o.Notes = append(o.Notes, "Three readings have no redundancy: nothing shows a chip.")
	}
	bad := len(o.Next) > 0
	for _, a := range []struct {
		name    string
		tilt, u float64
		id      string
	}{{"X", s.TiltX, s.ux, ".x"}, {"Y", s.TiltY, s.uy, ".y"}} {
		c := judge.Judged(p.Limit("tram.tilt"), math.Abs(a.tilt), budget.Combine([]budget.Line{budget.N("sweep", a.u, s.dof)}).Guard)
		c.Limit.ID += a.id
		if c.Verdict != fold.Pass {
			c.Words = fmt.Sprintf("Along %s the spindle leans by %s.", a.name, p.Slope(math.Abs(a.tilt)))
		}
		o.Checks = append(o.Checks, c)
	}
	if !bad {
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
			again("The dial can't decide: a longer arm, or a finer dial. Sweep again.")
		}
	}
	o.Facts = []fold.Known{{ID: "tram", Value: []float64{s.TiltX, s.TiltY}, Cov: [][]float64{{s.ux * s.ux, 0}, {0, s.uy * s.uy}}, Dof: s.dof}}
	leans(p, s.TiltX, s.TiltY, 1.645*s.ux, 1.645*s.uy, &o)
	return o
}

// tramAdvice are the acts that take a lean away: which way, and how much at which foot.
func tramAdvice(p *fold.Plan, tx, ty float64) []fold.Act {
	foot := p.Job.Machine.Foot
	x := fold.Act{Do: "shim", Of: "column", Dir: ".x", Amount: math.Abs(tx) * foot[0]}
	to, from := "RIGHT", "LEFT"
	if tx < 0 {
		to, from = from, to
	}
	x.Words = fmt.Sprintf("The top of the head leans to the %s by %s: turn it toward the %s.", to, p.Slope(math.Abs(tx)), from)
	if foot[0] > 0 {
		x.Words += fmt.Sprintf(" At a column that does not turn: %s under the %s of its foot.", p.Len(x.Amount), to)
	}
	y := fold.Act{Do: "shim", Of: "column", Dir: ".y", Amount: math.Abs(ty) * foot[1]}
	to, side := "AWAY", "REAR"
	if ty < 0 {
		to, side = "TOWARD YOU", "FRONT"
	}
	y.Words = fmt.Sprintf("The head leans %s by %s: ", to, p.Slope(math.Abs(ty)))
	if foot[1] > 0 {
		y.Words += fmt.Sprintf("%s of shim under the %s of the column's foot.", p.Len(y.Amount), side)
	} else {
		y.Words += fmt.Sprintf("shim the %s of the column's foot by %s for every 100 mm of its depth.", side, p.Len(math.Abs(ty)*100))
	}
	return []fold.Act{x, y}
}

// leans shows the two tilts with their guards, and what they do to this job.
func leans(p *fold.Plan, tx, ty, gx, gy float64, o *fold.Outcome) {
	o.Lines = append(o.Lines, fold.Row{Label: "tilt X", Value: tx, Guard: gx, Unit: unit.KSlope, Signed: true, Big: true}, fold.Row{Label: "tilt Y", Value: ty, Guard: gy, Unit: unit.KSlope, Signed: true, Big: true},
		fold.Row{Label: "Z travel", Text: columnWords(p)})
	o.Lines = append(o.Lines, LeanEffects(p, tx, ty)...)
	o.Learned = fmt.Sprintf("The spindle leans by %s along X and %s along Y.", p.Slope(tx), p.Slope(ty))
}

// columnWords say what is known of the lean of Z travel: never 0 when it was not measured.
func columnWords(p *fold.Plan) string {
	t := p.Job.Machine.Tram
	if t == nil || t.ZX == nil || t.ZY == nil {
		return "column not measured"
	}
	return fmt.Sprintf("X %s, Y %s by the card", p.Slope(float64(*t.ZX)), p.Slope(float64(*t.ZY)))
}

// LeanEffects are what the two tilts do on this job: step between passes, dish, lean of a
// wall as thick as the part is, and the kink between the sides.
func LeanEffects(p *fold.Plan, tx, ty float64) []fold.Row {
	var rows []fold.Row
	size := p.Job.Part.Size
	add := func(label string, v float64) {
		rows = append(rows, fold.Row{Label: label, Value: math.Abs(v), Unit: unit.KLength})
	}
	for _, s := range p.Whole().Setups {
		t, ok := p.Job.Tools[s.Cut.Tool]
		if !ok || t.Dia <= 0 {
			continue
		}
		for _, a := range []struct {
			axis string
			tilt float64
		}{{"X", tx}, {"Y", ty}} {
			add(fmt.Sprintf("%s step, passes along %s", s.Name, a.axis), fit.StepOver(a.tilt, s.Cut.Ae))
			add(fmt.Sprintf("%s dish, fed along %s", s.Name, a.axis), fit.Dish(a.tilt, t.Dia/2, s.Cut.Ae))
		}
	}
	if size[2] <= 0 {
		return rows
	}
	add("wall facing X leans", fit.WallLean(tx, size[2]))
	add("wall facing Y leans", fit.WallLean(ty, size[2]))
	if s := kit.Side2(p); s != nil {
		along, across, at, ac := tx, "Y", "X", ty
		if s.Flip == "y" {
			along, across, at, ac = ty, "X", "Y", tx
		}
		add("kink of sides in "+at+", doubled", fit.Kink(along, size[2]))
		if ac != 0 {
			rows = append(rows, fold.Row{Label: "kink of sides in " + across, Text: "none: across the flip axis the lean cancels"})
		}
	}
	return rows
}

func tramPage(p *fold.Plan, v fold.View) fold.Page {
	pg := fold.Page{Why: "A leaning spindle leaves a step between the sides that no offset takes away.",
		Act:     "Sweep the table with the dial, or type the two tilts as last found.",
		Read:    "The dial as it shows, clockwise is plus; from where you stand, not from behind.",
		Caution: "SPINDLE STOPPED, in neutral: turn it by hand. Never start it with a dial fitted."}
	if crashed(v) {
		pg.Why = "After a crash nothing that was found of the spindle before counts. A leaning one leaves a step between the sides that no offset takes away."
		pg.Act = "Sweep the table with the dial."
	}
	if s, ok, err := sweep(p, v); ok && err == nil {
		t := &fold.TiltPlot{Residual: s.Residuals, TiltX: s.TiltX, TiltY: s.TiltY, Suspect: -1}
		for _, deg := range sweepAngles(p) {
			a := deg * math.Pi / 180
			t.Points = append(t.Points, fold.XY{X: s.Radius * math.Cos(a), Y: s.Radius * math.Sin(a)})
		}
		pg.Scene.Tilt = t
	}
	return pg
}
