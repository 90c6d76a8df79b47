package report

import (
	"fmt"
	"math"
	"strings"
	"time"

	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
)

// width is that of a page, characters.
const width = 78

// page gathers lines with their headings.
type page struct{ strings.Builder }

func (b *page) line(format string, args ...any) {
	b.WriteString(strings.ReplaceAll(strings.TrimRight(fmt.Sprintf(format, args...), " "+kept), kept, " ") + "\n")
}

// kept is a blank at which no line is broken.
const kept = "\u00a0"

// whole keeps a text on one line, its blanks as they are.
func whole(text string) string { return strings.ReplaceAll(text, " ", kept) }

func (b *page) heading(s string) {
	b.line("%s %s", s, strings.Repeat("-", max(0, width-len([]rune(s))-1)))
}

// wrapped prints a text with hanging indent.
func (b *page) wrapped(first, text string) {
	indent := strings.Repeat(" ", len([]rune(first)))
	line := first
	for _, w := range strings.FieldsFunc(text, func(c rune) bool { return c == ' ' || c == '\n' || c == '\t' }) {
		if len([]rune(line))+1+len([]rune(w)) > width && strings.TrimSpace(line) != strings.TrimSpace(first) {
			b.line("%s", line)
			line = indent
		}
		if line != first && line != indent {
			line += " "
		}
		line += w
	}
	b.line("%s", line)
}

// apart are texts with room between them.
func apart(texts ...string) string {
	out := ""
	for _, t := range texts {
		if t != "" {
			out += whole(t+"  ") + " "
		}
	}
	return out
}

func stamp(t *time.Time) string {
	if t == nil {
		return "-"
	}
	return t.Format("2006-01-02 15:04")
}

func or(s, otherwise string) string {
	if s == "" {
		return otherwise
	}
	return s
}

// Text is the record as one page, to be read in a terminal.
func (r Record) Text() string {
	var b page
	r.headText(&b)
	r.offsetText(&b)
	r.registerText(&b)
	b.heading("steps: the check nearest its limit, and how near it is")
	for _, s := range r.Steps {
		b.stepText(s, r.sys)
	}
	if r.StopPoints != "" {
		b.line("%-20s asked while it is cut; not all answered", r.StopPoints)
	}
	r.ledgerText(&b)
	b.line("%s", strings.Repeat("-", width))
	b.wrapped("", fmt.Sprintf("%d raw readings are in %s. Formulas of fliptrue %s.", len(r.Readings), or(r.RecordFile, "the record"),
		or(r.Version, "of unknown version")))
	return b.String()
}

// whose says which part and setup it is.
func (r Record) whose() []string {
	var out []string
	switch {
	case r.Part > 0 && r.Parts > 0:
		out = append(out, fmt.Sprintf("part %d of %d", r.Part, r.Parts))
	case r.Part > 0:
		out = append(out, fmt.Sprintf("part %d", r.Part))
	}
	s := "setup " + r.Setup
	if r.Flip != "" {
		s += ", turned about " + strings.ToUpper(r.Flip)
	}
	if r.HoldDown != "" {
		s += ", plan " + r.HoldDown
	}
	return append(out, s)
}

// standing is the state with the step that it is held at.
func (r Record) standing() string {
	state := strings.ToUpper(r.State)
	if r.HeldAt != "" {
		state += " at " + r.HeldAt
	}
	return state
}

// headText is who, when and with what.
func (r Record) headText(b *page) {
	b.wrapped("", apart(append([]string{strings.ToUpper(r.Job)}, r.whose()...)...))
	b.line("%s   begun %s   last %s   released %s", r.standing(), stamp(r.Begun), stamp(r.Last), stamp(r.Released))
	b.wrapped("", apart("stock "+or(r.Stock, "-"))+"operator "+or(r.Operator, "-"))
	if f := r.Fixture; f != nil {
		b.wrapped("", fmt.Sprintf("fixture %s, use %d, %s, %d thread cycles before", f.ID, f.Use, f.Material, f.Cycles))
	}
	show := func(v float64) string { return unit.Show(v, unit.KLength, r.sys, 0) }
	for _, l := range append(append([]Line{}, r.Environment...), r.Instruments...) {
		b.wrapped(fmt.Sprintf("%-20s ", l.What), l.Says)
	}
	for _, s := range r.Sizes {
		b.wrapped(fmt.Sprintf("%-20s ", s.What), s.says(show))
	}
	for _, t := range r.Tools {
		length := "not read"
		if t.Length != nil {
			length = show(*t.Length)
		}
		b.wrapped(fmt.Sprintf("T%-19d ", t.Number), t.Name+", length "+length)
	}
	for _, p := range r.Programs {
		b.wrapped(fmt.Sprintf("%-20s ", p.Role), p.says())
	}
}

// says is a size with what is known of it.
func (s Size) says(show func(float64) string) string {
	says := show(s.Value)
	if s.U != nil {
		says += ", u " + show(*s.U)
	}
	says += ", " + s.Source
	if s.Given != nil && *s.Given != s.Value {
		says += "; the job says " + show(*s.Given)
	}
	return says
}

func (p Program) says() string {
	says := p.File + ", checksum " + or(p.Checksum, "not taken: the file was not there")
	if p.Verdict != "" {
		says = p.File + ": " + p.Verdict + ", checksum " + or(p.Checksum, "none: it was not read")
	}
	switch {
	case p.Changed:
		says += "; CHANGED SINCE, now " + p.Now
	case p.Checksum != "" && p.Now == "":
		says += "; the file is not there now"
	}
	return says
}

func (r Record) offsetText(b *page) {
	if r.Word == "" {
		if len(r.Results) > 0 {
			b.heading("found")
		}
		for _, x := range r.Results {
			b.wrapped(fmt.Sprintf("%-32s ", x.What), unit.Show(x.Value, x.kind, r.sys, 0))
		}
		return
	}
	b.heading("offset, " + unit.UnitName(unit.KLength, r.sys))
	o := r.Offset
	if o == nil {
		b.line("%s   void or not yet made", r.Word)
		return
	}
	signed := func(v float64) string { return unit.Signed(v, unit.KLength, r.sys, 0) }
	rot := ""
	if o.RotationDeg != 0 {
		rot = fmt.Sprintf("   rotation %.4f deg", o.RotationDeg)
	}
	b.line("%s   X %s   Y %s   Z %s%s   Z0 is %s", o.Word, signed(o.X), signed(o.Y), signed(o.Z), rot, strings.ToUpper(o.Z0))
	var typed []string
	for _, l := range o.Echoed {
		typed = append(typed, strings.ToUpper(l.What)+" "+l.Says)
	}
	b.wrapped("read back   ", or(apart(typed...), "not yet"))
	if o.Cause != "" {
		b.wrapped("", lost+o.Cause)
	}
}

func (r Record) registerText(b *page) {
	if len(r.Register) == 0 {
		return
	}
	mm := unit.UnitName(unit.KLength, r.sys)
	num := func(v float64) string { return unit.Format(v, unit.KLength, r.sys, 0) }
	b.heading(fmt.Sprintf("register, %s, U 95 %%; allowance %s; part's feature minus where the tool cuts", mm, num(r.Allowance)))
	for _, f := range r.Register {
		with := func(a int) string {
			return strings.TrimSuffix(unit.FormatU(f.Error[a], f.U[a], unit.KLength, r.sys, 0), " "+mm)
		}
		b.wrapped(fmt.Sprintf("%-18s ", f.Name), apart("X "+with(0), "Y "+with(1), "largest: "+f.Largest[worse(f)]))
	}
	if w := r.Worst; w != nil {
		f := r.Register[w.Feature]
		var assumed []string
		for _, s := range f.Budget[w.Axis].Assumed {
			assumed = append(assumed, s.Name)
		}
		b.wrapped("", fmt.Sprintf("worst: %s %s, %s ± guard %s of %s; assumed in it: %s; no line for: %s", f.Name, axes[w.Axis], num(w.Value),
			num(w.Guard), num(w.Limit),
			or(strings.Join(assumed, ", "), "nothing"), strings.Join(r.NoLine, "; ")))
	}
	if s := r.Shift; s != nil {
		b.wrapped("", "moved since "+s.Since+": "+apart("X "+unit.Signed(s.DX, unit.KLength, r.sys, 0),
			"Y "+unit.Signed(s.DY, unit.KLength, r.sys, 0), fmt.Sprintf("turned %.4f deg", unsigned(s.RotDeg))))
	}
	b.line("as inspected       X ________  Y ________")
}

// axes are the names of a register's axes.
var axes = [2]string{"X", "Y"}

// unsigned takes the sign off what prints as nothing.
func unsigned(deg float64) float64 {
	if math.Abs(deg) < 0.00005 {
		return 0
	}
	return deg
}

// worse is the axis on which a feature is worse.
func worse(f Feature) int {
	if f.U[1] > f.U[0] {
		return 1
	}
	return 0
}

// limitName is a limit on the page, where its step stands beside it already: "closing" of square.closing,
// "read back X" of echo.x.
func limitName(limit, step string) string {
	if ax, ok := strings.CutPrefix(limit, "echo."); ok {
		if len(ax) == 1 {
			ax = strings.ToUpper(ax)
		}
		return "read back " + ax
	}
	return strings.ReplaceAll(strings.TrimPrefix(limit, step+"."), ".", " ")
}

// says is a check with its numbers, and what it came to where it did not pass.
func (c Check) says(step string, sys unit.System) string {
	s := limitName(c.Limit, step)
	if c.Got != nil && c.Max != nil {
		s += " " + unit.Format(*c.Got, c.kind, sys, 0)
		if c.Guard != nil && *c.Guard > 0 {
			s += " ± " + unit.Format(*c.Guard, c.kind, sys, 0)
		}
		s += " of "
		if c.Min {
			s += "at least "
		}
		s += unit.Show(*c.Max, c.kind, sys, 0)
	}
	if c.Verdict != fold.Pass {
		s += " " + c.Verdict.String()
	}
	return s
}

// percent is a share as it is printed.
func percent(share float64) string { return fmt.Sprintf("%.0f %%", 100*share) }

// stepText is a step with the check nearest its limit, and all that do not pass.
func (b *page) stepText(s Step, sys unit.System) {
	var says []string
	if s.Rounds > 1 {
		says = append(says, fmt.Sprintf("round %d", s.Rounds))
	}
	for i, c := range s.Checks {
		if i == s.Nearest || !c.Verdict.OK() || c.Verdict == fold.Waived {
			w := c.says(s.ID, sys)
			if c.Share != nil {
				w += ", " + whole(percent(*c.Share))
			}
			says = append(says, w)
		}
	}
	if len(says) == 0 && s.Answers > 0 {
		says = append(says, plural(s.Answers, "answer")+" as wanted")
	}
	switch {
	case s.Verdict == fold.Void:
		says = []string{s.Cause}
	case s.Cause != "":
		says = append(says, lost+s.Cause)
	}
	b.wrapped(fmt.Sprintf("%-11s %-11s ", s.Verdict, s.ID), strings.Join(says, "; "))
}

// lost begins why something fell after it had served.
const lost = "served; lost since: "

func plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// ledgerText is how it was held, what was waived and what happened.
func (r Record) ledgerText(b *page) {
	if len(r.Holding) > 0 {
		b.heading("holding")
		for _, l := range r.Holding {
			b.wrapped("", l.What+": "+l.Says)
		}
	}
	b.heading("waivers and mishaps")
	for _, w := range r.Waivers {
		b.wrapped("waived ", fmt.Sprintf("%s at %s: %s (%s)", w.Limit, or(w.Number, "-"), w.Reason, stamp(w.At)))
	}
	for _, m := range r.Mishaps {
		says := strings.TrimSpace(m.ID+" "+m.Tool) + ": " + m.Words
		if len(m.Again) > 0 {
			says += "; read again: " + strings.Join(m.Again, ", ")
		}
		b.wrapped(stamp(m.At)+" ", says)
	}
	if len(r.Waivers)+len(r.Mishaps) == 0 {
		b.line("none")
	}
	for _, w := range r.WayBack {
		b.line("way back: %s, %s", w.Title, plural(w.Readings, "reading"))
	}
	b.wrapped("walk ", r.Level.says())
	for _, n := range r.Notes {
		b.wrapped("note ", n)
	}
}

// says is how much was looked at, and what was not.
func (l Level) says() string {
	s := fmt.Sprintf("%d of %d, read as: %s", l.Walk, l.Newest, l.Reads)
	if len(l.Unasked) > 0 {
		s += "; not asked: " + strings.Join(l.Unasked, ", ")
	}
	if len(l.Misses) > 0 {
		s += "; not caught, more reading would: " + strings.Join(l.Misses, ", ")
	}
	return s + "; not seen: " + strings.Join(l.Unseen, "; ")
}
