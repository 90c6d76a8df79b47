package report

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/steps/desk"
)

// ledger is what was waived, what happened and what does not stand; what has no room stands behind the page.
func (b *builder) ledger() {
	all := b.entries()
	for i, e := range all {
		if i >= b.m.ledger {
			b.p.Rest = append(b.p.Rest, rest{Title: "waivers, mishaps, notes", Text: all[i:]})
			b.p.Ledger = append(b.p.Ledger, entry{"MORE", plural(len(all)-i, "line") + " behind this page"})
			b.used += lineH
			break
		}
		e.Says = b.cut(e.What, e.Says, 420)
		b.p.Ledger = append(b.p.Ledger, e)
		b.used += 2.8 * math.Ceil(float64(len([]rune(e.Says))+10)/148)
	}
	b.used++
}

// entries are the lines of the ledger.
func (b *builder) entries() (all []entry) {
	r := b.r
	add := func(what, says string) { all = append(all, entry{plain(what), plain(says)}) }
	list := func(what, between string, of []string) {
		if len(of) > 0 {
			add(what, strings.Join(of, between))
		}
	}
	for _, w := range r.Waivers {
		add("WAIVED", fmt.Sprintf("%s at %s: %s (%s)", w.Limit, or(w.Number, "-"), w.Reason, stamp(w.At)))
	}
	for _, m := range r.Mishaps {
		says := stamp(m.At) + ", " + strings.TrimSpace(or(m.Words, m.ID)+" "+m.Tool)
		if len(m.Again) > 0 {
			says += "; read again: " + strings.Join(m.Again, ", ")
		}
		add("MISHAP", says)
	}
	for i := 0; i < len(r.Voids); { // those of one cause together
		v := r.Voids[i]
		var lost []string
		for ; i < len(r.Voids) && r.Voids[i].Event == v.Event; i++ {
			lost = append(lost, r.Voids[i].Fact)
		}
		add("VOID", fmt.Sprintf("by event %d, %s: %s", v.Event, v.Cause, strings.Join(lost, ", ")))
	}
	var way, held, served []string
	for _, w := range r.WayBack {
		way = append(way, fmt.Sprintf("%s (%d)", w.Title, w.Readings))
	}
	for _, h := range r.Holding {
		if h.Says != desk.Estimate { // which stands in the small print
			held = append(held, h.What+": "+h.Says)
		}
	}
	for _, s := range r.Steps {
		if s.Cause != "" && s.Verdict.OK() {
			served = append(served, s.Title+" ("+s.Cause+")")
		}
	}
	list("WAY BACK", ", ", way)
	list("HELD", " · ", held)
	list("* LOST SINCE", ", ", served)
	if r.StopPoints != "" {
		add("OPEN", r.StopPoints+": asked while it is cut, not all answered")
	}
	for _, n := range r.Notes {
		add("NOTE", n)
	}
	add("WALK", r.Level.says())
	return all
}
