package report

import (
	"math"
	"slices"
	"strings"
	"time"

	"fliptrue/calc/unit"
	"fliptrue/steps/desk"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

func sqrt(x float64) float64 { return math.Sqrt(x) }

// Step is one step with its limits as they were.
type Step struct {
	ID       string       `json:"id"`
	Title    string       `json:"title"`
	Verdict  fold.Verdict `json:"verdict"`
	Cause    string       `json:"cause"` // of a void; with another verdict: what it made fell after it had served
	Rounds   int          `json:"rounds"`
	Readings int          `json:"readings"` // of its newest round
	Answers  int          `json:"answers"`  // of its newest round, that had to be so and were
	At       *time.Time   `json:"at"`       // of its newest reading
	Checks   []Check      `json:"checks"`
	Nearest  int          `json:"nearest"` // the check nearest its limit, -1 where none has a limit to be near to
	Found    []Found      `json:"found"`   // numbers that it shows, each with its guard
	Notes    []string     `json:"notes"`   // what it says of them
	Next     []string     `json:"next"`    // what to do, where it does not pass
}

// Found is one number that a step found. Guard is one-sided, 95 %; 0 where none is stated.
type Found struct {
	What  string   `json:"what"`
	Kind  string   `json:"kind"` // of quantity
	Value *float64 `json:"value"`
	Guard *float64 `json:"guard"`
	Says  string   `json:"says"` // where it is words; Value is then null
}

// Check is one limit held against what was measured. In mm, N, N·m, °C, or as a ratio for a slope; a
// count or an answer has neither guard nor max.
type Check struct {
	Limit   string       `json:"limit"`
	Why     string       `json:"why"`  // what is limited
	Kind    string       `json:"kind"` // of quantity
	Got     *float64     `json:"got"`
	Guard   *float64     `json:"guard"`
	Max     *float64     `json:"max"`
	Min     bool         `json:"min"`   // max is the least that passes
	Share   *float64     `json:"share"` // how near: value and guard as a share of the limit, 1 at it; null where the limit is 0
	Verdict fold.Verdict `json:"verdict"`
	Words   string       `json:"words"`
	kind    unit.Kind
}

// Reading is one value as typed.
type Reading struct {
	Step     string     `json:"step"`
	Round    int        `json:"round"`
	Field    string     `json:"field"`
	Value    string     `json:"value"`
	By       string     `json:"by"`
	At       *time.Time `json:"at"`
	Replaced []string   `json:"replaced"` // what stood there before, oldest first

	label, unit, place string
}

// steps are the steps in use, with their raw readings and what was read on drivers.
func (r *Record) steps(st *fold.State) {
	sys := st.Plan().System()
	var deepest *fold.Row
	end := goal(st)
	for i := range st.Steps {
		s := &st.Steps[i]
		r.readings(st, s)
		if s.Verdict == fold.NotApplicable {
			continue
		}
		if i > end && st.Released && (s.Verdict == fold.Current || s.Verdict == fold.Waiting) { // asked while it is cut
			r.StopPoints = s.Title
			continue
		}
		for j := range s.Outcome.Lines {
			if s.Outcome.Lines[j].Label == desk.DeepestCut {
				deepest = &s.Outcome.Lines[j]
			}
		}
		r.Steps = append(r.Steps, stepOf(s))
		r.drivers(s, sys)
	}
	if deepest != nil {
		says := deepest.Text
		if says == "" {
			says = unit.Show(deepest.Value, deepest.Unit, sys, 0)
		}
		r.Holding = append(r.Holding, Line{desk.DeepestCut, says}, Line{"forces", desk.Estimate})
	}
}

// goal is the place of the step whose passing is the release; what comes after it is asked while it is cut.
func goal(st *fold.State) int {
	for i := range st.Steps {
		for _, k := range st.Steps[i].Outcome.Facts {
			if k.ID == facts.Release.ID {
				return i
			}
		}
	}
	return len(st.Steps)
}

func stepOf(s *fold.StepState) Step {
	row := Step{ID: string(s.ID), Title: s.Title, Verdict: s.Verdict, Rounds: len(s.Rounds), Nearest: -1}
	if s.Cause != nil {
		row.Cause = s.Cause.Words
	}
	if s.Round != nil {
		row.Readings = len(s.Round.Taken)
		for _, t := range s.Round.Taken {
			if row.At == nil || t.At.After(*row.At) {
				row.At = when(t.At)
			}
		}
	}
	best := math.Inf(-1)
	for _, c := range s.Outcome.Checks {
		k := Check{Limit: c.Limit.ID, Why: c.Limit.Why, Kind: kindName(c.Limit.Unit), Verdict: c.Verdict, Words: c.Words, kind: c.Limit.Unit}
		if c.Count {
			k.Kind = "count"
			if c.Verdict.OK() {
				row.Answers++
			}
		} else {
			k.Got, k.Guard, k.Max, k.Min = number(c.Got), number(c.Guard), number(c.Limit.Max), c.Limit.Min
			k.Share = nearness(c)
		}
		if near := urgency(k); near > best && (k.Share != nil || k.Verdict != fold.Pass) {
			best, row.Nearest = near, len(row.Checks)
		}
		row.Checks = append(row.Checks, k)
	}
	row.found(s.Outcome.Lines)
	row.Notes, row.Next = append([]string{}, s.Outcome.Notes...), []string{}
	for _, a := range s.Outcome.Next {
		if a.Words != "" {
			row.Next = append(row.Next, a.Words)
		}
	}
	return row
}

func (row *Step) found(lines []fold.Row) {
	row.Found = []Found{}
	for _, l := range lines {
		f := Found{What: strings.TrimSpace(l.Label), Kind: kindName(l.Unit), Says: l.Text}
		if l.Text == "" {
			f.Value, f.Guard = number(l.Value), number(l.Guard)
		}
		row.Found = append(row.Found, f)
	}
}

// nearness is how much of the limit is used up: 1 at the limit. Of one that must be reached, the limit by what was
// reached. Nil where there is nothing to be near to.
func nearness(c fold.Check) *float64 {
	if c.Limit.Min {
		least := c.Got - c.Guard
		if c.Limit.Max <= 0 || least <= 0 {
			return nil
		}
		return number(c.Limit.Max / least)
	}
	if c.Limit.Max <= 0 {
		return nil
	}
	return number((math.Abs(c.Got) + c.Guard) / c.Limit.Max)
}

// urgency puts what does not pass before all, then what is nearest.
func urgency(c Check) float64 {
	u := 0.0
	if c.Share != nil {
		u = *c.Share
	}
	switch c.Verdict {
	case fold.Fail, fold.NoVerdict:
		u += 3e9
	case fold.NotProven:
		u += 2e9
	case fold.Waived:
		u += 1e9
	}
	return u
}

// drivers are torques and angles as they were read, with their unit.
func (r *Record) drivers(s *fold.StepState, sys unit.System) {
	for _, a := range s.Asks {
		t, ok := s.Round.Get(a.Field)
		if !ok || a.What.By != "driver" {
			continue
		}
		r.Holding = append(r.Holding, Line{a.Label, withUnit(a, t.Value, sys)})
	}
}

// withUnit is a value as typed, with the unit that was understood where none was typed.
func withUnit(a fold.Ask, value string, sys unit.System) string {
	u := a.EntryUnit(sys)
	switch a.Kind {
	case fold.Count, fold.Choice, fold.Text:
		return value
	}
	if n, typed := strings.CutSuffix(value, "mNm"); typed { // as a keypad has it
		return strings.TrimSpace(n) + " mN·m"
	}
	if u == "" || strings.ContainsFunc(value, func(c rune) bool { return c > '9' && c != '−' || c == '"' || c == '\'' }) {
		return value
	}
	return value + " " + u
}

// readings are the raw ones of a step, all its rounds.
func (r *Record) readings(st *fold.State, s *fold.StepState) {
	p := st.Plan()
	stock := [2]float64{p.Job.Part.Size[0], p.Job.Part.Size[1]}
	for _, round := range s.Rounds {
		for _, t := range round.Taken {
			row := Reading{Step: string(s.ID), Round: round.No, Field: t.Field, Value: t.Short(), By: t.By, At: when(t.At), Replaced: replaced(t)}
			if i := slices.IndexFunc(s.Asks, func(a fold.Ask) bool { return a.Field == t.Field }); i >= 0 {
				a := s.Asks[i]
				row.label = a.Label
				if a.Kind == fold.Reading || a.Kind == fold.Echo {
					row.unit = a.EntryUnit(p.Job.Unit)
				}
				if at, ok := kit.PlaceOf(p, a.What, stock); ok {
					row.place = unit.Format(at.X, unit.KLength, p.Job.Unit, 0) + " " + unit.Format(at.Y, unit.KLength, p.Job.Unit, 0)
				}
			}
			r.Readings = append(r.Readings, row)
		}
	}
}

// replaced are the values that a reading stands for, as they are shown.
func replaced(t fold.Taken) (out []string) {
	for _, v := range t.Before {
		out = append(out, fold.Taken{Value: v, By: t.By}.Short())
	}
	return out
}
