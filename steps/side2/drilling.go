package side2

import (
	"fmt"
	"math"
	"slices"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/checks"
	"fliptrue/steps/desk"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// drilling is the step that makes the holes: a look under the drill's tip, the first hole and its depth, then the rest.
type drilling struct {
	p       *fold.Plan
	tool    jobs.Tool
	drilled bool    // the job knows the drill
	want    float64 // its tip below the seat
	gap     checks.Gap
	gapped  bool
	reads   *checks.Reads
}

func drillingOf(p *fold.Plan) *drilling {
	d := &drilling{p: p}
	d.tool, d.drilled = desk.OpeningDrill(p)
	if d.drilled {
		d.want = desk.TipBelowSeat(d.tool)
	}
	d.gap, d.gapped = checks.TipGap(p, firstDrill(p), true, func(f fold.FactID) bool { return f != "screws" })
	d.reads = checks.ReadsAt(p, desk.WhileHeld)
	return d
}

// clampsOn counts the clamps before the first hole; where they were counted as they went on, the drill is asked.
func (d *drilling) clampsOn() fold.Ask {
	if d.p.Short() { // the clamps were counted as they went on
		in := drillIn(d.p)
		look := fold.Act{Do: "look", Of: "clamps", Words: "All clamps on and tight? At breakthrough a drill pulls the part up."}
		in.Do = append([]fold.Act{look}, in.Do...)
		return in
	}
	return kit.Counted("", "clamps on the part, counted now", "clamps", "on", fmt.Sprint(len(d.p.Setup.Clamps)),
		"A drill at breakthrough pulls the part up.", "Fit the missing clamp.")
}

func (d *drilling) asks(v fold.View) []fold.Ask {
	own := d.reads.Asks(v)
	depth, made, tight := holeAsks(d.p)
	if d.drilled {
		depth.Window = kit.Around(d.want, 0.5, "full diameter "+d.p.Len(kit.Even(d.p, 0.2, 0.2, 0.008))+" below the seat, and the point")
	}
	rest := []fold.Ask{depth, made, tight}
	if asDrilledBefore(d.p) { // the first hole is no trial any more
		made.Do[0].Words = "Hands out, door shut. Run the drill program, pecking. Vacuum between holes: chips can't be blown out from below."
		rest = []fold.Ask{made}
	}
	places, in := desk.PlaceAsks(d.p, v.Fact), []fold.Ask{drillIn(d.p)}
	if d.p.Short() {
		in = nil
	}
	if d.gapped {
		if _, wrong := d.gap.Off(v); wrong {
			return slices.Concat(in, d.gap.Asks(v), own) // before anything is cut
		}
		depth.Do[0].Words = "Hands out, door shut. " + depth.Do[0].Words
		return slices.Concat(in, d.gap.Asks(v), rest, own)
	}
	if len(places) == 0 {
		return slices.Concat(in, rest, own)
	}
	depth.Do[0].Words = "Stop, vacuum, measure the first hole."
	made.Do[0].Words = "Vacuum every hole: chips can't be blown out from below."
	return slices.Concat(in, places[:2], []fold.Ask{depth}, places[2:], []fold.Ask{made, tight}, own)
}

func (d *drilling) judge(v fold.View) fold.Outcome {
	var o fold.Outcome
	if d.gapped && d.gap.Check(v, &o) {
		return o
	}
	deep := v.Len("depth")
	if d.drilled && v.Has("depth") {
		judgeDepth(d.p, d.tool, deep, &o)
	}
	if in := drillIn(d.p); in.Want != "" && !d.p.Short() && !fold.SameAnswer(v.Text("tool"), in.Want) && len(o.Next) == 0 {
		o.Next = append(o.Next, fold.Act{Do: "remove", Of: "probe", Words: in.Hint}, fold.Act{Do: "again", Of: "tool"})
	}
	if v.Int("tight") > 0 && len(o.Next) == 0 {
		o.Next = append(o.Next, fold.Act{Do: "drill", Of: "holes", Words: "Clear the chips, run the drill through those holes once more, try " +
			"the pin again."}, fold.Act{Do: "again", Of: "tight"})
	}
	desk.PlaceChecks(d.p, v, &o)
	plan := desk.DrillPlan(d.p)
	o.Lines = append(append(o.Lines, plan.Rows...), desk.PlaceRows(d.p, v.Fact)...)
	o.Notes = append(o.Notes, plan.Notes...)
	d.reads.Pass(v, &o)
	o.Facts = []fold.Known{facts.Holes.Is(facts.CountFact{N: float64(v.Int("holes"))})}
	o.Learned = fmt.Sprintf("%d holes; a pin drops through all. The first went %s below the seat.", v.Int("holes"), d.p.Len(deep))
	if !v.Has("depth") {
		o.Learned = fmt.Sprintf("%d holes; how deep was not read at this level.", v.Int("holes"))
	}
	return o
}

func (d *drilling) page(v fold.View) fold.Page {
	path, warn := d.reads.Shapes(v)
	pg := drillPage(d.p, v, path)
	if asDrilledBefore(d.p) {
		pg.Act, pg.Read = "Drill the holes.", "What is in the spindle; then the holes, counted."
	}
	if d.gapped && (v.Has("tool") || d.p.Short() && v.Has("pause")) && d.gap.Looking(v) {
		d.gap.Page(v, &pg)
	} else if deep, read := v.Num("depth", unit.KLength); d.drilled && read {
		pg.Scene.Cut = desk.HoleSection(d.p, d.tool, d.want, deep)
	} else if d.drilled {
		pg.Scene.Cut = desk.HoleSection(d.p, d.tool, d.want, math.NaN())
	}
	if warn != "" {
		pg.Caution = warn
	}
	return pg
}
