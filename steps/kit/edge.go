package kit

import (
	"fmt"
	"math"

	"fliptrue/calc/fit"
	"fliptrue/calc/pickup"
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
)

// Edge is what the dial runs along: a straight line whose direction is wanted.
type Edge struct {
	Side   string // that it faces: front, rear, left or right
	From   fold.XY
	Length float64
	Zero   float64 // its direction as made, rad, counter-clockwise
	Wander float64 // half-width of the moving axis's own straightness that counts, mm
}

// wander is what the moving axis wanders by the machine's card, as a half-width, mm; where it has none what is usual.
func wander(p *fold.Plan) float64 {
	if w := p.Job.Machine.Straightness; w > 0 {
		return w
	}
	return fit.AxisStraightness
}

// EdgeOf is the edge of this setup: the face of the vise's fixed jaw, or what the fixture has.
func EdgeOf(p *fold.Plan) (Edge, bool) { return DatumOf(p).Edge() }

// EdgeWords are how a person knows an edge under the dial, and what lies where while it is read.
type EdgeWords struct {
	Edge string // "the edge"
	Bare string // when tapping is allowed
}

// EdgeBearing is an edge, or the line of two dowels, under a dial.
type EdgeBearing struct {
	P       *fold.Plan
	Edge    Edge
	Words   EdgeWords
	Doubted bool // a tap went the wrong way: how the needle turns is tried by a jog
}

// Stations are where the dial is read along the edge, mm from its start. Two stations are
// the two ends themselves: a line of two dowels, read at each one's high spot.
func Stations(p *fold.Plan) []float64 {
	e, _ := EdgeOf(p)
	n := p.Setup.Stations
	if n == 2 || DatumOf(p).AtEnds() {
		return []float64{0, e.Length}
	}
	if n < 3 {
		n = 7
	}
	var out []float64
	for i := 0; i < n; i++ {
		out = append(out, Even(p, e.Length*(0.05+0.9*float64(i)/float64(n-1)), 1, 0.05))
	}
	switch {
	case p.Level() == fold.Full:
		return out
	case SecondSeen(p): // both bores tell the direction once more: the ends are enough
		return []float64{out[0], out[n-1]}
	}
	return []float64{out[0], out[n/2], out[n-1]}
}

// SecondSeen says that a second bore or pin is read at the plan's level.
func SecondSeen(p *fold.Plan) bool {
	return p.Level() != fold.Full && p.Job.Fixture.AsMade.Bore2 != nil
}

// lowBefore is the near end as it was read last: while only the far end is tapped the near one is the pivot.
func (b EdgeBearing) lowBefore(v fold.View) (float64, bool) {
	if b.P.Level() == fold.Full {
		return 0, false
	}
	fields := []string{"low", "jog0"}
	for i, r := range append([]*fold.Round{v.Round}, newestFirst(v.Earlier)...) {
		if i == 1 { // a run of before ended with the bolts tight
			fields = append([]string{stationField(0)}, fields...)
		}
		w := v.In(r, nil)
		for _, field := range fields {
			if x, ok := w.Num(field, unit.KLength); ok {
				return x, true
			}
		}
	}
	return 0, false
}

// Even rounds a length of the tool's own choosing to a step that is round in the job's unit: mm or inches.
func Even(p *fold.Plan, v, mm, in float64) float64 {
	step := mm
	if p.Job.Unit == unit.Imperial {
		step = in * float64(unit.Inch)
	}
	return math.Round(v/step) * step
}

// Jog is the travel of an edge's jog test, round in the job's unit; a tenths dial in
// inches has no more than 0.008 in of range.
func Jog(p *fold.Plan) float64 {
	if p.Job.Unit == unit.Imperial {
		return 0.005 * float64(unit.Inch)
	}
	return fit.JogTravel
}

// sweepJog is that of a dial swept in a bore, whose range is needed on both sides.
func sweepJog(p *fold.Plan) float64 {
	if p.Job.Unit == unit.Imperial {
		return 0.004 * float64(unit.Inch)
	}
	return fit.JogTravel / 2
}

// JogDir is a jog as What says it, in mm.
func JogDir(p *fold.Plan, by float64) string { return fmt.Sprintf("jog%+.4f", by) }

// dialBack is how near a dial comes back to what it read at a place, the thing under it not moved, mm (estimate).
const dialBack = 0.1

// dialWindow is a dial's range, with its turns as slips.
func dialWindow(p *fold.Plan) *fold.Window {
	w := Around(0, 1.2, "the dial's range")
	w.Slips = unit.SlipContext{Step: p.Job.Machine.Dial.Graduation}
	return w
}

// JogWindow is what a dial can read after a jog from that reading, either way: with less
// or more movement the jog test can't give its scale.
func JogWindow(p *fold.Plan, from, jog float64) *fold.Window {
	w := dialWindow(p)
	w.Want, w.Half, w.Least = from, math.Abs(jog)/fit.ScaleLeast, math.Abs(jog)/fit.ScaleMost
	w.Why = "the reading before, moved either way by the jog of " + p.Len(math.Abs(jog))
	w.Nearer = "the needle hardly moved for a jog of " + p.Len(math.Abs(jog)) + ": does the stylus touch, and was it the right axis"
	return w
}

// turns are the travels of one turn of common dials, mm (common practice).
func turns(p *fold.Plan) []float64 {
	if p.Job.Unit == unit.Imperial {
		in := float64(unit.Inch)
		return []float64{0.008 * in, 0.016 * in, 0.030 * in, 0.040 * in}
	}
	return []float64{0.2, 0.4, 0.5, 1.0}
}

func (b EdgeBearing) dial(field, label string, i int, dir string) fold.Ask {
	return fold.Ask{Field: field, Label: label, Kind: fold.Reading, Unit: unit.KLength,
		What: fold.What{By: "dial", Of: "edge@" + Place(Stations(b.P)[i]), Dir: dir}, Window: dialWindow(b.P)}
}

func stationField(i int) string { return fmt.Sprintf("s%d", i+1) }

// scale is the dial's, by the jog test, else by how its needle turns as it is pressed in.
func (b EdgeBearing) scale(v fold.View) (sc fit.Scale, ok bool, err error) {
	if sc, ok, err = b.jogged(v); !ok && pressed(b.P) {
		return b.scalePressed(), true, nil
	}
	return sc, ok, err
}

// jogged is the scale by the jog test of this round or the newest before it.
func (b EdgeBearing) jogged(v fold.View) (sc fit.Scale, ok bool, err error) {
	for _, r := range append([]*fold.Round{v.Round}, newestFirst(v.Earlier)...) {
		w := v.In(r, nil)
		x, ok1 := w.Num("jog0", unit.KLength)
		y, ok2 := w.Num("jog1", unit.KLength)
		if ok1 && ok2 {
			if sc, err = fit.JogScale(Jog(b.P), x, y, b.P.Job.Machine.Dial.Graduation); err == nil {
				err = Unexplained(b.P, w, sc, leverField, Jog(b.P))
			}
			return sc, true, err
		}
	}
	return sc, false, nil
}

// leverField is the field of the stylus' angle, beside a jog test of the edge.
const leverField = "lever"

func (b EdgeBearing) Ready(v fold.View) []fold.Ask {
	if _, ok, err := b.jogged(v.In(nil, v.Earlier)); ok && err == nil || pressed(b.P) && !b.Doubted {
		return nil
	}
	low, _ := Ends(b.P)
	j := Jog(b.P)
	x := b.dial("jog0", low+" end: dial", 0, "")
	x.Do = []fold.Act{{Do: "fit", Of: "dial", Words: "Dial in the spindle, stylus on " + b.Words.Edge + " at the " + low +
		" end. Come from one side, always the same."}}
	y := b.dial("jog1", "after jogging", 0, JogDir(b.P, j))
	if at, ok := v.Num("jog0", unit.KLength); ok {
		y.Window = JogWindow(b.P, at, j)
	}
	axis := "Y"
	if AlongY(b.P) {
		axis = "X"
	}
	y.Do = []fold.Act{{Do: "jog", Of: x.What.Of, Dir: "+", Amount: j,
		Words: fmt.Sprintf("Jog test: move the tool by %s %s, read, and go back.", axis, unit.Signed(j, unit.KLength, b.P.Job.Unit, 0))}}
	asks := []fold.Ask{x, y}
	if sc, ok, _ := b.jogged(v.In(v.Round, nil)); ok {
		asks = append(asks, LeverAsks(v, sc, leverField, x.What.Of)...)
	}
	return asks
}

func (b EdgeBearing) Faulty(v fold.View) error {
	_, _, err := b.scale(v)
	return err
}

func (b EdgeBearing) Ends(v fold.View) []fold.Ask {
	if ByNeedle(b.P) {
		return nil
	}
	low, high := Ends(b.P)
	near, far := b.dial("low", low+" end", 0, ""), b.dial("high", high+" end", len(Stations(b.P))-1, "")
	if _, ok := b.lowBefore(v); ok {
		return []fold.Ask{far}
	}
	if x, ok := v.Num("jog0", unit.KLength); ok {
		near.Window.Want, near.Window.Half, near.Window.Why = x, dialBack, "before the jog test"
	}
	return []fold.Ask{near, far}
}

func (b EdgeBearing) Run(v fold.View) []fold.Ask {
	var asks []fold.Ask
	low, _ := Ends(b.P)
	st := Stations(b.P)
	for i, x := range st {
		a := b.dial(stationField(i), "stylus "+b.P.Len(x)+" from the "+low+" end", i, "")
		if w := b.station(v, i); w != nil {
			a.Window.Want, a.Window.Half, a.Window.Why = w.Want, w.Half, w.Why
		}
		asks = append(asks, a)
	}
	if ByNeedle(b.P) {
		return b.once(v, asks)
	}
	if len(st) == 2 && SecondSeen(b.P) {
		return asks
	}
	a := b.dial("close", "back at the first place", 0, "")
	if x, ok := v.Num(stationField(0), unit.KLength); ok {
		a.Window.Want, a.Window.Half, a.Window.Why = x, b.twist(), "the first reading"
	}
	return append(asks, a)
}

// twist is what tightened bolts may move an edge, or how far it is from straight (common practice).
func (b EdgeBearing) twist() float64 { return Even(b.P, 0.2, 0.1, 0.004) }

// station is where the dial is expected at one: on the line of both ends, else of the two stations before it, or as the jog test left it.
func (b EdgeBearing) station(v fold.View, i int) *fold.Window {
	st := Stations(b.P)
	line := func(x0, y0, x1, y1 float64) float64 { return y0 + (y1-y0)*(st[i]-x0)/(x1-x0) }
	l, ok1 := v.Num("low", unit.KLength)
	h, ok2 := v.Num("high", unit.KLength)
	if ok1 && ok2 {
		return Around(line(st[0], l, st[len(st)-1], h), b.twist(), "both ends, before the bolts were tight")
	}
	if i > 1 {
		l, ok1 = v.Num(stationField(i-2), unit.KLength)
		h, ok2 = v.Num(stationField(i-1), unit.KLength)
		if ok1 && ok2 {
			return Around(line(st[i-2], l, st[i-1], h), b.twist(), "the stations before it")
		}
	}
	if x, ok := v.Num("jog0", unit.KLength); ok && i == 0 {
		return Around(x, b.twist(), "before the jog test")
	}
	return nil
}

// run is what the dial read: all stations, or while tapping the ends; ok is false while something is missing.
func (b EdgeBearing) run(v fold.View, all bool) (in fit.Run, good bool) {
	sc, ok, err := b.scale(v)
	if !ok || err != nil {
		return in, false
	}
	st := Stations(b.P)
	m := &b.P.Job.Machine
	in = fit.Run{AlongY: AlongY(b.P), Scale: sc, Graduation: m.Dial.Graduation}
	in.Axis = fit.Known(b.Edge.Wander)
	put := func(x float64, field string) bool {
		y, has := v.Num(field, unit.KLength)
		in.Stations, in.Readings = append(in.Stations, x), append(in.Readings, y)
		return has
	}
	if all {
		for i, x := range st {
			if i == 0 && zeroed(b.P) {
				in.Stations, in.Readings = append(in.Stations, x), append(in.Readings, 0)
				continue
			}
			ok = put(x, stationField(i)) && ok
		}
		if c, has := v.Num("close", unit.KLength); has {
			in.Closing = fit.Known(c)
		} else if !SecondSeen(b.P) {
			ok = false
		}
	} else if y, known := b.lowBefore(v); known {
		in.Stations, in.Readings = []float64{st[0]}, []float64{y}
		ok = put(st[len(st)-1], "high")
	} else {
		ok = put(st[0], "low") && put(st[len(st)-1], "high")
	}
	if !ok {
		return in, false
	}
	return in, true
}

// Outlying is the station that belongs least, against both ends as read before the bolts were tight.
func (b EdgeBearing) Outlying(v fold.View) (field, where string, off float64, ok bool) {
	in, ok := b.run(v, true)
	if !ok {
		return "", "", 0, false
	}
	var before [2]fit.Value
	if x, known := v.Num("low", unit.KLength); known {
		before[0] = fit.Known(x)
	} else if x, known := b.lowBefore(v.In(nil, v.Earlier)); known {
		before[0] = fit.Known(x)
	} else if x, known := v.Num("jog0", unit.KLength); known {
		before[0] = fit.Known(x)
	}
	if x, known := v.Num("high", unit.KLength); known {
		before[1] = fit.Known(x)
	}
	i, off, ok := in.Outlying(before)
	if !ok {
		return "", "", 0, false
	}
	low, _ := Ends(b.P)
	return stationField(i), b.P.Len(Stations(b.P)[i]) + " from the " + low + " end", off, true
}

func (b EdgeBearing) Read(v fold.View, all bool) (Heading, bool) {
	in, ok := b.run(v, all)
	if !ok {
		return Heading{}, false
	}
	st := Stations(b.P)
	e, err := in.Edge()
	if err != nil {
		return Heading{}, false
	}
	return Heading{Heading: pickup.ByEdge(e, b.Edge.Zero, st[len(st)-1]-st[0]), Full: all, far: in.Readings[len(in.Readings)-1],
		edge: e, Form: e.Form.V}, true
}

func (b EdgeBearing) Check(h Heading, limit fold.Limit, o *fold.Outcome) {
	p, e, st := b.P, h.edge, Stations(b.P)
	if len(st) == 2 && SecondSeen(p) {
		o.Notes = append(o.Notes, "Two ends have no redundancy: both bores say the direction once more in the next step.")
		return
	}
	cl, _ := e.CheckClosing(limit.Max, p.Job.Machine.Dial.Graduation)
	k := judge.Of(p.Limit("square.closing"), math.Abs(cl.Error), 0)
	if !cl.OK {
		k.Verdict = fold.Fail
	}
	if k.Verdict == fold.Fail {
		k.Words = "The dial did not come back to its first reading: its stand or its stylus moved. Clamp it and run again."
		o.Next = append(o.Next, fold.Act{Do: "round", Words: k.Words})
	}
	o.Checks = append(o.Checks, k)
	readings := make([]float64, e.N)
	for i := range readings {
		readings[i] = e.Intercept + e.Slope*st[i] + e.Residuals[i]
	}
	if at, by, ok := fit.FullTurn(readings, turns(p)...); ok {
		o.Named = "dial-turn"
		o.Notes = append(o.Notes, fmt.Sprintf("From station %s on all readings jump by %s: did the needle go round once more?", p.Num(st[at]),
			p.Len(math.Abs(by))))
	} else if e.Nick >= 0 {
		o.Named = "nick"
		o.Notes = append(o.Notes, fmt.Sprintf("Station %s stands out by %s: a nick or a chip there. Wipe and read it again.", p.Num(st[e.Nick]),
			p.Len(math.Abs(e.NickDepth))))
	}
	if e.Form.Has {
		o.Lines = append(o.Lines, fold.Row{Label: "straight within", Value: e.Form.V, Unit: unit.KLength})
	}
	o.Lines = append(o.Lines, fold.Row{Label: "closed within", Value: cl.Error, Unit: unit.KLength, Signed: true})
}

// Pivot is the dial at the near end.
func (b EdgeBearing) Pivot(v fold.View) (at float64, fields []string, ok bool) {
	at, ok = v.Num("low", unit.KLength)
	return at, []string{"low", "high"}, ok
}

// Watch is the dial at the far end: a full run left it at the near one.
func (b EdgeBearing) Watch(h Heading, move float64) Watch {
	n := fold.Needle{By: move / h.edge.Scale.V, Step: b.P.Job.Machine.Dial.Graduation}
	n.To = h.far + n.By
	show := func(v float64) string { return unit.Format(v, unit.KLength, b.P.Job.Unit, n.Step) }
	_, high := Ends(b.P)
	w := Watch{Needle: n, Before: "Leave the dial at the " + high + " end. "}
	if h.Full {
		w.Before = "Put the dial at the " + high + " end. "
	}
	verb := "RISE"
	if n.By < 0 {
		verb = "FALL"
	}
	w.After = fmt.Sprintf(": the needle must %s by %s to %s.", verb, show(math.Abs(n.By)), show(n.To))
	if times := math.Abs(1 / h.edge.Scale.V); math.Abs(times-1) > 0.02 {
		w.After += fmt.Sprintf(" This dial reads %.2f times the move here.", times)
	}
	return w
}

func (b EdgeBearing) Says() (act, read, caution string) {
	faces := map[string]string{"front": "toward you", "rear": "away", "left": "left", "right": "right"}[b.Edge.Side]
	return "Run the dial along " + b.Words.Edge + " that faces " + faces + "; tap until both ends agree.",
		"As the dial shows, clockwise is plus. Come to every station from the same side.",
		"SPINDLE STOPPED, its command off: never start it with a dial fitted. " + b.Words.Bare
}

// plot is the run as a picture, nil while there is none.
func (b EdgeBearing) Plot(v fold.View) *fold.RunPlot {
	h, ok := b.Read(v, true)
	if !ok {
		h, ok = b.Read(v, false)
	}
	if !ok {
		return nil
	}
	pl := &fold.RunPlot{Suspect: -1, Scale: h.edge.Scale.V, AsMade: b.Edge.Zero}
	if AlongY(b.P) {
		pl.AsMade = -pl.AsMade
	}
	pl.Ends[0], pl.Ends[1] = Ends(b.P)
	if in, ok := b.run(v, h.Full); ok { // the low end may have been read before this round
		for i, x := range in.Stations {
			pl.At, pl.Reading, pl.Fitted = append(pl.At, x), append(pl.Reading, in.Readings[i]), append(pl.Fitted, h.edge.Intercept+h.edge.Slope*x)
		}
	}
	if h.Full {
		pl.Suspect = h.edge.Nick
	}
	_, pl.TapEnd = Ends(b.P)
	pl.TapDir, pl.Tap = TapWay(b.P, -h.Rise), math.Abs(h.Rise)
	return pl
}
