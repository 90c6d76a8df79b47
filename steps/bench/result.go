package bench

import (
	"fmt"
	"math"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
)

// Pair is one value an axis, mm.
type Pair struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
}

// Offset is what the control was to hold.
type Offset struct {
	X        float64 `json:"x"`
	Y        float64 `json:"y"`
	Z        float64 `json:"z"`
	Rotation float64 `json:"rotation_deg"`
}

// Feature is what is known of the register at a feature: where the part's feature
// stands minus where the tool will cut, in the second side's part coordinates, mm.
type Feature struct {
	Name  string `json:"name"`
	Error Pair   `json:"error"`
	U     Pair   `json:"U"` // half-width of the 95 % interval
}

// Truth is how things stand on the bench: machine coordinates as its readout shows them.
type Truth struct {
	Bore        Pair    `json:"bore"`
	SkewDeg     float64 `json:"skew_deg"`
	Scale       float64 `json:"scale"`
	FloorZ      float64 `json:"floor_z"` // of the floor at the part zero, the tool length taken off
	PartZero    Pair    `json:"part_zero"`
	Temperature float64 `json:"temperature"`
	Probe       Pair    `json:"probe_eccentricity"`
	Keyed       Offset  `json:"keyed"` // what the control holds
}

// Result is one walk.
type Result struct {
	Seed      uint64          `json:"seed"`
	Mistake   *string         `json:"mistake"`
	State     string          `json:"state"` // released or held
	HeldAt    *fold.StepID    `json:"held_at"`
	Named     []string        `json:"named"`
	Offset    *Offset         `json:"offset"`
	Features  []Feature       `json:"features"`
	Events    int             `json:"events"`
	Truth     Truth           `json:"truth"`
	TrueError map[string]Pair `json:"true_error"`

	Walk *Walk `json:"-"`
}

// Options are what an automatic walk may be given.
type Options struct {
	Seed    uint64
	Mistake string            // "" for none
	Size    float64           // of the mistake, 0 for its default
	Effects *Effects          // nil for Usual
	Cards   map[string]string // what the record carries of job and cards
	In      string            // the setup of a chain in which the mistake is made
	Before  []*World          // what a chain goes on from: where the fixture was made
	Part    int               // how many parts a chain has behind it
	Setup   func(*Walk)       // to set Now, Emit or Watch before it begins
	LetsGo  bool              // once released the part lets go in the cut: the mistake is made after that
}

// Auto walks the plan's setup to its end. An unknown mistake is an error.
func Auto(p *fold.Plan, o Options) (*Result, error) {
	e := Usual(p)
	if o.Effects != nil {
		e = *o.Effects
	}
	w := NewWorld(p, o.Seed, e)
	if o.Mistake != "" && !o.LetsGo {
		if err := w.Make(o.Mistake, o.Size); err != nil {
			return nil, err
		}
	}
	k := NewWalk(p, w, o.Cards)
	if o.Setup != nil {
		o.Setup(k)
	}
	if _, err := k.Until(nil); err != nil {
		return nil, err
	}
	if o.LetsGo && k.State().Released {
		if err := k.LetGo(); err != nil {
			return nil, err
		}
		if o.Mistake != "" {
			if err := w.Make(o.Mistake, o.Size); err != nil {
				return nil, err
			}
		}
		if _, err := k.Until(nil); err != nil {
			return nil, err
		}
	}
	return k.Result(o.Mistake), nil
}

// letsGo is the mishap that opens a rescue.
const letsGo fold.MishapID = "part-moved-in-cut"

// LetGo has the part let go in the cut, and the person go on in the setup that this opens.
func (k *Walk) LetGo() error {
	es, name, ok := k.log.Open(k.plan, letsGo, "bench")
	if !ok {
		return fmt.Errorf("bench: nothing opens where %s lets go", k.plan.Setup.Name)
	}
	if err := k.Add(es...); err != nil {
		return err
	}
	p, err := k.plan.Derive(name)
	if err != nil {
		return err
	}
	k.HeldAt, k.done = nil, nil
	k.plan, k.state, k.tries, k.went = p, nil, map[fold.StepID]int{}, map[string]bool{}
	k.World.LetGo(p)
	return nil
}

// Log is the log of what the person did.
func (k *Walk) Log() *fold.Log { return k.log }

// Plan is the plan of the setup that the person walks now.
func (k *Walk) Plan() *fold.Plan { return k.plan }

// Result is the walk so far as numbers.
func (k *Walk) Result(mistake string) *Result {
	st := k.State()
	r := &Result{Seed: k.World.Seed, State: "held", HeldAt: k.HeldAt, Named: append([]string{}, k.Named...), Events: len(k.Events),
		Truth: k.World.Truth(), TrueError: k.World.TrueError(), Walk: k}
	if mistake != "" {
		r.Mistake = &mistake
	}
	if st.Released {
		r.State, r.HeldAt = "released", nil
	} else if r.HeldAt == nil {
		id := st.Cursor.Step
		r.HeldAt = &id
	}
	r.Offset, r.Features = Known(st)
	return r
}

// Known is what the state says of offset and features; nil while the offset is void.
func Known(st *fold.State) (*Offset, []Feature) {
	var of *Offset
	if f, ok := facts.Offset.By(st.Fact); ok {
		of = &Offset{float64(f.X), float64(f.Y), float64(f.Z), float64(f.Rot) * 180 / math.Pi}
	}
	fs := []Feature{}
	for _, f := range steps.Register(st) {
		fs = append(fs, Feature{f.Name, Pair{f.Error[0], f.Error[1]}, Pair{f.U[0], f.U[1]}})
	}
	return of, fs
}

// control is the placement that the control holds: machine coordinates and rotation.
func (w *World) control() (xy, float64) {
	o := xy{w.hand.keyed["x"], w.hand.keyed["y"]}
	if d := w.mach.Delivers; d == "g92" || d == "readout" {
		// set while standing over the bore: the origin lies that far from it
		c, _ := w.datum("bore")
		o = w.shown(w.onFixture(c)).sub(o)
	}
	return o, w.hand.keyed["rotation"] + w.hand.keyed["page"]
}

// TrueError is, at every feature, where the part's feature stands minus where the
// tool will cut, along the part's axes, mm. Without listed features it is at the corners.
func (w *World) TrueError() map[string]Pair {
	out := map[string]Pair{}
	for _, f := range w.features() {
		e := w.errorAt(xy{f.At.X, f.At.Y})
		out[f.Name] = Pair{e.x, e.y}
	}
	return out
}

// errorAt is that at any place of the part.
func (w *World) errorAt(p xy) xy {
	o, rot := w.control()
	// Z travel leans: picked up near the rim, cut at the part's top.
	rise := w.plan.Job.Part.Size[2] - w.card.AsMade.Floor.Depth
	tool := w.stand(pose{o, rot}.of(p)).add(w.drifts(1 - w.spent())).add(w.positioning).add(w.lean.times(rise))
	return w.onPart(w.wrongPlace(w.feature(p))).sub(tool).turned(-w.fixture.turn)
}

func (w *World) features() []jobs.Feature {
	if fs := w.plan.Job.Part.Features; len(fs) > 0 {
		return fs
	}
	l, h := w.size.x, w.size.y
	return []jobs.Feature{{Name: "near left corner"}, {Name: "near right corner", At: jobs.Point{X: l}},
		{Name: "far right corner", At: jobs.Point{X: l, Y: h}}, {Name: "far left corner", At: jobs.Point{Y: h}}}
}

// Truth is how things stand.
func (w *World) Truth() Truth {
	c, _ := w.datum("bore")
	b, z := w.shown(w.onFixture(c)), w.shown(w.onPart(xy{}))
	at := w.card.AsMade.PartZero
	return Truth{Bore: Pair{b.x, b.y}, SkewDeg: w.fixture.turn * 180 / math.Pi, Scale: w.growth,
		FloorZ: w.floor.at(xy{at.X, at.Y}), PartZero: Pair{z.x, z.y}, Temperature: w.warm, Probe: Pair{w.ball.ecc.x, w.ball.ecc.y},
		Keyed: Offset{w.hand.keyed["x"], w.hand.keyed["y"], w.hand.keyed["z"], w.hand.keyed["rotation"] * 180 / math.Pi}}
}
