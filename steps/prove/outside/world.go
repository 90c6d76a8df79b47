package outside

import (
	"fmt"
	"hash/fnv"
	"maps"
	"math"
	"math/rand/v2"
	"slices"

	"fliptrue/jobs"
)

// steelAlpha is the growth of the mill's screws, 1/K (as ISO 1 laboratories take for steel; common practice).
const steelAlpha = 11.5e-6

// grows is how a material grows: by heat along X and Y, 1/K; by a per cent of its own moisture along
// X (the grain) and Y; by a per cent of relative humidity of the air. Middle values of tables of
// wood and of sheet makers; from memory.
var grows = map[string]struct{ heatX, heatY, moistX, moistY, damp float64 }{
	"acrylic-cast":      {70e-6, 70e-6, 0, 0, 4e-5},
	"aluminium-6061-t6": {23.6e-6, 23.6e-6, 0, 0, 0},
	"black-walnut":      {3.8e-6, 33e-6, 5e-5, 0.0023, 0},
	"walnut-stabilised": {5e-6, 35e-6, 1e-5, 0.00055, 0},
	"bog-oak":           {4e-6, 40e-6, 5e-5, 0.0026, 0},
	"phenolic-paper-xx": {20e-6, 20e-6, 0, 0, 2e-5},
}

// World is one shop on one day, as it truly is.
type World struct {
	Seed  uint64
	Sizes Sizes
	job   *jobs.Job
	setup *jobs.Setup

	now, before mill // today; when fixture and side 1 were cut
	fixture     func(Vec) Vec
	place       Mat // fixture's points to the table
	solid       func(Vec) Vec
	seat        Mat // the part's points to the fixture's
	swap        Mat // and what moved it since, about the fixture
	thick       float64
	warm        float64 // of the fixture, degC
	partWarm    float64
	ball        Vec // tip off the spindle's axis
	probe       float64
	tools       map[int]float64 // true lengths
	drift       Vec             // at the end of the walk
	spent       float64         // share of the walk that is over
	gain        float64         // of the dial, its zero
	low         float64         // where along the edge it was zeroed
	zero        float64
	lastHit     struct {
		name string
		at   Vec
	}
	gaps   map[string]float64 // of the seated part: corners, walls
	zeroed Mat                // where the part was when the dials on posts were set to zero
	keyed  Vec                // what the control holds
	jogged float64            // W Z that a tip was last jogged to
	raise  float64            // left in for the first skim
	pass   float64            // program Z of the pass that skimmed
	growth float64            // of the spindle, at the cut

	noise *rand.Rand
	slips *rand.Rand // of the person
}

// even is a number from -size to +size that belongs to the name and the seed alone: no effect shifts another's.
func (w *World) even(name string) float64 { return w.Sizes[name] * w.pure(name) }

func (w *World) pure(name string) float64 { return 2*w.rand(name).Float64() - 1 }

func (w *World) rand(name string) *rand.Rand {
	h := fnv.New64a()
	h.Write([]byte(name))
	return rand.New(rand.NewPCG(w.Seed, h.Sum64()))
}

func (w *World) coin(name string) bool { return w.pure(name) > 0 }

// NewWorld is the world of a seed about a job of one second side.
func NewWorld(j *jobs.Job, setup *jobs.Setup, seed uint64, sizes Sizes) *World {
	w := &World{Seed: seed, Sizes: sizes, job: j, setup: setup, swap: One()}
	w.noise, w.slips = w.rand("noise"), w.rand("slips")
	w.mills()
	w.makeFixture()
	w.putDown()
	w.makePart()
	w.seatPart()
	w.ball = w.flat("eccentricity")
	w.probe = 98 + w.pure("probe")
	w.tools = map[int]float64{}
	for _, n := range slices.Sorted(maps.Keys(j.Tools)) {
		w.tools[n] = 75 + 5*float64(n%3) + w.pure("tool"+string(rune('0'+n%10)))
	}
	w.drift = w.three("drift")
	w.growth = math.Abs(w.even("growth"))
	w.gain = 1 + 0.12*w.rand("gain").Float64()
	if w.coin("needle") {
		w.gain = -w.gain
	}
	return w
}

// flat is an effect along X and Y.
func (w *World) flat(name string) Vec { v := w.three(name); v.Z = 0; return v }

// three is an effect along X, Y and Z.
func (w *World) three(name string) Vec {
	s := w.Sizes[name]
	return Vec{s * w.pure(name+" x"), s * w.pure(name+" y"), s * w.pure(name+" z")}
}

func (w *World) mills() {
	wv := func(effect, axis string) wave {
		r := w.rand(effect + axis)
		return wave{w.Sizes[effect] * r.Float64(), 60 + 240*r.Float64(), 300 * r.Float64()}
	}
	m := mill{waves: [3]wave{wv("lead", "x"), wv("lead", "y"), wv("lead", "z")}, bends: [2]wave{wv("straight", "x"), wv("straight", "y")}}
	lean := w.even("squareness")
	heat := func(t float64) Mat {
		g := 1 + steelAlpha*(t-20)
		return Shear(lean, 0, 0).Then(Stretch(g, g, g))
	}
	made := w.madeAt()
	w.warm = made + w.even("warm")
	w.now, w.before = m, m
	w.now.axes, w.before.axes = heat(w.warm), heat(made)
}

// madeAt is how warm it was when the fixture was made: as its card says, else 20.
func (w *World) madeAt() float64 {
	if t := w.job.Fixture.AsMade.Temperature; t != nil {
		return float64(*t)
	}
	return 20
}

// makeFixture cuts the fixture on the mill of its day, its bore in the middle of the travel, and lets it grow.
func (w *World) makeFixture() {
	g := grows[w.job.Fixture.Material]
	heat := g.heatX * (1 + w.even("alpha")) * (w.warm - w.madeAt())
	k := 1 + heat + g.damp*w.even("damp")
	cut, grow := w.before.cuts(Vec{-267, -165, -286}), Stretch(k, k, k)
	w.fixture = func(p Vec) Vec { return grow.Of(cut(p)) }
}

// putDown sets the fixture on the table: its floor at machine Z -286, its bore near -267, -165, crooked.
func (w *World) putDown() {
	at := Vec{-267, -165, -286 + w.pure("height")}.plus(w.flat("place"))
	w.place = Turn('x', w.Sizes["tilt"]*w.pure("tilt x")).Then(Turn('y', w.Sizes["tilt"]*w.pure("tilt y"))).
		Then(Turn('z', w.even("skew"))).Then(Move(at))
}

// makePart cuts side 1 on the mill of its day and turns the part over: solid takes nominal points of
// the second side's program (Z from the seat) to where they are on the part now.
func (w *World) makePart() {
	l, b := w.job.Part.Size[0], w.job.Part.Size[1]
	cut := w.before.cuts(Vec{-200, -120, -250})
	over, back := Turn('x', math.Pi).Then(Move(Vec{Y: b})), Turn('x', math.Pi).Then(Move(Vec{Y: b})) // half a turn undoes itself
	if w.setup.Flip == "y" {
		over = Turn('y', math.Pi).Then(Move(Vec{X: l}))
		back = over
	}
	g := grows[w.job.Part.Material]
	w.partWarm = w.warm + w.even("part-warm")
	dt, wet := w.partWarm-(w.madeAt()+w.dayOff()), w.even("moist")
	grow := Stretch(1+g.heatX*dt+g.moistX*wet, 1+g.heatY*dt+g.moistY*wet, 1+g.heatY*dt)
	w.solid = func(p Vec) Vec { return grow.Of(back.Of(cut(over.Of(p)))) }
	w.thick = w.job.Part.Size[2]
	if t, ok := w.job.Part.Given["thickness"]; ok {
		w.thick = t.Value + t.U*w.pure("thickness")
	}
}

// dayOff is how much warmer than on the fixture's day side 1 was cut. Cards say nothing of that
// day: at size 0 of the effect it was as warm as at the walk.
func (w *World) dayOff() float64 { return w.warm - w.madeAt() + w.even("day") }

// feature is where a feature of side 1 stands on the part, at a height over the seat.
func (w *World) feature(at jobs.Point, z float64) Vec {
	p := w.solid(Vec{at.X, at.Y, z})
	return p.plus(w.flat("pickup"))
}

// onTable is where a point of the part stands now.
func (w *World) onTable(p Vec) Vec { return w.seat.Then(w.swap).Then(w.place).Of(p) }

// Drawn says what an effect came to in this world.
func (w *World) Drawn(e Effect) string {
	u := w.pure(e.Name)
	switch e.Name {
	case "repeat", "dial-drift", "aim", "readout", "dial", "bearing", "float":
		return fmt.Sprintf("size %g %s", w.Sizes[e.Name], e.Unit)
	case "wall", "wall-lean", "lead", "straight", "cutter-length":
		return fmt.Sprintf("up to %g %s, each its own", w.Sizes[e.Name], e.Unit)
	case "place", "pickup", "eccentricity", "refit", "swap", "drift":
		v := w.three(e.Name)
		return fmt.Sprintf("%+.5f %+.5f %s", v.X, v.Y, e.Unit)
	case "lean", "tilt":
		return fmt.Sprintf("%+.3g %+.3g %s", w.Sizes[e.Name]*w.pure(e.Name+" x"), w.Sizes[e.Name]*w.pure(e.Name+" y"), e.Unit)
	}
	return fmt.Sprintf("%+.5g %s", w.Sizes[e.Name]*u, e.Unit)
}
