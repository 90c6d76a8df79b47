package checks

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"fliptrue/calc/register"
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// bearing is the one that the fixture's card offers, nil without any.
func BearingOf(p *fold.Plan) kit.Bearing {
	if p.Job.Fixture.AsMade.Edge != nil {
		return kit.EdgeBearing{P: p}
	}
	if _, second := kit.Targets(p); second != nil {
		return kit.PairBearing{P: p}
	}
	return nil
}

// degrees is an angle in degrees with its sign; there is no minus zero.
func degrees(p *fold.Plan, rad float64) string {
	d := math.Round(rad*180/math.Pi*1e4) / 1e4
	return fmt.Sprintf("%+.4f deg", d+0)
}

// tap is the advice: which end, which way, how far, and what the needle will show.
func tap(p *fold.Plan, b kit.Bearing, h kit.Heading) fold.Act {
	low, high := kit.Ends(p)
	move := -h.Theta * h.Lever
	if kit.AlongY(p) {
		move = -move
	}
	w := b.Watch(h, move)
	a := fold.Act{Do: "tap", Of: "fixture@" + strings.ToLower(high), Dir: strings.ToLower(kit.TapWay(p, move)), Amount: math.Abs(move), Needle: w.Needle}
	a.Words = fmt.Sprintf("%s end is the pivot. %sTap the %s end %s by %s%s", low, w.Before, high, kit.TapWay(p, move), p.Len(math.Abs(move)), w.After)
	return a
}

// agree says how both ends stand to each other when the bolts are tightened.
func agree(p *fold.Plan, v fold.View, h kit.Heading) string {
	if d := math.Abs(h.Rise); v.Walks(3) && d > 2*h.U*math.Abs(h.Lever) {
		return "The ends differ by " + p.Len(d) + "; that may stay."
	}
	return "Both ends agree."
}

// untapped is all that is done after a tap that went the wrong way: which way the next one has to go is not known.
func untapped(b kit.Bearing) fold.Act {
	if pb, ok := b.(kit.PairBearing); ok {
		if _, dial := kit.Finder(pb.P).(kit.Sweeper); !dial {
			return fold.Act{Do: "round", Words: "Read both again, without a tap in between."}
		}
	}
	return fold.Act{Do: "round", Words: "Repeat the jog test, without a tap in between."}
}

// Square brings the fixture's edge, or its two bores, true to the machine's axis, by
// tapping, in as many rounds as it takes.
func Square(p *fold.Plan) *fold.Spec {
	b := BearingOf(p)
	if b == nil {
		return nil
	}
	limit := func(v fold.View) fold.Limit {
		l := p.Limit("square.skew")
		l.Max = SkewLimit(p, kit.WalkOf(v))
		return l
	}
	// turned says how the tap before this round went.
	turned := func(v fold.View, h kit.Heading) fit.Turned {
		k := len(v.Earlier)
		if k == 0 {
			return fit.AsAdvised
		}
		w := v.In(v.Earlier[k-1], v.Earlier[:k-1])
		before, ok := b.Read(w, true)
		if !ok {
			before, ok = b.Read(w, false)
		}
		if !ok {
			return fit.AsAdvised
		}
		return fit.Judge(before.Theta, before.U, h.Theta, h.U)
	}
	// doubtful says that the round before went the wrong way, so that what ready asks is asked again.
	doubtful := func(v fold.View) bool {
		k := len(v.Earlier)
		if k == 0 {
			return false
		}
		w := v.In(v.Earlier[k-1], v.Earlier[:k-1])
		h, ok := b.Read(w, false)
		return ok && turned(w, h) != fit.AsAdvised
	}
	// since leaves the rounds of this go at it: up to one that passed, after which the dial came
	// out. What lay between is no tap, and its jog test holds for another mounting of the dial.
	since := func(v fold.View) fold.View {
		for k := len(v.Earlier) - 1; k >= 0; k-- {
			r := v.Earlier[k]
			h, ok := b.Read(v.In(r, v.Earlier[:k]), true)
			if ok && (math.Abs(h.Theta)+budget.OneSided*h.U <= limit(v).Max || waives(r, "square.skew")) {
				v.Earlier = v.Earlier[k+1:]
				break
			}
		}
		return v
	}
	live := []fold.FactID{"identity"}
	_, byPair := b.(kit.PairBearing)
	var asRead []fold.FactID
	if byPair {
		asRead = kit.Finder(p).Stands()
	}
	return &fold.Spec{
		Title: "fixture square", Needs: fold.Needs(fold.Live(live...), fold.AsRead(asRead...), fold.IfBegun("tram"), fold.Whether("seat")), Makes: []fold.FactID{"skew"}, Bare: fold.UnlessSeated, Keys: []string{"allowance", "part.features"},
		Asks: func(v fold.View) []fold.Ask {
			v = since(v)
			was := v
			if doubtful(v) { // an earlier jog test does not serve
				was.Earlier = nil
			}
			if v.Standing("seat") { // nothing is tapped and no bolt turned: one full run shows how it lies
				return append(b.Ready(was), b.Run(v)...)
			}
			asks := b.Ready(was)
			if b.Faulty(v) != nil && v.Walks(3) {
				return asks
			}
			if asks = append(asks, b.Ends(v)...); b.Faulty(v) != nil {
				return asks
			}
			h, ok := b.Read(v, false)
			good := ok && math.Abs(h.Theta) <= limit(v).Max && turned(v, h) == fit.AsAdvised
			if !good && !v.Has("bolts") && !waives(v.Round, "square.skew") {
				return asks
			}
			asks = append(asks, fold.Ask{Field: "bolts", Label: "how many fixture bolts are tight now", Kind: fold.Count, What: fold.What{By: "count", Of: "fixture-bolts"},
				Do: []fold.Act{{Do: "tighten", Of: "fixture", Words: agree(p, v, h) + " Tighten all fixture bolts, alternately. Bolts twist: that is why all is read again now."}}})
			return append(asks, b.Run(v)...)
		},
		Judge: func(v fold.View) fold.Outcome {
			v = since(v)
			var o fold.Outcome
			if err := b.Faulty(v); err != nil {
				o.Checks = append(o.Checks, fold.Check{Limit: fold.Limit{ID: "square.jog", Why: "jog test: needle against a known move", Class: fold.Never}, Count: true, Verdict: fold.Fail,
					Words: "The jog test does not make sense: " + err.Error() + "."})
				o.Next = []fold.Act{{Do: "round", Words: "Set the stylus flatter, touching well, and repeat the jog test."}}
				return o
			}
			h, ok := b.Read(v, true)
			if !ok {
				h, ok = b.Read(v, false)
			}
			if !ok {
				return kit.Cannot(p, "square", fmt.Errorf("the readings give no direction"), o)
			}
			g := 0.0
			if h.Full {
				g = budget.OneSided * h.U
			}
			c := judge.Judged(limit(v), math.Abs(h.Theta), g)
			o.Lines = append(o.Lines, fold.Row{Label: "skew", Value: h.Theta, Unit: unit.KSlope, Guard: g, Signed: true, Big: true},
				fold.Row{Label: "the same as an angle", Text: degrees(p, h.Theta)})
			went := turned(v, h)
			if went != fit.AsAdvised {
				o.Named = "tapped-wrong-way"
				c.Verdict = fold.Fail
				c.Words = "It went the wrong way, or what shows the way was wrong."
				if went == fit.Doubled {
					c.Words = "The skew about doubled: a full tap in the wrong direction, or what shows the way was wrong."
				}
			}
			if h.Full {
				b.Check(h, limit(v), &o)
			}
			o.Checks = append(o.Checks, c)
			if c.Verdict != fold.Pass && len(o.Next) == 0 && v.Standing("seat") {
				o.Next = append(o.Next, fold.Act{Do: "declare", Of: "fixture-tapped", Words: "Never tap with the part in: declare the fixture tapped, and the part comes out first."})
			}
			if c.Verdict != fold.Pass && len(o.Next) == 0 {
				next := tap(p, b, h)
				if went != fit.AsAdvised {
					next = untapped(b)
				}
				o.Next = append(o.Next, next)
			}
			_, high := kit.Ends(p)
			over := math.Abs(h.Lever)
			if h.Full {
				o.Facts = []fold.Known{{ID: "skew", Value: []float64{h.Theta, h.Form}, Cov: [][]float64{{h.U * h.U}}}}
			}
			if h.Full && c.Verdict == fold.Pass {
				o.Learned = fmt.Sprintf("The fixture is true within %s: the %s end is %s %s. The offset will carry the rest.", p.Slope(math.Abs(h.Theta)+g), high, p.Len(math.Abs(h.Rise)), kit.TapWay(p, h.Rise))
			} else {
				o.Learned = fmt.Sprintf("The %s end is %s %s. Limit over this run %s.", high, p.Len(math.Abs(h.Rise)), kit.TapWay(p, h.Rise), p.Len(limit(v).Max*over))
				if last := &o.Checks[len(o.Checks)-1]; last.Words == "" {
					last.Words = o.Learned
				}
			}
			return o
		},
		Page: func(v fold.View) fold.Page {
			v = since(v)
			pg := fold.Page{Why: "The edge gives direction, and only direction. Tapping moves the bore, so it comes first."}
			if byPair {
				pg.Why = "From one " + kit.Locator(p) + " to the other is the fixture's direction. Tapping moves both, so it comes first."
			}
			pg.Act, pg.Read, pg.Caution = b.Says()
			low, ok := b.Read(v, false)
			doubt := ok && turned(v, low) != fit.AsAdvised
			switch {
			case v.Has("bolts"):
				pg.Act = "Read only, no more tapping: all of it, the bolts tight."
			case doubt, !ok && doubtful(v):
				pg.Act = untapped(b).Words
			}
			if e, ok := b.(kit.EdgeBearing); ok && v.Round != nil {
				if pg.Scene.Run = e.Plot(v); pg.Scene.Run != nil {
					st := kit.Stations(p)
					pg.Scene.Run.Limit = limit(v).Max * math.Abs(st[len(st)-1]-st[0])
				}
				if doubt && pg.Scene.Run != nil {
					pg.Scene.Run.TapEnd, pg.Scene.Run.TapDir, pg.Scene.Run.Tap = "", "", 0
				}
			}
			pg.Scene.Shapes = kit.Scene(p, v, nil).Shapes
			return pg
		},
	}
}

// waives says that a limit of the round was passed over; what is read after it must pass or be waived again.
func waives(r *fold.Round, limit string) bool {
	if r != nil {
		for _, w := range r.Waivers {
			if w.Limit == limit {
				return true
			}
		}
	}
	return false
}

// SkewLimit is the skew that may stay: what the offset's own uncertainty leaves of
// half the allowance at the farthest feature, and never above the cap; a control
// that turns the program takes up to half a degree.
func SkewLimit(p *fold.Plan, walk int) float64 {
	l := p.Limit("square.skew")
	if p.Granted("square.skew") {
		return l.Max
	}
	if Rotates(p) {
		return float64(frame.SkewLimit)
	}
	return register.SkewLimit(float64(p.Job.Allowance), kit.OffsetGuard(p, walk), judge.Reach(p), l.Max)
}
