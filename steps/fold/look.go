package fold

import (
	"maps"
	"slices"

	"fliptrue/jobs"
)

// If is what the setup would be if mishaps were declared: what stands, what is void and
// the way back. The log stays as it is; what was judged already is not judged anew. It
// panics on an event that is no mishap: the rounds are shared.
func (l *Log) If(p *Plan, declared ...jobs.Event) State {
	then := *l
	then.times, then.faults, then.dirt = slices.Clip(l.times), slices.Clip(l.faults), slices.Clip(l.dirt)
	then.memo, then.ahead, then.pasts = maps.Clone(l.memo), maps.Clone(l.ahead), maps.Clone(l.pasts)
	then.setups = map[string]*setupLog{}
	for name, s := range l.setups {
		c := *s
		c.happened = slices.Clip(s.happened)
		then.setups[name] = &c
	}
	for _, e := range declared {
		if e.Mishap == "" {
			panic("steps: If is asked of what is no mishap")
		}
		then.Apply(e)
	}
	return then.State(p)
}

// Page is the words and the picture of any step of the setup as it now stands;
// ok is false for a step that is not of this setup or has none.
func (l *Log) Page(p *Plan, id StepID) (pg Page, ok bool) {
	s, begun := l.setups[p.Setup.Name]
	if !begun {
		return Page{}, false
	}
	p, _ = p.asBegun(s) // State says what could not be read
	sp, ok := p.specs[id]
	if !ok || sp.Page == nil {
		return Page{}, false
	}
	var r *Round
	if rs := s.rounds[id]; len(rs) > 0 {
		r = rs[len(rs)-1]
	}
	return sp.page(newResolver(l, s, p).pageView(sp, r)), true
}

// Ahead counts what is still to be read and answered up to the next pause point that
// was not passed yet, as far as it is known now; a step may ask more once it knows more.
// next is nil when no pause point lies ahead.
func (l *Log) Ahead(p *Plan) (readings int, next *Pause) {
	s, begun := l.setups[p.Setup.Name]
	if !begun {
		return 0, nil
	}
	p, _ = p.asBegun(s) // State says what could not be read
	x := newResolver(l, s, p)
	for i, sp := range x.toDo(p.kind.Goal) {
		var r *Round
		if rs := s.rounds[sp.ID]; len(rs) > 0 && !x.stale(sp, rs[len(rs)-1]) {
			r = rs[len(rs)-1]
		}
		if _, passed := r.Get("pause"); sp.Pause != nil && !passed && (i > 0 || readings > 0) {
			return readings, sp.Pause.in(len(s.rounds[sp.ID]) > 1)
		}
		for _, a := range sp.Wanted(x.view(sp, r)) {
			if _, ok := r.Get(a.Field); !ok && !a.Optional {
				readings++
			}
		}
	}
	return readings, nil
}

// Blank is what a step may look at in a record that has only just begun.
func (p *Plan) Blank(sp *Spec) View {
	l := newLog(p.house)
	l.Apply(Begin(p.Setup.Name, nil, ""))
	return newResolver(l, l.setups[p.Setup.Name], p).pageView(sp, nil)
}

// Whence says where a fact of a setup comes from, and whether it is there.
type Whence struct {
	Here  bool   // something made it or gives it
	Setup string // the setup that makes or hands it over
	Card  bool   // no round made it: a card or the job gives it
	Void  *Cause // why it does not stand
}

// Whence says where a fact comes from for the plan's setup as the record now is.
func (l *Log) Whence(p *Plan, f FactID) Whence {
	s, ok := l.setups[p.Setup.Name]
	if !ok {
		s = &setupLog{begun: l.n, as: p.as, rounds: map[StepID][]*Round{}}
	}
	p, _ = p.asBegun(s) // State says what could not be read
	x := newResolver(l, s, p)
	v, ok := x.version(f, x.now)
	if !ok {
		return Whence{}
	}
	w := Whence{Here: true, Setup: p.Setup.Name}
	if v.from != nil {
		w.Setup = v.from.p.Setup.Name
	} else if v.round == nil {
		w.Card = true
	}
	if cs := x.causes(f, v, x.now); len(cs) > 0 {
		w.Void = cs[0]
	}
	return w
}

// Hands says that a kind of setup hands facts of that column over.
func (p *Plan) Hands(kind string, f FactID) bool { return p.house.hands(kind, f.Column()) }

// Other is the plan of another setup of the job, nil when it can't be made.
func (p *Plan) Other(setup string) *Plan { return p.other(setup) }
