package kit

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"fliptrue/calc/pickup"
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
)

// Sweeper is a dial in the spindle, swept in a bore or round a pin. It measures the
// spindle axis itself: no ball, no eccentricity, no lobing.
type Sweeper struct{ p *fold.Plan }

// moveOff is how near a spindle is moved to where it was sent, mm (estimate).
const moveOff = 0.05

// maxSweeps is how often the spindle is moved and the sweep repeated before it is given up.
const maxSweeps = 5

// sweptAngles are the fields and directions of a sweep, in the order the spindle is turned.
var sweptAngles = [...]struct{ field, dir string }{{"d0", "0"}, {"d90", "90"}, {"d180", "180"}, {"d270", "270"}}

func (s Sweeper) field(t Target, name string, k int) string { return RepeatField(t.Pre+name, k) }

// scale is the dial's, by the jog test of this round or the newest before it.
func (s Sweeper) scale(v fold.View, t Target) (sc fit.Scale, ok bool, err error) {
	pre := t.Pre
	if t.jog != "" {
		pre = t.jog
	}
	for _, r := range append([]*fold.Round{v.Round}, newestFirst(v.Earlier)...) {
		w := v.In(r, nil)
		for _, axis := range []string{"x", "y"} {
			a, ok1 := w.Num(pre+dialAt(axis, 1), unit.KLength)
			b, ok2 := w.Num(pre+"jog"+axis, unit.KLength)
			if ok1 && ok2 {
				if sc, err = fit.JogScale(sweepJog(s.p), a, b, s.p.Job.Machine.Dial.Graduation); err == nil {
					err = Unexplained(s.p, w, sc, pre+leverField, sweepJog(s.p))
				}
				return sc, true, err
			}
		}
	}
	return sc, false, nil
}

func newestFirst(rs []*fold.Round) []*fold.Round {
	var out []*fold.Round
	for i := len(rs) - 1; i >= 0; i-- {
		out = append(out, rs[i])
	}
	return out
}

// dialAt is the sweep's field on the + or - side of an axis.
func dialAt(axis string, sign int) string {
	a, b := QuarterOf(axis)
	if sign < 0 {
		a = b
	}
	return sweptAngles[a].field
}

func (s Sweeper) Read(v fold.View, t Target, k int) (at fit.Point, r fit.SweptReadings, ok bool) {
	ok = true
	get := func(name string) float64 {
		x, has := v.Num(s.field(t, name, k), unit.KLength)
		ok = ok && has
		return x
	}
	at = fit.Point{X: get("sx"), Y: get("sy")}
	r = fit.SweptReadings{XPlus: get("d0"), YPlus: get("d90"), XMinus: get("d180"), YMinus: get("d270")}
	return at, r, ok
}

// still is the move below which the spindle stands on the centre.
func (s Sweeper) still() float64 {
	return math.Max(s.p.Job.Machine.Dial.Graduation, s.p.Job.Machine.Readout)
}

// swept is the k-th sweep, when it is complete and the dial's scale is known.
func (s Sweeper) swept(v fold.View, t Target, k int) (fit.Swept, bool) {
	sc, has, err := s.scale(v, t)
	at, r, complete := s.Read(v, t, k)
	if k < 1 || !has || err != nil || !complete {
		return fit.Swept{}, false
	}
	sw, err := fit.ToSwept(at, r, sc, s.p.Job.Machine.Dial.Graduation)
	return sw, err == nil
}

// last is the newest complete sweep.
func (s Sweeper) last(v fold.View, t Target) (sw fit.Swept, ok bool) {
	for k := 1; k <= maxSweeps; k++ {
		if x, complete := s.swept(v, t, k); complete {
			sw, ok = x, true
		}
	}
	return sw, ok
}

func (s Sweeper) dial(t Target, name, dir string, k int, label string) fold.Ask {
	return fold.Ask{Field: s.field(t, name, k), Label: label, Kind: fold.Reading, Unit: unit.KLength,
		What: fold.What{By: "dial", Of: t.Of, Dir: dir}, Window: dialWindow(s.p)}
}

func (s Sweeper) jogAsk(v fold.View, t Target, axis string) fold.Ask {
	j := sweepJog(s.p)
	dir := JogDir(s.p, j)
	if axis == "y" {
		dir = "y" + dir
	}
	a := s.dial(t, "jog"+axis, dir, 1, "dial after jogging "+strings.ToUpper(axis)+" by "+unit.Signed(j, unit.KLength, s.p.Job.Unit, 0))
	if x, ok := v.Num(s.field(t, dialAt(axis, 1), 1), unit.KLength); ok {
		a.Window = JogWindow(s.p, x, j)
	}
	a.Do = []fold.Act{{Do: "jog", Of: t.Of, Dir: axis + "+", Amount: j,
		Words: fmt.Sprintf("Jog test: with the stylus still there move the spindle by %s %s, read. Go back from the same side.",
			strings.ToUpper(axis), unit.Signed(j, unit.KLength, s.p.Job.Unit, 0))}}
	return a
}

// leverAsks ask the stylus' angle where this round's own jog test wants it.
func (s Sweeper) leverAsks(v fold.View, t Target) []fold.Ask {
	if sc, ok, _ := s.scale(v.In(v.Round, nil), t); ok && t.jog == "" {
		return LeverAsks(v, sc, t.Pre+leverField, t.Of)
	}
	return nil
}

func (s Sweeper) spindle(v fold.View, t Target, axis string, k int) fold.Ask {
	a := fold.Ask{Field: s.field(t, "s"+axis, k), Label: "spindle " + strings.ToUpper(axis) + " on the readout", Kind: fold.Reading,
		Unit: unit.KLength,
		What: fold.What{By: "readout", Of: "spindle", Axis: axis}, Form: fmt.Sprintf("%sspindle%d", t.Pre, k), Window: TravelWindow(s.p, axis)}
	if w := expect(s.p, v, t, axis); w != nil {
		a.Window = w
		a.Window.Slips = Slips(s.p, v, axis, 0, nil)
	}
	return a
}

func (s Sweeper) Asks(v fold.View, t Target) []fold.Ask {
	var asks []fold.Ask
	for k := 1; k <= maxSweeps; k++ {
		n := len(asks)
		asks = append(asks, s.spindle(v, t, "x", k), s.spindle(v, t, "y", k))
		for i, a := range sweptAngles {
			asks = append(asks, s.dial(t, a.field, a.dir, k, fmt.Sprintf("dial in the %s at %s", t.Name, clock(a.dir))))
			if k == 1 && i == 0 {
				asks = append(append(asks, s.jogAsk(v, t, "x")), s.leverAsks(v, t)...)
			}
		}
		sw, ok := s.swept(v, t, k-1)
		switch {
		case k == 1:
			asks[n].Do = s.over(v, t)
			asks[n+2].Do = s.stylus(t)
		case ok:
			asks[n].Do = s.moves(sw.Move.X, sw.Move.Y, "Move the spindle by X %s Y %s and sweep again.")
			asks[n].Window = Around(v.Len(s.field(t, "sx", k-1))+sw.Move.X, moveOff, "the move that was asked")
			asks[n+1].Window = Around(v.Len(s.field(t, "sy", k-1))+sw.Move.Y, moveOff, "the move that was asked")
		}
		if sw, ok = s.swept(v, t, k); !ok || math.Abs(sw.Move.X) <= s.still() && math.Abs(sw.Move.Y) <= s.still() {
			break
		}
	}
	return asks
}

// stylus is where the dial touches.
func (s Sweeper) stylus(t Target) []fold.Act {
	where := "on the wall"
	if t.Outside() {
		where = "on the outside"
	}
	return []fold.Act{{Do: "fit", Of: "dial", Words: fmt.Sprintf("Stylus %s of the %s at X+. Turn the spindle by hand, always one way.",
		where, t.Name)}}
}

// moves are the acts of moving the spindle by that much; words takes X and Y.
func (s Sweeper) moves(x, y float64, words string) []fold.Act {
	return []fold.Act{{Do: "move", Of: "spindle", Dir: "x", Amount: x, Words: fmt.Sprintf(words, Signed(s.p, x), Signed(s.p, y))},
		{Do: "move", Of: "spindle", Dir: "y", Amount: y}}
}

// over brings the spindle over the target, by eye or by the card's place of it.
func (s Sweeper) over(v fold.View, t Target) []fold.Act {
	words := fmt.Sprintf("Wipe the %s. Dial in the spindle, over its middle by eye", t.Name)
	if x, y := expect(s.p, v, t, "x"), expect(s.p, v, t, "y"); x != nil && y != nil {
		words = fmt.Sprintf("Wipe the %s. Raise the dial, go to about X %s Y %s", t.Name, Signed(s.p, x.Want), Signed(s.p, y.Want))
	}
	return []fold.Act{{Do: "wipe", Of: t.Of, Words: words + "."}, {Do: "go", Of: t.Of}}
}

// u is the standard uncertainty of one coordinate: never below half a graduation.
func (s Sweeper) u(from float64) float64 {
	m := &s.p.Job.Machine
	return pickup.SweepU(from, m.Dial.Graduation, m.Readout)
}

func (s Sweeper) Centre(v fold.View, t Target, o *fold.Outcome) (Found, bool) {
	if _, has, err := s.scale(v, t); has && err != nil {
		CannotFind(s.p, t, err, o)
		return Found{}, false
	}
	sw, ok := s.last(v, t)
	if !ok {
		return Found{}, false
	}
	m := &s.p.Job.Machine
	f := Found{Has: true, Centre: pickup.SweptCentre(sw, m.Dial.Graduation, m.Readout)}
	round := judge.Of(s.p.Limit("bore.sweep"), math.Abs(sw.Redundancy), 0)
	if round.Verdict == fold.Fail {
		round.Words = fmt.Sprintf("X and Y disagree by %s on the dial: an oval or leaning %s, or a chip on its wall.",
			s.p.Len(math.Abs(sw.Redundancy)), t.Name)
		o.Named = "chip-in-bore"
		o.Next = append(o.Next, fold.Act{Do: "wipe", Of: t.Of, Words: round.Words + " Wipe it and sweep again."}, fold.Act{Do: "round"})
	}
	move := math.Max(math.Abs(sw.Move.X), math.Abs(sw.Move.Y))
	l := s.p.Limit("bore.centred")
	l.Max = math.Max(l.Max, s.still())
	still := judge.Of(l, move, 0)
	if still.Verdict == fold.Fail {
		still.Words = fmt.Sprintf("After %d sweeps the spindle is still %s off: lost motion, or the jog test was wrong.", maxSweeps,
			s.p.Len(move))
		o.Next = append(o.Next, fold.Act{Do: "round", Words: still.Words + " Repeat it with the jog test."})
	}
	o.Checks = append(o.Checks, round, still)
	o.Lines = append(o.Lines, fold.Row{Label: "X against Y", Value: sw.Redundancy, Unit: unit.KLength, Signed: true},
		fold.Row{Label: "still to move", Value: move, Unit: unit.KLength})
	return f, round.Verdict == fold.Pass && still.Verdict == fold.Pass
}

// pair is half a sweep, from where the spindle stands.
func (s Sweeper) Pair(v fold.View, t Target, axis string) []fold.Ask {
	a, b := QuarterOf(axis)
	asks := []fold.Ask{s.spindle(v, t, "x", 1), s.spindle(v, t, "y", 1)}
	asks[0].Do = s.over(v, t)
	plus := s.dial(t, sweptAngles[a].field, sweptAngles[a].dir, 1, fmt.Sprintf("dial in the %s at %s", t.Name, clock(sweptAngles[a].dir)))
	asks = append(asks, plus)
	if _, has, err := s.scale(v.In(nil, v.Earlier), t); t.jog == "" && (!has || err != nil) {
		asks = append(append(asks, s.jogAsk(v, t, axis)), s.leverAsks(v, t)...)
	}
	return append(asks, s.dial(t, sweptAngles[b].field, sweptAngles[b].dir, 1, fmt.Sprintf("dial in the %s at %s", t.Name,
		clock(sweptAngles[b].dir))))
}

func (s Sweeper) Across(v fold.View, t Target, axis string) (centre, u float64, ok bool) {
	sc, has, err := s.scale(v, t)
	at, ok1 := v.Num(s.field(t, "s"+axis, 1), unit.KLength)
	a, ok2 := v.Num(s.field(t, dialAt(axis, 1), 1), unit.KLength)
	b, ok3 := v.Num(s.field(t, dialAt(axis, -1), 1), unit.KLength)
	if !has || err != nil || !ok1 || !ok2 || !ok3 {
		return 0, 0, false
	}
	m := &s.p.Job.Machine
	centre, u = pickup.HalfSweep(at, a, b, sc, m.Dial.Graduation, m.Readout)
	return centre, u, true
}

func (s Sweeper) rough(v fold.View, t Target) (frame.Vec, bool) {
	if sw, ok := s.last(v, t); ok {
		return frame.Vec{X: sw.Center.X, Y: sw.Center.Y}, true
	}
	x, ok1 := v.Num(s.field(t, "sx", 1), unit.KLength)
	y, ok2 := v.Num(s.field(t, "sy", 1), unit.KLength)
	return frame.Vec{X: x, Y: y}, ok1 && ok2
}

func (s Sweeper) Stands() []fold.FactID { return nil }

func (s Sweeper) Says(t Target) (act, read, caution string) {
	in := "in"
	if t.Outside() {
		in = "round"
	}
	return fmt.Sprintf("Sweep the dial %s the %s, move by what it says, sweep again.", in, t.Name),
		"Readout of the spindle, then the dial as it shows, clockwise is plus.",
		"SPINDLE STOPPED, its command off: never start it with a dial fitted. Turn it by hand."
}
