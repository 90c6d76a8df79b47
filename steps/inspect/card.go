package inspect

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"fliptrue/calc/frame"
	calc "fliptrue/calc/inspect"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/desk"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// revision is what a released inspection has to write to the fixture's card: what it found of the part, and where the
// person said so the card's corrected values, with what stood there before and the reason under history. Its Key is "#" and
// the place in the record; record names it on the card. card reads the card as it is now: had it changed otherwise since the record was
// begun, what was decided by it does not hold any more, and only what was found is written.
func revision(st fold.State, record string, card func() (jobs.Fixture, error)) (w jobs.Writeback, ok bool, err error) {
	p := st.Plan()
	if !st.Released {
		return w, false, nil
	}
	by := func(id fold.FactID) (fold.Known, bool) { return st.Fact(id) }
	m, ok1 := facts.Mismatch.By(by)
	b, ok2 := facts.Benched.By(by)
	c, ok3 := facts.Corrected.By(by)
	if !ok1 || !ok2 || !ok3 {
		return w, false, nil
	}
	last, _ := st.Fact(facts.Corrected.ID)
	now, err := card()
	if err != nil {
		return w, false, err
	}
	sys := now.Unit
	w = jobs.Writeback{Key: fmt.Sprintf("#%d", last.Last), Set: map[string]string{}, Kept: map[string]string{}}
	row := func(v string, keys ...string) { w.Set[jobs.Path(append([]string{"found", record}, keys...)...)] = v }
	row(st.LastAt.UTC().Format(time.RFC3339), "at")
	row(desk.CardLength(float64(m.DX), sys), "x")
	row(desk.CardLength(float64(m.DY), sys), "y")
	row(desk.CardSlope(float64(m.Turn)), "turn")
	row(desk.CardLength(float64(m.Size), sys), "size")
	if f, ok := facts.FloorLeft.By(by); ok {
		row(desk.CardLength(float64(f.Thick), sys), "thick")
	}
	row(fmt.Sprintf("%.1fC", b.C), "temperature")
	for key, v := range map[string]unit.Length{"x": c.GrewX, "y": c.GrewY} {
		if v != 0 {
			row(desk.CardLength(float64(v), sys), "grew", key)
		}
	}
	if b.RH > 0 {
		row(fmt.Sprintf("%.0f", b.RH), "humidity")
	}
	if c.Out != 0 {
		row("a mishap or a waiver stands in its record", "left-out")
	}
	if c.X == 0 && c.Y == 0 && c.Turn == 0 {
		return w, true, nil
	}
	if changed(p.Job.Fixture, now, record) {
		w.Kept["not corrected"] = "the card was changed since this record was begun"
		return w, true, nil
	}
	for key, v := range map[string]unit.Length{"x": c.X, "y": c.Y} {
		if v != 0 {
			row(desk.CardLength(float64(v), sys), "took", key)
		}
	}
	if c.Turn != 0 {
		row(desk.CardSlope(float64(c.Turn)), "took", "turn")
	}
	w.Kept["reason"] = reason(p, m, b, c)
	for key, v := range corrected(p, c) {
		w.Set["as-made."+key], w.Kept["was "+key] = v[1], v[0]
	}
	return w, true, nil
}

// changed says that the card is not the one that was decided by: another place or direction, or parts found since.
func changed(then, now jobs.Fixture, record string) bool {
	zero := func(f jobs.Fixture) (z [5]float64) {
		z[0], z[1] = f.AsMade.PartZero.X, f.AsMade.PartZero.Y
		if e := f.AsMade.Edge; e != nil {
			z[2] = float64(e.Zero)
		}
		if b := f.AsMade.Bore2; b != nil {
			z[3], z[4] = b.At.X, b.At.Y
		}
		return z
	}
	names := func(f jobs.Fixture) (out []string) {
		for _, r := range f.Found {
			if r.Record != record {
				out = append(out, r.Record)
			}
		}
		slices.Sort(out)
		return out
	}
	return zero(then) != zero(now) || !slices.Equal(names(then), names(now))
}

// corrected are the card's values by their keys under as-made, before and after.
func corrected(p *fold.Plan, c facts.CorrectionFact) map[string][2]string {
	f := &p.Job.Fixture
	clear := clearance(p) // the card has the part in the middle of its pocket
	place := frame.Vec{X: float64(c.X), Y: float64(c.Y)}
	if c.Turn != 0 { // then at the part zero, about which the place turns
		place = calc.Mismatch{DX: place.X, DY: place.Y, Turn: c.Turn}.Move(middle(p).Times(-1))
	}
	was := calc.AsMade{V: kit.Vec(f.AsMade.PartZero).Add(clear)}
	is := was.Corrected(place, c.Turn, 0)
	out := map[string][2]string{}
	length := func(key string, from, to float64) {
		if a, b := desk.CardLength(from, f.Unit), desk.CardLength(to, f.Unit); a != b {
			out[key] = [2]string{a, b}
		}
	}
	length("part-zero.0", f.AsMade.PartZero.X, is.V.Sub(clear).X)
	length("part-zero.1", f.AsMade.PartZero.Y, is.V.Sub(clear).Y)
	if c.Turn == 0 {
		return out
	}
	if e := f.AsMade.Edge; e != nil {
		out["edge.zero"] = [2]string{desk.CardSlope(float64(e.Zero)), desk.CardSlope(math.Tan(math.Atan(float64(e.Zero)) + float64(is.EdgeZero)))}
	}
	if b := f.AsMade.Bore2; b != nil {
		at := kit.Vec(b.At).Turned(float64(is.BoreLine))
		length("bore2.at.0", b.At.X, at.X)
		length("bore2.at.1", b.At.Y, at.Y)
	}
	return out
}

// clearance is from the middle of the pocket to where the part stands against its walls, by the job's second side.
func clearance(p *fold.Plan) frame.Vec {
	for i := range p.Job.Setups {
		if s := &p.Job.Setups[i]; s.Second() {
			v, _ := kit.PartZero(p.Otherwise(s))
			return v.Sub(kit.Vec(p.Job.Fixture.AsMade.PartZero))
		}
	}
	return frame.Vec{}
}

// reason is why the card is another, for whoever reads it.
func reason(p *fold.Plan, m facts.MismatchFact, b facts.BenchedFact, c facts.CorrectionFact) string {
	cs, err := weigh(p, m, b, grew{Vec: frame.Vec{X: float64(c.GrewX), Y: float64(c.GrewY)}}, false)
	if err != nil {
		return ""
	}
	var says []string
	for _, c := range cs {
		if c.does.By != 0 {
			says = append(says, fmt.Sprintf("%s %s of %s, gain %.2f, standard uncertainty %s", c.name, kit.Signed(p, c.does.By), count(c.bias.N),
				c.bias.Gain, unit.Show(c.bias.U, unit.KLength, p.Job.Unit, 0)))
		}
	}
	return strings.Join(says, "; ")
}
