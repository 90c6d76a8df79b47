package fold

import (
	"slices"
	"sort"
)

// result is what a round's readings mean, judged with the facts as they stood.
type result struct {
	asks       []Ask
	selves     []Ask // what the program reads itself
	complete   bool
	completeAt Seq // when the last wanted field was first taken
	outcome    Outcome
	verdict    Verdict
	troubles   []Trouble
	pending    []Happened
	torn       *Cause   // what tore the round
	later      []string // what is asked of today's records and not of this one
	lacks      []FactID // what had to stand at the first reading and did not: then nothing read counts
}

// memoed is a result with the plan and the signature of what it was judged from, and the
// place up to which that is known to be so.
// It holds the plan, so that no other can come to lie where that one lay.
type memoed struct {
	plan *Plan
	sig  string
	at   Seq
	res  *result
}

// resolver answers which facts stand at a place in the record. It decides
// validity by place alone and judges a round only when its meaning is asked for.
type resolver struct {
	lg       *Log
	s        *setupLog
	p        *Plan
	now      Seq
	happened []Happened // declared and raised, in order
	given    []Known
	gave     map[int][]Known     // by the cards, by how often they had changed
	differ   map[[2]int][]string // keys whose values differ, by how often the cards had changed
	unread   []string            // cards of facts taken over that could not be read
	results  map[*Round]*result
	voids    map[voidKey]*voidVal
	others   map[string]*resolver // of the setups that hand facts over, by name
}

type voidKey struct {
	f FactID
	t Seq
}

type voidVal struct{ causes []*Cause }

// version is one making of a fact.
type version struct {
	round       *Round
	spec        *Spec
	first, last Seq
	fact        Known
	from        *resolver // of an earlier setup that handed it over, nil for this setup's own
}

func newResolver(lg *Log, s *setupLog, p *Plan) *resolver {
	return resolverAmong(map[string]*resolver{}, lg, s, p)
}

// resolverAmong is a resolver that shares those of the other setups.
func resolverAmong(others map[string]*resolver, lg *Log, s *setupLog, p *Plan) *resolver {
	x := &resolver{others: others, lg: lg, s: s, p: p, now: lg.n, results: map[*Round]*result{}, voids: map[voidKey]*voidVal{},
		gave: map[int][]Known{}, differ: map[[2]int][]string{}}
	x.given = p.Given()
	for i := range x.given {
		x.given[i].First, x.given[i].Last = s.begun, s.begun
	}
	taken, unread := takenFacts(p, s.cards)
	x.unread = unread
	if len(taken) > 0 {
		for _, f := range taken {
			f.First, f.Last = s.begun-1, s.begun-1 // older than this record
			x.given = append(x.given, f)
		}
		x.happened = append(x.happened, x.nextPart()...)
	}
	for _, h := range s.happened {
		h.Tool = p.tool(h.Tool)
		x.happened = append(x.happened, h)
		if m, ok := p.Mishap(h.ID); ok && m.Also != "" {
			if also, ok := p.Mishap(m.Also); ok && x.raises(also) {
				x.happened = append(x.happened, Happened{Seq: h.Seq, At: h.At, ID: m.Also, By: StepID(h.ID)})
			}
		}
	}
	if s.walk >= tearing {
		x.happened = append(x.happened, x.reaching()...)
		sort.SliceStable(x.happened, func(i, j int) bool { return x.happened[i].Seq < x.happened[j].Seq })
	}
	x.raise()
	return x
}

// nextPart is what happened to the facts taken over: they belong to the part before.
func (x *resolver) nextPart() (out []Happened) {
	ids := []MishapID{x.p.house.Next.Mishap}
	if x.p.kind.Ended != nil {
		ids = append(ids, x.p.kind.Ended(x.p)...)
	}
	for _, id := range ids {
		if m, ok := x.p.Mishap(id); ok && x.raises(m) {
			out = append(out, Happened{Seq: x.s.begun, At: x.s.beganAt, ID: id, By: "next"})
		}
	}
	return out
}

// raises says that the record's walk knows of a mishap that is raised.
func (x *resolver) raises(m *Mishap) bool { return x.s.walk == 0 || x.s.walk >= m.Since }

// raise adds what finished steps did by themselves, earliest first, so that a
// later round is judged with the earlier raises known.
func (x *resolver) raise() {
	var rs []*Round
	for id, rounds := range x.s.rounds {
		if sp, ok := x.p.specs[id]; ok && len(sp.Raises) > 0 {
			for _, r := range rounds {
				if r.First > 0 {
					rs = append(rs, r)
				}
			}
		}
	}
	sort.Slice(rs, func(i, j int) bool { return rs[i].Last < rs[j].Last })
	for _, r := range rs { // first what needs no judging
		for _, id := range x.p.specs[r.Step].Raises {
			if m, ok := x.p.Mishap(id); ok && m.AtOnce {
				x.happened = append(x.happened, Happened{Seq: r.First, ID: id, By: r.Step})
			}
		}
	}
	sort.SliceStable(x.happened, func(i, j int) bool { return x.happened[i].Seq < x.happened[j].Seq })
	for _, r := range rs {
		res := x.judge(r)
		if !res.complete {
			continue
		}
		for _, id := range x.p.specs[r.Step].Raises {
			if m, ok := x.p.Mishap(id); ok && (m.Failing && res.verdict.OK() || !x.raises(m)) {
				continue
			}
			x.happened = append(x.happened, Happened{Seq: r.Last, ID: id, By: r.Step})
		}
		sort.SliceStable(x.happened, func(i, j int) bool { return x.happened[i].Seq < x.happened[j].Seq })
		clear(x.voids)
	}
}

// version returns the making of a fact that stands at place t, if any. A round
// of its maker with a reading replaces the one before, even unfinished.
func (x *resolver) version(f FactID, t Seq) (version, bool) {
	type cand struct {
		r   *Round
		sp  *Spec
		may bool
	}
	var cs []cand
	for _, sp := range x.p.makers[f] {
		may := !slices.Contains(sp.Makes, f)
		rounds := x.s.rounds[sp.ID]
		for i := len(rounds) - 1; i >= 0; i-- {
			if r := rounds[i]; r.First > 0 && r.First <= t {
				cs = append(cs, cand{r, sp, may})
				if !may && sp.Owns == nil {
					break // an older round of the same maker can't stand
				}
			}
		}
	}
	if len(cs) > 1 {
		sort.Slice(cs, func(i, j int) bool { return cs[i].r.First > cs[j].r.First })
	}
	for _, c := range cs {
		res := x.judge(c.r)
		fact, made := res.outcome.Fact(f)
		done := res.complete && res.completeAt <= t
		if c.may && !(done && made && res.verdict.OK()) {
			continue
		}
		if c.sp.Owns != nil && !ownsAny(c.sp, f, c.r) {
			continue
		}
		if !done || !made || !res.verdict.OK() {
			return version{}, false
		}
		fact.First, fact.Last, fact.By = c.r.First, c.r.Last, c.sp.ID
		return version{round: c.r, spec: c.sp, first: c.r.First, last: c.r.Last, fact: fact}, true
	}
	if v, ok := x.handed(f, t); ok {
		return v, true
	}
	for _, g := range x.given {
		if g.ID == f && g.First <= t {
			return version{spec: x.p.specs[g.By], first: g.First, last: g.Last, fact: g}, true
		}
	}
	return version{}, false
}

// current is the fact if it stands at place t and nothing has voided it.
func (x *resolver) current(f FactID, t Seq) (Known, bool) {
	v, ok := x.version(f, t)
	if !ok || len(x.causes(f, v, t)) > 0 {
		return Known{}, false
	}
	return v.fact, true
}

// causes lists why the version that stands at t is void, in order of place; none when it is current.
func (x *resolver) causes(f FactID, v version, t Seq) []*Cause {
	key := voidKey{f, t}
	if c, ok := x.voids[key]; ok {
		return c.causes
	}
	val := &voidVal{}
	x.voids[key] = val // cuts a circle, which the table test forbids anyway
	if v.from != nil {
		val.causes = x.handedCauses(f, v, t)
		return val.causes
	}
	out := x.struck(f, v, t)
	if v.spec != nil {
		if c := x.aged(f, v, t); c != nil {
			out = append(out, c)
		}
		out = append(out, x.bound(v, t)...)
		for _, c := range x.s.changes {
			if c.Seq > v.first && c.Seq <= t {
				if key, _ := x.changedUnder(v.spec, v.first, c, t); key != "" {
					out = append(out, &Cause{Seq: c.Seq, Fact: f, Cell: V, Words: "job changed: " + key})
				}
			}
		}
		for _, g := range v.spec.live {
			if c := x.under(v, g, t); c != nil {
				out = append(out, c)
			}
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Seq < out[j].Seq })
	val.causes = out
	return out
}

// struck are the causes that come from what happened since the first reading, by the table.
func (x *resolver) struck(f FactID, v version, t Seq) (out []*Cause) {
	for i := range x.happened {
		h := &x.happened[i]
		if h.Seq <= v.first || h.Seq > t {
			continue
		}
		m, _ := x.p.Mishap(h.ID)
		if !m.concerns(f, h) || x.settled(f, h) {
			continue
		}
		switch m.Cell(f) {
		case V:
			out = append(out, &Cause{Seq: h.Seq, Fact: f, Mishap: h.ID, Cell: V, Words: m.Words})
		case R:
			if !x.lifted(m, f, h.Seq, t) {
				out = append(out, &Cause{Seq: h.Seq, Fact: f, Mishap: h.ID, Cell: R, Words: m.Words})
			}
		case D:
			if v.spec == nil {
				continue
			}
			for _, g := range v.spec.Stands() {
				if m.Hits(g, h.Tool) && g != f && !slices.Contains(v.spec.Makes, g) && x.downBy(g, t, h) {
					out = append(out, &Cause{Seq: h.Seq, Fact: g, Mishap: h.ID, Cell: D, Words: m.Words})
					break
				}
			}
		}
	}
	return out
}

// settled says that a step had passed before something happened, after which that does not touch the fact. From the fourth walk on.
func (x *resolver) settled(f FactID, h *Happened) bool {
	if x.s.walk < settling {
		return false
	}
	for _, sp := range x.p.Line {
		if !slices.Contains(sp.Settles.Facts, f) || slices.Contains(sp.Settles.But, h.ID) {
			continue
		}
		for _, r := range x.s.rounds[sp.ID] {
			if r.First == 0 || r.Last >= h.Seq {
				continue
			}
			if res := x.judge(r); res.complete && res.completeAt < h.Seq && res.verdict.OK() {
				return true
			}
		}
	}
	return false
}

// settling is the walk from which on steps settle facts.
const settling = 4

// under is why a version falls with a live fact under it, nil where it does not.
func (x *resolver) under(v version, g FactID, t Seq) *Cause {
	gv, ok := x.version(g, t)
	switch {
	case ok && gv.round == v.round:
		return nil
	case !ok:
		return &Cause{Seq: v.last, Fact: g, Cell: V, Words: "the " + string(g) + " it rests on was lost"}
	case gv.last > v.first:
		at := gv.last
		if gv.first > v.first {
			at = gv.first
		}
		return &Cause{Seq: at, Fact: g, Cell: V, Words: string(g) + " was read again"}
	}
	down := x.causes(g, gv, t)
	if len(down) == 0 {
		return nil
	}
	c := *down[0]
	c.Cell = D
	return &c
}

// downBy says that a fact does not stand because of that very mishap, or is just being made again.
func (x *resolver) downBy(g FactID, t Seq, h *Happened) bool {
	v, ok := x.version(g, t)
	if !ok {
		return true
	}
	for _, c := range x.causes(g, v, t) {
		if c.Seq == h.Seq && c.Mishap == h.ID {
			return true
		}
	}
	return false
}

// lifted says that a recheck after the mishap passed before place t.
func (x *resolver) lifted(m *Mishap, f FactID, after, t Seq) bool {
	for _, id := range x.lifters(m, f) {
		for _, r := range x.s.rounds[id] {
			if r.First > after && r.First <= t {
				if res := x.judge(r); res.complete && res.completeAt <= t && res.lifts(f) {
					return true
				}
			}
		}
	}
	return false
}

// lifters are the steps that lift the mishap's R from the fact: the recheck of
// the table, and steps of the line that confirm it on their way.
func (x *resolver) lifters(m *Mishap, f FactID) []StepID {
	var out []StepID
	own := m.Recheck(f)
	for _, sp := range x.p.Line {
		if slices.Contains(sp.lifts, f) {
			out = append(out, sp.ID)
		}
	}
	if _, ok := x.p.specs[own]; ok {
		out = append(out, own)
	}
	return out
}

// failed says that the newest finished recheck after the mishap did not bring the fact back.
func (x *resolver) failed(step StepID, f FactID, after Seq) bool {
	rs := x.s.rounds[step]
	if len(rs) == 0 {
		return false
	}
	r := rs[len(rs)-1]
	if r.First <= after || r.First == 0 {
		return false
	}
	res := x.judge(r)
	return res.complete && !res.lifts(f)
}

// lifts says that the recheck passed, and compared something that speaks for the fact.
func (r *result) lifts(f FactID) bool {
	return r.verdict.OK() && len(r.outcome.Checks) > 0 && !slices.Contains(r.outcome.Leaves, f)
}

// Fact is a fact that the outcome gives.
func (o Outcome) Fact(f FactID) (Known, bool) {
	for _, x := range o.Facts {
		if x.ID == f {
			return x, true
		}
	}
	return Known{}, false
}

func ownsAny(sp *Spec, f FactID, r *Round) bool {
	for _, t := range r.Taken {
		if sp.Owns(f, t.Field) {
			return true
		}
	}
	return false
}
