package kit

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/frame"
	"fliptrue/calc/pickup"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
)

// Stopper finds a fixture by its three stops: one side touched at two places, the side square to it at one. All three
// are touched, wiped and touched once more: three touches alone would check nothing.
type Stopper struct{ p *fold.Plan }

// stops are the card's.
func (s Stopper) stops() pickup.Stops {
	c := s.p.Job.Fixture.AsMade.Stops
	long, _ := frame.ParseWall(c.Long)
	end, _ := frame.ParseWall(c.End)
	return pickup.Stops{Long: long, End: end, At: c.At, EndAt: c.EndAt}
}

func (s Stopper) by() string {
	switch s.p.Setup.Finds {
	case "edge finder":
		return "finder"
	case "paper":
		return "paper"
	}
	return "probe"
}

// contact is what touches, and how well its radius is known: a ball as calibrated, a finder as its kick repeats.
func (s Stopper) contact(v fold.View) (c Contact, radiusU float64) {
	if s.by() == "probe" {
		return Prober{s.p}.Contact(v), 0.001 // of a ring gauge (common practice)
	}
	c = Kicker{s.p, s.by()}.Contact()
	return c, c.S
}

// touchedStop is one of the three: its field, the part's side that it stops, where along it, and its name.
type touchedStop struct {
	field, name string
	wall        frame.Wall
	at          float64
}

func (s Stopper) three() [3]touchedStop {
	st := s.stops()
	low, high := "LEFT", "RIGHT"
	if st.Long.Dir().X != 0 {
		low, high = "NEAR", "FAR"
	}
	side := sideWord(st.Long)
	return [3]touchedStop{{"long1", side + " stop, " + low + " one", st.Long, st.At[0]}, {"long2", side + " stop, " + high + " one",
		st.Long, st.At[1]},
		{"end", sideWord(st.End) + " stop", st.End, st.EndAt}}
}

func sideWord(w frame.Wall) string {
	if w == frame.Toward {
		return "TOWARD YOU"
	}
	return strings.ToUpper(w.String())
}

// axis is the one that a touch of a stop reads, and the way of the tool toward it.
func (t touchedStop) axis() (axis, dir string, sign float64) {
	d := t.wall.Dir()
	axis, sign = "x", d.X
	if d.X == 0 {
		axis, sign = "y", d.Y
	}
	if sign < 0 {
		return axis, axis + "-", sign
	}
	return axis, axis + "+", sign
}

// ask is the touch of a stop, once or again.
func (s Stopper) ask(v fold.View, pre string, t touchedStop, again bool) fold.Ask {
	c, _ := s.contact(v)
	axis, dir, sign := t.axis()
	a := fold.Ask{Field: pre + t.field, Label: fmt.Sprintf("%s, %s", t.name, strings.ToUpper(axis)), Kind: fold.Reading, Unit: unit.KLength,
		What: fold.What{By: c.By, Of: "stop-" + t.wall.String() + "@" + Place(t.at), Dir: dir, Axis: axis}, Window: TravelWindow(s.p, axis)}
	if was, ok := v.Num(pre+t.field, unit.KLength); again && ok {
		a.Window = Around(was, 0.1, "the touch before")
	} else if b, ok := facts.Bore.Perhaps(v); ok {
		a.Window = Around(float64(b.Along(axis))-sign*c.Radius, FoundAgain, "as it was found")
	} else if was, ok := v.Num("e."+t.field, unit.KLength); ok && pre != "e." {
		a.Window = Around(was, UnderOne, "before the last tap")
	} else if one, ok := v.Num(pre+"long1", unit.KLength); ok && t.field == "long2" {
		a.Window = Around(one, unsquared*s.stops().Apart(), "the other stop of this side")
	}
	if again {
		a.Field += ".2"
		a.Label = "once more, " + a.Label
	}
	if a.Window != nil {
		a.Window.Slips = Slips(s.p, v, axis, c.Radius, nil)
	}
	return a
}

func (s Stopper) Asks(v fold.View, t Target) []fold.Ask {
	var asks []fold.Ask
	for _, again := range []bool{false, true} {
		for _, one := range s.three() {
			asks = append(asks, s.ask(v, t.Pre, one, again))
		}
	}
	asks[0].Do = []fold.Act{{Do: "wipe", Of: "stops",
		Words: "Wipe all three stops; no burr. Touch each in the middle of its face, all at one height."}}
	if s.by() == "finder" {
		asks[0].Do = append(asks[0].Do, fold.Act{Do: "move", Of: "stops", Words: "Lower it beside the stops, hands out, then spindle on at 800 " +
			"to 1200 rpm. Let it kick, STOP THE SPINDLE, then read."})
	}
	asks[3].Do = []fold.Act{{Do: "wipe", Of: "stops",
		Words: "Wipe all three once more: a chip that a touch rode on goes, and the readings differ."}}
	return asks
}

// read are the three touches; those taken twice as their mean, all of them when whole.
func (s Stopper) read(v fold.View, pre string) (r [3]float64, repeats int, ok bool) {
	ok, repeats = true, 2
	for i, t := range s.three() {
		x, has := v.Num(pre+t.field, unit.KLength)
		y, more := v.Num(pre+t.field+".2", unit.KLength)
		if r[i] = x; more {
			r[i] = (x + y) / 2
		} else {
			repeats = 1
		}
		ok = ok && has
	}
	return r, repeats, ok
}

// find puts them together.
func (s Stopper) find(v fold.View, pre string) (f pickup.StopsFound, ok bool, err error) {
	r, n, ok := s.read(v, pre)
	if !ok {
		return f, false, nil
	}
	c, u := s.contact(v)
	k := c.Contact
	k.S /= math.Sqrt(float64(n))
	f, err = s.stops().Find(r[0], r[1], r[2], k, u)
	return f, err == nil, err
}

func (s Stopper) Centre(v fold.View, t Target, o *fold.Outcome) (Found, bool) {
	f, ok, err := s.find(v, t.Pre)
	if err != nil {
		CannotFind(s.p, t, err, o)
	}
	if !ok {
		return Found{}, false
	}
	good := s.repeats(v, t.Pre, o)
	_, dof := s.spread(v)
	at := pickup.Centre{At: f.Corner, Cov: frame.Cov2{{f.Cov[0][0], f.Cov[0][1]}, {f.Cov[1][0], f.Cov[1][1]}}, Dof: dof}
	return Found{Has: true, Centre: at, Turned: &f}, good
}

func (s Stopper) spread(v fold.View) (float64, float64) {
	if s.by() == "probe" {
		return Prober{s.p}.spread(v)
	}
	return Kicker{s.p, s.by()}.Contact().S, judge.TypeB
}

// repeats holds each touch against the one after wiping.
func (s Stopper) repeats(v fold.View, pre string, o *fold.Outcome) bool {
	var pairs [][2]float64
	for _, t := range s.three() {
		if !v.Has(pre + t.field + ".2") {
			return true // a recheck touches once
		}
		pairs = append(pairs, [2]float64{v.Len(pre + t.field), v.Len(pre + t.field + ".2")})
	}
	worst, at := pickup.WorstPair(pairs)
	c, _ := s.contact(v)
	l := AtLeast(s.p.Limit("repeat"), 3.5*c.S)
	l.ID, l.Why = "stops.repeat", "each stop touched twice, wiped in between"
	k := judge.Most(l, worst, 0)
	if k.Verdict != fold.Pass {
		one := s.three()[at]
		k.Words = fmt.Sprintf("%s: the touches differ by %s: a chip went, or one lies there still.", fold.Capital(one.name), s.p.Len(worst))
		o.Named = "chip-at-stop"
		o.Next = append(o.Next, fold.Act{Do: "wipe", Of: "stops", Words: k.Words + " Wipe it, touch it twice again."},
			fold.Act{Do: "again", Of: pre + one.field}, fold.Act{Do: "again", Of: pre + one.field + ".2"})
	}
	o.Checks = append(o.Checks, k)
	o.Lines = append(o.Lines, fold.Row{Label: "stops repeat", Value: worst, Unit: unit.KLength, Verdict: k.Verdict})
	return k.Verdict == fold.Pass
}

// Pair are all three touches, for either axis: the corner hangs on how the long side lies.
func (s Stopper) Pair(v fold.View, t Target, axis string) []fold.Ask {
	var asks []fold.Ask
	for _, one := range s.three() {
		asks = append(asks, s.ask(v, t.Pre, one, false))
	}
	return asks
}

func (s Stopper) Across(v fold.View, t Target, axis string) (at, u float64, ok bool) {
	f, ok, _ := s.find(v, t.Pre)
	if axis == "y" {
		return f.Corner.Y, math.Sqrt(f.Cov[1][1]), ok
	}
	return f.Corner.X, math.Sqrt(f.Cov[0][0]), ok
}

func (s Stopper) rough(v fold.View, t Target) (frame.Vec, bool) {
	f, ok, _ := s.find(v, t.Pre)
	return f.Corner, ok
}

func (s Stopper) Stands() []fold.FactID {
	if s.by() == "probe" {
		return Prober{s.p}.Stands()
	}
	return nil
}

func (s Stopper) Says(t Target) (act, read, caution string) {
	_, read, caution = s.instrument().Says(t)
	return "Touch the three stops: two on one side, one square to it. Wipe and touch them again.", read, caution
}

func (s Stopper) instrument() finder {
	if s.by() == "probe" {
		return Prober{s.p}
	}
	return Kicker{s.p, s.by()}
}
