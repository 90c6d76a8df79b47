package bench

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/steps/fold"
)

// Do performs an act. Words it does not know are an error that names them; what
// only moves the person (wipe, look, jog and go back) changes nothing else.
func (w *World) Do(a fold.Act) error {
	w.before("do " + a.Do + " " + a.Of)
	err := w.act(a)
	w.moves++
	if err == nil {
		w.cure(a.Do, thing(a.Of))
		w.after("do " + a.Do + " " + a.Of)
	}
	return err
}

// thing is what comes before the place: fixture of fixture@right.
func thing(of string) string { s, _, _ := strings.Cut(of, "@"); return s }

func (w *World) act(a fold.Act) error {
	what, at, _ := strings.Cut(a.Of, "@")
	switch a.Do {
	case "wipe", "look", "try", "open", "measure", "air", "sweep", "push", "press", "mark", "wait", "clear", "stop", "again", "round",
		"declare", "reopen", "post", "face", "trial", "strip", "shim", "adjust", "drive": // moves the person alone, or the slides with the hand
		return nil
	case "tap", "turn", "true":
		if w.hand.seated {
			return fmt.Errorf("bench: the part lies in its pocket: never tap the fixture with the part in; take the part out first")
		}
		if a.Do == "true" {
			return w.trueUp(at, a.Amount)
		}
		return w.tap(a, at)
	case "key":
		w.key(a)
		return nil
	}
	if w.onTheTable(a.Do, what) || w.inTheSpindle(a, what) || w.atTheControl(a, what) || w.onThePart(a, what) {
		return nil
	}
	return fmt.Errorf("bench: act %q of %q is not known", a.Do, a.Of)
}

// onTheTable are acts on vise and fixture.
func (w *World) onTheTable(do, what string) bool {
	switch do {
	case "grip":
		w.regrip()
	case "mount":
		if w.hand.mounted {
			w.fixture = w.setDown(fmt.Sprint("set down again ", w.moves))
		}
		w.hand.mounted = true
	case "loosen":
		if g := w.onTable(); g != nil {
			g.loose = true
		}
	case "tighten", "retighten":
		if what == "fixture" && w.onTable() == nil {
			w.tighten()
		}
	default:
		return false
	}
	return true
}

// inTheSpindle are acts on what the spindle carries, and where it goes.
func (w *World) inTheSpindle(a fold.Act, what string) bool {
	switch {
	case a.Do == "fit" && what == "probe":
		if w.probeOut {
			w.refit(w.Effects.Refit, w.Effects.RefitLength)
		}
		w.probeOut = false
	case a.Do == "fit" && what == "dial":
		w.dial.on, w.dial.set = "", false
		if a.Dir == "rising" {
			w.dial.rises(w.card.AsMade.Edge)
		}
	case a.Do == "fit" && what == "posts":
		w.hand.posts = nil
	case a.Do == "change" && what == "probe":
		w.refit(w.Effects.Refit, w.Effects.RefitLength)
		w.probeOut = false
	case a.Do == "remove" && what == "probe":
		w.probeOut = true
	case a.Do == "fit":
	case a.Do == "jog" || a.Do == "move" || a.Do == "go":
		w.goes(a, what)
	default:
		return false
	}
	return true
}

// goes jogs the spindle by hand.
func (w *World) goes(a fold.Act, what string) {
	if what == "spindle" {
		w.overBore()
		d, _ := way(a.Dir + "+")
		m := w.hand.spindle.add(d.times(a.Amount))
		w.hand.spindle = xy{roundTo(m.x, w.Effects.Readout), roundTo(m.y, w.Effects.Readout)}
	}
	if strings.HasPrefix(what, "tool/") {
		w.hand.height = a.Amount
	}
	if base := strings.TrimSuffix(what, "2"); a.Do == "go" && (base == "bore" || base == "pin") {
		w.over(what)
	}
}

// atTheControl are acts on what the control holds, but for the offset page.
func (w *World) atTheControl(a fold.Act, what string) bool {
	switch a.Do {
	case "cancel":
		if what == "rotation" {
			w.hand.keyed["page"] = 0
		}
		if what == "shift" {
			w.hand.raise = 0
		}
	case "steps":
		w.hand.skin = a.Amount
	case "raise":
		w.hand.raise = a.Amount
	default:
		return false
	}
	return true
}

// onThePart are acts on part, straps and screws, and those that cut.
func (w *World) onThePart(a fold.Act, what string) bool {
	switch a.Do {
	case "remove", "change":
		if what == "part" {
			w.hand.straps, w.hand.screws, w.part.bow, w.hand.seated = 0, 0, 0, false
		}
	case "hold":
		w.hold()
	case "seat":
		w.seat(fmt.Sprint("seat ", w.moves))
		w.hand.seated = true
	case "strap":
		w.strap()
	case "unstrap":
		w.move("unstrap", w.swap(), w.part.bow)
		w.rises()
		w.hand.straps, w.part.bow = 0, 0
	case "drill":
		w.hand.drilled, w.probeOut = true, true
	case "thread":
		if w.hand.soft > 0 {
			w.hand.mended, w.hand.soft = true, 0
		}
	case "screw":
		w.screw(a.Dir)
	case "unscrew":
		w.hand.screws = 0
	case "skim", "cut":
		w.cuts(what)
	default:
		return false
	}
	return true
}

// hold holds the part by what its setup has in place of screws.
func (w *World) hold() {
	if w.gone != nil {
		w.gone.held()
	}
	if w.face != nil {
		w.face.hold()
	}
	if g := w.inNest(); g != nil {
		g.closeJaws()
	}
}

// cuts is a cut: a nest is another one after it, raw stock is faced, a plate is bolted down for it.
func (w *World) cuts(what string) {
	if what == "nest" {
		w.cutNest()
		return
	}
	if g := w.onTable(); g != nil {
		g.loose = false
	}
	w.probeOut, w.hand.skimmed = true, w.hand.raise
	if what == "part" && w.raw != nil {
		w.raw.faced = true
	}
}

// tap turns the fixture about its pivot bolt, at the end across, by moving it
// so far where the dial stands, or at the tapped end itself.
func (w *World) tap(a fold.Act, end string) error {
	dir, ok := way(strings.ToLower(a.Dir))
	if !ok {
		return fmt.Errorf("bench: tap %q is no direction", a.Dir)
	}
	amount := a.Amount * (1 + w.gauss(w.Effects.TapScatter))
	if b := w.hand.backwards; b != 0 {
		amount, w.hand.backwards = -b*amount, 0
	}
	pivot, tapped, ok := w.line()
	if !ok || end == "" {
		w.fixture = w.fixture.about(xy{}, 0, dir.times(amount))
		return nil
	}
	if toward, ok := way(end); ok && toward.dot(tapped.sub(pivot)) < 0 {
		pivot, tapped = tapped, pivot
	}
	if e := w.card.AsMade.Edge; e != nil && w.dial.on == "edge" {
		if d := w.edgeEnd(w.dial.station); d.sub(pivot).long() > e.Length/2 {
			tapped = d
		}
	}
	c := w.onFixture(pivot)
	lever, d := w.onFixture(tapped).sub(c), dir.times(amount)
	w.fixture = w.fixture.about(c, (float64(lever.x*d.y)-float64(lever.y*d.x))/lever.dot(lever), xy{})
	return nil
}

// line is what the fixture is squared by, end to end on its card: the edge, or
// from bore to bore.
func (w *World) line() (low, high xy, ok bool) {
	made := &w.card.AsMade
	switch {
	case made.Edge != nil:
		return w.edgeEnd(0), w.edgeEnd(made.Edge.Length), true
	case made.Bore2 != nil:
		return xy{}, w.bore2, true
	}
	if d := datumOf(w.card); d != nil {
		low, high = d.line()
		return low, high, true
	}
	return xy{}, xy{}, false
}

// tighten twists the fixture a little, about its pivot bolt.
func (w *World) tighten() {
	t := w.uniform(w.Effects.Twist)
	w.fixture = w.fixture.about(w.onFixture(xy{}), t, xy{w.uniform(100 * w.Effects.Twist), w.uniform(100 * w.Effects.Twist)})
}

// refit is the probe put back not quite as it was.
func (w *World) refit(place, length float64) {
	w.ball.ecc = w.ball.ecc.add(xy{w.uniform(place), w.uniform(place)})
	w.probe += w.uniform(length)
}

// seat puts the part in its pocket.
func (w *World) seat(draw string) {
	p := &w.part
	p.shift, p.turn, p.rise, p.bow, p.chip = xy{}, 0, 0, 0, 0
	p.turned, p.wrong, p.free, p.lean = false, false, false, level{}
	if w.bed != nil {
		w.bed.lay(draw)
	} else if w.setup.Floating || len(w.setup.Against) < 2 {
		p.shift = w.day.pair(draw+" floating", w.Effects.Floating)
	} else {
		p.shift = w.day.pair(draw+" contact", w.Effects.WallContact)
		w.lies(draw)
	}
	w.hand.straps, w.hand.screws = 0, 0
}

func (w *World) strap() {
	if s := w.hand.snug; s != 0 {
		w.fixture = w.fixture.about(xy{}, 0, xy{s, 0})
		w.hand.snug = 0
	}
	w.hand.straps = len(w.setup.Clamps)
	w.part.bow = w.uniform(w.Effects.StrapBow)
	w.move("strap", xy{w.uniform(w.Effects.Swap), w.uniform(w.Effects.Swap)}, w.part.bow)
}

// swap is the part's motion while the load goes from straps to screws.
func (w *World) swap() xy {
	w.part.turn += w.uniform(w.Effects.SwapTurn / 2)
	return xy{w.uniform(w.Effects.Swap / 2), w.uniform(w.Effects.Swap / 2)}
}

// screw is one round of tightening: the part creeps by a third of the swap's
// shift, and the dial, set to zero before the first round, shows it all.
func (w *World) screw(round string) {
	w.hand.screws = len(w.setup.Screws.At)
	n, ok := strings.CutPrefix(round, "round-")
	if !ok {
		return
	}
	if n == "1" {
		w.hand.creep, w.hand.crept = w.swap(), xy{}
		// A thread is worked at a quarter of the angle that strips a usual one.
		for i := range w.setup.Screws.At {
			if !w.hand.mended && 1+w.lot.normal(fmt.Sprint("thread ", i), w.Effects.Thread) < 0.25 {
				w.hand.soft++
			}
		}
	}
	by := w.hand.creep.times(1.0 / 3)
	w.hand.crept = w.hand.crept.add(by)
	w.part.shift = w.part.shift.add(by)
	w.show("screw-"+n, w.hand.crept, 0)
}

// move moves the part on the fixture; the dial shows how far.
func (w *World) move(seen string, by xy, z float64) {
	w.part.shift = w.part.shift.add(by)
	w.show(seen, by, z)
}

// show leaves on the dial what it reads at that moment: along x, y and z of the
// axis it stands on, or sideways and in all without a sign.
func (w *World) show(seen string, by xy, z float64) {
	for axis, v := range map[string]float64{"x": by.x, "y": by.y, "z": z, "xy": by.long(), "": max(by.long(), math.Abs(z))} {
		w.hand.moved[strings.TrimSpace(seen+" "+axis)] = v
	}
}

// key types a value into the control.
func (w *World) key(a fold.Act) {
	if n, ok := strings.CutPrefix(a.Of, "length/"); ok {
		w.hand.table[n] = w.table(n) + a.Amount
		return
	}
	if a.Of == "offset/by" { // what stands there and so much more
		w.hand.keyed[a.Dir] += a.Amount
		return
	}
	if a.Of != "offset" {
		if a.Of == "rotation" {
			w.hand.keyed["page"], w.hand.keyed["rotation"] = a.Amount, 0
		}
		return
	}
	if a.Dir == "z0" {
		w.hand.word = w.setup.Z0
		return
	}
	step := w.Effects.Readout
	if a.Dir == "rotation" {
		step = 1e-4 * math.Pi / 180
		if w.Effects.Readout == 0 {
			step = 0
		}
	}
	w.hand.keyed[a.Dir] = roundTo(a.Amount, step)
	if a.Dir == "rotation" {
		w.hand.keyed["page"] = 0 // what stood there is written over
		w.settle("rotation-left-active")
	}
}

// programEnds is the part before cut and its program at its end, which cancels the rotation.
func (w *World) programEnds() {
	if w.mach.Rotation != "" && w.mach.Rotation != "none" {
		w.hand.keyed["rotation"], w.hand.keyed["page"] = 0, 0
	}
}
