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
	m, ok1 := facts.Mismatch.By(st.Fact)
	b, ok2 := facts.Benched.By(st.Fact)
	c, ok3 := facts.Corrected.By(st.Fact)
	if !ok1 || !ok2 || !ok3 {
		return w, false, nil
	}
	last, _ := st.Fact(facts.Corrected.ID)
	now, err := card()
	if err != nil {
		return w, false, err
	}
	w = jobs.Writeback{Key: fmt.Sprintf("#%d", last.Last), Set: map[string]string{}, Kept: map[string]string{}}
	to := finding{w.Set, record, now.Unit}
	to.part(st, m, b)
	to.grew(c)
	if c.X == 0 && c.Y == 0 && c.Turn == 0 {
		return w, true, nil
	}
	if changed(p.Job.Fixture, now, record) {
		w.Kept["not corrected"] = "the card was changed since this record was begun"
		return w, true, nil
	}
	to.took(c)
	w.Kept["reason"] = reason(p, m, b, c, st.Walks(4))
	for key, v := range corrected(p, c) {
		w.Set["as-made."+key], w.Kept["was "+key] = v[1], v[0]
	}
	return w, true, nil
}

// finding is where what was found of one part is written on the card, in the card's unit.
type finding struct {
	set    map[string]string
	record string
	in     unit.System
}

func (to finding) row(v string, keys ...string) {
	to.set[jobs.Path(append([]string{"found", to.record}, keys...)...)] = v
}

// lengths are rows of those that are not nought.
func (to finding) lengths(key string, x, y unit.Length) {
	for axis, v := range map[string]unit.Length{"x": x, "y": y} {
		if v != 0 {
			to.row(desk.CardLength(float64(v), to.in), key, axis)
		}
	}
}

// part is what the part shows, and the air that it was measured in.
func (to finding) part(st fold.State, m facts.MismatchFact, b facts.BenchedFact) {
	to.row(st.LastAt.UTC().Format(time.RFC3339), "at")
	to.row(desk.CardLength(float64(m.DX), to.in), "x")
	to.row(desk.CardLength(float64(m.DY), to.in), "y")
	to.row(desk.CardSlope(float64(m.Turn)), "turn")
	to.row(desk.CardLength(float64(m.Size), to.in), "size")
	if f, ok := facts.FloorLeft.By(st.Fact); ok {
		to.row(desk.CardLength(float64(f.Thick), to.in), "thick")
	}
	to.row(fmt.Sprintf("%.1fC", b.C), "temperature")
	if b.RH > 0 {
		to.row(fmt.Sprintf("%.0f", b.RH), "humidity")
	}
}

// grew is what of it was growth, and whether the part counts.
func (to finding) grew(c facts.CorrectionFact) {
	to.lengths("grew", c.GrewX, c.GrewY)
	if c.Out != 0 {
		to.row("a mishap or a waiver stands in its record", "left-out")
	}
}

// took is by what the card was corrected.
func (to finding) took(c facts.CorrectionFact) {
	to.lengths("took", c.X, c.Y)
	if c.Turn != 0 {
		to.row(desk.CardSlope(float64(c.Turn)), "took", "turn")
	}
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
func reason(p *fold.Plan, m facts.MismatchFact, b facts.BenchedFact, c facts.CorrectionFact, newest bool) string {
	cs, err := weigh(p, m, b, grew{Vec: frame.Vec{X: float64(c.GrewX), Y: float64(c.GrewY)}}, false, newest)
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
	return strings.Join(says, ". ")
}
