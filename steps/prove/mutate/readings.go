// Package mutate changes one thing of a record at a time and looks whether it is still released:
// every reading by several sizes, and every key of every card after the release.
//
// A changed reading is walked on from as a person would: what the walk then says to key in is
// keyed in and read back. So a change that spoils the offset shows as an offset that moved, not as
// a read-back that differs from it.
//
// Goals: a hole shows by itself, as a change that does harm and is released. Non-goals: two changes at once.
package mutate

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/fold"
)

// Case is a record with its job.
type Case struct {
	Name   string
	Plan   *fold.Plan
	Setup  string
	Events []jobs.Event
}

// Result is one changed reading.
type Result struct {
	Step, Field string // figures as #; " before" in a round that was read again
	Address     string
	Event       int    // its place in the record, from 0
	How         string // +0.05, sign, swap, other ...
	Was, Is     string
	Value       float64 // as it was, of a number, internal units
	Delta       float64 // the change
	Length      bool    // it is a length, mm
	State       string  // released, held
	At          string  // step that it is held at
	Register    float64 // mm: how far the offset in force was moved in X or Y by it
	Height      float64 // mm: in Z
}

// Sizes are the changes of a length, mm.
var Sizes = []float64{0.01, 0.05, 0.3, 1}

// others are the changes of another number, as factors; and by so much.
var others = []struct {
	name        string
	factor, add float64
}{{"x0.5", 0.5, 0}, {"x2", 2, 0}, {"x10", 10, 0}, {"to 0", 0, 0}, {"+1", 1, 1}, {"-1", 1, -1}, {"+3", 1, 3}, {"+10", 1, 10}}

var figure = regexp.MustCompile(`[0-9]+`)

// Readings changes every reading and answer that counts, one at a time.
func Readings(c Case, each func(n int, do func(i int) error) error) (released bool, out []Result, err error) {
	base := c.fold(c.Events)
	asks := map[string]fold.Ask{}
	for _, ss := range base.Steps {
		for _, r := range ss.Rounds {
			for _, a := range ss.Asks {
				asks[fmt.Sprintf("%s/%s/%d/%s", c.Setup, ss.ID, r.No, a.Field)] = a
			}
		}
	}
	newest := map[string]string{} // round of a step
	last := map[string]int{}      // the last reading at an address counts
	for i, e := range c.Events {
		if at := e.Read + e.Answer; at != "" {
			last[at] = i
			p := strings.Split(at, "/")
			newest[p[1]] = p[2]
		}
	}
	for i, e := range c.Events {
		at := e.Read + e.Answer
		a, ok := asks[at]
		if !ok || last[at] != i {
			continue
		}
		for _, ch := range c.changes(a, e.Value) {
			p := strings.Split(at, "/")
			ch.Step, ch.Field, ch.Address, ch.Event, ch.Was = p[1], figure.ReplaceAllString(strings.Join(p[3:], "/"), "#"), at, i, e.Value
			if strings.HasPrefix(ch.Field, "t#") { // which tool is not all the same
				ch.Field = strings.Join(p[3:], "/")
			}
			if p[2] != newest[p[1]] {
				ch.Field += " before"
			}
			out = append(out, ch)
		}
	}
	keyed := inForce(c.Events, c)
	err = each(len(out), func(i int) error {
		r := &out[i]
		es := slices.Clone(c.Events)
		es[r.Event].Value = r.Is
		es = c.walkedOn(es, r.Event)
		st := c.fold(es)
		if r.State = "held"; st.Released {
			r.State = "released"
		} else {
			r.At = string(st.Cursor.Step)
		}
		now := inForce(es, c)
		r.Register = max(math.Abs(now[0]-keyed[0]), math.Abs(now[1]-keyed[1]))
		r.Height = math.Abs(now[2] - keyed[2])
		return nil
	})
	return base.Released, out, err
}

func (c Case) fold(es []jobs.Event) fold.State {
	l := steps.NewLog()
	for _, e := range es {
		l.Apply(e)
	}
	return l.State(c.Plan)
}

// walkedOn is the record with the offset read back as the walk, having read what stands there, says to
// key it in. Fields that the changed event is one of stay as they are.
func (c Case) walkedOn(es []jobs.Event, changed int) []jobs.Event {
	l := steps.NewLog()
	amounts := map[string]string{}
	looked := false
	for i := range es {
		f := strings.Split(es[i].Answer, "/")
		if len(f) == 4 && f[1] == "offset" && i > changed && slices.Contains([]string{"x", "y", "z"}, f[3]) {
			if !looked { // all three stand on one page
				looked = true
				st := l.State(c.Plan)
				if a, ok := st.Ask("x"); ok && st.Cursor.Step == "offset" {
					for _, d := range a.Do {
						amounts[d.Dir] = unit.Format(d.Amount, unit.KLength, c.Plan.System(), 0)
					}
					for _, axis := range []string{"y", "z"} {
						b, _ := st.Ask(axis)
						for _, d := range b.Do {
							amounts[d.Dir] = unit.Format(d.Amount, unit.KLength, c.Plan.System(), 0)
						}
					}
				}
			}
			if v := amounts[f[3]]; v != "" {
				es[i].Value = v
			}
		}
		l.Apply(es[i])
	}
	return es
}

// inForce is the offset that the control holds: X Y Z as read back last, mm.
func inForce(es []jobs.Event, c Case) (out [3]float64) {
	for _, e := range es {
		f := strings.Split(e.Answer, "/")
		if len(f) != 4 || f[1] != "offset" && f[1] != "reread" {
			continue
		}
		if i := slices.Index([]string{"x", "y", "z"}, f[3]); i >= 0 {
			if n, err := unit.Parse(e.Value, unit.KLength, c.Plan.System()); err == nil {
				out[i] = n.Value
			}
		}
	}
	return out
}

// changer gathers the single changes of a value.
type changer struct {
	a    fold.Ask
	was  string
	from float64
	out  []Result
}

func (c *changer) add(how, is string, delta float64) {
	if is != c.was {
		c.out = append(c.out, Result{How: how, Is: is, Value: c.from, Delta: delta, Length: c.a.Unit == unit.KLength})
	}
}

// changes are the single changes of a value.
func (c Case) changes(a fold.Ask, was string) []Result {
	k := changer{a: a, was: was}
	n, err := unit.Parse(was, a.Unit, c.Plan.System())
	switch {
	case len(a.Options) > 0:
		for _, o := range a.Options {
			if !fold.SameAnswer(o, was) {
				k.add("other", o, 0)
			}
		}
	case a.Kind == fold.Text:
		k.add("other", turned(was), 0)
	case a.Kind == fold.Count:
		k.count()
	case err == nil:
		k.from = n.Value
		k.size()
		if s, ok := strings.CutPrefix(was, "-"); ok {
			k.add("sign", s, -2*k.from)
		} else if k.from != 0 {
			k.add("sign", "-"+was, -2*k.from)
		}
		for _, s := range swaps(was) {
			if m, err := unit.Parse(s, a.Unit, c.Plan.System()); err == nil {
				k.add("swap", s, m.Value-k.from)
			}
		}
	}
	return k.out
}

// count is a count that is another.
func (c *changer) count() {
	x, err := strconv.Atoi(c.was)
	if err != nil {
		return
	}
	c.from = float64(x)
	for _, d := range []int{-1, 1, 9} {
		if x+d >= 0 {
			c.add(fmt.Sprintf("%+d", d), strconv.Itoa(x+d), float64(d))
		}
	}
	if x != 0 {
		c.add("to 0", "0", float64(-x))
	}
}

// size is a length that is longer or shorter, another number by its unit's own changes.
func (c *changer) size() {
	if c.a.Unit == unit.KLength {
		for _, s := range Sizes {
			for _, d := range []float64{s, -s} {
				c.add(fmt.Sprintf("%g", s), number(c.from+d, "mm"), d)
			}
		}
		return
	}
	suffix := map[unit.Kind]string{unit.KTemperature: "C", unit.KTorque: "mNm", unit.KAngle: "deg"}[c.a.Unit]
	for _, o := range others {
		if x := o.factor*c.from + o.add; x != c.from {
			c.add(o.name, number(x, suffix), x-c.from)
		}
	}
}

func number(x float64, suffix string) string {
	return strconv.FormatFloat(math.Round(1e5*x)/1e5, 'f', -1, 64) + suffix
}

// swaps are the values with two neighbouring figures exchanged.
func swaps(s string) []string {
	var out []string
	at := -1
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			if s[i] != '.' && s[i] != ',' && at >= 0 {
				break // what follows is a unit, or the lower half of a fraction
			}
			continue
		}
		if at >= 0 && s[at] != s[i] {
			b := []byte(s)
			b[at], b[i] = b[i], b[at]
			out = append(out, string(b))
		}
		at = i
	}
	return out
}

// turned is a text with its last figure, else its last letter, another one.
func turned(s string) string {
	b := []byte(s)
	for i := len(b) - 1; i >= 0; i-- {
		if b[i] >= '0' && b[i] <= '9' {
			b[i] = '0' + (b[i]-'0'+1)%10
			return string(b)
		}
	}
	return s + "x"
}
