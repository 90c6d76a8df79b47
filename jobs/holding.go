package jobs

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"fliptrue/calc/clearance"
	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
)

// Library is the shipped table of materials with what the job puts in its place. A
// material of the job's own begins with nothing known but what the job gives.
func (j *Job) Library() hold.Library {
	var l hold.Library
	for _, name := range slices.Sorted(maps.Keys(j.Materials)) {
		given := j.Materials[name]
		m, err := l.Like(name)
		if err != nil {
			m = hold.Material{Engage: 2, Peck: 1}
		}
		m.Name = name
		for _, p := range []struct {
			to *hold.Range
			v  [2]float64
		}{{&m.Kc11, given.Kc}, {&m.Crush, given.Crush}, {&m.Shear, given.Tau}, {&m.Stiffness, given.E}} {
			if p.v[0] > 0 {
				*p.to = hold.Range{Low: p.v[0], Nominal: (p.v[0] + p.v[1]) / 2, High: p.v[1], Source: given.Source, Flag: hold.Given}
			}
		}
		if given.Mc[1] > 0 {
			m.Mc = (given.Mc[0] + given.Mc[1]) / 2
		}
		if a := given.Alpha; a[0] > 0 {
			m.Expansion = hold.Range{Low: 1e6 * a[0], Nominal: 5e5 * (a[0] + a[1]), High: 1e6 * a[1], Source: given.Source, Flag: hold.Given}
		}
		l = l.With(m)
	}
	return l
}

// Convex is the outline for questions of clearance. The error is a *clearance.Fault.
func (o Outline) Convex() (clearance.Outline, error) {
	pts := make([]clearance.Point, len(o))
	for i, p := range o {
		pts[i] = clearance.Point{X: p.X, Y: p.Y}
	}
	return clearance.NewOutline(pts)
}

// convex checks an outline that has to be convex; the fault stands at its corner.
func (r *reader) convex(o Outline, path string) (clearance.Outline, bool) {
	c, err := o.Convex()
	if err == nil {
		return c, true
	}
	var f *clearance.Fault
	if !errors.As(err, &f) || r.said(path) {
		return c, false
	}
	what, hint, _ := strings.Cut(f.What, "; ")
	r.fault(join(path, strconv.Itoa(f.Corner)), what, hint)
	return c, false
}

// said reports that a fault of this path, or of something in it, was found when it was read.
func (r *reader) said(path string) bool {
	name := strings.TrimSuffix(label(path), ": ")
	return slices.ContainsFunc(r.faults, func(f Fault) bool { return strings.HasPrefix(f.What, name) })
}

// holding checks what holds a part and what stands beside it: convex outlines that do not
// stand in each other or off the table, known bolts and screw classes, tools of regions.
func (r *reader) holding(j *Job, s Setup, path string) {
	if len(r.faults) >= maxFaults {
		return
	}
	r.standing(s, path)
	for _, c := range s.Clamps {
		r.bolt(c, join(path+".clamps", c.Name), j.Unit)
	}
	for _, g := range s.Cut.Regions {
		at := join(path+".cut.regions", g.Name)
		r.convex(g.Outline, at+".outline")
		if _, ok := j.Tools[g.Tool]; g.Tool > 0 && !ok {
			r.fault(at+".tool", fmt.Sprintf("tool %d is not in the tool list", g.Tool), "add it under tools, or name one that is there")
		}
	}
	if c := s.Screws.Class; c != "" {
		if _, err := hold.ClassNamed(c); err != nil {
			what, hint := lastClause(err.Error())
			r.fault(path+".screws.class", what, hint)
		}
	}
	if t := s.Screws.Thread; t != "" {
		if _, err := hold.ThreadNamed(t); err != nil {
			what, hint := lastClause(err.Error())
			r.notes = append(r.notes, r.note(path+".screws.thread", what+": its strength is not computed", hint))
		}
	}
}

// bolt checks the bolt of a clamp, and what it is drawn to.
func (r *reader) bolt(c Clamp, at string, u unit.System) {
	if c.Bolt == "" {
		return
	}
	d, err := hold.BoltDiameter(c.Bolt)
	if err != nil {
		r.fault(at+".bolt", fmt.Sprintf("bolt %s is not understood", quote(c.Bolt)), "write M6 or 1/4-20")
		return
	}
	if most := boltTorque(float64(d)); float64(c.Torque) > most {
		r.fault(at+".torque", fmt.Sprintf("%s stretches a bolt %s for good, of the strongest class too: about %s is the most",
			quote(r.leaves[at+".torque"]), c.Bolt, unit.Show(most, unit.KTorque, u, 0)),
			"look at the unit and the decimal point, or at the bolt")
	}
}

// standing checks that what stands beside the part stands on the table, and not in one another.
func (r *reader) standing(s Setup, path string) {
	table, onTable := clearance.Outline{}, false
	if len(s.Table) > 0 {
		table, onTable = r.convex(s.Table, path+".table")
	}
	type thing struct {
		what, name, path string
		o                clearance.Outline
	}
	var all []thing
	add := func(what, name, path string, o Outline) {
		c, ok := r.convex(o, path)
		if !ok {
			return
		}
		if onTable && !table.Holds(c) {
			r.fault(path, fmt.Sprintf("%s %s stands off the table", what, quote(name)), "move it, or correct table")
		}
		all = append(all, thing{what, name, path, c})
	}
	for _, c := range s.Clamps {
		add("clamp", c.Name, join(path+".clamps", c.Name)+".outline", c.Outline)
	}
	for _, o := range s.Obstacles {
		add("obstacle", o.Name, join(path+".obstacles", o.Name)+".outline", o.Outline)
	}
	outlines := make([]clearance.Outline, len(all))
	for i, t := range all {
		outlines[i] = t.o
	}
	for _, pair := range clearance.Overlaps(outlines) {
		a, b := all[pair[0]], all[pair[1]]
		r.fault(b.path, fmt.Sprintf("%s %s stands in %s %s", b.what, quote(b.name), a.what, quote(a.name)),
			"move one of them: two things can't stand in one place")
	}
}

// boltTorque is the torque, N·mm, at which a bolt of that diameter reaches the proof stress
// of the strongest usual class: 970 MPa for 12.9 (ISO 898-1, from memory), on a stress area
// of 0.56 d² (coarse threads, computed here from ISO 724: M6 20.1 mm²), by T = 0.2 d F
// (common practice; a dry thread takes more, an oiled one less).
func boltTorque(d float64) float64 { return 0.2 * d * 970 * 0.56 * d * d }

// engagement checks the screws against the threads of the card.
func (r *reader) engagement(j *Job) {
	t := j.Fixture.Threads
	for _, s := range j.Setups {
		c := s.Screws
		if !s.Second() || c.Length <= 0 || c.Through <= 0 || t.Depth <= 0 {
			continue
		}
		washer := 0.0
		if c.Washer > 0 {
			washer = c.WasherT
		}
		show := func(mm float64) string {
			if j.Unit != 0 {
				return strconv.FormatFloat(math.Round(mm/25.4*1e4)/1e4, 'f', -1, 64) + " in"
			}
			return strconv.FormatFloat(math.Round(mm*1e3)/1e3, 'f', -1, 64) + " mm"
		}
		path := join("setups", s.Name) + ".screws.length"
		taken := washer + c.Through + t.Relief
		switch le := c.Length - taken; {
		case le <= 1e-9:
			r.fault(path, fmt.Sprintf("%s engages no thread: washer, part and relief take %s", quote(r.leaves[path]), show(taken)),
				"give a longer screw")
		case le > t.Depth+1e-9:
			r.fault(path, fmt.Sprintf("%s needs %s of thread and the fixture card has %s: the screw stands on the bottom and clamps nothing",
				quote(r.leaves[path]), show(le), show(t.Depth)),
				"give a screw of at most "+show(taken+t.Depth)+", or deeper threads")
		}
	}
}

// partMaterial checks that the part's material is known.
func (r *reader) partMaterial(j *Job) {
	if m := j.Part.Material; m != "" {
		r.material(j, "part.material", m)
	}
}

// fixtureMaterial checks that the card's material is known to the job.
func (r *reader) fixtureMaterial(j *Job, f *Fixture) {
	if f.Material != "" {
		r.material(j, "material", f.Material)
	}
}

func (r *reader) material(j *Job, path, name string) {
	if _, err := j.Library().Like(name); err != nil {
		what, _ := lastClause(err.Error())
		what = strings.Replace(what, strconv.Quote(name), quote(name), 1)
		r.fault(path, what, "use one of these, or give its numbers under materials of the job")
	}
}

// ground checks the regions of solid support.
func (r *reader) ground(f *Fixture) {
	for i, o := range f.Support {
		r.convex(o, join("support", strconv.Itoa(i)))
	}
}

// lastClause takes "what; what; what to do" apart at the last semicolon.
func lastClause(s string) (what, hint string) {
	if i := strings.LastIndex(s, "; "); i >= 0 {
		return s[:i], s[i+2:]
	}
	return s, ""
}
