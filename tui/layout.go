package tui

import (
	"fmt"
	"strings"
)

// The smallest screen that shows a whole page.
const (
	MinWidth  = 80
	MinHeight = 24
)

// Rect is a part of the screen in cells; W or H 0 means that it is not shown.
type Rect struct{ X, Y, W, H int }

// View says what fills the body.
type View int

const (
	Whole       View = iota // list, act and picture
	FarView                 // the act and its number only, over the full width
	PictureView             // the picture only
)

// Need is what a page wants of the layout, in lines.
type Need struct {
	W, H    int // of the screen
	Top     int // lines of the top, at least 1
	Banners int // standing warnings: always shown in full
	Middle  int // act and fields
	Keys    int // lines of keys, at least 1
	Picture bool
	View    View
}

// Layout is where everything goes.
type Layout struct {
	W, H                                     int
	Small                                    bool // too small for a page: nothing else is set
	Top, Banner, Where, Middle, Picture, Key Rect
}

const (
	minMiddle  = 13 // lines of the middle that a picture below never takes
	minPicture = 6  // a picture lower than this is not worth its room
	sideBySide = 110
)

// Arrange places the regions for a size. It is pure; the same needs give the same
// places, so that nothing on the page moves without cause.
//
//	top line
//	banners
//	--------------------------------
//	where am I | act, fields, number | picture (right from 110 columns, else below)
//	--------------------------------
//	keys
func Arrange(n Need) Layout {
	l := Layout{W: n.W, H: n.H}
	if n.W < MinWidth || n.H < MinHeight {
		l.Small = true
		return l
	}
	top, keys := max(n.Top, 1), max(n.Keys, 1)
	l.Top = Rect{0, 0, n.W, top}
	l.Banner = Rect{0, top, n.W, n.Banners}
	l.Key = Rect{0, n.H - keys, n.W, keys}
	y := top + n.Banners + 1 // a rule under the head
	h := n.H - keys - 1 - y  // and one over the keys
	switch n.View {
	case FarView:
		l.Middle = Rect{0, y, n.W, h}
		return l
	case PictureView:
		l.Picture = Rect{0, y, n.W, h}
		return l
	}
	where := 20
	switch {
	case n.W >= 160:
		where = 32
	case n.W >= sideBySide:
		where = 24
	}
	l.Where = Rect{0, y, where, h}
	x := where + 2 // a rule and a blank
	l.Middle = Rect{x, y, n.W - x, h}
	switch {
	case !n.Picture:
	case n.W >= sideBySide:
		pw := (n.W - x) * 40 / 100
		l.Middle.W = n.W - x - pw - 2
		l.Picture = Rect{n.W - pw, y, pw, h}
	default:
		mid := max(n.Middle, minMiddle)
		if h-mid >= minPicture {
			l.Middle.H = mid
			l.Picture = Rect{x, y + mid, n.W - x, h - mid}
		}
	}
	return l
}

// Parts is the text of a page, one line an element, painted but not padded.
type Parts struct {
	Top, Banner, Where, Middle, Picture, Key []string
	Status                                   string // in the rule under the head; may be empty
}

// Frame puts the parts in their places: exactly H lines of exactly W cells. A part
// with more lines than its region says how many are missing; what is missing is
// never a banner, for the layout was made with their number.
func Frame(l Layout, p Parts, t Theme) string {
	if l.Small {
		return small(l, t)
	}
	rows := make([]string, 0, l.H)
	top := block(p.Top, l.Top.W, l.Top.H, t)
	for i, s := range top {
		top[i] = t.Paint(Title, s)
	}
	rows = append(rows, top...)
	for _, s := range block(p.Banner, l.Banner.W, l.Banner.H, t) {
		rows = append(rows, t.Paint(Banner, s))
	}
	rule := t.Paint(Rule, strings.Repeat(t.Say("─"), l.W))
	if st := t.Say(p.Status); st != "" && Width(st)+4 <= l.W {
		n := l.W - Width(st) - 4
		rows = append(rows, t.Paint(Rule, strings.Repeat(t.Say("─"), n)+" ")+t.Paint(Dim, st)+t.Paint(Rule, " "+strings.Repeat(t.Say("─"), 2)))
	} else {
		rows = append(rows, rule)
	}
	bar := t.Paint(Rule, t.Say("│")) + " "
	where := block(p.Where, l.Where.W, l.Where.H, t)
	mid := block(p.Middle, l.Middle.W, l.Middle.H, t)
	pic := block(p.Picture, l.Picture.W, l.Picture.H, t)
	body := max(len(where), len(mid), len(pic))
	below := l.Picture.H > 0 && l.Middle.H > 0 && l.Picture.X == l.Middle.X
	for i := range body {
		var b strings.Builder
		if l.Where.W > 0 {
			b.WriteString(where[i] + bar)
		}
		switch {
		case below && i >= l.Middle.H:
			b.WriteString(pic[i-l.Middle.H])
		case below || l.Picture.W == 0:
			b.WriteString(mid[i])
		case l.Middle.W == 0:
			b.WriteString(pic[i])
		default:
			b.WriteString(mid[i] + bar + pic[i])
		}
		rows = append(rows, b.String())
	}
	rows = append(rows, rule)
	rows = append(rows, block(p.Key, l.Key.W, l.Key.H, t)...)
	return strings.Join(rows, "\n")
}

// block brings lines to h lines of w cells.
func block(lines []string, w, h int, t Theme) []string {
	out := make([]string, h)
	for i := range out {
		s := ""
		if i < len(lines) {
			s = t.Say(lines[i])
		}
		if i == h-1 && len(lines) > h {
			s = fmt.Sprintf("... %d more lines", len(lines)-h+1)
		}
		out[i] = Pad(s, w)
	}
	return out
}

// small is the page of a screen that is too small for the work.
func small(l Layout, t Theme) string {
	if l.W <= 0 || l.H <= 0 {
		return ""
	}
	text := Wrap(fmt.Sprintf("This window is %d x %d. The work needs %d x %d: make it larger, or the letters smaller. Until then keys do nothing but Ctrl-C, which leaves. Readings are on disk.",
		l.W, l.H, MinWidth, MinHeight), l.W)
	return strings.Join(block(text, l.W, l.H, t), "\n")
}
