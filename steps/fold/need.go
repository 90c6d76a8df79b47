package fold

import "slices"

// Need is a fact that a step looks at: how what the step makes rests on it, and whether the
// walk waits for it. A step that looks at another fact finds nothing, and says so.
type Need struct {
	Fact  FactID
	Rests Rests
	Waits Waits
}

// Rests says how a fact is held by what it was read with.
type Rests int

const (
	AsItWas   Rests = iota // it must stand when the first reading is taken; losing it later costs nothing
	AtOnce                 // what is made falls at once with it, and when it is read again
	AsItLay                // as it was, void or not, in the setup that this one is derived from when this one was begun
	OnlyAsked              // whether it stands changes what is asked, never what is known
	Recalled               // as it was last known, void or not: a prediction, and nothing else, comes from it
)

// Waits says when the walk waits for a fact.
type Waits int

const (
	Always    Waits = iota
	OnceBegun       // once its making was begun: then it is brought back first
	NotWaited       // it serves when it is there
)

// Live is needed at once and always: what is made falls with it.
func Live(fs ...FactID) []Need { return each(fs, AtOnce, Always) }

// AsRead must stand when the first reading is taken.
func AsRead(fs ...FactID) []Need { return each(fs, AsItWas, Always) }

// IfBegun is as read when there, and not waited for unless it was lost.
func IfBegun(fs ...FactID) []Need { return each(fs, AsItWas, OnceBegun) }

// IfThere is as read when there, never waited for: good for a prediction.
func IfThere(fs ...FactID) []Need { return each(fs, AsItWas, NotWaited) }

// LiveIfThere is never waited for; what is made falls when it is lost, or made after it.
func LiveIfThere(fs ...FactID) []Need { return each(fs, AtOnce, NotWaited) }

// AsLeft is as the setup that this one goes on from left it, void or not; never waited for. What it was stands:
// nothing that happens later changes it.
func AsLeft(fs ...FactID) []Need { return each(fs, AsItLay, NotWaited) }

// Whether says that only the standing of these is looked at, as it was when the round was opened.
func Whether(fs ...FactID) []Need { return each(fs, OnlyAsked, NotWaited) }

// Remembered is as it was last known, void or not, and never waited for: what stood there says where to look again.
func Remembered(fs ...FactID) []Need { return each(fs, Recalled, NotWaited) }

// Needs puts lists together.
func Needs(lists ...[]Need) []Need {
	var out []Need
	for _, l := range lists {
		out = append(out, l...)
	}
	return out
}

func each(fs []FactID, r Rests, w Waits) []Need {
	out := make([]Need, 0, len(fs))
	for _, f := range fs {
		out = append(out, Need{Fact: f, Rests: r, Waits: w})
	}
	return out
}

// Recheck is what an off-line step brings back. A step of the line may lift as well: it
// confirms on its way.
type Recheck struct {
	Before  StepID   // the step of the line before which it is done
	Lifts   []FactID // what comes back when it passes
	Remakes []FactID // what it may make anew (a new home position)
	Against []FactID // what it compares with; without these it can't be done
}

// relations are a step's needs sorted, once, as the engine asks for them.
type relations struct {
	live, asRead, wants, seen, binds, sees []FactID
	left                                   []FactID // see AsLeft
	recalls                                []FactID // see Remembered
	before                                 StepID
	lifts, may, against                    []FactID
	stands                                 []FactID
}

func (s *Spec) relate() {
	var r relations
	for _, n := range s.Needs {
		to := &r.seen
		switch {
		case n.Rests == OnlyAsked:
			to = &r.sees
		case n.Rests == AsItLay:
			to = &r.left
		case n.Rests == Recalled:
			to = &r.recalls
		case n.Rests == AtOnce && n.Waits == Always:
			to = &r.live
		case n.Rests == AtOnce:
			to = &r.binds
		case n.Waits == Always:
			to = &r.asRead
		case n.Waits == OnceBegun:
			to = &r.wants
		}
		*to = append(*to, n.Fact)
	}
	if c := s.Recheck; c != nil {
		r.before, r.lifts, r.may, r.against = c.Before, c.Lifts, c.Remakes, c.Against
	}
	r.stands = slices.Clip(slices.Concat(r.live, r.asRead))
	s.relations = r
}

// Stands lists everything the step rests on and waits for.
func (s *Spec) Stands() []FactID { return s.stands }

// Lifts are the facts that the step brings back when it passes.
func (s *Spec) Lifts() []FactID {
	if s.Recheck == nil {
		return nil
	}
	return s.Recheck.Lifts
}

// Remakes are the facts that the step may make anew.
func (s *Spec) Remakes() []FactID {
	if s.Recheck == nil {
		return nil
	}
	return s.Recheck.Remakes
}
