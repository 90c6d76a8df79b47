package desk

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"fliptrue/calc/clearance"
	"fliptrue/calc/frame"
	"fliptrue/calc/ncode"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// Room kept about the part (common practice, from memory).
const (
	floorRoom = 0.3 // between a cutter and the floor that the part rests on
	rapidRoom = 1.0 // between a rapid and the stock's top
	baseLeft  = 1.5 // fixture left under a hole drilled into it
)

// GetFact finds a fact that stands.
type GetFact func(fold.FactID) (fold.Known, bool)

// During is the point of the setup at which a program runs: what stands on the table then.
type During int

const (
	OnDesk    During = iota // nothing stands: words, box and travel only
	WhileHeld               // the drilling program, on the straps
	WhileCut                // all others: on the screws, or in the vise
)

// Runs says when the program of a role runs.
func Runs(p *fold.Plan, role string) During {
	if role == "drill" && p.Setup.Second() && p.Setup.HoldDown != "S" {
		return WhileHeld
	}
	return WhileCut
}

// partBox is the finished part and the stock over it in program coordinates.
func partBox(p *fold.Plan, get GetFact) (box ncode.Cuboid, stock float64) {
	l, w, t := p.Job.Part.Size[0], p.Job.Part.Size[1], p.Job.Part.Size[2]
	box.Max = [3]float64{l, w, SeatZ(p) + t}
	box.Min[2] = SeatZ(p)
	if p.Raw() {
		if p.Setup.Zero == "centre" {
			box.Min[0], box.Min[1], box.Max[0], box.Max[1] = -l/2, -w/2, l/2, w/2
		}
		box.Min[2], box.Max[2] = -t, 0 // Z0 is its finished top
		return box, p.Job.Part.Skin[0]
	}
	return box, math.Max(0, kit.ThicknessBy(p, kit.Facts(get))-t) // as measured, not as planned
}

// floors are the lowest Z that a cutter may reach, and the same for the drills.
func floors(p *fold.Plan, box ncode.Cuboid) (cutter, drills float64) {
	seat := box.Min[2]
	if p.Raw() {
		bottom := seat - p.Job.Part.Skin[1]
		drills = math.Inf(-1)
		if d := p.Setup.Vise.Parallel; d > 0 {
			drills = bottom - d + rapidRoom // the vise's bed lies under the parallels
		}
		return bottom + floorRoom, drills
	}
	cutter, drills = seat+floorRoom, math.Inf(-1)
	switch {
	case p.Setup.HoldDown == "T" && p.Job.Fixture.Threads.Relief > 0:
		drills = seat - p.Job.Fixture.Threads.Relief
	case p.Setup.HoldDown == "M" && p.Job.Fixture.AsMade.Floor.Under > 0:
		drills = seat - math.Max(0, p.Job.Fixture.AsMade.Floor.Under-baseLeft)
	}
	return cutter, drills
}

// HeldFor is what is known at that point of the setup, from the facts that stand.
func HeldFor(p *fold.Plan, get GetFact, when During, heads float64, found AsFound) heldAgainst {
	box, stock := partBox(p, get)
	clear := box.Max[2] + stock + rapidRoom
	cutter, drills := floors(p, box)
	a := heldAgainst{lenient: p.Job.Machine.Dialect != "strict", tools: map[int]clearance.Tool{}}
	a.expect = ncode.Expect{Part: &box, Stock: stock, Clearance: &clear, Floor: &cutter, Floors: map[int]float64{},
		Tools: map[int]ncode.Tool{}, Units: ncode.MM}
	e := &a.expect
	if p.Job.Unit == unit.Imperial {
		e.Units = ncode.Inch
	}
	if w, err := frame.ParseWorkOffset(p.Setup.Offset); err == nil {
		e.System = int(w)
	}
	if p.Setup.Second() {
		e.Z0 = ncode.Z0{Kind: ncode.Z0Floor, Thickness: p.Job.Part.Size[2]}
		if p.Setup.Z0 == "finished top" {
			e.Z0.Kind = ncode.Z0Top
		}
	}
	a.list(p, get, drills)
	if p.Job.Machine.Lengths == "touched-off" {
		e.Lengths = ncode.LengthsTouched
	}
	e.Open = counterbores(p)
	if f, ok := facts.Offset.By(get); ok && p.Job.Machine.Homed {
		e.Placed = &ncode.Placement{Offset: [3]float64{float64(f.X), float64(f.Y), float64(f.Z)}, Rotation: float64(f.Rot)}
		e.Travel = travel(p)
	}
	if when == OnDesk {
		return a
	}
	if when == WhileCut {
		if a.carried = carriedBy(p, found); a.carried != nil {
			e.Carries = a.carried.low
		}
	}
	a.clear = true
	a.obstacles = onTable(p, when == WhileHeld)
	if when == WhileCut {
		if top, ok := HeadTop(p, heads); ok {
			for i := range a.obstacles {
				if strings.HasPrefix(a.obstacles[i].Name, "head of screw") {
					a.obstacles[i].Top = top
				}
			}
		}
	}
	a.body = fixtureBody(p)
	return a
}

// list describes the job's tools; drills is the floor of those with a point.
func (a *heldAgainst) list(p *fold.Plan, get GetFact, drills float64) {
	e := &a.expect
	for n, t := range p.Job.Tools {
		l := ncode.Tool{Radius: t.Dia / 2, Corner: math.Min(t.Corner, t.Dia/2), Drill: t.Point > 0}
		if t.Ball {
			l.Corner = l.Radius
		}
		if f, ok := facts.Length.Of(strconv.Itoa(n)).By(get); ok {
			l.Length = float64(f.L)
		} else if k, stands := get(fold.FactID("length/" + strconv.Itoa(n))); stands && len(k.Value) == 0 && t.Stickout > 0 {
			l.Within = [2]float64{t.Stickout, math.Max(p.Limit("length.most").Max, 3*t.Stickout)}
		}
		if t.Point > 0 {
			e.Floors[n] = drills
		}
		if b, err := body(t); err == nil {
			a.tools[n] = b
			l.Body = b.Parts()[1:]
		}
		e.Tools[n] = l
	}
}

// counterbores are those that were cut into this side beforehand, about its screws.
func counterbores(p *fold.Plan) (out []ncode.Open) {
	s := p.Setup.Screws
	if !p.Setup.Second() || s.Bore <= 0 {
		return nil
	}
	seat := s.Seat
	if seat == 0 {
		seat = SeatZ(p) + s.Through
	}
	for _, q := range s.At {
		out = append(out, ncode.Open{At: [2]float64{q.X, q.Y}, Radius: s.Bore / 2, Bottom: seat})
	}
	return out
}

// travel is the machine's, nil unless all three axes are known.
func travel(p *fold.Plan) *ncode.Cuboid {
	var c ncode.Cuboid
	for i, ax := range kit.AxisName {
		t, ok := p.Job.Machine.Travel[ax]
		if !ok {
			return nil
		}
		c.Min[i], c.Max[i] = t[0], t[1]
	}
	return &c
}

// fixtureBody is the fixture about its pocket, in program coordinates, as high as its rim.
// Of a pocket that is not convex only what lies outside its hull.
func fixtureBody(p *fold.Plan) []clearance.Obstacle {
	f := &p.Job.Fixture
	depth := f.AsMade.Rim
	if depth == 0 {
		depth = f.AsMade.Floor.Depth
	}
	if !p.Setup.Second() || len(f.Pocket.Outline) < 3 || depth <= 0 {
		return nil
	}
	zero, _ := kit.PartZero(p)
	var pts []clearance.Point
	for _, q := range f.Pocket.Outline {
		pts = append(pts, clearance.Point{X: q.X - zero.X, Y: q.Y - zero.Y})
	}
	hull, err := clearance.Around(pts...)
	if err != nil {
		return nil
	}
	lo, hi := kit.FixtureBox(p)
	whole := []clearance.Point{{X: lo.X - zero.X, Y: lo.Y - zero.Y}, {X: hi.X - zero.X, Y: lo.Y - zero.Y},
		{X: hi.X - zero.X, Y: hi.Y - zero.Y}, {X: lo.X - zero.X, Y: hi.Y - zero.Y}}
	var out []clearance.Obstacle
	cs := hull.Corners()
	mid := hull.Centroid()
	for i, a := range cs {
		b := cs[(i+1)%len(cs)]
		n := clearance.Point{X: b.Y - a.Y, Y: a.X - b.X}
		if n.X*(mid.X-a.X)+n.Y*(mid.Y-a.Y) > 0 {
			n.X, n.Y = -n.X, -n.Y // outward
		}
		if o, err := clearance.Around(beyond(whole, a, n)...); err == nil {
			out = append(out, clearance.Obstacle{Name: "fixture " + wayOf(n), Outline: o, Top: SeatZ(p) + depth})
		}
	}
	return out
}

// wayOf names the side of the table to which n points.
func wayOf(n clearance.Point) string {
	switch {
	case math.Abs(n.X) >= math.Abs(n.Y) && n.X < 0:
		return "LEFT of the pocket"
	case math.Abs(n.X) >= math.Abs(n.Y):
		return "RIGHT of the pocket"
	case n.Y < 0:
		return "TOWARD YOU of the pocket"
	}
	return "AWAY of the pocket"
}

// beyond is the part of a convex polygon on the side of a to which n points.
func beyond(poly []clearance.Point, a, n clearance.Point) []clearance.Point {
	side := func(q clearance.Point) float64 { return n.X*(q.X-a.X) + n.Y*(q.Y-a.Y) }
	var out []clearance.Point
	for i, q := range poly {
		r := poly[(i+1)%len(poly)]
		s, t := side(q), side(r)
		if s >= 0 {
			out = append(out, q)
		}
		if s*t < 0 {
			k := s / (s - t)
			out = append(out, clearance.Point{X: q.X + k*(r.X-q.X), Y: q.Y + k*(r.Y-q.Y)})
		}
	}
	return out
}

// programWhy says what a finding is about, and how grave it is: those that end in a crash or
// in scrap are never waived.
var programWhy = map[string]struct {
	why   string
	class fold.Class
	named string
}{
	"offset":          {"calls the offset that was measured", fold.Never, "other-offset-number"},
	"offset-missing":  {"calls a work offset at all", fold.Hard, ""},
	"offsets":         {"calls one work offset only", fold.Hard, ""},
	"units":           {"is in the job's units", fold.Never, ""},
	"units-missing":   {"says its units before it moves", fold.Hard, ""},
	"mode-missing":    {"says G90 before it moves", fold.Hard, ""},
	"other-z0":        {"was posted for this Z0", fold.Never, "z0-other"},
	"floor":           {"stays above the floor", fold.Never, ""},
	"travel":          {"stays within the travel", fold.Never, ""},
	"tool-list":       {"calls tools of the job", fold.Hard, ""},
	"length-register": {"calls each tool with its own length", fold.Hard, ""},
	"spindle":         {"feeds with the spindle turning", fold.Hard, ""},
	"zero-shift":      {"leaves the zero where it was measured", fold.Hard, ""},
	"rotation":        {"turns nothing that was not planned", fold.Never, "rotation-left-active"},
	"rotation-left":   {"cancels its rotation", fold.Hard, "rotation-left-active"},
	"shift-left":      {"cancels its zero shift", fold.Hard, ""},
	"home-through":    {"goes home without a place on the way", fold.Hard, ""},
	"length-missing":  {"calls each tool's length before it moves", fold.Never, ""},
	"holder-in-part":  {"keeps shank and holder out of the part", fold.Never, ""},
	"rapid-in-part":   {"makes no rapid into the part", fold.Never, ""},
	"drill-sideways":  {"cuts nothing with a drill's side", fold.Never, ""},
	"rapid-low":       {"keeps rapids above the clearance plane", fold.Hard, ""},
	"clearance-tool":  {"uses tools that are fully described", fold.Soft, ""},
}

// findingChecks are one check for each kind of finding that speaks against a program, and
// what else was found as notes.
func findingChecks(id, file string, fs []ncode.Finding) (cs []fold.Check, notes []string, named string) {
	at := map[string]int{}
	for _, f := range fs {
		if f.Severity < ncode.NotProven {
			notes = append(notes, file+": "+lineWords(f))
			continue
		}
		if f.ID == "clearance" || f.ID == "z-step" {
			continue // judged by its distance, and by what the screws hold
		}
		v, key := fold.Fail, f.ID
		switch f.Severity {
		case ncode.NotProven:
			v, key = fold.NotProven, f.ID+".unproven"
		case ncode.Refused:
			key = f.ID + ".refused"
		}
		k, ok := at[key]
		if !ok {
			w, known := programWhy[f.ID]
			l := fold.Limit{ID: id + "." + key, Why: file + " " + w.why, Class: w.class}
			if !known {
				l.Why, l.Class = file+": "+strings.ReplaceAll(f.ID, "-", " "), fold.Hard
			}
			switch f.Severity {
			case ncode.NotProven:
				l.Class = fold.Soft
			case ncode.Refused: // a control may take it all the same
				l.Why, l.Class = file+" is in the language: "+strings.ReplaceAll(f.ID, "-", " "), fold.Hard
			}
			k = len(cs)
			at[key] = k
			cs = append(cs, fold.Check{Limit: l, Count: true, Verdict: v})
			if f.Severity == ncode.Fail && named == "" {
				named = w.named
			}
		}
		c := &cs[k]
		if c.Got++; c.Got <= 3 {
			c.Words = strings.TrimSpace(c.Words + " " + lineWords(f))
		}
		c.Got += float64(f.More)
	}
	for i := range cs {
		if n := cs[i].Got - 3; n > 0 {
			cs[i].Words += fmt.Sprintf(" And %.0f more like it.", n)
		}
	}
	return cs, notes, named
}

// lineWords is a finding for the person: where, what, and what to do.
func lineWords(f ncode.Finding) string {
	s := ""
	if f.Line > 0 {
		s = fmt.Sprintf("Line %d: ", f.Line)
	}
	s += f.Words
	if f.Clause != "" {
		s += " (NISTIR 6556, " + f.Clause + ")"
	}
	if f.Words != "" && f.Hint != "" {
		s += "; "
	}
	return s + f.Hint + "."
}
