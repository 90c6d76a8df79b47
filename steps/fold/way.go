package fold

import (
	"slices"
)

// how a fact comes to stand again.
type how int

const (
	stands how = iota
	lift       // rechecks suffice
	remake
)

// way plans what is still to do for a goal, and which part of it is a way back.
type way struct {
	x     *resolver
	hows  map[FactID]how
	seen  map[FactID]bool
	steps map[*Spec]bool
	out   bool // the part comes out on the way: what was known of it on the fixture is to be made again
}

func newWay(x *resolver) *way {
	return &way{x: x, hows: map[FactID]how{}, seen: map[FactID]bool{}, steps: map[*Spec]bool{}}
}

// toDo lists the steps that the goal still needs, in walk order: a recheck where
// it suffices, else the maker, and whatever those need in turn.
func (x *resolver) toDo(goal FactID) []*Spec {
	steps, _ := x.walk(goal)
	return steps
}

// walk is toDo with the facts that were looked at on the way: a void fact that is
// not among them has served its purpose.
func (x *resolver) walk(goal FactID) ([]*Spec, map[FactID]bool) {
	w := newWay(x)
	w.collect(goal)
	if w.takesOut() {
		w = newWay(x)
		w.out = true
		w.collect(goal)
	}
	var out []*Spec
	for s := range w.steps {
		out = append(out, s)
	}
	return x.inTurn(out), w.seen
}

// inTurn puts steps in walk order, each after those that bring back what it has to stand
// on: some rechecks have their place in the walk after a step that needs what they lift.
func (x *resolver) inTurn(need []*Spec) []*Spec {
	byOrder(x.p, need)
	hows := map[FactID]how{}
	out := slices.Contains(need, x.p.out())
	after := make([][]bool, len(need)) // which of them each takes to be begun, itself included
	w := way{x: x, hows: hows, seen: map[FactID]bool{}, steps: map[*Spec]bool{}, out: out}
	for i, sp := range need {
		clear(w.seen)
		clear(w.steps)
		w.add(sp, "")
		after[i] = make([]bool, len(need))
		for j, other := range need {
			after[i][j] = w.steps[other]
		}
	}
	turn, placed := make([]*Spec, 0, len(need)), make([]bool, len(need))
	waits := func(i int) bool {
		for j := range need {
			if j != i && !placed[j] && after[i][j] {
				return true
			}
		}
		return false
	}
	for len(turn) < len(need) {
		first, next := -1, -1
		for i := 0; i < len(need) && next < 0; i++ {
			if placed[i] {
				continue
			}
			if first < 0 {
				first = i
			}
			if !waits(i) {
				next = i
			}
		}
		if next < 0 {
			next = first // a circle, which a test forbids
		}
		turn, placed[next] = append(turn, need[next]), true
	}
	return turn
}

// how says what a fact takes to stand again, from all of its causes.
func (w *way) how(f FactID) how {
	if h, ok := w.hows[f]; ok {
		return h
	}
	w.hows[f] = remake // cuts a circle
	x := w.x
	h := remake
	if v, ok := x.version(f, x.now); ok && !(w.out && x.p.rowOut().Cell(f) == V) {
		h = stands
		for _, c := range x.causes(f, v, x.now) {
			h = max(h, w.howCause(f, c))
		}
		if v.spec != nil {
			for _, g := range v.spec.live {
				if gv, ok := x.version(g, x.now); ok && gv.round != v.round {
					h = max(h, w.how(g))
				}
			}
		}
	}
	w.hows[f] = h
	return h
}

func (w *way) howCause(f FactID, c *Cause) how {
	switch {
	case c.Cell == R && c.Fact == f:
		if len(w.rechecks(f, c)) > 0 {
			return lift
		}
		return remake
	case c.Cell == D && c.Fact != f:
		return lift // comes back with what it rests on; a live one that is remade counts above
	}
	return remake
}

// rechecks are the off-line steps that would lift the cause.
func (w *way) rechecks(f FactID, c *Cause) []*Spec {
	m, ok := w.x.p.Mishap(c.Mishap)
	if !ok {
		return nil
	}
	sp, ok := w.x.p.specs[m.Recheck(f)]
	if !ok || w.x.failed(sp.ID, f, c.Seq) {
		return nil
	}
	for _, g := range sp.against {
		gv, ok := w.x.version(g, w.x.now)
		if !ok {
			return nil
		}
		for _, gc := range w.x.causes(g, gv, w.x.now) {
			if gc.Cell == V {
				return nil
			}
		}
	}
	return []*Spec{sp}
}

// collect adds the steps that a fact needs.
func (w *way) collect(f FactID) {
	if w.seen[f] {
		return
	}
	w.seen[f] = true
	x := w.x
	switch w.how(f) {
	case stands:
	case lift:
		v, _ := x.version(f, x.now)
		for _, c := range x.causes(f, v, x.now) {
			if c.Cell == R && c.Fact == f {
				for _, sp := range w.rechecks(f, c) {
					w.add(sp, f)
				}
			}
		}
		if v.spec != nil {
			for _, g := range v.spec.Stands() {
				if g == f || slices.Contains(v.spec.Makes, g) {
					continue
				}
				if slices.Contains(v.spec.live, g) || w.behind(f, v, g) {
					w.collect(g)
				}
			}
		}
	case remake:
		if sp := w.maker(f); sp != nil {
			w.add(sp, f)
		}
	}
}

// behind says that a fact without a recheck of its own is down because of g.
func (w *way) behind(f FactID, v version, g FactID) bool {
	for _, c := range w.x.causes(f, v, w.x.now) {
		if c.Cell == D {
			if m, ok := w.x.p.Mishap(c.Mishap); ok && m.Cell(f) == D && m.Hits(g, "") {
				return true
			}
		}
	}
	return false
}

// add adds a step and what it needs to be begun; want is why.
func (w *way) add(sp *Spec, want FactID) {
	if w.steps[sp] {
		return
	}
	w.steps[sp] = true
	for _, g := range sp.Stands() {
		if g != want && !slices.Contains(sp.lifts, g) && !slices.Contains(sp.Makes, g) {
			w.collect(g)
		}
	}
	for _, g := range sp.wants {
		if _, made := w.x.version(g, w.x.now); made || w.begun(g) {
			w.collect(g)
		}
	}
	if out := w.x.p.out(); out != nil && w.needsBare(sp) && w.x.covered() {
		w.add(out, "")
	}
}

// needsBare says that the step can't be done with the part in its pocket.
func (w *way) needsBare(sp *Spec) bool {
	switch sp.Bare {
	case PartMustBeOut:
		return true
	case UnlessSeated:
		return w.how(w.x.p.kind.Out.Sits) != stands
	case OnceSeated:
		rs := w.x.s.rounds[sp.ID]
		for i := len(rs) - 1; i >= 0; i-- {
			if rs[i].First > 0 {
				res := w.x.judge(rs[i])
				return res.complete && res.verdict.OK()
			}
		}
	}
	return false
}

// begun says that the making of a fact was begun, whatever came of it.
func (w *way) begun(f FactID) bool {
	for _, sp := range w.x.p.makers[f] {
		for _, r := range w.x.s.rounds[sp.ID] {
			if r.First > 0 && slices.Contains(sp.Makes, f) {
				return true
			}
		}
	}
	return false
}

// takesOut says that the part comes out on the way.
func (w *way) takesOut() bool {
	out := w.x.p.out()
	return out != nil && w.steps[out]
}

// covered says that the part lies in its pocket: it went in, and was not taken out since.
func (x *resolver) covered() bool {
	in, out := Seq(0), Seq(0)
	for _, sp := range x.p.Line {
		if sp.Covers {
			for _, r := range x.s.rounds[sp.ID] {
				in = max(in, r.First)
			}
		}
	}
	for _, r := range x.s.rounds[x.p.kind.Out.Step] {
		if res := x.judge(r); res.complete && res.verdict.OK() {
			out = max(out, res.completeAt)
		}
	}
	return in > out
}

// maker is the step to make a fact: the one that makes least, among those that need nothing remade first.
func (w *way) maker(f FactID) *Spec {
	var best *Spec
	for _, sp := range w.x.p.makers[f] {
		if !slices.Contains(sp.Makes, f) {
			continue
		}
		if len(w.x.p.makers[f]) > 1 && !w.onLine(sp) && !w.liveStand(sp) {
			continue
		}
		if best == nil || len(sp.Makes) < len(best.Makes) {
			best = sp
		}
	}
	return best
}

func (w *way) onLine(sp *Spec) bool { return slices.Contains(w.x.p.Line, sp) }

func (w *way) liveStand(sp *Spec) bool {
	for _, g := range sp.live {
		if w.how(g) == remake {
			return false
		}
	}
	return true
}
