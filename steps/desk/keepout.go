package desk

import (
	"fmt"
	"math"
	"slices"

	"fliptrue/calc/clearance"
	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// conflict is a tool that comes too near to something that stands there.
type conflict struct {
	sweep, Obstacle string
	part            string  // of the tool: tool, neck, shank, holder
	got, need       float64 // distance, and what is kept, mm
	hit             bool    // it touches
	at              fold.XY // place of the tip, program coordinates
	outline         []clearance.Point
}

// keepOut is what stands there against where tools go, as far as it is stated at the desk.
type keepOut struct {
	obstacles []clearance.Obstacle
	sweeps    []clearance.Sweep
	Found     []conflict
	nearest   clearance.Approach // of all; Obstacle is -1 when nothing comes into question
	Notes     []string           // what could not be judged
}

// SeatZ is the height of the pocket floor in program coordinates.
func SeatZ(p *fold.Plan) float64 {
	if p.Setup.Z0 == "finished top" {
		return -p.Job.Part.Size[2]
	}
	return 0
}

// body is a tool as cylinders.
func body(t jobs.Tool) (clearance.Tool, error) {
	d := clearance.Dims{Dia: t.Dia, Flute: t.Flute, Shank: t.Shank, Stickout: t.Stickout, Holder: t.Holder.Dia}
	if t.Neck > 0 && t.NeckDia > 0 {
		d.Neck, d.Necked = t.NeckDia, t.Flute+t.Neck
	}
	return clearance.NewTool(t.Name, d)
}

// outlined adds an obstacle; what is no convex outline is a fault of the file, said there.
func (k *keepOut) outlined(name string, o jobs.Outline, top float64) {
	if c, err := o.Convex(); err == nil {
		k.obstacles = append(k.obstacles, clearance.Obstacle{Name: name, Outline: c, Top: top})
	}
}

// sweep adds where a tool goes; a tool that is not fully described is said, never guessed.
func (k *keepOut) sweep(name string, n int, t jobs.Tool, z float64, over ...clearance.Point) {
	b, err := body(t)
	if err != nil {
		k.note(fmt.Sprintf("Keep-out of tool %d is not computed: %v.", n, err))
		return
	}
	s, err := clearance.NewSweep(name, b, z, over...)
	if err != nil {
		k.note(fmt.Sprintf("Keep-out of %s is not computed: %v.", name, err))
		return
	}
	k.sweeps = append(k.sweeps, s)
}

func (k *keepOut) note(s string) {
	if !slices.Contains(k.Notes, s) {
		k.Notes = append(k.Notes, s)
	}
}

// onTable is everything declared that stands there, in program coordinates: clamped with
// the part under its straps and not yet screwed down; else with the screw heads, or the
// jaws of a vise. The straps are off by then.
func onTable(p *fold.Plan, clamped bool) []clearance.Obstacle {
	var k keepOut
	if clamped {
		for _, c := range p.Setup.Clamps {
			k.outlined("clamp "+c.Name, c.Outline, c.Top)
		}
	} else if top, ok := HeadTop(p, 0); ok {
		r := headRadius(p)
		for i, q := range p.Setup.Screws.At {
			if d, err := clearance.Disc(clearance.Point{X: q.X, Y: q.Y}, r); err == nil {
				k.obstacles = append(k.obstacles, clearance.Obstacle{Name: fmt.Sprintf("head of screw %d", i+1), Outline: d, Top: top})
			}
		}
	}
	jaws(p, &k)
	for _, o := range p.Setup.Obstacles {
		k.outlined(o.Name, o.Outline, o.Top)
	}
	return k.obstacles
}

// DrillKeepOut is the clamps, and what else stands, against the drilling positions.
func DrillKeepOut(p *fold.Plan) keepOut {
	k := keepOut{obstacles: onTable(p, true)}
	for _, n := range Drills(p) {
		t := p.Job.Tools[n]
		z := SeatZ(p) - TipBelowSeat(t)
		for i, q := range p.Setup.Screws.At {
			k.sweep(fmt.Sprintf("hole %d with tool %d", i+1, n), n, t, z, clearance.Point{X: q.X, Y: q.Y})
		}
	}
	k.judge()
	return k
}

// CutKeepOut is what stands while side 2 is cut, screw heads first, against the regions
// of the cut that the job states.
func CutKeepOut(p *fold.Plan) keepOut {
	k := keepOut{obstacles: onTable(p, false)}
	for _, g := range p.Setup.Cut.Regions {
		n := g.Tool
		if n == 0 {
			n = p.Setup.Cut.Tool
		}
		t, ok := p.Job.Tools[n]
		if !ok {
			k.note(fmt.Sprintf("Keep-out of region %q is not computed: the job names no tool for it.", g.Name))
			continue
		}
		var over []clearance.Point
		for _, q := range g.Outline {
			over = append(over, clearance.Point{X: q.X, Y: q.Y})
		}
		k.sweep("region "+g.Name, n, t, g.Lowest, over...)
	}
	k.judge()
	return k
}

// jaws are the two jaws of a vise, beside the part along X: 60 long over each end, 40 thick.
func jaws(p *fold.Plan, k *keepOut) {
	if p.Setup.Vise.Jaw == "" {
		return
	}
	const over, thick = 60.0, 40.0
	l, w := p.Job.Part.Size[0], p.Job.Part.Size[1]
	away, toward := "fixed jaw", "moving jaw"
	if p.Setup.Vise.Jaw == "toward" {
		away, toward = toward, away
	}
	x0, y0 := 0.0, 0.0
	if p.Setup.Zero == "centre" {
		x0, y0 = -l/2, -w/2
	}
	for _, j := range []struct {
		name string
		y    float64
	}{{away, y0 + w}, {toward, y0 - thick}} {
		if o, err := clearance.Rectangle(x0-over, j.y, x0+l+over, j.y+thick); err == nil {
			k.obstacles = append(k.obstacles, clearance.Obstacle{Name: j.name, Outline: o, Top: p.Setup.Vise.JawTop})
		}
	}
}

// headRadius is half the widest of washer and head, mm.
func headRadius(p *fold.Plan) float64 {
	r := p.Setup.Screws.Washer / 2
	if t, err := hold.ThreadNamed(p.Setup.Screws.Thread); err == nil {
		if h, err := hold.HeadOf(t); err == nil {
			return math.Max(r, float64(h.Knurled)/2)
		}
		return math.Max(r, float64(t.D))
	}
	return r
}

// judge holds every sweep against every obstacle: the worst of each pair that is too near.
func (k *keepOut) judge() {
	k.nearest = clearance.Nothing()
	if len(k.obstacles) == 0 || len(k.sweeps) == 0 {
		return
	}
	all, err := clearance.NewField(clearance.Usual, k.obstacles...)
	if err != nil {
		k.note("Keep-out is not computed: " + err.Error() + ".")
		return
	}
	for i := range k.sweeps {
		k.nearest = all.Sweep(&k.sweeps[i], k.nearest)
		if all.Sweep(&k.sweeps[i], clearance.ConflictsOnly()).Obstacle < 0 {
			continue
		}
		for _, o := range k.obstacles {
			one, err := clearance.NewField(clearance.Usual, o)
			if err != nil {
				continue
			}
			a := one.Sweep(&k.sweeps[i], clearance.ConflictsOnly())
			if a.Obstacle < 0 || a.Clear() {
				continue
			}
			k.Found = append(k.Found, conflict{sweep: k.sweeps[i].Name, Obstacle: o.Name, part: a.Part, got: a.Distance, need: a.Needed,
				hit: a.Distance < a.Needed-clearance.Usual.XY, at: fold.XY{X: a.At.X, Y: a.At.Y}, outline: o.Outline.Corners()})
		}
	}
}

// words names the shortfall and what stands in the way.
func (c conflict) words(p *fold.Plan) string {
	what := "comes within the margin of"
	if c.hit {
		what = "hits"
	}
	return fmt.Sprintf("At %s the %s %s %s: %s away, %s needed, short by %s.", c.sweep, c.part, what, c.Obstacle, p.Len(c.got), p.Len(c.need),
		p.Len(c.need-c.got))
}

// checks are one an obstacle, at its worst place. A touch is never waived; a margin may be.
func (k *keepOut) Checks(p *fold.Plan, id string) []fold.Check {
	worst := map[string]conflict{}
	var order []string
	for _, c := range k.Found {
		w, seen := worst[c.Obstacle]
		if !seen {
			order = append(order, c.Obstacle)
		}
		if !seen || c.need-c.got > w.need-w.got {
			worst[c.Obstacle] = c
		}
	}
	if len(order) == 0 {
		if k.nearest.Obstacle < 0 {
			return nil
		}
		return []fold.Check{{Limit: fold.Limit{ID: id, Why: "tools pass what stands there", Class: fold.Hard}, Count: true, Verdict: fold.Pass,
			Words: fmt.Sprintf("Nearest: %s, %s away, %s needed.", k.obstacles[k.nearest.Obstacle].Name, p.Len(k.nearest.Distance),
				p.Len(k.nearest.Needed))}}
	}
	var out []fold.Check
	for _, name := range order {
		c := worst[name]
		l := fold.Limit{ID: id + "." + slug(name), Why: "tools pass " + name + "; short by", Class: fold.Hard, Unit: unit.KLength}
		if c.hit {
			l.Class = fold.Never
		}
		out = append(out, fold.Check{Limit: l, Got: c.need - c.got, Verdict: fold.Fail, Words: c.words(p)})
	}
	return out
}

// slug makes a name fit for a limit's id.
func slug(s string) string {
	b := []byte(s)
	for i, c := range b {
		if !(c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9') {
			b[i] = '-'
		}
	}
	return string(b)
}

// marks draw the conflicts.
func (k *keepOut) Marks(p *fold.Plan) []fold.Shape {
	var out []fold.Shape
	for _, c := range k.Found {
		var pts []fold.XY
		for _, q := range c.outline {
			pts = append(pts, kit.FixturePlace(p, jobs.Point{X: q.X, Y: q.Y}))
		}
		out = append(out, fold.Shape{Role: fold.RoleConflict, Name: c.Obstacle, Points: pts, Closed: true, Verdict: fold.Fail},
			fold.Shape{Role: fold.RoleConflict, Name: c.sweep, Points: []fold.XY{kit.FixturePlace(p, jobs.Point{X: c.at.X, Y: c.at.Y})},
				Verdict: fold.Fail})
	}
	return out
}

// moves suggest for each clamp in the way the smallest shift that clears everything with
// its tip still on solid support; none is an answer.
func (k *keepOut) Moves(p *fold.Plan) []string {
	var out []string
	for _, c := range p.Setup.Clamps {
		in := false
		for _, f := range k.Found {
			in = in || f.Obstacle == "clamp "+c.Name
		}
		if !in {
			continue
		}
		out = append(out, moveClamp(p, c, k))
	}
	return out
}

// moveClamp is the suggestion for one clamp.
func moveClamp(p *fold.Plan, c jobs.Clamp, k *keepOut) string {
	o, err := c.Outline.Convex()
	tip, ok := Tip(p, c)
	if err != nil || !ok {
		return fmt.Sprintf("Where clamp %q could stand is not computed: it does not lie on the part; give tip-at.", c.Name)
	}
	var others []clearance.Obstacle
	for _, b := range k.obstacles {
		if b.Name != "clamp "+c.Name {
			others = append(others, b)
		}
	}
	var table *clearance.Outline
	if t, err := p.Setup.Table.Convex(); err == nil {
		table = &t
	}
	support := support(p)
	if len(support) == 0 {
		return fmt.Sprintf("Where clamp %q could stand is not computed: the fixture card names no solid support.", c.Name)
	}
	mv := clearance.Clamp{Obstacle: clearance.Obstacle{Name: c.Name, Outline: o, Top: c.Top}, Tip: clearance.Point{X: tip.X, Y: tip.Y}}
	s, ok := mv.Move(clearance.Usual, k.sweeps, others, table, support)
	if !ok {
		return fmt.Sprintf("Clamp %q: there is no place for it as it is turned, clear of everything with its tip on solid support. Turn it, "+
			"take another, or use hold-down S.", c.Name)
	}
	return fmt.Sprintf("Move clamp %q by X %s, Y %s (%s in all): it then clears everything with its tip on solid support.", c.Name,
		unit.Signed(s.By.X, unit.KLength, p.Job.Unit, 0), unit.Signed(s.By.Y, unit.KLength, p.Job.Unit, 0), p.Len(s.Far))
}

// deskKeepOut judges both keep-outs as drawn.
func deskKeepOut(p *fold.Plan, d *Desk) {
	for _, k := range []keepOut{DrillKeepOut(p), CutKeepOut(p)} {
		d.Findings = append(d.Findings, k.Notes...)
		d.judged(k.Checks(p, "keepout")...)
		d.Findings = append(d.Findings, k.Moves(p)...)
	}
}
