package tui

import (
	"io"

	"fliptrue/steps/fold"

	"github.com/charmbracelet/lipgloss"
)

// NamedScene is a scene to be drawn without a screen, with what it is called.
type NamedScene struct {
	Name  string
	Scene fold.Scene
}

// Plots are scenes as lines of text, so wide, by the pen of the screen; and, where the state has a register, its
// targets and what the uncertainty is made of. Nothing of it is coloured.
func Plots(l Look, st *fold.State, scenes []NamedScene, w int) []string {
	l.Colour = Off
	m := &Model{t: NewTheme(lipgloss.NewRenderer(io.Discard), l), o: Options{Plan: st.Plan()}, st: *st}
	var out []string
	add := func(name string, ds []drawn) {
		for _, d := range ds {
			h := min(max(int(float64(w)/d.shape), 9), 22)
			if d.shape >= flat {
				h = min(h, 9)
			}
			title := d.name
			if name != "" {
				title = name + ": " + title
			}
			out = append(out, Cut(m.t.Say(title), w))
			out = append(out, d.at(w, h)...)
			out = append(out, "")
		}
	}
	for _, s := range scenes {
		add(s.Name, m.artist().pictures(s.Scene))
	}
	if d := m.readyPictures(); len(d) > 0 {
		d[0].shape = 3.5
		add("", d[:1])
		d[1].shape = 4 // every line of the budget has its own
		add("", d[1:])
	}
	return out
}
