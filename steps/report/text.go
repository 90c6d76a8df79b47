package report

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps"
)

// width is that of a page, characters.
const width = 78

func sortedTools(tools map[int]jobs.Tool) []int { return slices.Sorted(maps.Keys(tools)) }

// page gathers lines with their headings.
type page struct{ strings.Builder }

func (b *page) line(format string, args ...any) {
	b.WriteString(strings.TrimRight(fmt.Sprintf(format, args...), " ") + "\n")
}

func (b *page) heading(s string) {
	b.line("%s %s", s, strings.Repeat("-", max(0, width-len([]rune(s))-1)))
}

// wrapped prints a text with hanging indent.
func (b *page) wrapped(first, text string) {
	indent := strings.Repeat(" ", len([]rune(first)))
	line := first
	for _, w := range strings.Fields(text) {
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

// Text is the record as one page.
func (r Record) Text() string {
	var b page
	sys := r.sys
	num := func(v float64) string { return unit.Format(v, unit.KLength, sys, 0) }
	signed := func(v float64) string { return unit.Signed(v, unit.KLength, sys, 0) }
	mm := unit.UnitName(unit.KLength, sys)

	part := fmt.Sprint(r.Part)
	if r.Parts > 0 {
		part += fmt.Sprintf(" of %d", r.Parts)
	}
	b.line("%s   part %s   setup %s", strings.ToUpper(r.Job), part, r.Setup)
	state := strings.ToUpper(r.State)
	if r.HeldAt != "" {
		state += " at " + r.HeldAt
	}
	b.line("%s   begun %s   last %s   released %s", state, stamp(r.Begun), stamp(r.Last), stamp(r.Released))
	b.line("stock %s   operator %s", or(r.Stock, "-"), or(r.Operator, "-"))
	b.line("fixture %s, use %d, %s, %d thread cycles before", r.Fixture.ID, r.Fixture.Use, r.Fixture.Material, r.Fixture.Cycles)
	for _, l := range append(slices.Clone(r.Environment), r.Instruments...) {
		b.wrapped(fmt.Sprintf("%-20s ", l.What), l.Says)
	}

	b.heading("tools and programs")
	for _, t := range r.Tools {
		length := "not read"
		if t.Length != nil {
			length = num(*t.Length) + " " + mm
		}
		b.line("T%-3d %-18s dia %s, stick-out %s, length %s", t.Number, t.Name, num(t.Dia), num(t.Stickout), length)
	}
	for _, p := range r.Programs {
		box := ""
		if p.Box != nil {
			box = fmt.Sprintf(", box %s %s %s to %s %s %s", num(p.Box[0]), num(p.Box[1]), num(p.Box[2]), num(p.Box[3]), num(p.Box[4]), num(p.Box[5]))
		}
		b.wrapped(fmt.Sprintf("%-8s ", p.Role), p.File+", checksum "+or(p.Checksum, "not taken: the file was not there")+box)
	}

	b.heading("offset, " + mm)
	if o := r.Offset; o == nil {
		b.line("void or not yet made")
	} else {
		rot := ""
		if o.RotationDeg != 0 {
			rot = fmt.Sprintf("   rotation %.4f deg", o.RotationDeg)
		}
		b.line("%s   X %s   Y %s   Z %s%s   Z0 is %s", o.Word, signed(o.X), signed(o.Y), signed(o.Z), rot, strings.ToUpper(o.Z0))
		var typed []string
		for _, l := range o.Echoed {
			typed = append(typed, strings.ToUpper(l.What)+" "+l.Says)
		}
		b.line("read back   %s", or(strings.Join(typed, "   "), "not yet"))
	}

	b.heading(fmt.Sprintf("register, %s, U 95 %%; allowance %s; part's feature minus where the tool cuts", mm, num(r.Allowance)))
	for _, f := range r.Register {
		with := func(a int) string {
			return strings.TrimSuffix(unit.FormatU(f.Error[a], f.U[a], unit.KLength, sys, 0), " "+mm)
		}
		b.line("%-18s X %s   Y %s   largest: %s", f.Name, with(0), with(1), f.Largest[worse(f)])
	}
	if len(r.Register) == 0 {
		b.line("not known without an offset")
	}
	if s := r.Shift; s != nil {
		b.line("%-18s X %s   Y %s   turned %.4f deg", "shift since baseline", signed(s.DX), signed(s.DY), s.RotDeg)
	}
	b.line("measured result    not inspected here: X ________  Y ________")

	b.heading("steps and limits as they were")
	for _, s := range r.Steps {
		says := checks(s.Checks, r.state, s.ID, sys)
		switch {
		case s.Verdict == steps.Void:
			says = s.Cause
		case s.Cause != "":
			says = strings.TrimPrefix(says+"; ", "; ") + "it served; lost since by " + s.Cause
		}
		if s.Rounds > 1 {
			says = strings.TrimSuffix(fmt.Sprintf("%d rounds; %s", s.Rounds, says), "; ")
		}
		b.wrapped(fmt.Sprintf("%-11s %-9s ", s.Verdict, s.ID), says)
	}

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
		b.line("%s %s %s", stamp(m.At), m.ID, m.Tool)
	}
	if len(r.Waivers)+len(r.Mishaps) == 0 {
		b.line("none")
	}
	for _, n := range r.Notes {
		b.wrapped("note ", n)
	}
	b.line("%s", strings.Repeat("-", width))
	b.wrapped("", fmt.Sprintf("%d raw readings are in %s. Formulas of fliptrue %s.", len(r.Readings), or(r.RecordFile, "the record"), or(r.Version, "of unknown version")))
	return b.String()
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

// checks says a step's limits in one line, with units by their kinds.
func checks(cs []Check, st *steps.State, id string, sys unit.System) string {
	var out []string
	ss, _ := st.Step(steps.StepID(id))
	for i, c := range cs {
		if c.Got == nil || c.Max == nil {
			if !c.Verdict.OK() {
				out = append(out, limitName(c.Limit, id)+" "+c.Verdict.String())
			}
			continue
		}
		if *c.Got == 0 && *c.Max == 0 && c.Verdict == steps.Pass { // nothing of it was allowed, and there was none
			out = append(out, limitName(c.Limit, id)+" 0")
			continue
		}
		k := unit.KLength
		if ss != nil && i < len(ss.Outcome.Checks) {
			k = ss.Outcome.Checks[i].Limit.Unit
		}
		s := limitName(c.Limit, id) + " " + unit.Format(*c.Got, k, sys, 0)
		if c.Guard != nil && *c.Guard > 0 {
			s += " ± guard " + unit.Format(*c.Guard, k, sys, 0)
		}
		s += " of "
		if c.Min {
			s += "at least "
		}
		s += unit.Format(*c.Max, k, sys, 0)
		if c.Verdict != steps.Pass {
			s += " " + c.Verdict.String()
		}
		out = append(out, s)
	}
	return strings.Join(out, ", ")
}
