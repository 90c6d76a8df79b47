package steps_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
)

var strapsTyped = [][2]string{{"drawn", "as drawn"}, {"solid", "2"}, {"on", "2"}, {"xy", "0.002"}, {"z", "0.001"}, {"torque", "1"}}

// inTheWay turns the left clamp of the lid toward hole 1: its edge stands at Y 10, the
// holder of the drill (radius 12) over hole 1 at Y 6, both sticking out so far that they meet.
func inTheWay(j *jobs.Job) {
	j.Setups[0].Clamps[0].Outline = jobs.Outline{{X: -50, Y: 10}, {X: 8, Y: 10}, {X: 8, Y: 22}, {X: -50, Y: 22}}
	t := j.Tools[5]
	t.Stickout = 26
	j.Tools[5] = t
}

func TestClampInTheWay(t *testing.T) {
	p := lidPlan(t, inTheWay)
	o := outcome(t, p, "straps", nil, strapsTyped...)
	c := verdictOf(t, o, "straps.keepout.clamp-left")
	// 4 away; 12 and a margin of 2 needed.
	if c.Verdict != fold.Fail || c.Limit.Class != fold.Never || math.Abs(c.Got-10) > 1e-9 || !strings.Contains(c.Words, "At hole 1 with tool 5 the holder hits clamp left") {
		t.Errorf("%+v", c)
	}
	failsHaveNext(t, "straps", o)
	// Doing what is suggested clears everything, with the tip on solid support.
	var dx, dy float64
	found := false
	for _, a := range o.Next {
		if _, rest, ok := strings.Cut(a.Words, `Move clamp "left" by X `); ok {
			if n, err := fmt.Sscanf(strings.ReplaceAll(rest, ",", ""), "%f Y %f", &dx, &dy); n != 2 {
				t.Fatalf("%q: %v", a.Words, err)
			}
			found = true
		}
	}
	if !found || math.Hypot(dx, dy) > 10.02 {
		t.Fatalf("suggested %v %v, %v in %+v", dx, dy, found, o.Next)
	}
	moved := lidPlan(t, func(j *jobs.Job) {
		inTheWay(j)
		for i := range j.Setups[0].Clamps[0].Outline {
			j.Setups[0].Clamps[0].Outline[i].X += dx
			j.Setups[0].Clamps[0].Outline[i].Y += dy
		}
	})
	if o := outcome(t, moved, "straps", nil, strapsTyped...); fold.Worst(o.Checks) != fold.Pass {
		t.Errorf("after the move: %+v", o.Checks)
	}
	// The picture shows the clamp and the place.
	n := 0
	for _, s := range pageOf(p, "straps").Scene.Shapes {
		if s.Role == fold.RoleConflict {
			n++
		}
	}
	if n < 2 {
		t.Errorf("%d shapes in conflict", n)
	}
	// None is an answer.
	none := lidPlan(t, func(j *jobs.Job) {
		inTheWay(j)
		j.Setups[0].Obstacles = []jobs.Standing{{Name: "stop", Outline: jobs.Outline{{X: -60, Y: 24}, {X: -10, Y: 24}, {X: -10, Y: 60}, {X: -60, Y: 60}}, Top: 28}}
		j.Setups[0].Table = jobs.Outline{{X: -52, Y: -40}, {X: 200, Y: -40}, {X: 200, Y: 110}, {X: -52, Y: 110}}
	})
	if k := desk.DrillKeepOut(none); len(k.Moves(none)) != 1 || !strings.Contains(k.Moves(none)[0], "there is no place for it") {
		t.Errorf("%q", k.Moves(none))
	}
	// Within the margin but not touching: waived by typing the number.
	near := lidPlan(t, func(j *jobs.Job) {
		inTheWay(j)
		for i := range j.Setups[0].Clamps[0].Outline {
			j.Setups[0].Clamps[0].Outline[i].Y += 9
		}
	})
	if c := verdictOf(t, outcome(t, near, "straps", nil, strapsTyped...), "straps.keepout.clamp-left"); c.Limit.Class != fold.Hard || math.Abs(c.Got-1) > 1e-9 {
		t.Errorf("%+v", c)
	}
}

func pageOf(p *fold.Plan, step fold.StepID, facts ...fold.Known) fold.Page {
	sp, _ := p.Spec(step)
	return sp.Page(standing(p, step, facts))
}

// The cutter over a screw head, and the stated regions, at the last look before it turns.
func TestRegionsOverScrewHeads(t *testing.T) {
	region := func(lowest float64) *fold.Plan {
		return lidPlan(t, func(j *jobs.Job) {
			j.Setups[0].Cut.Regions = []jobs.Region{{Name: "rim", Outline: jobs.Outline{{X: 0, Y: 4}, {X: 96, Y: 4}, {X: 96, Y: 8}, {X: 0, Y: 8}}, Lowest: lowest}}
		})
	}
	// Heads stand at 2.5 + 0.3 + 2.0 = 4.8; the margin over them is 2.
	o := outcome(t, region(6), "deck", nil, deckCounts...)
	c := verdictOf(t, o, "deck.keepout.head-of-screw-1")
	if c.Verdict != fold.Fail || !strings.Contains(c.Words, "region rim") {
		t.Errorf("%+v", c)
	}
	failsHaveNext(t, "deck", o)
	if o = outcome(t, region(6.9), "deck", nil, deckCounts...); fold.Worst(o.Checks) != fold.Pass {
		t.Errorf("2.1 over the heads: %+v", o.Checks)
	}
	if o = outcome(t, lidPlan(t, nil), "deck", nil, deckCounts...); !noted(o, "states no cut.regions") {
		t.Errorf("%q", o.Notes)
	}
	// A tool that is not fully described is said, never guessed.
	bare := region(6)
	x := bare.Job.Tools[3]
	x.Shank = 0
	bare.Job.Tools[3] = x
	if o = outcome(t, bare, "deck", nil, deckCounts...); !noted(o, "Keep-out of tool 3 is not computed") || !noted(o, "Reach of tool 3 is not computed: give its flute, shank and stickout") {
		t.Errorf("%q", o.Notes)
	}
}

// The jaws of a vise stand beside the part up to their top.
func TestJawsStandThere(t *testing.T) {
	p := lidPlan(t, func(j *jobs.Job) {
		j.Setups[0].Vise = jobs.Vise{Jaw: "away", JawTop: 8}
		j.Setups[0].Screws.At = nil
		j.Setups[0].Cut.Regions = []jobs.Region{{Name: "outside", Outline: jobs.Outline{{X: -2, Y: -2}, {X: 98, Y: -2}, {X: 98, Y: 66}, {X: -2, Y: 66}}, Lowest: 9}}
	})
	k := desk.CutKeepOut(p)
	names := map[string]bool{}
	for _, c := range k.Found {
		names[c.Obstacle] = true
	}
	if !names["fixed jaw"] || !names["moving jaw"] {
		t.Errorf("%+v", k.Found)
	}
	p.Setup.Kind = "first-side"
	if d := desk.AtDesk(p); d.Verdict() != fold.Fail || !strings.Contains(strings.Join(d.Findings, "\n"), "fixed jaw") {
		t.Errorf("a first side at the desk: %v %q", d.Verdict(), d.Findings)
	}
	p.Setup.Cut.Regions[0].Lowest = 10.1
	if k = desk.CutKeepOut(p); len(k.Found) != 0 {
		t.Errorf("over the jaws: %+v", k.Found)
	}
}

// Depths of the drills, computed apart from this program.
func TestDrillPlan(t *testing.T) {
	p := lidPlan(t, nil)
	d := desk.DrillPlan(p)
	for label, want := range map[string]string{"tool 5 through the part": "2.400 mm at 118 deg", "tip below the seat": "0.921 mm (full diameter 0.200 mm), W Z -0.921",
		"left under the point": "0.079 mm", "pecks, drawn out fully": "8 of 2.400 mm", "as a hole for M2": "medium (ISO 273: fine 2.200 mm, medium 2.400 mm)"} {
		if !rowText(d.Rows, label, want) {
			t.Errorf("%s: want %q in %+v", label, want, d.Rows)
		}
	}
	if o := pageOf(p, "drill"); !rowText(o.Rows, "tip below the seat", "0.921") || !rowText(o.Rows, "hole positions", "once the offset is measured") {
		t.Errorf("the drill page: %+v", o.Rows)
	}
	// Z0 on the finished top, 16 above the floor: the same tip stands 16 lower.
	top := lidPlan(t, func(j *jobs.Job) { j.Setups[0].Z0 = "finished top" })
	if !rowText(desk.DrillPlan(top).Rows, "tip below the seat", "W Z -16.921") {
		t.Errorf("%+v", desk.DrillPlan(top).Rows)
	}
	// A matched thread: relief 1 + thread 5 + lead of 4 threads 1.6 + chips 0.5, and the point 0.480688.
	m := lidPlan(t, func(j *jobs.Job) {
		j.Setups[0].HoldDown = "M"
		j.Tools[4] = jobs.Tool{Name: "drill 1.6", Dia: 1.6, Point: 118, Flute: 26, Shank: 1.6, Stickout: 32, Holder: jobs.Holder{Dia: 24, Length: 30}}
	})
	d = desk.DrillPlan(m)
	if !rowText(d.Rows, "tip below the seat", "8.581 mm (full diameter 8.100 mm), W Z -8.581") || !rowText(d.Rows, "floor left under it", "3.419 mm") {
		t.Errorf("%+v", d.Rows)
	}
	m.Job.Fixture.AsMade.Floor.Under = 9.5
	if d = desk.DrillPlan(m); len(d.Checks) == 0 || d.Checks[0].Limit.ID != "drill.floor" || d.Checks[0].Verdict != fold.Fail {
		t.Errorf("0.9 of floor left: %+v", d.Checks)
	}
	short := lidPlan(t, func(j *jobs.Job) { x := j.Tools[5]; x.Flute = 12; j.Tools[5] = x })
	if c := verdictOf(t, outcome(t, short, "straps", nil, strapsTyped...), "drill.flute"); c.Verdict != fold.Fail {
		t.Errorf("%+v", c)
	}
}

// Holes in machine coordinates go through the measured offset; on a readout they are where
// the part really lies, and each is ticked by what is displayed.
func TestHolePlaces(t *testing.T) {
	const skew = 1e-3
	fix := frame.Fixture{Bore: frame.Vec{X: -300, Y: -150}, V: frame.Vec{X: 45, Y: 20}, Q: 1, Skew: skew}
	pl := fix.Compromise(frame.Vec{})
	offset := fold.Known{ID: "offset", Value: []float64{pl.Offset.X, pl.Offset.Y, -280, 0, 0, 0, 45, 20, 1, skew, -300, -150}, Cov: [][]float64{{0, 0, 0, 0}, {0, 0, 0, 0}, {0, 0, 0, 0}, {0, 0, 0, 0}}}
	p := lidPlan(t, nil)
	rows := pageOf(p, "drill", offset).Rows
	x, y := pl.Offset.X+6, pl.Offset.Y+6
	if want := fmt.Sprintf("X %.3f  Y %.3f", x, y); !rowText(rows, "hole 1, M", want) {
		t.Errorf("want %q in %+v", want, rows)
	}
	read := lidPlan(t, func(j *jobs.Job) { j.Machine.Delivers = "readout" })
	sp, _ := read.Spec("drill")
	asks := sp.Wanted(standing(read, "drill", []fold.Known{offset}))
	var fields []string
	for _, a := range asks {
		fields = append(fields, a.Field)
	}
	if got := strings.Join(fields, " "); got != "pause tool hole1.x hole1.y depth hole2.x hole2.y hole3.x hole3.y hole4.x hole4.y holes tight" {
		t.Fatalf("asks %s", got)
	}
	// The part is turned by 1 mrad about its zero: hole 3 at (90, 58) lies at (90 - 0.058, 58 + 0.090).
	w := asks[7].Window
	if asks[7].Field != "hole3.x" || math.Abs(w.Want-89.942) > 1e-4 || math.Abs(asks[8].Window.Want-58.09) > 1e-4 {
		t.Errorf("%s %+v %+v", asks[7].Field, w, asks[8].Window)
	}
	typed := [][2]string{{"pause", "2"}, {"tool", "5"}, {"depth", "0.92"}, {"holes", "4"}, {"tight", "0"}}
	for _, a := range asks {
		if a.Window != nil && strings.HasPrefix(a.Field, "hole") {
			typed = append(typed, [2]string{a.Field, unit.Format(a.Window.Want, unit.KLength, unit.Metric, 0.001)})
		}
	}
	if o := outcome(t, read, "drill", []fold.Known{offset}, typed...); fold.Worst(o.Checks) != fold.Pass {
		t.Errorf("%+v", o.Checks)
	}
	typed[len(typed)-1][1] = "58.5"
	o := outcome(t, read, "drill", []fold.Known{offset}, typed...)
	if c := verdictOf(t, o, "drill.place.hole4.y"); c.Verdict != fold.Fail || !strings.Contains(c.Words, "Hole 4") {
		t.Errorf("%+v", c)
	}
}

// A cutter that does not reach, one that the cut breaks, runout, a ball.
func TestReachOfTheCutter(t *testing.T) {
	tool := func(edit func(*jobs.Tool, *jobs.Cut)) fold.Outcome {
		p := lidPlan(t, func(j *jobs.Job) {
			x := j.Tools[3]
			edit(&x, &j.Setups[0].Cut)
			j.Tools[3] = x
		})
		return outcome(t, p, "deck", nil, deckCounts...)
	}
	o := tool(func(x *jobs.Tool, c *jobs.Cut) { x.Flute = 0.1 })
	if c := verdictOf(t, o, "reach.3"); c.Verdict != fold.Fail || !strings.Contains(c.Words, "shorter than one pass") {
		t.Errorf("%+v", c)
	}
	failsHaveNext(t, "deck", o)
	o = tool(func(x *jobs.Tool, c *jobs.Cut) {
		x.Shank = 6
		c.Regions = []jobs.Region{{Name: "deep", Outline: jobs.Outline{{X: 40, Y: 30}, {X: 50, Y: 30}, {X: 50, Y: 40}}, Lowest: 2}}
	})
	if c := verdictOf(t, o, "reach.3"); c.Verdict != fold.Fail || !strings.Contains(c.Words, "shank 6 meets the wall") {
		t.Errorf("%+v", c)
	}
	// 1.0 with 8 of flute breaks at 2 pi N.
	o = tool(func(x *jobs.Tool, c *jobs.Cut) {
		x.Dia, x.Flute, c.Ae, c.Ap = 1, 8, 0.5, 1
	})
	if c := verdictOf(t, o, "break.3"); c.Verdict != fold.Fail || math.Abs(c.Limit.Max-2*math.Pi) > 1e-4 {
		t.Errorf("%+v", c)
	}
	o = tool(func(x *jobs.Tool, c *jobs.Cut) { x.Runout = 0.015 })
	if c := verdictOf(t, o, "runout.3"); c.Verdict != fold.Fail || math.Abs(c.Limit.Max-0.01) > 1e-12 || c.Limit.Class != fold.Soft {
		t.Errorf("%+v", c)
	}
	o = tool(func(x *jobs.Tool, c *jobs.Cut) { x.Ball = true })
	ball := false
	for _, r := range o.Lines {
		// 2 sqrt(0.2 (3.175 - 0.2))
		ball = ball || r.Label == "tool 3 cuts on a diameter of" && math.Abs(r.Value-2*math.Sqrt(0.2*2.975)) < 1e-9
	}
	if !ball {
		t.Errorf("%+v", o.Lines)
	}
}

// A crowded table: 20 clamps, 100 holes, 50 regions of support and of cut.
func crowdedPlan(t testing.TB) *fold.Plan {
	return lidPlan(t, func(j *jobs.Job) {
		s := &j.Setups[0]
		box := func(x, y, w, h float64) jobs.Outline {
			return jobs.Outline{{X: x, Y: y}, {X: x + w, Y: y}, {X: x + w, Y: y + h}, {X: x, Y: y + h}}
		}
		j.Part.Size = [3]float64{500, 300, 16}
		s.Screws.At, s.Clamps, j.Fixture.Support = nil, nil, nil
		for i := range 100 {
			s.Screws.At = append(s.Screws.At, jobs.Point{X: 30 + float64(i%20)*23, Y: 30 + float64(i/20)*60})
		}
		for i := range 20 {
			y, at := -60.0, float64(i%10)*48
			if i >= 10 {
				y = 292
			}
			s.Clamps = append(s.Clamps, jobs.Clamp{Name: fmt.Sprint("c", i), Outline: box(at, y, 12, 68), Top: 28, Heel: 30, Tip: 20, Bolt: "M6", Torque: 1000})
		}
		z := j.Fixture.AsMade.PartZero
		for i := range 50 {
			j.Fixture.Support = append(j.Fixture.Support, box(z.X+float64(i%10)*50, z.Y+float64(i/10)*60, 50, 60))
			s.Cut.Regions = append(s.Cut.Regions, jobs.Region{Name: fmt.Sprint("r", i), Outline: box(float64(i%10)*48, float64(i/10)*60, 40, 50), Lowest: 12})
		}
	})
}

func TestCrowdedDesk(t *testing.T) {
	d := desk.AtDesk(crowdedPlan(t))
	if len(d.Checks) < 5 || d.Verdict() == fold.Fail {
		t.Errorf("%d checks, %v: %q", len(d.Checks), d.Verdict(), d.Findings)
	}
}

// Wanted: at most 20 ms.
func BenchmarkDesk20Clamps100Holes50Regions(b *testing.B) {
	p := crowdedPlan(b)
	for b.Loop() {
		desk.AtDesk(p)
	}
}
