package tui

import (
	"regexp"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/viewport"
	"github.com/charmbracelet/x/ansi"
)

// notMachine is what the person is never left in doubt about.
const notMachine = "does not see, move or stop the machine"

// tight says that the screen is too small for a whole page.
func (m *Model) tight() bool { return m.w < FullWidth || m.h < FullHeight }

// layout arranges the regions as the page of this moment needs them.
func (m *Model) layout(banners, keys, said int) Layout {
	return Arrange(Need{W: m.w, H: m.h, Banners: banners, Keys: keys, Said: said, Steps: true, View: m.view})
}

// room is the height of the body for pages that window their lines.
func (m *Model) room() int {
	if m.high > 0 {
		return m.high
	}
	l := m.layout(len(m.banners()), len(m.foot()), 0)
	if l.Small {
		return 3
	}
	return l.Body.H
}

// frames finds coordinates that only a letter tells the frame of.
var frames = regexp.MustCompile(`\b[WM] [XYZ]|\(M\)|, M\b`)

// frame puts everything together.
func (m *Model) frame() string {
	bs, ks, said := m.banners(), m.foot(), m.said()
	l := m.layout(len(bs), len(ks), len(said))
	p := Parts{Head: []string{m.head()}, Banner: bs, Key: ks, Said: said, Status: notMachine}
	if l.Small {
		return Frame(l, p, m.t)
	}
	if l.Tight && m.view == Whole && len(said) == 0 {
		p.Left = "left out: steps and pictures; 80 x 24 shows them"
	}
	if l.Rail.W > 0 {
		p.Rail = []string{m.rail(l.Rail.W)}
	}
	if l.List.W > 0 {
		p.List = m.list(l.List.W, l.List.H)
	}
	p.Body = m.compose(l.Body.W, l.Body.H)
	if slices.ContainsFunc(p.Body, namesFrame) {
		p.Frames = "W: WORK  M: MACHINE"
	}
	return Frame(l, p, m.t)
}

// namesFrame says that a line has such coordinates: most have neither letter.
func namesFrame(l string) bool {
	return strings.ContainsAny(l, "WM") && frames.MatchString(ansi.Strip(l))
}

// long says that the page has more lines than there is room for.
func (m *Model) long() bool { ls, h := m.text(); return len(ls) > h }

// text is what could be scrolled of the page now, all its lines, and the height there is for them.
func (m *Model) text() (ls []string, h int) {
	l := m.layout(len(m.banners()), len(m.foot()), 0)
	if l.Small || m.view == PictureView {
		return nil, 0
	}
	p := m.chosen(l.Body.W, l.Body.H)
	return p.all, l.Body.H - len(p.top)
}

// scrollBy moves the page by screens, from where it stands.
func (m *Model) scrollBy(pages int) {
	ls, h := m.text()
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
	out := port(ls, 0, h, from)
	if from > 0 {
		out[0] = m.t.Paint(KeyName, "^ PgUp: "+plural(from+1, "line")+" above")
	}
	if n := len(ls) - h - from; n > 0 {
		out[h-1] = m.t.Paint(KeyName, "v PgDn: "+plural(n+1, "line")+" below")
	}
	return out
}

// port shows h lines of a long text from a line on. The viewport has no keys of its own: the
// key map is the one owner of every key.
func port(ls []string, w, h, from int) []string {
	v := viewport.Model{Width: w, Height: h}
	for _, l := range ls {
		v.Width = max(v.Width, Width(l))
	}
	v.SetContent(strings.Join(ls, "\n"))
	v.SetYOffset(from)
	out := strings.Split(v.View(), "\n")
	for i, l := range out { // padded to its widest line, which is wider than the page at times
		out[i] = strings.TrimRight(l, " ")
	}
	return out
}
