package report

import (
	"math"
	"slices"
	"time"

	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
)

// About is what a State does not know of itself.
type About struct {
	Part    int    // number of the part
	Record  string // file of the record
	Version string // of the program, whose formulas were used

	History []jobs.Change // of the fixture card as it stands now; nil where it is not to be had
}

// Record is all that a sheet of a setup says. Lengths in mm.
type Record struct {
	Job         string     `json:"job"`
	Unit        string     `json:"unit"` // that a sheet prints lengths in
	Part        int        `json:"part"`
	Parts       int        `json:"parts"` // how many are to be made, 0 when not said
	Stock       string     `json:"stock"`
	Setup       string     `json:"setup"`
	Flip        string     `json:"flip"`      // axis that the part was turned about, "" where it was not
	HoldDown    string     `json:"hold_down"` // plan T, M or S; "" without screws
	Word        string     `json:"word"`      // work offset of the setup, "" where it has none
	Operator    string     `json:"operator"`
	State       string     `json:"state"`       // released or held
	HeldAt      string     `json:"held_at"`     // step, "" when released
	Begun       *time.Time `json:"begun"`       // null when no time is in the record
	Last        *time.Time `json:"last"`        // newest event
	Released    *time.Time `json:"released"`    // null while held
	Fixture     *Fixture   `json:"fixture"`     // with its use; null where the setup has none
	Environment []Line     `json:"environment"` // temperature, moisture, hours ...
	Machine     string     `json:"machine"`
	Datum       *Datum     `json:"datum"`       // where bore and floor stand; null when void or not yet read
	Plots       []Plot     `json:"plots"`       // readings against line, circle or plane
	Results     []Result   `json:"results"`     // what a setup that proves machine or ball has found
	Sizes       []Size     `json:"sizes"`       // of the part, measured or given
	Instruments []Line     `json:"instruments"` // machine, probe, dial, with their calibration
	Tools       []Tool     `json:"tools"`       // of the job, with the lengths in force
	Programs    []Program  `json:"programs"`    // with checksum
	Offset      *Offset    `json:"offset"`      // null when void or not yet made
	Register    []Feature  `json:"register"`    // error predicted at every feature
	Worst       *Worst     `json:"worst"`       // which of them decides; null without
	NoLine      []string   `json:"no_line"`     // what the budget has no line for
	Allowance   float64    `json:"allowance"`   // register allowance
	Shift       *Shift     `json:"shift"`       // motion of the part; null when not measured
	Holding     []Line     `json:"holding"`     // torques and angles as read
	Steps       []Step     `json:"steps"`       // with limits as they were
	StopPoints  string     `json:"stop_points"` // what of the stop points is not answered after the release
	Waivers     []Waiver   `json:"waivers"`
	Mishaps     []Mishap   `json:"mishaps"`
	Voids       []Void     `json:"voids"`    // what does not stand now
	WayBack     []Back     `json:"way_back"` // what would bring it back
	Uses        []Use      `json:"uses"`     // of this fixture, oldest first; this one last
	Level       Level      `json:"level"`    // of the walk
	Notes       []string   `json:"notes"`
	Taken       int        `json:"taken"`              // how many readings and answers it holds
	Readings    []Reading  `json:"readings,omitempty"` // raw, as typed
	RecordFile  string     `json:"record"`
	Version     string     `json:"version"`

	sys      unit.System // of the job, for text
	pictures []Picture
	walls    []string // that the part is pushed against
	turns    []int    // order in which the screws are tightened
}

// Line is something said in words.
type Line struct {
	What string `json:"what"`
	Says string `json:"says"`
}

// Fixture is the fixture with its use.
type Fixture struct {
	ID       string `json:"id"`
	Use      int    `json:"use"` // this use, counted from 1
	Material string `json:"material"`
	Cycles   int    `json:"cycles"` // thread cycles before this use
}

// Offset is what the control was to hold and what was read back from it.
type Offset struct {
	Word        string  `json:"word"`
	Z0          string  `json:"z0"`
	X           float64 `json:"x"`
	Y           float64 `json:"y"`
	Z           float64 `json:"z"`
	RotationDeg float64 `json:"rotation_deg"`
	Cause       string  `json:"cause"`  // why it fell since it served, "" while it stands
	Echoed      []Line  `json:"echoed"` // as typed
}

// Datum is where the fixture's bore and the pocket's floor stand, machine coordinates.
type Datum struct {
	X   float64  `json:"x"`
	Y   float64  `json:"y"`
	Dia *float64 `json:"dia"` // null: not measured
	Z   *float64 `json:"z"`   // of the floor; null: not read
}

func (r *Record) datum(st *fold.State) {
	b, ok := facts.Bore.By(st.Fact)
	if !ok || r.Fixture == nil {
		return
	}
	r.Datum = &Datum{X: float64(b.X), Y: float64(b.Y)}
	if b.Dia > 0 {
		r.Datum.Dia = number(float64(b.Dia))
	}
	if f, ok := facts.Floor.By(st.Fact); ok {
		r.Datum.Z = number(float64(f.Z))
	}
}

// turns is the order in which the screws are tightened.
func turns(p *fold.Plan) []int {
	var at [][2]float64
	for _, q := range p.Setup.Screws.At {
		at = append(at, [2]float64{q.X, q.Y})
	}
	return hold.TightenOrder(at)
}

// Shift is the motion of the part on the fixture.
type Shift struct {
	DX     float64 `json:"dx"`
	DY     float64 `json:"dy"`
	RotDeg float64 `json:"rot_deg"`
	Since  string  `json:"since"` // what it was measured from
}

// Level says by which walk a record was made, and what that one does not catch.
type Level struct {
	Walk    int      `json:"walk"`
	Newest  int      `json:"newest"`  // that this program knows
	Reads   string   `json:"reads"`   // how much of it is read: full, proven, first use, irreplaceable
	Misses  []string `json:"misses"`  // mistakes that more reading would catch
	Unasked []string `json:"unasked"` // what the newest asks and this one did not
	Unseen  []string `json:"unseen"`  // what no walk sees
}

func when(t time.Time) *time.Time {
	if t.IsZero() {
		return nil
	}
	return &t
}

func number(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	return &x
}

// Make is the sheet of a plan's setup by a log of its record.
func Make(log *fold.Log, p *fold.Plan, about About) Record {
	st := log.State(p)
	return Of(log, &st, about)
}

// Of is the same where the State is at hand already; without a log it has no pictures.
func Of(log *fold.Log, st *fold.State, about About) Record {
	j, s := st.Plan().Job, st.Plan().Setup
	r := Record{Job: j.Name, Unit: unit.UnitName(unit.KLength, j.Unit), Machine: j.Machine.Name, Part: about.Part, Parts: j.Parts,
		Stock: j.Part.Stock, Setup: st.Setup, Flip: s.Flip, HoldDown: s.HoldDown, Word: s.Offset,
		Operator: j.Operator, State: "held", Begun: when(st.BegunAt), Last: when(st.LastAt), Allowance: float64(j.Allowance),
		RecordFile: about.Record, Version: about.Version, sys: j.Unit}
	if s.Card != "" {
		r.Fixture = &Fixture{j.Fixture.ID, j.Fixture.Uses + 1, j.Fixture.Material, j.Fixture.Threads.Cycles}
	}
	if st.By != "" {
		r.Operator = st.By
	}
	if st.Released {
		r.State, r.Released = "released", when(st.ReleasedAt)
	} else {
		r.HeldAt = string(st.Cursor.Step)
	}
	r.surroundings(st)
	r.datum(st)
	r.results(st)
	r.sizes(st)
	r.tools(st)
	r.offset(st)
	r.register(st)
	r.shift(st)
	r.steps(st)
	r.Taken = len(r.Readings)
	r.ledger(st)
	r.level(st)
	r.uses(st, about)
	for _, n := range st.Notes {
		r.Notes = append(r.Notes, n.Text)
	}
	r.walls, r.turns = s.Against, turns(st.Plan())
	if log != nil {
		r.pictures = scenes(log, st)
		for _, q := range r.pictures {
			if plot, ok := plotOf(q); ok {
				r.Plots = append(r.Plots, plot.judged(r.Steps))
			}
		}
	}
	r.fill()
	return r
}

// offset is what the control holds, with what was typed when it was read back. Of a released setup it may have
// fallen since it served: it is the one that was cut by.
func (r *Record) offset(st *fold.State) {
	s := st.Plan().Setup
	k, stands := st.Fact(facts.Offset.ID)
	if !stands && st.Released {
		k = served(st, facts.Offset.ID)
	}
	f, ok := facts.Offset.Read(k)
	if !ok {
		return
	}
	r.Offset = &Offset{Word: s.Offset, Z0: s.Z0, X: float64(f.X), Y: float64(f.Y), Z: float64(f.Z), RotationDeg: degrees(f.Rot)}
	for _, k := range st.Facts {
		if k.ID == facts.Offset.ID && k.Void != nil {
			r.Offset.Cause = k.Void.Words
		}
	}
	for i := range st.Steps {
		ss := &st.Steps[i]
		if !ss.Verdict.OK() || !slices.ContainsFunc(ss.Outcome.Facts, func(k fold.Known) bool { return k.ID == facts.Echo.ID }) {
			continue
		}
		for _, a := range ss.Asks {
			if t, ok := ss.Round.Get(a.Field); ok && a.Kind == fold.Echo {
				r.Offset.Echoed = append(r.Offset.Echoed, Line{a.Field, withUnit(a, t.Value, st.Plan().System())})
			}
		}
	}
}

// served is a fact of a step that served, whether it stands or not.
func served(st *fold.State, id fold.FactID) (out fold.Known) {
	for i := range st.Steps {
		for _, k := range st.Steps[i].Outcome.Facts {
			if k.ID == id && st.Steps[i].Verdict.OK() {
				out = k
			}
		}
	}
	return out
}

func degrees(a unit.Angle) float64 { return float64(a) * 180 / math.Pi }

// shift is the motion of the part, and from what it was told.
func (r *Record) shift(st *fold.State) {
	k, ok := st.Fact(facts.Shift.ID)
	if !ok {
		return
	}
	f, ok := facts.Shift.Read(k)
	if !ok {
		return
	}
	r.Shift = &Shift{float64(f.DX), float64(f.DY), degrees(f.Rot), "the dial's zero before the screws"}
	if b, ok := st.Fact(facts.Baseline.ID); ok && b.Last < k.First { // one read afterwards is for later
		r.Shift.Since = "the baseline"
	}
}

// level is the walk of the record, and what it leaves to the person.
func (r *Record) level(st *fold.State) {
	r.Level = Level{Walk: st.Walk, Newest: fold.Walk, Reads: st.Plan().Level().String(), Misses: st.Plan().Misses(), Unasked: st.Unasked,
		Unseen: unseen(st)}
	if len(st.Spared) > 0 {
		r.Notes = append(r.Notes, st.Earlier())
	}
}

// unseen is what no step looks at, whatever was read.
func unseen(st *fold.State) []string {
	out := []string{"what moved, or was changed, after it was last read and was not told"}
	if st.Plan().Setup.HoldDown != "" {
		out = append(out, "slip and turning at once: the holding depth is of each alone")
	}
	return out
}

// fill makes lists of nothing empty lists, so that JSON never says null for one.
func (r *Record) fill() {
	empty(&r.Environment)
	empty(&r.Plots)
	empty(&r.Results)
	empty(&r.Sizes)
	empty(&r.Instruments)
	empty(&r.Tools)
	empty(&r.Programs)
	empty(&r.Register)
	empty(&r.NoLine)
	empty(&r.Holding)
	empty(&r.Steps)
	empty(&r.Waivers)
	empty(&r.Mishaps)
	empty(&r.Voids)
	empty(&r.WayBack)
	empty(&r.Uses)
	empty(&r.Notes)
	empty(&r.Readings)
	empty(&r.Level.Misses)
	empty(&r.Level.Unasked)
	empty(&r.Level.Unseen)
	for i := range r.Steps {
		empty(&r.Steps[i].Checks)
	}
	for i := range r.Mishaps {
		empty(&r.Mishaps[i].Again)
	}
	for i := range r.Readings {
		empty(&r.Readings[i].Replaced)
	}
	for i := range r.Register {
		for a := range r.Register[i].Budget {
			empty(&r.Register[i].Budget[a].Measured)
			empty(&r.Register[i].Budget[a].Assumed)
		}
	}
	if r.Offset != nil {
		empty(&r.Offset.Echoed)
	}
}

func empty[T any](list *[]T) {
	if *list == nil {
		*list = []T{}
	}
}

// allowed is the register allowance that the release is held against.
func allowed(p *fold.Plan) float64 { return p.Limit("release.register").Max }
