package report

import (
	"math"
	"strconv"
	"time"

	"fliptrue/calc/unit"
	"fliptrue/steps"
	"fliptrue/steps/kit"
)

// About is what a State does not know of itself.
type About struct {
	Part    int    // number of the part
	Record  string // file of the record
	Version string // of the program, whose formulas were used
}

// Record is the one-page record of a setup. Lengths in mm.
type Record struct {
	Job         string       `json:"job"`
	Part        int          `json:"part"`
	Parts       int          `json:"parts"` // how many are to be made, 0 when not said
	Stock       string       `json:"stock"`
	Setup       string       `json:"setup"`
	Operator    string       `json:"operator"`
	State       string       `json:"state"`       // released or held
	HeldAt      string       `json:"held_at"`     // step, "" when released
	Begun       *time.Time   `json:"begun"`       // null when no time is in the record
	Last        *time.Time   `json:"last"`        // newest event
	Released    *time.Time   `json:"released"`    // null while held
	Fixture     Fixture      `json:"fixture"`     // with its use
	Environment []Line       `json:"environment"` // temperature, moisture, hours ...
	Instruments []Line       `json:"instruments"` // machine, probe, dial, with their calibration
	Tools       []Tool       `json:"tools"`       // of the job, with the lengths in force
	Programs    []Program    `json:"programs"`    // with checksum
	Offset      *Offset      `json:"offset"`      // null when void or not yet made
	Register    []Feature    `json:"register"`    // error predicted at every feature
	Allowance   float64      `json:"allowance"`   // register allowance
	Shift       *Shift       `json:"shift"`       // motion of the part since its baseline; null when not measured
	Holding     []Line       `json:"holding"`     // torques and angles as read
	Steps       []Step       `json:"steps"`       // with limits as they were
	Waivers     []Waiver     `json:"waivers"`
	Mishaps     []Mishap     `json:"mishaps"`
	Notes       []string     `json:"notes"`
	Readings    []Reading    `json:"readings"` // raw, as typed
	RecordFile  string       `json:"record"`
	Version     string       `json:"version"`
	sys         unit.System  // of the job, for text
	state       *steps.State // whence it came
}

// Fixture is the fixture with its use.
type Fixture struct {
	ID       string `json:"id"`
	Use      int    `json:"use"` // this use, counted from 1
	Material string `json:"material"`
	Cycles   int    `json:"cycles"` // thread cycles before this use
}

// Line is something said in words.
type Line struct {
	What string `json:"what"`
	Says string `json:"says"`
}

// Tool is one tool with the length in force, null when it was not read.
type Tool struct {
	Number   int      `json:"number"`
	Name     string   `json:"name"`
	Dia      float64  `json:"dia"`
	Stickout float64  `json:"stickout"`
	Length   *float64 `json:"length"`
}

// Program is one NC program as it stood.
type Program struct {
	Role     string      `json:"role"`
	File     string      `json:"file"`
	Checksum string      `json:"checksum"` // first 16 hex digits of its SHA-256, "" when the file was not there
	Box      *[6]float64 `json:"box"`      // lowest x y z and highest x y z, null when not computed
}

// Offset is what the control was to hold and what was read back from it.
type Offset struct {
	Word        string  `json:"word"`
	Z0          string  `json:"z0"`
	X           float64 `json:"x"`
	Y           float64 `json:"y"`
	Z           float64 `json:"z"`
	RotationDeg float64 `json:"rotation_deg"`
	Echoed      []Line  `json:"echoed"` // as typed
}

// Feature is the predicted mismatch at a feature.
type Feature struct {
	Name    string     `json:"name"`
	Error   [2]float64 `json:"error"`
	U       [2]float64 `json:"U"`     // half-width of the 95 % interval
	Guard   [2]float64 `json:"guard"` // one-sided 95 %
	Largest [2]string  `json:"largest"`
}

// Shift is the motion of the part on the fixture.
type Shift struct {
	DX     float64 `json:"dx"`
	DY     float64 `json:"dy"`
	RotDeg float64 `json:"rot_deg"`
}

// Step is one step with its limits as they were.
type Step struct {
	ID       string        `json:"id"`
	Title    string        `json:"title"`
	Verdict  steps.Verdict `json:"verdict"`
	Cause    string        `json:"cause"` // of a void; with another verdict: what it made fell after it had served
	Rounds   int           `json:"rounds"`
	Readings int           `json:"readings"` // of its newest round
	At       *time.Time    `json:"at"`       // of its newest reading
	Checks   []Check       `json:"checks"`
}

// Check is one limit held against what was measured. In mm, or as a ratio for a slope; a
// count or an answer has neither guard nor max.
type Check struct {
	Limit   string        `json:"limit"`
	Got     *float64      `json:"got"`
	Guard   *float64      `json:"guard"`
	Max     *float64      `json:"max"`
	Min     bool          `json:"min"` // max is the least that passes
	Verdict steps.Verdict `json:"verdict"`
	Words   string        `json:"words"`
}

// Waiver is a limit passed over.
type Waiver struct {
	Step   string     `json:"step"`
	Limit  string     `json:"limit"`
	Number string     `json:"number"`
	Reason string     `json:"reason"`
	At     *time.Time `json:"at"`
}

// Mishap is something that happened.
type Mishap struct {
	ID   string     `json:"id"`
	Tool string     `json:"tool"`
	At   *time.Time `json:"at"`
}

// Reading is one value as typed.
type Reading struct {
	Step     string     `json:"step"`
	Round    int        `json:"round"`
	Field    string     `json:"field"`
	Value    string     `json:"value"`
	By       string     `json:"by"`
	At       *time.Time `json:"at"`
	Replaced []string   `json:"replaced"` // what stood there before, oldest first
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

// Make is the record of a State.
func Make(st *steps.State, about About) Record {
	p := st.Plan()
	j := p.Job
	r := Record{Job: j.Name, Part: about.Part, Parts: j.Parts, Stock: j.Part.Stock, Setup: st.Setup, Operator: j.Operator, State: "held",
		Begun: when(st.BegunAt), Last: when(st.LastAt), Allowance: float64(j.Allowance), RecordFile: about.Record, Version: about.Version,
		Fixture: Fixture{j.Fixture.ID, j.Fixture.Uses + 1, j.Fixture.Material, j.Fixture.Threads.Cycles},
		sys:     j.Unit, state: st}
	if st.By != "" {
		r.Operator = st.By
	}
	if st.Released {
		r.State, r.Released = "released", when(st.ReleasedAt)
	} else {
		r.HeldAt = string(st.Cursor.Step)
	}
	r.surroundings(st)
	r.tools(st)
	r.offset(st)
	for _, f := range kit.Register(st) {
		r.Register = append(r.Register, Feature{f.Name, f.Error, f.U, f.Guard, f.Largest})
	}
	if f, ok := st.Fact("shift"); ok && len(f.Value) >= 3 {
		r.Shift = &Shift{f.Value[0], f.Value[1], f.Value[2] * 180 / math.Pi}
	}
	r.steps(st)
	for _, w := range st.Waivers {
		r.Waivers = append(r.Waivers, Waiver{string(w.Step), w.Limit, w.Number, w.Reason, when(w.At)})
	}
	for _, m := range st.Mishaps {
		if m.By == "" { // raised by a step: no accident
			r.Mishaps = append(r.Mishaps, Mishap{string(m.ID), m.Tool, when(m.At)})
		}
	}
	if e := st.Earlier(); e != "" {
		r.Notes = append(r.Notes, e)
	}
	for _, n := range st.Notes {
		r.Notes = append(r.Notes, n.Text)
	}
	r.fill()
	return r
}

// fill makes lists of nothing empty lists, so that JSON never says null for one.
func (r *Record) fill() {
	empty(&r.Environment)
	empty(&r.Instruments)
	empty(&r.Tools)
	empty(&r.Programs)
	empty(&r.Register)
	empty(&r.Holding)
	empty(&r.Steps)
	empty(&r.Waivers)
	empty(&r.Mishaps)
	empty(&r.Notes)
	empty(&r.Readings)
	for i := range r.Steps {
		empty(&r.Steps[i].Checks)
	}
	for i := range r.Readings {
		empty(&r.Readings[i].Replaced)
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

// surroundings are environment and instruments, from the cards and what was read.
func (r *Record) surroundings(st *steps.State) {
	j := st.Plan().Job
	show := func(v float64, k unit.Kind) string { return unit.Show(v, k, j.Unit, 0) }
	if f, ok := st.Fact("identity"); ok && len(f.Value) > 1 && f.Value[1] > 0 {
		says := show(f.Value[0], unit.KTemperature)
		if t := j.Fixture.AsMade.Temperature; t != nil {
			says += ", made at " + show(float64(*t), unit.KTemperature)
		}
		r.Environment = append(r.Environment, Line{"fixture temperature", says})
	}
	for _, key := range []string{"moisture", "hours", "thickness", "width-x", "width-y"} {
		if f, ok := st.Fact(steps.FactID("part/" + key)); ok && f.By != "" && len(f.Value) > 0 && key != "hours" {
			says := show(f.Value[0], unit.KLength) + ", measured on side 1"
			if g, ok := j.Part.Given[key]; ok {
				says += "; the job says " + show(g.Value, unit.KLength)
			}
			r.Environment = append(r.Environment, Line{key, says})
			continue
		}
		if g, ok := j.Part.Given[key]; ok {
			says := unit.Format(g.Value, unit.Scalar, j.Unit, 0)
			if key != "moisture" && key != "hours" {
				says = show(g.Value, unit.KLength)
			}
			r.Environment = append(r.Environment, Line{key, says + ", " + g.Source})
		}
	}
	m := &j.Machine
	r.Instruments = append(r.Instruments, Line{"machine", m.Name + ", readout " + unit.Show(m.Readout, unit.KLength, j.Unit, m.Readout)})
	if p := m.Probe; p != nil {
		says := "r " + show(p.Radius, unit.KLength) + ", s " + show(p.Repeat, unit.KLength) + ", " + p.Source
		for _, s := range []string{p.ID, p.Date} {
			if s != "" {
				says += ", " + s
			}
		}
		if f, ok := st.Fact("ball"); ok && f.By != "" && len(f.Value) > 1 {
			says += "; calibrated here: r " + show((f.Value[0]+f.Value[1])/2, unit.KLength)
		}
		r.Instruments = append(r.Instruments, Line{"probe", says})
	}
	if m.Dial.Graduation > 0 {
		says := unit.Show(m.Dial.Graduation, unit.KLength, j.Unit, m.Dial.Graduation)
		if m.Dial.ID != "" {
			says += ", " + m.Dial.ID
		}
		r.Instruments = append(r.Instruments, Line{"dial", says})
	}
	tram := "not known"
	if f, ok := st.Fact("tram"); ok && len(f.Value) > 1 {
		tram = "X " + show(f.Value[0], unit.KSlope) + "  Y " + show(f.Value[1], unit.KSlope)
	}
	r.Instruments = append(r.Instruments, Line{"tram", tram})
}

// tools are the job's tools with their lengths, and its programs with their checksums.
func (r *Record) tools(st *steps.State) {
	p := st.Plan()
	for _, n := range sortedTools(p.Job.Tools) {
		t := p.Job.Tools[n]
		row := Tool{Number: n, Name: t.Name, Dia: t.Dia, Stickout: t.Stickout}
		if f, ok := st.Fact(steps.FactID("length/" + strconv.Itoa(n))); ok && len(f.Value) > 0 {
			row.Length = number(f.Value[0])
		}
		r.Tools = append(r.Tools, row)
	}
	for _, g := range p.Setup.Programs {
		row := Program{Role: g.Role, File: g.File}
		if f, ok := p.Program(g.Role); ok {
			row.Checksum = f.Hash
		}
		if f, ok := st.Fact(steps.FactID("program/" + g.Role)); ok && len(f.Value) >= 6 {
			row.Box = (*[6]float64)(f.Value[:6])
		}
		r.Programs = append(r.Programs, row)
	}
}

// offset is what the control holds, with what was typed when it was read back.
func (r *Record) offset(st *steps.State) {
	f, ok := st.Fact("offset")
	if !ok || len(f.Value) < 4 {
		return
	}
	s := st.Plan().Setup
	r.Offset = &Offset{Word: s.Offset, Z0: s.Z0, X: f.Value[0], Y: f.Value[1], Z: f.Value[2], RotationDeg: f.Value[3] * 180 / math.Pi}
	echo, ok := st.Fact("echo")
	if !ok {
		return
	}
	if ss, ok := st.Step(echo.By); ok {
		for _, a := range ss.Asks {
			if a.Kind != steps.Echo {
				continue
			}
			if t, ok := ss.Round.Get(a.Field); ok {
				r.Offset.Echoed = append(r.Offset.Echoed, Line{a.Field, t.Value})
			}
		}
	}
}

// steps are the steps in use, with their raw readings and what was read on drivers.
func (r *Record) steps(st *steps.State) {
	sys, deepest := st.Plan().System(), ""
	for i := range st.Steps {
		s := &st.Steps[i]
		if s.Verdict == steps.NotApplicable {
			continue
		}
		row := Step{ID: string(s.ID), Title: s.Title, Verdict: s.Verdict, Rounds: len(s.Rounds)}
		if s.Cause != nil {
			row.Cause = s.Cause.Words
		}
		if s.Round != nil {
			row.Readings = len(s.Round.Taken)
			for _, t := range s.Round.Taken {
				if row.At == nil || t.At.After(*row.At) {
					row.At = when(t.At)
				}
			}
			for _, a := range s.Asks {
				if t, ok := s.Round.Get(a.Field); ok && a.What.By == "driver" {
					r.Holding = append(r.Holding, Line{a.Label, t.Value})
				}
			}
		}
		for _, l := range s.Outcome.Lines {
			if l.Label == steps.DeepestCut {
				deepest = unit.Show(l.Value, l.Unit, sys, 0)
			}
		}
		for _, c := range s.Outcome.Checks {
			k := Check{Limit: c.Limit.ID, Verdict: c.Verdict, Words: c.Words}
			if !c.Count {
				k.Got, k.Guard, k.Max, k.Min = number(c.Got), number(c.Guard), number(c.Limit.Max), c.Limit.Min
			}
			row.Checks = append(row.Checks, k)
		}
		r.Steps = append(r.Steps, row)
		for _, round := range s.Rounds {
			for _, t := range round.Taken {
				r.Readings = append(r.Readings, Reading{string(s.ID), round.No, t.Field, t.Value, t.By, when(t.At), t.Before})
			}
		}
	}
	if deepest != "" {
		r.Holding = append(r.Holding, Line{steps.DeepestCut, deepest}, Line{"forces", steps.Estimate})
	}
}
