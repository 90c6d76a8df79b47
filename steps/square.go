package steps

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
)

// heading is the direction of the fixture as one round's readings say.
type heading struct {
	theta, u float64 // against its axis, less what it was as made, rad
	lever    float64 // from the pivot to where the tap is watched, signed along the line, mm
	rise     float64 // of the far end over the near one, along + of the axis across, mm
	form     float64 // straightness, mm
	full     bool    // all readings, the bolts tight
	edge     fit.Edge
}

// bearing is what gives a fixture its direction: its edge under a dial, or its two
// bores or pins under whatever finds centres.
type bearing interface {
	// ready asks what must be known first; nil when nothing, or when it is known from an earlier round.
	ready(v View) []Ask
	// faulty is an error in what ready asked.
	faulty(v View) error
	// ends are the fewest readings, while tapping; run all of them, the bolts tight.
	ends(v View) []Ask
	run(v View) []Ask
	// read is what a round says: by all readings when all, else by the ends.
	read(v View, all bool) (heading, bool)
	// check judges what a full run says of itself.
	check(h heading, limit Limit, o *Outcome)
	// needle is what the person watches while tapping by move, "" for nothing.
	needle(h heading, move float64) string
	says() (act, read, caution string)
}

// bearing is the one that the fixture's card offers, nil without any.
func (p *Plan) bearing() bearing {
	if p.Job.Fixture.AsMade.Edge != nil {
		return edgeBearing{p}
	}
	if _, second := p.targets(); second != nil {
		return pairBearing{p}
	}
	return nil
}

// alongY says that the line that gives the direction runs along Y.
func (p *Plan) alongY() bool {
	a := &p.Job.Fixture.AsMade
	if a.Edge != nil {
		return a.Edge.Side == "left" || a.Edge.Side == "right"
	}
	return a.Bore2 != nil && math.Abs(a.Bore2.At.Y) > math.Abs(a.Bore2.At.X)
}

// ends names the pivot's end and the far end of the line for the person.
func (p *Plan) ends() (low, high string) {
	low, high = "LEFT", "RIGHT"
	if p.alongY() {
		low, high = "NEAR", "FAR"
	}
	if a := &p.Job.Fixture.AsMade; a.Edge == nil && a.Bore2 != nil && a.Bore2.At.X+a.Bore2.At.Y < 0 {
		low, high = high, low
	}
	return low, high
}

// tapWay is the physical direction of a move along + of the axis across the line.
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

// degrees is an angle in degrees with its sign; there is no minus zero.
func (p *Plan) degrees(rad float64) string {
	d := math.Round(rad*180/math.Pi*1e4) / 1e4
	return fmt.Sprintf("%+.4f deg", d+0)
}

// tap is the advice: which end, which way, how far, and what the needle will show.
func (p *Plan) tap(b bearing, h heading) Act {
	low, high := p.ends()
	move := -h.theta * h.lever
	if p.alongY() {
		move = -move
	}
	a := Act{Do: "tap", Of: "fixture@" + strings.ToLower(high), Dir: strings.ToLower(p.tapWay(move)), Amount: math.Abs(move)}
	a.Words = fmt.Sprintf("%s end is the pivot. Tap the %s end %s by %s%s.", low, high, p.tapWay(move), p.len(math.Abs(move)), b.needle(h, move))
	return a
}

// untapped is all that is done after a tap that went the wrong way: which way the next one has to go is not known.
func untapped(b bearing) Act {
	if pb, ok := b.(pairBearing); ok {
		if _, dial := pb.p.finder().(sweeper); !dial {
			return Act{Do: "round", Words: "Read both again, without a tap in between."}
		}
	}
	return Act{Do: "round", Words: "Repeat the jog test, without a tap in between."}
}

// square brings the fixture's edge, or its two bores, true to the machine's axis, by
// tapping, in as many rounds as it takes.
func square(p *Plan) *Spec {
	b := p.bearing()
	if b == nil {
		return nil
	}
	limit := func() Limit {
		l := p.Limit("square.skew")
		l.Max = p.skewLimit()
		return l
	}
	// turned says how the tap before this round went.
	turned := func(v View, h heading) fit.Turned {
		k := len(v.Earlier)
		if k == 0 {
			return fit.AsAdvised
		}
		w := v.In(v.Earlier[k-1], v.Earlier[:k-1])
		before, ok := b.read(w, true)
		if !ok {
			before, ok = b.read(w, false)
		}
		if !ok {
			return fit.AsAdvised
		}
		return fit.Judge(before.theta, before.u, h.theta, h.u)
	}
	// doubtful says that the round before went the wrong way, so that what ready asks is asked again.
	doubtful := func(v View) bool {
		k := len(v.Earlier)
		if k == 0 {
			return false
		}
		w := v.In(v.Earlier[k-1], v.Earlier[:k-1])
		h, ok := b.read(w, false)
		return ok && turned(w, h) != fit.AsAdvised
	}
	// since leaves the rounds of this go at it: up to one that passed, after which the dial came
	// out. What lay between is no tap, and its jog test holds for another mounting of the dial.
	since := func(v View) View {
		for k := len(v.Earlier) - 1; k >= 0; k-- {
			r := v.Earlier[k]
			h, ok := b.read(v.In(r, v.Earlier[:k]), true)
			if ok && (math.Abs(h.theta)+1.645*h.u <= limit().Max || waives(r, "square.skew")) {
				v.Earlier = v.Earlier[k+1:]
				break
			}
		}
		return v
	}
	live := []FactID{"identity"}
	_, byPair := b.(pairBearing)
	var asRead []FactID
	if byPair {
		asRead = p.finder().stands()
	}
	return &Spec{
		Title: "fixture square", Live: live, AsRead: asRead, Wants: []FactID{"tram"}, Sees: []FactID{"seat"}, Makes: []FactID{"skew"}, Bare: UnlessSeated, Keys: []string{"allowance", "part.features"},
		Asks: func(v View) []Ask {
			v = since(v)
			was := v
			if doubtful(v) { // an earlier jog test does not serve
				was.Earlier = nil
			}
			if v.Standing("seat") { // nothing is tapped and no bolt turned: one full run shows how it lies
				return append(b.ready(was), b.run(v)...)
			}
			asks := append(b.ready(was), b.ends(v)...)
			if b.faulty(v) != nil {
				return asks
			}
			h, ok := b.read(v, false)
			good := ok && math.Abs(h.theta) <= limit().Max && turned(v, h) == fit.AsAdvised
			if !good && !v.Has("bolts") && !waives(v.Round, "square.skew") {
				return asks
			}
			asks = append(asks, Ask{Field: "bolts", Label: "how many fixture bolts are tight now", Kind: Count, What: What{By: "count", Of: "fixture-bolts"},
				Do: []Act{{Do: "tighten", Of: "fixture", Words: "Both ends agree. Tighten all fixture bolts, alternately. Bolts twist: that is why all is read again now."}}})
			return append(asks, b.run(v)...)
		},
		Judge: func(v View) Outcome {
			v = since(v)
			var o Outcome
			if err := b.faulty(v); err != nil {
				o.Checks = append(o.Checks, Check{Limit: Limit{ID: "square.jog", Why: "the jog test shows what the dial makes of a known move", Class: Never}, Count: true, Verdict: Fail,
					Words: "The jog test does not make sense: " + err.Error() + "."})
				o.Next = []Act{{Do: "round", Words: "Set the stylus flatter, touching well, and repeat the jog test."}}
				return o
			}
			h, ok := b.read(v, true)
			if !ok {
				h, ok = b.read(v, false)
			}
			if !ok {
				return p.cannot("square", fmt.Errorf("the readings give no direction"), o)
			}
			g := 0.0
			if h.full {
				g = 1.645 * h.u
			}
			c := Judged(limit(), math.Abs(h.theta), g)
			o.Lines = append(o.Lines, Row{Label: "skew", Value: h.theta, Unit: unit.KSlope, Guard: g, Signed: true, Big: true},
				Row{Label: "the same as an angle", Text: p.degrees(h.theta)})
			went := turned(v, h)
			if went != fit.AsAdvised {
				o.Named = "tapped-wrong-way"
				c.Verdict = Fail
				c.Words = "It went the wrong way, or what shows the way was wrong."
				if went == fit.Doubled {
					c.Words = "The skew about doubled: a full tap in the wrong direction, or what shows the way was wrong."
				}
			}
			if h.full {
				b.check(h, limit(), &o)
			}
			o.Checks = append(o.Checks, c)
			if c.Verdict != Pass && len(o.Next) == 0 && v.Standing("seat") {
				o.Next = append(o.Next, Act{Do: "declare", Of: "fixture-tapped", Words: "Never tap with the part in: declare the fixture tapped, and the part comes out first."})
			}
			if c.Verdict != Pass && len(o.Next) == 0 {
				next := p.tap(b, h)
				if went != fit.AsAdvised {
					next = untapped(b)
				}
				o.Next = append(o.Next, next)
			}
			_, high := p.ends()
			over := math.Abs(h.lever)
			if h.full {
				o.Facts = []Fact{{ID: "skew", Value: []float64{h.theta, h.form}, Cov: [][]float64{{h.u * h.u}}}}
			}
			if h.full && c.Verdict == Pass {
				o.Learned = fmt.Sprintf("The fixture is true within %s: the %s end is %s %s. The offset will carry the rest.", p.slope(math.Abs(h.theta)+g), high, p.len(math.Abs(h.rise)), p.tapWay(h.rise))
			} else {
				o.Learned = fmt.Sprintf("The %s end is %s %s. Limit over this run %s.", high, p.len(math.Abs(h.rise)), p.tapWay(h.rise), p.len(limit().Max*over))
				if last := &o.Checks[len(o.Checks)-1]; last.Words == "" {
					last.Words = o.Learned
				}
			}
			return o
		},
		Page: func(v View) Page {
			v = since(v)
			pg := Page{Why: "The edge gives direction, and only direction. Tapping moves the bore, so it comes first."}
			if byPair {
				pg.Why = "From one " + p.locator() + " to the other is the fixture's direction. Tapping moves both, so it comes first."
			}
			pg.Act, pg.Read, pg.Caution = b.says()
			low, ok := b.read(v, false)
			doubt := ok && turned(v, low) != fit.AsAdvised
			switch {
			case v.Has("bolts"):
				pg.Act = "Read only, no more tapping: all of it, the bolts tight."
			case doubt, !ok && doubtful(v):
				pg.Act = untapped(b).Words
			}
			if e, ok := b.(edgeBearing); ok && v.Round != nil {
				if pg.Scene.Run = e.plot(v); doubt && pg.Scene.Run != nil {
					pg.Scene.Run.TapEnd, pg.Scene.Run.TapDir, pg.Scene.Run.Tap = "", "", 0
				}
			}
			pg.Scene.Shapes = p.scene(v, nil).Shapes
			return pg
		},
	}
}

// waives says that a limit of the round was passed over; what is read after it must pass or be waived again.
func waives(r *Round, limit string) bool {
	if r != nil {
		for _, w := range r.Waivers {
			if w.Limit == limit {
				return true
			}
		}
	}
	return false
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
	left := (0.5*float64(p.Job.Allowance) - p.offsetGuard()) / math.Max(p.reach(), 1)
	return math.Max(math.Min(left, l.Max), 1e-6)
}
