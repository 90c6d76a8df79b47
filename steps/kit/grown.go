package kit

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/growth"
	"fliptrue/calc/hold"
	"fliptrue/calc/register"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
)

// measured is a growth that two readings of a width gave.
func measured(v, u float64) growth.Growth {
	return growth.Growth{Value: v, Lines: []budget.Line{budget.N("width measured again", u, 0).From("micrometer, before it went in")}}
}

// unread is the part's growth since side 1 where nobody read it: 10 K and the shop's air.
func unread(p *fold.Plan, get Facts) (g [2]growth.Growth) {
	if a := Alpha(p, p.Job.Part.Material); a > 0 {
		heat, err := growth.Since(growth.Temp{}, growth.Temp{}).Heat("part heat", growth.Coef{Low: a, Nominal: a, High: a}, register.MachineAlpha)
		for i := range g {
			if err == nil {
				g[i].Lines = append(g[i].Lines, heat.Lines...)
			}
		}
	}
	moist := moistOf(p, get)
	for i := range g {
		g[i].Lines = append(g[i].Lines, moist...)
	}
	return g
}

// wallThick is the section of a hollowed part that air reaches from both sides, mm (common practice).
const wallThick = 2.5

// moistOf are the lines of moisture; how the grain runs is not known, so that both axes lie across.
func moistOf(p *fold.Plan, get Facts) []budget.Line {
	m, err := p.Job.Library().Like(p.Job.Part.Material)
	if err != nil {
		return nil
	}
	switch {
	case (m.Kind == hold.Wood || m.Kind == hold.Stabilised || m.Kind == hold.Board) && m.Moist.Known():
		_, across := m.InPlane(m.Moist)
		w := growth.Wood{PerPercent: growth.Coef{Low: across[0], Nominal: across[1], High: across[2]}, Share: growth.PlainShare, Thick: wallThick, Hollowed: true}
		hours := 0.0
		if h, ok := facts.Hours.By(get); ok && h.Clock == 0 {
			hours = h.H
		}
		if given, ok := p.Job.Part.Given["moisture"]; ok {
			return []budget.Line{givenMoisture(w, given.Value, given.U, hours)}
		}
		g, err := w.Moist(growth.Air{}, growth.Air{}, hours)
		if err == nil {
			return g.Lines
		}
	case m.Humid.Known():
		g, err := growth.Damp(growth.Coef{Low: m.Humid.Low, Nominal: m.Humid.Nominal, High: m.Humid.High}, growth.Air{}, growth.Air{})
		if err == nil {
			return g.Lines
		}
	}
	return nil
}

// givenMoisture is the line where the part's moisture at side 1 is given, percent, and the air now is not read: any
// between 35 and 55 % of humidity at 21 C.
func givenMoisture(w growth.Wood, percent, u, hours float64) budget.Line {
	dry, _ := growth.EMC(growth.Air{C: 21, RH: 45 - growth.UnreadRH})
	damp, _ := growth.EMC(growth.Air{C: 21, RH: 45 + growth.UnreadRH})
	most := math.Max(math.Abs(percent-dry), math.Abs(damp-percent)) + 2*u
	return budget.R("moisture", w.PerPercent.High*w.Share*w.Settled(hours)*most).From("moisture of the part as given, in air of 35 to 55 %").AsAssumed()
}

// widths are the part's outer widths that are measured again, along X and Y.
var widths = [2]struct {
	field, label, dir string
	then              fold.Fact[facts.WidthFact]
}{
	{"width-x", "width of the part along X", "again-x", facts.WidthX},
	{"width-y", "width of the part along Y", "again-y", facts.WidthY},
}

// WidthAsks ask the part's widths before it goes in, where what may have grown unread counts: a tenth of the allowance.
func WidthAsks(p *fold.Plan, v fold.View) []fold.Ask {
	if !v.Walks(3) {
		return nil
	}
	g := unread(p, v.Perhaps)
	var asks []fold.Ask
	for i, w := range widths {
		half := 0.0
		for _, l := range g[i].Lines {
			half = math.Max(half, l.Value*p.Job.Part.Size[i])
		}
		if half < 0.1*float64(p.Job.Allowance) {
			continue
		}
		then, _, _ := widthThen(p, v, i)
		asks = append(asks, fold.Ask{Field: w.field, Since: SinceWidth, Label: w.label + ", by micrometer", Kind: fold.Reading, Unit: unit.KLength,
			What: fold.What{By: "micrometer", Of: "part", Dir: w.dir}, Window: Around(then, 0.1, "the width before")})
	}
	if len(asks) > 0 {
		asks[0].Do = []fold.Act{{Do: "measure", Of: "part", Words: "Measure the part once more, where side 1 was measured: how much has it grown since?"}}
	}
	return asks
}

// widthThen is a width as side 1 left it with its standard uncertainty, else the drawing's. What a cutter of the wrong size by c a
// side then puts into the growth is no further doubt: with d the width beyond the drawing W, a feature p from the wall is
//
//	c + p (d - 2 c)/W = p d/W + c (1 - 2 p/W)
//
// off, and the line of the cutter, c, holds the second part at every p. Derived.
func widthThen(p *fold.Plan, v fold.View, i int) (w, u float64, read bool) {
	if f, ok := widths[i].then.Perhaps(v); ok {
		return float64(f.W), math.Max(stdOf(f.Cov, "w"), growth.MicrometerU), true
	}
	return p.Job.Part.Size[i], 0, false
}

// Grown is the part's growth since side 1 by its widths, as fractions with their standard uncertainties; u 0 where they were not asked.
func Grown(p *fold.Plan, v fold.View) (g, u [2]float64, err error) {
	if len(WidthAsks(p, v)) == 0 {
		return g, u, nil
	}
	for i, w := range widths {
		now, ok := v.Num(w.field, unit.KLength)
		if !ok {
			continue
		}
		then, ut, _ := widthThen(p, v, i)
		again, err := growth.Width{Then: then, Now: now, UThen: ut, UNow: growth.MicrometerU}.Again()
		if err != nil {
			return g, u, err
		}
		g[i], u[i] = again.Value, again.Lines[0].Value
	}
	return g, u, nil
}

// SeatWith is the fact of a seated part, with its growth where its widths were measured again.
func SeatWith(p *fold.Plan, v fold.View, dz, tiltx, tilty float64) fold.Known {
	g, u, _ := Grown(p, v)
	return facts.Seat.Is(facts.SeatFact{DZ: unit.Length(dz), TiltX: unit.Angle(tiltx), TiltY: unit.Angle(tilty), GrownX: g[0], GrownY: g[1], UX: u[0], UY: u[1]})
}

// WidthWrong says that the part may not go in: it is wider than its pocket, or a width was mistyped.
func WidthWrong(p *fold.Plan, v fold.View, o *fold.Outcome) bool {
	asks := WidthAsks(p, v)
	if _, _, err := Grown(p, v); err != nil {
		Refuse(o, "seat.widths", "two readings of a width say how much it grew", err)
		return true
	}
	lo, hi := OutlineBox(p.Job.Fixture.Pocket.Outline)
	pocket := [2]float64{hi.X - lo.X, hi.Y - lo.Y}
	wrong := false
	for i, w := range widths {
		now, ok := 0.0, false
		for _, a := range asks {
			if a.Field == w.field {
				now, ok = v.Num(w.field, unit.KLength)
			}
		}
		if !ok {
			continue
		}
		room := growth.Fits(now, pocket[i], 0)
		c := fold.Check{Limit: fold.Limit{ID: "seat.room." + AxisName[i], Why: "room for the part in its pocket", Class: fold.Never, Unit: unit.KLength, Min: true}, Got: room.Play, Verdict: fold.Pass}
		switch {
		case room.Pressed:
			c.Verdict = fold.Fail
			c.Words = fmt.Sprintf("It will not go in: the part is %s wide, its pocket %s. Do not press: wait, or scrape the free wall.", p.Len(now), p.Len(pocket[i]))
			o.Next = append(o.Next, fold.Act{Do: "wait", Of: "part", Words: c.Words}, fold.Act{Do: "again", Of: w.field})
			wrong = true
		case !room.GoesIn:
			o.Notes = append(o.Notes, fmt.Sprintf("Along %s it has %s of play: it goes in hard. Do not press.", [2]string{"X", "Y"}[i], p.Len(room.Play)))
		}
		o.Checks = append(o.Checks, c)
	}
	return wrong
}

// stdOf is the standard uncertainty of a component, 0 of an exact fact.
func stdOf(c fold.Cov, label string) float64 { return math.Sqrt(c.Var(label)) }
