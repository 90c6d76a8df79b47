package fold

import (
	"fmt"
	"math"
	"slices"
)

// Setups of one record hand facts over. A first side leaves what it made of the part,
// a ball calibration the ball, a tram the spindle's lean. The setup that looks for such
// a fact and makes none itself finds it where it was made: judged by that setup's own
// plan, at the place in the record that is asked for, with its covariance. Nothing is
// copied, so that what is done again there is done again here.
//
// Part facts bind (Spec.Binds): what was read while they stood falls when they are lost
// or measured again, since the part was out of its seat then. Values that the job gives
// serve where no other setup of the record measured them.

// day in hours, for ages.
const day = 24

// handed is the version of a fact that another setup of the record hands over at place
// t. Of the machine's own facts the newer one counts, this setup's card or the other setup.
func (x *resolver) handed(f FactID, t Seq) (version, bool) {
	var best version
	found := false
	for _, o := range x.kin(f) {
		v, ok := o.version(f, t)
		if !ok || v.round == nil || o.aged(f, v, t) != nil {
			continue // an old one is as good as none: a card's may still be said
		}
		if !found || v.first > best.first {
			best, found = v, true
			best.from = o
		}
	}
	if found && f.Column() != "part" {
		for _, g := range x.given {
			if g.ID == f && g.First > best.first {
				return version{}, false
			}
		}
	}
	return best, found
}

// kin are the resolvers of the begun setups that hand such a fact over, in the job's order.
func (x *resolver) kin(f FactID) []*resolver {
	var out []*resolver
	col := f.Column()
	if x.p.house.hands(x.p.Setup.Kind, col) {
		return nil // it makes its own
	}
	for _, s := range x.p.Job.Setups {
		if s.Name == x.p.Setup.Name { // nothing is handed to itself
			continue
		}
		if !x.p.house.hands(s.Kind, col) && (len(x.p.makers[f]) > 0 || !x.p.house.shows(s.Kind, col)) {
			continue
		}
		if o := x.sibling(s.Name); o != nil && len(o.p.makers[f]) > 0 { // two that make none would ask each other for ever
			out = append(out, o)
		}
	}
	return out
}

// sibling is the resolver of another setup of the record, nil when it is not begun, or
// its job does not read: then nothing is taken from it.
func (x *resolver) sibling(name string) *resolver {
	if o, ok := x.others[name]; ok {
		return o
	}
	var o *resolver
	if log, begun := x.lg.setups[name]; begun {
		if p := x.p.other(name); p != nil {
			if p, err := p.asBegun(log); err == nil {
				o = resolverAmong(x.others, x.lg, log, p)
			}
		}
	}
	x.others[name] = o
	return o
}

// other is the plan of another setup of the job, nil when it can't be made.
func (p *Plan) other(name string) *Plan {
	k := p.kin
	k.mu.Lock()
	defer k.mu.Unlock()
	if q, ok := k.plans[name]; ok {
		return q
	}
	q, err := newPlan(p.house, p.Job, name, &Files{}, as{})
	if err != nil {
		q = nil
	} else {
		q.kin = k
	}
	k.plans[name] = q
	return q
}

// Handed are the facts that the plan's steps look for and that other setups may hand over.
func (p *Plan) Handed() []FactID {
	var out []FactID
	for _, s := range append(append([]*Spec{}, p.Line...), p.Off...) {
		for _, list := range [][]FactID{s.live, s.asRead, s.wants, s.seen, s.binds} {
			for _, f := range list {
				if slices.Contains(out, f) {
					continue
				}
				for _, o := range p.Job.Setups {
					if o.Name != p.Setup.Name && (p.house.hands(o.Kind, f.Column()) || len(p.makers[f]) == 0 && p.house.shows(o.Kind, f.Column())) {
						out = append(out, f)
						break
					}
				}
			}
		}
	}
	return out
}

// handedCauses are the causes that a fact of another setup is void: those of that setup,
// what was declared here since, and what happened to the machine anywhere, unless a
// recheck lifted it there or here. No fact that is handed over has a D in the table.
func (x *resolver) handedCauses(f FactID, v version, t Seq) []*Cause {
	o := v.from
	v.from = nil
	out := append([]*Cause{}, o.causes(f, v, t)...)
	add := func(h Happened, name string) {
		m, ok := x.p.Mishap(h.ID)
		if !ok || h.Seq <= v.first || h.Seq > t || !m.Hits(f, h.Tool) {
			return
		}
		c := m.Cell(f)
		if c == R {
			if x.lifted(m, f, h.Seq, t) {
				return
			}
			if o := x.sibling(name); o != nil && o.lifted(m, f, h.Seq, t) {
				return
			}
		}
		out = append(out, &Cause{Seq: h.Seq, Fact: f, Mishap: h.ID, Cell: c, Words: m.Words})
	}
	for _, h := range x.happened {
		if h.From == "" {
			add(h, "")
		}
	}
	for _, name := range x.lg.names() {
		if s := x.lg.setups[name]; s != x.s && s != o.s {
			for _, h := range s.happened {
				add(h, name)
			}
		}
	}
	sortCauses(out)
	return out
}

// aged says that more time than the step's Keeps lies between what was read and a later
// event up to t; the cause is the first such event. No clock is asked.
func (x *resolver) aged(f FactID, v version, t Seq) *Cause {
	if v.spec == nil || v.spec.Keeps == 0 || v.round == nil {
		return nil
	}
	made := x.lg.times[v.last-1]
	for s := v.last + 1; s <= t; s++ {
		if d := x.lg.times[s-1].Sub(made); d > v.spec.Keeps {
			return &Cause{Seq: s, Fact: f, Cell: V, Words: fmt.Sprintf("%s is %.0f days old", f, math.Floor(d.Hours()/day))}
		}
	}
	return nil
}

// bound are the causes that come from what the version's step Binds: what was there when
// it was read and is lost, and what was not there then and is now, or was made again.
func (x *resolver) bound(v version, t Seq) []*Cause {
	var out []*Cause
	for _, g := range v.spec.binds {
		then, had := x.version(g, v.first-1)
		now, has := x.version(g, t)
		if !had && !has {
			continue
		}
		if !had || !has || then.round != now.round || now.last > v.first {
			out = append(out, &Cause{Seq: x.touched(g, v.first, t), Fact: g, Cell: V, Words: string(g) + " was measured again"})
			continue
		}
		stood, down := len(x.causes(g, then, v.first-1)) == 0, x.causes(g, now, t)
		switch {
		case stood && len(down) > 0:
			d := *down[0]
			for _, c := range down { // the first since; one that tells an older place came since too
				if c.Seq > v.first {
					d = *c
					break
				}
			}
			d.Cell = V
			out = append(out, &d)
		case !stood && len(down) == 0:
			out = append(out, &Cause{Seq: x.touched(g, v.first, t), Fact: g, Cell: V, Words: string(g) + " came back after it"})
		}
	}
	return out
}

// touched is the first place after which a fact's makers read anything, here or where it is handed over.
func (x *resolver) touched(g FactID, after, t Seq) Seq {
	at := t
	for _, o := range append([]*resolver{x}, x.kin(g)...) {
		for _, sp := range append(append([]*Spec{}, o.p.Line...), o.p.Off...) {
			if !slices.Contains(sp.Makes, g) {
				continue
			}
			for _, r := range o.s.rounds[sp.ID] {
				for _, w := range r.Taken {
					if w.Seq > after && w.Seq < at {
						at = w.Seq
					}
				}
			}
		}
	}
	return at
}
