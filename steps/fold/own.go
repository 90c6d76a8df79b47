package fold

import (
	"slices"
	"strings"

	"fliptrue/jobs"
)

// What the program itself reads, a file beside the job, is a reading like any other: it comes into the
// record with the first thing that is given at the step, again when it reads otherwise, and is judged as
// it stands there. A file that is gone or another one by then changes nothing of what was judged.

// BySelf says of what was taken that the program read it.
const BySelf = "program"

// Short is what was taken as it is shown: of what the program read its heading.
func (t Taken) Short() string {
	if t.By == BySelf {
		head, _, _ := strings.Cut(t.Value, " {")
		return head
	}
	return t.Value
}

// persons are the asks of a person.
func persons(asks []Ask) (out []Ask) {
	if !slices.ContainsFunc(asks, func(a Ask) bool { return a.Self != nil }) {
		return asks
	}
	for _, a := range asks {
		if a.Self == nil {
			out = append(out, a)
		}
	}
	return out
}

// once more leaves in what the outcome wants read again by the program.
func (res *result) onceMore() {
	for _, n := range res.outcome.Next {
		for _, a := range res.selves {
			if n.Do == "again" && n.Of == a.Field {
				res.asks = append(res.asks[:len(res.asks):len(res.asks)], a)
			}
		}
	}
}

// apart takes out of a result's asks what the program reads itself. Where that alone is missing it is left
// in: the person then says when.
func (res *result) apart(r *Round) {
	left := false
	for _, a := range res.asks {
		if a.Self != nil {
			res.selves = append(res.selves, a)
		} else if _, ok := r.Get(a.Field); !ok && !a.Optional {
			left = true
		}
	}
	if len(res.selves) == 0 {
		return
	}
	asks := persons(res.asks)
	for _, a := range res.selves {
		if _, ok := r.Get(a.Field); !ok && !left {
			asks = append(asks, a)
		}
	}
	res.asks = asks
}

// own are the readings of the program itself that belong to the current round now: those that are not
// there, those that read otherwise by now, and those that the person gives among the values.
func (st *State) own(values [][2]string) (out []jobs.Event) {
	if len(st.selves) == 0 {
		return nil
	}
	st.plan.Files.again()
	var r *Round
	if ss, ok := st.Step(st.Cursor.Step); ok && st.Cursor.Open {
		r = ss.Round
	}
	for _, a := range st.selves {
		v := a.Self()
		given := slices.ContainsFunc(values, func(v [2]string) bool { return v[0] == a.Field })
		if t, ok := r.Get(a.Field); ok && t.Value == v && !given {
			continue
		}
		out = append(out, jobs.Event{Read: st.address(a.Field), Value: v, By: BySelf})
	}
	return out
}
