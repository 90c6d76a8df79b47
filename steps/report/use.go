package report

import (
	"math"
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
)

// Use is what one use of a fixture found of it, and what came of it. Null: not measured then.
type Use struct {
	Key      string   `json:"key"`      // the record's name
	Date     string   `json:"date"`     // of the release, "" when not known
	Skew     *float64 `json:"skew"`     // of its edge, as a ratio, counter-clockwise +
	Lift     *float64 `json:"lift"`     // of the part by drilling, mm
	Tilt     *float64 `json:"tilt"`     // of the pocket's floor over all its touches, mm
	Dia      *float64 `json:"dia"`      // of its bore, mm
	Mismatch *float64 `json:"mismatch"` // largest that is known at a feature, mm
	Guard    *float64 `json:"guard"`    // one-sided 95 %, mm
}

// UseOf is what a State found of its fixture.
func UseOf(st *fold.State) Use {
	u := Use{}
	if st.Released && !st.ReleasedAt.IsZero() {
		u.Date = st.ReleasedAt.Format("2006-01-02")
	}
	if f, ok := facts.Skew.By(st.Fact); ok {
		u.Skew = number(math.Tan(float64(f.Theta)))
	}
	if f, ok := facts.Bore.By(st.Fact); ok && f.Dia > 0 {
		u.Dia = number(float64(f.Dia))
	}
	u.Lift, u.Tilt = gotOf(st, "lift"), gotOf(st, "floor.tilt")
	if c, ok := checkOf(st, "release.register"); ok && st.Released {
		u.Mismatch, u.Guard = number(c.Got), number(c.Guard)
	}
	return u
}

// checkOf is the newest check of that limit in a step that serves.
func checkOf(st *fold.State, limit string) (fold.Check, bool) {
	for i := range st.Steps {
		s := &st.Steps[i]
		for _, c := range s.Outcome.Checks {
			if c.Limit.ID == limit && s.Verdict.OK() {
				return c, true
			}
		}
	}
	return fold.Check{}, false
}

func gotOf(st *fold.State, limit string) *float64 {
	if c, ok := checkOf(st, limit); ok {
		return number(c.Got)
	}
	return nil
}

// fields are the numbers of a use by the words that a card keeps them under.
func (u *Use) fields() map[string]**float64 {
	return map[string]**float64{"skew": &u.Skew, "lift": &u.Lift, "tilt": &u.Tilt, "bore": &u.Dia, "mismatch": &u.Mismatch,
		"mismatch-guard": &u.Guard}
}

// fine is the step to which a card keeps lengths: a tenth of what is printed.
const fine = 1e-4

// Found are the numbers as a card's history keeps them, with their units.
func (u Use) Found() map[string]string {
	out := map[string]string{}
	if u.Date != "" {
		out["released"] = u.Date
	}
	for key, v := range u.fields() {
		switch {
		case *v == nil:
		case key == "skew":
			out[key] = unit.Format(300**u.Skew, unit.Scalar, unit.Metric, 1e-5) + "/300"
		default:
			out[key] = unit.Format(**v, unit.KLength, unit.Metric, fine) + "mm"
		}
	}
	return out
}

// UseFrom reads back what a card's history keeps; what does not read was written by hand, and is left out.
func UseFrom(c jobs.Change) Use {
	u := Use{Key: c.Key, Date: c.Values["released"]}
	for key, to := range u.fields() {
		k := unit.KLength
		if key == "skew" {
			k = unit.KSlope
		}
		if text := c.Values[key]; text != "" {
			if v, err := unit.Parse(text, k, unit.Metric); err == nil {
				*to = number(v.Value)
			}
		}
	}
	return u
}

// measured says that a use has a number.
func (u Use) measured() bool {
	for _, v := range u.fields() {
		if *v != nil {
			return true
		}
	}
	return false
}

// uses are those of the fixture before this one by its card, and this one.
func (r *Record) uses(st *fold.State, about About) {
	if r.Fixture == nil {
		return
	}
	this := UseOf(st)
	this.Key = keyOf(about.Record)
	for _, c := range about.History {
		if c.Key == this.Key && c.Key != "" {
			break // what came after it is not of this sheet
		}
		if u := UseFrom(c); u.measured() {
			r.Uses = append(r.Uses, u)
		}
	}
	if this.measured() {
		r.Uses = append(r.Uses, this)
	}
}

// keyOf is a record's file name without what all records end in: what a card knows it by.
func keyOf(path string) string {
	if i := strings.LastIndexAny(path, `/\`); i >= 0 {
		path = path[i+1:]
	}
	return strings.TrimSuffix(path, ".record.yaml")
}
