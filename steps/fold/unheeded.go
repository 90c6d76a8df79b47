package fold

import (
	"fmt"
	"slices"
)

// A recheck that did not pass leads to measuring anew what it was to lift. Its verdict
// comes first: what it found and by how much, and what else might help.

// withUnheeded puts the recheck in front that has just failed: nothing was begun, read or
// declared since, and what it was to lift is still down.
func (x *resolver) withUnheeded(need []*Spec) []*Spec {
	if len(need) == 0 {
		return need
	}
	for _, sp := range x.p.Off {
		rs := x.s.rounds[sp.ID]
		if len(sp.lifts) == 0 || len(rs) == 0 || slices.Contains(need, sp) {
			continue
		}
		r := rs[len(rs)-1]
		if r.First == 0 || x.heeded(r.Last) {
			continue
		}
		if res := x.judge(r); !res.complete || res.verdict.OK() {
			continue
		}
		for _, f := range sp.lifts {
			if x.firstCause(f) != nil {
				return append([]*Spec{sp}, need...)
			}
		}
	}
	return need
}

// heeded says that something was done after that place.
func (x *resolver) heeded(at Seq) bool {
	for _, rs := range x.s.rounds {
		if r := rs[len(rs)-1]; r.Opened > at || r.Last > at {
			return true
		}
	}
	for _, h := range x.s.happened {
		if h.Seq > at {
			return true
		}
	}
	for _, c := range x.s.changes {
		if c.Seq > at {
			return true
		}
	}
	return false
}

// goOn adds the way on to a recheck that has failed and advises none, or whose advice was
// followed once already: to the first step that measures anew.
func (st *State) goOn(x *resolver, way []*Spec) {
	ss, ok := st.Step(st.Cursor.Step)
	if !ok || !st.Cursor.Decide {
		return
	}
	var acts []Act
	again := false
	for _, a := range ss.Outcome.Next {
		switch a.Do {
		case "declare", "reopen":
			return
		case "round", "again":
			again = true
			if a.Words == "" {
				continue
			}
			a.Do, a.Of = "look", string(ss.ID)
		}
		acts = append(acts, a)
	}
	if again && !x.failedTwice(ss.Rounds) {
		return
	}
	n := 0
	for _, b := range st.Way {
		n += b.Readings
	}
	ss.Outcome.Next = append(acts, Act{Do: "reopen", Of: string(way[0].ID), Words: fmt.Sprintf("It is measured anew: %d readings to where "+
		"you were, %s first.", n, way[0].Title)})
}

// failedTwice says that the round before the newest was finished and did not pass either.
func (x *resolver) failedTwice(rs []*Round) bool {
	if len(rs) < 2 {
		return false
	}
	res := x.judge(rs[len(rs)-2])
	return res.complete && !res.verdict.OK()
}
