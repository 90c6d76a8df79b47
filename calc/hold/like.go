package hold

import (
	"fmt"
	"strings"
)

// Like finds a material by a name as people write it: without regard to case, blanks,
// dashes and underscores, and by its beginning where only one known name begins so
// ("aluminium 6061" is aluminium-6061-t6), or one of several is the usual one ("aluminium"). The error lists the known ones, nearest first.
// Name in the result is the row that was taken: say so where it is not what was written.
func (l Library) Like(name string) (Material, error) {
	if m, err := l.Named(name); err == nil {
		return m, nil
	}
	key := plainName(name)
	var begin []string
	for _, k := range l.Names() {
		switch p := plainName(k); {
		case p == key:
			return l.Named(k)
		case key != "" && strings.HasPrefix(p, key+"-"):
			begin = append(begin, k)
		}
	}
	if len(begin) == 1 {
		return l.Named(begin[0])
	}
	if m, ok := l.usual(begin); ok {
		return m, nil
	}
	return l.Named(name)
}

// usual is the row meant by a beginning that several have: the one marked so, unless a row
// of the shop's own begins so too.
func (l Library) usual(names []string) (m Material, ok bool) {
	for _, n := range names {
		for _, own := range l.own {
			if own.Name == n {
				return Material{}, false
			}
		}
		if r, err := l.Named(n); err == nil && r.Usual {
			m, ok = r, true
		}
	}
	return m, ok
}

func plainName(s string) string {
	s = strings.ToLower(s)
	return strings.Join(strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == '-' || r == '_' }), "-")
}

// BoltDiameter is the outside diameter of a bolt by its name: any thread that ThreadNamed
// knows, else M with a number ("M10"), else an inch size with threads per inch ("3/8-16").
func BoltDiameter(name string) (d float64, err error) {
	if t, err := ThreadNamed(name); err == nil {
		return float64(t.D), nil
	}
	n := strings.TrimSpace(name)
	var num, den, tpi float64
	switch {
	case len(n) > 1 && (n[0] == 'M' || n[0] == 'm'):
		if k, _ := fmt.Sscanf(n[1:], "%g", &num); k == 1 && num > 0 && num <= 100 {
			return num, nil
		}
	default:
		if k, _ := fmt.Sscanf(n, "%g/%g-%g", &num, &den, &tpi); k == 3 && num > 0 && den > 0 && num/den <= 4 && tpi > 0 {
			return num / den * 25.4, nil
		}
	}
	return 0, fmt.Errorf("bolt %q is not understood; write M6 or 1/4-20", name)
}
