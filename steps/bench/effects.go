package bench

import (
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"reflect"

	"fliptrue/steps/fold"
	"strings"
)

// Effects are the sizes of everything that departs from the drawing; 0 switches
// one off. A half width is of a rectangle about zero: the true value is drawn once from
// the seed. Lengths mm, angles rad, temperatures K.
type Effects struct {
	SetDown     float64 `is:"half width: where the fixture is set down"`
	Skew        float64 `is:"half width: how it is turned when set down"`
	FloorTilt   float64 `is:"half width: tilt of the pocket floor, each axis"`
	FloorForm   float64 `is:"standard deviation of the floor's height at a place"`
	BoreSize    float64 `is:"half width: size of the bores beyond the card"`
	Bore2Place  float64 `is:"half width: place of the second bore beyond the card"`
	Warmer      float64 `is:"how much warmer it is than the day the fixture was made; not drawn"`
	Growth      float64 `is:"half width: temperature beyond that"`
	GrowthShare float64 `is:"standard deviation: share by which material and bolts change the growth"`
	Thermometer float64 `is:"half width: error of the thermometer"`

	EdgeForm  float64 `is:"amplitude: waves of the fixture's edge"`
	AxisSlope float64 `is:"half width: rise of the moving axis over the edge"`

	Noise       float64 `is:"standard deviation of one hit"`
	Lobes       float64 `is:"amplitude: three-lobed trigger radius"`
	Radius      float64 `is:"half width: trigger radius beyond the card"`
	Finder      float64 `is:"half width: radius of the edge finder at its kick beyond half its size"`
	ProbeBias   float64 `is:"half width: eccentricity beyond the card, each axis"`
	Refit       float64 `is:"half width: change of it when the probe was out, each axis"`
	RefitLength float64 `is:"half width: change of its length then"`
	Runout      float64 `is:"half width: runout of a tool in its collet"`
	LengthError float64 `is:"half width: a tool's length in the control's table against the true one"`

	Backlash    float64 `is:"lost motion, half of it seen from each side"`
	Positioning float64 `is:"half width: where the machine cuts against where it measures, each axis"`
	Squareness  float64 `is:"half width: X error per Y"`
	ZLean       float64 `is:"half width: lean of the Z travel, each axis"`
	Readout     float64 `is:"step of the readout; 0 shows all digits"`

	DialAngle  float64 `is:"largest angle of the lever"`
	DialSense  float64 `is:"1: the needle may turn either way"`
	DialRound  float64 `is:"graduation"`
	DialDrift  float64 `is:"half width: drift over one run"`
	TapScatter float64 `is:"standard deviation of a tap, as a share"`
	Twist      float64 `is:"half width: turn while tightening"`

	WallContact float64 `is:"half width: what the contact with the datum walls leaves"`
	Floating    float64 `is:"half width: place in the pocket of a part that is not pushed"`
	Pickup      float64 `is:"half width: side-1 pickup"`
	SideOne     float64 `is:"half width: positioning of the machine on side 1"`
	Cutter      float64 `is:"half width: side-1 cutter radius"`
	Moisture    float64 `is:"half width: strain of the part, each axis"`
	Damp        float64 `is:"half width: humidity of the air against side 1, percent; 0 where nobody reads it"`
	PartHeat    float64 `is:"half width: temperature of the part against side 1"`
	Parallel    float64 `is:"half width: part top against its seat, over its length"`

	StrapBow float64 `is:"half width: bow of the part under the straps"`
	Swap     float64 `is:"half width: shift of the part from straps to screws"`
	SwapTurn float64 `is:"half width: turn of the part then"`
	Thread   float64 `is:"standard deviation of thread strength, as a share"`
	Drill    float64 `is:"half width: depth of a hole beyond the program"`

	// What practice leaves out, so that a lesson shows one thing at a time: see Wide and Erring.
	SeatTurn      float64 `is:"half width: turn of the part at its walls"`
	SeatLean      float64 `is:"half width: lean of the part in its pocket, each axis"`
	Bearing       float64 `is:"1: a part out of square lies flat along either wall"`
	FixtureDamp   float64 `is:"half width: humidity of the air against the day the fixture was made, percent"`
	Lead          float64 `is:"amplitude: waves of the screws, each axis; side 1 was cut up to 80 mm from here"`
	Drift         float64 `is:"half width: table against spindle from the first reading to the cut, each axis"`
	SpindleGrowth float64 `is:"half width: spindle longer at the last cut than when it was touched"`
	SwapLift      float64 `is:"half width: lift of the part from straps to screws"`
	SwapLean      float64 `is:"half width: lean of the part then, each axis"`
	WrongAnswer   float64 `is:"share of answers that are wrong"`
	WrongDigit    float64 `is:"share of numbers typed with a neighbouring digit"`
	SkippedAct    float64 `is:"share of acts that are skipped"`
}

// Usual are effects as large as job and cards say, so that what is believed of
// them is true; where the cards are silent, sizes of a good bench mill (common practice,
// from memory).
func Usual(p *fold.Plan) Effects {
	j, m := p.Job, &p.Job.Machine
	e := Effects{
		SetDown: 8, Skew: 1.5e-3, FloorTilt: 0.03e-3, FloorForm: 0.0008, BoreSize: 0.002, Bore2Place: 0.001,
		Growth: 1.5, GrowthShare: 0.5, Thermometer: 1,
		EdgeForm: 0.0006, Lobes: 0.0003, Radius: 0.001, Finder: 0.005, ProbeBias: 0.003, Refit: 0.003, RefitLength: 0.02, Runout: 0.003,
		LengthError: 0.003,
		Backlash:    m.Backlash / 2, Positioning: m.Backlash, Squareness: float64(m.Squareness), ZLean: 20e-6,
		Readout: m.Readout, DialAngle: 35 * math.Pi / 180, DialSense: 1, DialRound: m.Dial.Graduation, DialDrift: 0.3 * m.Dial.Graduation,
		TapScatter: 0.08, Twist: 0.01e-3,
		PartHeat: 1, WallContact: 0.005, Floating: j.Fixture.Pocket.Clearance, Pickup: 0.005, SideOne: m.Backlash, Cutter: 0.006, Parallel: 0.002,
		StrapBow: 0.001, Swap: 0.001, SwapTurn: 0.01e-3, Thread: 0.1, Drill: 0.05,
	}
	// 0.2 percent of moisture at 0.0035 a percent, a fifth of it in stabilised wood
	for _, wood := range []string{"walnut", "maple", "wood", "oak"} {
		if mat := strings.ToLower(j.Part.Material); strings.Contains(mat, wood) {
			e.Moisture = 7e-4
			if strings.Contains(mat, "stabilised") {
				e.Moisture = 1.4e-4
			}
		}
	}
	if j.Part.Grain != "" { // who says how it runs has a hygrometer
		e.Damp = 2
	}
	if m.Squareness == 0 {
		e.Squareness = 1e-4
	}
	// What the card calls the repeat of a hit has the readout's rounding in it.
	e.Noise = 0.001
	if m.Probe != nil {
		e.Noise = math.Sqrt(max(m.Probe.Repeat*m.Probe.Repeat-m.Readout*m.Readout/12, 0))
	}
	if ed := j.Fixture.AsMade.Edge; ed != nil && ed.Length > 0 && p.Setup.Vise.Jaw == "" {
		e.AxisSlope = m.Straightness
	}
	return e
}

// lot draws what is drawn once: each effect from a stream of its own, so that
// switching one off leaves the others as they were.
type lot uint64

func (l lot) stream(name string) *rand.Rand {
	h := fnv.New64a()
	h.Write([]byte(name))
	return rand.New(rand.NewPCG(uint64(l), h.Sum64()))
}

// within is a draw from the rectangle of that half width.
func (l lot) within(name string, half float64) float64 {
	if half == 0 {
		return 0
	}
	return half * (2*l.stream(name).Float64() - 1)
}

// normal is a draw of that standard deviation.
func (l lot) normal(name string, s float64) float64 {
	if s == 0 {
		return 0
	}
	return s * l.stream(name).NormFloat64()
}

// pair is two of them.
func (l lot) pair(name string, half float64) xy {
	return xy{l.within(name+" x", half), l.within(name+" y", half)}
}

// expansion per kelvin of materials by a word in their name: published typical values.
var expansion = []struct {
	word  string
	alpha float64
}{
	{"acrylic", 70e-6}, {"polycarbonate", 68e-6}, {"epoxy", 60e-6}, {"alumin", 23.6e-6}, {"6061", 23.6e-6}, {"brass", 20e-6},
	{"steel", 11.7e-6}, {"iron", 12.1e-6}, {"walnut", 40e-6}, {"maple", 40e-6}, {"wood", 40e-6},
	{"oak", 37e-6}, {"phenolic", 20e-6}, // across the grain: half way between along the rays and along the rings
}

// scaleAlpha is the expansion of the machine's own scales: steel.
const scaleAlpha = 11.7e-6

// Wood along its fibres: what it expands per K, and which share of its movement across them moisture makes.
const woodAlong, moistAlong = 3.8e-6, 0.02

// along is a strain of the part where the job says how the grain runs: of that axis only the share stays.
func (w *World) along(s xy, share float64) xy {
	switch w.plan.Job.Part.Grain {
	case "x":
		s.x *= share
	case "y":
		s.y *= share
	}
	return s
}

// alphaOf is the expansion of a material by its name, 0 when it is not known.
func alphaOf(material string) float64 {
	m := strings.ToLower(material)
	for _, e := range expansion {
		if strings.Contains(m, e.word) {
			return e.alpha
		}
	}
	return 0
}

// Effect is one effect by its name, such as "ProbeBias".
type Effect struct {
	Name    string
	Size    float64
	Meaning string // of the size: a half width, a standard deviation, an amplitude
}

// List states all effects in their order.
func (e Effects) List() []Effect {
	v := reflect.ValueOf(e)
	out := make([]Effect, v.NumField())
	for i := range out {
		f := v.Type().Field(i)
		out[i] = Effect{f.Name, v.Field(i).Float(), f.Tag.Get("is")}
	}
	return out
}

// Set gives an effect another size, 0 to switch it off. An unknown name is an error
// that lists the known.
func (e *Effects) Set(name string, size float64) error {
	f := reflect.ValueOf(e).Elem().FieldByName(name)
	if !f.IsValid() {
		var known []string
		for _, k := range e.List() {
			known = append(known, k.Name)
		}
		return fmt.Errorf("effect %q is not known; known are: %s", name, strings.Join(known, " "))
	}
	f.SetFloat(size)
	return nil
}
