package outside

import (
	"fmt"
	"math"
	"regexp"
	"strings"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/fold"
)

// A fixture that comes back for another season: the card says how it was made, the world how it is. Beside the effects
// of the second side, each even half widths, mm; where no source stands, our own judgement:
const (
	madeSize  = 0.003  // of the bores' diameter against the card, which says u 0.002
	madeSpace = 0.0015 // of the second bore's place against the card, u 0.001
	ringed    = 0.0005 // of the trigger's radius, as a ring gauge leaves it; from memory: u of a ring 0.0005 to 0.001
	season    = 20.0   // % RH, of the air the plate lay in
	worn      = 0.003  // mm, the bore has become wider, at most
)

var reuseMistakes = []Mistake{
	{"reuse", "turned-round", "the fixture lies half round, its bores taken by their names", at("scale", "line"), Seen},
	{"reuse", "turned-by-place", "the fixture lies half round, its bores taken by their places", at("scale", "line", "floor-now"), Seen},
	{"reuse", "chip", "a chip of 0.05 under one corner: the bolts bend half of it out of the plate", at("floor-now"), Seen},
	{"reuse", "other-slot", "bolted through other slots, 24 mm further and 3 mrad askew", nil, Harmless},
	{"reuse", "worn", "the bore is worn 0.020 wider", nil, Lasts},
	{"reuse", "nick", "a nick lifts one end of the edge by 0.020", at("line"), Lasts},
	{"reuse", "too-soon", "it is 5 K warmer than the thermometer beside it", at("back"), Unseen},
}

const seasonText = `  season:
    kind: reuse
    fixture: lid.fixture.yaml
    finds: probe
    stations: 5
`

// returned is the fixture as it is now.
type returned struct {
	*World
	bore, bore2 float64 // diameters
	at2         jobs.Point
	wear        float64
	damp        float64
	bent        float64 // twist of the floor from corner to corner
	nick        float64 // how far the far end of the edge stands out
	beside      float64 // what the thermometer shows too little
	rh          float64
	round       bool // it lies half round
}

func newReturned(seed uint64, shop *Shop, wrong Mistake) (*returned, *jobs.Job, error) {
	for s := seed; ; s += 1_000_003 { // one with two bores
		if *shop = NewShop(s, ""); strings.Contains(shop.Files["lid.fixture.yaml"], "bore2:") {
			break
		}
	}
	shop.swap("lid.fixture.yaml", "as-made: {", "as-made: {humidity: 45, date: 2026-03-01, form: 0.002, bore-u: 0.002, spacing-u: 0.001, ")
	shop.Files[JobFile] += seasonText
	j, fs := jobs.ReadJob(jobs.Mem(shop.Files), JobFile)
	if len(fs) > 0 {
		return nil, nil, fs
	}
	sizes := Usual()
	sizes["radius"], sizes["damp"] = ringed, season
	if wrong.Name == "other-slot" {
		sizes["place"], sizes["skew"] = 24, 0.003
	}
	if wrong.Name == "too-soon" {
		sizes["warm"] = 0.5
	}
	w := &returned{World: NewWorld(j, &j.Setups[0], seed, sizes)}
	m := j.Fixture.AsMade
	w.bore = m.Bore.Dia + madeSize*w.pure("made size") - w.lash() // the same mill measured it then: its lash stands on the card
	w.bore2 = m.Bore2.Dia
	if w.bore2 == 0 {
		w.bore2 = m.Bore.Dia
	}
	w.at2 = jobs.Point{X: m.Bore2.At.X + madeSpace*w.pure("made space x"), Y: m.Bore2.At.Y + madeSpace*w.pure("made space y")}
	w.wear = worn * w.rand("worn").Float64()
	w.damp = w.even("damp")
	w.rh = 45 + w.damp + w.even("hygrometer")
	return w, j, nil
}

func walkReuse(wrong Mistake, seed uint64) (*Later, error) {
	var shop Shop
	w, j, err := newReturned(seed, &shop, wrong)
	if err != nil {
		return nil, err
	}
	plan, err := steps.NewPlan(j, "season", nil)
	if err != nil {
		return nil, err
	}
	k := newLater("reuse", wrong, seed, shop)
	k.World = w.World
	k.gives = func(a fold.Ask, of string, x, y float64) (string, error) { return k.seen(w, a, of, x, y) }
	k.begin(plan.AtLevel(shop.Level))
	if wrong.Name == "worn" {
		w.wear += 0.02
	}
	if wrong.Name == "too-soon" {
		w.heats(5)
	}
	out, err := k.walk()
	if err != nil {
		return nil, err
	}
	out.Claims = w.claims()
	out.Faulty = func(s Said) []string { return unsure(s, w.warmth()) }
	m := j.Fixture.AsMade
	out.Tale = []string{fmt.Sprintf("%s: %+.2f K, %+.1f %% damper, bore %+.4f as made, worn %+.4f", j.Fixture.Material,
		w.warm-w.madeAt(), w.damp, w.bore-m.Bore.Dia, w.wear),
		fmt.Sprintf("second bore off by %+.4f %+.4f", w.at2.X-m.Bore2.At.X, w.at2.Y-m.Bore2.At.Y)}
	return out, nil
}

// heats makes the plate warmer than the room, where the thermometer lies.
func (w *returned) heats(by float64) {
	g := grows[w.job.Fixture.Material]
	k := 1 + g.heatX*(1+w.even("alpha"))*by
	was := w.fixture
	w.fixture = func(p Vec) Vec { return Stretch(k, k, k).Of(was(p)) }
	w.warm, w.beside = w.warm+by, by
}

// seen is what a sound person reads of it, but for the one mistake.
func (k *later) seen(w *returned, a fold.Ask, of string, x, y float64) (string, error) {
	m := w.job.Fixture.AsMade
	w.lies(k.wrong("turned-round") || k.wrong("turned-by-place"))
	w.bent, w.nick = 0, 0
	if k.wrong("chip") {
		w.bent = 0.025
	}
	if k.out.Wrong.Name == "nick" {
		w.nick = 0.02
	}
	other := of == "bore2" != k.wrong("turned-by-place") // by its place the left one is taken for the first
	angle := number(a.What.Dir) * math.Pi / 180
	switch {
	case a.What.By == "probe" && (of == "bore" || of == "bore2"):
		v := w.World.bore(jobs.Point{}, w.bore+w.wear, angle)
		if other {
			v = w.World.bore(w.at2, w.bore2, angle)
		}
		return length(map[string]float64{"x": v.X, "y": v.Y}[a.What.Axis]), nil
	case a.What.By == "probe" && of == "floor":
		return length(w.touched(k.wrong("turned-by-place"), x, y, 0)), nil
	case a.What.By == "probe" && of == "rim":
		return length(w.touched(k.wrong("turned-by-place"), x, y, m.Floor.Depth)), nil
	case a.What.By == "dial" && of == "edge":
		v, err := w.dialled(a, of, x, y)
		at := w.nick
		if w.round { // the face that looks there now was never finished
			at = 0.002 * m.Edge.Length * w.pure("raw face")
		}
		return length(number(strings.TrimSuffix(v, "mm")) + w.dial(w.gain*at*(x-m.Edge.From.X)/m.Edge.Length)), err
	case of == "trial" && a.What.Dir == "rock":
		return length(w.dial(2 * w.bent)), nil
	case a.What.By == "thermometer":
		return fmt.Sprintf("%.1fC", w.thermometer(of)-w.beside), nil
	case a.What.By == "hygrometer":
		return fmt.Sprintf("%.0f", w.rh), nil
	}
	return k.World.answer(&k.State, a)
}

// lies turns the plate half round, or back, about the middle of its bores.
func (w *returned) lies(round bool) {
	if round != w.round {
		b := w.job.Fixture.AsMade.Bore2.At
		w.place = w.place.Then(TurnAbout(w.place.Of(Vec{b.X / 2, b.Y / 2, 0}), math.Pi))
		w.round = round
	}
}

// touched is the height at a place counted from the bore that is taken for the first: of the floor, of the rim that is looked
// for, or of what is there.
func (w *returned) touched(second bool, x, y, look float64) float64 {
	m := w.job.Fixture.AsMade
	p := Vec{x, y, look}
	if w.round {
		p = Vec{-x, -y, look}
		if second {
			p = p.plus(Vec{X: m.Bore2.At.X, Y: m.Bore2.At.Y})
		}
		lo, hi := w.pocket()
		switch {
		case p.X > lo.X && p.X < hi.X && p.Y > lo.Y && p.Y < hi.Y:
			p.Z = 0
		case p.X > lo.X-20 && p.X < hi.X+20 && p.Y > lo.Y-20 && p.Y < hi.Y+20:
			p.Z = m.Floor.Depth
		default:
			p.Z = -m.Floor.Under // the table
		}
	}
	lo, hi := w.pocket()
	u, v := 2*(p.X-lo.X)/(hi.X-lo.X)-1, 2*(p.Y-lo.Y)/(hi.Y-lo.Y)-1
	p.Z += w.bent * u * v
	return w.down(w.place.Of(w.fixture(p.plus(Vec{w.aim(), w.aim(), 0}))), w.probe)
}

func (w *returned) pocket() (lo, hi Vec) {
	o := w.job.Fixture.Pocket.Outline
	lo, hi = Vec{o[0].X, o[0].Y, 0}, Vec{o[0].X, o[0].Y, 0}
	for _, p := range o {
		lo, hi = Vec{min(lo.X, p.X), min(lo.Y, p.Y), 0}, Vec{max(hi.X, p.X), max(hi.Y, p.Y), 0}
	}
	return lo, hi
}

var (
	warmerBy = regexp.MustCompile(`a plate ([0-9.]+) °C to ([0-9.]+) °C (warmer|colder) than its thermometer`)
	humid    = regexp.MustCompile(`[0-9.]+ % (less|more) humidity|[0-9.]+ % in the plate`)
)

// unsure are what is wrong with what is said of the rest: damp and heat lengthen a plate alike, so where something is left over both
// are named, or how warm it would have to be, and a humidity is not.
//
// How warm it would have to be is between the two numbers, or as far beyond them as a guard of 95 % each and a thermometer leave.
func unsure(s Said, warmth float64) (out []string) {
	for _, st := range s.Sheet.Steps {
		if st.ID != "scale" {
			continue
		}
		said := strings.Join(st.Notes, " ")
		if m := humid.FindString(said); m != "" {
			out = append(out, "no reading carries "+m)
		}
		if m := warmerBy.FindStringSubmatch(said); m != nil {
			lo, hi := number(m[1]), number(m[2])
			if m[3] == "colder" {
				lo, hi = -hi, -lo
			}
			if slack := 1.5 + 0.3*math.Abs(warmth); warmth < lo-slack || warmth > hi+slack {
				out = append(out, fmt.Sprintf("%s, and it is %+.1f", m[0], warmth))
			}
		}
		for _, f := range st.Found {
			if f.What != "the rest, beyond heat as read" || f.Value == nil || f.Guard == nil {
				continue
			}
			both := strings.Contains(said, "damp, or a plate") && strings.Contains(said, "cannot tell which")
			if math.Abs(*f.Value) > *f.Guard && !both && !strings.Contains(said, "Heat alone would take") {
				out = append(out, fmt.Sprintf("%+.4f is left over: damp and heat are not both named", *f.Value))
			}
		}
	}
	return out
}

// warmth is by how much warmer than its thermometer the plate would have to be to be as long as it is.
func (w *returned) warmth() float64 {
	g := grows[w.job.Fixture.Material]
	return w.beside + g.damp*w.damp/(g.heatX*(1+w.even("alpha"))-steelAlpha)
}

// claims are what is true of what the steps state. What a plate grew beyond heat is counted over 100 mm.
func (w *returned) claims() []Claim {
	g := grows[w.job.Fixture.Material]
	nick := w.nick / w.job.Fixture.AsMade.Edge.Length
	if s := w.job.Fixture.AsMade.Edge.Side; s == "left" || s == "right" {
		nick = -nick
	}
	return []Claim{
		{"scale", "the rest, beyond heat as read", 100 * g.damp * w.damp, false},
		{"scale", "bore 1 beyond its size by now, wider is +", w.wear, false},
		{"line", "edge against the bores, counter-clockwise is +", nick, false},
	}
}
