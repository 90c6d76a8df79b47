package tui

import (
	"slices"
	"strings"

	"fliptrue/jobs"
	"fliptrue/steps/fold"

	tea "github.com/charmbracelet/bubbletea"
)

// newHappened is the list of what may have happened, and the way to all that
// otherwise hangs on letters and function keys.
func newHappened(m *Model) *listPage {
	p := &listPage{title: "something happened: what?", mark: -1,
		zero: &item{words: "nothing happened: other things to do here", do: func(m *Model) tea.Cmd { m.pop(); m.push(newMenu(m)); return nil }}}
	for _, h := range m.o.Plan.Offered() {
		p.items = append(p.items, item{words: h.Words, do: func(m *Model) tea.Cmd { m.push(mishapPage(m, h)); return nil }})
	}
	return p
}

// mishapPage is what comes first after a mishap was chosen.
func mishapPage(m *Model, h fold.Mishap) page {
	if h.Opens != "" && m.o.Open != nil {
		return newCard(m, h)
	}
	return newMishap(m, h)
}

// newMishap asks once more before a mishap counts; of which tool, where it matters. What
// keeps hands whole comes first, then what the mishap would cost.
func newMishap(m *Model, h fold.Mishap) *listPage {
	p := &listPage{title: h.Words, caution: h.Caution, asks: true, mark: -1}
	if h.Question != "" {
		p.lead = append(p.lead, line{Act, h.Question})
	}
	declare := func(words, tool string) {
		es, err := m.st.Declare(h.ID, tool)
		cost := ""
		if err == nil {
			cost = m.costOf(es)
		}
		switch {
		case cost == "":
		case h.PerTool && tool != "":
			words += " (" + cost + ")"
		default:
			p.lead = append(p.lead, line{Void, "With yes: " + cost + "."})
		}
		p.items = append(p.items, item{words: words, do: func(m *Model) tea.Cmd {
			return m.save(es, err, func(m *Model) { m.home(); m.push(newWayPage(m)) })
		}})
	}
	if h.PerTool && !strings.HasPrefix(string(h.ID), "probe-") {
		var ns []int
		for n := range m.o.Plan.Job.Tools {
			ns = append(ns, n)
		}
		slices.Sort(ns)
		for _, n := range ns {
			declare("tool "+itoa(n)+", "+m.o.Plan.Job.Tools[n].Name, itoa(n))
		}
		declare("it can't be said which", "")
		p.lead = append(p.lead, line{Text, "Which tool?"})
	} else {
		declare("yes, it happened", "")
	}
	p.items = append(p.items, item{words: "no, go back", do: func(m *Model) tea.Cmd { m.pop(); return nil }})
	p.tail = []line{{Dim, "First the number, then +. Enter answers nothing."}}
	return p
}

// costOf says in a few words what further events would take down and what brings it back.
func (m *Model) costOf(es []jobs.Event) string {
	if m.folding { // the log is being read beside the screen
		return ""
	}
	then := m.o.Log.If(m.o.Plan, es...)
	down := func(st *fold.State) (out []fold.Known) {
		for _, f := range st.Facts {
			if f.Void != nil {
				out = append(out, f)
			}
		}
		return out
	}
	var lost []fold.Known
	was := down(&m.st)
	for _, f := range down(&then) {
		if !slices.ContainsFunc(was, func(g fold.Known) bool { return g.ID == f.ID }) {
			lost = append(lost, f)
		}
	}
	if len(lost) == 0 {
		return "nothing more is lost"
	}
	out := "void " + strings.Join(factsWords(&then, lost), ", ")
	if w := wayWords(&then); w != "" {
		out += "; " + strings.TrimSuffix(strings.ToLower(w[:1])+w[1:], ".")
	}
	return out
}

// newWayPage says what happened, what fell and what brings it back, with its cost.
func newWayPage(m *Model) *listPage {
	p := &listPage{title: "what it cost, and the way back", top: true, way: true, asks: true, plus: "go on", mark: 0}
	if n := len(m.st.Mishaps); n > 0 {
		h := m.st.Mishaps[n-1]
		for _, o := range m.o.Plan.Offered() {
			if o.ID == h.ID && h.By == "" {
				p.caution = o.Caution
			}
		}
		p.lead = append(p.lead, line{Text, clockTime(h.At) + "  " + mishapWords(h.ID)})
	}
	void := voided(&m.st)
	if len(void) == 0 {
		p.lead = append(p.lead, line{Act, "Nothing that was found is lost."})
	}
	for _, v := range void {
		p.lead = append(p.lead, line{Void, v})
	}
	p.lead = append(p.lead, line{Text, wayWords(&m.st)})
	for _, b := range m.st.Way {
		p.lead = append(p.lead, line{Text, "  " + b.Title + ": " + plural(b.Readings, "reading")})
	}
	p.items = []item{{words: "go on", do: func(m *Model) tea.Cmd { m.pop(); return nil }}}
	return p
}

// voided names the void facts that matter, those of one cause together. What a step
// itself took down and nothing needs any more is left to the list of steps.
func voided(st *fold.State) []string {
	var out []string
	for _, v := range voidedBy(st) {
		out = append(out, "VOID  "+strings.Join(v.facts, ", ")+": "+v.cause)
	}
	return out
}

// loss is what one cause took down.
type loss struct {
	cause string
	facts []string
}

// voidedBy are the void facts that matter, by cause, in the order they are listed.
func voidedBy(st *fold.State) []loss {
	needed := map[fold.FactID]bool{}
	for _, b := range st.Way {
		for _, f := range b.Brings {
			needed[f] = true
		}
	}
	inner := map[fold.Seq]bool{}
	for _, h := range st.Mishaps {
		inner[h.Seq] = h.By != ""
	}
	var causes []string
	by := map[string][]fold.Known{}
	for _, f := range st.Facts {
		if f.Void == nil || inner[f.Void.Seq] && !needed[f.ID] {
			continue
		}
		c := causeWords(f.Void, st)
		if by[c] == nil {
			causes = append(causes, c)
		}
		by[c] = append(by[c], f)
	}
	var out []loss
	for _, c := range causes {
		out = append(out, loss{c, factsWords(st, by[c])})
	}
	return out
}

// wayWords tells the cost of the cheapest way back.
func wayWords(st *fold.State) string {
	if len(st.Way) == 0 {
		return ""
	}
	n := 0
	for _, b := range st.Way {
		n += b.Readings
	}
	return "The way back: " + plural(len(st.Way), "step") + ", " + plural(n, "reading") + "."
}

// newMenu is all that hangs on letters and function keys, for a keypad.
func newMenu(m *Model) *listPage {
	p := &listPage{title: "other things", mark: -1}
	off := m.off()
	add := func(words string, in Intent) {
		if why := off[in]; why != "" {
			p.items = append(p.items, item{words: words + ": " + why, role: Dim})
			return
		}
		p.items = append(p.items, item{words: words, do: func(m *Model) tea.Cmd { m.pop(); return m.general(in) }})
	}
	add("take one reading again", Again)
	add("waive a limit", Waive)
	add("look at the steps and what they found", Record)
	add("picture", Picture)
	add("far view, on and off", Far)
	p.items = append(
		p.items, item{words: "write a note into the record", do: func(m *Model) tea.Cmd { m.pop(); m.push(newNote()); return nil }})
	add("help and all keys", Help)
	add("what the words mean", Glossary)
	add("leave", Quit)
	if len(m.st.Way) > 0 {
		p.items = append(
			p.items, item{words: "the way back and its cost", do: func(m *Model) tea.Cmd { m.pop(); m.push(newWayPage(m)); return nil }})
	}
	return p
}

// newQuit asks before leaving. The mark is on what is most likely meant: for a hand that
// has but + a released setup can be left.
func newQuit(m *Model) *listPage {
	lead := []line{{Text, "All that was taken is on the disk; it goes on from here."}}
	switch {
	case m.st.Released && m.st.Cursor.Idle:
		lead[0].text = "All that was taken is on the disk."
	case !m.st.Released:
		lead = append(lead, line{Caution, "The setup is not released."})
	}
	var typed []string
	if w, ok := m.base.(*walkPage); ok {
		for _, f := range w.fields {
			if e := m.entries[m.address(f)]; !e.Empty() {
				typed = append(typed, e.Text())
			}
		}
	}
	if len(typed) > 0 {
		lead = append(lead, line{Caution, "Typed but not taken, and lost by leaving: " + strings.Join(typed, ", ")})
	}
	mark := 0
	if m.st.Released && len(typed) == 0 {
		mark = 1
	}
	return &listPage{title: "leave", asks: true, quits: true, mark: mark, lead: lead, plus: "leave or stay",
		tail: []line{{Dim, "Ctrl-C once more leaves, too."}},
		items: []item{{words: "stay", do: func(m *Model) tea.Cmd { m.pop(); return nil }},
			{words: "leave", do: func(m *Model) tea.Cmd { m.quit = true; return tea.Quit }}}}
}
