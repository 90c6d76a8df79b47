package outside

import (
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"strconv"
	"strings"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/fold"
)

// The finished part on the bench. Its first side is where it was drawn; a matrix takes points of the second side to where
// they were cut. Sizes of what errs, mm, each an even half width where it does not say otherwise;
// where no source stands, our own judgement:
const (
	faceForm  = 0.001  // of a milled face from place to place, one standard deviation; from memory
	dialNoise = 0.0007 // of a lever dial on a stand, one standard deviation; from memory: half of a repeat of 0.001 to 0.002
	lever     = 0.04   // of the dial's scale, by the angle of its lever
	micSlip   = 0.001  // of a micrometer with a ball anvil, one standard deviation; from memory
	micZero   = 0.002  // of its zero, the same for all it measures; DIN 863-1 allows 0.004 up to 25 mm; from memory
	slide     = 0.01   // of a calliper, one standard deviation; DIN 862 allows 0.02 to 0.03; from memory
	radiusOff = 0.01   // second side's cutter against the radius entered
	insideOff = 0.005  // first side's cutter in the cavity
	squareOff = 1e-4   // rad; machine out of square, doubled by the flip
	turnOff   = 1.5e-4 // rad; second side against the first
	shiftOff  = 0.014  // mm, of the fixture: u 0.008, which the trade takes for a first use
	chance    = 0.010  // mm, of this part: u 0.006, as it takes for seat and shift
	thickOff  = 0.012  // mm, of the second side's height
	leanOff   = 1e-4   // rad, of its top
	apart     = 4.0    // mm between the two places that a stylus touches across the parting line
)

var inspectMistakes = []Mistake{
	{"inspect", "pin", "the pin in the hole is 0.10 thinner than what is typed for it", at("holes"), Seen},
	{"inspect", "feeler", "the feeler of 0.100 is 0.120", at("steps"), Seen},
	{"inspect", "micrometer", "the micrometer at the walls shows 0.020 too much", at("walls"), Unseen},
	{"inspect", "chip", "the part lies on a chip of 0.20 under its far edge", at("steps"), Seen},
	{"inspect", "half-round", "the part lies turned half round, its arrow away, and is said not to", at("steps", "walls", "floor-left", "holes"), Unseen},
	{"inspect", "warm", "measured 4 K warm, the thermometer honest", at("bench"), Seen},
	{"inspect", "misread", "one step is read 0.030 wrong", at("steps"), Seen},
	{"inspect", "card", "the fixture's card is 0.020 wrong along X, the allowance 0.10", nil, Harmless},
	{"inspect", "edge-zero", "the zero of the fixture's edge turns the worst feature by 0.023, the allowance 0.10", nil, Harmless},
	{"inspect", "card-far", "the fixture's card is 0.080 wrong along X: a cause is to be looked for, and the card left", nil, Harmless},
	{"inspect", "edge-zero-far", "the zero of the fixture's edge turns the worst feature by 0.080: the same", nil, Harmless},
}

// benchText is the setup behind the others of a job.
const benchText = `  bench:
    kind: inspect
    inspect: {at: [$ay, $ax], wall: [$wall, 0.15], floor: [$floor, 0.15]$holes}
`

// piece is a finished part: out takes points of the second side, as drawn, to where they are; the first side's are as drawn.
type piece struct {
	l, b, wall, floor, pin, grad float64
	hole                         string
	mid                          Vec
	out                          Mat
	lap                          float64 // second side larger on each face, by its cutter
	thin                         float64 // cavity larger on each face
	shift                        Vec     // the fixture's share of it
	turn, square, dz             float64
	lean                         Vec
	gain, zero, feelerIs         float64
	warm, shop                   float64
	noise                        *rand.Rand
}

func (p *piece) even(half float64) float64 { return half * (2*p.noise.Float64() - 1) }

// newPiece draws a part of the shop's job, and adds the setup that inspects it.
func newPiece(seed uint64, shop *Shop, wrong Mistake) (*piece, *jobs.Job, error) {
	r := rand.New(rand.NewPCG(seed, 0x1a59))
	p := &piece{noise: r, grad: []float64{0.001, 0.002, 0.002, 0.01}[r.IntN(4)]}
	shop.swap("bench.machine.yaml", "graduation: 0.002", "graduation: "+strconv.FormatFloat(p.grad, 'f', -1, 64))
	p.wall, p.floor = 0.2*float64(10+r.IntN(10)), 0.2*float64(10+r.IntN(10))
	j, fs := jobs.ReadJob(jobs.Mem(shop.Files), JobFile)
	if len(fs) > 0 {
		return nil, nil, fs
	}
	p.l, p.b = j.Part.Size[0], j.Part.Size[1]
	v := drawing{}
	if r.IntN(3) > 0 || wrong.Name == "pin" { // in the others no hole is to be measured
		for _, f := range j.Part.Features {
			if f.At.X > 6 && f.At.X < p.l-6 && f.At.Y > 6 && f.At.Y < p.b-6 {
				p.hole = f.Name
				v["holes"] = ", holes: [" + f.Name + "]"
			}
		}
	}
	for name, x := range map[string]float64{"wall": p.wall, "floor": p.floor, "ax": math.Round(0.36 * p.l), "ay": math.Round(0.33 * p.b)} {
		v.set(name, math.Round(1e6*x)/1e6)
	}
	shop.Files[JobFile] += v.fill(benchText)
	if j, fs = jobs.ReadJob(jobs.Mem(shop.Files), JobFile); len(fs) > 0 {
		return nil, nil, fs
	}
	p.mid = Vec{p.l / 2, p.b / 2, 0}
	p.shift = Vec{p.even(shiftOff), p.even(shiftOff), 0}
	p.turn, p.square, p.dz = p.even(turnOff), 2*p.even(squareOff), p.even(thickOff)
	p.lean = Vec{p.even(leanOff), p.even(leanOff), 0}
	p.lap, p.thin = p.even(radiusOff), p.even(insideOff)
	p.gain, p.zero, p.feelerIs = 1+p.even(lever), p.even(micZero), 0.1
	p.pin = float64(3 + r.IntN(6))
	p.shop = 20 + p.even(4)
	p.warm = p.shop + p.even(0.5)
	p.set(p.shift.plus(Vec{p.even(chance), p.even(chance), 0}))
	return p, j, nil
}

// set is the second side as it was cut: out of square and turned about the part's middle, its top leaning, and shifted.
func (p *piece) set(d Vec) {
	lean := Mat{{1, 0, 0, 0}, {0, 1, 0, 0}, {p.lean.X, p.lean.Y, 1, 0}, {0, 0, 0, 1}}
	about := Shear(p.square, 0, 0).Then(Turn('z', p.turn)).Then(lean)
	p.out = Move(p.mid.times(-1)).Then(about).Then(Move(p.mid)).Then(Move(d.plus(Vec{Z: p.dz})))
}

// at is where a point of the second side is, less where it was drawn.
func (p *piece) at(x, y float64) Vec { return p.out.Of(Vec{x, y, 0}).minus(Vec{x, y, 0}) }

// side is a face by its name: a place on it, and its outward normal.
func (p *piece) side(name string, along float64) (Vec, Vec) {
	switch strings.TrimPrefix(name, "part-") {
	case "right":
		return Vec{p.l, along, 0}, Vec{X: 1}
	case "left":
		return Vec{0, along, 0}, Vec{X: -1}
	case "rear":
		return Vec{along, p.b, 0}, Vec{Y: 1}
	}
	return Vec{along, 0, 0}, Vec{Y: -1}
}

// stand is how far the second side's face stands out beyond the first side's as drawn.
func (p *piece) stand(name string, along float64) float64 {
	at, n := p.side(name, along)
	return p.at(at.X, at.Y).dot(n) + p.lap
}

// lever is how far the worst feature lies from the part's middle.
func (p *piece) lever(j *jobs.Job) (far float64) {
	for _, f := range j.Part.Features {
		far = max(far, math.Hypot(f.At.X-p.mid.X, f.At.Y-p.mid.Y))
	}
	return far
}

func (p *piece) normal(s float64) float64 { return s * p.noise.NormFloat64() }

func (p *piece) toDial(x float64) float64 { return math.Round(x/p.grad) * p.grad }

func walkInspect(wrong Mistake, seed uint64) (*Later, error) {
	shop := NewShop(seed, "")
	if wrong.Name == "card" || wrong.Name == "edge-zero" {
		shop.Files[JobFile] = allows.ReplaceAllString(shop.Files[JobFile], "allowance: 0.1")
	}
	p, j, err := newPiece(seed, &shop, wrong)
	if err != nil {
		return nil, err
	}
	plan, err := steps.NewPlan(j, "bench", nil)
	if err != nil {
		return nil, err
	}
	d := p.at(p.mid.X, p.mid.Y)
	d.Z = 0
	switch wrong.Name {
	case "card": // nothing else is, or what is right to write would be as much chance as card
		p.shift.X = 0.02
		p.set(Vec{0.02, d.Y, 0})
	case "edge-zero":
		p.turn = 0.023 / p.lever(j)
		p.set(d)
	case "card-far":
		p.shift.X += 0.08
		p.set(d.plus(Vec{X: 0.08}))
	case "edge-zero-far":
		p.turn += 0.08 / p.lever(j)
		p.set(d)
	}
	k := newLater("inspect", wrong, seed, shop)
	k.gives = func(a fold.Ask, of string, x, y float64) (string, error) { return k.measured(p, a, of, x, y) }
	k.begin(plan.AtLevel(shop.Level))
	out, err := k.walk()
	if err != nil {
		return nil, err
	}
	d = p.at(p.mid.X, p.mid.Y)
	out.Claims, out.Advice = p.claims(j), p.advice()
	switch wrong.Name {
	case "card", "edge-zero":
		out.Faulty = func(Said) []string { return k.revises(p) }
	case "card-far", "edge-zero-far":
		out.Faulty = k.leaves
	}
	out.Tale = []string{
		fmt.Sprintf("second side off by %+.4f %+.4f at the middle, turned %+.3g, out of square %+.3g", d.X, d.Y, p.turn, p.square),
		fmt.Sprintf("larger on each face by %+.4f, cavity by %+.4f; top off by %+.4f, leaning %+.3g %+.3g",
			p.lap, p.thin, p.dz, p.lean.X, p.lean.Y),
		fmt.Sprintf("micrometer's zero %+.4f, dial's scale %.3f, graduation %g", p.zero, p.gain, p.grad)}
	return out, nil
}

// measured is what a sound person reads on the bench, but for the one mistake.
func (k *later) measured(p *piece, a fold.Ask, of string, x, y float64) (string, error) {
	mm := func(x float64) string { return length(math.Round(1e3*x) / 1e3) }
	mic := func(x float64) string { return mm(x + p.zero + p.normal(micSlip)) }
	switch {
	case a.What.Dir == "screwed":
		return "no, it is off", nil
	case a.What.By == "thermometer" && of == "part":
		if k.wrong("warm") {
			return fmt.Sprintf("%.1fC", p.shop+4), nil
		}
		return fmt.Sprintf("%.1fC", p.warm), nil
	case a.What.By == "thermometer":
		return fmt.Sprintf("%.1fC", p.shop), nil
	case a.What.By == "dial" && of == "feeler":
		f := p.feelerIs
		if k.wrong("feeler") {
			f = 0.12
		}
		return length(p.toDial(p.gain*f + p.normal(dialNoise))), nil
	case a.What.By == "dial" && a.What.Dir == "step":
		return length(p.toDial(k.stepRead(p, of, x))), nil
	case a.What.Dir == "wall":
		of, x = k.faces(p, of, x)
		t := p.wall + p.stand(of, x) - p.thin + p.normal(faceForm)*math.Sqrt2
		if k.wrong("micrometer") {
			t += 0.02
		}
		return mic(t), nil
	case a.What.Dir == "floor":
		if k.wrong("half-round") {
			x, y = p.l-x, p.b-y
		}
		return mic(p.floor + p.at(x, y).Z + p.normal(faceForm)*math.Sqrt2), nil
	case of == "pin":
		if k.wrong("pin") {
			return length(p.pin + 0.1), nil
		}
		return length(p.pin), nil
	case of == "hole":
		return k.overPin(p, a, x, y), nil
	case a.What.By == "micrometer" && strings.HasPrefix(a.What.Dir, "width-"):
		if strings.HasSuffix(a.What.Dir, "x") {
			return mic(p.l + 2*p.lap), nil
		}
		return mic(p.b + 2*p.lap), nil
	}
	return expected(a)
}

// faces is the place of a face that looks there now: of a part that lies half round the other face, its ends exchanged.
func (k *later) faces(p *piece, face string, along float64) (string, float64) {
	if !k.wrong("half-round") {
		return face, along
	}
	other := map[string]string{"part-right": "part-left", "part-left": "part-right", "part-rear": "part-front", "part-front": "part-rear"}
	if face == "part-right" || face == "part-left" {
		return other[face], p.b - along
	}
	return other[face], p.l - along
}

// stepRead is the step across the parting line at a place of a face, by the dial's own scale.
func (k *later) stepRead(p *piece, face string, along float64) float64 {
	face, along = k.faces(p, face, along)
	s := p.stand(face, along)
	if k.wrong("chip") { // the part leans: what is higher stands further toward the edge that is not lifted
		switch face {
		case "part-rear":
			s -= 0.2 / p.b * apart
		case "part-front":
			s += 0.2 / p.b * apart
		}
	}
	if k.wrong("misread") && face == "part-rear" && along > p.l/2 {
		s += 0.03
	}
	return p.gain * (s + p.normal(faceForm)*math.Sqrt2 + p.normal(dialNoise)*math.Sqrt2)
}

// overPin is a calliper from a face of the first side to the far side of the pin.
func (k *later) overPin(p *piece, a fold.Ask, x, y float64) string {
	d := p.at(x, y)
	at := x + d.X
	if a.What.Dir == "y" {
		at = y + d.Y
	}
	if k.wrong("half-round") {
		at = p.l - at
		if a.What.Dir == "y" {
			at = p.b - y - d.Y
		}
	}
	return length(math.Round(100*(at+p.pin/2+p.normal(slide))) / 100)
}

// claims are what is true of what the steps state.
func (p *piece) claims(j *jobs.Job) []Claim {
	d := p.at(p.mid.X, p.mid.Y)
	out := []Claim{
		{"steps", "side 2 along X, to the RIGHT is +", d.X, false},
		{"steps", "side 2 along Y, AWAY is +", d.Y, false},
		{"steps", "side 2 turned, counter-clockwise is +", p.turn, false},
		{"steps", "side 2 larger on each face", p.lap, false},
		{"steps", "out of square, X per Y", p.square, false},
		{"walls", "by the walls along X", d.X, false},
		{"walls", "by the walls along Y", d.Y, false},
		{"walls", "walls thicker than drawn", p.lap - p.thin, false},
		{"floor-left", "floor too thick", d.Z, false},
		{"floor-left", "thicker to the RIGHT", p.lean.X, false},
		{"floor-left", "thicker AWAY", p.lean.Y, false},
	}
	worst := 0.0
	for _, f := range j.Part.Features {
		m := p.at(f.At.X, f.At.Y)
		worst = max(worst, math.Abs(m.X), math.Abs(m.Y))
		if f.Name == p.hole {
			out = append(out, Claim{"holes", p.hole + " along X", m.X, false}, Claim{"holes", p.hole + " along Y", m.Y, false})
		}
	}
	out = append(out, Claim{"verdict", "mismatch at the worst feature", worst, true}, Claim{"verdict", "fixture's share, Y", p.shift.Y, false})
	if math.Abs(p.shift.X) <= shiftOff { // a card that was never right is no fixture as the rule takes it
		out = append(out, Claim{"verdict", "fixture's share, X", p.shift.X, false})
	}
	return out
}

var (
	allows   = regexp.MustCompile(`(?m)^allowance: .*$`)
	radiusBy = regexp.MustCompile(`enter its radius (?P<s>larger|smaller) by (?P<n>[0-9.]+)`)
	heightBy = regexp.MustCompile(`Z (?P<s>UP|DOWN) by (?P<n>[0-9.]+)`)
)

// advice is what would mend the next part: the radius entered is too large where the second side is too large, and the
// height too high where the floor is too thick.
func (p *piece) advice() []Advice {
	return []Advice{
		{"steps", "radius to enter", radiusBy, "larger", -p.lap, 0.005},
		{"floor-left", "height of the next part", heightBy, "UP", -p.at(p.mid.X, p.mid.Y).Z, 0.006},
	}
}

// leaves is what is wrong where the card is so far off that no fixture is: that is said, and the card stays.
func (k *later) leaves(s Said) []string {
	key, of := "as-made.part-zero.0", "X: "
	if k.out.Wrong.Name == "edge-zero-far" {
		key, of = "as-made.edge.zero", "turn: "
	}
	w, ok, err := fold.Revision(k.log.State(k.plan), "lid.1", func() (jobs.Fixture, error) {
		f, fs := jobs.ReadFixture(jobs.Mem(k.Shop.Files), "lid.fixture.yaml")
		if len(fs) > 0 {
			return f, fs
		}
		return f, nil
	})
	if err != nil || !ok {
		return []string{fmt.Sprintf("no card is written: %v", err)}
	}
	if now, written := w.Set[key]; written {
		return []string{fmt.Sprintf("%s becomes %s, and a cause was to be looked for", key, now)}
	}
	for _, st := range s.Sheet.Steps {
		for _, n := range st.Notes {
			if strings.HasPrefix(n, of) && strings.Contains(n, "look for the cause first") {
				return nil
			}
		}
	}
	return []string{"no cause is to be looked for"}
}

// revises are what is wrong with what the setup writes to the fixture's card: the part's zero has to go back by the shift, the
// edge's zero on by the turn. One part says no more than some six tenths of either.
func (k *later) revises(p *piece) []string {
	st := k.log.State(k.plan)
	was, fs := jobs.ReadFixture(jobs.Mem(k.Shop.Files), "lid.fixture.yaml")
	if len(fs) > 0 {
		return []string{fs.Error()}
	}
	w, ok, err := fold.Revision(st, "lid.1", func() (jobs.Fixture, error) { return was, nil })
	if err != nil || !ok {
		return []string{fmt.Sprintf("no card is written: %v", err)}
	}
	key, old, right := "as-made.part-zero.0", was.AsMade.PartZero.X, -p.shift.X
	if k.out.Wrong.Name == "edge-zero" {
		key, old, right = "as-made.edge.zero", float64(was.AsMade.Edge.Zero), p.turn
	}
	told, per, _ := strings.Cut(w.Set[key], "/")
	now, err := strconv.ParseFloat(strings.TrimSuffix(told, "mm"), 64)
	if err != nil {
		return []string{fmt.Sprintf("%s is %q", key, w.Set[key])}
	}
	if d, err := strconv.ParseFloat(per, 64); err == nil {
		now /= d
	}
	if share := (now - old) / right; share < 0.45 || share > 1.1 {
		return []string{fmt.Sprintf("%s goes by %+.5g where %+.5g is right", key, now-old, right)}
	}
	return nil
}
