package tui

import (
	"math"
	"slices"
	"strings"

	"fliptrue/calc/budget"
	"fliptrue/calc/unit"
	"fliptrue/steps"
	"fliptrue/steps/kit"
	"fliptrue/tui/canvas"

	"github.com/charmbracelet/bubbles/progress"
	"github.com/muesli/termenv"
)

// worst is the feature and axis that come nearest to what is allowed.
type worst struct {
	name, axis      string
	within, allowed float64 // mm
	u               float64 // half-width of its 95 % interval, mm
	lines           []budget.Line
}

// worstFeature is known once there is an offset and a second side to stand to the first.
func (m *Model) worstFeature() (w worst, ok bool) {
	fs := steps.Register(&m.st)
	if len(fs) == 0 || m.allowed() <= 0 {
		return w, false
	}
	i, a, value, guard := kit.WorstFeature(fs)
	return worst{name: fs[i].Name, axis: []string{"X", "Y"}[a], within: value + guard, allowed: m.allowed(), u: fs[i].U[a],
		lines: fs[i].Lines[a]}, true
}

// allowed is the register allowance that the release is held against, mm.
func (m *Model) allowed() float64 { return m.o.Plan.Limit("release.register").Max }

// readyPictures are the targets of the listed features and what the uncertainty is made of.
func (m *Model) readyPictures() []drawn {
	fs := steps.Register(&m.st)
	w, ok := m.worstFeature()
	if !ok {
		return nil
	}
	fs = fs[:min(len(fs), 4)]
	return []drawn{
		{name: "where side 2 lands, 95 %", shape: upright, most: 20,
			gain: func(w, h int) float64 { v, _, _ := targetsIn(len(fs), w, h); return float64(v) },
			make: func(w, h int) (*canvas.Canvas, []string) { return nil, m.targets(fs, w, h) }},
		{name: "95 %: ± " + m.mm(w.u) + " at " + w.name + " " + w.axis + ", by share of variance", shape: flat,
			make: func(wide, h int) (*canvas.Canvas, []string) { return nil, m.shares(w.lines, wide, h) }},
	}
}

// targetsIn is how high n targets can be in a place, in how many columns, and whether their
// words stand beside them or below.
func targetsIn(n, w, h int) (high, cols int, beside bool) {
	const words = 20
	cols, beside = 1, true
	for c := 1; c <= n; c++ {
		rows := (n + c - 1) / c
		cw, ch := w/c, h/rows
		if v := min(ch, (cw-words)/2); v > high {
			high, cols, beside = v, c, true
		}
		if v := min(ch-4, (cw-1)/2); v > high && cw > words-2 { // a number is never cut
			high, cols, beside = v, c, false
		}
	}
	return high, cols, beside
}

// targets draws features in the rows and columns in which they are largest.
func (m *Model) targets(fs []kit.FeatureError, w, h int) []string {
	_, cols, beside := targetsIn(len(fs), w, h)
	rows := (len(fs) + cols - 1) / cols
	cw, ch := w/cols, h/rows
	var out []string
	for r := range rows {
		row := make([]string, ch)
		for c := range cols {
			cell := make([]string, ch)
			if k := r*cols + c; k < len(fs) {
				cell = m.targetCell(fs[k], cw, ch, beside)
			}
			for i := range row {
				row[i] += Pad(cell[i], cw)
			}
		}
		out = append(out, row...)
	}
	return out
}

// targetCell is one target with its words.
func (m *Model) targetCell(f kit.FeatureError, w, h int, beside bool) []string {
	text := []string{m.t.Paint(Act, Cut(m.t.Say(f.Name), 18)), m.axisError(f, 0), m.axisError(f, 1),
		m.t.Paint(Dim, m.t.Say("ring "+m.mm(m.allowed())))}
	if beside {
		tw := min(2*h, w-20)
		ls := m.target(f, tw, h)
		for i := range ls {
			if k := i - (h-len(text))/2; k >= 0 && k < len(text) {
				ls[i] = Pad(ls[i], tw) + " " + text[k]
			}
		}
		return ls
	}
	tw := min(2*(h-len(text)), w-1)
	var ls []string
	for _, l := range m.target(f, tw, h-len(text)) {
		ls = append(ls, strings.Repeat(" ", (w-tw)/2)+l)
	}
	for _, t := range text {
		ls = append(ls, Center(t, w-1))
	}
	return ls
}

func (m *Model) axisError(f kit.FeatureError, a int) string {
	sys := m.o.Plan.System()
	return m.t.Say([]string{"X ", "Y "}[a] + unit.Signed(f.Error[a], unit.KLength, sys, 0) + " ± " + unit.Format(f.U[a], unit.KLength, sys, 0))
}

// target is one feature: a ring of what is allowed, the error as a mark, its 95 % interval
// about it.
func (m *Model) target(f kit.FeatureError, w, h int) []string {
	t := canvas.Target{Allowed: m.allowed(), X: f.Error[0], Y: f.Error[1], UX: f.U[0], UY: f.U[1]}
	return canvas.DrawTarget(w, h, t, canvas.Pen{Ink: Fixture}, canvas.Pen{Ink: Tap}, canvas.Pen{Ink: Figure}, Dim, m.t.Look.strokes()).Lines(
		m.artist().paint())
}

// share is one line of a budget.
type share struct {
	name    string
	of      float64
	assumed bool
}

// sharesOf are the lines of a budget by their share of the variance, the largest first, lines
// of one name together.
func sharesOf(ls []budget.Line) []share {
	var out []share
	total := 0.0
	for _, l := range ls {
		u := l.Std()
		total += u * u
		i := slices.IndexFunc(out, func(s share) bool { return s.name == l.Name && s.assumed == l.Assumed })
		if i < 0 {
			i = len(out)
			out = append(out, share{name: l.Name, assumed: l.Assumed})
		}
		out[i].of += u * u
	}
	if total == 0 {
		return nil
	}
	for i := range out {
		out[i].of /= total
	}
	slices.SortStableFunc(out, func(a, b share) int {
		switch {
		case a.of > b.of:
			return -1
		case a.of < b.of:
			return 1
		}
		return 0
	})
	return out
}

// shares are bars, measured solid, assumed shaded; what has no room is one bar together.
func (m *Model) shares(ls []budget.Line, w, h int) []string {
	all := sharesOf(ls)
	cols := 1
	if w >= 76 && len(all) > h-1 {
		cols = 2
	}
	room := max((h-1)*cols, 1)
	if len(all) > room {
		rest := share{name: plural(len(all)-room+1, "other")}
		assumed := true
		for _, s := range all[room-1:] {
			rest.of += s.of
			assumed = assumed && s.assumed
		}
		rest.assumed = assumed
		all = append(all[:room-1], rest)
	}
	names := 0
	for _, s := range all {
		names = max(names, Width(m.t.Say(s.name)))
	}
	cw := w / cols
	names = min(names, cw/2)
	long := max(cw-names-10, 4)
	most := 0.0
	for _, s := range all {
		most = max(most, s.of)
	}
	rows := (len(all) + cols - 1) / cols
	out := make([]string, 0, h)
	for i := range rows {
		line := ""
		for c := range cols {
			if k := c*rows + i; k < len(all) {
				line += Pad(m.shareBar(all[k], names, long, most), cw)
			}
		}
		out = append(out, line)
	}
	solid, shaded := m.inks()
	return append(out, m.t.Paint(Dim, Cut(m.t.Say(string(solid)+" measured  "+string(shaded)+" assumed: measure it to make ± smaller"), w)))
}

func (m *Model) inks() (solid, shaded rune) {
	if m.t.Look.ASCII {
		return '#', '/'
	}
	return '█', '▒'
}

func (m *Model) shareBar(s share, names, long int, most float64) string {
	fill, shaded := m.inks()
	role := Figure
	if s.assumed {
		fill, role = shaded, Predicted
	}
	p := progress.New(progress.WithoutPercentage(), progress.WithWidth(long), progress.WithFillCharacters(fill, ' '),
		progress.WithSolidFill(""), progress.WithColorProfile(termenv.Ascii))
	bar := strings.TrimRight(p.ViewAs(s.of/most), " ")
	return PadLeft(Cut(m.t.Say(s.name), names), names) + " " + m.t.Paint(role, bar) + " " + itoa(int(math.Round(100*s.of))) + " %"
}
