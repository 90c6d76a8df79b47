package bench

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
)

// ringSize is the ring gauge on the table, mm.
const ringSize = 25.0006

// paper is the thickness of the paper under a tool, mm.
const paper = 0.1

func toolNumber(n string) int { i, _ := strconv.Atoi(n); return i }

// gaugeLength is the true length of a tool from the spindle's gauge line, mm.
func gaugeLength(n string) float64 {
	return 70 + 2.039*float64(toolNumber(n)%20)
}

// Offer is Read, by the name of the one key that takes a reading from the bench.
func (w *World) Offer(a fold.Ask) (string, error) { return w.Read(a) }

// Read returns what a person would type for the ask: a reading to the step of its
// instrument in the job's unit, a choice by its words, a count as a count. X and Y of one
// touch belong together. What it can't show is an error that names it.
func (w *World) Read(a fold.Ask) (string, error) {
	of := thing(a.What.Of)
	w.reads++
	w.before("read " + a.What.By + " " + of)
	w.cure("read "+a.What.By, "")
	s, err := w.answer(a)
	if err != nil {
		return "", err
	}
	w.after("read " + a.What.By + " " + of)
	return s, nil
}

func (w *World) answer(a fold.Ask) (string, error) {
	if s, ok := w.says(a); ok {
		return s, nil
	}
	if w.gone != nil {
		if s, ok := w.gone.say(a); ok {
			return s, nil
		}
	}
	if w.face != nil {
		if s, ok := w.face.say(a); ok {
			return s, nil
		}
	}
	if w.bed != nil {
		if s, ok := w.bed.say(a); ok {
			return s, nil
		}
	}
	switch a.Kind {
	case fold.Choice, fold.Text:
		return w.words(a)
	case fold.Count:
		n, err := w.count(a)
		return strconv.Itoa(n), err
	}
	v, step, err := w.measure(a)
	if err != nil {
		return "", err
	}
	if a.Unit == unit.KTorque {
		return w.torque(v, a, step), nil
	}
	return w.typed(v, a.Unit, step), nil
}

// torque is a torque as a person types it: in the unit of its field, since a keypad has no letters.
func (w *World) torque(v float64, a fold.Ask, step float64) string {
	sys := w.plan.Job.Unit
	one, err := unit.Parse("1 "+a.EntryUnit(sys), a.Unit, sys)
	if err != nil || one.Value <= 0 {
		return w.typed(v, a.Unit, step)
	}
	if step <= 0 {
		step = unit.Step(a.Unit, sys)
	}
	return strconv.FormatFloat(v/one.Value, 'f', max(0, int(math.Ceil(-math.Log10(step/one.Value)-1e-9))), 64)
}

// typed is a number as a person types it: bare where a bare number is read in the unit shown.
func (w *World) typed(v float64, k unit.Kind, step float64) string {
	sys := w.plan.Job.Unit
	if step == 0 && w.Effects.Readout == 0 {
		step = 1e-9
	}
	if unit.EntryUnit(k, sys) == unit.UnitName(k, sys) {
		return unit.Format(v, k, sys, step)
	}
	return unit.Show(v, k, sys, step)
}

// measure is the number that an instrument shows, in internal units, and its step.
func (w *World) measure(a fold.Ask) (v, step float64, err error) {
	q := a.What
	for _, of := range []func(fold.Ask) (v, step float64, ok bool){w.raised(w.inVise), w.raised(w.onMachine), w.ofItsKind, w.again} {
		if v, step, ok := of(a); ok {
			return roundTo(v, step), step, nil
		}
	}
	for _, of := range []func(fold.Ask) (v, step float64, ok bool){w.raised(w.lever), w.witnessed, w.skimmed} {
		if v, step, ok := of(a); ok {
			return v, step, nil
		}
	}
	of, at, _ := strings.Cut(q.Of, "@")
	switch q.By {
	case "probe", "finder", "paper":
		v, err = w.probed(map[string]*tip{"probe": &w.ball, "finder": &w.finder, "paper": &w.paper}[q.By], q, of, at)
		return v, w.Effects.Readout, err
	case "dial":
		return w.dialled(a, of, at)
	case "tool", "block", "rule":
		if v, step, ok, err := w.under(q, of, at); ok || err != nil {
			return v, step, err
		}
	}
	for _, of := range []func(fold.Ask) (v, step float64, ok bool){w.shownAt, w.weather, w.lookedAt, w.asPlanned} {
		if v, step, ok := of(a); ok {
			return v, step, nil
		}
	}
	return 0, 0, fmt.Errorf("the bench reads no %q; type it, or leave it empty where it may be", a.Label)
}

// raised is a reading of a thing as one of an ask.
func (w *World) raised(of func(fold.What) (v, step float64, ok bool)) func(fold.Ask) (v, step float64, ok bool) {
	return func(a fold.Ask) (float64, float64, bool) { return of(a.What) }
}

// ofItsKind is what a kind of setup, or a way of holding, alone shows.
func (w *World) ofItsKind(a fold.Ask) (v, step float64, ok bool) {
	if w.gone != nil {
		if v, step, ok := w.gone.read(a); ok {
			return v, step, true
		}
	}
	if w.face != nil {
		if v, step, ok := w.face.read(a.What); ok {
			return v, step, true
		}
	}
	if w.bed != nil {
		return w.bed.read(a.What)
	}
	return 0, 0, false
}

// again is a width of the part, measured before it goes in.
func (w *World) again(a fold.Ask) (v, step float64, ok bool) {
	v, ok = w.widthAgain(a.What)
	return v, 0.001, ok
}

// under is what lies under a tool's tip: a height that it touches, or a gap.
func (w *World) under(q fold.What, of, at string) (v, step float64, ok bool, err error) {
	n, tip := strings.CutPrefix(of, "tool/")
	switch {
	case q.By == "tool":
		z, err := w.height(of, at)
		fine := w.Effects.Readout
		return roundTo(z+w.hand.block+w.length(w.firstTool())+w.gauss(w.Effects.Noise), fine), fine, true, err
	case !tip || q.Dir != "gap":
		return 0, 0, false, nil
	}
	step = 0.01
	if q.By == "rule" {
		step = 0.5
	}
	v, err = w.underTip(n, at)
	return roundTo(v, step), step, true, err
}

// shownAt is what readout, control and tool setter show.
func (w *World) shownAt(a fold.Ask) (v, step float64, ok bool) {
	q, fine := a.What, w.Effects.Readout
	of := thing(q.Of)
	n, tool := strings.CutPrefix(of, "tool/")
	switch {
	case q.By == "pin" && q.Dir == "in":
		return w.slidIn(of).along(q.Axis), fine, true
	case q.By == "touch" && tool:
		return roundTo(w.length(n)+w.gauss(w.Effects.Noise), fine), fine, true
	case q.By == "control" && tool:
		l := w.length(n)
		if n != "probe" {
			l = gaugeLength(n) + w.lot.within("length "+n, w.Effects.LengthError)
			w.hand.table[n] = l
		}
		return roundTo(l, fine), fine, true
	case q.By == "control" && of == "offset":
		if q.Axis == "rotation" {
			fine = 0
		}
		return w.hand.keyed[q.Axis], fine, true
	case q.By == "readout" && of == "spindle":
		w.overBore()
		return w.hand.spindle.along(q.Axis), fine, true
	case q.By == "readout" && strings.HasPrefix(of, "hole/") && a.Window != nil: // driven to what the page says, to the step of the readout
		return roundTo(a.Window.Want, fine), fine, true
	}
	return 0, 0, false
}

// weather is time, warmth and damp.
func (w *World) weather(a fold.Ask) (v, step float64, ok bool) {
	switch a.What.By {
	case "clock":
		return 30, 1, true
	case "hygrometer":
		return w.hygrometer(), 1, true
	case "thermometer":
		v = w.warm + w.lot.within("thermometer", w.Effects.Thermometer)
		if thing(a.What.Of) == "part" { // the same thermometer: it repeats within a fifth of its error
			v += w.part.hot + w.uniform(0.2*w.Effects.Thermometer)
		}
		return roundTo(v, 0.1), 0.1, true
	}
	return 0, 0, false
}

// lookedAt is what is seen, engraved, or known of a gauge.
func (w *World) lookedAt(a fold.Ask) (v, step float64, ok bool) {
	q, of := a.What, thing(a.What.Of)
	switch {
	case q.By == "eye" && strings.HasPrefix(of, "rotation"):
		return w.hand.keyed["page"] + w.hand.keyed["rotation"], 0, true
	case q.By == "eye" && strings.HasPrefix(of, "shift"):
		return w.hand.raise, w.Effects.Readout, true
	case q.By == "eye" && of == "screws" && q.Dir == "length":
		return w.setup.Screws.Length, 0.01, true
	case q.By == "eye" && of == "ring", q.By == "ring":
		return ringSize, 0.0001, true
	case q.By == "gauge" && of == "pin-gauge":
		return w.gaugePin(), 0.001, true
	case q.By == "gauge" && (of == "block" || of == "paper") && a.Window != nil: // it lies under the tool from now on
		w.hand.block = a.Window.Want
		return w.hand.block, 0.001, true
	case q.By == "driver" && of == "clamps" && len(w.setup.Clamps) > 0:
		return float64(w.setup.Clamps[0].Torque), 0, true
	}
	v, ok = tightened(a)
	return v, 0, ok
}

// asPlanned are things that a program or a hand makes as planned: what is expected, with its scatter.
func (w *World) asPlanned(a fold.Ask) (v, step float64, ok bool) {
	if a.Window == nil {
		return 0, 0, false
	}
	switch a.What.By {
	case "drill":
		return a.Window.Want + w.uniform(w.Effects.Drill) + w.part.deep, 0.01, true
	case "driver", "tap":
		weak := 0.0
		if g := w.onTable(); g != nil {
			weak = g.weak
		}
		return a.Window.Want * (1 - weak) * (1 + w.gauss(0.2*w.Effects.Thread)), 0, true
	case "gauge", "ring", "eye", "calliper", "scale":
		return a.Window.Want, 0, true
	}
	return 0, 0, false
}

// length is the true length of a tool, or of the probe to its trigger.
func (w *World) length(n string) float64 {
	if n == "probe" {
		return w.probe
	}
	return gaugeLength(n) + w.part.pulled
}

// underTip is the gap between a tool's tip and the part's top at a place, at the height that
// the control was told: it moves by the length that it has of the tool. Near nothing the hand stops it.
func (w *World) underTip(n, at string) (float64, error) {
	top, err := w.height("part-top", at)
	if err != nil {
		return 0, err
	}
	return max(w.driven(n, w.hand.height)-top, 0), nil
}

func (w *World) firstTool() string {
	best := ""
	for n := range w.plan.Job.Tools {
		if s := strconv.Itoa(n); best == "" || len(s) < len(best) || len(s) == len(best) && s < best {
			best = s
		}
	}
	return best
}
