package fold

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"fliptrue/calc/unit"
)

// Verdict is the state of a check, a step or a fact.
type Verdict int

const (
	NoVerdict Verdict = iota
	Pass
	Fail
	NotProven // within the limit, but not by its guard (ISO 14253-1)
	Void
	Waived
	Waiting
	Current
	NotApplicable
)

var verdictWords = [...]string{"", "PASS", "FAIL", "NOT PROVEN", "VOID", "WAIVED", "waiting", "current", "not applicable"}

var verdictJSON = [...]string{"", "pass", "fail", "not_proven", "void", "waived", "waiting", "current", "not_applicable"}

func (v Verdict) String() string { return verdictWords[v] }

// MarshalJSON writes the lower-case word.
func (v Verdict) MarshalJSON() ([]byte, error) { return json.Marshal(verdictJSON[v]) }

// UnmarshalJSON reads that word back.
func (v *Verdict) UnmarshalJSON(b []byte) error {
	var word string
	if err := json.Unmarshal(b, &word); err != nil {
		return err
	}
	i := slices.Index(verdictJSON[:], word)
	if i < 0 {
		return fmt.Errorf("verdict %q is not known", word)
	}
	*v = Verdict(i)
	return nil
}

// OK says that the work may go on.
func (v Verdict) OK() bool { return v == Pass || v == Waived }

// failing is the check whose words head an outcome that does not pass, nil when all do:
// of those that fail, else of those not proven, the first that has words, else the first.
func failing(cs []Check) *Check {
	var best *Check
	for _, want := range []Verdict{Fail, NotProven} {
		for i := range cs {
			c := &cs[i]
			if c.Verdict == want && (best == nil || best.Verdict == want && best.Words == "" && c.Words != "") {
				best = c
			}
		}
	}
	return best
}

// headline is what a check that does not pass says of itself: its words, else what it
// limits with the number and the limit.
func (c *Check) headline(p *Plan) string {
	if c.Words != "" {
		return c.Words
	}
	if c.Count {
		return "Not so: " + c.Limit.Why + "."
	}
	verdict := ""
	if c.Verdict == NotProven {
		verdict = "not proven, "
	}
	got, limit := c.Against()
	return fmt.Sprintf("%s: %s%s of %s.", Capital(c.Limit.Why), verdict, got, limit)
}

// Against is what was found and its limit as the screen prints them, with a digit more where they
// differ and would read alike.
func (c Check) Against() (got, limit string) {
	got, limit = unit.Apart(c.Got, c.Limit.Max, c.Limit.Unit, c.Limit.System, 0)
	if c.Limit.Min {
		limit = "at least " + limit
	}
	return strings.TrimSuffix(got, " "+unit.UnitName(c.Limit.Unit, c.Limit.System)), limit
}

// Shown is the limit as the screen prints it; a minimum says so.
func (l Limit) Shown() string {
	s := unit.Show(l.Max, l.Unit, l.System, 0)
	if l.Min {
		return "at least " + s
	}
	return s
}

// Worst is the verdict of several checks together.
func Worst(cs []Check) Verdict {
	v := Pass
	rank := func(x Verdict) int {
		switch x {
		case Fail, NoVerdict: // a check that nobody judged does not pass
			return 3
		case NotProven:
			return 2
		case Waived:
			return 1
		}
		return 0
	}
	for _, c := range cs {
		if rank(c.Verdict) > rank(v) {
			v = c.Verdict
		}
	}
	return v
}
