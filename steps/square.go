package steps

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
)

func init() {
	add(Step{ID: "square", Kinds: []string{secondSide}, Follows: "lengths", Build: square})
}

const jog = fit.JogTravel

// stations are where the dial is read along the edge, mm from its start.
func (p *Plan) stations() []float64 {
	e := p.Job.Fixture.AsMade.Edge
	n := p.Setup.Stations
	if n < 3 {
		n = 7
	}
	var out []float64
	for i := 0; i < n; i++ {
		out = append(out, math.Round(e.Length*(0.05+0.9*float64(i)/float64(n-1))))
	}
	return out
}

// ends names the low and the high end of the edge for the person.
func (p *Plan) ends() (low, high string) {
	if p.alongY() {
		return "NEAR", "FAR"
	}
	return "LEFT", "RIGHT"
}

func (p *Plan) alongY() bool {
	s := p.Job.Fixture.AsMade.Edge.Side
	return s == "left" || s == "right"
}

// tapWay is the physical direction of a move along + of the axis the edge faces.
func (p *Plan) tapWay(move float64) string {
	switch {
	case p.alongY() && move > 0:
		return "RIGHT"
	case p.alongY():
		return "LEFT"
	case move > 0:
		return "AWAY"
	}
	return "TOWARD YOU"
}

// square brings the fixture's edge true to the machine's axis, by tapping, in as many rounds as it takes.
func square(p *Plan) *Spec {
	if p.Job.Fixture.AsMade.Edge == nil {
		return nil
	}
	st := p.stations()
	n := len(st)
	low, high := p.ends()
	grad := p.Job.Machine.Dial.Graduation
	at := func(i int) string { return "edge@" + place(st[i]) }

	// scale is the dial's, from the newest jog test.
	scale := func(v View) (fit.Scale, bool, error) {
		rounds := append([]*Round{}, v.Earlier...)
		if v.Round != nil {
			rounds = append(rounds, v.Round)
		}
		for i := len(rounds) - 1; i >= 0; i-- {
			w := View{Plan: p, Round: rounds[i]}
			a, ok1 := w.Num("jog0", unit.KLength)
			b, ok2 := w.Num("jog1", unit.KLength)
			if ok1 && ok2 {
				s, err := fit.JogScale(jog, a, b, grad)
				return s, true, err
			}
		}
		return fit.Scale{}, false, nil
	}
	// run is what a round's readings say: all stations when there, else the two ends.
	run := func(r *Round, sc fit.Scale) (fit.Edge, bool, bool) {
		w := View{Plan: p, Round: r}
		in := fit.Run{AlongY: p.alongY(), Scale: sc, Graduation: grad}
		if a := p.Job.Machine.Straightness; a > 0 {
			in.Axis = fit.Known(a)
		}
		full := true
		for i := range st {
			x, ok := w.Num(fmt.Sprintf("s%d", i+1), unit.KLength)
			full = full && ok
			in.Stations, in.Readings = append(in.Stations, st[i]), append(in.Readings, x)
		}
		if c, ok := w.Num("close", unit.KLength); ok && full {
			in.Closing = fit.Known(c)
		} else {
			a, ok1 := w.Num("low", unit.KLength)
			b, ok2 := w.Num("high", unit.KLength)
			if !ok1 || !ok2 {
				return fit.Edge{}, false, false
			}
			full = false
			in.Stations, in.Readings = []float64{st[0], st[n-1]}, []float64{a, b}
		}
		e, err := in.Edge()
		if err != nil {
			return fit.Edge{}, false, false
		}
		e.Theta -= float64(p.Job.Fixture.AsMade.Edge.Zero)
		return e, full, true
	}
	limit := func() Limit {
		l := p.Limit("square.skew")
		l.Max = p.skewLimit()
		return l
	}
	wentWrong := func(v View, e fit.Edge) fit.Turned {
		if len(v.Earlier) == 0 {
			return fit.AsAdvised
		}
		sc, ok, _ := scale(View{Plan: p, Earlier: v.Earlier})
		if !ok {
			return fit.AsAdvised
		}
		b, _, ok := run(v.Earlier[len(v.Earlier)-1], sc)
		if !ok {
			return fit.AsAdvised
		}
		return fit.Judge(b.Theta, b.UTheta, e.Theta, e.UTheta)
	}
	// jogAgain says that the last round went the wrong way, so its jog test is in doubt.
	jogAgain := func(v View) bool {
		k := len(v.Earlier)
		if k == 0 {
			return true
		}
		sc, ok, err := scale(View{Plan: p, Earlier: v.Earlier})
		if !ok || err != nil {
			return true
		}
		e, _, ok := run(v.Earlier[k-1], sc)
		return ok && wentWrong(View{Plan: p, Earlier: v.Earlier[:k-1]}, e) != fit.AsAdvised
	}
	return &Spec{
		Title: "edge square", Live: []FactID{"identity"}, Makes: []FactID{"skew"}, Keys: []string{"allowance", "part.features"},
		Asks: func(v View) []Ask {
			dial := func(field, label string, i int, dir string) Ask {
				return Ask{Field: field, Label: label, Kind: Reading, Unit: unit.KLength, What: What{By: "dial", Of: at(i), Dir: dir}, Window: around(0, 1.2, "the dial's range")}
			}
			var asks []Ask
			if jogAgain(v) {
				a := dial("jog0", low+" end: dial", 0, "")
				a.Do = []Act{{Do: "fit", Of: "dial", Words: "Dial in the spindle, stylus on the edge at the " + low + " end. Come from one side, always the same."}}
				b := dial("jog1", "after jogging", 0, "jog+0.200")
				b.Do = []Act{{Do: "jog", Of: "edge@" + place(st[0]), Dir: "+", Amount: jog, Words: fmt.Sprintf("Jog test: move the tool by %s along the axis the edge faces, read, and go back.", unit.Signed(jog, unit.KLength, p.Job.Unit, 0))}}
				asks = append(asks, a, b)
			}
			asks = append(asks, dial("low", low+" end", 0, ""), dial("high", high+" end", n-1, ""))
			sc, ok, err := scale(v)
			if !ok || err != nil {
				return asks
			}
			e, _, ok := run(twoEnds(v.Round), sc)
			if !ok || math.Abs(e.Theta) > limit().Max || wentWrong(v, e) != fit.AsAdvised {
				return asks
			}
			bolts := Ask{Field: "bolts", Label: "fixture bolts tight", Kind: Count, What: What{By: "count", Of: "fixture-bolts"},
				Do: []Act{{Do: "tighten", Of: "fixture", Words: "Both ends agree. Tighten all fixture bolts, alternately. Bolts twist: that is why the full run comes now."}}}
			asks = append(asks, bolts)
			for i := range st {
				asks = append(asks, dial(fmt.Sprintf("s%d", i+1), "station "+unit.Format(st[i], unit.KLength, p.Job.Unit, 0), i, ""))
			}
			return append(asks, dial("close", "back at the first station", 0, ""))
		},
		Judge: func(v View) Outcome {
			var o Outcome
			sc, ok, err := scale(v)
			if !ok || err != nil {
				c := Check{Limit: Limit{ID: "square.jog", Why: "the jog test shows what the dial makes of a known move", Class: Never}, Count: true, Verdict: Fail, Words: "The jog test does not make sense"}
				if err != nil {
					c.Words += ": " + err.Error() + "."
				}
				o.Checks = append(o.Checks, c)
				o.Next = []Act{{Do: "round", Words: "Set the stylus flatter, touching well, and repeat the jog test."}}
				return o
			}
			e, full, _ := run(v.Round, sc)
			g := 0.0
			if full {
				g = 1.645 * e.UTheta
			}
			c := Judged(limit(), math.Abs(e.Theta), g)
			o.Lines = append(o.Lines, Row{Label: "skew", Value: e.Theta, Unit: unit.KSlope, Guard: g, Signed: true, Big: true},
				Row{Label: "skew", Text: fmt.Sprintf("%.4f deg", e.Theta*180/math.Pi)})
			turned := wentWrong(v, e)
			if turned != fit.AsAdvised {
				o.Named = "tapped-wrong-way"
				c.Verdict = Fail
				c.Words = "It went the wrong way, or the jog test was wrong: repeat the jog test."
				if turned == fit.Doubled {
					c.Words = "The skew about doubled: a full tap in the wrong direction, or the jog test was wrong."
				}
			}
			if full {
				cl, _ := e.CheckClosing(limit().Max, grad)
				k := Judged(p.Limit("square.closing"), math.Abs(cl.Error), 0)
				if !cl.OK {
					k.Verdict = Fail
				}
				if k.Words = "The dial did not come back to its first reading: its stand or its stylus moved. Clamp it and run again."; k.Verdict == Fail {
					o.Next = append(o.Next, Act{Do: "round", Words: k.Words})
				}
				o.Checks = append(o.Checks, k)
				if e.Nick >= 0 {
					o.Named = "nick"
					o.Notes = append(o.Notes, fmt.Sprintf("Station %s stands out by %s: a nick or a chip there. Wipe and read it again.", p.num(st[e.Nick]), p.len(e.NickDepth)))
				}
				o.Lines = append(o.Lines, Row{Label: "straight within", Value: e.Form.V, Unit: unit.KLength})
			}
			o.Checks = append(o.Checks, c)
			if c.Verdict != Pass && len(o.Next) == 0 {
				o.Next = append(o.Next, p.tap(e, st[0], st[n-1], turned != fit.AsAdvised))
			}
			switch {
			case !full:
				o.Learned = fmt.Sprintf("The %s end is %s %s. Limit over this run %s.", high, p.len(math.Abs(e.Rise)), p.tapWay(-p.tap(e, st[0], st[n-1], false).Amount), p.len(limit().Max*e.Length))
			case c.Verdict == Pass:
				o.Learned = fmt.Sprintf("The edge is true within %s; the offset will carry the rest.", p.slope(math.Abs(e.Theta)+g))
				o.Facts = []Fact{{ID: "skew", Value: []float64{e.Theta, e.Form.V}, Cov: [][]float64{{e.UTheta * e.UTheta}}}}
			default:
				o.Facts = []Fact{{ID: "skew", Value: []float64{e.Theta, e.Form.V}, Cov: [][]float64{{e.UTheta * e.UTheta}}}}
			}
			return o
		},
		Page: func(v View) Page {
			pg := Page{Why: "The edge gives direction, and only direction. Tapping moves the bore, so it comes first.",
				Act:     "Run the dial along the " + strings.ToLower(p.edgeFaces()) + "-facing edge; tap until both ends agree.",
				Read:    "As the dial shows, clockwise is plus. Come to every station from the same side.",
				Caution: "SPINDLE STOPPED, its command off: never start it with a dial fitted. Tap only with the part out."}
			sc, ok, err := scale(v)
			if v.Round != nil && ok && err == nil {
				if e, full, ok := run(v.Round, sc); ok {
					pg.Scene.Run = p.runPlot(v.Round, e, full, st)
				}
			}
			pg.Scene.Shapes = p.scene(v, nil).Shapes
			return pg
		},
	}
}

// twoEnds is a round without its stations, so that the two end readings are judged alone.
func twoEnds(r *Round) *Round {
	if r == nil {
		return nil
	}
	c := &Round{Step: r.Step, No: r.No, at: map[string]int{}}
	for _, t := range r.Taken {
		if t.Field == "low" || t.Field == "high" {
			c.at[t.Field] = len(c.Taken)
			c.Taken = append(c.Taken, t)
		}
	}
	return c
}

// tap is the advice: which end, which way, how far, and what the needle will show.
func (p *Plan) tap(e fit.Edge, pivot, at float64, doubt bool) Act {
	low, high := p.ends()
	t := e.Tap(pivot, at)
	step := p.Job.Machine.Dial.Graduation
	verb := "RISE"
	if t.Needle < 0 {
		verb = "FALL"
	}
	a := Act{Do: "tap", Of: "fixture@" + strings.ToLower(high), Dir: strings.ToLower(p.tapWay(t.Move)), Amount: math.Abs(t.Move)}
	a.Words = fmt.Sprintf("%s end is the pivot. Leave the dial at the %s end and tap it %s by %s: the needle must %s by %s.",
		low, high, p.tapWay(t.Move), p.len(math.Abs(t.Move)), verb, unit.Format(math.Abs(t.Needle), unit.KLength, p.Job.Unit, step/10))
	if doubt {
		a.Words = "Repeat the jog test first. " + a.Words
	}
	return a
}

// runPlot is the run as a picture.
func (p *Plan) runPlot(r *Round, e fit.Edge, full bool, st []float64) *RunPlot {
	pl := &RunPlot{Suspect: -1}
	w := View{Plan: p, Round: r}
	put := func(x float64, field string) {
		if y, ok := w.Num(field, unit.KLength); ok {
			pl.At, pl.Reading, pl.Fitted = append(pl.At, x), append(pl.Reading, y), append(pl.Fitted, e.Intercept+e.Slope*x)
		}
	}
	if full {
		for i, x := range st {
			put(x, fmt.Sprintf("s%d", i+1))
		}
		pl.Suspect = e.Nick
	} else {
		put(st[0], "low")
		put(st[len(st)-1], "high")
	}
	t := e.Tap(st[0], st[len(st)-1])
	_, pl.TapEnd = p.ends()
	pl.TapDir, pl.Tap = p.tapWay(t.Move), math.Abs(t.Move)
	return pl
}

// skewLimit is the skew that may stay: what the offset's own uncertainty leaves of
// half the allowance at the farthest feature, and never above the cap; a control
// that turns the program takes up to half a degree.
func (p *Plan) skewLimit() float64 {
	l := p.Limit("square.skew")
	if _, given := p.Job.Limits["square.skew"]; given {
		return l.Max
	}
	if p.rotates() {
		return float64(frame.SkewLimit)
	}
	g := p.offsetGuard()
	left := (0.5*float64(p.Job.Allowance) - g) / math.Max(p.reach(), 1)
	return math.Max(math.Min(left, l.Max), 1e-6)
}

// offsetGuard is the guard that the offset's check is going to have at the worst
// feature, with the instruments of the cards.
func (p *Plan) offsetGuard() float64 {
	s, dof := p.probeS()
	n := float64(max(p.Setup.Hits, 3))
	u := s * math.Sqrt(2/n)
	th := 0.003 / math.Sqrt(3) / math.Max(p.Job.Fixture.AsMade.Edge.Length, 1)
	v, _ := p.partZero()
	o := Fact{ID: "offset", Value: []float64{0, 0, 0, 0, 0, 0, v.X, v.Y, 1, 0, 0, 0}, Dof: dof,
		Cov: [][]float64{{u * u, 0, 0, 0}, {0, u * u, 0, 0}, {0, 0, th * th, 0}, {0, 0, 0, 0}}}
	g := 0.0
	for _, f := range p.register(only(o), false) {
		g = math.Max(g, math.Max(f.Guard[0], f.Guard[1]))
	}
	return g
}

// only is a getter that knows one fact.
func only(f Fact) func(FactID) (Fact, bool) {
	return func(id FactID) (Fact, bool) {
		if id == f.ID {
			return f, true
		}
		return Fact{}, false
	}
}
