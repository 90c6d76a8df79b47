package tui

import (
	"fmt"
	"math"

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

// shapeOf is the shape of a plan: a cell is about twice as high as wide.
func shapeOf(b canvas.Box) float64 {
	if b.MaxY <= b.MinY {
		return flat
	}
	return min(max(upright*(b.MaxX-b.MinX)/(b.MaxY-b.MinY), 1.6), 4.5)
}

// worth is how many lines of a picture a place shows.
func (m *Model) worth(s slot) float64 {
	if s.w < 24 { // no plot says anything there
		return -1
	}
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
			if pw < 26 || w-pw-4 < least || seen[pw] {
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
