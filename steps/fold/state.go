package fold

import (
	"slices"
	"sync"
	"time"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
)

// State is what the events of a record mean for one setup.
type State struct {
	Setup      string
	N          Seq // events folded
	Begun      bool
	BegunAt    time.Time
	LastAt     time.Time // of the newest event of this setup
	By         string
	Walk       int         // that the record was begun with
	Steps      []StepState // the line, with the off-line steps that were used or are needed in their places
	Facts      []Known     // all made, void ones with their cause
	Cursor     Cursor
	Way        []Back   // the cheapest way back, empty when nothing was lost
	Left       []StepID // steps still to do, in order
	Mishaps    []Happened
	Waivers    []Standing
	Notes      []Note
	Ready      bool // everything passes: only the release itself is missing
	Released   bool
	Level      Level // how much its walk reads
	ReleasedAt time.Time
	TakenBack  *Cause // a release that no longer stands
	Troubles   []Trouble
	Strays     []Stray  // what no step asks for, in order of the walk
	Spared     []string // mishaps told under other setups that by today's table reach this one, and by its walk do not
	Unasked    []string // what today's steps ask and those of the record's version did not: see Earlier

	plan   *Plan
	walk   int              // that it was begun with
	left   map[FactID]Known // see Stands
	selves []Ask            // of the current step: what the program reads itself
	page   *drawn
}

// StepState is one step as it stands.
type StepState struct {
	ID      StepID
	Title   string
	Leg     string // name of the part of the walk that begins here, "" within one
	Off     bool
	Verdict Verdict
	Cause   *Cause // when void; with another verdict: what it made fell after it had served
	Needed  bool
	Round   *Round   // the newest with a reading, else the newest
	Rounds  []*Round // all, oldest first
	Asks    []Ask
	Outcome Outcome
	Pause   *Pause `json:"-"`
}

// Cursor is where the person is. It is derived, never stored.
type Cursor struct {
	Step   StepID
	Round  int      // the round that readings go to
	Open   bool     // it was opened; otherwise the first reading opens it
	Field  string   // the first wanted field not taken, "" when all are
	Form   []string // the fields answered together with it
	Decide bool     // all taken and it does not pass: read again, a new round, or waive
	Idle   bool     // nothing to do
}

// Back is one step of the way back with its cost.
type Back struct {
	Step     StepID
	Title    string
	Readings int
	Brings   []FactID
}

// Standing is a waiver in force.
type Standing struct {
	Step   StepID
	Limit  string
	Number string
	Reason string
	At     time.Time
}

// Fold is the State of the plan's setup after the events. It is pure.
func Fold(p *Plan, es []jobs.Event) State {
	l := newLog(p.house)
	for _, e := range es {
		l.Apply(e)
	}
	return l.State(p)
}

// State is what the events applied so far mean for the plan's setup.
func (l *Log) State(p *Plan) State {
	st := State{Setup: p.Setup.Name, N: l.n, plan: p, Troubles: append([]Trouble(nil), l.faults...)}
	s, ok := l.setups[p.Setup.Name]
	if !ok {
		s = &setupLog{as: p.as, rounds: map[StepID][]*Round{}}
	}
	p, err := p.asBegun(s)
	if err != nil {
		st.Troubles = append(st.Troubles, Trouble{s.begun, "the job copied into the record does not read: " + err.Error(),
			"restore the record from a copy; readings mean nothing against another job"})
	}
	st.plan = p
	st.Begun, st.BegunAt, st.LastAt, st.By, st.Walk = ok, s.beganAt, s.lastAt, s.by, s.walk
	x := newResolver(l, s, p)
	st.Mishaps = x.happened
	st.left = x.leftOver()
	st.Notes = append([]Note(nil), s.notes...)
	st.facts(x)
	st.Unasked = x.unasked()
	st.walk, st.Level = x.s.walk, x.s.level
	st.Spared = x.spared()

	goal := p.kind.Goal
	need, wanted := x.walk(goal)
	if len(need) == 0 {
		st.release(x, s)
		if st.Released && p.kind.After != "" {
			need = x.toDo(p.kind.After)
		}
	} else if s.released > 0 {
		st.TakenBack = x.firstCause(goal)
	}
	need = x.withReopened(need)
	way := need
	need = x.withUnheeded(need)
	for _, sp := range need {
		st.Left = append(st.Left, sp.ID)
	}
	for _, w := range x.unread {
		st.Strays = append(st.Strays, Stray{s.begun, w})
	}
	st.steps(x, need, wanted)
	st.grants(x)
	if w := st.lowered(s); w != nil {
		st.Waivers = append(st.Waivers, *w)
	}
	st.back(x, way)
	st.cursor(x, need)
	if len(need) > len(way) {
		st.goOn(x, way)
	}
	st.draw(x)
	l.share()
	return st
}

// share marks the rounds that a State speaks of: those of other setups were judged too, where they hand facts over.
func (l *Log) share() {
	for _, s := range l.setups {
		for _, rs := range s.rounds {
			for i := len(rs) - 1; i >= 0 && !rs[i].shared; i-- { // those before a shared one are
				rs[i].shared = true
			}
		}
	}
}

// withReopened adds the steps whose newest round was opened by choice and has no reading yet: there the person is.
// What such a step stands on comes before it, as for any other: what fell since had served, and serves again now.
func (x *resolver) withReopened(need []*Spec) []*Spec {
	n := len(need)
	w := newWay(x)
	for id, rs := range x.s.rounds {
		sp, ok := x.p.specs[id]
		if !ok || len(rs) < 2 || rs[len(rs)-1].First > 0 || slices.Contains(need, sp) {
			continue
		}
		if len(sp.Wanted(x.view(sp, rs[len(rs)-1]))) > 0 { // of lengths that all stand none is asked
			w.add(sp, "")
		}
	}
	for sp := range w.steps {
		if !slices.Contains(need, sp) {
			need = append(need, sp)
		}
	}
	if len(need) > n {
		return x.inTurn(need)
	}
	return need
}

// facts lists all facts ever made that stand or are void.
func (st *State) facts(x *resolver) {
	for _, f := range x.p.facts {
		v, ok := x.version(f, x.now)
		if !ok {
			continue
		}
		if st.Facts == nil {
			st.Facts = make([]Known, 0, len(x.p.facts))
		}
		fact := v.fact
		if cs := x.causes(f, v, x.now); len(cs) > 0 {
			fact.Void = cs[0]
		}
		st.Facts = append(st.Facts, fact)
	}
}

// release decides whether a release event stands.
func (st *State) release(x *resolver, s *setupLog) {
	last := Seq(0)
	if v, ok := x.version(x.p.kind.Goal, x.now); ok {
		last = v.last
		for _, h := range x.happened {
			if h.By != "" {
				continue
			}
			m, _ := x.p.Mishap(h.ID)
			if v.spec == nil {
				continue
			}
			for _, g := range v.spec.Stands() {
				if m.Hits(g, h.Tool) && h.Seq > last {
					last = h.Seq
				}
			}
		}
	}
	st.Released = s.released > last
	st.Ready = !st.Released
	if st.Released {
		st.ReleasedAt = s.releasedAt
	}
}

func (x *resolver) firstCause(f FactID) *Cause {
	if v, ok := x.version(f, x.now); ok {
		if cs := x.causes(f, v, x.now); len(cs) > 0 {
			return cs[0]
		}
	}
	return nil
}

// steps lists the line and the off-line steps in use, each with its verdict.
func (st *State) steps(x *resolver, need []*Spec, wanted map[FactID]bool) {
	all := append([]*Spec{}, x.p.Line...)
	for _, sp := range x.p.Off {
		if slices.Contains(need, sp) || len(x.s.rounds[sp.ID]) > 0 {
			all = append(all, sp)
		}
	}
	byOrder(x.p, all)
	st.Steps = make([]StepState, 0, len(all))
	for _, sp := range all {
		ss := StepState{ID: sp.ID, Title: sp.Title, Leg: sp.Leg, Off: !slices.Contains(x.p.Line, sp), Needed: slices.Contains(need, sp)}
		rs := x.s.rounds[sp.ID]
		ss.Pause = sp.Pause.in(len(rs) > 1)
		ss.Rounds = slices.Clip(rs)
		if len(rs) > 0 {
			ss.Round = rs[len(rs)-1]
			if ss.Round.First == 0 && len(rs) > 1 {
				ss.Round = rs[len(rs)-2]
			}
			st.judged(x, sp, &ss, wanted)
		} else {
			ss.Verdict = Waiting
			if !ss.Needed {
				ss.Verdict = NotApplicable
			}
		}
		st.Steps = append(st.Steps, ss)
	}
	for id, rs := range x.s.rounds {
		if _, ok := x.p.specs[id]; !ok {
			st.Troubles = append(st.Troubles, x.judge(rs[0]).troubles...)
		}
	}
	sortTroubles(st.Troubles)
}

// judged fills in what the readings of a step's round mean, and adds what is said of them.
func (st *State) judged(x *resolver, sp *Spec, ss *StepState, wanted map[FactID]bool) {
	res := x.judge(ss.Round)
	ss.Asks, ss.Outcome, ss.Verdict = res.asks, res.outcome, res.verdict
	if said := x.reckonedAnew(sp, ss.Round); said != "" {
		ss.Outcome.Notes = append(slices.Clone(ss.Outcome.Notes), said)
	}
	st.Troubles = append(st.Troubles, res.troubles...)
	if len(res.lacks) > 0 {
		s, c := x.tooEarly(sp, ss.Round, res.lacks[0])
		st.Strays = append(st.Strays, s)
		ss.Cause = c
	} else if res.torn != nil {
		st.Strays = append(st.Strays, x.half(sp, ss.Round, res.torn))
		ss.Cause = res.torn
	} else {
		st.Strays = append(st.Strays, ss.Round.strays(st.Setup, res)...)
	}
	if res.complete && res.verdict.OK() {
		for _, f := range sp.Makes {
			c := x.firstCause(f)
			if c == nil {
				continue
			}
			if ss.Cause = c; wanted[f] {
				ss.Verdict = Void
				break
			}
		}
	}
	for _, c := range res.outcome.Checks {
		if c.Verdict == Waived && ss.Verdict != Void {
			w, _ := ss.Round.waiver(&c)
			st.Waivers = append(st.Waivers, Standing{Step: sp.ID, Limit: c.Limit.ID, Number: c.accepted(w), Reason: w.Reason, At: w.At})
		}
	}
}

// back lists the part of the way that brings lost facts back.
func (st *State) back(x *resolver, need []*Spec) {
	lost := map[FactID]bool{}
	for _, f := range st.Facts {
		if f.Void != nil {
			lost[f.ID] = true
		}
	}
	for _, sp := range need {
		var brings []FactID
		for _, f := range append(append([]FactID{}, sp.Makes...), sp.lifts...) {
			if lost[f] {
				brings = append(brings, f)
			}
		}
		if len(brings) == 0 && sp != x.p.out() {
			continue
		}
		b := Back{Step: sp.ID, Title: sp.Title, Brings: brings}
		for _, a := range sp.Wanted(x.view(sp, nil)) {
			if !a.Optional {
				b.Readings++
			}
		}
		b.Readings = max(b.Readings, x.readings(sp))
		st.Way = append(st.Way, b)
	}
}

// readings are those that the step took when it was last done: what it asks grows with
// what is known, and before its first reading less of that is known than then.
func (x *resolver) readings(sp *Spec) int {
	rs := x.s.rounds[sp.ID]
	for i := len(rs) - 1; i >= 0; i-- {
		if res := x.judge(rs[i]); res.complete {
			n := 0
			for _, a := range res.asks {
				if !a.Optional {
					n++
				}
			}
			return n
		}
	}
	return 0
}

// cursor finds the first field not yet taken.
func (st *State) cursor(x *resolver, need []*Spec) {
	if len(need) == 0 {
		st.Cursor.Idle = true
		return
	}
	sp := need[0]
	c := Cursor{Step: sp.ID, Round: 1}
	var r *Round
	if rs := x.s.rounds[sp.ID]; len(rs) > 0 {
		r = rs[len(rs)-1]
		c.Round, c.Open = r.No, true
		if x.stale(sp, r) {
			c.Round, c.Open, r = r.No+1, false, nil
		}
	}
	var res *result
	if r != nil && r.First > 0 {
		res = x.judge(r)
	} else {
		res = x.weigh(sp, x.view(sp, r))
	}
	for _, a := range res.asks {
		taken, ok := r.Get(a.Field)
		if ok && a.Self == nil && x.fits(a, taken.Value) != nil {
			ok = false
		}
		if !ok && !a.Optional && c.Field == "" {
			c.Field = a.Field
			for _, b := range res.asks {
				if b.Field == a.Field || (a.Form != "" && b.Form == a.Form) {
					c.Form = append(c.Form, b.Field)
				}
			}
		}
	}
	c.Decide = c.Field == ""
	st.selves = res.selves
	st.Cursor = c
	for i := range st.Steps {
		if st.Steps[i].ID == sp.ID {
			ss := &st.Steps[i]
			if !c.Decide {
				ss.Verdict = Current
			}
			if r == nil || r.First == 0 {
				ss.Round, ss.Asks, ss.Outcome = r, res.asks, Outcome{}
				ss.Cause = nil
			}
		}
	}
}

// draw makes the words and the picture of the current step.
func (st *State) draw(x *resolver) {
	sp, ok := x.p.specs[st.Cursor.Step]
	if !ok || sp.Page == nil {
		return
	}
	ss, _ := st.Step(sp.ID)
	v := x.pageView(sp, ss.Round)
	v.Earlier = slices.Clone(v.Earlier) // the log goes on before it is drawn
	st.page = &drawn{spec: sp, view: v}
	if Strict { // a look at what the step did not declare is found on every walk
		st.Page()
	}
}

// drawn is a page that is drawn when somebody looks at it.
type drawn struct {
	once sync.Once
	spec *Spec
	view View
	page Page
}

// page is the step's page for a view that it may look at.
func (s *Spec) page(v View) Page {
	if Looked != nil || Asked != nil {
		v.look.ask(s.allAsks(v))
	}
	return s.Page(v)
}

// Page is the current step's words and picture.
func (st *State) Page() Page {
	d := st.page
	if d == nil {
		return Page{}
	}
	d.once.Do(func() { d.page = d.spec.page(d.view) })
	return d.page
}

// stale says that a needed step's newest round can't serve: it was hit, or what
// it stood on has changed or was not there when it began, or it passed and is needed again.
func (x *resolver) stale(sp *Spec, r *Round) bool {
	if r.First == 0 {
		return false
	}
	res := x.judge(r)
	if res.complete && res.verdict.OK() || len(res.lacks) > 0 || res.torn != nil {
		return true
	}
	for _, h := range x.happened {
		if h.Seq <= r.First {
			continue
		}
		m, _ := x.p.Mishap(h.ID)
		for _, f := range append(append(append([]FactID{}, sp.Makes...), sp.lifts...), sp.Stands()...) {
			if m.Hits(f, h.Tool) && !(h.By == sp.ID && h.Seq == r.Last) {
				return true
			}
		}
	}
	for _, c := range x.s.changes {
		if c.Seq > r.First {
			if key, _ := x.changedUnder(sp, r.First, c, x.now); key != "" {
				return true
			}
		}
	}
	for _, g := range append(append(append([]FactID{}, sp.live...), sp.asRead...), sp.binds...) {
		if v, ok := x.version(g, x.now); ok && v.last > r.First && v.round != r {
			return true
		}
	}
	return false
}

// Plan is the plan as the record began.
func (st *State) Plan() *Plan { return st.plan }

// Step finds a step's state.
func (st *State) Step(id StepID) (*StepState, bool) {
	for i := range st.Steps {
		if st.Steps[i].ID == id {
			return &st.Steps[i], true
		}
	}
	return nil, false
}

// Fact finds a fact that stands; a void one is not found.
func (st *State) Fact(id FactID) (Known, bool) {
	for _, f := range st.Facts {
		if f.ID == id && f.Void == nil {
			return f, true
		}
	}
	return Known{}, false
}

// Shown is the number as it stands in records; Against tells it from its limit.
func (c Check) Shown() string {
	if c.Count {
		return unit.Format(c.Got, unit.Count, unit.Metric, 0)
	}
	return unit.Format(c.Got, c.Limit.Unit, c.Limit.System, 0)
}

// accepted is the number that a waiver passes over: as it was repeated, where it had to be.
func (c Check) accepted(w Waiver) string {
	if c.Limit.Class == Hard {
		return w.Number
	}
	return c.Shown()
}

// accepts says that a waiver repeats the number, with the digits of Shown or of Against.
func (c Check) accepts(number string) bool {
	got, _ := c.Against()
	return number == c.Shown() || !c.Count && number == got
}
