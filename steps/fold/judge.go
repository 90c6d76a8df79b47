package fold

import (
	"fmt"
	"strings"
)

// view is what a round's step may look at: facts as they stood when its first
// reading was taken, or now when there is none yet.
func (x *resolver) view(sp *Spec, r *Round) View {
	t := x.now
	opened := x.now
	if r != nil {
		if r.First > 0 {
			t = r.First - 1
		}
		opened = r.Opened
	}
	v := View{Plan: x.p, Round: r, look: &looks{spec: sp}, walk: x.s.walk, rounds: x.s.rounds,
		facts: map[FactID]Known{}, was: map[FactID]Known{}, standing: map[FactID]bool{}}
	v.Earlier = x.s.rounds[sp.ID]
	if r != nil {
		v.Earlier = v.Earlier[: r.No-1 : r.No-1]
	}
	for _, list := range [][]FactID{sp.live, sp.asRead, sp.wants, sp.seen, sp.binds} {
		for _, f := range list {
			if fact, ok := x.current(f, t); ok {
				v.facts[f] = fact
			}
		}
	}
	for _, f := range sp.left {
		if fact, ok := x.asLeft(f); ok {
			v.facts[f] = fact
		}
	}
	x.recall(sp.recalls, t, v.was)
	for _, f := range append(append([]FactID{}, sp.lifts...), sp.may...) {
		if fv, ok := x.version(f, t); ok && (fv.round == nil || fv.round != r) {
			v.was[f] = fv.fact
			for _, c := range x.causes(f, fv, t) {
				if c.Cell == R {
					v.Pending = appendHappened(v.Pending, x.at(c))
				}
			}
		}
	}
	for _, f := range sp.heeds() {
		if fv, ok := x.version(f, t); ok {
			for _, c := range x.causes(f, fv, t) {
				if c.Cell == V && c.Mishap != "" {
					v.Lost = appendHappened(v.Lost, x.at(c))
				}
			}
		}
	}
	if sp.Record {
		v.spoiled = x.spoiled(t)
	}
	sees := sp.sees
	if sp.Owns != nil {
		sees = append(append([]FactID{}, sees...), sp.Makes...)
	}
	for _, f := range sees {
		_, v.standing[f] = x.current(f, opened)
	}
	return v
}

// recall notes facts as they were last known, void or not.
func (x *resolver) recall(fs []FactID, t Seq, was map[FactID]Known) {
	for _, f := range fs {
		if fv, ok := x.version(f, t); ok {
			was[f] = fv.fact
		}
	}
}

// heeds are the facts of which a step off the line may ask why they were lost: those that it makes.
func (s *Spec) heeds() []FactID {
	if s.Recheck == nil {
		return nil
	}
	return s.Makes
}

// pageView is a view for words and picture, which may look at everything that stands.
func (x *resolver) pageView(sp *Spec, r *Round) View {
	v := x.view(sp, r)
	for _, f := range x.p.facts {
		_, v.standing[f] = x.current(f, x.now)
	}
	return v
}

// at finds the mishap behind a cause.
func (x *resolver) at(c *Cause) Happened {
	for _, h := range x.happened {
		if h.Seq == c.Seq && h.ID == c.Mishap {
			return h
		}
	}
	return Happened{Seq: c.Seq, ID: c.Mishap}
}

func appendHappened(hs []Happened, h Happened) []Happened {
	for _, o := range hs {
		if o.Seq == h.Seq && o.ID == h.ID {
			return hs
		}
	}
	return append(hs, h)
}

// judge gives the meaning of a round, memoised by what it read.
func (x *resolver) judge(r *Round) *result {
	if res, ok := x.results[r]; ok {
		return res
	}
	sp, ok := x.p.specs[r.Step]
	if !ok {
		res := &result{troubles: []Trouble{{Seq: r.Opened, What: fmt.Sprintf("step %q is not one of this setup", r.Step),
			Hint: "the steps are: " + x.p.stepNames()}}}
		x.results[r] = res
		return res
	}
	m, known := x.lg.memo[r]
	if known = known && m.plan == x.p; known && r.First > 0 && !x.lg.touchedBefore(r.First, m.at) {
		x.results[r] = m.res
		return m.res
	}
	x.results[r] = &result{} // a circle finds nothing
	v := x.view(sp, r)
	sig := v.signature()
	res := m.res
	if !known || m.sig != sig {
		res = x.weigh(sp, v)
	}
	x.results[r] = res
	x.lg.memo[r] = memoed{x.p, sig, x.now, res}
	return res
}

// unopened is what a step wants that has no round yet, memoised as a round is.
func (x *resolver) unopened(sp *Spec) *result {
	v := x.view(sp, nil)
	m, sig := x.lg.ahead[sp], v.signature()
	if m.plan != x.p || m.sig != sig {
		m = memoed{x.p, sig, x.now, x.weigh(sp, v)}
		x.lg.ahead[sp] = m
	}
	return m.res
}

// weigh asks the step what it wants and, when all is there, what it means.
func (x *resolver) weigh(sp *Spec, v View) *result {
	res := &result{pending: v.Pending, verdict: Current}
	all := sp.allAsks(v)
	v.look.ask(all)
	asks, fatal, short := v.untilFatal(v.asked(all))
	res.asks = asks
	for _, a := range all {
		if v.later(a) {
			res.later = append(res.later, a.Since.What)
		}
	}
	answers := res.gather(x, v.Round)
	res.apart(v.Round)
	if res.lacks = x.lacked(v.Round, v.lacks(sp)); len(res.lacks) > 0 {
		res.complete, res.verdict = false, Void
	}
	if res.torn = x.torn(sp, v.Round); res.torn != nil {
		res.complete, res.verdict = false, Void
	}
	if !res.complete {
		return res
	}
	switch {
	case short:
	case sp.Judge != nil:
		res.outcome = sp.Judge(v)
	default:
		res.outcome.Facts = plainFacts(sp)
	}
	if fatal != nil {
		fatal.ended(&res.outcome)
	}
	res.conclude(x, v, answers)
	return res
}

// gather looks what is there of what is asked, and judges the answers that are wanted.
func (res *result) gather(x *resolver, r *Round) (answers []Check) {
	res.complete = r != nil && r.First > 0
	for _, a := range res.asks {
		t, ok := r.Get(a.Field)
		if !ok {
			if !a.Optional {
				res.complete = false
			}
			continue
		}
		if err := x.fits(a, t.Value); err != nil && a.Self == nil {
			res.troubles = append(res.troubles, Trouble{Seq: t.Seq, What: fmt.Sprintf("%s/%d/%s: %v", r.Step, r.No, a.Field, err),
				Hint: "read it again"})
			res.complete = false
			continue
		}
		if !a.Optional && t.Since > res.completeAt {
			res.completeAt = t.Since
		}
		if a.Want != "" {
			answers = append(answers, x.p.house.wanted(a, t.Value))
		}
	}
	return answers
}

// conclude makes the verdict of what the step says and of the answers; one that looked at what it did not declare says nothing.
func (res *result) conclude(x *resolver, v View, answers []Check) {
	if res.troubles = append(res.troubles, v.look.trouble(v.Round.First)...); len(res.troubles) > 0 {
		res.complete, res.outcome = false, Outcome{}
		return
	}
	res.outcome.Checks = append(answers, res.outcome.Checks...)
	for i := range res.outcome.Checks { // numbers are shown in the job's unit
		res.outcome.Checks[i].Limit.System = x.p.Job.Unit
	}
	waive(res.outcome.Checks, v.Round)
	res.verdict = Worst(res.outcome.Checks)
	res.onceMore()
	if c := failing(res.outcome.Checks); c != nil {
		res.outcome.Learned = c.headline(x.p)
	}
}

// Wanted are the step's wants with its pause point's first, but for those of a later walk than the record's.
// What the program reads itself is not among them.
func (s *Spec) Wanted(v View) []Ask { return persons(v.wanted(s.allAsks(v))) }

func (s *Spec) allAsks(v View) []Ask {
	var out []Ask
	if s.Pause != nil {
		a := s.Pause.Ask(v)
		a.Field = "pause"
		out = append(out, a)
	}
	if s.Asks != nil {
		out = append(out, s.Asks(v)...)
	}
	for i := range out {
		out[i].Worth = worthOf(s.reads, out[i])
	}
	return out
}

// plainFacts are the facts of a step that only confirms: they carry no numbers.
func plainFacts(s *Spec) []Known {
	var out []Known
	for _, f := range s.Makes {
		out = append(out, Known{ID: f})
	}
	return out
}

// wanted holds an answer against the only one that passes.
func (h *House) wanted(a Ask, got string) Check {
	c := Check{Limit: Limit{ID: a.Field, Why: a.WantWhy, Class: Never}, Count: true, Verdict: Pass, Words: a.Label + ": " + got}
	if !SameAnswer(h.meant(a, got), a.Want) {
		c.Verdict = Fail
		c.Words = fmt.Sprintf("%s: %s, wanted %s. %s", Capital(a.Label), got, a.Want, a.WantWhy)
		if a.Hint != "" {
			c.Words += " " + a.Hint
		}
	}
	return c
}

// SameAnswer compares answers without case, blanks, and the plus and leading zeros of counts.
func SameAnswer(a, b string) bool {
	norm := func(s string) string {
		s = strings.ToLower(strings.Join(strings.Fields(s), " "))
		if n := strings.TrimPrefix(s, "+"); n != "" && strings.Trim(n, "0123456789") == "" {
			s = n
		}
		if t := strings.TrimLeft(s, "0"); t != "" && strings.Trim(t, "0123456789") == "" {
			return t
		} else if s != "" && t == "" {
			return "0"
		}
		return s
	}
	return norm(a) == norm(b)
}

// waive applies the waivers that still hold: none after a later reading of what it judges, none
// for a number other than the one shown, never for the class Never.
func waive(cs []Check, r *Round) {
	for i := range cs {
		c := &cs[i]
		if c.Verdict.OK() || c.Limit.Class == Never {
			continue
		}
		if _, ok := r.waiver(c); ok {
			c.Verdict = Waived
		}
	}
}

// waiver is the newest one that holds for the check.
func (r *Round) waiver(c *Check) (Waiver, bool) {
	last := r.Last
	if t, ok := r.Get(c.On); ok {
		last = t.Seq
	}
	for i := len(r.Waivers) - 1; i >= 0; i-- {
		if w := r.Waivers[i]; w.Limit == c.Limit.ID && w.Seq > last && strings.TrimSpace(w.Reason) != "" &&
			(c.Limit.Class == Soft || c.accepts(w.Number)) {
			return w, true
		}
	}
	return Waiver{}, false
}

// signature names everything a judgement reads besides the plan and what the round's last reading tells.
func (v View) signature() string {
	var b strings.Builder
	add := func(tag byte, m map[FactID]Known) {
		for _, f := range v.Plan.facts {
			if x, ok := m[f]; ok {
				fmt.Fprintf(&b, "%c%s:%s:%d:%d", tag, f, x.By, x.First, x.Last)
				if len(x.Value) > 0 {
					fmt.Fprintf(&b, ":%v", x.Value)
				}
				b.WriteByte(';')
			}
		}
	}
	add('f', v.facts)
	if v.look != nil { // what another setup left
		for _, f := range v.look.spec.left {
			if x, ok := v.facts[f]; ok {
				fmt.Fprintf(&b, "l%s:%d:%d:%v;", f, x.First, x.Last, x.Value)
			}
		}
	}
	add('w', v.was)
	for _, f := range v.Plan.facts {
		if v.standing[f] {
			b.WriteString(string(f))
			b.WriteByte(',')
		}
	}
	for _, h := range v.Pending {
		fmt.Fprintf(&b, "%s@%d", h.ID, h.Seq)
	}
	for _, h := range v.Lost {
		fmt.Fprintf(&b, "!%s@%d", h.ID, h.Seq)
	}
	for _, s := range v.spoiled {
		fmt.Fprintf(&b, "~%d", s.Seq)
	}
	fmt.Fprintf(&b, "|%d", len(v.Earlier))
	if v.Round != nil {
		fmt.Fprintf(&b, "|%d|%d", v.Round.Last, len(v.Round.Waivers))
	}
	return b.String()
}
