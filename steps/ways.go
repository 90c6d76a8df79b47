package steps

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
	"fliptrue/steps/stick"
)

// Way is one way to hold the second side of a job, reckoned at the desk from the job's own part, cut, machine and cards.
// What the job has not is taken as common practice has it, and Takes says so.
type Way struct {
	Name  string // T, M, S, dowels, jaws, vacuum, tape
	What  string // how it holds
	Is    bool   // it is the job's own
	Takes string // what was assumed for it, "" for nothing
	Buy   string // what has to be there
	Pulls string // what pulls at the part

	Why      string // why nothing is reckoned, "" when it is
	Plan     *fold.Plan
	Count    *fold.Plan // on which its readings are counted, nil for none
	Register float64    // within which the register is proven at best at the worst feature, 95 %, mm
	Guard    float64    // one-sided 95 % of it
	At       string     // that feature
	Deepest  float64    // cut that holds, mm; 0 not computed
	Leaves   float64    // depth above which the part leaves its seat, mm; 0 not computed
	Unheld   string     // why it is not computed
}

// way makes another job of a job: one that holds so.
type way struct {
	name, what, buy, pulls string
	is                     func(*jobs.Setup) bool
	make                   func(j *jobs.Job, s *jobs.Setup) (takes string)
}

func plainSecond(hold string) func(*jobs.Setup) bool {
	return func(s *jobs.Setup) bool { return s.Kind == kit.SecondSide && s.HoldDown == hold }
}

var ways = []way{
	{"T", "fixture tapped before, part drilled under straps, then screwed", "tap and sacrificial thread; two straps; drill", "straps, drill, screws", plainSecond("T"), func(j *jobs.Job, s *jobs.Setup) string {
		return screwed(j, s, "T")
	}},
	{"M", "holes matched through part and fixture, then tapped", "drill, tap; two straps", "straps, drill through both, screws", plainSecond("M"), func(j *jobs.Job, s *jobs.Setup) string {
		return screwed(j, s, "M")
	}},
	{"S", "holes made on side 1, fixture tapped before", "tap and sacrificial thread; side 1 drills", "screws only", plainSecond("S"), func(j *jobs.Job, s *jobs.Setup) string {
		return screwed(j, s, "S")
	}},
	{"dowels", "two pins by reamed holes, the second a diamond; screws", "reamer H7, pins h6, a stone for the diamond", "a thumb, screws", func(s *jobs.Setup) bool { return s.Kind == "dowel-flip" }, pinned},
	{"vacuum", "the face under the part", "pump, gauge, cord in a groove, reservoir", "the air: a thin floor sags", faceBy("vacuum"), func(j *jobs.Job, s *jobs.Setup) string { return byFace(j, s, "vacuum") }},
	{"tape", "film under the whole face", "film, a test of your own on scrap", "nothing; letting go bends a thin wall", faceBy("tape"), func(j *jobs.Job, s *jobs.Setup) string { return byFace(j, s, "tape") }},
	{"jaws", "a nest cut in place into soft jaws", "a pair of soft jaws or plates, cut where they stay; a test of the mark with a scale",
		"the jaws: they press thin walls", func(s *jobs.Setup) bool { return s.Kind == "soft-jaws" }, nested},
}

func faceBy(kind string) func(*jobs.Setup) bool {
	return func(s *jobs.Setup) bool { return s.HoldDown == stick.ByFace && s.Hold.Kind == kind }
}

// Ways are all ways to hold a second side, reckoned from the job. An unknown setup, or one of another kind, is an error.
func Ways(j *jobs.Job, setup string) ([]Way, error) {
	i := slices.IndexFunc(j.Setups, func(s jobs.Setup) bool { return s.Name == setup })
	if i < 0 || !j.Setups[i].Second() {
		return nil, fmt.Errorf("setup %q is no second side; ways to hold are compared for a second side", setup)
	}
	var out []Way
	for _, w := range ways {
		x := Way{Name: w.name, What: w.what, Buy: w.buy, Pulls: w.pulls, Is: w.is(&j.Setups[i])}
		as := *j
		as.Setups = slices.Clone(j.Setups)
		if !x.Is {
			x.Takes = w.make(&as, &as.Setups[i])
		}
		x.reckon(&as, setup)
		out = append(out, x)
	}
	return out, nil
}

// reckon is the register at best and the hold-down of a job that holds so.
func (x *Way) reckon(j *jobs.Job, setup string) {
	p, err := NewPlan(j, setup, nil)
	if err != nil {
		x.Why = err.Error()
		return
	}
	x.Plan, x.Count = p, p
	if f := &p.Setup.Hold; f.Kind == "tape" && f.Hot == nil { // what it asks is told of a film that is tested; what it holds is not
		if x.Count, err = tested(j, setup); err != nil {
			x.Count = nil
		}
	}
	d := desk.AtDesk(p)
	if len(d.AsJob) == 0 {
		x.Why = "the fixture card has no pocket to reckon with"
		return
	}
	i, _, v, g := kit.WorstFeature(d.AsJob)
	x.Register, x.Guard, x.At = v+g, g, d.AsJob[i].Name
	if h := p.Holds(); h != nil {
		x.Deepest, x.Leaves, x.Unheld = h.Deepest, h.Deepest, h.Why
		return
	}
	h := desk.Hold(p, desk.AsFound{})
	if x.Unheld = h.Why; h.Why == "" {
		x.Deepest, x.Leaves = float64(h.Ends.Deepest()), float64(h.Ends.Low.Retention.Ceiling)
	}
}

// tested is the plan of a job whose film has a test that suffices.
func tested(j *jobs.Job, setup string) (*fold.Plan, error) {
	as := *j
	as.Setups = slices.Clone(j.Setups)
	i := slices.IndexFunc(as.Setups, func(s jobs.Setup) bool { return s.Name == setup })
	at, hot := unit.Temperature(60), unit.Temperature(40)
	as.Setups[i].Hold.Tested = jobs.Scrap{Load: 1000, Area: [2]float64{25, 25}, Minutes: 10, At: &at, Source: "assumed"}
	as.Setups[i].Hold.Hot = &hot
	return NewPlan(&as, setup, nil)
}

// screwed is the part in the pocket of its fixture, against two walls, by its screws.
func screwed(j *jobs.Job, s *jobs.Setup, holdDown string) (takes string) {
	say := func(what string) {
		if takes != "" {
			takes += "; "
		}
		takes += what
	}
	if s.Kind != kit.SecondSide {
		j.Fixture.Pocket.Clearance = 0.02
		say("a pocket " + unit.Show(0.02, unit.KLength, j.Unit, 0) + " wide of the part")
	}
	s.Kind, s.HoldDown, s.Dowels = kit.SecondSide, holdDown, jobs.Dowels{}
	if len(s.Against) < 2 && !s.Floating {
		s.Against = []string{"left", "away"}
	}
	if t := &j.Fixture.Threads; t.Kind == "" || t.Kind == "none" {
		t.Kind, t.Depth, t.Relief = "tapped", 5, 1
		say("threads " + unit.Show(5, unit.KLength, j.Unit, 0) + " deep")
	}
	if len(s.Screws.At) == 0 {
		w, h := j.Part.Size[0], j.Part.Size[1]
		s.Screws = jobs.Screws{Thread: "M2", Length: 8, Washer: 5, WasherT: 0.3, Through: 2.5, At: []jobs.Point{{X: 6, Y: 6}, {X: w - 6, Y: 6},
			{X: w - 6, Y: h - 6}, {X: 6, Y: h - 6}}}
		say("four M2 in its corners")
	}
	if holdDown == "S" {
		s.Clamps = nil
		return takes
	}
	for _, d := range drills(s.Screws.Thread, holdDown) {
		if slices.ContainsFunc(slices.Collect(maps.Values(j.Tools)), func(t jobs.Tool) bool { return t.Point > 0 && math.Abs(t.Dia-d) < 0.2 }) {
			continue
		}
		j.Tools = maps.Clone(j.Tools)
		n := 90
		for j.Tools[n].Dia > 0 {
			n++
		}
		j.Tools[n] = jobs.Tool{Name: "drill", Dia: d, Point: 118, Teeth: 2, Flute: 10 * d, Shank: d, Stickout: 12 * d,
			Holder: jobs.Holder{Dia: 24, Length: 30}}
		say("drill " + unit.Show(d, unit.KLength, j.Unit, 0))
	}
	if len(s.Clamps) == 0 {
		s.Clamps = strapped(j)
		say("two straps, M6 at 1 N·m")
	}
	return takes
}

// drills are those for the holes of a thread: matched holes are drilled for the tap first.
func drills(thread, holdDown string) (out []float64) {
	t, err := hold.ThreadNamed(thread)
	if err != nil {
		return nil
	}
	hs, err := hold.HolesOf(t)
	if err != nil {
		return nil
	}
	if out = []float64{float64(hs.Medium)}; holdDown == "M" {
		out = append(out, float64(t.D)-float64(t.P))
	}
	return out
}

// strapped are two straps in the middle of the left and right sides.
func strapped(j *jobs.Job) []jobs.Clamp {
	w, h, top := j.Part.Size[0], j.Part.Size[1], j.Part.Size[2]+12
	strap := func(name string, from, to float64) jobs.Clamp {
		y := h / 2
		return jobs.Clamp{Name: name, Outline: jobs.Outline{{X: from, Y: y - 6}, {X: to, Y: y - 6}, {X: to, Y: y + 6}, {X: from, Y: y + 6}},
			Top: top, Heel: 30, Tip: 20, Bolt: "M6", Torque: 1000}
	}
	return []jobs.Clamp{strap("left", -50, 8), strap("right", w-8, w+50)}
}

// pinned is the part on two pins in the middles of its short sides.
func pinned(j *jobs.Job, s *jobs.Setup) string {
	takes := screwed(j, s, "S")
	const inset, dia, play = 6.0, 4.0, 0.007
	w, h := j.Part.Size[0], j.Part.Size[1]
	s.Kind, s.Against, s.Dowels = "dowel-flip", nil, jobs.Dowels{Push: "away", Land: 0.6, Play: play}
	made := &j.Fixture.AsMade
	first, apart := jobs.Point{X: inset, Y: h / 2}, jobs.Point{X: w - 2*inset}
	if h > w {
		first, apart = jobs.Point{X: w / 2, Y: inset}, jobs.Point{Y: h - 2*inset}
		s.Dowels.Push = "left"
	}
	made.Bore.Kind, made.Bore.Dia = "pin", dia
	made.Bore2 = &jobs.Bore2{At: apart, Dia: dia}
	was := made.PartZero
	made.Edge, made.Stops, made.PartZero = nil, nil, jobs.Point{X: -first.X, Y: -first.Y}
	moved(&j.Fixture, made.PartZero.X-was.X, made.PartZero.Y-was.Y)
	j.Fixture.Pocket.Clearance = 2
	if takes != "" {
		takes = "; " + takes
	}
	show := func(mm float64) string { return unit.Show(mm, unit.KLength, j.Unit, 0) }
	return fmt.Sprintf("pins of %s, %s apart, play %s", show(dia), show(math.Hypot(apart.X, apart.Y)), show(play)) + takes
}

// moved has what stands on the card count from another place: all shapes but the locators move by as much.
func moved(f *jobs.Fixture, dx, dy float64) {
	shift := func(o []jobs.Point) []jobs.Point {
		out := make([]jobs.Point, len(o))
		for i, q := range o {
			out[i] = jobs.Point{X: q.X + dx, Y: q.Y + dy}
		}
		return out
	}
	f.Pocket.Outline = shift(f.Pocket.Outline)
	if len(f.Witness.Rim) > 0 {
		f.Witness.Rim = shift(f.Witness.Rim)
	}
	f.Support = slices.Clone(f.Support)
	for i := range f.Support {
		f.Support[i] = shift(f.Support[i])
	}
}

// nested is the part in a nest cut into soft jaws: fixed jaw AWAY, a stop to the LEFT, its outer walls gripped.
func nested(j *jobs.Job, s *jobs.Setup) string {
	w, h := j.Part.Size[0], j.Part.Size[1]
	wall := wallOf(j)
	s.Kind, s.HoldDown, s.Floating, s.Against = "soft-jaws", "", false, []string{"left", "away"}
	s.Clamps, s.Screws, s.Dowels, s.Hold = nil, jobs.Screws{}, jobs.Dowels{}, jobs.Face{}
	s.Jaws = jobs.Jaws{Shape: "walls", Wall: wall, Span: w, Grip: gripOf(j), Force: jawForce, Most: jawMost, Source: "assumed", Plug: true}
	made := &j.Fixture.AsMade
	made.Bore, made.Bore2, made.Edge, made.PartZero = jobs.Bore{}, nil, nil, jobs.Point{Y: -h}
	made.Stops = &jobs.Stops{Long: "away", At: [2]float64{0.13 * w, 0.87 * w}, End: "left", EndAt: -h / 2}
	box := jobs.Outline{{Y: -h}, {X: w, Y: -h}, {X: w}, {}}
	j.Fixture.Pocket, j.Fixture.Support, j.Fixture.Threads = jobs.Pocket{Outline: box}, []jobs.Outline{box}, jobs.Threads{Kind: "none"}
	show := func(v float64, k unit.Kind) string { return unit.Show(v, k, j.Unit, 0) }
	return fmt.Sprintf("a mark that presses %s to %s, walls of %s with a plug between them", show(float64(jawForce), unit.KForce),
		show(float64(jawMost), unit.KForce), show(wall, unit.KLength))
}

// What a vise presses at a mark, gently closed (common practice); a job in soft jaws has its own test.
const jawForce, jawMost unit.Force = 250, 400

// wallOf is the thinnest wall that the job speaks of, else a tenth of the shorter side.
func wallOf(j *jobs.Job) float64 {
	wall := math.Inf(1)
	for _, s := range j.Setups {
		for _, t := range []float64{s.Inspect.Wall[0], s.Vise.Wall} {
			if t > 0 {
				wall = math.Min(wall, t)
			}
		}
	}
	return math.Min(wall, 0.1*math.Min(j.Part.Size[0], j.Part.Size[1]))
}

// gripOf is how high a nest grips: as the vise of side 1 did, else a third of the thickness.
func gripOf(j *jobs.Job) float64 {
	for _, s := range j.Setups {
		if s.Vise.Grip > 0 {
			return s.Vise.Grip
		}
	}
	return j.Part.Size[2] / 3
}

// byFace is the part held by the face under it, a margin of 6 mm outside the seal.
func byFace(j *jobs.Job, s *jobs.Setup, kind string) string {
	screwed(j, s, "S")
	const margin = 6.0
	s.HoldDown, s.Clamps, s.Screws = stick.ByFace, nil, jobs.Screws{}
	j.Fixture.Threads = jobs.Threads{Kind: "none"}
	s.Hold = jobs.Face{Kind: kind, Area: [2]float64{j.Part.Size[0] - 2*margin, j.Part.Size[1] - 2*margin}}
	if kind == "tape" {
		return "a face " + unit.Show(margin, unit.KLength, j.Unit, 0) + " smaller all round"
	}
	return "a seal " + unit.Show(margin, unit.KLength, j.Unit, 0) + " inside the outline, the pump at its gate"
}
