package rescue

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/frame"
	"fliptrue/calc/ncode"
	"fliptrue/jobs"
	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// The line that is written down and the place that is read are two witnesses of one pass. Where they part, what lies between would stay
// uncut: the line begun at is that of the earliest pass that either tells of. Air that is cut again costs minutes alone.

// stoodField is the program as it was held against the readouts. A record that has none was walked before that was done.
const stoodField = "stood"

var stoodSince = fold.Since{Walk: 4, What: "the line held against the readouts"}

// How near the readouts come to the path: across X and Y what a servo lags at 1000 mm/min, 1 m/min for each mm (common practice, from
// memory); along Z what a head sinks into its brake, and two steps of the readout. From raised on a person has lifted it.
const (
	lags   = 1.0
	sinks  = 0.02
	raised = 2.0
)

func stopHeight(p *fold.Plan) float64 { return sinks + 2*p.Job.Machine.Readout }

// placeOf is the work position read, mm.
func placeOf(v fold.View) (at [3]float64, ok bool) {
	for i, ax := range kit.AxisName {
		if !v.Has("w" + ax) {
			return at, false
		}
		at[i] = v.Len("w" + ax)
	}
	return at, true
}

// stoodAsk has the program read for the line and the place, once both are there.
func stoodAsk(p *fold.Plan, v fold.View) []fold.Ask {
	g, _, ok := cutting(p, v)
	at, read := placeOf(v)
	line, has := lineOf(v)
	if !ok || !read || !has {
		return nil
	}
	return []fold.Ask{{Field: stoodField, Since: stoodSince, Label: "where that line runs in " + g.File, Kind: fold.Choice,
		Options: []string{"read it now"}, What: fold.What{By: fold.BySelf, Of: "program/" + g.Role, Dir: stoodField},
		Self: func() string { return stoodNow(p, v, g, line, at).Written() }}}
}

func stoodNow(p *fold.Plan, v fold.View, g jobs.Program, line int, at [3]float64) desk.Stood {
	near := ncode.Near{XY: stopAside(p, v, at), Z: stopHeight(p)}
	return desk.StoodOf(p, v.Perhaps, g.Role, g.File, ncode.Stop{Line: line}, at, near)
}

// stopAside is the limit across X and Y: a control may show a turned place unturned.
func stopAside(p *fold.Plan, v fold.View, at [3]float64) float64 {
	turn := 0.0
	if old, ok := v.Fact("offset"); ok {
		turn = math.Abs(float64(kit.ReadOffset(old).Place.Rotation))
	}
	return p.Limit("rescue.pass").Max + turn*frame.Vec{X: at[0], Y: at[1]}.Len()
}

// judgeStood holds the place against the line, and gives the line that the restart is reckoned from.
func judgeStood(p *fold.Plan, v fold.View, o *fold.Outcome) (from int) {
	line, _ := lineOf(v)
	s, ok := desk.ReadStood(v.Text(stoodField))
	at, read := placeOf(v)
	switch {
	case !ok || !read:
		return line
	case !s.Is(line, at):
		o.Checks = append(o.Checks, judge.Unknown(p.Limit("rescue.pass"),
			"Line or place were read again: the program is to be held against them."))
		o.Next = append(o.Next, fold.Act{Do: "again", Of: stoodField})
		return line
	case s.Why != "":
		o.Notes = append(o.Notes, "The line is not held against the readouts. "+fold.Capital(s.Why)+".")
		return line
	case s.Blind:
		o.Notes = append(o.Notes, fmt.Sprintf("Where line %d runs the program does not say: it is not held against the readouts.", line))
		return line
	}
	aside := judge.Most(judge.At(p.Limit("rescue.pass"), stopAside(p, v, at)), s.Off, 0)
	fits := aside.Verdict == fold.Pass
	height := judge.Most(judge.At(p.Limit("rescue.height"), stopHeight(p)), math.Abs(s.Over), 0)
	switch {
	case fits && height.Verdict == fold.Pass:
		o.Checks = append(o.Checks, aside, height)
		return line
	case fits && len(s.Held) == 0 && s.Over >= raised:
		o.Checks = append(o.Checks, aside)
		return wasRaised(p, s, o)
	}
	words := otherPass(p, s, fits)
	if fits {
		height.Words = words
		o.Checks = append(o.Checks, aside, height)
	} else {
		aside.Words = words
		o.Checks = append(o.Checks, aside)
	}
	if o.Named == "" {
		o.Named = "line-of-another-pass"
		o.Next = append(o.Next, fold.Act{Do: "look", Of: "control",
			Words: "Look at the control and its photo. Read line, X, Y and Z again. " + words})
	}
	for _, f := range []string{"line", "w", stoodField} {
		o.Next = append(o.Next, fold.Act{Do: "again", Of: f})
	}
	if len(s.Held) > 0 {
		return earliest(line, s, s.Held)
	}
	return earliest(line, s, s.Under)
}

// wasRaised is a tool that stands far over its line: X and Y alone tell of the pass.
func wasRaised(p *fold.Plan, s desk.Stood, o *fold.Outcome) int {
	var under []desk.StoodBy
	for _, b := range s.Under {
		if b.Over > 0 {
			under = append(under, b)
		}
	}
	from := earliest(s.Stop, s, under)
	words := fmt.Sprintf("Z stands %s over line %d: it was raised, and can't be compared.", p.Len(s.Over), s.Stop)
	if from != s.Stop {
		words += fmt.Sprintf(" X and Y fit %s. It begins for the earliest, line %d: cutting air is safe.", linesOf(under), from)
	}
	o.Notes = append(o.Notes, words)
	return from
}

// earliest is the first line of those passes that begins before the written one does.
func earliest(line int, s desk.Stood, of []desk.StoodBy) int {
	if len(of) > 0 && of[0].Begins < s.Begins {
		return of[0].Line
	}
	return line
}

// otherPass says which lines the readouts fit.
func otherPass(p *fold.Plan, s desk.Stood, fits bool) string {
	switch {
	case len(s.Held) > 0:
		return fmt.Sprintf("X, Y and Z fit %s, not line %d.", linesOf(s.Held), s.Stop)
	case fits:
		return fmt.Sprintf("Z stands %s off line %d, and no line cuts there.", kit.Signed(p, s.Over), s.Stop)
	}
	return fmt.Sprintf("X and Y stand %s off line %d, and no line cuts there.", p.Len(s.Off), s.Stop)
}

func linesOf(of []desk.StoodBy) string {
	var out []string
	for _, b := range of {
		out = append(out, fmt.Sprint(b.Line))
	}
	if len(out) == 1 {
		return "line " + out[0]
	}
	if len(out) > 4 {
		return "lines " + strings.Join(out[:3], ", ") + " and more"
	}
	return "lines " + strings.Join(out[:len(out)-1], ", ") + " and " + out[len(out)-1]
}
