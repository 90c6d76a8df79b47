package tui

import (
	"slices"
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
)

// lines are the numbers worth showing, the one that counts in figures: coordinates with their axes, else
// what the bar holds against its limit.
func (m *Model) lines(s *sheet, rows []fold.Row, told *fold.Check, prio int) {
	sys := m.o.Plan.System()
	var fs []figure
	if told != nil {
		for _, r := range rows {
			if f := m.coordinate(r); f.axis != "" {
				fs = append(fs, f)
			}
		}
		if len(fs) == 0 {
			fs = m.counted(*told)
		}
	}
	if len(fs) > 0 {
		low := s.foot()
		m.figures(low, must, fs, m.room()-s.head().height()-s.musts()-2)
		prio = max(prio, useful)
	}
	var flat []fold.Row
	for _, r := range rows {
		tall := len(fs) > 0 && (m.coordinate(r).axis != "" || r.Big && number(r, sys) == fs[0].text)
		if !repeats(rows, r, sys) && !tall {
			flat = append(flat, r)
		}
	}
	if len(flat) > 0 {
		s.gap()
	}
	for _, ls := range m.tableRows(together(flat, sys), s.w) { // what has no room is left out row by row
		s.put(prio, ls...)
	}
}

// coordinate is a row that is read or keyed by its axis, one without an axis for any other.
func (m *Model) coordinate(r fold.Row) figure {
	if !r.Big || !r.Signed || r.Text != "" || axisOf(r.Label) == "" { // a radius along X is none
		return figure{}
	}
	sys := m.o.Plan.System()
	f := figure{axis: axisOf(r.Label), text: number(r, sys), side: []string{r.Label, unit.UnitName(r.Unit, sys)}}
	if r.Guard > 0 {
		f.side[1] = strings.TrimSpace(guarded(r.Guard, r.Unit, sys)) + " " + f.side[1]
	}
	return f
}

// counted is what a check holds against its limit, its guard with it: the number that decides.
func (m *Model) counted(c fold.Check) []figure {
	vs := m.against(c)
	if len(vs) == 0 {
		return nil
	}
	held := c
	held.Got, held.Limit.System = c.Held(), m.o.Plan.System()
	text, limit := held.Against()
	if !strings.HasPrefix(limit, "at least ") {
		limit = "of " + limit
	}
	why := m.limitWords([]fold.Check{c}, c)
	if c.Guard > 0 {
		why += ", with guard"
	}
	return []figure{{text: text, side: append(Wrap(m.t.Say(why), 36), limit)}}
}

// repeats says that a row shows again what a big one of its name shows.
func repeats(rows []fold.Row, r fold.Row, sys unit.System) bool {
	return !r.Big && slices.ContainsFunc(rows, func(b fold.Row) bool { return b.Big && b.Label == r.Label && shown(b, sys) == shown(r, sys) })
}

// together makes one row of rows of one name that follow each other: one thing in two units.
func together(rows []fold.Row, sys unit.System) []fold.Row {
	var out []fold.Row
	for _, r := range rows {
		if n := len(out); n > 0 && r.Label != "" && out[n-1].Label == r.Label && out[n-1].Unit != r.Unit {
			out[n-1].Text = shown(out[n-1], sys) + " = " + shown(r, sys)
			continue
		}
		out = append(out, r)
	}
	return out
}

// table sets rows in two columns. A name that is too long for its column stands on a
// line of its own; nothing is cut.
func (m *Model) table(rows []fold.Row, w int) []string {
	return slices.Concat(m.tableRows(rows, w)...)
}

// tableRows are the lines of a table by its rows.
func (m *Model) tableRows(rows []fold.Row, w int) [][]string {
	const gap = 3
	sys := m.o.Plan.System()
	names, numbers := 0, 0
	for _, r := range rows {
		names = max(names, Width(m.t.Say(r.Label)))
		n := Width(m.t.Say(shown(r, sys)))
		if r.Text != "" { // it goes on in the next line
			n = min(n, w/3)
		}
		numbers = max(numbers, n)
	}
	names = max(min(names, w-gap-numbers), 8)
	var all [][]string
	for _, r := range rows {
		var out []string
		role := Text
		if r.Big {
			role = Figure
		}
		lead := Pad(m.t.Say(r.Label), names+gap)
		if label, value := m.t.Say(r.Label), m.t.Say(shown(r, sys)); Width(label) > names && Width(label)+gap+Width(value) <= w {
			lead = label + strings.Repeat(" ", gap)
		} else if Width(label) > names {
			for _, l := range Wrap(m.t.Say(r.Label), w) {
				out = append(out, m.t.Paint(role, l))
			}
			lead = strings.Repeat(" ", names+gap)
		}
		for _, l := range WrapHung(lead, m.t.Say(shown(r, sys)), w) {
			out = append(out, m.t.Paint(role, l))
		}
		all = append(all, out)
	}
	return all
}
