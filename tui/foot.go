package tui

import (
	"github.com/charmbracelet/bubbles/help"
	"github.com/charmbracelet/bubbles/key"
)

// capped is a key with its short word, drawn as a key cap.
func capped(t Theme, name, short string) key.Binding {
	edge := [2]string{" ", " "}
	if t.Look.Colour == Off {
		edge = [2]string{"[", "]"}
	}
	return key.NewBinding(key.WithKeys(name), key.WithHelp(edge[0]+t.Say(name)+edge[1], t.Say(short)))
}

// keyLines are keys with their words on as few lines of w cells as they need; none is
// dropped. The styles are the theme's: those of the library ask the terminal for its background.
func keyLines(t Theme, keys []key.Binding, w int) []string {
	h := help.Model{ShortSeparator: "  ", Styles: help.Styles{ShortKey: t.Style(KeyCap)}}
	var lines []string
	from, wide := 0, 0
	for i, k := range keys {
		n := Width(k.Help().Key) + 1 + Width(k.Help().Desc)
		if i > from && wide+2+n > w {
			lines = append(lines, " "+h.ShortHelpView(keys[from:i]))
			from, wide = i, 0
		}
		if i > from {
			wide += 2
		}
		wide += n
	}
	if from < len(keys) {
		lines = append(lines, " "+h.ShortHelpView(keys[from:]))
	}
	return lines
}

// foot are the keys that act at this very moment, each with what it does.
func (m *Model) foot() []string {
	over := m.top().words(m)
	f := m.focus()
	type item struct {
		keys, short string
		in          Intent
	}
	var items []item
	if w := over[Nothing]; w != "" && f.Place == Reads && f.empty() {
		items = append(items, item{"Enter", w, Nothing})
	}
	if w := over[Insert]; w != "" && f.empty() {
		items = append(items, item{"+", w, Insert})
	}
	off := m.off()
	seen := map[Intent]bool{}
	for _, b := range m.km {
		short := b.Short()
		w, mine := over[b.Intent]
		if mine {
			short = w
		}
		if seen[b.Intent] || short == "" || short == "-" || !b.in(f) || off[b.Intent] != "" && !mine || b.Intent == Insert ||
			b.Intent == Nothing {
			continue
		}
		seen[b.Intent] = true
		k := b.shown(f)
		switch b.Intent {
		case Choose:
			k = m.digits()
		case Open:
			k = b.keys() // + as everywhere, and Enter as well
		}
		items = append(items, item{k, short, b.Intent})
	}
	wide := max(m.w-2, 10)
	// On one line where that can be: first in fewer words, then without the way out and the
	// pictures, which help and the list behind * name as well.
	for n := range 4 {
		var keys []key.Binding
		for _, it := range items {
			if n > 0 && it.in == Happened {
				it.short = "happened"
			}
			if n > 1 && it.in == Quit || n > 2 && it.in == Picture {
				continue
			}
			keys = append(keys, capped(m.t, it.keys, it.short))
		}
		if lines := keyLines(m.t, keys, wide); len(lines) == 1 || n == 3 {
			return lines
		}
	}
	return nil
}

// digits are those that choose on this page.
func (m *Model) digits() string {
	n := 9
	switch p := m.top().(type) {
	case *verdictPage:
		n = len(p.choices)
	case *waivePage:
		n = len(reasons) + 1
	case *listPage:
		n = len(p.items)
	case *cardPage:
		n = len(p.items)
	case *walkPage:
		if p.far != nil {
			n = len(p.doubtWays(m))
		} else if a, ok := p.ask(m); ok && len(a.Options) > 0 && !p.doing(m) {
			n = len(a.Options)
		} else if p.doing(m) {
			n = 2
		}
	}
	if n < 2 || n > 9 {
		return "1-9"
	}
	return "1-" + itoa(n)
}

// said is the notice of this moment, on as many lines as it needs.
func (m *Model) said() []string {
	note := m.notice
	if m.writing && !m.hurry {
		note = "writing ..."
	}
	lines := Wrap(m.t.Say(note), max(m.w-6, 10))
	return lines[:min(len(lines), 3)]
}
