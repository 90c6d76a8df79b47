package tui

import (
	"sort"
	"strings"
)

// newHelp tells about the page under it first; then, generated from the key map, what
// every key does there, and why one does nothing now.
func newHelp(m *Model) *textPage {
	f := m.focus()
	off := m.off()
	under := m.top()
	lines := func(m *Model, w int) []string {
		out := m.pageHelp(under, f, w)
		out = append(out, "", m.t.Paint(Act, "The keys"))
		for _, h := range m.km.Help(f, off) {
			does := h.Does
			role := Text
			if h.Off != "" {
				does += " (not now: " + h.Off + ")"
				role = Dim
			}
			for _, l := range WrapHung(Pad(h.Keys, 17), m.t.Say(does), w) {
				out = append(out, m.t.Paint(role, l))
			}
		}
		out = append(out, "", m.t.Paint(Act, "The numeric keypad"))
		return append(out, m.km.Keypad()...)
	}
	return &textPage{title: "help: this page, then the keys", lines: lines}
}

// helpRow writes a line of help behind its lead.
type helpRow func(lead string, r Role, text string)

// stepHelp is what a page of the walk is about.
func (m *Model) stepHelp(s *sheet, p *walkPage, row helpRow) {
	ss, _ := m.st.Step(m.st.Cursor.Step)
	s.say(must, Act, upper(ss.Title))
	acts := sayWords(p.acts(m))
	if len(acts) == 0 {
		acts = []string{m.pg.Act}
	}
	for i, t := range acts {
		row(map[bool]string{true: "to do"}[i == 0], Text, t)
	}
	row("caution", Caution, m.pg.Caution)
	a, ok := p.ask(m)
	if ok && !p.doing(m) {
		label := a.Label
		if u := m.unitWord(a); u != "" {
			label += ", in " + u
		}
		row("asked", Text, label)
		if len(a.Options) > 0 {
			row("answers", Text, strings.Join(a.Options, "; "))
		}
	}
	row("to read", Text, m.pg.Read)
	row("why", Text, m.pg.Why)
	if ss.Pause != nil {
		row("pause", Text, ss.Pause.Heading+". "+ss.Pause.Lost)
	}
}

// keyHelp is the key that ends what is in hand.
func (m *Model) keyHelp(f Focus, row helpRow) {
	switch f.Place {
	case Reads:
		row("ends it", Text, "Enter takes the reading. + is a sign here.")
		if m.o.Feed != nil {
			row("arrives", Text, "What a feed sends stands in the fields, marked. Enter takes the whole form, nothing else does.")
		}
		row("shorter", Text, "..12 types only the last digits of what is expected. Rows can be pasted: X.. Y.. Z.., columns, [x,y,z].")
	case Answers, Words, Asks:
		row("ends it", Text, "+ answers. Enter does nothing here.")
	case Lists:
		row("ends it", Text, "+ opens the marked line, and so does Enter: looking changes nothing.")
	}
}

// pageHelp is what the page under the help is about: its act, how it is read, why it is
// done, and the key that ends it.
func (m *Model) pageHelp(under page, f Focus, w int) []string {
	s := &sheet{t: m.t, w: w}
	row := func(lead string, r Role, text string) { s.hang(must, r, Pad(lead, 11), text) }
	switch p := under.(type) {
	case *walkPage:
		m.stepHelp(s, p, row)
	case *verdictPage:
		s.say(must, Act, upper(m.stepTitle(p.step)))
		row("shown", Text, "what was found against each limit. ± is the guard: one-sided 95 %.")
		row("PASS", Text, "found and guard together are within the limit")
		row("FAIL", Text, "found is past the limit, guard taken off")
		row("NOT PROVEN", Text, "within the limit, but not by its guard: it can't be said either way")
	case *listPage:
		s.say(must, Act, upper(p.title))
		row("", Text, "A list: the number of a line marks it.")
	case *readyPage, *releasedPage:
		s.say(must, Act, "THE END OF THE LIST")
	}
	m.keyHelp(f, row)
	if _, ok := under.(*walkPage); ok && m.st.Level != 0 {
		row("level", Text, "This walk reads as for "+m.st.Level.String()+".")
		if misses := m.st.Misses(); len(misses) > 0 {
			row("not seen", Caution, "At this level no reading shows: "+strings.Join(misses, "; ")+".")
		}
	}
	row("back", Text, "/ in an empty field goes back to look; * says that something happened.")
	return s.fit(1 << 20)
}

// terms are the words of the trade as this program uses them.
var terms = map[string]string{
	"allowance":     "the register allowance: how far side 2 may stand off side 1 at the worst feature. Limits are shares of it",
	"a baseline":    "readings of part minus fixture, taken when the part is held; what is read later is held against them",
	"locating bore": "the fixture's locating hole. It gives position, and only position",
	"echo":          "what is read back from the control's own page, blind, after keying it in",
	"edge":          "the fixture's straight side. It gives direction, and only direction",
	"fact":          "a result that later steps stand on: a bore, a floor, an offset. It can become void",
	"flip axis":     "the axis the part is turned about between the sides. The program believes one, too",
	"guard":         "the half width that a number has to stay off its limit: one-sided 95 %",
	"M, W":          "machine and work coordinates. M is the readout after homing, W counts from the offset",
	"mishap":        "something that happened to the setup. Declaring one shows what fell and the shortest way back",
	"NOT PROVEN":    "within the limit, but not by its guard: it can't be said either way",
	"work offset":   "where the part zero stands in machine coordinates, under a word such as G54",
	"pause point":   "a place to stop, because after it something can't be undone",
	"recheck":       "a few readings that show whether a void result still holds",
	"register":      "how side 2 stands to side 1",
	"round":         "one go at a step. A new round never erases the old one",
	"skew":          "the angle of the fixture's edge against the machine's axis",
	"stop points":   "what is asked after the release, while the part is being cut",
	"tap":           "to turn the fixture by a knock at its end; it moves the bore as well",
	"void":          "no longer known, because of what happened after it was read",
	"waiver":        "a limit passed over by a person, with a reason. It stands on every page until the setup ends",
	"witness":       "a place touched on part or fixture only to see whether something moved",
	"Z0":            "the height the program counts from: the pocket floor, or the finished top",
	"dial reading":  "clockwise is plus; come to every station from the same side",
}

// newGlossary is what the words mean.
func newGlossary(m *Model) *textPage {
	return &textPage{title: "words", lines: func(m *Model, w int) []string {
		var ks []string
		for k := range terms {
			ks = append(ks, k)
		}
		sort.Strings(ks)
		var out []string
		for _, k := range ks {
			out = append(out, WrapHung(Pad(k, 15), m.t.Say(terms[k]+"."), w)...)
		}
		return out
	}}
}
