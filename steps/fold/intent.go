package fold

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
)

// Entry is what was understood of a typed value, before it counts.
type Entry struct {
	Ask    Ask
	Value  string // what would be recorded
	Number unit.Number
	Echo   string      // 1/32in = 0.79375 mm
	Ended  bool        // only the last digits were typed: the rest is the prediction's
	Far    bool        // outside its window: needs a second, deliberate yes
	Slips  []unit.Slip // likely slips, named and never corrected
}

// Fits says whether a value is of the kind that is asked.
func (p *Plan) Fits(a Ask, value string) error {
	switch a.Kind {
	case Reading, Echo:
		_, err := unit.Parse(value, a.Unit, p.Job.Unit)
		return err
	case Count:
		n, err := strconv.Atoi(strings.TrimSpace(value))
		if err != nil || n < 0 || n > 9999 {
			return fmt.Errorf("%q is not a count; type a whole number, 0 or more", value)
		}
	case Choice: // a record holds the words: a number would mean another thing once the list changes
		for _, o := range a.Options {
			if strings.EqualFold(o, strings.TrimSpace(value)) {
				return nil
			}
		}
		return fmt.Errorf("%q is none of the choices; write one of: %s", value, strings.Join(a.Options, ", "))
	case Text:
		if strings.TrimSpace(value) == "" {
			return fmt.Errorf("an empty answer; type what you see")
		}
	}
	return nil
}

// pick resolves a choice by its number, counted from 1, or by its words.
func pick(options []string, value string) (string, error) {
	v := strings.TrimSpace(value)
	for _, o := range options {
		if strings.EqualFold(o, v) {
			return o, nil
		}
	}
	if n, err := strconv.Atoi(v); err == nil && n >= 1 && n <= len(options) {
		return options[n-1], nil
	}
	return "", fmt.Errorf("%q is none of the choices; type 1 to %d", value, len(options))
}

// Ask finds a field that may be given now: one of the current step's, taken or not.
func (st *State) Ask(field string) (Ask, bool) {
	ss, ok := st.Step(st.Cursor.Step)
	if !ok {
		return Ask{}, false
	}
	for _, a := range ss.Asks {
		if a.Field == field {
			return a, true
		}
	}
	return Ask{}, false
}

// Understand reads a typed value for a field of the current step. It changes nothing.
func (st *State) Understand(field, text string) (Entry, error) {
	a, ok := st.Ask(field)
	if !ok {
		return Entry{}, fmt.Errorf("field %q is not asked at %s", field, st.Cursor.Step)
	}
	ended := strings.HasPrefix(strings.TrimSpace(text), unit.Ends)
	text, err := st.plan.ended(a, a.whole(text, st.plan.Job.Unit))
	if err != nil {
		return Entry{Ask: a}, err
	}
	e := Entry{Ask: a, Value: strings.TrimSpace(text)}
	if a.Kind == Choice {
		o, err := pick(a.Options, text)
		e.Value, e.Echo = o, o
		return e, err
	}
	if err := st.plan.Fits(a, text); err != nil {
		return e, err
	}
	if err := st.plan.Within(a, text); err != nil {
		return e, err
	}
	switch a.Kind {
	case Reading, Echo:
		e.Number, _ = unit.Parse(text, a.Unit, st.plan.Job.Unit)
		e.Echo = unit.Echo(e.Number, st.plan.Job.Unit)
		e.Ended = ended
		if a.Window != nil {
			e.Far, e.Slips = st.plan.Far(a, text, e.Number.Value)
		}
	default:
		e.Value = st.plan.house.meant(a, e.Value)
		e.Echo = e.Value
		if a.Kind == Text {
			e.Echo = echoed(a, text, e.Value)
		}
	}
	return e, nil
}

// nearSlip is the share of a reading's distance from its prediction that a slip may leave
// unexplained and is still named (estimate).
const nearSlip = 0.02

// Far says that a reading is outside its window, and which known slips would explain it:
// those that bring it in, else for a reading those that bring it nearly there.
func (p *Plan) Far(a Ask, text string, x float64) (bool, []unit.Slip) {
	w := unit.Window{Want: a.Window.Want, Half: a.Window.Half}
	off := math.Abs(x - w.Want)
	if w.Has(x) {
		if off >= a.Window.Least*(1-1e-9) {
			return false, nil
		}
		return true, []unit.Slip{{ID: "no-movement", Words: a.Window.Nearer}}
	}
	ctx := a.Window.Slips
	ctx.Text, ctx.Kind, ctx.System = text, a.Unit, p.Job.Unit
	slips := unit.Slips(x, w, ctx)
	if len(slips) == 0 && a.Kind == Reading && nearSlip*off > w.Half {
		w.Half = nearSlip * off
		slips = unit.Slips(x, w, ctx)
		for i := range slips {
			slips[i].Words += ", nearly: read it again"
		}
	}
	var out []unit.Slip
	for _, s := range slips { // none that leads to where no reading can be either
		if math.Abs(s.Would-a.Window.Want) >= a.Window.Least*(1-1e-9) {
			out = append(out, s)
		}
	}
	return true, out
}

// Take gives the events that record values at fields of the current step, opening the round if need be.
func (st *State) Take(by string, values ...[2]string) ([]jobs.Event, error) {
	var out []jobs.Event
	if st.Cursor.Idle {
		return nil, fmt.Errorf("nothing is asked now")
	}
	if !st.Begun {
		return nil, fmt.Errorf("setup %q is not begun", st.Setup)
	}
	if !st.Cursor.Open {
		out = append(out, jobs.Event{Round: st.address("")})
	}
	out = append(out, st.own(values)...)
	for _, v := range values {
		e, err := st.Understand(v[0], v[1])
		if err != nil {
			return nil, err
		}
		if e.Ask.Self != nil {
			continue // it is among the program's own
		}
		ev := jobs.Event{Value: e.Value, By: by}
		if e.Ask.Kind == Reading {
			ev.Read = st.address(v[0])
		} else {
			ev.Answer = st.address(v[0])
		}
		out = append(out, ev)
	}
	return out, nil
}

// address is the address of a field of the current round, or of the round itself.
func (st *State) address(field string) string {
	a := fmt.Sprintf("%s/%s/%d", st.Setup, st.Cursor.Step, st.Cursor.Round)
	if field != "" {
		a += "/" + field
	}
	return a
}

// Again opens a new round of the current step, when there is something to leave behind.
func (st *State) Again() ([]jobs.Event, error) {
	if st.Cursor.Idle || !st.Cursor.Open {
		return nil, fmt.Errorf("there is no round to repeat")
	}
	return []jobs.Event{{Round: fmt.Sprintf("%s/%s/%d", st.Setup, st.Cursor.Step, st.Cursor.Round+1)}}, nil
}

// Reopen opens a new round of any step that was done, to read it again, or of one that is needed.
func (st *State) Reopen(id StepID) ([]jobs.Event, error) {
	ss, ok := st.Step(id)
	if !ok || len(ss.Rounds) == 0 && !ss.Needed {
		return nil, fmt.Errorf("step %q was not done yet", id)
	}
	return []jobs.Event{{Round: fmt.Sprintf("%s/%s/%d", st.Setup, id, len(ss.Rounds)+1)}}, nil
}

// Waive records that a limit is passed over. Soft wants a reason, Hard the number as shown as well, Never refuses.
func (st *State) Waive(limit, number, reason string) ([]jobs.Event, error) {
	ss, ok := st.Step(st.Cursor.Step)
	if !ok || !st.Cursor.Decide {
		return nil, fmt.Errorf("nothing can be waived now")
	}
	for _, c := range ss.Outcome.Checks {
		if c.Limit.ID != limit || c.Verdict.OK() {
			continue
		}
		switch {
		case c.Limit.Class == Never:
			return nil, fmt.Errorf("this can't be waived. %s", c.headline(st.plan))
		case strings.TrimSpace(reason) == "":
			return nil, fmt.Errorf("a waiver of %s wants a reason", limit)
		case c.Limit.Class == Hard && !c.accepts(strings.TrimSpace(number)):
			return nil, fmt.Errorf("to accept %s type the number as shown, %s; %q was typed", limit, c.Shown(), number)
		}
		return []jobs.Event{{Waive: st.address(limit), Value: strings.TrimSpace(number), Reason: reason}}, nil
	}
	return nil, fmt.Errorf("limit %q does not stand in the way here", limit)
}

// Declare records a mishap; tool names which, for those that concern one tool.
func (st *State) Declare(id MishapID, tool string) ([]jobs.Event, error) {
	m, ok := st.plan.Mishap(id)
	if !ok || m.Inner {
		return nil, fmt.Errorf("mishap %q is not known; known are: %s", id, st.plan.house.Mishaps.names())
	}
	return []jobs.Event{{Mishap: st.Setup + "/" + string(id), Value: tool}}, nil
}

// Release records the release; refused unless everything passes.
func (st *State) Release() ([]jobs.Event, error) {
	if !st.Ready {
		return nil, fmt.Errorf("not everything passes yet")
	}
	return []jobs.Event{{Release: st.Setup}}, nil
}
