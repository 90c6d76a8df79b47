package fold

import (
	"slices"
	"sort"
)

// Whether a round was begun too early is told by the record up to its first reading. Most
// often the same is seen from now. But where an older round was read again since, a limit
// waived or the job changed, what stood then may look down from now: what was read in good
// order keeps its order, and what was cut is not undone by what is read after it. The other
// way round it is made good: what stands now for that place, by a waiver since, serves.

// lacked are those facts that did not stand, by the record as it was, when the round was begun.
func (x *resolver) lacked(r *Round, lacks []FactID) []FactID {
	if len(lacks) == 0 || !x.lg.touchedBefore(r.First-1, r.First-1) {
		return lacks
	}
	then := x.past(r.First - 1)
	if then == nil {
		return lacks
	}
	var out []FactID
	for _, f := range lacks {
		if _, stood := then.current(f, then.now); !stood {
			out = append(out, f)
		}
	}
	return out
}

// pastKey is a plan at a place: what was there does not change any more.
type pastKey struct {
	p *Plan
	t Seq
}

// past is a resolver of the record up to place t, with the job as it was then; nil when the
// setup was not begun or its job does not read.
func (x *resolver) past(t Seq) *resolver {
	key := pastKey{x.p, t}
	then, known := x.lg.pasts[key]
	if !known {
		then = x.before(t)
		x.lg.pasts[key] = then
	}
	return then
}

func (x *resolver) before(t Seq) *resolver {
	l := x.lg.upTo(t)
	s, ok := l.setups[x.p.Setup.Name]
	if !ok {
		return nil
	}
	p := x.p
	if len(x.s.replans) > 0 && x.s.replans[len(x.s.replans)-1].Seq > t {
		var err error
		if p, err = p.asBegun(s); err != nil {
			return nil
		}
	}
	return newResolver(l, s, p)
}

// upTo is the log as it was after t events.
func (l *Log) upTo(t Seq) *Log {
	out := newLog(l.house)
	out.n, out.times = t, l.times[:t:t]
	var touched []touch
	for name, s := range l.setups {
		if s.begun > t {
			continue
		}
		c := &setupLog{begun: s.begun, beganAt: s.beganAt, by: s.by, as: s.as, cards: s.cardsAt(t), rounds: map[StepID][]*Round{}}
		for _, h := range s.happened {
			if h.Seq <= t {
				c.happened = append(c.happened, h)
			}
		}
		for _, g := range s.changes {
			if g.Seq <= t {
				c.changes = append(c.changes, g)
				touched = append(touched, touch{g.Seq, 0})
			}
		}
		for _, g := range s.replans {
			if g.Seq <= t {
				c.replans = append(c.replans, g)
			}
		}
		for step, rs := range s.rounds {
			for _, r := range rs {
				if r.Opened <= t {
					then, at := r.upTo(t)
					c.rounds[step] = append(c.rounds[step], then)
					touched = append(touched, at...)
				}
			}
		}
		out.setups[name] = c
	}
	sort.Slice(touched, func(i, j int) bool { return touched[i].Seq < touched[j].Seq })
	for _, w := range touched {
		out.touchAt(w)
	}
	return out
}

// upTo is the round as it was after t events, and the events that changed it.
func (r *Round) upTo(t Seq) (*Round, []touch) {
	out := &Round{Step: r.Step, No: r.No, Opened: r.Opened, at: map[string]int{}}
	var touched []touch
	for _, now := range r.Taken {
		if now.Since > t {
			continue
		}
		then := now
		for n := len(now.Before) - 1; n >= 0 && then.Seq > t; n-- {
			then.Value, then.Seq, then.Before = now.Before[n], now.seqs[n], now.Before[:n:n]
		}
		out.at[then.Field] = len(out.Taken)
		out.Taken = append(out.Taken, then)
		out.First, out.Last = r.First, max(out.Last, then.Seq)
		for _, s := range append(slices.Clone(now.seqs), now.Seq) {
			if s <= t {
				touched = append(touched, touch{s, r.First})
			}
		}
	}
	for _, w := range r.Waivers {
		if w.Seq <= t {
			out.Waivers = append(out.Waivers, w)
			touched = append(touched, touch{w.Seq, r.First})
		}
	}
	return out, touched
}

// cardsAt are the cards as they were after t events.
func (s *setupLog) cardsAt(t Seq) map[string]string {
	for _, c := range s.replans {
		if c.Seq > t {
			return c.before
		}
	}
	return s.cards
}
