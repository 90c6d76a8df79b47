package desk

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"fliptrue/calc/clearance"
	"fliptrue/calc/ncode"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// ProgramReport is what one program comes to against a setup. Lengths in mm.
type ProgramReport struct {
	File, Role string
	Bytes      int64
	Lines      int // of the file
	Moves      int
	Placed     bool // an offset stands: the box in M and the margins are known
	Box        *[6]float64
	Machine    *[6]float64 // of the axes that are known, NaN otherwise
	Margin     *[3]float64 // least distance to the ends of the travel, NaN where not known
	Findings   []ncode.Finding
	Near       []ncode.Nearest // to each obstacle
	Steps      []ToolStep
	Checks     []fold.Check
	Notes      []string
	Rows       []fold.Row
	Shapes     []fold.Shape // its path in plan, fixture coordinates, conflicts marked
	Named      string
}

// ToolStep is the deepest step of one tool: an upper bound.
type ToolStep struct {
	Tool, Line int
	Step       float64
}

// Verdict is the worst of the checks.
func (r *ProgramReport) Verdict() fold.Verdict { return fold.Worst(r.Checks) }

// Held reports whether every move was held against what stands there.
func (r *ProgramReport) Held() bool {
	for _, f := range r.Findings {
		if f.Severity == ncode.NotProven && strings.HasPrefix(f.ID, "clearance-") {
			return false
		}
	}
	return true
}

// parts of a report.
type Part int

const (
	Headings Part = 1 << iota // words, box and travel
	Passing                   // what stands there
	Stepping                  // the deepest step against what the screws hold
)

// Reported is a walk as checks, rows and notes; id begins the ids of its limits.
func Reported(p *fold.Plan, id, file, role string, a heldAgainst, w *walked, what Part) ProgramReport {
	r := ProgramReport{File: file, Role: role}
	if w.sum == nil || w.err != nil {
		why := "it could not be followed"
		if w.err != nil {
			why = w.err.Error()
		}
		r.Checks = append(r.Checks, fold.Check{Limit: fold.Limit{ID: id, Why: file + " can be followed", Class: fold.Soft}, Count: true,
			Verdict: fold.NotProven, Words: why + "."})
		return r
	}
	s := w.sum
	r.Bytes, r.Lines, r.Moves = s.Bytes, s.Lines, s.Moves
	r.Placed = a.expect.Placed != nil
	r.box(s, a.expect.Travel)
	r.Shapes = pathOf(p, w, a)
	if what&Headings != 0 {
		cs, notes, named := findingChecks(id, file, s.Findings)
		if len(cs) == 0 {
			cs = []fold.Check{{Limit: fold.Limit{ID: id, Why: file + " fits what was measured", Class: fold.Hard}, Count: true, Verdict: fold.Pass,
				Words: fmt.Sprintf("%d lines, %d moves.", s.Lines, s.Moves)}}
		}
		r.Checks, r.Notes, r.Named = append(r.Checks, cs...), append(r.Notes, notes...), named
		for _, f := range s.Findings {
			if f.ID != "z-step" { // judged by what the screws hold, at both ends
				r.Findings = append(r.Findings, f)
			}
		}
		r.Rows = append(r.Rows, r.boxRows(p)...)
	}
	if what&Passing != 0 {
		r.Findings = append(r.Findings, w.found...)
		cs, notes, _ := findingChecks(id, file, w.found)
		r.Checks, r.Notes = append(r.Checks, cs...), append(r.Notes, notes...)
		r.Near = append(append(r.Near, w.near...), w.body...)
		for _, c := range nearChecks(p, id, file, r.Near, w.hits) {
			if c.Verdict != fold.Pass || r.Held() { // of moves that were held against nothing no pass is told
				r.Checks = append(r.Checks, c)
			}
		}
	}
	if what&Stepping != 0 {
		stepChecks(p, id, &a, s, &r)
	}
	return r
}

// box fills the boxes in W and in M and the margins.
func (r *ProgramReport) box(s *ncode.Summary, travel *ncode.Cuboid) {
	var b, m [6]float64
	var margin [3]float64
	whole := true
	for i := range 3 {
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, x := range []*ncode.Box{&s.Feed, &s.Rapid} {
			if x.Seen(i) {
				lo, hi = math.Min(lo, x.Min[i]), math.Max(hi, x.Max[i])
			}
		}
		whole = whole && lo <= hi
		b[i], b[i+3] = lo, hi
		m[i], m[i+3], margin[i] = math.NaN(), math.NaN(), math.NaN()
		if s.Machine != nil && s.Machine.Seen(i) {
			m[i], m[i+3] = s.Machine.Min[i], s.Machine.Max[i]
		}
		if v, ok := s.Margin(travel, i); ok {
			margin[i] = v
		}
	}
	if whole {
		r.Box = &b
	}
	if s.Machine != nil {
		r.Machine = &m
	}
	if travel != nil && s.Machine != nil {
		r.Margin = &margin
	}
}

// boxRows show the boxes and the margin of each axis.
func (r *ProgramReport) boxRows(p *fold.Plan) []fold.Row {
	pair := func(b *[6]float64, i int) string {
		if math.IsNaN(b[i]) {
			return "not known"
		}
		return fmt.Sprintf("%s to %s", kit.Signed(p, b[i]), kit.Signed(p, b[i+3]))
	}
	var rows []fold.Row
	for i, ax := range kit.AxisName {
		ax = strings.ToUpper(ax)
		if r.Box == nil {
			break
		}
		text := "W " + pair(r.Box, i)
		if r.Machine != nil {
			text += "   M " + pair(r.Machine, i)
		}
		row := fold.Row{Label: r.File + " " + ax, Text: text}
		if r.Margin != nil && !math.IsNaN(r.Margin[i]) {
			row.Text += "   " + p.Len(r.Margin[i]) + " to the end of the travel"
			if row.Verdict = fold.Pass; r.Margin[i] < 0 {
				row.Verdict = fold.Fail
			}
		}
		rows = append(rows, row)
	}
	return rows
}

// nearChecks are one an obstacle that the path comes too near to, or one that it passes all. A
// touch is never waived; a margin may be.
func nearChecks(p *fold.Plan, id, file string, near, hits []ncode.Nearest) []fold.Check {
	var out []fold.Check
	var nearest *ncode.Nearest
	for _, n := range worstOfEach(near) {
		if n.Clear() {
			if nearest == nil || n.Gap-n.Needed < nearest.Gap-nearest.Needed {
				nearest = &n
			}
			continue
		}
		out = append(out, nearCheck(p, id, file, n, hits))
	}
	if len(out) > 0 || len(near) == 0 {
		return out
	}
	c := fold.Check{Limit: fold.Limit{ID: id + ".clear", Why: file + " passes what stands there", Class: fold.Hard}, Count: true,
		Verdict: fold.Pass, Words: "No part of a tool comes below the top of anything that stands there."}
	if nearest != nil {
		c.Words = fmt.Sprintf("Nearest: line %d, the %s of T%d passes %s by %s, %s needed.", nearest.Line, nearest.Part, nearest.Tool,
			nearest.Obstacle, p.Len(nearest.Gap), p.Len(nearest.Needed))
	}
	return []fold.Check{c}
}

// worstOfEach is what comes nearest to each obstacle below its top, in the order in which they are met.
func worstOfEach(near []ncode.Nearest) (out []ncode.Nearest) {
	for _, n := range near {
		if !n.Below {
			continue
		}
		i := slices.IndexFunc(out, func(w ncode.Nearest) bool { return w.Obstacle == n.Obstacle })
		switch {
		case i < 0:
			out = append(out, n)
		case n.Gap-n.Needed < out[i].Gap-out[i].Needed:
			out[i] = n
		}
	}
	return out
}

// nearCheck is an obstacle that the path comes too near to; one of the hits is it where it is touched.
func nearCheck(p *fold.Plan, id, file string, n ncode.Nearest, hits []ncode.Nearest) fold.Check {
	name := n.Obstacle
	l := fold.Limit{ID: id + "." + slug(name), Why: file + " passes " + name + "; short by", Class: fold.Hard, Unit: unit.KLength,
		System: p.Job.Unit}
	words := fmt.Sprintf("Line %d: the %s of T%d comes within %s of %s at %s, %s needed, short by %s.", n.Line, n.Part, n.Tool, p.Len(n.Gap),
		name, at(p, n.At), p.Len(n.Needed), p.Len(n.Needed-n.Gap))
	if n.Gap < 0 {
		over := clearance.Usual.Z
		if strings.HasPrefix(name, "fixture ") {
			over = bodyMargins.Z
		}
		words = fmt.Sprintf("Line %d: the %s of T%d passes over %s at %s, nearer than the %s that are kept over a top.", n.Line, n.Part, n.Tool,
			name, at(p, n.At), p.Len(over))
	}
	for _, h := range hits {
		if h.Obstacle == name {
			l.Class = fold.Never
			words = fmt.Sprintf("Line %d: the %s of T%d hits %s at %s, %s deep.", h.Line, h.Part, h.Tool, name, at(p, h.At), p.Len(-h.Gap))
			n = h
			break
		}
	}
	if n.Rapid {
		words += " A rapid counts as the box it spans."
	}
	if n.First != n.Line && n.First > 0 {
		words += fmt.Sprintf(" It comes too near from line %d on.", n.First)
	}
	return fold.Check{Limit: l, Got: n.Needed - n.Gap, Verdict: fold.Fail, Words: words}
}

// at is a place in W.
func at(p *fold.Plan, v [3]float64) string {
	return fmt.Sprintf("X%s Y%s Z%s", p.Num(v[0]), p.Num(v[1]), p.Num(v[2]))
}

// CheckProgram follows a program as long as it may be and holds it against the setup as it
// stands: the facts of st, nil at the desk. Role may be "" for a program that the job does
// not name: it then counts as running now. progress, which may be nil, is told of bytes and
// lines read. The error is that of the reader or of ctx.
func CheckProgram(p *fold.Plan, ctx context.Context, file, role string, r source, st *fold.State, progress func(int64, int)) (
	ProgramReport, error) {
	get := func(fold.FactID) (fold.Known, bool) { return fold.Known{}, false }
	when := Runs(p, role)
	var found AsFound
	heads := 0.0
	if st != nil {
		p, get = st.Plan(), st.Fact
		if _, on := get("clamps"); on && role == "" {
			when = WhileHeld
		}
		if s, ok := facts.Screws.By(get); ok {
			heads = float64(s.Head)
		}
		found = ScrewsFound(p, fold.Outside(p, factsOf(st)))
	}
	a := HeldFor(p, get, when, heads, found)
	w, err := a.walk(ctx, r, progress)
	if err != nil {
		return ProgramReport{File: file, Role: role}, err
	}
	what := Headings | Passing
	if when == WhileCut {
		what |= Stepping
	}
	return Reported(p, "program."+roleOr(role), file, role, a, w, what), nil
}

func roleOr(role string) string {
	if role == "" {
		return "file"
	}
	return role
}

// factsOf are the facts that stand.
func factsOf(st *fold.State) map[fold.FactID]fold.Known {
	out := map[fold.FactID]fold.Known{}
	for _, f := range st.Facts {
		if f.Void == nil {
			out[f.ID] = f
		}
	}
	return out
}
