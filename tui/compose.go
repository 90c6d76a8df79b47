package tui

import (
	"strings"
)

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
	lost := 0.0 // of the text
	switch p.form {
	case alone:
		one := s.joined()
		out.all, lost = one.fit(room), one.lost(room)
		out.fits = len(out.all) <= room
	case beside, besideBoth, aroundText:
		lost = m.layBeside(&out, p, s, tw, room)
	default:
		lost = m.layBelow(&out, p, s, in, room)
	}
	out.score = 3*float64(max(s.drawn, s.low.drawn)) - lost - 0.4*float64(max(46-tw, 0))
	if s.plain || s.low.plain {
		out.score -= 12
	}
	m.scorePictures(&out)
	return out
}

// layBeside puts text and pictures beside each other: one, two under each other, or one of two under the text.
func (m *Model) layBeside(out *placed, p filling, s *sheet, tw, room int) (lost float64) {
	ph, one := room, s.joined()
	if p.left {
		out.text, lost = one.fit(room), one.lost(room)
	} else {
		out.foot = s.low.fit(room)
		ph -= len(out.foot)
		out.text, lost = s.fit(ph), s.lost(ph)+s.low.lost(room)
	}
	switch p.form {
	case aroundText:
		out.text, lost = fitAbove(one, room)
		out.under = []slot{{0, tw, room - len(out.text)}}
		out.right = []slot{{1, p.pw, ph}}
	case beside:
		out.right = []slot{{0, p.pw, ph}}
	default:
		n := ph / 2
		if m.pictures[0].flat() {
			n = min(max(ph/4, 8), ph)
		}
		out.right = []slot{{0, p.pw, n}, {1, p.pw, ph - n}}
	}
	out.fits = len(out.text) <= ph
	return lost
}

// layBelow puts pictures between text and foot: one, two side by side, or two under each other.
func (m *Model) layBelow(out *placed, p filling, s *sheet, in, room int) (lost float64) {
	out.foot = s.low.fit(room)
	out.text, lost = fitAbove(s, room-len(out.foot))
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
	return lost + s.low.lost(room)
}

// scorePictures adds what the pictures show in their places.
func (m *Model) scorePictures(out *placed) {
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
