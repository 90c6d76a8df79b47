package tui

import (
	"fmt"
	"strings"
)

// The smallest screen that can be worked at, and the smallest that shows a whole page:
// below it the rail, the pictures and the numbers to work by are left out.
const (
	MinWidth   = 60
	MinHeight  = 20
	FullWidth  = 80
	FullHeight = 24
)

// listWidth is the width from which the steps stand as a list beside the page.
const listWidth = 120

// Rect is a part of the screen in cells; W or H 0 means that it is not shown.
type Rect struct{ X, Y, W, H int }

// View says what fills the body.
type View int

const (
	Whole       View = iota // steps, act and picture
	FarView                 // the act and its number only, over the full width
	PictureView             // the picture only
)

// Need is what a page wants of the layout, in lines.
type Need struct {
	W, H    int // of the screen
	Banners int // standing warnings: always shown in full
	Said    int // lines of the notice; the first stands in the rule over the keys
	Keys    int // lines of keys, at least 1
	Steps   bool
	View    View
}

// Layout is where everything goes.
type Layout struct {
	W, H                                int
	Small                               bool // too small to work at: nothing else is set
	Tight                               bool // too small for a whole page
	Head, Rail, Banner, List, Body, Key Rect
}

// Arrange places the regions for a size. It is pure; the same needs give the same
// places, so that nothing on the page moves without cause.
//
//	head
//	rail of the steps, where there is no room for a list
//	banners
//	---------------------- status --
//	list of the steps | body
//	-- notice ----------------------
//	keys
func Arrange(n Need) Layout {
	l := Layout{W: n.W, H: n.H}
	if n.W < MinWidth || n.H < MinHeight {
		l.Small = true
		return l
	}
	l.Tight = n.W < FullWidth || n.H < FullHeight
	keys := max(n.Keys, 1) + max(n.Said-1, 0)
	l.Head = Rect{0, 0, n.W, 1}
	y := 1
	steps := n.Steps && n.View == Whole
	if steps && !l.Tight && n.W < listWidth {
		l.Rail = Rect{0, y, n.W, 1}
		y++
	}
	l.Banner = Rect{0, y, n.W, n.Banners}
	y += n.Banners + 1 // a rule under the head
	l.Key = Rect{0, n.H - keys, n.W, keys}
	h := n.H - keys - 1 - y // and one over the keys
	x := 0
	if steps && n.W >= listWidth {
		w := 32
		if n.W >= 160 {
			w = 40
		}
		l.List = Rect{0, y, w, h}
		x = w + 1 // a rule
	}
	l.Body = Rect{x, y, n.W - x, h}
	return l
}

// Parts is the text of a page, one line an element, painted but not padded.
type Parts struct {
	Head, Rail, Banner, List, Body, Key []string
	Said                                []string // the notice
	Left                                string   // what this size leaves out, in the rule over the keys
	Status                              string   // in the rule under the head; may be empty
	Frames                              string   // at its left: what letters before coordinates mean; may be empty
}

// Frame puts the parts in their places: exactly H lines of exactly W cells. A part
// with more lines than its region says how many are missing; what is missing is
// never a banner, for the layout was made with their number.
func Frame(l Layout, p Parts, t Theme) string {
	if l.Small {
		return small(l, t)
	}
	rows := make([]string, 0, l.H)
	for _, s := range block(p.Head, l.Head.W, l.Head.H, t) {
		rows = append(rows, t.Paint(Title, s))
	}
	rows = append(rows, block(p.Rail, l.Rail.W, l.Rail.H, t)...)
	for _, s := range block(p.Banner, l.Banner.W, l.Banner.H, t) {
		rows = append(rows, t.Paint(Banner, s))
	}
	st := t.Say(p.Status)
	if Width(st)+4 > l.W {
		st = ""
	}
	if n := Width(p.Frames); p.Frames != "" && n+Width(st)+10 <= l.W {
		at := l.W - Width(st) - 4
		rows = append(rows, ruled(t, at, 2, Dim, t.Say(p.Frames))+ruled(t, l.W-at, 0, Dim, st))
	} else {
		rows = append(rows, ruled(t, l.W, max(l.W-Width(st)-4, 0), Dim, st))
	}
	bar := t.Paint(Rule, t.Say("│"))
	list := block(p.List, l.List.W, l.List.H, t)
	for i, s := range block(p.Body, l.Body.W, l.Body.H, t) {
		if l.List.W > 0 {
			s = list[i] + bar + s
		}
		rows = append(rows, s)
	}
	first, keys := "", p.Key
	if len(p.Said) > 0 {
		first = p.Said[0]
		keys = nil
		for _, s := range p.Said[1:] {
			keys = append(keys, "   "+t.Paint(Act, s))
		}
		keys = append(keys, p.Key...)
	}
	role := Act
	if first == "" {
		first, role = t.Say(p.Left), Dim
	}
	rows = append(rows, ruled(t, l.W, 2, role, first))
	rows = append(rows, block(keys, l.Key.W, l.Key.H, t)...)
	return strings.Join(rows, "\n")
}

// ruled is a rule of w cells with words in it behind n cells of it.
func ruled(t Theme, w, n int, r Role, words string) string {
	line := func(n int) string { return strings.Repeat(t.Say("─"), max(n, 0)) }
	if words == "" {
		return t.Paint(Rule, line(w))
	}
	words = Cut(words, w-n-2)
	return t.Paint(Rule, line(n)+" ") + t.Paint(r, words) + t.Paint(Rule, " "+line(w-n-2-Width(words)))
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
	text := Wrap(fmt.Sprintf("This window is %d x %d. The work needs %d x %d: make it larger, or the letters smaller. Until then keys do "+
		"nothing but Ctrl-C, which leaves. Readings are on disk.",
		l.W, l.H, MinWidth, MinHeight), l.W)
	return strings.Join(block(text, l.W, l.H, t), "\n")
}
