package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/steps/report/pen"
)

// How the drawings lie, mm: a run is low, a title stands over each.
const (
	runH   = 17.0
	titleH = 6.0
)

// figures are the drawings of the page: the setup as it stood at the left, targets and readings at the right.
func (b *builder) figures() {
	h := b.p.FigureH
	plan, hasPlan := b.plan(leftW, h)
	runs, others := b.plots()
	targets := b.targets()
	if len(b.p.Shares) > 0 && len(runs) > 0 {
		f := runs[0]
		f.Drawing = f.make(rightW, 10)
		b.p.Below, runs = append(b.p.Below, f), nil
	}
	if hasPlan {
		left := h
		if len(runs) > 0 {
			left -= runH + titleH
		}
		plan.Drawing, _ = b.drawn(leftW, left-titleH-lineH*float64(len(plan.Under)))
		b.p.Left = append(b.p.Left, plan)
	}
	if len(runs) > 0 {
		f := runs[0]
		f.Drawing = f.make(leftW, runH)
		b.p.Left = append(b.p.Left, f)
	}
	b.atRight(targets, others, h)
	if len(b.p.Left) == 0 {
		b.p.Left, b.p.Right = b.p.Right, nil
	}
	b.p.Wide = len(b.p.Right) == 0
}

// plots are the readings to be drawn, runs apart.
func (b *builder) plots() (runs, others []figure) {
	for i := range b.r.Plots {
		switch f, ok := b.plot(i); {
		case !ok:
		case b.r.Plots[i].Kind == "run":
			runs = append(runs, f)
		default:
			others = append(others, f)
		}
	}
	return runs, others
}

// atRight puts the targets two in a row, and below them at most two plots: beside each other where there are targets.
func (b *builder) atRight(targets, plots []figure, h float64) {
	if n := len(targets); n > 0 {
		rows := (n + 1) / 2
		each := min((h*0.52)/float64(rows)-titleH-2*lineH, 36)
		for _, t := range targets {
			t.Drawing = t.make(rightW/2-2, each)
			b.p.Right = append(b.p.Right, t)
		}
		h -= float64(rows) * (each + titleH + 2*lineH)
	}
	half := len(plots) > 1 && len(targets) > 0
	n := min(len(plots), 2)
	for _, f := range plots[:n] {
		f.Half = half
		w, high := rightW, h-titleH
		if half {
			w = rightW/2 - 2
		} else if n > 1 {
			high = h/2 - titleH
		}
		f.Drawing = f.make(w, max(high, 16))
		b.p.Right = append(b.p.Right, f)
	}
}

// drawn is the plan of the setup in so much room.
func (b *builder) drawn(w, h float64) (pen.Drawing, bool) {
	ps := b.r.pictures
	if len(ps) == 0 {
		return pen.Drawing{}, false
	}
	short := func(s string) string { return b.cut("name", s, 24) }
	p := pen.Plan{Scene: ps[0].Scene, Walls: b.r.walls, Order: b.r.turns, Short: short, Inch: b.r.sys == unit.Imperial}
	return p.Draw(w, h)
}

func (b *builder) plan(w, h float64) (figure, bool) {
	_, ok := b.drawn(w, h)
	if !ok {
		return figure{}, false
	}
	f := figure{Title: "the setup as it stood", Note: "from above"}
	if len(b.r.walls) > 0 {
		f.Note += "; part against " + strings.ToUpper(strings.Join(b.r.walls, " and "))
	}
	if d := b.r.Datum; d != nil {
		row := []cell{{Label: "bore X", num: b.r.signed("sheet.datum.x", d.X, unit.KLength)},
			{Label: "Y", num: b.r.signed("sheet.datum.y", d.Y, unit.KLength)}}
		if d.Dia != nil {
			row = append(row, cell{Label: "Ø", num: b.r.num("sheet.datum.dia", *d.Dia, unit.KLength)})
		}
		if d.Z != nil {
			row = append(row, cell{Label: "floor Z", num: b.r.signed("sheet.datum.z", *d.Z, unit.KLength)})
		}
		row[len(row)-1].Unit = b.r.Unit
		f.Under = [][]cell{row}
	}
	return f, true
}

// plot is a run, a ring or a plane; ok is false for one that the record has no scene for.
func (b *builder) plot(i int) (figure, bool) {
	r, p := b.r, b.r.Plots[i]
	at := fmt.Sprintf("sheet.plots.%d.", i)
	limit := num{}
	if p.Limit != nil {
		limit = r.num(at+"limit", *p.Limit, unit.KLength)
	}
	f := figure{Title: b.cut("step", p.Title, 22)}
	switch sc := p.scene; {
	case p.Kind == "run" && sc.Run != nil:
		rise := r.signed(at+"most", p.Most, unit.KLength)
		f.Note = "along the edge; band: limit"
		f.make = func(w, h float64) pen.Drawing { return pen.Run(sc.Run, w, h, rise, limit) }
	case p.Kind == "ring" && sc.Ring != nil:
		most := r.num(at+"most", p.Most, unit.KLength)
		f.Note = "magnified"
		f.make = func(w, h float64) pen.Drawing { return pen.Ring(sc.Ring, w, h, most, limit) }
	case p.Kind == "tilt" && sc.Tilt != nil:
		most := r.num(at+"most", p.Most, unit.KLength)
		var off []num
		for j, v := range p.Values {
			off = append(off, r.signed(fmt.Sprintf("%svalues.%d", at, j), v, unit.KLength))
		}
		f.Note = "off the plane"
		f.make = func(w, h float64) pen.Drawing { return pen.Tilt(sc.Tilt, w, h, off, most, limit) }
	default:
		return f, false
	}
	return f, true
}

// targets are the features that come nearest to what is allowed; a table behind the page has all where they are more.
func (b *builder) targets() []figure {
	r := b.r
	if r.Worst == nil {
		return nil
	}
	order := make([]int, len(r.Register))
	for i := range order {
		order[i] = i
	}
	reach := func(i int) float64 {
		f, m := r.Register[i], 0.0
		for a := range f.Error {
			m = max(m, math.Abs(f.Error[a])+f.Kink[a]+f.Guard[a])
		}
		return m
	}
	slices.SortStableFunc(order, func(i, j int) int {
		switch x, y := reach(i), reach(j); {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	var out []figure
	limit := r.num("sheet.worst.limit", r.Worst.Limit, unit.KLength)
	shown := min(len(order), b.m.features)
	if b.p.FigureH < 80 { // large enough to be read
		shown = min(shown, 2)
	}
	for _, i := range order[:shown] {
		f := r.Register[i]
		t := pen.Target{Allowed: r.Worst.Limit, X: f.Error[0], Y: f.Error[1], UX: f.U[0], UY: f.U[1], Limit: limit}
		out = append(out, figure{Title: b.cut("feature", f.Name, 18), Half: true, make: t.Draw, Under: b.rowsOf(i)})
	}
	if len(order) > shown {
		more := rest{Title: "register", Head: []string{"feature", "X, " + r.Unit, "±", "Y", "±"}}
		for i, f := range r.Register {
			row := []cell{{Label: plain(f.Name)}}
			for _, c := range b.rowsOf(i) {
				row = append(row, cell{num: c[0].num}, cell{num: c[1].num})
			}
			more.Rows = append(more.Rows, row)
		}
		b.p.Rest = append(b.p.Rest, more)
	}
	return out
}

// rowsOf are the error and its interval along X and Y.
func (b *builder) rowsOf(i int) [][]cell {
	f := b.r.Register[i]
	var out [][]cell
	for a := range axes {
		out = append(out, []cell{{Label: axes[a], num: b.r.signed(fmt.Sprintf("sheet.register.%d.error.%d", i, a), f.Error[a], unit.KLength)},
			{Label: "±", num: b.r.up(fmt.Sprintf("sheet.register.%d.U.%d", i, a), f.U[a])}})
	}
	return out
}

// trends are the uses of the fixture over each other.
func (b *builder) trends() {
	r := b.r
	limits := map[string]string{"skew": "square.skew", "lift": "lift", "tilt": "floor.tilt", "mismatch": "release.register"}
	for _, c := range useRuns {
		of, limit, ok := r.limitAt(limits[c.key])
		if t, known := r.trendOf("sheet.uses", r.Uses, c.key, limit, 38, 5.4); known {
			if ok {
				t.Limit = r.num(of, limit, c.kind)
			}
			b.p.Trends = append(b.p.Trends, t)
		}
	}
}

// limitAt is a limit of a step, with its place.
func (r *Record) limitAt(id string) (of string, v float64, ok bool) {
	for i, s := range r.Steps {
		for j, c := range s.Checks {
			if c.Limit == id && c.Max != nil && id != "" {
				of, v, ok = fmt.Sprintf("sheet.steps.%d.checks.%d.max", i, j), *c.Max, true
			}
		}
	}
	return of, v, ok
}

// tag is the fixture's tag as it is cut out.
func (b *builder) tag(t *Tag) *tagCell {
	r := b.r
	mm := r.Unit
	l := func(of string, v float64) num { return r.num("tag."+of, v, unit.KLength) }
	c := &tagCell{ID: b.cut("fixture", t.Fixture, 16), Material: b.cut("material", t.Material, 24), Job: b.cut("job", t.Job, 30)}
	bore := []cell{{Label: t.kind, num: l("bore", t.Bore), Unit: mm}}
	if t.Bore2 != nil {
		bore = append(bore, cell{Label: "second at X", num: l("bore2.0", t.Bore2[0])}, cell{Label: "Y", num: l("bore2.1", t.Bore2[1])})
	}
	c.Rows = append(c.Rows, bore, []cell{{Label: "part zero X", num: l("part_zero.0", t.PartZero[0])},
		{Label: "Y", num: l("part_zero.1", t.PartZero[1]), Unit: "from it"}},
		[]cell{{Label: "part against " + strings.ToUpper(or(strings.Join(t.Walls, " and "), "nothing: floating"))}},
		[]cell{{Label: "threads " + b.cut("threads", or(t.Threads, "none"), 40)}})
	cycles := []cell{{Label: "cycles", num: count("tag.cycles", t.Cycles)}}
	if t.Retire > 0 {
		cycles = append(cycles, cell{Label: "of", num: count("tag.retire", t.Retire)})
	}
	cycles = append(cycles, cell{Label: "uses so far", num: count("tag.uses", t.Uses)})
	if t.Temperature != nil {
		cycles = append(cycles, cell{Label: "made at", num: r.num("tag.temperature", *t.Temperature, unit.KTemperature),
			Unit: unit.UnitName(unit.KTemperature, r.sys)})
	}
	c.Rows = append(c.Rows, cycles, []cell{{Label: "torque or angle used ______________"}})
	if len(r.pictures) > 0 {
		p := pen.Plan{Scene: r.pictures[0].Scene, Walls: t.Walls, Short: func(string) string { return "" }}
		c.Drawing, _ = p.Draw(34, 27)
		c.Drawing.Words = slices.DeleteFunc(c.Drawing.Words, func(w pen.Word) bool { return strings.Contains(w.Look, "scale") })
	}
	return c
}
