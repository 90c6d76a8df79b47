package outside

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/fold"
)

// A fixture in the making: one mill cuts bores, pads and edge in one clamping, and its probe reads them there. Even half widths,
// mm; where no source stands, our own judgement:
const (
	cutsSmall = 0.015 // of the finisher in radius, 0 to so much: worn, and bent by the cut; from memory
	padBent   = 0.001 // of a pad against the bores, by another engagement of the same cutter; from memory
	padLean   = 2e-4  // rad, of a pad
	partOff   = 0.04  // of the part's widths against the drawing
)

var makingMistakes = []Mistake{
	{"fixture", "two-finishers", "the pads are cut by another cutter, 0.015 smaller, and said to be cut by one", at("pads"), Seen},
	{"fixture", "burr", "a burr of 0.03 on the pad that stands across, and none is felt", at("pads"), Seen},
	{"fixture", "bumped", "the plate is pushed 0.05 to the right between bores and pads", at("pads"), Lasts},
	{"fixture", "width", "the part's width is typed 0.05 too large", at("fit"), Unseen},
	{"fixture", "stylus", "the stylus is 0.010 larger in radius than its card says", at("bores"), Unseen},
}

const plateText = `  plate:
    kind: fixture
    fixture: lid.fixture.yaml
    offset: G55
    finds: probe
    stations: 5
    make: {tool: 3, bore: 10, bore2: [150, 0], blank: 25,
           pads: {$a: {wall: $a, at: [$ax, 62]}, $b 1: {wall: $b, at: [44, $by]}, $b 2: {wall: $b, at: [126, $by]}}}
`

// making is a plate on the mill that cuts it.
type making struct {
	*World
	zero    Vec // of the program, as the control shows it
	small   float64
	l, b    float64 // the part's widths
	walls   [2]string
	at      map[string]jobs.Point // pads by the wall and their place
	bent    map[string]float64    // further into the pocket than the cutter's radius says
	stylus  float64
	pushed  float64
	another float64
}

func newMaking(seed uint64) (*making, *jobs.Job, Shop, error) {
	s := seed
	for s/4%3 != 0 { // the second job alone has room for pads
		s += 1_000_003
	}
	shop := NewShop(s, "")
	w := &making{walls: [2]string{"left", "away"}}
	v := drawing{"ax": "30", "by": "100"}
	if seed%2 == 1 {
		w.walls[0], v["ax"] = "right", "140"
	}
	if seed/2%2 == 1 {
		w.walls[1], v["by"] = "toward", "24"
	}
	v["a"], v["b"] = w.walls[0], w.walls[1]
	against := "against: [" + w.walls[0] + ", " + w.walls[1] + "]"
	for _, a := range []string{"left", "right"} {
		for _, b := range []string{"away", "toward"} {
			shop.swap(JobFile, "against: ["+a+", "+b+"]", against)
		}
	}
	shop.swap(JobFile, "floating: true", against)
	shop.Files[JobFile] += v.fill(plateText)
	j, fs := jobs.ReadJob(jobs.Mem(shop.Files), JobFile)
	if len(fs) > 0 {
		return nil, nil, shop, fs
	}
	sizes := Usual()
	sizes["radius"] = ringed
	w.World = NewWorld(j, &j.Setups[0], seed, sizes)
	w.zero = Vec{-285 + w.pure("zero x"), -171 + w.pure("zero y"), -286}
	w.place, w.fixture = One(), func(p Vec) Vec { return w.now.stands(w.zero.plus(p)) }
	w.small = cutsSmall * w.rand("small").Float64()
	w.l, w.b = j.Part.Size[0]+partOff*w.pure("part x"), j.Part.Size[1]+partOff*w.pure("part y")
	w.at = map[string]jobs.Point{w.walls[0]: {X: number(v["ax"]), Y: 62}, w.walls[1] + "44": {X: 44, Y: number(v["by"])},
		w.walls[1] + "126": {X: 126, Y: number(v["by"])}}
	w.bent = map[string]float64{}
	for k := range w.at {
		w.bent[k] = padBent * w.pure("bent "+k)
	}
	return w, j, shop, nil
}

// into is the direction from a wall into the pocket.
func into(wall string) Vec {
	return map[string]Vec{"left": {X: 1}, "right": {X: -1}, "toward": {Y: 1}, "away": {Y: -1}}[wall]
}

// pad is where the face of a pad truly stands: at its place in the program, further in by what the cutter is small.
func (w *making) pad(name string) Vec {
	wall := strings.TrimRight(name, "0123456789")
	in := into(wall)
	lash := w.lash() / 2
	if w.coin("cut " + name) {
		lash = -lash
	}
	p := w.fixture(Vec{w.at[name].X, w.at[name].Y, w.job.Fixture.AsMade.Floor.Depth - 4})
	return p.plus(in.times(w.small + w.bent[name] + w.another + lash)).plus(Vec{X: w.pushed})
}

// touchPad is a touch of a pad so far under the rim: the readout.
func (w *making) touchPad(name string, under, burr float64) Vec {
	in := into(strings.TrimRight(name, "0123456789"))
	face := w.pad(name).plus(in.times(burr + padLean*w.pure("lean "+name)*(4-under)))
	r := w.reach(math.Atan2(-in.Y, -in.X)) + w.stylus
	return w.shows(face.plus(in.times(r)), in.times(-1))
}

// corner is where the zero of a part that is pushed to its pads lies from bore 1: two pads give its turn and one line, the third the other.
func (w *making) corner() Vec {
	p, q := w.pad(w.walls[1]+"44"), w.pad(w.walls[1]+"126")
	turn := p.towards(q)
	t, n := Vec{math.Cos(turn), math.Sin(turn), 0}, Vec{-math.Sin(turn), math.Cos(turn), 0}
	along, across := w.pad(w.walls[0]).dot(t), p.dot(n)
	if w.walls[0] == "right" {
		along -= w.l
	}
	if w.walls[1] == "away" {
		across -= w.b
	}
	return w.shown(t.times(along).plus(n.times(across)).plus(Vec{Z: p.Z}))
}

// shown is where a true place lies from bore 1 by the mill's own screws: a card is of the mill that made the fixture.
func (w *making) shown(p Vec) Vec { return w.now.reads(p).minus(w.now.reads(w.fixture(Vec{}))) }

func walkMaking(wrong Mistake, seed uint64) (*Later, error) {
	w, j, shop, err := newMaking(seed)
	if err != nil {
		return nil, err
	}
	plan, err := steps.NewPlan(j, "plate", nil)
	if err != nil {
		return nil, err
	}
	k := newLater("fixture", wrong, seed, shop)
	k.World = w.World
	k.gives = func(a fold.Ask, of string, x, y float64) (string, error) { return k.makes(w, a, of, x, y) }
	k.begin(plan.AtLevel(shop.Level))
	out, err := k.walk()
	if err != nil {
		return nil, err
	}
	c, apart := w.corner(), w.shown(w.fixture(Vec{X: 150}))
	out.Claims = []Claim{
		{"bores", "finisher small in radius, small is +", w.small, false},
		{"bores", "bore 1 to bore 2", math.Hypot(apart.X, apart.Y), false},
		{"edge", "edge, counter-clockwise is +", 0, false}, // cut along the axis by which it is read
		{"fit", "part zero from bore 1, X to the RIGHT is +", c.X, false},
		{"fit", "part zero from bore 1, Y AWAY is +", c.Y, false},
	}
	out.Split = map[string]string{"part zero from bore 1, X to the RIGHT is +": strings.ToUpper(w.walls[0]),
		"part zero from bore 1, Y AWAY is +": strings.ToUpper(w.walls[1])}
	out.Tale = []string{fmt.Sprintf("against %s and %s, the finisher cuts %.4f small; the part measures %.4f by %.4f",
		w.walls[0], w.walls[1], w.small, w.l, w.b)}
	return out, nil
}

// makes is what a sound person reads of the plate, but for the one mistake.
func (k *later) makes(w *making, a fold.Ask, of string, x, y float64) (string, error) {
	m := w.job.Fixture.AsMade
	w.stylus, w.another, w.pushed = 0, 0, 0
	switch {
	case k.out.Wrong.Name == "stylus":
		w.stylus = 0.01
	case k.wrong("two-finishers"):
		w.another = 0.015
	case k.out.Wrong.Name == "bumped":
		w.pushed = 0.05
	}
	angle := number(a.What.Dir) * math.Pi / 180
	axis := func(v Vec) string { return length(map[string]float64{"x": v.X, "y": v.Y, "z": v.Z}[a.What.Axis]) }
	burr := 0.0
	switch {
	case of == "bore" || of == "bore2":
		at := jobs.Point{}
		if of == "bore2" {
			at = m.Bore2.At
		}
		name, _, both := strings.Cut(a.Field, ".")
		if !both || w.lastHit.name != name || a.What.Axis != "y" {
			w.lastHit.name, w.lastHit.at = name, w.World.bore(at, m.Bore.Dia-2*w.small-2*w.stylus, angle)
		}
		return axis(w.lastHit.at), nil
	case strings.HasPrefix(of, "pad-"):
		wall := strings.TrimPrefix(of, "pad-")
		if wall == w.walls[1] {
			wall += fmt.Sprint(x)
		} else if k.wrong("burr") && a.Field != "low" {
			burr = 0.03
		}
		return axis(w.touchPad(wall, -y, burr)), nil
	case of == "program-zero":
		return axis(w.zero), nil
	case a.What.Dir == "width-y" || a.What.Dir == "width-x":
		width := w.l
		if a.What.Dir == "width-y" {
			width = w.b
		}
		width += w.Sizes["width"]*w.pure("width mic") + micSlip*w.noise.NormFloat64()
		if k.wrong("width") {
			width += 0.05
		}
		return length(math.Round(1e3*width) / 1e3), nil
	case strings.HasPrefix(a.What.Dir, "thickness-"):
		return length(25 + math.Round(1e3*0.01*w.pure(a.What.Dir))/1e3), nil
	case a.What.By == "dial" && (a.What.Dir == "bolt" || a.What.Dir == "rock"):
		return length(0), nil
	case a.What.Dir == "rest":
		return "25", nil
	case a.What.By == "thermometer":
		return fmt.Sprintf("%.1fC", w.thermometer(of)), nil
	case a.What.By == "hygrometer":
		return "45", nil
	case of == "test-thread" && a.What.Dir == "torque":
		return fmt.Sprintf("%.0f mNm", a.Window.Want), nil
	}
	return k.World.answer(&k.State, a)
}
