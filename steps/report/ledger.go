package report

import (
	"slices"
	"time"

	"fliptrue/steps/fold"
)

// Waiver is a limit passed over.
type Waiver struct {
	Step   string     `json:"step"`
	Limit  string     `json:"limit"`
	Number string     `json:"number"`
	Reason string     `json:"reason"`
	At     *time.Time `json:"at"`
}

// Mishap is something that happened.
type Mishap struct {
	ID    string     `json:"id"`
	Words string     `json:"words"`
	Tool  string     `json:"tool"`
	At    *time.Time `json:"at"`
	Again []string   `json:"again"` // the way back that was taken: steps read again after it, in their order
}

// Void is a fact that does not stand, and why.
type Void struct {
	Fact  string `json:"fact"`
	Cause string `json:"cause"`
	Event int    `json:"event"` // place in the record of what took it
}

// Back is one step of the way back that lies ahead.
type Back struct {
	Step     string `json:"step"`
	Title    string `json:"title"`
	Readings int    `json:"readings"`
}

// ledger is what was waived, what happened, what is lost by it and the way back: taken, and to be taken.
func (r *Record) ledger(st *fold.State) {
	for _, w := range st.Waivers {
		r.Waivers = append(r.Waivers, Waiver{string(w.Step), w.Limit, w.Number, w.Reason, when(w.At)})
	}
	told := slices.DeleteFunc(slices.Clone(st.Mishaps), func(h fold.Happened) bool { return h.By != "" }) // raised by a step: no accident
	for i, h := range told {
		m := Mishap{ID: string(h.ID), Tool: h.Tool, At: when(h.At)}
		if row, ok := st.Plan().Mishap(h.ID); ok {
			m.Words = row.Words
		}
		until := st.N + 1
		if i+1 < len(told) {
			until = told[i+1].Seq
		}
		m.Again = again(st, h.Seq, until)
		r.Mishaps = append(r.Mishaps, m)
	}
	for _, f := range st.Facts {
		if f.Void != nil && !st.Released {
			r.Voids = append(r.Voids, Void{string(f.ID), f.Void.Words, int(f.Void.Seq)})
		}
	}
	slices.SortStableFunc(r.Voids, func(a, b Void) int { return a.Event - b.Event })
	for _, b := range st.Way {
		r.WayBack = append(r.WayBack, Back{string(b.Step), b.Title, b.Readings})
	}
}

// again are the steps that were read before a place in the record and once more after it, and those off the line
// that were read then.
func again(st *fold.State, from, until fold.Seq) []string {
	var out []string
	for i := range st.Steps {
		s := &st.Steps[i]
		before := s.Off
		for _, round := range s.Rounds {
			if round.First == 0 {
				continue
			}
			if round.First > from && round.First < until && before && !slices.Contains(out, s.Title) {
				out = append(out, s.Title)
			}
			before = before || round.First < from
		}
	}
	return out
}
