package reuse

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/asmade"
	"fliptrue/calc/budget"
	"fliptrue/calc/frame"
	"fliptrue/calc/growth"
	"fliptrue/calc/register"
	calc "fliptrue/calc/reuse"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

func probed(p *fold.Plan) bool { _, ok := kit.Finder(p).(kit.Prober); return ok }

// contact is what touches the bores, four times each.
func contact(p *fold.Plan, v fold.View) kit.Contact {
	if probed(p) {
		return kit.Prober{P: p}.Contact(v)
	}
	return kit.Kicker{P: p, By: "finder"}.Contact()
}

// targets are both bores as made.
func targets(p *fold.Plan) (a kit.Target, b kit.Target, ok bool) {
	first, second := kit.Targets(p)
	if second == nil {
		return first, first, false
	}
	return first, *second, true
}

// scale tells heat from humidity by the distance of both bores, and wear from both by their size.
func scale(p *fold.Plan) *fold.Spec {
	if _, _, ok := targets(p); !ok {
		return nil
	}
	fd := kit.Finder(p)
	return &fold.Spec{
		Title: "both bores", Needs: fold.Needs(fold.AsRead(facts.AMounting), facts.Back.Live(), facts.LookedAt.Live(),
			fold.AsRead(fd.Stands()...)), Makes: []fold.FactID{facts.Scale.ID, facts.WornBore.ID},
		Keys:  []string{"setups." + p.Setup.Name + ".finds"},
		Asks:  func(v fold.View) []fold.Ask { return scaleAsks(p, v) },
		Judge: func(v fold.View) fold.Outcome { return judgeScale(p, v) },
		Page: func(v fold.View) fold.Page {
			a, _, _ := targets(p)
			_, read, caution := fd.Says(a)
			pg := fold.Page{Why: "Two bores say how much it has grown; their size says what has worn.",
				Act: "Bolt it down, then four touches in each bore: both X sides, then both Y sides.", Read: read, Caution: caution,
				Scene: kit.Scene(p, v, nil)}
			if len(handAsks(p, v)) > 0 { // hands go to the bore now
				pg.Caution = kit.StoppedYet
			}
			return pg
		},
	}
}

func scaleAsks(p *fold.Plan, v fold.View) []fold.Ask {
	a, b, _ := targets(p)
	c := contact(p, v)
	var asks []fold.Ask
	if probed(p) {
		asks = append(asks, kit.MarkAsk())
		if kit.MarkWrong(v, &fold.Outcome{}) {
			return asks
		}
	}
	n := len(asks)
	for _, t := range []kit.Target{a, b} {
		asks = append(append(asks, c.Pair(v, t, "x")...), c.Pair(v, t, "y")...)
	}
	asks = append(asks, handAsks(p, v)...)
	asks[n].Do = []fold.Act{{Do: "mount", Of: "fixture", Words: "Stone and wipe the table. Arrow toward you; bolt alternately."},
		{Do: "wipe", Of: "bore", Words: "Wipe both bores; a cotton bud, no air."}}
	return asks
}

// alphaHalf is how far a sheet's expansion may be from the handbook's, as a share, half-width. Common practice, from memory.
const alphaHalf = 0.1

// alpha is the fixture's expansion.
func alpha(p *fold.Plan) growth.Coef {
	a := kit.FixtureAlpha(p)
	return growth.Coef{Low: a, Nominal: a, High: a}
}

// damp is how the fixture's material grows by humidity, nil where it does not, or is not known.
func damp(p *fold.Plan) asmade.Damp {
	if strings.Contains(strings.ToLower(p.Job.Fixture.Material), "acrylic") {
		return asmade.Acrylic
	}
	if m, err := p.Job.Library().Like(p.Job.Fixture.Material); err == nil && m.Humid.Known() {
		return asmade.Even(m.Humid.Nominal)
	}
	return nil
}

// day is the air of the day on which it was made.
func day(p *fold.Plan) (growth.Air, growth.Temp) {
	m := p.Job.Fixture.AsMade
	t := growth.Temp{C: 20}
	if m.Temperature != nil {
		t = growth.Temp{C: float64(*m.Temperature), Read: true}
	}
	return growth.Air{C: t.C, RH: m.Humidity, Read: m.Humidity > 0}, t
}

// split is the growth told apart.
func split(p *fold.Plan, b facts.BackFact, q, u float64) (s calc.Scale, r calc.Split, err error) {
	made, then := day(p)
	heat, err := growth.Since(then, growth.Temp{C: b.C, Read: b.Read == 1}).Heat("fixture heat", alpha(p), register.MachineAlpha)
	if err != nil {
		return s, r, err
	}
	s = calc.Scale{Q: q, U: u, Heat: heat, PerK: alpha(p).Nominal - register.MachineAlpha,
		UAlpha: alphaHalf * alpha(p).Nominal / math.Sqrt(3), Damp: damp(p), Made: made}
	r, err = s.Split()
	return s, r, err
}

// bores are both bores as touched: how much their line has turned and stretched, and bore 1 against its size by now.
type bores struct {
	skew  unit.Angle
	uSkew float64
	uq    float64 // of the scale
	calc.Scale
	calc.Split
	size frame.BoreSize
}

func bothBores(p *fold.Plan, v fold.View, now facts.BackFact) (bores, error) {
	r, err := byTouch(p, v, now)
	if x, ok := v.Num(handField, unit.KLength); err == nil && ok && r.open(p, v) {
		t, _, _ := targets(p)
		err = r.sized(p, x, handU(t))
	}
	return r, err
}

// byTouch are they by the touches alone.
func byTouch(p *fold.Plan, v fold.View, now facts.BackFact) (r bores, err error) {
	a, b, _ := targets(p)
	one, two := touch(p, v, a), touch(p, v, b)
	skew, q, cov, err := frame.TwoBores(one.at, two.at, b.From, one.cov, two.cov)
	if err != nil {
		return r, err
	}
	r.skew, r.uSkew = skew, math.Sqrt(cov[2][2])
	r.uq = math.Hypot(math.Sqrt(cov[3][3]), p.Job.Fixture.AsMade.SpacingU/b.From.Len())
	if r.Scale, r.Split, err = split(p, now, q, math.Max(r.uq, 1e-9)); err != nil {
		return r, err
	}
	return r, r.sized(p, one.dia, one.u)
}

// sized holds a size of bore 1 against the card's, grown as the plate has.
func (r *bores) sized(p *fold.Plan, dia, u float64) (err error) {
	m := p.Job.Fixture.AsMade
	if r.size, err = frame.BoreGrown(dia, m.Bore.Dia, r.Q, u, m.DiaU, r.uq); err != nil {
		err = fmt.Errorf("a bore of %s is not the one of %s on the card", p.Len(dia), p.Len(m.Bore.Dia))
	}
	return err
}

// moist is 1 where the air explains what heat does not.
func (r bores) moist(now facts.BackFact) float64 {
	if same, err := r.Between(r.Split, growth.Air{C: now.C, RH: now.RH, Read: now.RH > 0}); err == nil && same {
		return 1
	}
	return 0
}

func judgeScale(p *fold.Plan, v fold.View) fold.Outcome {
	var o fold.Outcome
	if probed(p) && kit.MarkWrong(v, &o) {
		return o
	}
	now, ok := facts.Back.In(v)
	if !ok {
		return o
	}
	r, err := bothBores(p, v, now)
	if err != nil {
		kit.Refuse(&o, "reuse.bores", "both bores can be reckoned with", err)
		return o
	}
	o.Checks = []fold.Check{grownChecked(p, r, &o), boreChecked(p, v, r, &o)}
	moist := r.moist(now)
	o.Facts = []fold.Known{facts.Scale.Is(facts.ScaleFact{Grown: r.Grown, Heat: r.Split.Heat, Rest: r.Rest, Guard: r.Guard, Moist: moist,
		Theta: r.skew, UTheta: r.uSkew}),
		facts.WornBore.Is(facts.WearFact{Rest: r.size.Off, U: r.size.U})}
	o.Lines = scaleRows(p, r)
	o.Notes = append(o.Notes, said(p, v, r.Split, now, moist == 1)...)
	o.Learned = fmt.Sprintf("It has grown by %s over %s, heat explains %s; bore 1 is %s off its size.", perSpan(p, r.Grown), p.Len(span(p)),
		perSpan(p, r.Split.Heat), kit.Signed(p, r.size.Off))
	return o
}

// grownChecked holds what heat does not explain.
func grownChecked(p *fold.Plan, r bores, o *fold.Outcome) fold.Check {
	c := judge.Most(p.Limit("reuse.grown"), 1000*math.Abs(r.Rest), 1000*r.Guard)
	if c.Verdict != fold.Pass {
		c.Words = fmt.Sprintf("Heat explains %s of %s over %s. It is another fixture, cracked, or bent.", perSpan(p, r.Split.Heat),
			perSpan(p, r.Grown), p.Len(span(p)))
		o.Named = "not-this-fixture"
		o.Next = []fold.Act{{Do: "look", Of: "fixture", Words: c.Words + " Look at the number, then for a crack; then read again."},
			{Do: "round"}}
	}
	return c
}

func scaleRows(p *fold.Plan, r bores) []fold.Row {
	s := span(p)
	return []fold.Row{{Label: "grown over " + p.Len(s) + ", larger is +", Value: s * r.Grown, Unit: unit.KLength, Signed: true},
		{Label: "of that by heat", Value: s * r.Split.Heat, Unit: unit.KLength, Signed: true},
		{Label: "the rest, beyond heat as read", Value: s * r.Rest, Guard: s * r.Guard, Unit: unit.KLength, Signed: true, Big: true},
		{Label: "bore 1 beyond its size by now, wider is +", Value: r.size.Off, Guard: budget.OneSided * r.size.U, Unit: unit.KLength, Signed: true, Big: true},
		{Label: "bore 1 should measure", Value: r.size.Want, Unit: unit.KLength}}
}

// span is what growth is shown over.
func span(p *fold.Plan) float64 { return kit.Even(p, 100, 100, 4) }

func perSpan(p *fold.Plan, share float64) string { return kit.Signed(p, span(p)*share) }

// line holds the edge against the line of the bores: one of them is nicked where they part.
func line(p *fold.Plan) *fold.Spec {
	e, ok := kit.EdgeOf(p)
	if !ok {
		return nil
	}
	if _, _, two := targets(p); !two {
		return nil
	}
	b := kit.EdgeBearing{P: p, Edge: e, Words: kit.EdgeWords{Edge: "the edge", Bare: ""}}
	return &fold.Spec{
		Title: "edge", Needs: fold.Needs(fold.AsRead(facts.AMounting), facts.Scale.Live()), Makes: []fold.FactID{facts.WornLine.ID},
		Asks: func(v fold.View) []fold.Ask {
			asks := b.Ready(v)
			if b.Faulty(v) != nil {
				return asks
			}
			return append(asks, b.Ends(v.In(v.Round, nil))...)
		},
		Judge: func(v fold.View) fold.Outcome { return judgeLine(p, v, b) },
		Page: func(v fold.View) fold.Page {
			_, read, _ := b.Says()
			return fold.Page{Why: "Edge and bores were cut as one: where they part, one of them is nicked or worn.",
				Act: "Dial on both ends of the edge. Tap nothing.", Read: read,
				Caution: "SPINDLE STOPPED, its command off: never start it with a dial fitted.", Scene: kit.Scene(p, v, nil)}
		},
	}
}

func judgeLine(p *fold.Plan, v fold.View, b kit.EdgeBearing) fold.Outcome {
	var o fold.Outcome
	s, ok := facts.Scale.In(v)
	if !ok {
		return o
	}
	if kit.Misread(b, v, "reuse.jog", &o) {
		return o
	}
	h, ok := b.Read(v, false)
	if !ok {
		return kit.Cannot(p, "reuse.line", fmt.Errorf("the readings give no direction"), o)
	}
	off, u := h.Theta-float64(s.Theta), math.Hypot(h.U, s.UTheta)
	l := p.Limit("reuse.line")
	if l.Max == 0 {
		l.Max = budget.AgreeWithin(h.U*h.U, s.UTheta*s.UTheta)
	}
	c := judge.Most(l, math.Abs(off), 0)
	if c.Verdict != fold.Pass {
		c.Words = fmt.Sprintf("Edge and bores part by %s. One of them has a nick or a chip, or it lies half round.", p.Slope(math.Abs(off)))
		o.Named = "edge-nicked"
		o.Next = []fold.Act{{Do: "wipe", Of: "edge", Words: c.Words +
			" Look at the arrow, wipe and look along the edge; read again."}, {Do: "round"}}
	}
	o.Checks = []fold.Check{c}
	o.Facts = []fold.Known{facts.WornLine.Is(facts.WearFact{Rest: off, U: u})}
	o.Lines = []fold.Row{{Label: "edge against the bores, counter-clockwise is +", Value: off, Guard: budget.OneSided * u, Unit: unit.KSlope,
		Signed: true, Big: true}}
	o.Learned = fmt.Sprintf("Edge and bores agree within %s.", p.Slope(math.Abs(off)))
	return o
}
