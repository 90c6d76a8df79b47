package desk

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"fliptrue/calc/clearance"
	"fliptrue/calc/ncode"
	"fliptrue/steps/fold"
)

// walked is one program followed once, against one state of the setup.
type walked struct {
	sum   *ncode.Summary
	found []ncode.Finding // of clearance
	near  []ncode.Nearest // to what stands on the table
	body  []ncode.Nearest // to the fixture
	hits  []ncode.Nearest // of what it comes too near to: where it touches
	path  [][]fold.XY     // cutting moves in plan, thinned; one point is a plunge
	err   error           // what could not be set up for it
}

// heldAgainst is what a program is held against at one point of the setup.
type heldAgainst struct {
	expect    ncode.Expect
	lenient   bool
	clear     bool                   // what stands on the table counts
	obstacles []clearance.Obstacle   // clamps, screw heads, jaws
	body      []clearance.Obstacle   // the fixture above its pocket's floor
	tools     map[int]clearance.Tool // as far as they are described
	carried   *carried               // by the screws; nil where that is not computed
}

// bodyMargins are kept from the fixture, which the cutter may come close to: the trade's
// allowance over the floor (common practice, from memory).
var bodyMargins = clearance.Margins{XY: floorRoom, Z: floorRoom}

// source is a program: read from its beginning, and where it jumps to a subprogram.
type source interface {
	io.Reader
	io.ReaderAt
}

// walk follows a program. Where it comes too near to something it is followed once more, to
// tell a touch from a margin. The error is that of the reader or of ctx.
func (a *heldAgainst) walk(ctx context.Context, r source, progress func(int64, int)) (*walked, error) {
	w, err := a.once(ctx, r, progress)
	if err != nil {
		return w, err
	}
	var close []clearance.Obstacle
	pick := func(near []ncode.Nearest, obs []clearance.Obstacle) {
		for i, n := range near {
			if !n.Clear() {
				close = append(close, obs[i])
			}
		}
	}
	pick(w.near, a.obstacles)
	pick(w.body, a.body)
	if len(close) == 0 {
		return w, nil
	}
	touch, err := ncode.NewClearance(clearance.Margins{}, close, a.tools, nil)
	if err != nil {
		w.err = err
		return w, nil
	}
	again := io.NewSectionReader(r, 0, math.MaxInt64)
	if _, err := ncode.Walk(ctx, again, ncode.Options{Expect: a.expect, Lenient: a.lenient, Progress: progress, PathOnly: true},
		touch); err != nil {
		return w, err
	}
	for _, n := range touch.Nearest() {
		if !n.Clear() {
			w.hits = append(w.hits, n)
		}
	}
	return w, nil
}

// once follows a program once.
func (a *heldAgainst) once(ctx context.Context, r source, progress func(int64, int)) (*walked, error) {
	w := &walked{}
	path := &pathSink{}
	var sink ncode.Sink = path
	var body, table *ncode.Clearance
	if a.clear {
		if body, w.err = ncode.NewClearance(bodyMargins, a.body, a.tools, path); w.err == nil {
			body.In(a.expect.Units)
			if table, w.err = ncode.NewClearance(clearance.Usual, a.obstacles, a.tools, body); w.err == nil {
				table.In(a.expect.Units)
			}
			sink = table
		}
		if w.err != nil {
			sink = path
		}
	}
	var err error
	w.sum, err = ncode.Walk(ctx, r, ncode.Options{Expect: a.expect, Lenient: a.lenient, Progress: progress, Say: a.expect.Units}, sink)
	w.path = path.lines()
	if table != nil && w.err == nil {
		w.found, w.near = table.Findings(), table.Nearest()
		for _, f := range body.Findings() {
			// What of a tool or a place is not known, the table has said already.
			if f.ID == "clearance" || len(a.obstacles) == 0 {
				w.found = append(w.found, f)
			}
		}
		w.body = body.Nearest()
	}
	return w, err
}

// key names all that a walk depends on besides the program's text.
func (a *heldAgainst) key() string {
	var b strings.Builder
	e := a.expect
	p := func(name string, v any) { fmt.Fprintf(&b, "%s=%v;", name, v) }
	p("sys", e.System)
	p("units", e.Units)
	if e.Part != nil {
		p("part", *e.Part)
	}
	p("stock", e.Stock)
	if e.Clearance != nil {
		p("clear", *e.Clearance)
	}
	p("z0", e.Z0)
	p("tools", e.Tools) // maps print in key order
	if e.Travel != nil {
		p("travel", *e.Travel)
	}
	if e.Placed != nil {
		p("placed", *e.Placed)
	}
	if e.Floor != nil {
		p("floor", *e.Floor)
	}
	p("floors", e.Floors)
	p("lengths", e.Lengths)
	p("open", e.Open)
	if a.carried != nil {
		p("carried", a.carried.key())
	}
	p("lenient", a.lenient)
	p("table", a.clear)
	for _, list := range [][]clearance.Obstacle{a.obstacles, a.body} {
		for _, o := range list {
			p(o.Name, o.Top)
			p("at", o.Outline.Corners())
		}
	}
	var ns []int
	for n := range a.tools {
		ns = append(ns, n)
	}
	slices.Sort(ns)
	for _, n := range ns {
		p("body", n)
		t := a.tools[n]
		p("is", t.Parts())
	}
	return b.String()
}

// Follow is the walk of a program in memory, computed once.
func Follow(p *fold.Plan, f fold.ProgramFile, a heldAgainst) *walked {
	return p.Files.Once(f.Hash+"|"+a.key(), func() any {
		w, err := a.walk(context.Background(), bytes.NewReader(f.Data), nil)
		if err != nil {
			w.err = err
		}
		return w
	}).(*walked)
}

// pathSink collects the cutting moves in plan. Beyond maxPath places it keeps every
// second of them, then every fourth, and so on.
type pathSink struct {
	pts   []pathPoint
	every int // of the places met, one in so many is kept
	n     int
	open  bool // the next place goes on from the last one kept
}

type pathPoint struct {
	fold.XY
	goes bool // a line leads here from the point before
}

const maxPath = 2000

func (s *pathSink) Move(m *ncode.Move) {
	if m.Away || m.Kind == ncode.Rapid || m.Known&3 != 3 || m.Ends&3 != 3 {
		s.open = false
		return
	}
	if !s.open {
		s.add(m.From[0], m.From[1])
		s.open = true
	}
	if m.Arc() {
		n := int(math.Ceil(math.Abs(m.Sweep) / 0.2))
		for i := 1; i < n; i++ {
			q := m.At(float64(i) / float64(n))
			s.add(q[0], q[1])
		}
	}
	s.add(m.To[0], m.To[1])
}

func (s *pathSink) add(x, y float64) {
	if n := len(s.pts); n > 0 && s.open && s.pts[n-1].X == x && s.pts[n-1].Y == y {
		return
	}
	s.every = max(s.every, 1)
	// A place where a line begins is kept: the line would start elsewhere without it.
	if s.n++; s.open && s.n%s.every != 0 {
		return
	}
	s.pts = append(s.pts, pathPoint{fold.XY{X: x, Y: y}, s.open})
	if len(s.pts) > maxPath {
		s.thin()
	}
}

// thin drops every second place. Where beginnings fill the list they go as well.
func (s *pathSink) thin() {
	s.every *= 2
	kept := s.pts[:0]
	for i, q := range s.pts {
		if i%2 == 0 {
			if i > 0 && !s.pts[i-1].goes && q.goes {
				q.goes = false // its line's beginning is gone: it begins here
			}
			kept = append(kept, q)
		}
	}
	s.pts = kept
}

// lines are the polylines.
func (s *pathSink) lines() [][]fold.XY {
	var out [][]fold.XY
	for _, q := range s.pts {
		if !q.goes || len(out) == 0 {
			out = append(out, nil)
		}
		k := len(out) - 1
		out[k] = append(out[k], q.XY)
	}
	return out
}
