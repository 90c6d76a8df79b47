package tui

import (
	"strings"

	"fliptrue/steps"
	"fliptrue/steps/kit"
)

// hitTable are the readings of one instrument that follow each other: one line a place,
// a column for each axis where several are read at one place.
type hitTable struct {
	cols []string // axes; one without a name where each place has one reading
	rows []hitRow
	at   [2]int // row and column of the field in hand
}

type hitRow struct {
	place string
	no    string       // as in the picture, "" where none shows the place
	asks  []*steps.Ask // by column, nil for none
}

// hits is the table that the ask in hand is part of; ok is false where it stands alone.
func (p *walkPage) hits(m *Model, a steps.Ask) (t hitTable, ok bool) {
	ss, found := m.st.Step(m.st.Cursor.Step)
	if !found || a.Kind != steps.Reading || len(m.redo) > 0 {
		return t, false
	}
	like := func(q *steps.Ask) bool {
		return q.Kind == steps.Reading && q.What.By == a.What.By && q.Unit == a.Unit && q.Bare == a.Bare && !q.Blind &&
			(q.What.Of == a.What.Of || !onClock(q) && !onClock(&a)) // the hits of one bore
	}
	at := -1
	for i := range ss.Asks {
		if ss.Asks[i].Field == a.Field {
			at = i
		}
	}
	if at < 0 || !like(&ss.Asks[at]) {
		return t, false
	}
	from, to := at, at+1
	for from > 0 && like(&ss.Asks[from-1]) {
		from--
	}
	for to < len(ss.Asks) && like(&ss.Asks[to]) {
		to++
	}
	asks := ss.Asks[from:to]
	paired := false
	for i := 1; i < len(asks); i++ {
		paired = paired || asks[i].Form != "" && asks[i].Form == asks[i-1].Form
	}
	if !paired {
		t.cols = []string{""}
	}
	last := ""
	for i := range asks {
		q := &asks[i]
		c := 0
		if paired {
			c = column(&t.cols, upper(q.What.Axis))
		}
		if i == 0 || q.Form == "" || q.Form != last {
			t.rows = append(t.rows, hitRow{})
		}
		last = q.Form
		r := &t.rows[len(t.rows)-1]
		for len(r.asks) <= c {
			r.asks = append(r.asks, nil)
		}
		r.asks[c] = q
		if q.Field == a.Field {
			t.at = [2]int{len(t.rows) - 1, c}
		}
	}
	if len(t.rows) < 2 {
		return t, false
	}
	no := kit.MarkNumbers(&m.st, ss, a.Field)
	firsts := make([]*steps.Ask, len(t.rows))
	for i, r := range t.rows {
		firsts[i] = r.first()
	}
	for i, name := range placesOf(firsts) {
		q := firsts[i]
		t.rows[i].place = name
		if n := no[q.Field]; n > 0 {
			t.rows[i].no = itoa(n)
		}
		if !paired && len(q.What.Axis) == 1 {
			t.cols[0] = "+" // the letter stands before the number
		}
	}
	return t, true
}

func (r hitRow) first() *steps.Ask {
	for _, q := range r.asks {
		if q != nil {
			return q
		}
	}
	return nil
}

// value is what stands in a cell: what is typed, else what was taken.
func (p *walkPage) value(m *Model, q *steps.Ask) (text string, typed bool) {
	if e := m.entries[m.address(q.Field)]; !e.Empty() {
		return e.Text(), true
	}
	if ss, ok := m.st.Step(m.st.Cursor.Step); ok && m.st.Cursor.Open {
		if t, ok := ss.Round.Get(q.Field); ok {
			return t.Value, false
		}
	}
	return "", false
}

// tabled puts the table with the field in it, at most so many places, and below the field
// what is expected in it, its decimal point in the same column.
func (p *walkPage) tabled(m *Model, s *sheet, t hitTable, a steps.Ask, most int) {
	pred, after, apart := m.expected(a)
	left, right := whole(pred), max(Width(pred)-whole(pred)+1, 4) // with its mark behind the last digit
	for _, r := range t.rows {
		for _, q := range r.asks {
			if q != nil {
				v, _ := p.value(m, q)
				left, right = max(left, whole(v)), max(right, Width(v)-whole(v))
			}
		}
	}
	left, right = max(left, 4), max(right, Width(p.text(m).Shown())-whole(p.text(m).Shown()))
	place := 0
	for _, r := range t.rows {
		place = max(place, Width(m.t.Say(r.place)))
	}
	num := 0
	for _, r := range t.rows {
		num = max(num, len(r.no))
	}
	lead := 2
	if num > 0 {
		lead = 3 + num
	}
	axis := 0
	if t.cols[0] == "+" {
		axis = 2
	}
	half := m.t.Say(strings.SplitN(after, "  ", 2)[0])
	place = max(min(place, s.w-lead-2-axis-len(t.cols)*(left+right+2)+2), 6)
	cell := func(text string, r Role) string {
		if text == "" {
			return strings.Repeat(" ", left-1) + m.t.Paint(Dim, m.dot()) + strings.Repeat(" ", right+2)
		}
		w := whole(text)
		return strings.Repeat(" ", max(left-w, 0)) + m.t.Paint(r, m.t.Say(text)) + strings.Repeat(" ", max(right-(Width(text)-w), 0)+2)
	}
	var ls []string
	at := 0
	for i, r := range t.rows {
		mark, role := "  ", Text
		if i == t.at[0] {
			mark, role, at = "> ", Act, len(ls)
		}
		names := Wrap(m.t.Say(r.place), place) // nothing is cut
		line := m.t.Paint(role, mark+PadLeft(r.no+" ", lead-2)+Pad(names[0], place)) + "  "
		if axis > 0 {
			line += m.t.Paint(role, Pad(upper(r.first().What.Axis), axis))
		}
		for c := range t.cols {
			var q *steps.Ask
			if c < len(r.asks) {
				q = r.asks[c]
			}
			switch {
			case q == nil:
				line += strings.Repeat(" ", left+right+2)
			case q.Field == a.Field:
				line += cell(p.text(m).Shown(), Typed)
			default:
				v, typed := p.value(m, q)
				line += cell(v, map[bool]Role{true: Typed, false: role}[typed])
			}
		}
		ls = append(ls, strings.TrimRight(line, " "))
		for _, n := range names[1:] {
			ls = append(ls, m.t.Paint(role, strings.Repeat(" ", lead)+n))
		}
		if i != t.at[0] {
			continue
		}
		if ss, ok := m.st.Step(m.st.Cursor.Step); ok && m.st.Cursor.Open {
			if was, ok := ss.Round.Get(a.Field); ok {
				old := append(append([]string{}, was.Before...), was.Value)
				ls = append(ls, " before    "+m.t.Paint(Void, m.t.Say(strings.Join(old, "  "))))
			}
		}
		in := lead + place + 2 + axis + t.at[1]*(left+right+2) - 1
		switch {
		case pred != "":
			word := "expected"
			pl := strings.Repeat(" ", max(in+left-whole(pred)-len(word), 1)) + pred
			l := word + pl + " " + after
			if Width(m.t.Say(l)) > s.w-1 {
				l = word + pl + " " + half
			}
			if Width(m.t.Say(l)) > s.w-1 { // no room behind the last column
				word += " " + half
				l = word + strings.Repeat(" ", max(in+left-whole(pred)-Width(word), 1)) + pred
			}
			ls = append(ls, " "+m.t.Paint(Predicted, m.t.Say(l)))
		case apart != "":
			if Width(m.t.Say(apart))+11 > s.w &&
				(strings.HasPrefix(apart, bounds) || strings.HasPrefix(apart, upTo)) { // the numbers are enough here
				apart, _, _ = strings.Cut(apart, ": ")
			}
			for _, l := range WrapHung(" expected  ", m.t.Say(apart), s.w) {
				ls = append(ls, m.t.Paint(Predicted, l))
			}
		}
	}
	if len(t.cols) > 1 {
		head := strings.Repeat(" ", lead+place+2)
		for _, c := range t.cols {
			head += Pad(strings.Repeat(" ", left-1)+c, left+right+2)
		}
		s.put(must, m.t.Paint(Dim, strings.TrimRight(head, " ")))
	}
	s.put(must, window(ls, at, max(most, 5))...)
}
