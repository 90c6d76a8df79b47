package tui

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/tui/canvas"
)

// form is how text and pictures share the body.
type form int

const (
	alone      form = iota
	beside          // one picture right of the text
	besideBoth      // two below each other right of the text
	below           // one picture under the text
	belowBoth       // two under the text, the second under the first
	belowPair       // two under the text, side by side
	aroundText      // one under the text, the other right of both
)

// filling is one way to fill the body.
type filling struct {
	form form
	pw   int  // width of the picture beside the text
	left bool // the foot stands under the text, not across the page
	tall int  // of figures
}

// placed is a body filled by a filling; pictures are drawn only once it is chosen.
type placed struct {
	w, h            int
	top, text, foot []string
	all             []string // alone: text and foot, which may be too long
	tw              int      // of the text, margin and all
	under, right    []slot   // pictures
	score           float64
	fits            bool
}

// slot is the place of a picture.
type slot struct{ pic, w, h int }

// flat says that a picture shows most where it is wide and low.
func (d *drawn) flat() bool { return d.shape >= flat }

// shapeOf is the shape of a plan: a cell is about twice as high as wide.
func shapeOf(b canvas.Box) float64 {
	if b.MaxY <= b.MinY {
		return flat
	}
	return min(max(upright*(b.MaxX-b.MinX)/(b.MaxY-b.MinY), 1.6), 4.5)
}

// worth is how many lines of a picture a place shows.
func (m *Model) worth(s slot) float64 {
	v := math.Min(float64(s.w)/m.pictures[s.pic].shape, float64(s.h))
	if g := m.pictures[s.pic].gain; g != nil {
		v = g(s.w, s.h-1)
	}
	least := 8.0
	if d := &m.pictures[s.pic]; d.flat() || d.most > 0 {
		least = 5
	}
	if v < least {
		return -1
	}
	most := 40.0
	if m.pictures[s.pic].most > 0 {
		most = m.pictures[s.pic].most
	}
	return math.Min(v, most)
}

// pictured says how many pictures the page has room to want, and the least width of the
// text beside them.
func (m *Model) pictured() (n, least int) {
	if m.view != Whole || m.tight() {
		return 0, 0
	}
	switch p := m.top().(type) {
	case *walkPage, *verdictPage, *readyPage, *releasedPage:
		return len(m.pictures), 40
	case *listPage:
		if p.asks || p.way || len(p.items) == 0 || m.w >= 160 {
			return len(m.pictures), 60
		}
	case *idlePage, *waivePage, *blockPage, *notePage:
		return len(m.pictures), 60
	}
	return 0, 0
}

// fillings are the ways worth trying in a body of w by h cells.
func (m *Model) fillings(w, h int) []filling {
	caps := []int{8, 5, 3, 0}
	if h < 40 || w < 100 {
		caps = caps[1:]
	}
	n, least := m.pictured()
	var out []filling
	for _, t := range caps {
		out = append(out, filling{form: alone, tall: t})
		if n == 0 {
			continue
		}
		out = append(out, filling{form: below, tall: t})
		if n > 1 {
			out = append(out, filling{form: belowBoth, tall: t}, filling{form: belowPair, tall: t})
		}
		seen := map[int]bool{}
		widths, feet := []int{w * 38 / 100, w * 46 / 100, min(2*(h-8), w*42/100)}, []bool{false, true}
		if w >= 100 { // with so much room what is asked stands where the eye is: under the text
			widths, feet = []int{w * 40 / 100, w * 50 / 100, w * 60 / 100}, feet[1:]
		}
		for _, pw := range widths {
			if pw < 20 || w-pw-4 < least || seen[pw] {
				continue
			}
			seen[pw] = true
			for _, left := range feet {
				out = append(out, filling{beside, pw, left, t})
				if n > 1 && h >= 24 {
					out = append(out, filling{besideBoth, pw, left, t})
				}
				if n > 1 && w >= 110 && left {
					out = append(out, filling{aroundText, pw, left, t})
				}
			}
		}
	}
	return out
}

// lay fills the body by a filling.
func (m *Model) lay(p filling, w, h int) placed {
	in := w - 2
	out := placed{w: w, h: h, fits: true, tw: w}
	tw := in
	if p.form == beside || p.form == besideBoth || p.form == aroundText {
		tw = in - p.pw - 2
		out.tw = tw + 3
	}
	tw = min(tw, 112) // longer lines are hard to read
	lw := in
	if p.left {
		lw = tw
	}
	s := m.sheetOf(tw, w, lw, p.tall)
	out.top = s.top.fit(1 << 20)
	room := h - len(out.top)
	one, lost := s.joined(), 0.0
	switch p.form {
	case alone:
		out.all = one.fit(room)
		out.fits = len(out.all) <= room
		lost = one.lost(room)
	case beside, besideBoth, aroundText:
		ph := room
		if p.left {
			out.text, lost = one.fit(room), one.lost(room)
		} else {
			out.foot = s.low.fit(room)
			ph -= len(out.foot)
			out.text, lost = s.fit(ph), s.lost(ph)+s.low.lost(room)
		}
		if p.form == aroundText { // one picture under the text
			out.text, lost = fitAbove(one, room)
			out.under = []slot{{0, tw, room - len(out.text)}}
			out.right = []slot{{1, p.pw, ph}}
		} else if p.form == beside {
			out.right = []slot{{0, p.pw, ph}}
		} else {
			n := ph / 2
			if m.pictures[0].flat() {
				n = min(max(ph/4, 8), ph)
			}
			out.right = []slot{{0, p.pw, n}, {1, p.pw, ph - n}}
		}
		out.fits = len(out.text) <= ph
	default:
		out.foot = s.low.fit(room)
		out.text, lost = fitAbove(s, room-len(out.foot))
		lost += s.low.lost(room)
		ph := room - len(out.text) - len(out.foot)
		switch p.form {
		case below:
			out.under = []slot{{0, in, ph}}
		case belowPair:
			out.under = []slot{{0, in/2 - 1, ph}, {1, in - in/2 - 1, ph}}
		default:
			n := ph / 2
			switch {
			case m.pictures[0].flat():
				n = min(max(ph/3, 7), 12)
			case m.pictures[1].flat():
				n = ph - min(max(ph/3, 6), 10)
			}
			out.under = []slot{{0, in, n}, {1, in, ph - n}}
		}
		out.fits = ph > 0
	}
	out.score = 3*float64(max(s.drawn, s.low.drawn)) - lost - 0.4*float64(max(46-tw, 0))
	if s.plain || s.low.plain {
		out.score -= 12
	}
	for i, sl := range append(append([]slot{}, out.under...), out.right...) {
		v := m.worth(sl)
		if v < 0 {
			out.fits = false
		}
		switch {
		case i == 0:
			out.score += v
		case m.pictures[sl.pic].flat(): // bars say all in few lines
			out.score += v * 0.8
		default:
			out.score += v * 0.5
		}
	}
	return out
}

// sheetOf is the page written for some widths. Of one choice several ways share a sheet.
func (m *Model) sheetOf(tw, w, lw, tall int) *sheet {
	k := [4]int{tw, w, lw, tall}
	if s := m.sheets[k]; s != nil {
		return s
	}
	s := pageSheet(m.t, tw, w, lw, tall)
	m.top().middle(m, s)
	if m.sheets != nil {
		m.sheets[k] = s
	}
	return s
}

// fitAbove fits a text over a picture: what is only good to know gives way to it.
func fitAbove(s *sheet, room int) ([]string, float64) {
	least := 7
	if room >= 30 {
		least = 12
	}
	h := max(room-least, 0)
	return s.fit(h), s.lost(h)
}

// chosen is the best way to fill the body. It is kept while pages of one kind follow each
// other at one size, so that nothing moves while a person types and goes from hit to hit,
// unless what must be seen no longer fits.
func (m *Model) chosen(w, h int) placed {
	m.high = h
	defer func() { m.high = 0 }()
	k := m.planKey(w, h)
	if m.kept != nil && m.keptFor == k {
		if p := m.lay(*m.kept, w, h); p.fits {
			return p
		}
	}
	how := filling{form: alone, tall: 3} // longer than the screen: it is scrolled
	best, found := 0.0, false
	m.sheets = map[[4]int]*sheet{}
	paint := m.t
	m.t.Look.Colour = Off // measured without paint
	for _, p := range m.fillings(w, h) {
		if got := m.lay(p, w, h); got.fits && (!found || got.score > best+1e-9) {
			how, best, found = p, got.score, true
		}
	}
	m.t, m.sheets = paint, nil
	m.kept, m.keptFor = &how, k
	return m.lay(how, w, h)
}

// planKey tells pages apart that are filled in another way.
type planKey struct {
	kind     string
	w, h     int
	view     View
	pictures int
}

func (m *Model) planKey(w, h int) planKey {
	k := planKey{w: w, h: h, view: m.view, pictures: len(m.pictures)}
	for _, d := range m.pictures {
		k.kind += d.name + "/"
	}
	switch p := m.top().(type) {
	case *walkPage:
		k.kind += "walk " + string(m.st.Cursor.Step)
		if p.doing(m) {
			k.kind += " act " + p.key(m)
		} else if a, ok := p.ask(m); ok {
			k.kind += " " + itoa(int(a.Kind)) + a.What.By + itoa(len(p.fields)) + itoa(len(m.redo))
			if p.far != nil {
				k.kind += " far"
			}
		}
	default:
		k.kind += fmt.Sprintf("%p", p)
	}
	return k
}

// compose is the body of the page of this moment: exactly what is shown, h lines at most.
func (m *Model) compose(w, h int) []string {
	if m.view == PictureView {
		return m.pictureLines(w, h)
	}
	p := m.chosen(w, h)
	out := append([]string(nil), p.top...)
	room := h - len(p.top)
	if p.all != nil || len(p.right)+len(p.under) == 0 {
		return append(out, margin(m.scrolled(p.all, room))...)
	}
	left := append([]string(nil), p.text...)
	if n := len(p.under); n == 2 && p.under[0].w < p.tw-2 && p.under[1].w < p.tw-2 {
		a, b := m.picAt(p.under[0]), m.picAt(p.under[1])
		for i := range a {
			left = append(left, Pad(a[i], p.under[0].w)+"  "+b[i])
		}
	} else {
		for _, s := range p.under {
			left = append(left, m.picAt(s)...)
		}
	}
	body := margin(left)
	if len(p.right) > 0 {
		var pics []string
		for _, s := range p.right {
			pics = append(pics, m.picAt(s)...)
		}
		for len(body) < len(pics) {
			body = append(body, "")
		}
		for i := range body {
			if i < len(pics) {
				body[i] = Pad(body[i], p.tw) + pics[i]
			}
		}
	}
	out = append(out, body...)
	return append(out, margin(p.foot)...)
}

// margin sets lines in by a cell.
func margin(ls []string) []string {
	out := make([]string, len(ls))
	for i, l := range ls {
		if l != "" {
			out[i] = " " + l
		}
	}
	return out
}

// picAt is a picture in its place, its name above it.
func (m *Model) picAt(s slot) []string {
	if s.h < 2 {
		return make([]string, max(s.h, 0))
	}
	name := m.t.Say(m.pictures[s.pic].name)
	if Width(name) > s.w {
		name, _, _ = strings.Cut(name, ",") // from where it is seen stands at its edges, too
	}
	out := []string{m.t.Paint(Dim, Cut(name, s.w))}
	out = append(out, m.pictures[s.pic].at(s.w, s.h-1)...)
	for len(out) < s.h {
		out = append(out, "")
	}
	return out[:s.h]
}
