package fold

import (
	"sort"
	"strings"
)

func byOrder(p *Plan, s []*Spec) {
	sort.SliceStable(s, func(i, j int) bool { return p.order[s[i].ID] < p.order[s[j].ID] })
}

func sortCauses(cs []*Cause) {
	sort.SliceStable(cs, func(i, j int) bool { return cs[i].Seq < cs[j].Seq })
}

func sortTroubles(ts []Trouble) {
	sort.SliceStable(ts, func(i, j int) bool { return ts[i].Seq < ts[j].Seq })
}

// Touched is the first of the changed keys that is one of the keys, or lies below or above one; "" for none.
func Touched(keys, changed []string) string {
	for _, c := range changed {
		c = strings.TrimPrefix(c, "job.")
		for _, k := range keys {
			if c == k || strings.HasPrefix(c, k+".") || strings.HasPrefix(k, c+".") {
				return c
			}
		}
	}
	return ""
}

// stepNames lists the plan's steps.
func (p *Plan) stepNames() string {
	var out []string
	for _, s := range p.Line {
		out = append(out, string(s.ID))
	}
	for _, s := range p.Off {
		out = append(out, string(s.ID))
	}
	return strings.Join(out, " ")
}
