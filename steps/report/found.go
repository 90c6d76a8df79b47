package report

import (
	"maps"
	"slices"
	"strconv"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/desk"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
)

// Size is one size of the part as it goes into the setup, or comes out of it.
type Size struct {
	What   string   `json:"what"`
	Value  float64  `json:"value"`
	U      *float64 `json:"u"`      // standard uncertainty; null when not known
	Given  *float64 `json:"given"`  // what the job says of it; null where it says nothing
	Source string   `json:"source"` // who says so
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
	Role string `json:"role"`
	File string `json:"file"`
	// Checksum is of the file that was judged: first 16 hex digits of its SHA-256 as the record carries it, "" when none was.
	Checksum string      `json:"checksum"`
	Verdict  string      `json:"verdict"` // of what was read of it last, "" where the record does not say
	Now      string      `json:"now"`     // of the file beside the job now, "" when it is not there
	Changed  bool        `json:"changed"` // it is another file than the record speaks of
	Box      *[6]float64 `json:"box"`     // lowest x y z and highest x y z, null when not computed
}

// Result is one number that a setup found of machine or ball.
type Result struct {
	What  string  `json:"what"`
	Value float64 `json:"value"` // mm, or a ratio
	Kind  string  `json:"kind"`  // of quantity
	kind  unit.Kind
}

// cuts says that a part is in the setup and tools cut it: it has a work offset.
func cuts(p *fold.Plan) bool { return p.Setup.Offset != "" }

// results are what this setup made of the facts that stand on the machine's card.
func (r *Record) results(st *fold.State) {
	add := func(what string, v float64, k unit.Kind) {
		r.Results = append(r.Results, Result{what, v, kindName(k), k})
	}
	if f, ok := facts.Ball.Read(served(st, facts.Ball.ID)); ok {
		add("ball radius, hits along X", float64(f.RX), unit.KLength)
		add("ball radius, hits along Y", float64(f.RY), unit.KLength)
		add("ball off the spindle's axis, X", float64(f.EX), unit.KLength)
		add("ball off the spindle's axis, Y", float64(f.EY), unit.KLength)
		add("repeat of a hit, s", float64(f.S), unit.KLength)
	}
	if f, ok := facts.Tram.Read(served(st, facts.Tram.ID)); ok {
		add("spindle to table, along X", float64(f.X), unit.KSlope)
		add("spindle to table, along Y", float64(f.Y), unit.KSlope)
	}
	if f, ok := facts.Column.Read(served(st, facts.Column.ID)); ok {
		add("Z travel, along X", float64(f.X), unit.KSlope)
		add("Z travel, along Y", float64(f.Y), unit.KSlope)
	}
	if f, ok := facts.Squared.Read(served(st, facts.Squared.ID)); ok {
		add("squareness, X per Y", float64(f.Eps), unit.KSlope)
	}
}

// surroundings are environment and instruments, from the cards and what was read.
func (r *Record) surroundings(st *fold.State) {
	j := st.Plan().Job
	show := func(v float64, k unit.Kind) string { return unit.Show(v, k, j.Unit, 0) }
	if f, ok := facts.Identity.By(st.Fact); ok && f.U > 0 && r.Fixture != nil {
		says := show(f.T, unit.KTemperature)
		if t := j.Fixture.AsMade.Temperature; t != nil {
			says += ", made at " + show(float64(*t), unit.KTemperature)
		}
		r.Environment = append(r.Environment, Line{"fixture temperature", says})
	}
	for _, key := range []string{"moisture", "hours"} {
		if g, ok := j.Part.Given[key]; ok {
			r.Environment = append(r.Environment, Line{key, unit.Format(g.Value, unit.Scalar, j.Unit, 0) + ", " + g.Source})
		}
	}
	m := &j.Machine
	r.Instruments = append(r.Instruments, Line{"machine", m.Name + ", readout " + unit.Show(m.Readout, unit.KLength, j.Unit, m.Readout)})
	if m.Probe != nil {
		r.Instruments = append(r.Instruments, Line{"probe", probeSays(st, m.Probe)})
	}
	if m.Dial.Graduation > 0 {
		says := unit.Show(m.Dial.Graduation, unit.KLength, j.Unit, m.Dial.Graduation)
		if m.Dial.ID != "" {
			says += ", " + m.Dial.ID
		}
		r.Instruments = append(r.Instruments, Line{"dial", says})
	}
	if !cuts(st.Plan()) {
		return
	}
	tram := "not known"
	if f, ok := facts.Tram.By(st.Fact); ok {
		tram = "X " + show(float64(f.X), unit.KSlope) + ", Y " + show(float64(f.Y), unit.KSlope)
	}
	r.Instruments = append(r.Instruments, Line{"tram", tram})
}

// probeSays is the probe by its card, and by what this record found of it.
func probeSays(st *fold.State, p *jobs.Probe) string {
	sys := st.Plan().Job.Unit
	show := func(v float64) string { return unit.Show(v, unit.KLength, sys, 0) }
	says := "r " + show(p.Radius) + ", s " + show(p.Repeat) + ", " + p.Source
	for _, s := range []string{p.ID, p.Date} {
		if s != "" {
			says += ", " + s
		}
	}
	return says
}

// sizes are the part's: what side 1 measured where it did, else what the job says.
func (r *Record) sizes(st *fold.State) {
	p := st.Plan()
	if !cuts(p) {
		return
	}
	of := func(key string, v unit.Length, cov fold.Cov, label string) {
		k, ok := st.Fact(fold.FactID("part/" + key))
		if !ok || k.By == "" {
			return
		}
		s := Size{What: what(key), Value: float64(v), Source: "measured on side 1"}
		if p.Setup.Vise.Grip > 0 {
			s.Source = "measured here"
		}
		if !cov.Exact() {
			s.U = number(sqrt(cov.Var(label)))
		}
		if g, ok := p.Job.Part.Given[key]; ok {
			s.Given = number(g.Value)
		}
		r.Sizes = append(r.Sizes, s)
	}
	if f, ok := facts.Thickness.By(st.Fact); ok {
		of("thickness", f.T, f.Cov, "t")
	}
	if f, ok := facts.WidthX.By(st.Fact); ok {
		of("width-x", f.W, f.Cov, "w")
	}
	if f, ok := facts.WidthY.By(st.Fact); ok {
		of("width-y", f.W, f.Cov, "w")
	}
	if f, ok := facts.Wall.By(st.Fact); ok {
		of("wall", f.T, f.Cov, "t")
	}
	for _, key := range []string{"thickness", "width-x", "width-y"} {
		g, ok := p.Job.Part.Given[key]
		if ok && !slices.ContainsFunc(r.Sizes, func(s Size) bool { return s.What == what(key) }) {
			s := Size{What: what(key), Value: g.Value, Given: number(g.Value), Source: g.Source}
			if g.U > 0 {
				s.U = number(g.U)
			}
			r.Sizes = append(r.Sizes, s)
		}
	}
}

// what is a size in words.
func what(key string) string {
	return map[string]string{"width-x": "width X", "width-y": "width Y", "wall": "wall that stays"}[key] +
		map[string]string{"thickness": "thickness"}[key]
}

func sortedTools(tools map[int]jobs.Tool) []int { return slices.Sorted(maps.Keys(tools)) }

// tools are the job's tools with their lengths, and its programs with their checksums.
func (r *Record) tools(st *fold.State) {
	p := st.Plan()
	if !cuts(p) {
		return
	}
	for _, n := range sortedTools(p.Job.Tools) {
		t := p.Job.Tools[n]
		row := Tool{Number: n, Name: t.Name, Dia: t.Dia, Stickout: t.Stickout}
		if f, ok := facts.Length.Of(strconv.Itoa(n)).By(st.Fact); ok {
			row.Length = number(float64(f.L))
		}
		r.Tools = append(r.Tools, row)
	}
	for _, f := range desk.JudgedFiles(st) {
		r.Programs = append(r.Programs, Program{Role: f.Role, File: f.File, Checksum: f.Sum, Verdict: f.Verdict.String(), Now: f.Now,
			Changed: f.Exchanged(), Box: f.Box})
	}
}
