package tui

import (
	"strings"

	"fliptrue/calc/unit"
)

// banners are the standing warnings. None is ever left out; a long one takes two lines.
func (m *Model) banners() []string {
	var out []string
	add := func(s string) {
		if s == "" {
			return
		}
		for _, l := range Wrap(m.t.Say(s), max(m.w-2, 10)) {
			out = append(out, " "+l)
		}
	}
	if m.trouble != "" {
		add(m.trouble)
	}
	for _, a := range m.amiss {
		add(a)
	}
	for _, f := range m.feedBanners() {
		add(f)
	}
	for _, t := range m.st.Troubles {
		add("RECORD " + t.Error())
		break
	}
	if m.o.Plan.Job.Unit == unit.Imperial {
		add("INCH JOB: a bare number is inches")
	}
	for _, w := range m.st.Waivers {
		add(m.waiverWords(w))
	}
	add(m.voidBanner())
	if n := len(m.st.Mishaps); n > 0 {
		for i := n - 1; i >= 0; i-- {
			if h := m.st.Mishaps[i]; h.By == "" {
				if len(voided(&m.st)) == 0 {
					add("last mishap " + clockTime(h.At) + ": " + mishapWords(h.ID))
				}
				break
			}
		}
	}
	if m.st.TakenBack != nil {
		add("RELEASE TAKEN BACK: " + causeWords(m.st.TakenBack, &m.st))
	}
	return out
}

// voidBanner is the standing word about void facts, on two lines at most: the page it
// names tells all of them.
func (m *Model) voidBanner() string {
	void := voidedBy(&m.st)
	if len(void) == 0 {
		return ""
	}
	if words := m.routineNext(); words != "" {
		return words
	}
	n := 0
	var names, causes []string
	for _, v := range void {
		n += len(v.facts)
		names, causes = append(names, v.facts...), append(causes, v.cause)
	}
	if p, ok := m.top().(*listPage); ok && p.way {
		return "VOID  " + plural(n, "result") + ", told below"
	}
	tail := "; * then 0 tells the way back"
	if len(m.st.Way) > 0 {
		r := 0
		for _, b := range m.st.Way {
			r += b.Readings
		}
		tail = "; way back: " + plural(r, "reading") + ", * then 0"
	}
	fits := func(s string) bool { return len(Wrap(m.t.Say(s), max(m.w-2, 10))) <= 2 }
	cause := ": " + causes[0]
	if len(causes) > 1 {
		cause += " and " + plural(len(causes)-1, "more cause")
	}
	for k := len(names); k > 0; k-- {
		s := "VOID  " + strings.Join(names[:k], ", ")
		if k < n {
			s += " and " + itoa(n-k) + " more"
		}
		if s += cause + tail; fits(s) {
			return s
		}
	}
	return "VOID  " + plural(n, "result") + tail
}

// routineNext is the word in place of VOID where nothing happened but that the next part is begun: a few readings prove
// what is taken over; "" where something else fell.
func (m *Model) routineNext() string {
	for _, f := range m.st.Facts {
		if f.Void != nil && f.Void.Mishap != m.o.Plan.House().Next.Mishap {
			return ""
		}
	}
	r := 0
	for _, b := range m.st.Way {
		r += b.Readings
	}
	if r == 0 {
		return ""
	}
	return "NEXT PART  fixture, lengths and offset are taken over from the part before; " + plural(r, "reading") + " prove them"
}
