package report

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"fliptrue/calc/unit"
	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
	"fliptrue/steps/report/pen"
)

// Paper is A4 and Letter at once: what fits the width of the one and the height of the other, mm.
const (
	paperW, paperH = 190.0, 261.0
	leftW, rightW  = 110.0, 76.0
	lineH          = 3.05 // of a line of text
)

// sheetPage is a sheet as its template writes it.
type sheetPage struct {
	Title, Whose, With string
	Stamp, Under       string
	Good               bool
	Facts              []fact
	Word, Z0           string
	Offset             []cell
	OffsetNote         string
	Results            []cell
	Left, Right        []figure
	Wide               bool // there is nothing for the right
	Shares             []shareRow
	SharesOf           []cell // the interval, and whose it is
	NoLine             string
	Trends             []trend
	Below              []figure // the trends
	Steps              [2][]stepRow
	Ledger             []entry
	Blanks             []string // to be written in by hand
	Small              string
	Tag                *tagCell
	Rest               []rest
	FigureH            float64
	Unit               string
}

// cell is a word with a number.
type cell struct {
	Label string
	num
	Unit string
}

// fact is one thing known, in words and numbers.
type fact struct {
	What  string
	Parts []cell
}

// words are how long a fact is, and its text.
func (f fact) words() string {
	var out []string
	for _, c := range f.Parts {
		out = append(out, strings.TrimSpace(c.Label+" "+c.Text+" "+c.Unit))
	}
	return strings.Join(out, " ")
}

// figure is a drawing with its heading, and what is said under it.
type figure struct {
	Title, Note string
	pen.Drawing
	Under [][]cell
	Half  bool // two stand side by side
	make  func(w, h float64) pen.Drawing
}

// shareRow is one line of the budget.
type shareRow struct {
	Name     string
	Assumed  bool
	Wide     string // of its bar, per cent
	U, Share num
}

// trend is one number over the uses.
type trend struct {
	Name, Unit string
	pen.Drawing
	Last, Limit num
}

// stepRow is one step with the check nearest its limit.
type stepRow struct {
	Mark, Title, Check string
	Got, Guard, Max    *num
	Min                bool
	Unit               string
	Share              *num
	Wide               string
	Bad                bool
	Rounds             *num
	Answers            *num
	Verdict            string
}

// entry is one line of what happened.
type entry struct{ What, Says string }

// rest is what goes on behind the first page.
type rest struct {
	Title string
	Head  []string
	Rows  [][]cell
	Text  []entry
}

// tagCell is the tag to cut out.
type tagCell struct {
	ID, Material, Job string
	Rows              [][]cell
	pen.Drawing
}

// most are how many of each kind the first page takes; what is beyond goes behind it.
type most struct{ facts, shares, steps, ledger, features, letters int }

var mosts = []most{{30, 22, 28, 10, 4, 130}, {26, 20, 28, 8, 4, 110}, {20, 16, 24, 4, 2, 60}, {16, 10, 20, 3, 2, 40}}

// page lays a record out: as much on the first page as it takes.
func (r *Record) page(tag *Tag) sheetPage {
	var p sheetPage
	for _, m := range mosts {
		b := builder{r: r, m: m}
		p = b.build(tag)
		if p.FigureH >= 53 {
			break
		}
	}
	p.FigureH = max(p.FigureH, 40)
	return p
}

// builder makes one try at a page.
type builder struct {
	r    *Record
	m    most
	p    sheetPage
	full []entry // texts that had to be cut
	used float64 // height, mm
}

// short is a text in so many letters at most; the whole of it goes behind.
func (b *builder) short(what, text string) string { return b.cut(what, text, b.m.letters) }

func (b *builder) cut(what, text string, n int) string {
	text = plain(text)
	if len([]rune(text)) <= n {
		return text
	}
	e := entry{plain(what), text}
	if !slices.Contains(b.full, e) {
		b.full = append(b.full, e)
	}
	return string([]rune(text)[:n-1]) + "…"
}

func (b *builder) build(tag *Tag) sheetPage {
	b.head()
	b.facts()
	b.offset()
	b.budget()
	b.steps()
	b.ledger()
	b.foot(tag)
	b.trends()
	b.p.FigureH = min(paperH-b.used+2, 110)
	b.figures()
	if len(b.full) > 0 {
		b.p.Rest = append(b.p.Rest, rest{Title: "in full", Text: b.full})
	}
	return b.p
}

func (b *builder) head() {
	r := b.r
	b.p.Unit = r.Unit
	b.p.Title = b.cut("job", r.Job, 44)
	b.p.Whose = b.cut("setup", strings.Join(r.whose(), " · "), 70)
	var with []string
	if f := r.Fixture; f != nil {
		with = append(with, fmt.Sprintf("fixture %s, use %d, %s", f.ID, f.Use, f.Material))
	}
	if r.Machine != "" {
		with = append(with, r.Machine)
	}
	with = append(with, span(r.Begun, r.Last))
	b.p.With = b.cut("with", strings.Join(with, " · "), 96)
	b.p.Good = r.Released != nil
	b.p.Stamp = strings.ToUpper(r.State)
	passed := 0
	for _, s := range r.Steps {
		if s.Verdict.OK() {
			passed++
		}
	}
	b.p.Under = fmt.Sprintf("%s passed · %s · %s", plural(passed, "step"), plural(len(r.Waivers), "waiver"), plural(len(r.Mishaps), "mishap"))
	if r.HeldAt != "" {
		b.p.Under = "at " + r.HeldAt + " · " + b.p.Under
	}
	b.used += 14
}

// span is from when to when; of one day the second is told by the hour.
func span(from, to *time.Time) string {
	if from != nil && to != nil && from.Format(time.DateOnly) == to.Format(time.DateOnly) {
		return stamp(from) + " to " + to.Format("15:04")
	}
	return stamp(from) + " to " + stamp(to)
}

// facts are with what and on what it was made.
func (b *builder) facts() {
	r := b.r
	const blank = "______________"
	all := []fact{{"stock", b.text("stock", or(r.Stock, blank))}, {"operator", b.text("operator", or(r.Operator, blank))}}
	for _, list := range [][]Line{r.Environment, r.Instruments} {
		for _, l := range list {
			all = append(all, fact{l.What, b.text(l.What, l.Says)})
		}
	}
	for i, s := range r.Sizes {
		at := fmt.Sprintf("sheet.sizes.%d.", i)
		parts := []cell{{num: r.num(at+"value", s.Value, unit.KLength), Unit: r.Unit}}
		if s.U != nil {
			parts = append(parts, cell{Label: "u", num: r.num(at+"u", *s.U, unit.KLength)})
		}
		parts = append(parts, b.text(s.What, s.Source)...)
		if s.Given != nil && *s.Given != s.Value {
			parts = append(parts, cell{Label: "job:", num: r.num(at+"given", *s.Given, unit.KLength)})
		}
		all = append(all, fact{s.What, parts})
	}
	for i, t := range r.Tools {
		parts := b.text("tool", t.Name)
		if t.Length == nil {
			parts = append(parts, cell{Label: "length not read"})
		} else {
			parts = append(parts, cell{Label: "length", num: r.num(fmt.Sprintf("sheet.tools.%d.length", i), *t.Length, unit.KLength), Unit: r.Unit})
		}
		all = append(all, fact{fmt.Sprintf("T%d", t.Number), parts})
	}
	for _, g := range r.Programs {
		all = append(all, fact{g.Role, b.text(g.Role, g.says())})
	}
	if s := r.Shift; s != nil {
		all = append(
			all, fact{"moved", []cell{{Label: "X", num: r.signed("sheet.shift.dx", s.DX, unit.KLength)},
				{Label: "Y", num: r.signed("sheet.shift.dy", s.DY, unit.KLength), Unit: r.Unit + ","},
				{Label: "turned", num: angle("sheet.shift.rot_deg", s.RotDeg), Unit: "deg"}, {Label: "since " + s.Since}}})
	}
	b.place(all)
}

// text is a text as part of a fact.
func (b *builder) text(what, says string) []cell {
	return []cell{{Label: proper(b.short(what, says))}}
}

// place puts facts in three columns, and behind the page what has no room.
func (b *builder) place(all []fact) {
	lines := 0.0
	for i, f := range all {
		if i >= b.m.facts {
			more := rest{Title: "facts"}
			for _, f := range all[i:] {
				more.Rows = append(more.Rows, append([]cell{{Label: plain(f.What)}}, f.Parts...))
			}
			b.p.Rest = append(b.p.Rest, more)
			break
		}
		f.What = b.cut("name", f.What, 24)
		b.p.Facts = append(b.p.Facts, f)
		lines += math.Ceil(float64(len([]rune(f.What+f.words()))+3) / 45)
	}
	b.used += math.Ceil(lines/3+0.34)*lineH + 2.5
}

// offset is what the control holds, or what a setup without one has found.
func (b *builder) offset() {
	r := b.r
	b.p.Word = r.Word
	mm := unit.UnitName(unit.KLength, r.sys)
	if o := r.Offset; o != nil {
		b.p.Z0 = strings.ToUpper(o.Z0)
		for i, v := range []float64{o.X, o.Y, o.Z} {
			ax := []string{"x", "y", "z"}[i]
			b.p.Offset = append(b.p.Offset, cell{Label: strings.ToUpper(ax), num: r.signed("sheet.offset."+ax, v, unit.KLength)})
		}
		if o.RotationDeg != 0 {
			b.p.Offset = append(b.p.Offset, cell{Label: "R", num: angle("sheet.offset.rotation_deg", o.RotationDeg), Unit: "deg"})
		}
		b.p.OffsetNote = mm + ", in the control, read back blind"
		if o.Cause != "" {
			b.p.OffsetNote = b.short("offset", mm+", "+lost+o.Cause)
		}
	} else if r.Word != "" {
		b.p.OffsetNote = "void or not yet made"
	}
	for i, x := range r.Results {
		if r.Word == "" {
			b.p.Results = append(b.p.Results, cell{x.What, r.signed(fmt.Sprintf("sheet.results.%d.value", i), x.Value, x.kind),
				unit.UnitName(x.kind, r.sys)})
		}
	}
	b.used += 12.5 + 5*float64(max((len(b.p.Results)+2)/3-1, 0))
}

// budget is what the uncertainty at the deciding feature is made of, all lines.
func (b *builder) budget() {
	r, w := b.r, b.r.Worst
	if w == nil {
		return
	}
	f := r.Register[w.Feature]
	at := fmt.Sprintf("sheet.register.%d.", w.Feature)
	type line struct {
		Share
		assumed bool
		of      string
	}
	var all []line
	for i, s := range f.Budget[w.Axis].Measured {
		all = append(all, line{s, false, fmt.Sprintf("%sbudget.%d.measured.%d.", at, w.Axis, i)})
	}
	for i, s := range f.Budget[w.Axis].Assumed {
		all = append(all, line{s, true, fmt.Sprintf("%sbudget.%d.assumed.%d.", at, w.Axis, i)})
	}
	slices.SortStableFunc(all, func(x, y line) int {
		switch {
		case x.U > y.U:
			return -1
		case x.U < y.U:
			return 1
		}
		return 0
	})
	b.p.SharesOf = []cell{{Label: "±", num: r.up(fmt.Sprintf("%sU.%d", at, w.Axis), f.U[w.Axis]), Unit: "at " + b.cut("feature", f.Name, 28) +
		" " + axes[w.Axis]}}
	for i, l := range all {
		row := shareRow{Name: b.cut("budget", l.Name, 34), Assumed: l.assumed, U: r.fine(l.of+"u", l.U),
			Share: share(l.of+"share", l.Share.Share), Wide: "0"}
		if all[0].U > 0 {
			row.Wide = fmt.Sprintf("%.1f", 100*l.U/all[0].U)
		}
		if i < b.m.shares {
			b.p.Shares = append(b.p.Shares, row)
			continue
		}
		if i == b.m.shares {
			b.p.Rest = append(b.p.Rest, rest{Title: "budget", Head: []string{"line", "u, " + r.Unit, "% of the variance"}})
		}
		last := &b.p.Rest[len(b.p.Rest)-1]
		last.Rows = append(last.Rows, []cell{{Label: plain(l.Name)}, {num: row.U}, {num: row.Share}})
	}
	b.p.NoLine = b.cut("no line for", "no line for: "+strings.Join(r.NoLine, "; "), 260)
	b.used += max(5.5+2.75*float64(len(b.p.Shares))+2.7*(1+math.Ceil(float64(len([]rune(b.p.NoLine)))/85)), 5.5+6.4*5+15.5)
}

// mark is a verdict's letter or shape, to be told without colour.
func mark(v fold.Verdict) string {
	switch v {
	case fold.Pass:
		return "="
	case fold.Waived:
		return "W"
	case fold.Fail, fold.NotProven, fold.NoVerdict:
		return "!"
	case fold.Void:
		return "×"
	}
	return "·"
}

// steps are the rows of steps in two columns.
func (b *builder) steps() {
	var rows []stepRow
	for i, s := range b.r.Steps {
		rows = append(rows, b.step(i, s))
	}
	if len(rows) > b.m.steps {
		more := rest{Title: "more steps", Head: []string{"step", "nearest its limit", "got", "guard", "limit", "%"}}
		for _, s := range rows[b.m.steps:] {
			more.Rows = append(more.Rows, s.cells())
		}
		b.p.Rest = append(b.p.Rest, more)
		rows = rows[:b.m.steps]
	}
	half := (len(rows) + 1) / 2
	b.p.Steps = [2][]stepRow{rows[:half], rows[half:]}
	b.used += 6 + 3.3*float64(half)
}

func (b *builder) step(i int, s Step) stepRow {
	r := b.r
	at := fmt.Sprintf("sheet.steps.%d.", i)
	row := stepRow{Mark: mark(s.Verdict), Title: b.cut("step", s.Title, 22), Bad: mark(s.Verdict) != "·" && !s.Verdict.OK()}
	if s.Verdict != fold.Pass {
		row.Verdict = s.Verdict.String()
	}
	if s.Cause != "" && s.Verdict.OK() {
		row.Title += " *"
	}
	if s.Rounds > 1 {
		n := count(at+"rounds", s.Rounds)
		row.Rounds = &n
	}
	if s.Verdict == fold.Void || s.Verdict == fold.Waiting { // its numbers do not count
		return row
	}
	if s.Nearest < 0 {
		if s.Answers > 0 {
			n := count(at+"answers", s.Answers)
			row.Answers = &n
		}
		return row
	}
	c := s.Checks[s.Nearest]
	at += fmt.Sprintf("checks.%d.", s.Nearest)
	row.Check, row.Min, row.Unit = b.cut("check", limitName(c.Limit, s.ID), 22), c.Min, strings.ReplaceAll(unit.UnitName(c.kind, r.sys),
		" per ", "/")
	put := func(to **num, key string, v *float64) {
		if v != nil {
			n := r.num(at+key, *v, c.kind)
			*to = &n
		}
	}
	put(&row.Got, "got", c.Got)
	put(&row.Max, "max", c.Max)
	if c.Guard != nil && *c.Guard > 0 {
		put(&row.Guard, "guard", c.Guard)
	}
	if c.Share != nil {
		n := share(at+"share", *c.Share)
		row.Share, row.Wide = &n, fmt.Sprintf("%.1f", 100*min(*c.Share, 1))
	}
	if c.Words != "" && !c.Verdict.OK() {
		b.full = append(b.full, entry{plain(s.Title), plain(c.Words)})
	}
	return row
}

// cells are a step's row in a table.
func (s stepRow) cells() []cell {
	at := func(n *num) cell {
		if n == nil {
			return cell{}
		}
		return cell{num: *n}
	}
	max := at(s.Max)
	max.Unit = s.Unit
	return []cell{{Label: s.Mark + " " + s.Title}, {Label: s.Check}, at(s.Got), at(s.Guard), max, at(s.Share)}
}

// foot is what is written in by hand, the tag, and the small print.
func (b *builder) foot(tag *Tag) {
	r := b.r
	if len(r.Register) > 0 {
		for i, f := range r.Register {
			if i == 2 {
				break
			}
			b.p.Blanks = append(b.p.Blanks, b.cut("feature", f.Name, 24)+", as inspected X / Y")
		}
	}
	if r.Fixture != nil {
		b.p.Blanks = append(b.p.Blanks, "straps and screws: torque or angle")
	}
	b.p.Blanks = append(b.p.Blanks, "inspected by, date", "signed")
	b.p.Small = fmt.Sprintf("%s in %s. Formulas of fliptrue %s. It does not see, move or stop the machine. Lengths: %s.",
		plural(r.Taken, "raw reading"), b.cut("record", or(r.RecordFile, "the record"), 60), or(r.Version, "of unknown version"), r.Unit)
	if slices.ContainsFunc(r.Holding, func(h Line) bool { return h.Says == desk.Estimate }) {
		b.p.Small = desk.Estimate + " " + b.p.Small
	}
	if tag != nil {
		b.p.Tag = b.tag(tag)
	}
	b.used += 38
}
