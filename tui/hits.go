package tui

import (
	"slices"

	"fliptrue/steps/fold"
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
	no    string      // as in the picture, "" where none shows the place
	asks  []*fold.Ask // by column, nil for none
}

// hits is the table that the ask in hand is part of; ok is false where it stands alone.
func (p *walkPage) hits(m *Model, a fold.Ask) (t hitTable, ok bool) {
	ss, found := m.st.Step(m.st.Cursor.Step)
	if !found || a.Kind != fold.Reading || len(m.redo) > 0 {
		return t, false
	}
	asks := inARow(ss.Asks, a)
	paired := false
	for i := 1; i < len(asks); i++ {
		paired = paired || asks[i].Form != "" && asks[i].Form == asks[i-1].Form
	}
	paired = paired && !sameAxis(asks)
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
		if i == 0 || !paired || q.Form == "" || q.Form != last {
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
	t.name(kit.MarkNumbers(&m.st, ss, a.Field), paired)
	return t, true
}

// sameAxis says that a form reads one axis at several places: it is no row of a table, but several.
func sameAxis(asks []fold.Ask) bool {
	for i := 1; i < len(asks); i++ {
		if q, last := asks[i], asks[i-1]; q.Form != "" && q.Form == last.Form && q.What.Axis == last.What.Axis {
			return true
		}
	}
	return false
}

// inARow are the asks about a in which one instrument reads places of one kind, none where a is not so read.
func inARow(asks []fold.Ask, a fold.Ask) []fold.Ask {
	like := func(q *fold.Ask) bool {
		return q.Kind == fold.Reading && q.What.By == a.What.By && q.Unit == a.Unit && q.Bare == a.Bare && !q.Blind &&
			(q.What.Of == a.What.Of || !onClock(q) && !onClock(&a)) // the hits of one bore
	}
	at := slices.IndexFunc(asks, func(q fold.Ask) bool { return q.Field == a.Field })
	if at < 0 || !like(&asks[at]) {
		return nil
	}
	from, to := at, at+1
	for from > 0 && like(&asks[from-1]) {
		from--
	}
	for to < len(asks) && like(&asks[to]) {
		to++
	}
	return asks[from:to]
}

// name names the places, by their numbers in the picture too.
func (t *hitTable) name(no map[string]int, paired bool) {
	firsts := make([]*fold.Ask, len(t.rows))
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
}

func (r hitRow) first() *fold.Ask {
	for _, q := range r.asks {
		if q != nil {
			return q
		}
	}
	return nil
}

// value is what stands in a cell: what is typed, else what was taken.
func (p *walkPage) value(m *Model, q *fold.Ask) (text string, typed bool) {
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
