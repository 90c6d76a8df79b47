package tui

import (
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/steps"

	"github.com/charmbracelet/x/ansi"
)

// topLine is what is never hidden: job, setup, side and flip axis, units, offset
// and its Z0, and the frame of what is being read.
func (m *Model) topLine() string {
	j, s := m.o.Plan.Job, m.o.Plan.Setup
	var right []string
	if s.Flip != "" {
		right = append(right, "side 2, turned about "+upper(s.Flip))
	}
	right = append(right, j.Unit.String())
	if s.Offset != "" {
		o := s.Offset
		if s.Z0 != "" {
			o += " Z0 " + s.Z0
		}
		right = append(right, o)
	}
	if f := m.frameOf(); f != "" {
		right = append(right, f)
	}
	left := j.Name
	if m.o.Part != "" {
		left += " " + m.o.Part
	}
	if !sideTwo(s.Name) {
		right = append([]string{s.Name}, right...)
	}
	r := m.t.Say(" · " + strings.Join(right, " · ") + " ")
	l := Cut(m.t.Say(" "+left), max(m.w-Width(r), 6))
	return l + r
}

// sideTwo says that a setup's name only repeats that it is side 2.
func sideTwo(name string) bool {
	return strings.ToLower(strings.NewReplacer(" ", "", "-", "", "_", "").Replace(name)) == "side2"
}

// frameOf tells what the coordinates asked now are counted in.
func (m *Model) frameOf() string {
	p, ok := m.base.(*walkPage)
	if !ok {
		return ""
	}
	a, ok := p.ask(m)
	switch {
	case ok && a.Kind == steps.Echo:
		return "control"
	case ok && a.Kind == steps.Reading && frameWord(a.What) != "":
		return "M"
	}
	return ""
}

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

// where is the flat list of steps.
func (m *Model) where(w, h int) []string {
	var ls []string
	at := 0
	for _, ss := range m.st.Steps {
		if ss.Verdict == steps.NotApplicable && ss.Off {
			continue
		}
		here := ss.ID == m.st.Cursor.Step && !m.st.Cursor.Idle
		if here {
			at = len(ls)
		}
		word, role := m.standing(&ss)
		shape := word[:3]
		if w >= 30 {
			shape = Pad(word, 14)
			if ss.Verdict == steps.Waiting || ss.Verdict == steps.NotApplicable {
				shape = Pad(word[:3], 14)
			}
		}
		r := role
		if here {
			r = Current
		} else if ss.Verdict == steps.Pass {
			r = Text
		}
		sr := role
		if ss.Verdict == steps.Void {
			r, sr = Void, Text
		}
		for i, l := range Wrap(m.t.Say(ss.Title), w-Width(shape)-1) {
			if i > 0 {
				l = strings.Repeat(" ", Width(shape)+1) + m.t.Paint(r, l)
			} else {
				l = m.t.Paint(sr, shape) + " " + m.t.Paint(r, l)
			}
			ls = append(ls, l)
		}
	}
	var foot []string
	if m.ahead > 0 {
		if h >= 26 { // a long list of steps needs the room more
			foot = append(foot, "")
		}
		for _, l := range Wrap(plural(m.ahead, "reading")+" "+to(m), w-1) {
			foot = append(foot, m.t.Paint(Text, l))
		}
	}
	ls = window(ls, at, max(h-len(foot), 3))
	for len(ls)+len(foot) < h {
		ls = append(ls, "")
	}
	return append(ls, foot...)
}

// to says what the readings left lead to. The pause point's own words are an order, and
// are said where it stands.
func to(m *Model) string {
	if m.next == nil {
		return "to the end"
	}
	return "to the next pause point"
}

// standing is a step's verdict as the list shows it. One step is the current one; a
// step that was left half way is begun.
func (m *Model) standing(ss *steps.StepState) (string, Role) {
	if ss.Verdict == steps.Current && ss.ID != m.st.Cursor.Step {
		return " :  begun", Waiting
	}
	return Verdict(verdictKey(ss.Verdict))
}

// bottom is the notice, if any, and the keys that act at this very moment.
func (m *Model) bottom() []string {
	over := m.top().words(m)
	f := m.focus()
	var items []string
	seen := map[Intent]bool{}
	add := func(keys, short string) { items = append(items, m.t.Say(keys+" "+short)) }
	if w := over[Nothing]; w != "" && f.Place == Reads && f.empty() {
		add("Enter", w)
	}
	if w := over[Insert]; w != "" && f.empty() {
		add("+", w)
	}
	off := m.off()
	for _, b := range m.km {
		short := b.Short
		w, mine := over[b.Intent]
		if mine {
			short = w
		}
		if seen[b.Intent] || short == "" || short == "-" || !b.in(f) || (off[b.Intent] != "" && !mine) || b.Intent == Insert || b.Intent == Nothing {
			continue
		}
		seen[b.Intent] = true
		k := KeyWord(b.Keys[0])
		switch b.Intent {
		case Choose:
			k = "1-9"
		case Open:
			k = b.keys() // + as everywhere, and Enter as well
		}
		add(k, short)
	}
	lines := Flow(items, "   ", max(m.w-2, 10))
	for i := range lines {
		lines[i] = " " + m.t.Paint(KeyName, lines[i])
	}
	if len(lines) == 1 {
		lines = append(lines, "") // the foot keeps its height
	}
	note := ""
	switch {
	case m.writing && !m.hurry:
		note = "writing ..."
	case m.notice != "":
		note = m.notice
	}
	var head []string
	for _, l := range Wrap(m.t.Say(note), max(m.w-2, 10)) {
		head = append(head, " "+m.t.Paint(Act, l))
	}
	if len(head) == 0 {
		head = []string{""}
	}
	return append(head[:min(len(head), 3)], lines...)
}

// notMachine is what the person is never left in doubt about.
const notMachine = "does not see, move or stop the machine"

// layout arranges the regions as the page of this moment needs them.
func (m *Model) layout(banners, keys, middle int) Layout {
	return Arrange(Need{W: m.w, H: m.h, Top: 1, Banners: banners, Middle: middle, Keys: keys, Picture: len(m.pictures) > 0, View: m.view})
}

// room is the height of the middle for pages that window their lines.
func (m *Model) room() int {
	l := Arrange(Need{W: m.w, H: m.h, Top: 1, Banners: len(m.banners()), Middle: 1 << 10, Keys: len(m.bottom()), View: m.view})
	if l.Small {
		return 3
	}
	return l.Middle.H
}

// frame puts everything together.
func (m *Model) frame() string {
	bs, ks := m.banners(), m.bottom()
	p := Parts{Top: []string{m.topLine()}, Banner: bs, Key: ks, Status: notMachine}
	l := m.layout(len(bs), len(ks), 0)
	if l.Small {
		return Frame(l, p, m.t)
	}
	if l.Middle.W > 0 {
		s := &sheet{t: m.t, w: l.Middle.W - 1}
		m.top().middle(m, s)
		need := s.height()
		l = m.layout(len(bs), len(ks), need)
		p.Middle = m.scrolled(s.fit(l.Middle.H), l.Middle.H)
	}
	if l.Where.W > 0 {
		p.Where = m.where(l.Where.W, l.Where.H)
	}
	if l.Picture.W > 0 {
		p.Picture = m.pictureLines(l.Picture.W, l.Picture.H)
	}
	return Frame(l, p, m.t)
}

// body is the middle of the page now, all its lines, and the height there is for them.
func (m *Model) body() (ls []string, h int) {
	bs, ks := m.banners(), m.bottom()
	l := m.layout(len(bs), len(ks), 0)
	if l.Small || l.Middle.W == 0 {
		return nil, 0
	}
	s := &sheet{t: m.t, w: l.Middle.W - 1}
	m.top().middle(m, s)
	l = m.layout(len(bs), len(ks), s.height())
	return s.fit(l.Middle.H), l.Middle.H
}

// long says that the page has more lines than there is room for.
func (m *Model) long() bool { ls, h := m.body(); return len(ls) > h }

// scrollBy moves the middle by pages, from where it stands.
func (m *Model) scrollBy(pages int) {
	ls, h := m.body()
	if len(ls) <= h {
		m.notice = "all of the page is in sight"
		return
	}
	m.scroll = min(max(m.from(ls, h)+pages*max(h-3, 1), 0), len(ls)-h)
}

// from is the first line shown. Until the person scrolls, what a key would act on is in sight.
func (m *Model) from(ls []string, h int) int {
	from := m.scroll
	if from < 0 {
		from = 0
		if p, ok := m.top().(*listPage); ok && p.top {
			return from
		}
		for i, l := range ls {
			if strings.HasPrefix(ansi.Strip(l), "> ") {
				from = max(i+3-h, 0)
			}
		}
	}
	return min(from, len(ls)-h)
}

// scrolled shows as many lines as there is room for and says what lies outside.
func (m *Model) scrolled(ls []string, h int) []string {
	if len(ls) <= h || h < 4 {
		return ls
	}
	from := m.from(ls, h)
	out := append([]string(nil), ls[from:from+h]...)
	if from > 0 {
		out[0] = m.t.Paint(KeyName, "^ PgUp: "+plural(from+1, "line")+" above")
	}
	if n := len(ls) - h - from; n > 0 {
		out[h-1] = m.t.Paint(KeyName, "v PgDn: "+plural(n+1, "line")+" below")
	}
	return out
}
