package side2

import (
	"fmt"
	"math"

	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/checks"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// AgainLimits are those of fixture and cutter after the cut, and of the acts of choice.
var AgainLimits = append([]fold.LimitRow{
	{ID: "stood.bore", Why: "locating bore after the cut, moved by", How: "as for the next part", Class: fold.Soft, Unit: unit.KLength},
	{ID: "stood.far", Why: "far end after the cut, moved by", How: "{0.010}", Class: fold.Soft, Unit: unit.KLength, Max: judge.Fixed(0.010)},
	{ID: "stood.tool", Why: "cutter after the cut, longer or shorter by", How: "{0.010}", Class: fold.Soft, Unit: unit.KLength, Max: judge.Fixed(0.010)},
	{ID: "stood.high", Why: "finished top over the program", How: "0.2 of the thickness allowance", Class: fold.Soft, Unit: unit.KLength, Max: judge.ThickShare(0.2)},
}, checks.WarmLimits...)

// again is what can be asked of a mounting only while the finished part is still screwed down: did fixture or cutter move
// while it was cut. p inspects; the next part's touches are those of the job's second side.
type again struct {
	p    *fold.Plan
	next nextTouch
	tool string // the cutter's number, "" without
}

// Again is that as a step of the inspection; nil where the job has no second side.
func Again(p *fold.Plan) *fold.Spec {
	var second *jobs.Setup
	for i := range p.Job.Setups {
		if p.Job.Setups[i].Second() {
			second = &p.Job.Setups[i]
			break
		}
	}
	if second == nil {
		return nil
	}
	a := again{p: p, next: nextTouchOf(p.Otherwise(second))}
	if second.Cut.Tool > 0 {
		a.tool = fmt.Sprint(second.Cut.Tool)
	}
	return &fold.Spec{
		Title: "still screwed down", Makes: []fold.FactID{facts.Stood.ID},
		Needs: fold.IfThere(append([]fold.FactID{"bore", "skew", "ball"}, kit.LengthFacts(a.next.p)...)...),
		Asks:  a.asks, Judge: a.judge,
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "Once the screws are out, nobody can ask whether fixture or cutter moved in the cut.",
				Act:  "Leave the screws in. Touch cutter, " + a.next.first.Name + " and far end once more.",
				Read: "As when they were first found.", Caution: "SPINDLE STOPPED, its command off. Chips away with a brush; edges are sharp.",
				Scene: kit.Scene(a.next.p, v, nil)}
		},
	}
}

const screwedYes, screwedNo = "yes", "no, it is off"

func (a again) asks(v fold.View) []fold.Ask {
	asks := []fold.Ask{{Field: "on", Label: "the part is still screwed to its fixture", Kind: fold.Choice,
		Options: []string{screwedYes, screwedNo}, What: fold.What{By: "eye", Of: "part", Dir: "screwed"}}}
	b, found := facts.Bore.In(v)
	if !fold.SameAnswer(v.Text("on"), screwedYes) || !found {
		return asks
	}
	u, q := v.Recalled(), a.next.p
	if l, ok := facts.Length.Of(a.tool).In(v); ok && a.tool != "" {
		asks = append(asks, fold.Ask{Field: "tool", Label: kit.ToolName(q, a.tool) + " touched on its reference: length", Kind: fold.Reading,
			Unit: unit.KLength, What: fold.What{By: "touch", Of: "tool/" + a.tool, Dir: "length"},
			Window: kit.Around(float64(l.L), 0.05, "as before"),
			Do:     []fold.Act{{Do: "look", Of: "tools", Words: "Screws stay in. Cutter first, while it is in the spindle."}}})
	}
	bore := a.next.boreAsks(u)
	if a.next.probe {
		bore[0].Do = append([]fold.Act{{Do: "fit", Of: "probe", Words: "Probe in, spindle mark to the front. Wipe the " + a.next.first.Name +
			"."}}, bore[0].Do...)
	}
	asks = append(asks, bore...)
	if a.next.far != nil {
		asks = append(asks, a.next.far.asks(u)...)
	}
	return append(asks, a.heights(b)...)
}

// heights are the rim and two places of the finished top, in one mounting of the instrument.
func (a again) heights(b facts.BoreFact) (asks []fold.Ask) {
	q := a.next.p
	if len(a.p.Setup.Inspect.Faces) != 2 || q.Job.Machine.Probe == nil {
		return nil
	}
	bore := facts.Bore.Is(b)
	r := kit.Rim(q)[0]
	height := func(field, label, of string, at jobs.Point) fold.Ask {
		return fold.Ask{Field: field, Label: label, Kind: fold.Reading, Unit: unit.KLength,
			What: fold.What{By: "probe", Of: of + "@" + kit.Place(at.X) + "," + kit.Place(at.Y), Dir: "z-", Axis: "z"}, Window: kit.TravelWindow(
				q, "z")}
	}
	asks = append(asks, height("rim", "rim of the fixture: "+kit.OnFixture(q, r, bore, true), "rim", r))
	for i, f := range a.p.Setup.Inspect.Faces {
		asks = append(asks, height(fmt.Sprintf("face%d", i+1), "finished top: W X "+kit.Signed(q, f.X)+" Y "+kit.Signed(q, f.Y), "part-top", f))
	}
	return asks
}

func (a again) judge(v fold.View) fold.Outcome {
	var o fold.Outcome
	p, q := a.p, a.next.p
	was, found := facts.Bore.In(v)
	if !fold.SameAnswer(v.Text("on"), screwedYes) || !found {
		o.Facts = []fold.Known{facts.Stood.Is(facts.StoodFact{})}
		o.Learned = "It is off: whether fixture or cutter moved in the cut is not asked any more."
		if !found {
			o.Learned = "No second side stands in this record: there is nothing to compare with. Take the screws out."
		}
		return o
	}
	f := facts.StoodFact{Asked: 1}
	weigh := func(l fold.Limit, d float64, what, named string, again ...string) {
		weighStood(a.p, &o, l, d, what, named, again...)
	}
	u := v.Recalled()
	raw, _ := nextCentre(q, u)
	at, _ := corrected(q, u, raw)
	l := judge.At(p.Limit("stood.bore"), q.Limit("next.bore").Max)
	if a.next.probe { // it was out and in again
		l.Max *= 2
	}
	f.Moved = unit.Length(at.Sub(frame.Vec{X: float64(was.X), Y: float64(was.Y)}).Len())
	var fields []string
	for _, x := range a.next.boreAsks(u) {
		fields = append(fields, x.Field)
	}
	weigh(l, float64(f.Moved), "The "+a.next.first.Name+" stands elsewhere: the whole setup moved in the cut", "fixture-moved", fields...)
	if a.next.far != nil {
		if d, ok, err := a.next.far.off(u); err != nil {
			kit.Refuse(&o, "stood.jog", "jog test: needle against a known move", err)
		} else if ok {
			f.Far = unit.Length(d)
			weigh(p.Limit("stood.far"), d, "The far end stands elsewhere: the fixture turned in the cut", "fixture-moved")
		}
	}
	if x, ok := v.Num("tool", unit.KLength); ok {
		if l, ok := facts.Length.Of(a.tool).In(v); ok {
			f.Tool = unit.Length(x - float64(l.L))
			weigh(p.Limit("stood.tool"), float64(f.Tool), "The cutter is not as long as it was: it was PULLED, or slipped in", "tool-pulled", "tool")
		}
	}
	a.high(v, &f, weigh, &o)
	o.Facts = []fold.Known{facts.Stood.Is(f)}
	o.Learned = fmt.Sprintf("After the cut the %s stands within %s of where it was.", a.next.first.Name, p.Len(float64(f.Moved)))
	return o
}

// weighStood holds one place against where it stood; the first that does not is named, with the act.
func weighStood(p *fold.Plan, o *fold.Outcome, l fold.Limit, d float64, what, named string, again ...string) {
	c := judge.Off(l, d, 0, 0)
	if c.Verdict != fold.Pass {
		c.Words = fmt.Sprintf("%s, by %s.", what, p.Len(math.Abs(d)))
		if o.Named == "" {
			o.Named = named
			o.Next = append(o.Next, fold.Act{Do: "look", Of: "fixture", Words: c.Words + " Wipe and touch it once more. If it stays, accept it: " +
				"this part then corrects no card."})
			for _, x := range again {
				o.Next = append(o.Next, fold.Act{Do: "again", Of: x})
			}
		}
	}
	o.Checks = append(o.Checks, c)
	o.Lines = append(o.Lines, fold.Row{Label: l.Why, Value: d, Unit: unit.KLength, Signed: true, Verdict: c.Verdict})
}

// high is the finished top over the rim against the program.
func (a again) high(v fold.View, f *facts.StoodFact, weigh func(fold.Limit, float64, string, string, ...string), o *fold.Outcome) {
	rim, ok := v.Num("rim", unit.KLength)
	z1, ok1 := v.Num("face1", unit.KLength)
	z2, ok2 := v.Num("face2", unit.KLength)
	if !ok || !ok1 || !ok2 {
		return
	}
	q := a.next.p
	want := q.Job.Part.Size[2] - kit.RimHeight(q)
	f.High = unit.Length((z1+z2)/2 - rim - want)
	weigh(a.p.Limit("stood.high"), float64(f.High), "The finished top is not as high over the rim as programmed", "height-off", "rim", "face1",
		"face2")
	o.Lines = append(o.Lines, fold.Row{Label: "second place higher than the first by", Value: z2 - z1, Unit: unit.KLength, Signed: true})
}
