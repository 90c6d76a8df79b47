package outside

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"sync"

	"fliptrue/steps/fold"
)

// A part that let go while it was cut: it slips and turns about its middle, a screw turns in its thread. Even half widths,
// our own: a part that is still between its walls can't go further than their clearance and what a thread gives.
const (
	slipped    = 0.12   // mm, along X and Y, as far as the pocket lets it
	slewed     = 0.0008 // rad, as far as the pocket lets it
	pushedBack = 0.004  // mm, when it is pushed to its walls again; the trade takes u 0.006
	refitAgain = 0.002  // mm, ball off once more, for the probe was out
)

var rescueMistakes = []Mistake{
	{"rescue", "fixture-moved", "the fixture is knocked as well, by 0.05 and 0.2 mrad", nil, Lasts},
	{"rescue", "begins-elsewhere", "the control is set to another line than the one shown", at("restart"), Seen},
	{"rescue", "line-misread", "the line where it stopped is written down as that of a later pass", at("wrote"), Seen},
	{"rescue", "moves-on", "the part is pushed 0.06 to the right after it was found", at("find"), Unseen},
	{"rescue", "old-offset", "the new offset is not keyed in", at("offset"), Seen},
}

// halves are second sides walked to their release, each for several parts that let go.
var halves = struct {
	sync.Mutex
	of map[uint64]*walker
}{of: map[uint64]*walker{}}

const perHalf = 5

// half is a released second side for a seed; it is never walked further itself.
func half(seed uint64) (*walker, error) {
	base := seed / perHalf
	halves.Lock()
	k := halves.of[base]
	halves.Unlock()
	for s := base; k == nil; s += 1_000_003 {
		w, err := walkIn(s, NewShop(s, ""), Usual())
		if err != nil {
			return nil, err
		}
		if w.Ended == "released" {
			k = w
		}
	}
	halves.Lock()
	halves.of[base] = k
	halves.Unlock()
	return k, nil
}

// letGo is one part that let go.
type letGo struct {
	*World
	r       *rand.Rand
	was     Mat // where the part was, on the table
	ran     []stood
	stop    int // place in it
	torn    int // screw
	shifted bool
}

func walkRescue(wrong Mistake, seed uint64) (*Later, error) {
	b, err := half(seed)
	if err != nil {
		return nil, err
	}
	k := newLater("rescue", wrong, seed, b.Shop)
	world := *b.World
	w := &letGo{World: &world, r: rand.New(rand.NewPCG(seed, 0x1e7))}
	world.noise = rand.New(rand.NewPCG(seed, 0x2e7))
	k.World = w.World
	for _, e := range b.Events {
		k.Events = append(k.Events, e)
		k.log.Apply(e)
		k.at = e.At
	}
	es, name, ok := k.log.Open(b.plan, "part-moved-in-cut", "keyed")
	if !ok {
		return nil, fmt.Errorf("seed %d: nothing opens where a part let go", seed)
	}
	if k.plan, err = b.plan.Derive(name); err != nil {
		return nil, err
	}
	k.put(es)
	if err := w.stops(k); err != nil {
		return nil, err
	}
	w.moves(wrong)
	k.gives = func(a fold.Ask, of string, x, y float64) (string, error) { return k.saves(w, a, of) }
	k.accepts = []string{"rescue.step"}
	k.acts = func(a fold.Act) {
		if a.Do == "push" && !w.setup.Floating {
			w.pushed()
		}
	}
	out, err := k.walk()
	if err != nil {
		return nil, err
	}
	out.Truths = w.truths()
	out.Claims = w.claims()
	out.Faulty = func(s Said) []string { return w.restart(k, s) }
	at, by := w.ran[w.stop], w.went(Vec{})
	out.Tale = []string{fmt.Sprintf("moved at its zero by %+.4f %+.4f, turned %+.3g", by.X, by.Y, w.slew()),
		fmt.Sprintf("stopped at line %d, run %d, W %.3f %.3f %.3f", at.line, at.repeat, at.at.X, at.at.Y, at.at.Z)}
	return out, nil
}

// stops chooses where in the program it stopped: within a cut.
func (w *letGo) stops(k *later) error {
	var err error
	if w.ran, err = (control{}).run(k.Shop.Files["top.nc"]); err != nil {
		return err
	}
	var cuts []int
	for i, s := range w.ran {
		if s.repeat > 0 {
			cuts = append(cuts, i)
		}
	}
	w.stop = cuts[w.r.IntN(len(cuts))]
	w.torn = 1 + w.r.IntN(len(w.job.Setups[0].Screws.At))
	return nil
}

// moves lets the part go.
func (w *letGo) moves(wrong Mistake) {
	w.was = w.seat.Then(w.swap).Then(w.place)
	even := func(h float64) float64 { return h * (2*w.r.Float64() - 1) }
	was := w.swap
	for share := 1.0; ; share *= 0.98 {
		w.swap = was.Then(TurnAbout(w.middle(), even(slewed*share))).Then(Move(Vec{even(slipped * share), even(slipped * share), 0}))
		if w.inPocket() || share < 0.01 {
			break
		}
	}
	if wrong.Name == "fixture-moved" {
		w.place = w.place.Then(TurnAbout(w.place.Of(Vec{}), 2e-4)).Then(Move(Vec{0.04, -0.03, 0}))
	}
	w.ball = w.ball.plus(Vec{even(refitAgain), even(refitAgain), 0})
}

func (w *letGo) middle() Vec {
	return w.seat.Of(w.solid(Vec{w.job.Part.Size[0] / 2, w.job.Part.Size[1] / 2, 0}))
}

// inPocket says that no corner of the part stands in a wall.
func (w *letGo) inPocket() bool {
	for _, s := range w.sides() {
		if nearest(s, w.seat.Then(w.swap)) < -0.001 {
			return false
		}
	}
	return true
}

// atWalls says that no strip of 0.02 pulls out where the part is to bear; one that floats bears nowhere.
func (w *letGo) atWalls() bool {
	if w.setup.Floating {
		return false
	}
	for _, s := range w.sides() {
		for _, c := range s.corners() {
			if slices.Contains(w.setup.Against, s.name) && s.away(w.seat.Then(w.swap).Of(c)) > 0.02 {
				return false
			}
		}
	}
	return true
}

// pushed puts the part back to its walls, as well as a hand does.
func (w *letGo) pushed() {
	even := func(h float64) float64 { return h * (2*w.r.Float64() - 1) }
	l := w.job.Part.Size[0]
	w.swap = TurnAbout(w.middle(), even(pushedBack/l)).Then(Move(Vec{even(pushedBack), even(pushedBack), 0}))
}

// went is how far a point of the part has gone on the table.
func (w *letGo) went(p Vec) Vec { return w.onTable(w.solid(p)).minus(w.was.Of(w.solid(p))) }

func (w *letGo) slew() float64 {
	l := w.job.Part.Size[0]
	return (w.went(Vec{X: l}).Y - w.went(Vec{}).Y) / l
}

// saves is what a sound person gives, but for the one mistake.
func (k *later) saves(w *letGo, a fold.Ask, of string) (string, error) {
	s := w.ran[w.stop]
	axis := func(v Vec) string { return length(map[string]float64{"x": v.X, "y": v.Y, "z": v.Z}[a.What.Axis]) }
	switch {
	case of == "program" && a.What.Dir == "line":
		if k.wrong("line-misread") {
			return strconv.Itoa(w.later(s.line)), nil
		}
		return strconv.Itoa(s.line), nil
	case of == "program" && a.What.Dir == "repeat":
		return strconv.Itoa(s.repeat), nil
	case of == "spindle" && a.What.Dir == "tool":
		return strconv.Itoa(s.tool), nil
	case of == "stop" && a.What.Dir == "m":
		return axis(w.keyed.plus(s.at).plus(Vec{Z: w.typed(s.tool)})), nil
	case of == "stop":
		return axis(s.at), nil
	case strings.HasPrefix(of, "screw/") && a.What.Dir == "holds":
		if of == fmt.Sprintf("screw/%d", w.torn) {
			return "turns", nil
		}
		return "firm", nil
	case of == "part" && a.What.Dir == "held-again":
		return "the next size in the same hole", nil
	case of == "paint-lines" && a.Want == "":
		return strconv.Itoa(len(w.job.Setups[0].Screws.At) - 1), nil
	case a.What.Dir == "seated":
		if w.atWalls() {
			return "yes", nil
		}
		return "no", nil
	case of == "part" && a.What.Dir == "mark":
		return "0mm", nil
	case of == "program" && a.What.Dir == "begin" && k.wrong("begins-elsewhere"):
		return strconv.Itoa(w.later(s.line)), nil
	}
	if !k.wrong("old-offset") {
		k.obeys(a)
	}
	if of == "offset" && k.wrong("moves-on") && !w.shifted {
		w.shifted = true
		w.swap = w.swap.Then(Move(Vec{X: 0.06}))
	}
	return k.World.answer(&k.State, a)
}

// later is the first line of the next pass, or of this one where it is the last.
func (w *letGo) later(line int) int {
	for _, s := range w.ran {
		if s.line > line && s.repeat > 0 {
			return s.line
		}
	}
	return line + 1
}

// claims are what is true of what the steps state.
func (w *letGo) claims() []Claim {
	return []Claim{
		{"find", "moved at the part zero, X", w.went(Vec{}).X, false},
		{"find", "moved at the part zero, Y", w.went(Vec{}).Y, false},
		{"find", "turned, counter-clockwise is +", w.slew(), false},
	}
}

// restart is what is wrong with where the cut is said to go on.
func (w *letGo) restart(k *later, s Said) []string {
	i := slices.IndexFunc(s.Sheet.Steps, func(st SaidStep) bool { return st.ID == "restart" })
	if i < 0 || s.Sheet.Steps[i].Verdict != "pass" {
		return nil
	}
	line, typed := 0, []string{}
	for _, f := range s.Sheet.Steps[i].Found {
		switch {
		case f.What == "begin at line":
			line, _ = strconv.Atoi(strings.Fields(f.Says)[0])
		case strings.HasPrefix(f.What, "type "):
			typed = append(typed, f.Says)
		}
	}
	top := w.job.Part.Size[2]
	if w.setup.Z0 != "floor" {
		top = 0
	}
	if err := restarts(k.Shop.Files["top.nc"], typed, line, w.stop, top+1); err != nil {
		return []string{fmt.Sprintf("stopped at line %d, run %d: %v", w.ran[w.stop].line, w.ran[w.stop].repeat, err)}
	}
	return nil
}
