package rescue

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fliptrue/calc/frame"
	calc "fliptrue/calc/rescue"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/checks"
	"fliptrue/steps/desk"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// cuts are the programs that run on what holds the part now.
func cuts(p *fold.Plan) (out []jobs.Program) {
	for _, g := range p.Setup.Programs {
		if desk.Runs(p, g.Role) == desk.WhileCut {
			out = append(out, g)
		}
	}
	return out
}

// cutting is the program that was running.
func cutting(p *fold.Plan, v fold.View) (g jobs.Program, role int, ok bool) {
	all := cuts(p)
	switch {
	case len(all) == 1:
		g, ok = all[0], true
	case len(all) > 1:
		i := slices.IndexFunc(all, func(g jobs.Program) bool { return fold.SameAnswer(v.Text("program"), g.File) })
		if ok = i >= 0; ok {
			g = all[i]
		}
	}
	return g, slices.IndexFunc(p.Setup.Programs, func(x jobs.Program) bool { return x.Role == g.Role }), ok
}

// wrote takes down where everything stands before anything moves.
func wrote(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "write down", Needs: fold.Needs(fold.Live("stood"), fold.AsLeft(append([]fold.FactID{"offset"}, kit.LengthFacts(p)...)...),
			fold.IfThere("part/thickness")),
		Makes: []fold.FactID{facts.Stopped.ID},
		Asks:  func(v fold.View) []fold.Ask { return wroteAsks(p, v) },
		Judge: func(v fold.View) fold.Outcome { return judgeWrote(p, v) },
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "What the control shows now is gone with the first move, and cannot be read again.",
				Act:     "Touch nothing. Read the control, take a photo.",
				Read:    "Read the control as it stands, positions to the last digit.",
				Caution: "Power stays as it is. Nobody presses reset, home or start.", Scene: kit.Scene(p, v, nil)}
		},
	}
}

func wroteAsks(p *fold.Plan, v fold.View) []fold.Ask {
	var asks []fold.Ask
	if all := cuts(p); len(all) > 1 {
		a := fold.Ask{Field: "program", Label: "program that was running", Kind: fold.Choice, What: fold.What{By: "control", Of: "program",
			Dir: "running"}}
		for _, g := range all {
			a.Options = append(a.Options, g.File)
		}
		asks = append(asks, a)
	}
	line := fold.Ask{Field: "line", Label: "line of the program, counted from its first; within a subprogram the line that calls it",
		Kind: fold.Reading, Unit: unit.Scalar, What: fold.What{By: "control", Of: "program", Dir: "line"}}
	line.Do = []fold.Act{{Do: "look", Of: "control", Words: "Photo of the control and of the part. Then read."}}
	repeat := fold.Ask{Field: "repeat", Label: "which run of that subprogram, from 1; 0 without", Kind: fold.Count,
		What: fold.What{By: "control", Of: "program", Dir: "repeat"}}
	tool := fold.Ask{Field: "tool", Label: "tool number in the spindle", Kind: fold.Count,
		What: fold.What{By: "eye", Of: "spindle", Dir: "tool"}}
	asks = append(asks, line, repeat, tool)
	if p.Job.Machine.Homed && !checks.Presets(p) {
		for _, s := range [2][2]string{{"m", "machine"}, {"w", "work"}} {
			for _, ax := range kit.AxisName {
				a := length(s[0]+ax, s[1]+" "+strings.ToUpper(ax), fold.What{By: "control", Of: "stop", Dir: s[0], Axis: ax}, nil)
				if a.Form = s[0]; s[0] == "m" {
					a.Window = kit.Closer(kit.TravelWindow(p, ax), overPart(p, v, ax))
				} else {
					a.Window = workAt(p, v, ax)
				}
				asks = append(asks, a)
			}
		}
	}
	asks = append(asks, stoodAsk(p, v)...)
	lines := fold.Ask{Field: "lines", Label: "paint lines unbroken across head and part", Kind: fold.Count,
		What: fold.What{By: "eye", Of: "paint-lines"}}
	heard := fold.Ask{Field: "heard", Label: "what was heard before it", Kind: fold.Choice, Options: []string{"nothing", "another pitch",
		"chatter", "a bang"}, What: fold.What{By: "ear", Of: "cut", Dir: "heard"}}
	rock := fold.Ask{Field: "rock", Label: "the part rocks under a finger, spindle command off", Kind: fold.Choice, Options: []string{no, yes},
		What: fold.What{By: "finger", Of: "part", Dir: "rock"}}
	walls := fold.Ask{Field: "walls", Label: "strips that pull out at the walls", Kind: fold.Count,
		What: fold.What{By: "feeler", Of: "part", Dir: "walls"}}
	photo := wants("photo", "photo of control and part taken", "control", "photo", "Nobody remembers it as it was.", "Take it now.")
	return append(asks, lines, heard, rock, walls, photo)
}

// lineOf is the line as written down.
func lineOf(v fold.View) (int, bool) {
	n, ok := v.Num("line", unit.Scalar)
	return int(math.Round(n)), ok
}

func judgeWrote(p *fold.Plan, v fold.View) fold.Outcome {
	var o fold.Outcome
	_, role, ok := cutting(p, v)
	if !ok {
		role = -1
	}
	o.Learned = "Written down. Nothing that moves from here on loses where it stood."
	if fold.SameAnswer(v.Text("photo"), no) {
		o.Next = append(o.Next, fold.Act{Do: "look", Of: "control", Words: "Take the photo."}, fold.Act{Do: "again", Of: "photo"})
	}
	inForce(p, v, &o)
	line, _ := lineOf(v)
	stopped := facts.StoppedFact{Line: float64(line), Repeat: float64(max(v.Int("repeat"), 0)), Role: float64(role)}
	if from := judgeStood(p, v, &o); from != line {
		stopped.Line, stopped.Wrote = float64(from), float64(line)
	}
	o.Facts = []fold.Known{facts.Stopped.Is(stopped)}
	return o
}

// inForce holds the offset that the two readouts give against the one that was left.
func inForce(p *fold.Plan, v fold.View, o *fold.Outcome) {
	old, known := v.Fact("offset")
	if !known || !v.Has("mx") {
		o.Notes = append(o.Notes, "The offset in force is not held against the readouts here.")
		return
	}
	place := kit.ReadOffset(old)
	w := frame.Vec{X: v.Len("wx"), Y: v.Len("wy")}.Turned(float64(place.Place.Rotation)) // along the machine's axes
	axes := 3
	l, of := shownLength(p, v)
	if !of { // another tool, or a proven program, that is walked without reading lengths
		axes = 2
		o.Notes = append(o.Notes, fmt.Sprintf("No length of T%d was read: Z is not held against the readouts.", v.Int("tool")))
	}
	shown := calc.ShownOffset(frame.Vec3{X: v.Len("mx"), Y: v.Len("my"), Z: v.Len("mz")}, frame.Vec3{X: w.X, Y: w.Y, Z: v.Len("wz")}, l)
	off := [3]float64{shown.X - place.Place.Offset.X, shown.Y - place.Place.Offset.Y, shown.Z - place.Z}
	for i, d := range off[:axes] {
		lim := p.Limit("rescue.offset")
		lim.ID += "." + kit.AxisName[i]
		lim.Why += " along " + strings.ToUpper(kit.AxisName[i])
		c := judge.Most(lim, math.Abs(d), 0)
		if c.Verdict != fold.Pass {
			c.Words = fmt.Sprintf("%s of the offset was %s off what was read back. A shift was live, or a digit slipped.",
				strings.ToUpper(kit.AxisName[i]), p.Len(math.Abs(d)))
			o.Named = "shift-live"
			if len(o.Next) == 0 {
				o.Next = append(o.Next, fold.Act{Do: "look", Of: "readout", Words: c.Words + " Read both positions once more."},
					fold.Act{Do: "again", Of: "m"}, fold.Act{Do: "again", Of: "w"})
			}
		}
		o.Checks = append(o.Checks, c)
	}
	o.Lines = append(o.Lines, fold.Row{Label: p.Setup.Offset + " by the readouts, X", Value: shown.X, Unit: unit.KLength, Signed: true},
		fold.Row{Label: "Y", Value: shown.Y, Unit: unit.KLength, Signed: true})
	if axes == 3 {
		o.Lines = append(o.Lines, fold.Row{Label: "Z, tool length taken off", Value: shown.Z, Unit: unit.KLength, Signed: true})
	}
}

// shownLength is the tool's length as the machine's Z readout has it, 0 where it has none; ok is false of one that was not read.
func shownLength(p *fold.Plan, v fold.View) (l float64, ok bool) {
	if !lengthsShown(p) {
		return 0, true
	}
	of := facts.Length.Of(fmt.Sprint(v.Int("tool")))
	if !slices.Contains(kit.LengthFacts(p), of.ID) {
		return 0, false
	}
	t, ok := of.In(v)
	return float64(t.L), ok
}

// overPart is where the machine can stand that was cutting the part, nil of the other axis or without an offset.
func overPart(p *fold.Plan, v fold.View, axis string) *fold.Window {
	old, known := v.Fact("offset")
	if !known || axis == "z" {
		return nil
	}
	at := kit.ReadOffset(old).Place
	size := frame.Vec{X: p.Job.Part.Size[0], Y: p.Job.Part.Size[1]}
	mid := size.Times(0.5).Turned(float64(at.Rotation)).Add(frame.Vec{X: at.Offset.X, Y: at.Offset.Y})
	return kit.Around(map[string]float64{"x": mid.X, "y": mid.Y}[axis], size.Len()/2+beside, "the part under the cutter")
}

// beside is how far from the part a cutter comes in and goes out, mm (estimate).
const beside = 25

// workAt is where the work readout should stand by the machine's and the offset that was left, nil before that was read.
func workAt(p *fold.Plan, v fold.View, axis string) *fold.Window {
	old, known := v.Fact("offset")
	l, of := shownLength(p, v)
	if !known || !of && axis == "z" || !v.Has("mx") || !v.Has("my") || !v.Has("mz") {
		return nil
	}
	at := kit.ReadOffset(old)
	w := frame.Vec{X: v.Len("mx") - at.Place.Offset.X, Y: v.Len("my") - at.Place.Offset.Y}.Turned(-float64(at.Place.Rotation))
	want := map[string]float64{"x": w.X, "y": w.Y, "z": v.Len("mz") - at.Z - l}[axis]
	return kit.Around(want, 1, "the machine's readout less the offset")
}

// lengthsShown says that the machine's Z readout has the tool's length in it.
func lengthsShown(p *fold.Plan) bool { return p.Job.Machine.Lengths != "touched-off" }
