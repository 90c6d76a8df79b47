package bench

import (
	"fmt"
	"math"
	"math/rand/v2"

	"fliptrue/jobs"
	"fliptrue/steps/fold"
)

// World is one simulated setup. It is not safe for use by several goroutines.
type World struct {
	Seed    uint64
	Effects Effects

	plan  *fold.Plan
	setup *jobs.Setup
	mach  *jobs.Machine
	card  *jobs.Fixture
	size  xy // length and width of the part

	lot lot
	day lot        // of the part and its day: another for the next part
	rng *rand.Rand // noise of readings and acts, in their order

	nominal     xy   // bore 1 where the fixture is meant to lie
	fixture     pose // card to table, growth aside
	middle      xy   // middle of the travel: where squareness is no matter
	growth      float64
	warm        float64 // temperature, °C
	tableZ      float64
	floor       level // pocket floor over the card's plane, physical Z
	bore2       xy    // second bore, card
	boreD       [2]float64
	edgePhase   float64
	axisSlope   float64
	off         xy      // of the walls from where the card has them: made so, and not known to it
	askew       float64 // of the walls, made so
	rim         float64 // over the floor, 0: as the card has it
	edgeZero    float64 // true slope of the edge
	cut         *making // the fixture as it was cut in this record, nil: as the card has it
	positioning xy
	lean        xy
	square      float64

	ball     tip
	finder   tip
	paper    tip     // the first tool, through paper
	probe    float64 // length of the probe to its trigger
	probeOut bool

	dial dial

	part part
	raw  *raw  // stock in a vise, nil without one
	gone *gone // once it let go in the cut
	face *face // vacuum or tape, nil without
	bed  bed   // what the part lies on where no walls hold it, else nil
	hand hands

	mistakes []*happening
	reads    int // readings so far
	person   *rand.Rand
	moves    int // acts so far: what was touched before one is read anew after it
	touched  touch
}

// part is where the part is and how it came out of side 1.
type part struct {
	shift   xy      // beyond its place against the walls, along the fixture
	turn    float64 // beyond the fixture's
	rise    float64 // lift off the floor
	chip    float64 // height of a chip under a corner
	corner  int     // that corner: 0 near left, counter-clockwise
	bow     float64 // under straps
	feature xy      // of the features against the datum edges
	strain  xy      // by moisture and heat
	free    bool    // not touching its walls
	hot     float64 // warmer than the fixture, K
	pulled  float64 // of the tools, out of their collets
	runs    float64 // out of true: a chip in the collet
	deep    float64 // of the holes, beyond the program
	tilt    level   // top against seat
	lean    level   // of the whole part in its pocket
	left    float64 // thickness that another setup left; 0: as the job says
	turned  bool    // end for end
	wrong   bool    // turned over about the other axis
}

// hands is what the person has done.
type hands struct {
	mounted, drilled, mended bool
	seated                   bool // the part lies in its pocket
	straps, screws, soft     int
	moved                    map[string]float64 // movement seen on the dial, by What.Dir and axis
	posts                    map[string]float64 // zero of each dial on a post, by what it is on
	keyed                    map[string]float64 // the offset page
	word                     string             // Z0 word in force
	backwards                float64            // the next tap goes the other way, so many times
	slip                     float64            // in the offset keyed in
	snug                     float64            // how far the fixture creeps with a loose bolt
	off                      xy                 // where an unpushed part stands from its walls
	side                     xy                 // that a gauge pin last leaned to
	creep, crept             xy                 // of the part while it is screwed: planned, and so far
	spindle                  xy                 // where the dial is swept from
	block                    float64            // what lies under the tool when it touches a height
	table                    map[string]float64 // tool lengths as the control has them
	height                   float64            // a tool is jogged to, program coordinates
	skin                     float64            // how far outside the outline the steps were cut
	nod, slipped             float64            // of the head, and of the arm in it
	gives                    float64            // the third stop, each second time it is touched
	pressed                  int                // so often
	raise, skimmed           float64            // common Z shift now, and when the part was skimmed
	pass                     float64            // program Z of the pass that skimmed it
}

// touch is one trigger, whose coordinates belong together.
type touch struct {
	key   string
	moves int
	at    xy
	x, y  bool // already read
}

// NewWorld is a world of the plan's job, drawn from the seed.
func NewWorld(p *fold.Plan, seed uint64, e Effects) *World {
	w := &World{Seed: seed, Effects: e, plan: p, setup: p.Setup, mach: &p.Job.Machine, card: cardOf(p),
		size: xy{p.Job.Part.Size[0], p.Job.Part.Size[1]}, lot: lot(seed), day: lot(seed), rng: lot(seed).stream("readings")}
	w.placeFixture()
	w.takeInstruments()
	w.cutSideOne()
	w.raw = w.newRaw()
	if w.setup.HoldDown == "V" {
		w.face = newFace(w)
	}
	if make := beds[w.setup.Kind]; make != nil {
		w.bed = make(w)
	} else if d := datumOf(w.card); d != nil {
		w.bed = d.bed(w)
	}
	w.hand.moved, w.hand.keyed, w.hand.table = map[string]float64{}, map[string]float64{}, map[string]float64{}
	w.hand.word = w.setup.Z0
	w.seat("seat")
	return w
}

// travel is how far an axis goes.
func (w *World) travel(axis string) [2]float64 {
	if t, ok := w.mach.Travel[axis]; ok {
		return t
	}
	return map[string][2]float64{"x": {-400, 0}, "y": {-250, 0}, "z": {-300, 0}}[axis]
}

// placeFixture lays the fixture in the middle of the travel, its lowest reach above the table's, as it was made.
func (w *World) placeFixture() {
	e, made := &w.Effects, &w.card.AsMade
	tx, ty := w.travel("x"), w.travel("y")
	w.middle = xy{(tx[0] + tx[1]) / 2, (ty[0] + ty[1]) / 2}
	w.square = w.lot.within("squareness", e.Squareness)
	if ed := made.Edge; ed != nil {
		w.edgeZero = float64(ed.Zero)
	}
	lo, hi := w.extent()
	w.nominal = xy{math.Round(w.middle.x - (lo.x+hi.x)/2), math.Round(w.middle.y - (lo.y+hi.y)/2)}
	w.fixture = w.setDown("set down")
	w.tableZ = math.Round(w.travel("z")[0]) + 2
	w.floor = level{w.tableZ + made.Floor.Under, w.lot.within("tilt x", e.FloorTilt), w.lot.within("tilt y", e.FloorTilt)}

	w.setWarmth(e.Warmer + w.lot.within("growth", e.Growth))
	w.boreD[0] = made.Bore.Dia + w.lot.within("bore", e.BoreSize)
	if b := made.Bore2; b != nil {
		w.bore2 = xy{b.At.X, b.At.Y}.add(w.lot.pair("bore2", e.Bore2Place))
		w.boreD[1] = b.Dia
		if b.Dia == 0 {
			w.boreD[1] = made.Bore.Dia
		}
		w.boreD[1] += w.lot.within("bore2 size", e.BoreSize)
	}
	w.edgePhase = w.lot.within("edge", math.Pi)
	if ed := made.Edge; ed != nil && ed.Length > 0 {
		w.axisSlope = w.lot.within("axis", e.AxisSlope) / ed.Length
	}
	w.positioning = w.lot.pair("positioning", e.Positioning)
	w.lean = w.lot.pair("lean", e.ZLean)
}

// takeInstruments are what finds and touches: probe, edge finder, paper, dial.
func (w *World) takeInstruments() {
	e := &w.Effects
	if pr := w.mach.Probe; pr != nil {
		r := w.lot.within("radius", e.Radius)
		or := func(own float64) float64 {
			if own == 0 {
				own = pr.Radius
			}
			return own + r
		}
		w.ball = tip{rx: or(pr.RadiusX), ry: or(pr.RadiusY), noise: e.Noise, lobes: e.Lobes, lobeAt: w.lot.within("lobe", math.Pi),
			ecc: xy{-pr.Eccentricity[0], -pr.Eccentricity[1]}.add(w.lot.pair("probe bias", e.ProbeBias))}
	}
	if fi := w.mach.Finder; fi != nil {
		r := fi.Dia/2 + w.lot.within("finder", e.Finder)
		w.finder = tip{rx: r, ry: r}
		if e.Noise > 0 {
			w.finder.noise = fi.Repeat
		}
	}
	if t, ok := w.plan.Job.Tools[toolNumber(w.firstTool())]; ok {
		w.paper = tip{rx: t.Dia/2 + paper + w.lot.within("paper", e.Finder), noise: 10 * e.Noise}
		w.paper.ry = w.paper.rx
	}
	w.probe = 98.234
	w.dial.sense = 1
	if e.DialSense > 0 && w.lot.within("sense", 1) < 0 {
		w.dial.sense = -1
	}
	w.dial.sense *= math.Cos(math.Abs(w.lot.within("lever", e.DialAngle)))
}

// cutSideOne is the part as side 1 left it, and what air and heat have made of it since.
func (w *World) cutSideOne() {
	e := &w.Effects
	w.part.feature = w.day.pair("pickup", e.Pickup).add(w.day.pair("side one", e.SideOne)).add(w.day.pair("cutter", e.Cutter))
	w.part.strain = w.day.pair("moisture", e.Moisture)
	if e.Damp > 0 { // then it is the air that has moved it: alike along both axes
		w.part.strain = xy{1, 1}.times(e.Moisture * w.dampness() / e.Damp)
	}
	w.part.strain = w.along(w.part.strain, moistAlong)
	if a := alphaOf(w.plan.Job.Part.Material); a > 0 {
		grown := (a - scaleAlpha) * w.day.within("part heat", e.PartHeat)
		w.part.strain = w.part.strain.add(w.along(xy{grown, grown}, (woodAlong-scaleAlpha)/(a-scaleAlpha)))
	}
	w.part.tilt = level{tx: w.day.within("top x", e.Parallel) / max(w.size.x, 1), ty: w.day.within("top y", e.Parallel) / max(w.size.y, 1)}
}

// NextPart makes this the n-th part after the first: cut from another piece on another day, laid in otherwise; machine, fixture and
// instruments are those that were drawn.
func (w *World) NextPart(n int) {
	if n == 0 {
		return
	}
	w.day = lot(uint64(w.lot) + uint64(n)*0x9E3779B97F4A7C15)
	w.cutSideOne()
	w.raw = w.newRaw()
	w.seat("seat")
}

// extent is the box about everything on the fixture's card.
func (w *World) extent() (lo, hi xy) {
	see := func(x, y float64) {
		lo, hi = xy{min(lo.x, x), min(lo.y, y)}, xy{max(hi.x, x), max(hi.y, y)}
	}
	for _, p := range w.card.Pocket.Outline {
		see(p.X, p.Y)
	}
	if b := w.card.AsMade.Bore2; b != nil {
		see(b.At.X, b.At.Y)
	}
	if e := w.card.AsMade.Edge; e != nil {
		see(e.From.X, e.From.Y)
		end := w.edgeEnd(e.Length)
		see(end.x, end.y)
	}
	return lo, hi
}

// setDown is a fresh place of the fixture on the table.
func (w *World) setDown(draw string) pose {
	return pose{w.nominal.add(w.lot.pair(draw, w.Effects.SetDown)), w.lot.within(draw+" turn", w.Effects.Skew)}
}

// madeAt is the temperature at which the fixture was made, by its card, °C.
func (w *World) madeAt() float64 {
	if t := w.card.AsMade.Temperature; t != nil {
		return float64(*t)
	}
	return 20
}

// setWarmth makes fixture and air warmer by dT than the day the fixture was made.
func (w *World) setWarmth(dT float64) { w.grown(w.madeAt(), w.madeAt()+dT) }

// grown is a fixture that was cut at one temperature and stands at another.
func (w *World) grown(cut, now float64) {
	alpha := w.card.Alpha
	if alpha == 0 {
		alpha = alphaOf(w.card.Material)
	}
	w.warm = now
	share := 1 + w.lot.normal("growth share", w.Effects.GrowthShare)
	w.growth = (1 + float64((alpha-scaleAlpha)*(now-cut)*share)) * w.swollen()
}

func (w *World) gauss(s float64) float64 {
	if s == 0 {
		return 0
	}
	return s * w.rng.NormFloat64()
}

func (w *World) uniform(half float64) float64 {
	if half == 0 {
		return 0
	}
	return half * (2*w.rng.Float64() - 1)
}

func (w *World) String() string {
	return fmt.Sprintf("seed %d: fixture %.4f %.4f turned %.4f mrad", w.Seed, w.fixture.at.x, w.fixture.at.y, 1e3*w.fixture.turn)
}
