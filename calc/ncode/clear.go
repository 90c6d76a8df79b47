package ncode

import (
	"fmt"
	"math"

	"fliptrue/calc/clearance"
)

// Clearance is a [Sink] that holds every move against what stands on the table. It
// knows for each obstacle the nearest approach and its line, also where there is room
// to spare. Rapids count as the box they span.
//
// Moves are looked at in batches of groups: a batch or a group whose box can't come
// nearer to an obstacle than what is known already is not looked at one by one.
type Clearance struct {
	next   Sink
	m      clearance.Margins
	obs    []clearance.Obstacle
	fields []*clearance.Field
	wide   map[float64][]*clearance.Field // by the radius that is added while compensation is on
	tools  map[int]clearance.Tool
	top    float64 // of the highest obstacle, margin included

	near  []Nearest
	walls []wall // by obstacle
	list  list
	say   Units
	away  bool // a move in another offset was met and said
	tool  *clearance.Tool
	parts []clearance.Cylinder // of tool
	now   int                  // the number of tool; -1 before the first

	n      int
	wider  float64 // largest radius that compensation adds in the batch
	all    span
	groups [batchSize / groupSize]span
	batch  [batchSize]Move
}

const batchSize, groupSize = 128, 16

// span is the box of some moves.
type span struct{ lo, hi [3]float64 }

var noSpan = span{[3]float64{math.Inf(1), math.Inf(1), math.Inf(1)}, [3]float64{math.Inf(-1), math.Inf(-1), math.Inf(-1)}}

func (s *span) add(m *Move) {
	if m.Arc() {
		lo, hi := m.Bounds()
		s.point(&lo)
		s.point(&hi)
		return
	}
	s.point(&m.From)
	s.point(&m.To)
}

func (s *span) point(p *[3]float64) {
	for i, v := range p {
		if v < s.lo[i] {
			s.lo[i] = v
		}
		if v > s.hi[i] {
			s.hi[i] = v
		}
	}
}

func (s *span) join(o *span) {
	for i := range 3 {
		s.lo[i], s.hi[i] = min(s.lo[i], o.lo[i]), max(s.hi[i], o.hi[i])
	}
}

// Nearest is the nearest that the path comes to one obstacle.
type Nearest struct {
	Obstacle string
	Below    bool    // some part of a tool was lower than the obstacle's top with its margin; otherwise the rest is 0
	Gap      float64 // between tool and obstacle in plan, mm; negative where they overlap, and then no less than minus the radius
	Needed   float64 // the gap that is needed: the margin, and the radius in the register while compensation is on
	Part     string  // of the tool: tool, neck, shank or holder
	Tool     int
	Rapid    bool
	At       [3]float64 // W of the tip
	Line     int
	First    int // first line that comes too near, 0 for none
}

// Clear reports whether the path keeps the gap that is needed.
func (n *Nearest) Clear() bool { return n.First == 0 }

// NewClearance makes the sink for obstacles in W of the base work offset and for the
// tools of the list by number. next, which may be nil, gets every move as well. The
// error is that of [clearance.NewField].
func NewClearance(m clearance.Margins, obstacles []clearance.Obstacle, tools map[int]clearance.Tool, next Sink) (*Clearance, error) {
	c := &Clearance{next: next, m: m, obs: obstacles, tools: tools, now: -1, top: math.Inf(-1)}
	var err error
	if c.fields, err = c.field(0); err != nil {
		return nil, err
	}
	for _, o := range obstacles {
		c.near = append(c.near, Nearest{Obstacle: o.Name})
		c.walls = append(c.walls, wall{corners: o.Outline.Corners()})
		c.top = max(c.top, o.Top+m.Z)
	}
	c.reset()
	return c, nil
}

// field makes one field an obstacle, so that each has its own nearest approach.
func (c *Clearance) field(add float64) ([]*clearance.Field, error) {
	fs := make([]*clearance.Field, len(c.obs))
	for i, o := range c.obs {
		f, err := clearance.NewField(clearance.Margins{XY: c.m.XY + add, Z: c.m.Z}, o)
		if err != nil {
			return nil, err
		}
		fs[i] = f
	}
	return fs, nil
}

func (c *Clearance) reset() {
	c.n, c.wider, c.all = 0, 0, noSpan
	for i := range c.groups {
		c.groups[i] = noSpan
	}
}

// Move takes a move.
func (c *Clearance) Move(m *Move) {
	if c.next != nil {
		c.next.Move(m)
	}
	if len(c.obs) == 0 {
		return
	}
	if m.Away {
		if c.away {
			return
		}
		c.away = true
		c.list.add(Finding{Line: m.Line, Severity: NotProven, ID: "clearance-offset", Words: SystemName(m.System),
			Hint: "where this offset lies is not known: its moves are not held against anything"})
		return
	}
	if m.High || m.M && c.leaves(m) {
		return // at the upper end of the travel, or up to it
	}
	if m.Tool != c.now {
		c.flush()
		c.now, c.tool = m.Tool, nil
		t, ok := c.tools[m.Tool]
		if !ok || len(t.Parts()) == 0 {
			c.list.add(Finding{Line: m.Line, Severity: NotProven, ID: "clearance-tool", Words: fmt.Sprintf("T%d", m.Tool),
				Hint: "its diameter, stick-out and holder are not in the list: the clearance is not proven"})
		} else {
			c.tool, c.parts = &t, t.Parts()
		}
	}
	if c.tool == nil {
		return // said above, once for each change
	}
	if m.Maybe {
		c.maybe(m)
		return
	}
	if m.Known&m.Ends != 7 {
		c.unknown(m)
		return
	}
	if m.Comp != 0 {
		c.wider = c.parts[0].R
	}
	c.groups[c.n/groupSize].add(m)
	c.batch[c.n] = *m
	if c.n++; c.n == batchSize {
		c.flush()
	}
}

// unknown takes a move from or to a place that is not wholly known: above everything
// it is clear wherever it goes.
func (c *Clearance) unknown(m *Move) {
	high := m.Ends&4 != 0 && m.To[2] >= c.top
	up := m.Known&3 == 0 && m.Ends&3 == 0 // only Z has moved yet: nothing is known to hold it against
	if high && (m.Known&4 == 0 || m.From[2] >= c.top) {
		return
	}
	if m.Ends == 7 {
		end := *m
		end.From, end.Known = m.To, 7
		end.Kind = Feed
		c.hold(&end)
		if m.Known&3 == 3 && m.From[0] == m.To[0] && m.From[1] == m.To[1] {
			return // straight down from an unknown height above: the end is its worst place
		}
	}
	words := "the place it comes from is not known"
	if up {
		words = "X and Y are not known"
	} else if m.Ends&4 == 0 {
		words = "the height is not known"
	}
	c.list.add(Finding{Line: m.Line, Severity: NotProven, ID: "clearance-start", Words: words,
		Hint: "begin with Z alone, up to above everything on the table"})
}

// leaves reports whether a move goes up, from a place that is not known, to above everything.
func (c *Clearance) leaves(m *Move) bool {
	return m.Known&4 == 0 && m.Ends&4 != 0 && m.To[2] >= c.top && m.Known&3 == m.Ends&3 && m.From[0] == m.To[0] && m.From[1] == m.To[1]
}

// maybe holds a move that only another reading makes.
func (c *Clearance) maybe(m *Move) {
	for i := range c.obs {
		f := c.fields[i]
		if m.Comp != 0 {
			f, _ = c.compensate(i)
		}
		a := f.Rapid(c.tool, point(m.From), point(m.To), clearance.ConflictsOnly())
		if a.Obstacle >= 0 && !a.Clear() {
			c.list.add(Finding{Line: m.Line, Severity: NotProven, ID: "cycle-height", Words: fmt.Sprintf("%s of T%d at Z%s passes %s too near",
				a.Part, m.Tool, c.num(m.To[2]), c.obs[i].Name),
				Hint: cycleHeight})
		}
	}
}

// In has the lengths in findings said in those units; millimetres unless it is [Inch].
func (c *Clearance) In(u Units) { c.say = u }

func (c *Clearance) num(v float64) string { return inUnits(v, c.say) }

// flush looks at the batch.
func (c *Clearance) flush() {
	if c.n == 0 {
		return
	}
	groups := c.groups[:(c.n+groupSize-1)/groupSize]
	for g := range groups {
		c.all.join(&groups[g])
	}
	for i := range c.obs {
		if !c.comes(i, &c.all) {
			continue
		}
		for g := range groups {
			if !c.comes(i, &groups[g]) {
				continue
			}
			reach := c.reach(i, groups[g].lo[2])
			for k := g * groupSize; k < min((g+1)*groupSize, c.n); k++ {
				m := &c.batch[k]
				if m.Kind != Feed || !c.walls[i].behindLine(&m.From, &m.To, reach+c.near[i].slack()) {
					c.one(i, m)
				}
			}
		}
	}
	c.reset()
}

// reach is the gap to obstacle i that is needed by what of the tool is lower than it, from
// its axis, where its tip goes down to low; minus infinity where nothing is.
func (c *Clearance) reach(i int, low float64) float64 {
	reach := math.Inf(-1)
	for k := range c.parts {
		if p := &c.parts[k]; p.R > reach && low+p.From < c.obs[i].Top+c.m.Z {
			reach = p.R
		}
	}
	return reach + c.m.XY + c.wider
}

// comes reports whether something in the box may come nearer to obstacle i than what is known.
func (c *Clearance) comes(i int, s *span) bool {
	n, reach := &c.near[i], c.reach(i, s.lo[2])
	if !n.Below {
		return reach >= 0
	}
	// Wanted: less than this between the box and the outline.
	room := reach + n.slack()
	b := c.obs[i].Outline.Box()
	dx, dy := max(b.MinX-s.hi[0], s.lo[0]-b.MaxX, 0), max(b.MinY-s.hi[1], s.lo[1]-b.MaxY, 0)
	return dx*dx+dy*dy < room*math.Abs(room) && !c.walls[i].behindBox(&s.lo, &s.hi, room)
}

// slack is the gap beyond what is needed.
func (n *Nearest) slack() float64 { return n.Gap - n.Needed }

func (c *Clearance) hold(m *Move) {
	for i := range c.obs {
		c.one(i, m)
	}
}

// one holds one move against obstacle i.
func (c *Clearance) one(i int, m *Move) {
	n := &c.near[i]
	f := c.fields[i]
	add := 0.0
	if m.Comp != 0 {
		f, add = c.compensate(i)
	}
	best := clearance.Nothing()
	if n.Below {
		best = clearance.Approach{Obstacle: -1, Distance: n.slack()}
	}
	from, to := point(m.From), point(m.To)
	var a clearance.Approach
	switch {
	case m.Kind == Rapid:
		a = f.Rapid(c.tool, from, to, best)
	case !m.Arc():
		a = f.Line(c.tool, from, to, best)
	case m.Plane == XY:
		s := math.Atan2(m.From[1]-m.Centre[1], m.From[0]-m.Centre[0])
		a = f.Arc(c.tool, clearance.Arc{Centre: clearance.Point{X: m.Centre[0], Y: m.Centre[1]}, R: m.Radius, Start: s, Sweep: m.Sweep,
			Z0: m.From[2], Z1: m.To[2]}, best)
	default:
		a = upright(f, c.tool, m, best)
	}
	if a.Obstacle < 0 {
		return
	}
	// Distance is from the axis of the tool, and Needed holds its radius.
	needed := c.m.XY + add
	radius := a.Needed - needed
	first := n.First
	if first == 0 && !a.Clear() {
		first = m.Line
	}
	*n = Nearest{Obstacle: n.Obstacle, Below: true, Gap: a.Distance - radius, Needed: needed, Part: a.Part,
		Tool: m.Tool, Rapid: m.Kind == Rapid, At: [3]float64{a.At.X, a.At.Y, a.At.Z}, Line: m.Line, First: first}
	c.walls[i].face(a.At.X, a.At.Y)
}

func point(p [3]float64) clearance.Point3 { return clearance.Point3{X: p[0], Y: p[1], Z: p[2]} }

// compensate returns the field of obstacle i with the cutter's radius added: while
// compensation is on the path may lie that much beside what is programmed.
func (c *Clearance) compensate(i int) (*clearance.Field, float64) {
	r := c.parts[0].R
	if c.wide == nil {
		c.wide = map[float64][]*clearance.Field{}
	}
	fs, ok := c.wide[r]
	if !ok {
		fs, _ = c.field(r) // the obstacles were accepted before
		c.wide[r] = fs
	}
	return fs[i], r
}

// sagitta is how far a chord may lie from its arc, mm; maxChords bounds the work of one arc.
const (
	sagitta   = 0.01
	maxChords = 5000
)

// upright holds an arc in G18 or G19 as chords, with the sagitta taken off what is left.
func upright(f *clearance.Field, t *clearance.Tool, m *Move, best clearance.Approach) clearance.Approach {
	step := math.Pi / 4
	if m.Radius > sagitta {
		step = min(step, 2*math.Acos(1-sagitta/m.Radius))
	}
	n := int(min(max(math.Ceil(math.Abs(m.Sweep)/step), 1), maxChords))
	off := m.Radius * (1 - math.Cos(m.Sweep/float64(n)/2))
	from, a := m.From, best
	a.Distance += off
	for k := range n {
		to := m.At(float64(k+1) / float64(n))
		// The arc may lie lower than its chord, and further to one side.
		p, q := from, to
		p[2], q[2] = p[2]-off, q[2]-off
		a = f.Line(t, point(p), point(q), a)
		from = to
	}
	if a.Obstacle < 0 {
		return best
	}
	a.Distance -= off
	return a
}

// Nearest returns the nearest approach to each obstacle, in their order. Call it, and
// Findings, after the walk.
func (c *Clearance) Nearest() []Nearest {
	c.flush()
	return c.near
}

// Findings returns the conflicts, and what of the clearance could not be proven.
func (c *Clearance) Findings() []Finding {
	c.flush()
	l := list{all: append([]Finding(nil), c.list.all...)}
	for i := range c.near {
		n := &c.near[i]
		if n.First == 0 {
			continue
		}
		kind := "cutting move"
		if n.Rapid {
			kind = "rapid, as the box it spans"
		}
		hint := fmt.Sprintf("%s of T%d, %s, at X%s Y%s Z%s", n.Part, n.Tool, kind, c.num(n.At[0]), c.num(n.At[1]), c.num(n.At[2]))
		if n.First != n.Line {
			hint += fmt.Sprintf("; it comes too near from line %d on", n.First)
		}
		words := fmt.Sprintf("%s: gap %s, needed %s, short %s", n.Obstacle, c.num(n.Gap), c.num(n.Needed), c.num(n.Needed-n.Gap))
		if n.Gap < 0 {
			words = fmt.Sprintf("%s: the %s goes %s into it, needed %s beside it", n.Obstacle, n.Part, c.num(-n.Gap), c.num(n.Needed))
		}
		l.all = append(l.all, Finding{Line: n.Line, Severity: Fail, ID: "clearance", Words: words, Hint: hint})
	}
	return l.sorted()
}
