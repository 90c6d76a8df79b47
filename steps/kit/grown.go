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

// days are the two days that the part's growth lies between.
type days struct {
	then, now growth.Air  // the shop
	was, is   growth.Temp // the part
	hours     float64     // between them, 0: not known
}

// daysOf is what stands of them: side 1's as handed over or given, and how the part went in.
func daysOf(get Facts) days {
	a, _ := facts.Air.By(get)
	s, _ := facts.Seat.By(get)
	d := days{was: growth.Temp{C: a.C, Read: a.Read != 0}, is: growth.Temp{C: s.C, Read: s.ReadC != 0}, hours: s.Hours}
	if h, ok := facts.Hours.By(get); ok && h.Clock == 0 {
		d.hours = h.H
	}
	d.then, d.now = airOf(d.was, a.RH), airOf(d.is, s.RH)
	return d
}

// airOf is the shop's air by a hygrometer, rh 0 where none was read; without a thermometer it is 21 C.
func airOf(t growth.Temp, rh float64) growth.Air {
	if !t.Read {
		t.C = 21
	}
	return growth.Air{C: t.C, RH: rh, Read: rh > 0}
}

// daysNow are those days while the part is about to go in: what this round has read of now.
func daysNow(p *fold.Plan, v fold.View) days {
	d := daysOf(v.Perhaps)
	d.is = growth.Temp{}
	d.is.C, d.is.Read = v.Num("temp", unit.KTemperature)
	if d.now = (growth.Air{}); len(HumidityAsks(p, v)) > 0 {
		d.now = airOf(d.is, num(v, humidity, unit.Scalar))
	}
	d.hours, _ = hoursTo(v)
	return d
}

// since is the part's growth between two days along X and Y: 10 K and the shop's air where nobody read them.
func since(p *fold.Plan, d days) (g [2]growth.Growth) {
	add := func(i int, by growth.Growth, err error) {
		if err == nil {
			g[i].Value += by.Value
			g[i].Lines = append(g[i].Lines, by.Lines...)
		}
	}
	for i := range g {
		if a := alphaAlong(p, i); a.Nominal > 0 {
			heat, err := growth.Since(d.was, d.is).Heat("part heat", a, register.MachineAlpha)
			add(i, heat, err)
		}
		moist, err := moistOf(p, i, d)
		add(i, moist, err)
	}
	return g
}

// alphaAlong is the part's expansion per K along an axis: of a wood of the material table whose grain the job states, that along
// its fibres or across them with what it is known within.
func alphaAlong(p *fold.Plan, axis int) growth.Coef {
	a := Alpha(p, p.Job.Part.Material)
	one := growth.Coef{Low: a, Nominal: a, High: a}
	if p.Job.Part.Grain == "" || alphaOf(p.Job.Part.Material) > 0 || p.Job.Materials[p.Job.Part.Material].Alpha != [2]float64{} {
		return one
	}
	m, err := p.Job.Library().Like(p.Job.Part.Material)
	if err != nil || !m.Heat.Known() {
		return one
	}
	by := grainwise(p, m, m.Heat, axis)
	return growth.Coef{Low: by[0] * 1e-6, Nominal: by[1] * 1e-6, High: by[2] * 1e-6}
}

// grainwise is what a wood does along an axis, least, usual and most: across its fibres where the job does not say that they run so.
func grainwise(p *fold.Plan, m hold.Material, does hold.Axes, axis int) [3]float64 {
	along, across := m.InPlane(does)
	if p.Job.Part.Grain == AxisName[axis] {
		return along
	}
	return across
}

// wallThick is the section of a hollowed part that air reaches from both sides, mm (common practice).
const wallThick = 2.5

// moistOf is the growth by moisture along an axis; where the job does not say how the grain runs, across it.
func moistOf(p *fold.Plan, axis int, d days) (growth.Growth, error) {
	m, err := p.Job.Library().Like(p.Job.Part.Material)
	switch {
	case err != nil:
		return growth.Growth{}, err
	case m.Moves():
		by := grainwise(p, m, m.Moist, axis)
		w := growth.Wood{PerPercent: growth.Coef{Low: by[0], Nominal: by[1], High: by[2]}, Share: growth.PlainShare, Thick: wallThick,
			Hollowed: true}
		if given, ok := p.Job.Part.Given["moisture"]; ok {
			return w.Metered(given.Value, given.U, d.now, d.hours)
		}
		return w.Moist(d.then, d.now, d.hours)
	case m.Humid.Known():
		return growth.Damp(growth.Coef{Low: m.Humid.Low, Nominal: m.Humid.Nominal, High: m.Humid.High}, d.then, d.now)
	}
	return growth.Growth{}, nil
}

// doubt is the largest line of a growth over the part's size along each axis, mm.
func doubt(p *fold.Plan, g [2]growth.Growth) (half [2]float64) {
	for i := range g {
		for _, l := range g[i].Lines {
			half[i] = math.Max(half[i], l.Value*p.Job.Part.Size[i])
		}
	}
	return half
}

// tells says that reading turns what is in doubt along some axis into less than the share of the allowance that is not
// worth a measurement; where it does not, the widths are measured again whatever is read.
func tells(p *fold.Plan, unread, read [2]growth.Growth) bool {
	before, after := doubt(p, unread), doubt(p, read)
	for i := range before {
		if before[i] >= worth(p) && after[i] < worth(p) {
			return true
		}
	}
	return false
}

// worth is what in doubt wants a reading, mm: a tenth of the allowance.
func worth(p *fold.Plan) float64 { return 0.1 * float64(p.Job.Allowance) }

// humidity is the field of a hygrometer's reading.
const humidity = "rh"

// Answers about what was read of the shop.
const (
	BothRead    = "thermometer and hygrometer"
	Thermometer = "thermometer only"
	Unread      = "neither"
)

// AirAsks ask side 1 what the shop was like, where that spares side 2 a micrometer.
func AirAsks(p *fold.Plan, v fold.View) []fold.Ask {
	if !v.Walks(3) || Side2(p) == nil {
		return nil
	}
	same := growth.Temp{C: 20, Read: true}
	dry, damp := days{was: same, is: same}, days{was: same, is: same, then: airOf(same, 45), now: airOf(same, 45)}
	unread := since(p, days{})
	options := []string{Thermometer, Unread}
	switch both := tells(p, unread, since(p, damp)); {
	case both && !tells(p, unread, since(p, dry)):
		options = []string{BothRead, Unread}
	case !both:
		return nil
	}
	asks := []fold.Ask{{Field: "air", Since: SinceAir, Label: "what can be read of part and shop", Kind: fold.Choice, Options: options,
		What: fold.What{By: "eye", Of: "air"}}}
	if v.Has("air") && !fold.SameAnswer(v.Text("air"), Unread) {
		asks = append(asks, fold.Ask{Field: "temp", Since: SinceAir, Label: "temperature of the part", Kind: fold.Reading,
			Unit: unit.KTemperature, Bare: BareTemperature(p),
			What: fold.What{By: "thermometer", Of: "part"}, Window: Around(20, 15, "a shop")})
	}
	if fold.SameAnswer(v.Text("air"), BothRead) {
		asks = append(asks, humidityAsk())
	}
	return asks
}

// num is a number of the round in hand, 0 before it is read.
func num(v fold.View, field string, k unit.Kind) float64 {
	x, _ := v.Num(field, k)
	return x
}

func humidityAsk() fold.Ask {
	return fold.Ask{Field: humidity, Since: SinceAir, Label: "humidity of the air, percent", Kind: fold.Reading, Unit: unit.Scalar,
		What: fold.What{By: "hygrometer", Of: "air"}, Window: Around(45, 35, "a shop")}
}

// AirRead is what AirAsks found; ok is false where nothing was asked.
func AirRead(p *fold.Plan, v fold.View) (fold.Known, bool) {
	asks := AirAsks(p, v)
	if len(asks) == 0 {
		return fold.Known{}, false
	}
	var a facts.AirFact
	if len(asks) > 1 {
		a.C, a.Read = num(v, "temp", unit.KTemperature), 1
	}
	if len(asks) > 2 {
		a.RH = num(v, humidity, unit.Scalar)
	}
	return facts.Air.Is(a), true
}

// HumidityAsks ask side 2 for the same, where side 1's is known and that spares a micrometer.
func HumidityAsks(p *fold.Plan, v fold.View) []fold.Ask {
	_, metered := p.Job.Part.Given["moisture"]
	d := daysOf(v.Perhaps)
	if !v.Walks(3) || !d.then.Read && !metered {
		return nil
	}
	var unread, read [2]growth.Growth
	for i := range unread {
		d.now = growth.Air{}
		unread[i], _ = moistOf(p, i, d)
		d.now = d.then
		if d.now.RH == 0 {
			d.now = airOf(growth.Temp{}, 45)
		}
		read[i], _ = moistOf(p, i, d)
	}
	if !tells(p, unread, read) {
		return nil
	}
	return []fold.Ask{humidityAsk()}
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
	from := fold.Full
	if Soft(p, p.Job.Part.Material) { // it moves with damp and heat more than anything else may be off
		from = fold.Anyway
	}
	if !v.Walks(3) {
		return nil
	}
	half := doubt(p, since(p, daysNow(p, v)))
	var asks []fold.Ask
	for i, w := range widths {
		if half[i] < worth(p) {
			continue
		}
		then, _, _ := widthThen(p, v, i)
		asks = append(asks, fold.Ask{Field: w.field, Since: SinceWidth, Worth: fold.Worth{From: from}, Label: w.label + ", by micrometer",
			Kind: fold.Reading, Unit: unit.KLength,
			What: fold.What{By: "micrometer", Of: "part", Dir: w.dir}, Window: Around(then, 0.1, "the width before")})
	}
	if len(asks) > 0 {
		asks[0].Do = []fold.Act{{Do: "measure", Of: "part",
			Words: "Measure the part once more, where side 1 was measured: how much has it grown since?"}}
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

// SeatWith is the fact of a seated part, with its growth where its widths were measured again, and the day as read.
func SeatWith(p *fold.Plan, v fold.View, dz, tiltx, tilty float64) fold.Known {
	g, u, _ := Grown(p, v)
	f := facts.SeatFact{DZ: unit.Length(dz), TiltX: unit.Angle(tiltx), TiltY: unit.Angle(tilty), GrownX: g[0], GrownY: g[1], UX: u[0],
		UY: u[1]}
	if v.Walks(3) {
		d := daysNow(p, v)
		f.C, f.RH, f.Hours = d.is.C, d.now.RH, d.hours
		if d.is.Read {
			f.ReadC = 1
		}
	}
	return facts.Seat.Is(f)
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
		if DatumOf(p).HoldsPart() { // open on its other sides
			continue
		}
		room := growth.Fits(now, pocket[i], 0)
		c := fold.Check{Limit: fold.Limit{ID: "seat.room." + AxisName[i], Why: "room for the part in its pocket", Class: fold.Never,
			Unit: unit.KLength, Min: true}, Got: room.Play, Verdict: fold.Pass}
		switch {
		case room.Pressed:
			c.Verdict = fold.Fail
			c.Words = fmt.Sprintf("It will not go in: the part is %s wide, its pocket %s. Do not press: wait, or scrape the free wall.", p.Len(now),
				p.Len(pocket[i]))
			o.Next = append(o.Next, fold.Act{Do: "wait", Of: "part", Words: c.Words}, fold.Act{Do: "again", Of: w.field})
			wrong = true
		case !room.GoesIn:
			o.Notes = append(o.Notes, fmt.Sprintf("Along %s it has %s of play: it goes in hard. Do not press.", [2]string{"X", "Y"}[i],
				p.Len(room.Play)))
		}
		o.Checks = append(o.Checks, c)
	}
	return wrong
}

// stdOf is the standard uncertainty of a component, 0 of an exact fact.
func stdOf(c fold.Cov, label string) float64 { return math.Sqrt(c.Var(label)) }
