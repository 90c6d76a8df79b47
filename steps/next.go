package steps

import (
	"encoding/json"
	"fmt"
	"math"
	"sort"
	"strings"

	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
)

// The next blank on the same fixture, nothing moved: a new record begins with facts
// of the mounting taken over from the one before. They are void until the step
// "next" has proven them; nothing of the part itself is taken over.

func init() {
	add(Step{ID: "next", Kinds: []string{secondSide}, Off: true, Build: next})
}

// nextPart is raised at the begin of a record that takes facts over.
const nextPart MishapID = "next-part"

// takenPrefix heads the begin event's cards that hold facts taken over.
const takenPrefix = "taken."

// takenFact is how such a card is written.
type takenFact struct {
	Value []float64   `json:"value,omitempty"`
	Cov   [][]float64 `json:"cov,omitempty"`
	Dof   float64     `json:"dof,omitempty"`
}

// ofTheMounting says that a fact outlives one part.
func ofTheMounting(f FactID) bool {
	switch f.Column() {
	case "identity", "skew", "bore", "floor", "offset", "echo", "length", "program":
		return true
	}
	return false
}

// Taken are the cards by which the next record takes over what of this mounting still
// stands, to be added to those of its begin. The probe's length is taken although the
// walk itself took the probe out: it is touched again first. It is an error while the
// setup is not released or bore, floor or offset do not stand.
func (st *State) Taken() (map[string]string, error) {
	if !st.Released {
		return nil, fmt.Errorf("setup %q is not released; finish this part first, or begin the next one as usual", st.Setup)
	}
	out := map[string]string{}
	for _, f := range st.Facts {
		if !ofTheMounting(f.ID) || (f.Void != nil && f.Void.Mishap != "probe-refitted") {
			continue
		}
		b, err := json.Marshal(takenFact{f.Value, f.Cov, f.Dof})
		if err != nil {
			return nil, fmt.Errorf("fact %q can't be taken over: %w", f.ID, err)
		}
		out[takenPrefix+string(f.ID)] = string(b)
	}
	for _, f := range []FactID{"identity", "bore", "floor", "offset"} {
		if _, ok := out[takenPrefix+string(f)]; !ok {
			return nil, fmt.Errorf("%s does not stand any more; begin the next part as usual", f)
		}
	}
	return out, nil
}

// takenFacts reads them back; what can't be read is not taken over, and so is asked as usual.
// unread says of each such card why.
func takenFacts(p *Plan, cards map[string]string) (out []Fact, unread []string) {
	for _, id := range p.facts { // in the plan's order
		text, ok := cards[takenPrefix+string(id)]
		if !ok || !ofTheMounting(id) {
			continue
		}
		var t takenFact
		d := json.NewDecoder(strings.NewReader(text))
		d.DisallowUnknownFields()
		if err := d.Decode(&t); err != nil {
			unread = append(unread, fmt.Sprintf("%s does not read (%v) and is not taken over: it is asked as usual; copy the card from the record before, or measure it", takenPrefix+string(id), err))
			continue
		}
		f := Fact{ID: id, Value: t.Value, Cov: t.Cov, Dof: t.Dof}
		for _, sp := range p.makers[id] {
			if contains(sp.Makes, id) && contains(p.Line, sp) {
				f.By = sp.ID
				break
			}
		}
		out = append(out, f)
	}
	for key := range cards {
		if id, ok := strings.CutPrefix(key, takenPrefix); ok && (!ofTheMounting(FactID(id)) || !contains(p.facts, FactID(id))) {
			unread = append(unread, key+" is nothing that this setup takes over; it is not used")
		}
	}
	sort.Strings(unread)
	return out, unread
}

// next proves that bore and floor are where they were for the part before.
func next(p *Plan) *Spec {
	first, _ := p.targets()
	thing := first.name
	q := p.floorPoints()[4]
	lifts := []FactID{"identity", "skew", "bore", "floor"}
	sp := &Spec{Title: "next blank", At: "mount", Lifts: append(lifts, p.lengthFacts()...), Makes: []FactID{"drift"}}
	probe := p.Job.Machine.Probe != nil
	_, probing := p.finder().(prober)
	sp.AsRead = p.finder().stands()
	if probe {
		sp.May = []FactID{"length/probe"}
	}
	// length in force for the touch on the floor.
	length := func(v View) (float64, bool) {
		if l, ok := v.Num("probe", unit.KLength); ok && probe {
			return l, true
		}
		l, ok := v.Was(p.zDatum())
		if !ok || len(l.Value) == 0 {
			return 0, false
		}
		return l.Value[0], true
	}
	z, _ := p.partZero()
	floorAt := func(f Fact) float64 { return f.Value[0] + f.Value[1]*(q.X-z.X) + f.Value[2]*(q.Y-z.Y) }
	sp.Asks = func(v View) []Ask {
		asks := []Ask{{Field: "since", Label: "since the part before", Kind: Choice, Options: []string{"nothing happened", "something happened"}, What: What{By: "eye", Of: "fixture", Dir: "since"}, Want: "nothing happened",
			WantWhy: "Then nothing is taken over.", Hint: "Begin at the fixture, as for the first part.", Do: []Act{{Do: "remove", Of: "part", Words: "Part out, screws out. Vacuum and wipe pocket, trench and " + thing + "."}}}}
		if probe {
			a := Ask{Field: "probe", Label: "probe touched on the tools' reference: length", Kind: Reading, Unit: unit.KLength, What: What{By: "touch", Of: "tool/probe", Dir: "length"}, Do: []Act{{Do: "fit", Of: "probe", Words: "Probe in, spindle mark to the front. Its length first."}}}
			if l, ok := v.Was("length/probe"); ok && len(l.Value) > 0 {
				a.Window = around(l.Value[0], 0.1, "as before")
			}
			asks = append(asks, a)
		}
		if _, ok := v.Was("bore"); ok {
			for _, a := range p.crossAsks(v, first) {
				if !probing || a.Field == quarters[0].field || a.Field == quarters[1].field {
					asks = append(asks, a)
				}
			}
		}
		if f, ok := v.Was("floor"); ok && len(f.Value) > 3 {
			a := Ask{Field: "z", Label: "bare floor, middle", Kind: Reading, Unit: unit.KLength, What: What{By: p.touchBy(), Of: "floor@" + place(q.X) + "," + place(q.Y), Dir: "z-", Axis: "z"}, Window: p.travelWindow("z")}
			if l, ok := length(v); ok {
				a.Window = around(floorAt(f)+l, 0.3, "as before")
			}
			asks = append(asks, a)
		}
		return asks
	}
	sp.Judge = func(v View) Outcome {
		var o Outcome
		l := p.Limit("next.bore")
		if probe { // every walk takes the probe out: its place in the collet is in the difference
			l.Max *= 2
		}
		most := 0.0
		weigh := func(id, why string, d float64) {
			k := l
			k.ID, k.Why = id, why
			c := Judged(k, math.Abs(d), 0)
			if most = math.Max(most, c.Got); c.Verdict == Fail {
				c.Words = fmt.Sprintf("%s: it differs by %s. Nothing is taken over; begin at the fixture.", why, p.len(c.Got))
				o.Named = "fixture-moved"
				o.Next = append(o.Next, Act{Do: "look", Of: "fixture", Words: "Wipe and touch once more; if it stays, begin at the fixture."})
			}
			o.Checks = append(o.Checks, c)
		}
		if b, ok := v.Was("bore"); ok && len(b.Value) > 2 {
			raw, _, _ := p.cross(v, first)
			if probing { // two hits: the size is known
				half := b.Value[2]/2 - p.ballRadius(v)
				if first.outside() {
					half += 2 * p.ballRadius(v)
				}
				raw = frame.Vec{X: v.Len("f0") - half, Y: v.Len("f90") - half}
			}
			at, _ := p.corrected(v, raw)
			weigh("next.bore", thing+" as for the part before", at.Sub(frame.Vec{X: b.Value[0], Y: b.Value[1]}).Len())
		}
		if f, ok := v.Was("floor"); ok && len(f.Value) > 3 {
			if at, ok := length(v); ok {
				weigh("next.floor", "floor as for the part before", fit.ZOffset(v.Len("z"), at, 0)-floorAt(f))
			}
		}
		if x, ok := v.Num("probe", unit.KLength); ok {
			u := 0.005 / math.Sqrt(3)
			o.Facts = append(o.Facts, Fact{ID: "length/probe", Value: []float64{x}, Cov: [][]float64{{u * u}}})
		}
		o.Facts = append(o.Facts, Fact{ID: "drift", Value: []float64{most}})
		o.Learned = fmt.Sprintf("Bore and floor are as before within %s: the fixture's direction and the offset in the control hold for this part too.", p.len(most))
		return o
	}
	sp.Page = func(v View) Page {
		return Page{Why: "The mounting outlives one part; a few touches prove it.",
			Act:     "Touch the length, the " + thing + " by the fewest readings and the floor once.",
			Read:    "Machine position at contact.",
			Caution: "SPINDLE STOPPED, its command off, before the probe goes in.", Scene: p.scene(v, nil)}
	}
	return sp
}
