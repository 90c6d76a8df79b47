package jobs

import (
	"fmt"
	"maps"
	"slices"
	"strconv"

	"fliptrue/calc/unit"
)

// outline checks what makes a list of points a polygon: three distinct corners and
// an area, not crossing itself. Whether it must be convex is for its user to say.
func (r *reader) outline(o Outline, path string) {
	const most = 500
	switch {
	case len(o) < 3:
		r.fault(path, fmt.Sprintf("an outline of %d points", len(o)), "give at least three corners")
		return
	case len(o) > most:
		r.fault(path, fmt.Sprintf("an outline of %d points", len(o)), fmt.Sprintf("give its corners, at most %d", most))
		return
	case o[0] == o[len(o)-1]:
		r.fault(path, "the last point repeats the first", "leave it out; an outline closes by itself")
		return
	}
	for i := range o {
		if o[i] == o[(i+1)%len(o)] {
			r.fault(join(path, strconv.Itoa(i+1)), "the point before is given again", "leave one out")
			return
		}
	}
	for i := range o {
		for j := i + 2; j < len(o); j++ {
			if (j+1)%len(o) != i && crosses(o[i], o[i+1], o[j], o[(j+1)%len(o)]) {
				r.fault(path, fmt.Sprintf("the outline crosses itself after points %d and %d", i+1, j+1),
					"give the corners in their order round the outline")
				return
			}
		}
	}
	if area(o) == 0 {
		r.fault(path, "the points enclose no area", "give the corners in their order round the outline")
	}
}

// area is twice the signed area of a polygon, mm²; counter-clockwise is positive.
func area(o Outline) float64 {
	var a float64
	for i, p := range o {
		q := o[(i+1)%len(o)]
		a += p.X*q.Y - q.X*p.Y
	}
	return a
}

// crosses reports whether segments ab and cd cross inside both.
func crosses(a, b, c, d Point) bool {
	side := func(p, q, r Point) float64 { return (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X) }
	return side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0
}

// machine checks what the fields of a machine card say together.
func (r *reader) machine(m *Machine) {
	r.feeds(m)
	if p := m.Probe; p != nil && p.Ball > 0 {
		for _, x := range []struct {
			key string
			r   float64
		}{{"radius", p.Radius}, {"radius-x", p.RadiusX}, {"radius-y", p.RadiusY}} {
			if x.r > 0 && (x.r > 0.6*p.Ball || x.r < 0.25*p.Ball) {
				r.fault("probe."+x.key, fmt.Sprintf("%s does not go with a ball of %s", quote(r.leaves["probe."+x.key]), quote(r.leaves["probe.ball"])),
					"ball is the diameter, radius about half of it")
			}
		}
	}
}

// fixture checks what the fields of a fixture card say together.
func (r *reader) fixture(f *Fixture) {
	a := &f.AsMade
	switch {
	case a.Stops != nil:
		r.stops(f)
	case !r.has("as-made.bore") && r.has("as-made"):
		r.fault("as-made", "neither a bore nor stops say where the fixture is", "add bore, or stops of a plain plate")
	case a.Bore2 == nil && a.Edge == nil && a.Bore.Dia > 0:
		r.fault("as-made", "neither a second bore nor an edge gives the direction", "add edge or bore2")
	}
	if b := f.AsMade.Bore2; b != nil && b.At == (Point{}) {
		r.fault("as-made.bore2.at", "the second bore stands on the first", "give its place from bore 1")
	}
	if t := f.Threads; t.Retire > 0 && t.Cycles > t.Retire {
		r.notes = append(r.notes, r.note("threads.cycles", fmt.Sprintf("%d screw cycles are past the %d at which these threads retire", t.Cycles,
			t.Retire), "renew the threads or move the holes"))
	}
}

// stops checks three edges that stand for a bore.
func (r *reader) stops(f *Fixture) {
	s := f.AsMade.Stops
	if along(s.Long) == along(s.End) {
		r.fault("as-made.stops.end", fmt.Sprintf("%s and %s lie along one line", quote(s.Long), quote(s.End)),
			"the third stop holds the side square to the long one")
	}
	for _, key := range []string{"bore", "bore2", "edge"} {
		if r.has("as-made." + key) {
			r.fault("as-made."+key, "stops already say where the fixture is and how it lies", "take out one of them")
		}
	}
}

// along is the axis that a side of the part lies along.
func along(side string) string {
	if side == "left" || side == "right" {
		return "Y"
	}
	return "X"
}

// job checks what the fields of a job say together.
func (r *reader) job(j *Job) {
	var fixture string
	for _, s := range j.Setups {
		path := join("setups", s.Name)
		r.setup(j, s, path)
		r.holding(j, s, path)
		if s.Card != "" && fixture != "" && s.Card != fixture {
			r.fault(path+".fixture", fmt.Sprintf("a second fixture %s beside %s", quote(s.Card), quote(fixture)),
				"a job has one fixture; write another job for the other")
		}
		fixture = max(fixture, s.Card)
	}
	for _, n := range slices.Sorted(maps.Keys(j.Tools)) {
		t := j.Tools[n]
		path := join("tools", strconv.Itoa(n))
		if t.Flute > 0 && t.Stickout > 0 && t.Flute > t.Stickout {
			r.fault(path+".flute", fmt.Sprintf("%s is longer than the stick-out %s", quote(r.leaves[path+".flute"]),
				quote(r.leaves[path+".stickout"])), "flute and stick-out both count from the tip")
		}
	}
	l, w, t := j.Part.Size[0], j.Part.Size[1], j.Part.Size[2]
	if l > 0 && w > 0 {
		for _, f := range j.Part.Features {
			if f.At.X < 0 || f.At.X > l || f.At.Y < 0 || f.At.Y > w {
				r.notes = append(r.notes, r.note(join("part.features", f.Name), "stands outside the part",
					"right if the part zero is no corner; else look at it again"))
			}
		}
	}
	r.moves(j)
	if g, ok := j.Part.Given["thickness"]; ok && t > 0 && (g.Value > 2*t || g.Value < t/2) {
		r.fault("part.given.thickness.value", fmt.Sprintf("%s does not go with the part's thickness %s",
			quote(r.leaves["part.given.thickness.value"]), quote(r.leaves["part.size.2"])), "look at the unit and the decimal point")
	}
}

// moves refuses what is said of a part's growth and changes nothing: the grain of a plastic, the moisture of a metal.
func (r *reader) moves(j *Job) {
	m, err := j.Library().Like(j.Part.Material)
	if err != nil {
		return // a material of the job's own: nothing is known of it
	}
	refuse := func(path, why string) {
		if r.has(path) {
			r.fault(path, why+", so it would change nothing", "take it out")
		}
	}
	if !m.Moves() {
		for _, key := range []string{"grain", "given.moisture", "given.hours"} {
			refuse("part."+key, quote(j.Part.Material)+" does not grow with its moisture")
		}
		if !m.Humid.Known() {
			refuse("part.given.humidity", quote(j.Part.Material)+" does not grow with humidity")
		}
	}
	if g, ok := j.Part.Given["humidity"]; ok && (g.Value < 1 || g.Value > 99) {
		r.fault("part.given.humidity.value", quote(r.leaves["part.given.humidity.value"])+" is no humidity", "give percent, 1 to 99")
	}
	if g, ok := j.Part.Given["moisture"]; ok && g.Value > 60 {
		r.fault("part.given.moisture.value", quote(r.leaves["part.given.moisture.value"])+" is no moisture of wood that is worked",
			"give percent of its dry mass, up to 60")
	}
}

// setup checks one setup against the rest of its job.
func (r *reader) setup(j *Job, s Setup, path string) {
	if s.Cut.Tool > 0 {
		if _, ok := j.Tools[s.Cut.Tool]; !ok {
			r.fault(path+".cut.tool", fmt.Sprintf("tool %d is not in the tool list", s.Cut.Tool), "add it under tools, or name one that is there")
		}
	}
	if (s.Second() || s.Kind == "first-side") && !r.has("part") {
		r.fault("", "key \"part\" is missing, needed by setup "+quote(s.Name), "add part: {size: [length, width, thickness], material: NAME}")
	}
	if s.Z0 != "" && s.Second() && s.Z0 == "top skin" {
		r.fault(path+".z0", "\"top skin\" is a first side's Z0", "write floor or finished top")
	}
	if s.Z0 != "" && s.Kind == "first-side" && s.Z0 == "floor" {
		r.fault(path+".z0", "\"floor\" is a second side's Z0", "write top skin or finished top")
	}
	if s.Kind == "second-side" {
		both := func(a, b string) bool { return slices.Contains(s.Against, a) && slices.Contains(s.Against, b) }
		switch {
		case s.Floating && len(s.Against) > 0:
			r.fault(path+".floating", "the part stands against walls and is floating", "keep one of against and floating")
		case !s.Floating && len(s.Against) != 2:
			if !r.has(path + ".against") {
				r.fault(path, "key \"against\" is missing", "name the two datum walls, as against: [left, away], or write floating: true")
			} else {
				r.fault(path+".against", "two datum walls are needed", "name one of left, right and one of away, toward")
			}
		case both("left", "right") || both("away", "toward") || len(s.Against) == 2 && s.Against[0] == s.Against[1]:
			r.fault(path+".against", "the two walls do not cross", "name one of left, right and one of away, toward")
		}
	}
	for i, p := range s.Screws.At {
		for k := range i {
			if s.Screws.At[k] == p {
				r.fault(join(path+".screws.at", strconv.Itoa(i)), fmt.Sprintf("the place of screw %d again", k+1), "give each screw its own place")
			}
		}
		if l, w := j.Part.Size[0], j.Part.Size[1]; l > 0 && w > 0 && (p.X < 0 || p.X > l || p.Y < 0 || p.Y > w) {
			r.notes = append(r.notes, r.note(join(path+".screws.at", strconv.Itoa(i)), "stands outside the part",
				"right if the part zero is no corner; else look at it again"))
		}
	}
	if t := j.Part.Size[2]; t > 0 && s.Screws.Through > t {
		r.fault(path+".screws.through", fmt.Sprintf("%s is more than the part's thickness %s", quote(r.leaves[path+".screws.through"]),
			quote(r.leaves["part.size.2"])), "give the part's thickness under the washer")
	}
	if c := s.Cut; s.Cut.Tool > 0 {
		if t, ok := j.Tools[c.Tool]; ok && t.Dia > 0 && c.Ae > t.Dia {
			r.fault(path+".cut.ae", fmt.Sprintf("%s is wider than the tool's diameter %s", quote(r.leaves[path+".cut.ae"]),
				quote(r.leaves[join("tools", strconv.Itoa(c.Tool))+".dia"])), "give the width of the cut")
		}
	}
	files := map[string]string{}
	for _, p := range s.Programs {
		if role, again := files[p.File]; again {
			r.fault(join(path+".programs", p.Role), fmt.Sprintf("file %s is already %s", quote(p.File), quote(role)),
				"give each program its own file")
		}
		files[p.File] = p.Role
	}
}

// inspection checks what a finished part is held against.
func (r *reader) inspection(j *Job, s Setup, path string) {
	if !slices.ContainsFunc(j.Setups, func(o Setup) bool { return o.Second() }) {
		r.fault(path+".kind", "a part is inspected against its fixture, and no setup of the job has one", "add the second side")
	}
	if m := &j.Machine; m.Dial.Graduation == 0 {
		r.fault(path+".kind", "steps are read with a dial, and the machine card has none", "add dial to the machine card")
	}
	for i, half := range []float64{j.Part.Size[1] / 2, j.Part.Size[0] / 2} {
		if half > 0 && s.Inspect.At[i] >= half {
			r.fault(path+".inspect.at", fmt.Sprintf("%s from the middle is beside a face that ends at %s", shown(j, s.Inspect.At[i]),
				shown(j, half)), "stay a few mm inside its ends")
		}
	}
	if in := s.Inspect; in.Floor[0] > 0 && j.Part.Size[0] > 0 && 2*in.Inset >= min(j.Part.Size[0], j.Part.Size[1]) {
		r.fault(path+".inspect.inset", fmt.Sprintf("%s from both faces leaves no corners", shown(j, in.Inset)), "give a smaller one")
	}
	r.inspected(j, s.Inspect, path+".inspect")
	for _, x := range []struct {
		key string
		v   [2]float64
	}{{"wall", s.Inspect.Wall}, {"floor", s.Inspect.Floor}} {
		if x.v[1] > x.v[0] {
			r.fault(path+".inspect."+x.key, "it may be out by more than it measures", "write [thickness, how far it may be out]")
		}
	}
}

// inspected checks the places that an inspection names.
func (r *reader) inspected(j *Job, in Inspect, path string) {
	if len(in.Faces) == 1 {
		r.fault(path+".faces", "one place tells no lean", "give two, far apart")
	}
	for _, q := range in.Faces {
		if q.X <= 0 || q.Y <= 0 || q.X >= j.Part.Size[0] || q.Y >= j.Part.Size[1] {
			r.fault(path+".faces", fmt.Sprintf("[%s, %s] is not on the part", shown(j, q.X), shown(j, q.Y)),
				"places count from the part's near left corner")
		}
	}
	for _, name := range in.Holes {
		if !slices.ContainsFunc(j.Part.Features, func(f Feature) bool { return f.Name == name }) {
			r.fault(path+".holes", "the part has no feature "+quote(name), "name one of part.features")
		}
	}
	if in.Finish != nil && in.Finish.Least > 0 && in.Wall[0] == 0 {
		r.fault(path+".finish.least", "no wall is measured that could become too thin", "give inspect.wall, or leave it out")
	}
}

// shown is a length in the job's unit, with it.
func shown(j *Job, mm float64) string { return unit.Show(mm, unit.KLength, j.Unit, 0) }

// has reports whether a path is in the file.
func (r *reader) has(path string) bool {
	_, ok := r.places[path]
	return ok
}

// instruments checks that what a setup finds with is on the machine card.
func (r *reader) instruments(j *Job) {
	for _, s := range j.Setups {
		path := join("setups", s.Name)
		switch {
		case s.Kind == "inspect":
			r.inspection(j, s, path)
		case (s.Kind == "fixture" || s.Kind == "reuse") && (s.Finds == "probe" && j.Machine.Probe == nil || s.Finds == "edge finder" &&
			j.Machine.Finder == nil):
			r.fault(path+".finds", "what finds pads and bores is not on the machine card", "add probe or edge-finder to the machine card")
		case s.Kind == "reuse":
			r.returned(j, s, path)
		case s.Kind == "fixture":
			r.making(j, s, path)
		case s.Kind == "tram": // the dial that sweeps it is asked for at the machine
		case s.Kind == "ball" && j.Machine.Probe == nil:
			r.fault(path+".kind", "a ball is calibrated, and the machine card has no probe", "add probe to the machine card")
		case s.Kind == "ball":
		case s.Finds == "probe" && j.Machine.Probe == nil:
			r.fault(path+".finds", "a probe is asked for, and the machine card has none",
				"add probe to the machine card, or find with dial, edge finder, pin or paper")
		case s.Finds == "edge finder" && j.Machine.Finder == nil:
			r.fault(path+".finds", "an edge finder is asked for, and the machine card has none", "add edge-finder to the machine card")
		case s.Second() && j.Fixture.AsMade.Stops != nil:
			r.stopped(j, s, path)
		case s.Second() && s.Finds == "edge finder" && j.Fixture.AsMade.Bore.Kind == "bore" && j.Machine.Finder.Dia >= j.Fixture.AsMade.Bore.Dia:
			r.fault(path+".finds", fmt.Sprintf("the edge finder's tip of %s does not go into the bore of %s", shown(j, j.Machine.Finder.Dia),
				shown(j, j.Fixture.AsMade.Bore.Dia)), "take one with a smaller tip, or find with probe, dial or pin")
		case s.Finds == "dial" && j.Machine.Dial.Graduation == 0:
			r.fault(path+".finds", "a dial is asked for, and the machine card has none", "add dial to the machine card")
		case s.Second() && s.Finds == "pin" && j.Fixture.AsMade.Bore.Kind != "bore" && j.Fixture.AsMade.Bore.Kind != "":
			r.fault(path+".finds", "a gauge pin goes into a bore, and the fixture card has a "+j.Fixture.AsMade.Bore.Kind,
				"find with probe, dial, edge finder or paper")
		case s.Second() && s.Finds == "dial" && j.Fixture.AsMade.Bore.Kind == "square":
			r.fault(path+".finds", "a dial is swept in a bore or round a pin, and the fixture card has a square",
				"find with probe, edge finder or paper")
		case s.Kind == "dowel-flip" && (j.Fixture.AsMade.Bore.Kind != "pin" || j.Fixture.AsMade.Bore2 == nil):
			r.fault(path+".kind", "the part lies on two pins, and the fixture card has no two", "write bore: {kind: pin, ...} and bore2 under as-made of the fixture card")
		case s.Kind == "soft-jaws":
			r.fault(path+".fixture", "a nest is found by its walls, and the card has no stops", "write stops under as-made of the card of the jaws")
		case s.Bore2 && j.Fixture.AsMade.Bore2 == nil:
			r.fault(path+".bore2", "a second bore is asked for, and the fixture card has none", "add bore2 under as-made of the fixture card")
		}
	}
	if j.Allowance > 0.5 {
		r.notes = append(r.notes, r.note("allowance", "a register allowance of more than half a millimetre",
			"look at the decimal point and the unit"))
	}
}

// stopped checks a part that lies against three stops.
func (r *reader) stopped(j *Job, s Setup, path string) {
	f := j.Fixture.AsMade.Stops
	if g := s.Jaws; s.Kind == "soft-jaws" && g.Most < g.Force {
		r.fault(path+".jaws.most", "the most is less than the least", "write the closing force at the mark at its least and at its most")
	}
	switch {
	case s.Kind == "dowel-flip":
		r.fault(path+".kind", "the part lies on two pins, and the fixture card has stops", "write bore: {kind: pin, ...} and bore2 under as-made of the fixture card")
	case s.Finds == "dial" || s.Finds == "pin":
		r.fault(path+".finds", "stops are touched from the side, and a "+s.Finds+" does not do that", "find with probe, edge finder or paper")
	case s.Bore2:
		r.fault(path+".bore2", "a second bore is asked for, and the fixture card has stops", "take it out")
	case len(s.Against) != 2 || !slices.Contains(s.Against, f.Long) || !slices.Contains(s.Against, f.End):
		r.fault(path+".against", "the part is not pushed against the stops of its card", fmt.Sprintf("write against: [%s, %s]", f.Long, f.End))
	}
}
